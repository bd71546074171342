"""A sphere."""

import math

import numpy as np

from vessels.shapes.ball import cap_depth, cap_volume
from vessels.shapes.circle import half_chord
from vessels.shapes.numbers import FloatOrArray, Floats, as_given, positive_length, within
from vessels.shapes.segments import quarter_circle
from vessels.shapes.shape import Point, Shape


class Sphere(Shape):
    """A sphere. Source: the cap of a ball; see `ball`."""

    def __init__(self, diameter_m: float | None) -> None:
        self._radius_m = positive_length("diameter_m", diameter_m) / 2

    @property
    def height_m(self) -> float:
        return 2 * self._radius_m

    @property
    def tangent_height_m(self) -> float:
        return 0.0

    @property
    def top_tangent_height_m(self) -> float:
        return self.height_m

    @property
    def total_volume_m3(self) -> float:
        return 4 * math.pi / 3 * self._radius_m**3

    @property
    def largest_half_width_m(self) -> float:
        return self._radius_m

    @property
    def largest_radius_m(self) -> float:
        return self._radius_m

    @property
    def has_level_roof(self) -> bool:
        return False

    def volume_m3(self, level_m: FloatOrArray) -> FloatOrArray:
        levels = within("level_m", level_m, self.height_m, "m")
        return as_given(level_m, cap_volume(levels, self._radius_m))

    def level_m(self, volume_m3: FloatOrArray) -> FloatOrArray:
        volumes = within("volume_m3", volume_m3, self.total_volume_m3, "m³")
        return as_given(volume_m3, cap_depth(volumes, self._radius_m))

    def half_width_m(self, level_m: FloatOrArray) -> FloatOrArray:
        return as_given(level_m, half_chord(within("level_m", level_m, self.height_m, "m"), self._radius_m))

    def surface_area_m2(self, level_m: FloatOrArray) -> FloatOrArray:
        half_widths = self.half_width_m(level_m)
        return math.pi * half_widths * half_widths

    def bottom_elevation_m(self, radius_m: FloatOrArray) -> FloatOrArray:
        return as_given(radius_m, self._radius_m - self._half_height_m(radius_m))

    def roof_elevation_m(self, radius_m: FloatOrArray) -> FloatOrArray:
        return as_given(radius_m, self._radius_m + self._half_height_m(radius_m))

    def _half_height_m(self, radius_m: float | Floats) -> Floats:
        """Height above the equator at which the wall has a radius."""
        radii = within("radius_m", radius_m, self.largest_radius_m, "m")
        return np.sqrt(self._radius_m * self._radius_m - radii * radii)

    def profile(self) -> list[Point]:
        lower = quarter_circle(self._radius_m)
        upper = [(radius, self.height_m - height) for radius, height in reversed(lower)]
        return [*lower, *upper[1:]]
