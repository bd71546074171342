"""Segments: pieces of a vessel between two horizontal planes, round about a vertical axis.

A vertical vessel is a stack of segments. Heights inside a segment run from 0 at its lower plane to `height_m`
at its upper one; the stack sees to limits and order, so the functions here take arrays that are known to be
in range.
"""

import math
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from vessels.shapes.ball import cap_depth, cap_volume
from vessels.shapes.circle import half_chord
from vessels.shapes.numbers import Floats, positive_length

CURVE_POINTS = 24  # on a quarter of a circle, for drawing; off the curve by 0.05 % of the radius


class Segment(Protocol):
    """What a stack needs of a segment. Arrays in, arrays of the same shape out."""

    @property
    def height_m(self) -> float: ...

    @property
    def volume_m3(self) -> float: ...

    def volume_below_m3(self, height_m: Floats) -> Floats:
        """Volume between the lower plane and a height in the segment."""
        ...

    def height_for_m(self, volume_m3: Floats) -> Floats:
        """Height up to which a volume fills the segment: inverse of `volume_below_m3`."""
        ...

    def radius_m(self, height_m: Floats) -> Floats:
        """Inside radius at a height in the segment."""
        ...

    def height_at_m(self, radius_m: Floats) -> Floats:
        """Height at which the wall has a radius: inverse of `radius_m`; not asked of a cylinder."""
        ...

    def outline(self) -> tuple[tuple[float, float], ...]:
        """(radius, height) from the lower plane to the upper one, for drawing; two points where straight."""
        ...


@dataclass(frozen=True, slots=True)
class Frustum:
    """A frustum of a right circular cone; a cylinder where both radii are equal, a cone where one of them is
    0.

    Source: volume of a frustum, V = π·h/3·(r₀² + r₀·r + r²), elementary geometry.
    """

    lower_radius_m: float
    upper_radius_m: float
    height_m: float

    def __post_init__(self) -> None:
        positive_length("height_m", self.height_m)
        for name in ("lower_radius_m", "upper_radius_m"):
            if getattr(self, name) != 0:
                positive_length(name, getattr(self, name))
        if self.lower_radius_m == 0:
            positive_length("upper_radius_m", self.upper_radius_m)

    @property
    def volume_m3(self) -> float:
        lower, upper = self.lower_radius_m, self.upper_radius_m
        return math.pi * self.height_m / 3 * (lower * lower + lower * upper + upper * upper)

    def radius_m(self, height_m: Floats) -> Floats:
        share = height_m / self.height_m
        # This form gives both end radii exactly, so that joints have no step.
        return self.lower_radius_m * (1 - share) + self.upper_radius_m * share

    def volume_below_m3(self, height_m: Floats) -> Floats:
        lower, here = self.lower_radius_m, self.radius_m(height_m)
        return np.asarray(math.pi * height_m / 3 * (lower * lower + lower * here + here * here))

    def height_for_m(self, volume_m3: Floats) -> Floats:
        """Closed form: r³ = r₀³ + 3·k·V/π with k the slope of the radius.

        The height then follows from V itself rather than from (r − r₀)/k, which loses all digits in a
        cylinder.
        """
        lower, upper = self.lower_radius_m, self.upper_radius_m
        slope = (upper - lower) / self.height_m
        here = np.cbrt(np.maximum(lower**3 + 3 * slope * volume_m3 / math.pi, 0.0))
        squares = lower * lower + lower * here + here * here
        full = np.divide(3 * volume_m3, math.pi * squares, out=np.zeros_like(squares), where=squares > 0)
        return np.asarray(np.minimum(full, self.height_m))

    def height_at_m(self, radius_m: Floats) -> Floats:
        share = (radius_m - self.lower_radius_m) / (self.upper_radius_m - self.lower_radius_m)
        return np.asarray(share * self.height_m)

    def outline(self) -> tuple[tuple[float, float], ...]:
        return (self.lower_radius_m, 0.0), (self.upper_radius_m, self.height_m)


def quarter_circle(radius_m: float) -> list[tuple[float, float]]:
    """(radius, height) on the lower right quarter of a circle that stands on height 0, from the lowest point up."""
    angles = [math.pi / 2 * step / CURVE_POINTS for step in range(1, CURVE_POINTS)]
    between = [(radius_m * math.sin(angle), 2 * radius_m * math.sin(angle / 2) ** 2) for angle in angles]
    return [(0.0, 0.0), *between, (radius_m, radius_m)]


@dataclass(frozen=True, slots=True)
class HalfBallBelow:
    """The lower half of a ball: a hemispherical bottom. Source: the cap of a ball, see `ball`."""

    height_m: float  # the radius of the ball

    def __post_init__(self) -> None:
        positive_length("height_m", self.height_m)

    @property
    def volume_m3(self) -> float:
        return 2 * math.pi / 3 * self.height_m**3

    def radius_m(self, height_m: Floats) -> Floats:
        return half_chord(height_m, self.height_m)

    def volume_below_m3(self, height_m: Floats) -> Floats:
        return cap_volume(height_m, self.height_m)

    def height_for_m(self, volume_m3: Floats) -> Floats:
        return np.minimum(cap_depth(volume_m3, self.height_m), self.height_m)

    def height_at_m(self, radius_m: Floats) -> Floats:
        # R − √(R² − r²), written so that it keeps its digits near the axis.
        rest = np.sqrt(np.maximum(self.height_m * self.height_m - radius_m * radius_m, 0.0))
        return np.asarray(radius_m * radius_m / (self.height_m + rest))

    def outline(self) -> tuple[tuple[float, float], ...]:
        return tuple(quarter_circle(self.height_m))


@dataclass(frozen=True, slots=True)
class HalfBallAbove:
    """The upper half of a ball: a hemispherical top. Source: the cap of a ball, see `ball`."""

    height_m: float  # the radius of the ball

    def __post_init__(self) -> None:
        positive_length("height_m", self.height_m)

    @property
    def volume_m3(self) -> float:
        return 2 * math.pi / 3 * self.height_m**3

    def radius_m(self, height_m: Floats) -> Floats:
        return half_chord(self.height_m - height_m, self.height_m)

    def volume_below_m3(self, height_m: Floats) -> Floats:
        # All but the cap above; written so that it keeps its digits near the lower plane.
        return np.asarray(math.pi * height_m * (self.height_m * self.height_m - height_m * height_m / 3))

    def height_for_m(self, volume_m3: Floats) -> Floats:
        return np.asarray(self.height_m - cap_depth(np.maximum(self.volume_m3 - volume_m3, 0.0), self.height_m))

    def height_at_m(self, radius_m: Floats) -> Floats:
        return np.sqrt(np.maximum(self.height_m * self.height_m - radius_m * radius_m, 0.0))

    def outline(self) -> tuple[tuple[float, float], ...]:
        return tuple((radius, self.height_m - height) for radius, height in reversed(quarter_circle(self.height_m)))
