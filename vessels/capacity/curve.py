"""A capacity curve: volume against level, wherever it comes from (a shape, a strapping table, either less internals).

Levels are heights above the vessel's lowest inside point, as in `vessels.shapes`.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from scipy.optimize import elementwise

from vessels.shapes.numbers import NOISE, FloatOrArray, Floats
from vessels.shapes.shape import Shape


class Curve(Protocol):
    """What every capacity curve answers. Functions take a float and give a float, or an array and give an array."""

    @property
    def lowest_level_m(self) -> float:
        """Level (m) at which the curve begins: 0 for a shape."""

    @property
    def highest_level_m(self) -> float:
        """Level (m) at which the curve ends."""

    @property
    def joints_m(self) -> tuple[float, ...]:
        """Levels (m) at which the curve may have a kink, its two ends included, rising."""

    def volume_m3(self, level_m: FloatOrArray) -> FloatOrArray:
        """Volume (m³) below a level (m). Raises ValueError outside the curve, naming its limits."""

    def level_m(self, volume_m3: FloatOrArray) -> FloatOrArray:
        """The lowest level (m) at which the curve holds a volume (m³). Raises ValueError outside the curve."""

    def surface_area_m2(self, level_m: FloatOrArray) -> FloatOrArray:
        """Slope of the curve, dV/dh (m²). Raises ValueError outside the curve."""


def between(argument: str, value: float | Floats, lowest: float, highest: float, unit: str, of: str) -> Floats:
    """The values as an array, once all are known to lie in lowest … highest.

    The rule is that of `vessels.shapes.numbers.within`: rounding noise (1e-12 of the larger limit) is taken as the
    limit, anything further is an error, and nothing is clamped.

    Parameters
    ----------
    argument  name of the argument, for the message     unit  "m", "m³"     of  whose limits they are: "the table"

    Raises ValueError naming the first offending value and the limits; NaN and infinity are refused too.
    """
    values = np.asarray(value, dtype=np.float64)
    noise = NOISE * max(abs(lowest), abs(highest))
    good = (values >= lowest - noise) & (values <= highest + noise)
    if not np.all(good):
        worst = float(values[~good].flat[0])
        raise ValueError(f"{argument} = {worst!r} {unit} is outside {of}: accepted is {lowest!r} … {highest!r} {unit}")
    return np.minimum(np.maximum(values, lowest), highest)


@dataclass(frozen=True, slots=True)
class ShapeCurve:
    """The capacity curve of a shape, from its lowest inside point to its roof."""

    shape: Shape

    @property
    def lowest_level_m(self) -> float:
        return 0.0

    @property
    def highest_level_m(self) -> float:
        return self.shape.height_m

    @property
    def joints_m(self) -> tuple[float, ...]:
        ends = (self.shape.tangent_height_m, self.shape.top_tangent_height_m)
        return tuple(sorted({0.0, *ends, self.shape.height_m}))

    def volume_m3(self, level_m: FloatOrArray) -> FloatOrArray:
        return self.shape.volume_m3(level_m)

    def level_m(self, volume_m3: FloatOrArray) -> FloatOrArray:
        return self.shape.level_m(volume_m3)

    def surface_area_m2(self, level_m: FloatOrArray) -> FloatOrArray:
        return self.shape.surface_area_m2(level_m)


def as_curve(source: Shape | Curve) -> Curve:
    """The capacity curve of a shape; a curve as it is."""
    return ShapeCurve(source) if isinstance(source, Shape) else source


# Far below the micrometre that is promised; without it a root near 0 would be sought to the last digit of its own.
_ROOT_WITHIN_M = 1e-10


def level_between(volume_of: Callable[[Floats], Floats], wanted_m3: Floats, low_m: Floats, high_m: Floats) -> Floats:
    """Levels at which a volume that never falls reaches the wanted volumes, each between its own two levels.

    A wanted volume at or beyond that of one of the two levels gives that level itself. Source: T. R. Chandrupatla,
    Adv. Eng. Software 28 (1997) 145, as scipy has it.
    """
    if not wanted_m3.size:
        return wanted_m3
    found = elementwise.find_root(
        lambda level, wanted: volume_of(level) - wanted,
        (low_m, high_m),
        args=(wanted_m3,),
        tolerances={"xatol": _ROOT_WITHIN_M},
    )
    at_low, at_high = volume_of(low_m), volume_of(high_m)
    levels = np.where(wanted_m3 <= at_low, low_m, np.where(wanted_m3 >= at_high, high_m, found.x))
    return np.asarray(levels, dtype=np.float64)
