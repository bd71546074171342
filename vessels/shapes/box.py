"""A rectangular vessel with a flat bottom: a sump, a pit, a box."""

from vessels.shapes.numbers import FloatOrArray, as_given, positive_length, within
from vessels.shapes.prism import Prism


class Box(Prism):
    """An upright rectangular vessel with level bottom and roof. Source: length times width times level."""

    def __init__(self, box_length_m: float | None, box_width_m: float | None, cylinder_height_m: float | None) -> None:
        super().__init__("box_length_m", box_length_m, positive_length("cylinder_height_m", cylinder_height_m))
        self._width_m = positive_length("box_width_m", box_width_m)

    @property
    def total_volume_m3(self) -> float:
        return self._length_m * self._width_m * self.height_m

    @property
    def largest_half_width_m(self) -> float:
        return min(self._length_m, self._width_m) / 2

    def volume_m3(self, level_m: FloatOrArray) -> FloatOrArray:
        levels = within("level_m", level_m, self.height_m, "m")
        return as_given(level_m, self._length_m * self._width_m * levels)

    def level_m(self, volume_m3: FloatOrArray) -> FloatOrArray:
        volumes = within("volume_m3", volume_m3, self.total_volume_m3, "m³")
        return as_given(volume_m3, volumes / (self._length_m * self._width_m))

    def half_width_m(self, level_m: FloatOrArray) -> FloatOrArray:
        levels = within("level_m", level_m, self.height_m, "m")
        return as_given(level_m, 0.0 * levels + self.largest_half_width_m)

    def surface_area_m2(self, level_m: FloatOrArray) -> FloatOrArray:
        levels = within("level_m", level_m, self.height_m, "m")
        return as_given(level_m, 0.0 * levels + self._length_m * self._width_m)
