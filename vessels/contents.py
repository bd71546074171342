"""What a vessel holds at which level: its shape or strapping table, less its internals, with the figures that follow.

Between the rows of the database and the pure `vessels.capacity`; nothing here is written, and no query is made but for
a strapping table that is not loaded yet.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from project.quantities import PlantUnits
from vessels.capacity.figures import Contents, InternalTooLarge
from vessels.capacity.figures import Internal as Displacing
from vessels.capacity.problems import ImpossibleTable
from vessels.capacity.strapping import StrappingTable as Table
from vessels.capacity.validation import validate
from vessels.field_defs import INTERNAL_KINDS
from vessels.models import Internal, OperatingCase, StrappingTable, Vessel
from vessels.shape_values import datum_height_m, stem_of
from vessels.shapes.build import ImpossibleShape, needed_dimensions
from vessels.shapes.shape import Shape


@dataclass(frozen=True, slots=True)
class VesselShape:
    """The shape of a vessel, or why there is none, and where its datum lies (m above the lowest inside point).

    missing  stems of the fields that have to be filled first
    problem  what makes no vessel of fields that are filled
    """

    shape: Shape | None
    missing: tuple[str, ...]
    problem: ImpossibleShape | None
    datum_m: float | None


@dataclass(frozen=True, slots=True)
class VesselContents:
    """What a vessel holds.

    known     its shape and datum
    contents  the curve that counts, net of internals; None where it is not known
    table     the strapping table as heights above the lowest inside point, where it has one
    by_table  True where the table counts and not the shape
    table_uncertainty  standard uncertainty of the table's volumes, relative; None where it is not stated
    warnings  what a reader has to know of it, in words
    """

    known: VesselShape
    contents: Contents | None
    table: Table | None
    by_table: bool
    warnings: tuple[str, ...]
    table_uncertainty: float | None = None


def shape_of_vessel(vessel: Vessel) -> VesselShape:
    """The shape and the datum of a vessel, saved or as typed."""
    shape, problem = None, None
    needed = [stem_of(name) for name in needed_dimensions(vessel.body, vessel.bottom, vessel.top)]
    missing = tuple(stem for stem in needed if vessel.quantity(stem).si is None)
    if not missing:
        try:
            shape = vessel.shape()
        except ImpossibleShape as error:
            problem = error
    return VesselShape(shape, missing, problem, datum_height_m(vessel.datum, shape, vessel.dip_plate_height_si))


def saved_table(vessel: Vessel) -> StrappingTable | None:
    """The vessel's strapping table, where it has one."""
    return StrappingTable.objects.filter(vessel=vessel).first() if vessel.pk else None


def table_of(row: StrappingTable, datum_m: float) -> Table:
    """A saved strapping table as heights above the lowest inside point.

    Raises ImpossibleTable where its rows make none: they were checked when they were saved, so that only a datum that
    moved meanwhile gets here.
    """
    levels = [level + datum_m for level in row.levels_m]
    return Table(levels, row.volumes_m3, "monotone_cubic" if row.interpolation == "monotone_cubic" else "linear")


def contents_of(
    vessel: Vessel, internals: Iterable[Internal], row: StrappingTable | None, units: PlantUnits
) -> VesselContents:
    """What a vessel holds, saved or as typed.

    internals  of the vessel; those with a displaced volume and both elevations are subtracted from the shape's volume,
               not from a strapping table's, which was measured with them in place
    row        its strapping table
    """
    known = shape_of_vessel(vessel)
    table, warnings = _table(row, known)
    by_table = vessel.text_of("capacity_from") == "table"
    if by_table and table is None and not warnings:
        warnings.append(_("The capacity is to follow from a strapping table, but there is none yet."))
    contents = None
    if by_table:
        contents = Contents(table) if table is not None else None
    elif known.shape is not None:
        displacing = _displacing(internals, known, units, warnings)
        try:
            contents = Contents(known.shape, tuple(displacing))
        except InternalTooLarge as error:
            warnings.append(
                _("%(names)s displace more than the vessel holds at %(level)s: their volumes are not subtracted.")
                % {"names": ", ".join(error.names), "level": units.shown_si(error.level_m, "length")}
            )
            contents = Contents(known.shape)
    uncertainty = row.quantity("uncertainty").si if row is not None else None
    return VesselContents(known, contents, table, by_table, tuple(warnings), uncertainty)


def _table(row: StrappingTable | None, known: VesselShape) -> tuple[Table | None, list[str]]:
    if row is None:
        return None, []
    if known.datum_m is None:
        return None, [_("The strapping table counts from the datum, whose height is not known.")]
    try:
        table = table_of(row, known.datum_m)
    except ImpossibleTable:
        return None, [_("The strapping table no longer fits the vessel's datum: its levels reach below the vessel.")]
    return table, _contradictions(table, row, known)


def _contradictions(table: Table, row: StrappingTable, known: VesselShape) -> list[str]:
    """What a vessel that changed since makes of a table that fitted it when it was saved."""
    if known.shape is None:
        return []
    tolerance = row.quantity("tolerance").si
    options: dict[str, Any] = {} if tolerance is None else {"shape_tolerance": tolerance}
    problems = validate(table.levels_m, table.volumes_m3, shape=known.shape, **options)
    rows = {one.row for one in problems if one.code in ("above_vessel", "against_shape", "negative_level")}
    if not rows:
        return []
    return [
        ngettext(
            "One row of the strapping table contradicts the vessel's shape: look at the table or at the dimensions.",
            "%(count)s rows of the strapping table contradict the vessel's shape: look at the table or at the "
            "dimensions.",
            len(rows),
        )
        % {"count": len(rows)}
    ]


def _displacing(
    internals: Iterable[Internal], known: VesselShape, units: PlantUnits, warnings: list[str]
) -> list[Displacing]:
    """Internals that take room, as heights above the lowest inside point; a warning for each that cannot be counted."""
    found: list[Displacing] = []
    assert known.shape is not None  # the caller has one
    for one in internals:
        volume_m3 = one.quantity("displaced_volume").si
        if volume_m3 is None:
            continue
        name = one.name or _(dict(INTERNAL_KINDS).get(one.kind, one.kind))
        low, high = one.elevation_low_si, one.elevation_high_si
        if low is None or high is None or known.datum_m is None:
            warnings.append(_("%(name)s: its volume is not subtracted, its elevations are missing.") % {"name": name})
            continue
        low, high = low + known.datum_m, high + known.datum_m
        if not 0 <= low < high <= known.shape.height_m:
            warnings.append(
                _("%(name)s: its volume is not subtracted, it does not stand between the bottom and the roof.")
                % {"name": name}
            )
            continue
        found.append(Displacing(name, low, high, volume_m3))
    return found


def normal_density(cases: Iterable[OperatingCase]) -> tuple[float | None, str]:
    """Density (kg/m³) in the normal operating case, or None, and the name of its medium.

    The case's own value counts before the medium's. A medium's density is stated at one temperature; here it stands for
    mass at a glance, and its value is shown beside the mass.
    """
    case = next((one for one in cases if one.kind == "normal"), None)
    if case is None or case.medium is None or case.medium.kind == "interface":
        # Of two liquids one level does not tell how much of each there is.
        return None, ""
    density = case.density_si if case.density_si is not None else case.medium.density_si
    return (density if density is not None and density > 0 else None), case.medium.name
