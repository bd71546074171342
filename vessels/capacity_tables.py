"""Capacity tables in a plant's units: at any step, brought down to few points, as files."""

import math
from collections.abc import Sequence

import numpy as np
from django.utils.translation import gettext as _

from project.documents.table_files import Cell, FileColumn, TableFile
from project.quantities import from_si, to_si
from vessels.capacity.reduction import Reduction, reduce_curve
from vessels.capacity.table import MOST_ROWS, CapacityRow, capacity_table
from vessels.capacity_report import Capacity

USUAL_ROWS = 50
EXACT = 1e-9  # of the volume: less is rounding


def usual_step_m(capacity: Capacity) -> float:
    """A round step in the plant's unit that gives about 50 rows."""
    unit = capacity.units.unit("length")
    span = from_si(capacity.highest_m - capacity.lowest_m, unit, "length")
    rough = span / USUAL_ROWS
    power = 10 ** math.floor(math.log10(rough))
    step = next(factor * power for factor in (1, 2, 5, 10) if factor * power >= rough * (1 - 1e-9))
    return to_si(step, unit, "length")


def round_levels_m(low_m: float, high_m: float, step_m: float) -> list[float]:
    """Levels from low to high: both ends, and every whole multiple of the step between them.

    Raises ValueError for a step that is not above 0, ends that do not rise, or more than 20,000 rows.
    """
    if not (math.isfinite(step_m) and step_m > 0):
        raise ValueError(f"step_m = {step_m!r} m: accepted is a finite step above 0 m")
    if not (math.isfinite(low_m) and math.isfinite(high_m) and low_m < high_m):
        raise ValueError(f"levels {low_m!r} … {high_m!r} m: accepted are finite levels, the lower one first")
    count = (high_m - low_m) / step_m
    if count + 2 > MOST_ROWS:
        raise ValueError(f"step_m = {step_m!r} m gives {count:.0f} rows: accepted are at most {MOST_ROWS}")
    first, last = math.ceil(low_m / step_m), math.floor(high_m / step_m)
    between = [number * step_m for number in range(first, last + 1)]
    # A multiple that is an end but for rounding is the end.
    noise = 1e-9 * step_m
    return [low_m, *(level for level in between if low_m + noise < level < high_m - noise), high_m]


def rows_of(capacity: Capacity, low_m: float, high_m: float, step_m: float) -> tuple[CapacityRow, ...]:
    """Rows of the capacity table between two levels from the datum. Raises ValueError as `round_levels_m` does, and for
    levels outside the curve."""
    assert capacity.contents is not None  # a page without contents has no table
    levels = [level + capacity.datum_m for level in round_levels_m(low_m, high_m, step_m)]
    return capacity_table(capacity.contents, levels, capacity.density_kg_m3).rows


def reduced(capacity: Capacity, points: int, low_m: float, high_m: float) -> Reduction:
    """The curve brought down to few points between two levels from the datum."""
    assert capacity.contents is not None
    return reduce_curve(capacity.contents, points, low_m + capacity.datum_m, high_m + capacity.datum_m)


def file_of(capacity: Capacity, rows: Sequence[CapacityRow]) -> TableFile:
    """The capacity table in the plant's units, all digits kept, with what a reader has to know above it."""
    units = capacity.units
    columns = [
        FileColumn(_("Level from the datum"), units.unit("length"), 4),
        FileColumn(_("Volume"), units.unit("volume"), 4),
        FileColumn(_("Share of the whole"), "%", 3),
        FileColumn(_("Surface area"), units.unit("area"), 3),
    ]
    data = [
        np.array([row.level_m for row in rows]) - capacity.datum_m,
        np.array([row.volume_m3 for row in rows]),
        np.array([row.share_of_total for row in rows]),
        np.array([row.surface_area_m2 for row in rows]),
    ]
    kinds = ["length", "volume", "ratio", "area"]
    if capacity.density_kg_m3 is not None:
        columns.append(FileColumn(_("Mass"), units.unit("mass"), 2))
        data.append(np.array([row.mass_kg for row in rows]))
        kinds.append("mass")
    factors = [from_si(1.0, column.unit, kind) for column, kind in zip(columns, kinds, strict=True)]
    converted = [values * factor for values, factor in zip(data, factors, strict=True)]
    name = _("Capacity of %(vessel)s") % {"vessel": capacity.vessel.number}
    return TableFile(name, tuple(columns), np.column_stack(converted).tolist(), notes_of(capacity, name))


def reduced_file_of(capacity: Capacity, found: Reduction) -> TableFile:
    """The reduced table in the plant's units."""
    units = capacity.units
    length, volume = units.unit("length"), units.unit("volume")
    levels = (np.array(found.levels_m) - capacity.datum_m) * from_si(1.0, length, "length")
    volumes = np.array(found.volumes_m3) * from_si(1.0, volume, "volume")
    name = _("Reduced capacity of %(vessel)s") % {"vessel": capacity.vessel.number}
    columns = (FileColumn(_("Level from the datum"), length, 4), FileColumn(_("Volume"), volume, 4))
    notes = (*notes_of(capacity, name), reduction_in_words(capacity, found))
    return TableFile(name, columns, np.column_stack([levels, volumes]).tolist(), notes)


def reduction_in_words(capacity: Capacity, found: Reduction) -> str:
    """How far the reduced table is from the curve at worst."""
    units = capacity.units
    whole_m3 = found.volumes_m3[-1] - found.volumes_m3[0]
    if found.largest_error_m3 < EXACT * whole_m3:
        return _("Straight lines between these points are exact.")
    sentence = _(
        "Straight lines between %(points)s points: at most %(error)s (%(share)s of the volume over the span) off, at "
        "%(level)s."
    )
    return sentence % {
        "points": len(found.levels_m),
        "error": units.shown_si(rounded_up(found.largest_error_m3), "volume", 3),
        "share": units.shown_si(rounded_up(found.largest_error_share), "ratio", 3),
        "level": units.shown_si(found.at_level_m - capacity.datum_m, "length"),
    }


def rounded_up(value: float, digits: int = 2) -> float:
    """A value rounded up to some significant digits: what is told as "at most" is never less than it is."""
    if value <= 0:
        return 0.0
    power: float = 10.0 ** (math.floor(math.log10(value)) - digits + 1)
    return math.ceil(value / power * (1 - 1e-12)) * power


def notes_of(capacity: Capacity, name: str) -> tuple[str, ...]:
    """What stands above a table in a file."""
    vessel = capacity.vessel
    invented = [_("Invented demonstration data.")] if vessel.plant.invented else []
    return (
        f"{vessel.plant.code} {vessel.number} {vessel.name}".strip(),
        name,
        *invented,
        *capacity.method,
        *capacity.warnings,
        _(
            "Inside dimensions of a rigid vessel, not corrected for temperature or bulging; local codes and licensed "
            "practice come first."
        ),
    )


def shown_rows(table: TableFile) -> list[list[str]]:
    """The numbers of a table as texts, each column with its own decimals."""
    return [
        [_shown(value, column.decimals) for value, column in zip(row, table.columns, strict=True)] for row in table.rows
    ]


def _shown(value: Cell, decimals: int) -> str:
    if not isinstance(value, float):
        return value or ""
    return f"{value:,.{decimals}f}".replace(",", "\u202f").replace("-", "−")
