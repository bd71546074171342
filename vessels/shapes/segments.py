"""Segments: pieces of an upright round wall between two horizontal planes.

The wall is a stack of segments. Heights inside a segment run from 0 at its lower plane to `height_m` at its upper one;
the stack sees to limits and order, so the functions here take arrays that are known to be in range.
"""

import math
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from vessels.shapes.arcs import Arc
from vessels.shapes.heads import Head, arc_points
from vessels.shapes.numbers import Floats
from vessels.shapes.outlines import CURVE_POINTS


class Segment(Protocol):
    """What a stack needs of a segment. Arrays in, arrays of the same form out."""

    @property
    def height_m(self) -> float: ...

    @property
    def lower_radius_m(self) -> float: ...

    @property
    def upper_radius_m(self) -> float: ...

    def volume_below_m3(self, height_m: Floats) -> Floats:
        """Volume between the lower plane and a height in the segment."""
        ...

    def radius_m(self, height_m: Floats) -> Floats:
        """Inside radius at a height in the segment."""
        ...

    def height_at_m(self, radius_m: Floats) -> Floats:
        """Height at which the wall has a radius: inverse of `radius_m`; not asked of a cylinder."""
        ...

    def outline(self) -> list[tuple[float, float]]:
        """(radius, height) from the lower plane to the upper one, for drawing; two points where straight."""
        ...


@dataclass(frozen=True, slots=True)
class Frustum:
    """A frustum of a right circular cone; a cylinder where both radii are equal.

    Source: volume of a frustum, V = π·h/3·(r₀² + r₀·r + r²), elementary geometry.
    """

    lower_radius_m: float
    upper_radius_m: float
    height_m: float

    def radius_m(self, height_m: Floats) -> Floats:
        share = height_m / self.height_m
        # This form gives both end radii exactly, so that joints have no step.
        return np.asarray(self.lower_radius_m * (1 - share) + self.upper_radius_m * share)

    def volume_below_m3(self, height_m: Floats) -> Floats:
        lower, here = self.lower_radius_m, self.radius_m(height_m)
        return np.asarray(math.pi * height_m / 3 * (lower * lower + lower * here + here * here))

    def height_at_m(self, radius_m: Floats) -> Floats:
        share = (radius_m - self.lower_radius_m) / (self.upper_radius_m - self.lower_radius_m)
        return np.asarray(share * self.height_m)

    def outline(self) -> list[tuple[float, float]]:
        return [(self.lower_radius_m, 0.0), (self.upper_radius_m, self.height_m)]


@dataclass(frozen=True, slots=True)
class ArcBelow:
    """An arc of a head that closes the vessel below: its deep end is the lower plane."""

    arc: Arc

    @property
    def height_m(self) -> float:
        return self.arc.height_m

    @property
    def lower_radius_m(self) -> float:
        return self.arc.inner_radius_m

    @property
    def upper_radius_m(self) -> float:
        return self.arc.outer_radius_m

    def radius_m(self, height_m: Floats) -> Floats:
        return self.arc.radius_up_m(height_m)

    def volume_below_m3(self, height_m: Floats) -> Floats:
        return self.arc.volume_up_m3(height_m)

    def height_at_m(self, radius_m: Floats) -> Floats:
        return self.arc.rise_at_m(radius_m)

    def outline(self) -> list[tuple[float, float]]:
        deep = self.arc.inner_radius_m, self.arc.inner_depth_m
        places = [deep, *arc_points(self.arc, 1 if self.arc.is_straight else CURVE_POINTS)]
        return [(radius, self.arc.inner_depth_m - depth) for radius, depth in places]


@dataclass(frozen=True, slots=True)
class ArcAbove:
    """An arc of a head that closes the vessel above: its deep end is the upper plane."""

    arc: Arc

    @property
    def height_m(self) -> float:
        return self.arc.height_m

    @property
    def lower_radius_m(self) -> float:
        return self.arc.outer_radius_m

    @property
    def upper_radius_m(self) -> float:
        return self.arc.inner_radius_m

    def radius_m(self, height_m: Floats) -> Floats:
        return self.arc.radius_at_m(self.arc.outer_depth_m + height_m)

    def volume_below_m3(self, height_m: Floats) -> Floats:
        return np.asarray(self.arc.volume_m3 - self.arc.volume_up_m3(self.arc.height_m - height_m))

    def height_at_m(self, radius_m: Floats) -> Floats:
        return np.asarray(self.arc.depth_at_m(radius_m) - self.arc.outer_depth_m)

    def outline(self) -> list[tuple[float, float]]:
        height = self.arc.height_m
        return [(radius, height - from_below) for radius, from_below in reversed(ArcBelow(self.arc).outline())]


def below(head: Head) -> list[Segment]:
    """The segments of a head that bulges downward, from the lowest up; none of a flat or inward one."""
    return [] if head.inward else [ArcBelow(arc) for arc in head.arcs]


def above(head: Head) -> list[Segment]:
    """The segments of a head that bulges upward, from the lowest up; none of a flat or inward one."""
    return [] if head.inward else [ArcAbove(arc) for arc in reversed(head.arcs)]
