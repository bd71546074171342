"""What a horizontal cylinder and a box have in common: the same cross-section all along a level length."""

from vessels.shapes.numbers import FloatOrArray, as_given, positive_length, within
from vessels.shapes.shape import Point, Shape


class Prism(Shape):
    """A vessel of one cross-section along its length, with upright flat ends.

    Seen from its side it is a rectangle, with one bottom and one roof at every radius along the middle.
    """

    def __init__(self, length_name: str, length_m: float | None, height_m: float) -> None:
        self._length_m = positive_length(length_name, length_m)
        self._height_m = height_m

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
    def largest_radius_m(self) -> float:
        return self._length_m / 2

    @property
    def has_level_roof(self) -> bool:
        return True

    def bottom_elevation_m(self, radius_m: FloatOrArray) -> FloatOrArray:
        return as_given(radius_m, 0.0 * within("radius_m", radius_m, self.largest_radius_m, "m"))

    def roof_elevation_m(self, radius_m: FloatOrArray) -> FloatOrArray:
        return self.bottom_elevation_m(radius_m) + self._height_m

    def profile(self) -> list[Point]:
        half_m = self.largest_radius_m
        return [(0.0, 0.0), (half_m, 0.0), (half_m, self._height_m), (0.0, self._height_m)]
