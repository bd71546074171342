"""Segments: pieces of a vessel between two horizontal planes, round about a vertical axis.

A vertical vessel is a stack of segments. Heights inside a segment run from 0 at its lower plane to `height_m`
at its upper one; the stack sees to limits and order, so the functions here take arrays that are known to be
in range.
"""

import math
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from vessels.shapes.numbers import Floats, positive_length


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

    def outline(self) -> tuple[tuple[float, float], ...]:
        return (self.lower_radius_m, 0.0), (self.upper_radius_m, self.height_m)
