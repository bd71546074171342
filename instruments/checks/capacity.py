"""What the vessel holds at which level: by its shape, less its internals, or by its strapping table.

A strapping table was measured with the internals in place, so that nothing is subtracted from it.
"""

from dataclasses import dataclass

from instruments.checks.case import Case, Row, Strapping
from instruments.checks.support import (
    LARGEST_SI,
    Derived,
    all_known,
    contradiction,
    known_or_missing,
    lacks,
    missing_field,
)
from project.registry import gettext_noop
from vessels.capacity.figures import Contents, Internal, InternalTooLarge
from vessels.capacity.strapping import INTERPOLATIONS, StrappingTable
from vessels.shape_values import Shape

BY_SHAPE = gettext_noop("By the shape: geometry")
BY_TABLE = {
    "linear": gettext_noop("By the strapping table, linear between its rows"),
    "monotone_cubic": gettext_noop("By the strapping table, monotone cubic between its rows"),
}
TABLE = "strapping.points"
DISPLACED = "internal.displaced_volume"


@dataclass(frozen=True, slots=True)
class Capacity:
    """The capacity curve that counts.

    contents  net of internals, levels above the lowest inside point; None where `lack` names what is missing
    by_table  True where the vessel's capacity follows from its strapping table
    source    who says so, for workings
    """

    contents: Contents | None
    lack: Derived
    by_table: bool
    source: str


def capacity_of(case: Case, shape: Shape | Derived, datum: Derived) -> Capacity:
    """The capacity of a Case's vessel.

    shape  the inside of the vessel, or what is missing before there is one
    datum  height of the datum above the lowest inside point
    """
    if case.vessel.text("capacity_from") == "table":
        return _by_table(case.strapping, datum)
    found = _by_shape(case, shape, datum)
    if isinstance(found, Derived):
        return Capacity(None, found, False, BY_SHAPE)
    return Capacity(found, Derived(None), False, BY_SHAPE)


def _by_table(strapping: Strapping | None, datum: Derived) -> Capacity:
    found = _table(strapping, datum)
    if isinstance(found, Derived):
        return Capacity(None, found, True, BY_TABLE["linear"])
    return Capacity(Contents(found), Derived(None), True, BY_TABLE[found.interpolation])


def _table(strapping: Strapping | None, datum: Derived) -> StrappingTable | Derived:
    """The table as heights above the lowest inside point, or what it lacks."""
    if strapping is None:
        return Derived(None, missing=(TABLE,), fields=("vessel.capacity_from", TABLE))
    if datum.value is None:
        return datum
    interpolation = next((one for one in INTERPOLATIONS if one == strapping.interpolation), None)
    usable = all(abs(number) <= LARGEST_SI for point in strapping.points for number in point)
    if interpolation is None or not usable:
        return contradiction(TABLE)
    try:
        levels = [level_m + datum.value for level_m, _volume_m3 in strapping.points]
        return StrappingTable(levels, [volume_m3 for _level_m, volume_m3 in strapping.points], interpolation)
    except ValueError:
        # Its rows were checked when they were saved, against the datum of then.
        return contradiction(TABLE, "vessel.datum")


def _by_shape(case: Case, shape: Shape | Derived, datum: Derived) -> Contents | Derived:
    if isinstance(shape, Derived):
        return shape
    if DISPLACED in case.unreadable:
        return missing_field(DISPLACED)
    rows = [row for row in case.internals if row.si("displaced_volume") is not None]
    parts: list[Internal] = []
    for row in rows:
        part = _part(row, datum)
        if isinstance(part, Derived):
            return part
        parts.append(part)
    try:
        return Contents(shape, tuple(parts))
    except InternalTooLarge:
        return contradiction(DISPLACED)
    except ValueError:  # one of them does not stand between the bottom and the roof
        return contradiction("internal.elevation_low", "internal.elevation_high")


def _part(row: Row, datum: Derived) -> Internal | Derived:
    """An internal that takes room, with heights above the lowest inside point, or what it lacks."""
    volume = known_or_missing(row.si("displaced_volume"), DISPLACED)
    low = known_or_missing(row.si("elevation_low"), "internal.elevation_low")
    high = known_or_missing(row.si("elevation_high"), "internal.elevation_high")
    known = all_known(volume, low, high, datum)
    if known is None:
        return lacks(volume, low, high, datum)
    volume_m3, low_m, high_m, datum_m = known
    if volume_m3 < 0:
        return contradiction(DISPLACED)
    try:
        return Internal(row.text("name") or row.text("kind"), low_m + datum_m, high_m + datum_m, volume_m3)
    except ValueError:  # its elevations do not rise
        return contradiction("internal.elevation_low", "internal.elevation_high")
