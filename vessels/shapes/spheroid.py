"""A spheroid that stands on one of its poles; a sphere where its height is its diameter."""

import math

import numpy as np

from project.registry import gettext_noop
from vessels.shapes.ball import cap_depth, cap_volume
from vessels.shapes.circle import half_chord
from vessels.shapes.numbers import Floats, positive_length
from vessels.shapes.outlines import ellipse_points
from vessels.shapes.shape import Point, Shape


class Spheroid(Shape):
    """A spheroid with an upright axis.

    diameter_m        inside diameter at the equator (m)
    section_height_m  inside height between the poles (m); None for a sphere

    Source: the cap of a ball of that height, stretched sideways; see `ball`.
    """

    def __init__(self, diameter_m: float | None, section_height_m: float | None = None) -> None:
        self._radius_m = positive_length("diameter_m", diameter_m) / 2
        self._half_height_m = self._radius_m
        if section_height_m is not None:
            self._half_height_m = positive_length("section_height_m", section_height_m) / 2
        self._stretch = self._radius_m / self._half_height_m

    @property
    def height_m(self) -> float:
        return 2 * self._half_height_m

    @property
    def tangent_height_m(self) -> float:
        return 0.0

    @property
    def top_tangent_height_m(self) -> float:
        return self.height_m

    @property
    def total_volume_m3(self) -> float:
        return self._stretch**2 * (4 * math.pi / 3 * self._half_height_m**3)

    @property
    def largest_half_width_m(self) -> float:
        return self._radius_m

    @property
    def is_round(self) -> bool:
        return True

    @property
    def has_level_roof(self) -> bool:
        return False

    @property
    def method(self) -> str:
        return gettext_noop("Closed form, cap of a ball or spheroid.")

    def _volume_below(self, levels: Floats) -> Floats:
        return np.asarray(self._stretch**2 * cap_volume(levels, self._half_height_m))

    def _level_for(self, volumes: Floats) -> Floats:
        return cap_depth(volumes / self._stretch**2, self._half_height_m)

    def _area_at(self, levels: Floats) -> Floats:
        return np.asarray(math.pi * self._half_width_at(levels) ** 2)

    def _half_width_at(self, levels: Floats) -> Floats:
        return np.asarray(self._stretch * half_chord(levels, self._half_height_m))

    def _reach(self, along: float, across: float) -> float:
        return self._radius_m

    def _above_equator(self, x_m: Floats, y_m: Floats) -> Floats:
        radii = np.hypot(x_m, y_m)
        return np.sqrt(np.maximum((self._radius_m - radii) * (self._radius_m + radii), 0.0)) / self._stretch

    def _bottom_at(self, x_m: Floats, y_m: Floats) -> Floats:
        return np.asarray(self._half_height_m - self._above_equator(x_m, y_m))

    def _roof_at(self, x_m: Floats, y_m: Floats) -> Floats:
        return np.asarray(self._half_height_m + self._above_equator(x_m, y_m))

    def _wall_distance(self, levels: Floats, x_m: float, y_m: float) -> Floats:
        return np.asarray(self._half_width_at(levels) - math.hypot(x_m, y_m))

    def elevation_outline(self) -> list[Point]:
        return ellipse_points(self._radius_m, self._half_height_m, self._half_height_m)

    def plan_outline(self) -> list[Point]:
        return ellipse_points(self._radius_m, self._radius_m)
