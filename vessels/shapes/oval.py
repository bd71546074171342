"""An upright vessel of elliptical plan, and the distance from a place to an ellipse."""

import math

import numpy as np

from project.registry import gettext_noop
from vessels.shapes.numbers import Floats, positive_length
from vessels.shapes.outlines import ellipse_points
from vessels.shapes.shape import Point, Shape

HALVINGS = 200  # of a bracket; each adds a binary digit, and none is left to add long before
ON_AXIS = 1e-12  # of the lesser half axis; nearer to the long axis than that is on it


class VerticalOval(Shape):
    """An upright vessel of elliptical plan with level bottom and roof. Source: π/4·length·width·level."""

    def __init__(self, box_length_m: float | None, box_width_m: float | None, cylinder_height_m: float | None) -> None:
        self._half_length_m = positive_length("box_length_m", box_length_m) / 2
        self._half_oval_width_m = positive_length("box_width_m", box_width_m) / 2
        self._height_m = positive_length("cylinder_height_m", cylinder_height_m)

    @property
    def height_m(self) -> float:
        return self._height_m

    @property
    def tangent_height_m(self) -> float:
        return 0.0

    @property
    def top_tangent_height_m(self) -> float:
        return self._height_m

    @property
    def total_volume_m3(self) -> float:
        return self._plan_m2 * self._height_m

    @property
    def largest_half_width_m(self) -> float:
        return min(self._half_length_m, self._half_oval_width_m)

    @property
    def is_round(self) -> bool:
        return False

    @property
    def has_level_roof(self) -> bool:
        return True

    @property
    def method(self) -> str:
        return gettext_noop("Closed form, area of an ellipse times level.")

    @property
    def _plan_m2(self) -> float:
        return math.pi * self._half_length_m * self._half_oval_width_m

    def _volume_below(self, levels: Floats) -> Floats:
        return np.asarray(self._plan_m2 * levels)

    def _level_for(self, volumes: Floats) -> Floats:
        return np.asarray(volumes / self._plan_m2)

    def _area_at(self, levels: Floats) -> Floats:
        return np.full_like(levels, self._plan_m2)

    def _half_width_at(self, levels: Floats) -> Floats:
        return np.full_like(levels, self.largest_half_width_m)

    def _reach(self, along: float, across: float) -> float:
        return 1 / math.hypot(along / self._half_length_m, across / self._half_oval_width_m)

    def _bottom_at(self, x_m: Floats, y_m: Floats) -> Floats:
        return np.zeros_like(x_m)

    def _roof_at(self, x_m: Floats, y_m: Floats) -> Floats:
        return np.full_like(x_m, self._height_m)

    def _wall_distance(self, levels: Floats, x_m: float, y_m: float) -> Floats:
        return np.full_like(levels, distance_to_ellipse(self._half_length_m, self._half_oval_width_m, x_m, y_m))

    def elevation_outline(self) -> list[Point]:
        half, top = self._half_length_m, self._height_m
        return [(-half, 0.0), (half, 0.0), (half, top), (-half, top)]

    def plan_outline(self) -> list[Point]:
        return ellipse_points(self._half_length_m, self._half_oval_width_m)


def distance_to_ellipse(half_length_m: float, half_width_m: float, x_m: float, y_m: float) -> float:
    """Distance (m) from a place inside an ellipse to its nearest point; below 0 for a place outside.

    half_length_m, half_width_m  half axes along x and y (m), in any order
    x_m, y_m                     the place from the centre (m)

    Good to rounding. Source: the foot (p²·x/(t + p²), q²·y/(t + q²)) of the perpendicular lies on the ellipse for one
    t ≥ −q², with the lesser half axis q; elementary geometry, found by halving.
    """
    along, across = (abs(x_m), abs(y_m)) if half_length_m >= half_width_m else (abs(y_m), abs(x_m))
    large, small = max(half_length_m, half_width_m), min(half_length_m, half_width_m)
    # In half axes of the small one, so that nothing over- or underflows: u = t/q² + 1, from 0 on.
    stretch, x, y = large / small, along / small, across / small

    def beyond(shift: float) -> float:
        return (stretch * x / (shift + stretch * stretch - 1)) ** 2 + (y / shift) ** 2 - 1

    if y < ON_AXIS:
        gap = stretch * stretch - 1
        if stretch * x < gap:  # nearest above the axis, not at its end
            foot_x = stretch * stretch * x / gap
            foot_y = math.sqrt(max(1 - (foot_x / stretch) ** 2, 0.0))
            return small * math.hypot(foot_x - x, foot_y)
        return small * (stretch - x)
    low, high = y, math.hypot(stretch * x, y) + 1.0  # at the first the last term alone is 1, at the second less than 1
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if beyond(middle) > 0:
            low = middle
        else:
            high = middle
    shift = (low + high) / 2
    foot_x, foot_y = stretch * stretch * x / (shift + stretch * stretch - 1), y / shift
    inside = (x / stretch) ** 2 + y * y <= 1
    return small * math.hypot(foot_x - x, foot_y - y) * (1 if inside else -1)
