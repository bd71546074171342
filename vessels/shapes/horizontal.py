"""A cylinder that lies level, closed by flat ends."""

import math

from vessels.shapes.circle import half_chord, segment_area, segment_depth
from vessels.shapes.numbers import FloatOrArray, as_given, positive_length, within
from vessels.shapes.prism import Prism


class HorizontalCylinder(Prism):
    """A horizontal cylinder with flat ends; its lowest inside point is the invert.

    Validity: level axis. Curved ends would each add their own volume and area at a level; the level would then follow
    from the sum, by the same method as here (`convex.convex_root` up to half full).
    Source: segment of a circle times length; see `circle`.
    """

    def __init__(self, diameter_m: float | None, cylinder_length_m: float | None) -> None:
        self._radius_m = positive_length("diameter_m", diameter_m) / 2
        super().__init__("cylinder_length_m", cylinder_length_m, 2 * self._radius_m)

    @property
    def total_volume_m3(self) -> float:
        return math.pi * self._radius_m * self._radius_m * self._length_m

    @property
    def largest_half_width_m(self) -> float:
        return self._radius_m

    def volume_m3(self, level_m: FloatOrArray) -> FloatOrArray:
        levels = within("level_m", level_m, self.height_m, "m")
        return as_given(level_m, segment_area(levels, self._radius_m) * self._length_m)

    def level_m(self, volume_m3: FloatOrArray) -> FloatOrArray:
        volumes = within("volume_m3", volume_m3, self.total_volume_m3, "m³")
        return as_given(volume_m3, segment_depth(volumes / self._length_m, self._radius_m))

    def half_width_m(self, level_m: FloatOrArray) -> FloatOrArray:
        return as_given(level_m, half_chord(within("level_m", level_m, self.height_m, "m"), self._radius_m))

    def surface_area_m2(self, level_m: FloatOrArray) -> FloatOrArray:
        return 2 * self._length_m * self.half_width_m(level_m)
