"""The surface of a bulk solid: cones by angle of repose, level rests, planes.

A place is a distance from the vessel's middle and a bearing, as in `vessels.shapes.shape`; inside this package surfaces
are asked in the vessel's own axes, x along its length and y across.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from vessels.shapes.numbers import Floats
from vessels.shapes.shape import Point, Shape


def local_point(shape: Shape, radius_m: float, bearing_rad: float | None = None) -> Point:
    """(x, y) in the vessel's own axes (m) of a place. Raises ValueError where no vertical line there is inside."""
    shape.bottom_elevation_m(radius_m, bearing_rad)  # refuses a place outside, and says the limit
    turn = 0.0 if bearing_rad is None else bearing_rad - shape.axis_bearing_rad
    return radius_m * math.cos(turn), radius_m * math.sin(turn)


def _finite_level(argument: str, level_m: float) -> None:
    if not math.isfinite(level_m):
        raise ValueError(f"{argument} = {level_m!r} m: accepted is a finite level above the lowest inside point")


def slope_of(angle_rad: float) -> float:
    """Tangent of an angle of repose. Raises ValueError unless it is above 0° and below 90°."""
    if not 0 < angle_rad < math.pi / 2:
        raise ValueError(
            f"slope_rad = {angle_rad!r} rad: accepted is an angle above 0 and below 90° ({math.pi / 2} rad)"
        )
    return math.tan(angle_rad)


class Surface(Protocol):
    """A surface over the plan of one vessel."""

    def level_at_m(self, shape: Shape, x_m: Floats, y_m: Floats) -> Floats:
        """Levels (m) at places in the vessel's own axes; it may lie below the bottom, where there is no solid."""

    def centres(self, shape: Shape) -> Sequence[Point]:
        """Points (m) at which it has a tip, or whose directions part it."""

    def circles(self, shape: Shape) -> Sequence[tuple[Point, float]]:
        """Centre and radius (m) of circles along which it has a kink."""


@dataclass(frozen=True, slots=True)
class Cone:
    """A cone about a vertical line: a heap with its peak below an inlet, or a funnel with its lowest point above an
    outlet.

    tip_level_m  level of the peak, or of the funnel's lowest point, above the lowest inside point, m
    slope_rad    angle of repose, or of drawdown, from the horizontal, rad; above 0, below π/2
    radius_m, bearing_rad  place of the tip
    """

    tip_level_m: float
    slope_rad: float
    radius_m: float = 0.0
    bearing_rad: float | None = None

    def __post_init__(self) -> None:
        _finite_level("tip_level_m", self.tip_level_m)
        slope_of(self.slope_rad)

    def centre(self, shape: Shape) -> Point:
        return local_point(shape, self.radius_m, self.bearing_rad)

    def fall_m(self, shape: Shape, x_m: Floats, y_m: Floats) -> Floats:
        """How far (m) the cone is from the level of its tip: tangent of the slope times distance."""
        x_tip, y_tip = self.centre(shape)
        return math.tan(self.slope_rad) * np.hypot(x_m - x_tip, y_m - y_tip)


@dataclass(frozen=True, slots=True)
class SolidSurface:
    """A heap, a funnel drawn into it, a level rest, or what they make together.

    heap          z = peak − tan(a)·distance; with a rest it ends where it meets that
    funnel        z = lowest + tan(d)·distance, wherever that is below heap or rest
    rest_level_m  level surface on which the heap sits, or into which the funnel is drawn, m; None: there is none, and
                  the cone reaches the wall on all sides

    Validity: free-flowing solids with one angle all round; neither segregation nor caking nor a moving inlet. Angles of
    a real solid differ by some degrees from filling to filling.
    """

    heap: Cone | None = None
    funnel: Cone | None = None
    rest_level_m: float | None = None

    def __post_init__(self) -> None:
        if self.heap is None and self.funnel is None and self.rest_level_m is None:
            raise ValueError("a surface without heap, funnel and rest: accepted is at least one of them")
        if self.rest_level_m is not None:
            _finite_level("rest_level_m", self.rest_level_m)

    def level_at_m(self, shape: Shape, x_m: Floats, y_m: Floats) -> Floats:
        level = np.full_like(x_m, math.inf if self.rest_level_m is None else self.rest_level_m)
        if self.heap is not None:
            heap = self.heap.tip_level_m - self.heap.fall_m(shape, x_m, y_m)
            level = heap if self.rest_level_m is None else np.maximum(level, heap)
        if self.funnel is not None:
            level = np.minimum(level, self.funnel.tip_level_m + self.funnel.fall_m(shape, x_m, y_m))
        return level

    def centres(self, shape: Shape) -> Sequence[Point]:
        return [cone.centre(shape) for cone in (self.heap, self.funnel) if cone is not None]

    def circles(self, shape: Shape) -> Sequence[tuple[Point, float]]:
        found: list[tuple[Point, float]] = []
        if self.rest_level_m is not None:
            for cone, sign in ((self.heap, 1.0), (self.funnel, -1.0)):
                height = sign * (cone.tip_level_m - self.rest_level_m) if cone is not None else 0.0
                if cone is not None and height > 0:
                    found.append((cone.centre(shape), height / math.tan(cone.slope_rad)))
        if self.heap is not None and self.funnel is not None and self.heap.centre(shape) == self.funnel.centre(shape):
            height = self.heap.tip_level_m - self.funnel.tip_level_m
            if height > 0:  # both slopes meet all round; about two tips they meet in a curve that is no circle
                slopes = math.tan(self.heap.slope_rad) + math.tan(self.funnel.slope_rad)
                found.append((self.heap.centre(shape), height / slopes))
        return found


@dataclass(frozen=True, slots=True)
class InclinedPlane:
    """A plane, as a solid lies that was filled or drawn along one side.

    middle_level_m  level in the vessel's middle, m
    slope_rad       angle from the horizontal, rad; above 0, below π/2
    bearing_rad     direction in which it rises; None: along the vessel's length
    """

    middle_level_m: float
    slope_rad: float
    bearing_rad: float | None = None

    def __post_init__(self) -> None:
        _finite_level("middle_level_m", self.middle_level_m)
        slope_of(self.slope_rad)
        if self.bearing_rad is not None and not math.isfinite(self.bearing_rad):
            raise ValueError(f"bearing_rad = {self.bearing_rad!r} rad: accepted is a finite direction")

    def level_at_m(self, shape: Shape, x_m: Floats, y_m: Floats) -> Floats:
        x, y = self._rise(shape)
        return self.middle_level_m + math.tan(self.slope_rad) * (x_m * x + y_m * y)

    def centres(self, shape: Shape) -> Sequence[Point]:
        # No tips, but the directions that part the rising side from the falling one.
        x, y = self._rise(shape)
        return [(-y, x), (y, -x)]

    def circles(self, shape: Shape) -> Sequence[tuple[Point, float]]:
        return []

    def _rise(self, shape: Shape) -> Point:
        turn = 0.0 if self.bearing_rad is None else self.bearing_rad - shape.axis_bearing_rad
        return math.cos(turn), math.sin(turn)
