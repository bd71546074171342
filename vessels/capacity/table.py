"""A capacity table: rows of level and volume at any step, for screen, sheet and file."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from vessels.capacity.curve import Curve, as_curve, between
from vessels.shapes.numbers import NOISE, Floats
from vessels.shapes.shape import Shape

MOST_ROWS = 20_000


@dataclass(frozen=True, slots=True)
class CapacityRow:
    """One row.

    share_of_total     of the volume at the curve's highest level
    surface_area_m2    slope of the curve
    step_volume_m3     gained since the row before; None in the first
    mass_kg            None without a density
    """

    level_m: float
    volume_m3: float
    share_of_total: float
    surface_area_m2: float
    step_volume_m3: float | None
    mass_kg: float | None


@dataclass(frozen=True, slots=True)
class CapacityTable:
    """Rows with what they have in common. total_volume_m3 is that at the curve's highest level."""

    rows: tuple[CapacityRow, ...]
    total_volume_m3: float
    density_kg_m3: float | None


def levels_by_step(from_level_m: float, to_level_m: float, step_m: float) -> Floats:
    """Levels from … to in equal steps; the last is exactly `to_level_m`, after a shorter step where none fits.

    Raises ValueError for a step that is not above 0, levels that do not rise, or more than 20,000 rows.
    """
    if not (math.isfinite(from_level_m) and math.isfinite(to_level_m) and from_level_m < to_level_m):
        raise ValueError(
            f"to_level_m = {to_level_m!r} m: accepted is a finite level above from_level_m = {from_level_m!r} m"
        )
    if not (math.isfinite(step_m) and step_m > 0):
        raise ValueError(f"step_m = {step_m!r} m: accepted is a finite step above 0 m")
    steps = (to_level_m - from_level_m) / step_m
    if steps + 1 > MOST_ROWS:
        least = (to_level_m - from_level_m) / (MOST_ROWS - 1)
        raise ValueError(
            f"step_m = {step_m!r} m gives {steps + 1:.0f} rows, more than {MOST_ROWS}: accepted is a step from "
            f"{least:.6g} m"
        )
    # A last step that is whole but for rounding is whole.
    whole = math.ceil(steps * (1 - NOISE) - NOISE)
    levels = from_level_m + step_m * np.arange(whole)
    return np.append(levels, to_level_m)


def capacity_table(
    source: Shape | Curve, levels_m: Iterable[float], density_kg_m3: float | None = None
) -> CapacityTable:
    """Rows at the levels asked for.

    Parameters
    ----------
    source         a shape, a strapping table, or contents less internals
    levels_m       rising, within the curve, at most 20,000; `levels_by_step` makes equal ones, a caller may give such
                   as are round in its own unit
    density_kg_m3  for the column of mass, kg/m³

    Raises
    ------
    ValueError     for no levels, too many, levels that do not rise or lie outside, a density that is not above 0.

    Validity: mass is volume times one density, without buoyancy of air and without the gas above.
    """
    curve = as_curve(source)
    wanted = np.array(list(levels_m), dtype=np.float64)
    if not 1 <= wanted.size <= MOST_ROWS:
        raise ValueError(f"{wanted.size} levels: accepted are 1 to {MOST_ROWS}")
    levels = between("level_m", wanted, curve.lowest_level_m, curve.highest_level_m, "m", "the capacity curve")
    if np.any(np.diff(levels) <= 0):
        first = int(np.flatnonzero(np.diff(levels) <= 0)[0])
        raise ValueError(f"level {levels[first + 1]:.9g} m follows {levels[first]:.9g} m: accepted are rising levels")
    if density_kg_m3 is not None and not (math.isfinite(density_kg_m3) and density_kg_m3 > 0):
        raise ValueError(f"density_kg_m3 = {density_kg_m3!r} kg/m³: accepted is a finite density above 0 kg/m³")
    volumes = curve.volume_m3(levels)
    total = float(curve.volume_m3(curve.highest_level_m))
    steps: list[float | None] = [None, *np.diff(volumes).tolist()]
    masses: list[float | None] = [None] * levels.size
    if density_kg_m3 is not None:
        masses = (volumes * density_kg_m3).tolist()
    columns = (levels, volumes, volumes / total, curve.surface_area_m2(levels))
    rows = zip(*(column.tolist() for column in columns), steps, masses, strict=True)
    return CapacityTable(tuple(CapacityRow(*row) for row in rows), total, density_kg_m3)
