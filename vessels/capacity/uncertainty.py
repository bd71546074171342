"""Uncertainty of a volume from those of dimensions, level and table.

Source: JCGM 100:2008 (GUM), 5.1.2: u²(V) = Σ (∂V/∂xᵢ · u(xᵢ))² for inputs that do not depend on one another.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from vessels.capacity.curve import Curve, as_curve
from vessels.shapes.shape import Shape

# Of a dimension, for its derivative by central differences: the error of the step and of rounding are both far below
# what anybody knows of an uncertainty.
_STEP = 1e-5
# A level so near the roof, as a share of the height, is full: rounding of sums of elevations.
_FULL = 1e-9


@dataclass(frozen=True, slots=True)
class Contribution:
    """One input's part.

    name                  of the input, as the caller calls it
    standard_uncertainty  of the input, in its own SI unit (m; m³ for a volume)
    sensitivity           ∂V/∂x in m³ per that unit
    volume_m3             their product, not negative, m³
    """

    name: str
    standard_uncertainty: float
    sensitivity: float
    volume_m3: float


@dataclass(frozen=True, slots=True)
class VolumeUncertainty:
    """level_m, volume_m3   where it holds
    contributions           each input's part
    standard_m3             combined standard uncertainty, m³
    share                   of the volume; None where there is none
    """

    level_m: float
    volume_m3: float
    contributions: tuple[Contribution, ...]
    standard_m3: float
    share: float | None

    def expanded_m3(self, coverage_factor: float = 2.0) -> float:
        """Expanded uncertainty (m³), the standard one times a coverage factor: 2 for about 95 % (GUM 6.3.3)."""
        return coverage_factor * self.standard_m3


def of_rectangular(half_width: float) -> float:
    """Standard uncertainty of a value that lies within ± half_width, anywhere alike: a/√3 (GUM 4.3.7)."""
    return _not_negative("half_width", half_width) / math.sqrt(3)


def _not_negative(name: str, value: float) -> float:
    if not (math.isfinite(value) and value >= 0):
        raise ValueError(f"{name} = {value!r}: accepted is a finite number from 0")
    return value


def level_contribution(source: Shape | Curve, level_m: float, standard_uncertainty_m: float) -> Contribution:
    """Part of the level reading: dV/dh times its standard uncertainty (m).

    Raises ValueError for a level outside, an uncertainty that is negative or not finite.
    """
    u = _not_negative("standard_uncertainty_m", standard_uncertainty_m)
    area = as_curve(source).surface_area_m2(level_m)
    return Contribution("level", u, area, area * u)


def dimension_contributions(
    make: Callable[[Mapping[str, float]], Shape],
    dimensions: Mapping[str, float],
    relative_uncertainties: Mapping[str, float],
    level_m: float,
) -> list[Contribution]:
    """Parts of the vessel's dimensions at a level that stays where it is.

    Parameters
    ----------
    make                    dimensions -> shape
    dimensions              name -> value, m (rad for an angle)
    relative_uncertainties  name -> standard uncertainty as a share of the dimension; those left out count as exact
    level_m                 above the lowest inside point, m

    Raises
    ------
    ValueError   for an uncertainty of an unknown dimension, or one that is negative or not finite; a level outside.

    Validity: dimensions that were measured independently; derivative by central differences. At the roof the volume is
    that of the full vessel, whose level moves with its dimensions; just below, where the level would leave the smaller
    vessel, the derivative is that towards the larger one.
    """
    shape = make(dimensions)
    volume = shape.volume_m3(level_m)
    is_full = level_m >= shape.height_m * (1 - _FULL)
    found: list[Contribution] = []
    for name, relative in relative_uncertainties.items():
        if name not in dimensions:
            raise ValueError(f"{name!r} is no dimension of this vessel: accepted is {' or '.join(dimensions)}")
        value = dimensions[name]
        u = _not_negative(f"relative uncertainty of {name}", relative) * abs(value)
        step = _STEP * abs(value)
        if step == 0:
            found.append(Contribution(name, 0.0, 0.0, 0.0))
            continue
        moved = [make({**dimensions, name: other}) for other in (value - step, value + step)]
        slope = _slope(moved, step, level_m, volume, is_full)
        # Differences of rounding must not show as a part of a dimension on which the volume does not depend.
        if abs(slope) * abs(value) < 1e-9 * abs(volume):
            slope = 0.0
        found.append(Contribution(name, u, slope, abs(slope) * u))
    return found


def _slope(moved: Sequence[Shape], step: float, level_m: float, volume_m3: float, is_full: bool) -> float:
    """Derivative of the volume by a dimension, from the shapes with that dimension a step less and a step more."""
    if is_full:
        return (moved[1].total_volume_m3 - moved[0].total_volume_m3) / (2 * step)
    held = [shape.volume_m3(level_m) if level_m <= shape.height_m else None for shape in moved]
    less, more = held
    if less is not None and more is not None:
        return (more - less) / (2 * step)
    if more is not None:
        return (more - volume_m3) / step
    return (volume_m3 - less) / step if less is not None else 0.0


def volume_contribution(name: str, standard_uncertainty_m3: float) -> Contribution:
    """Part that is known as a volume already (m³): the table's interpolation, its calibration, the internals."""
    u = _not_negative(name, standard_uncertainty_m3)
    return Contribution(name, u, 1.0, u)


def combine(source: Shape | Curve, level_m: float, contributions: Sequence[Contribution]) -> VolumeUncertainty:
    """Combined standard uncertainty of the volume at a level (GUM 5.1.2).

    Raises ValueError for a level outside. Validity: independent inputs; a curve that is straight within them.
    """
    volume = as_curve(source).volume_m3(level_m)
    standard = math.hypot(*(part.volume_m3 for part in contributions))
    return VolumeUncertainty(level_m, volume, tuple(contributions), standard, standard / volume if volume else None)
