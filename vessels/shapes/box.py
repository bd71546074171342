"""A rectangular vessel: a sump, a pit, a box; a silo with a hopper that has four sides or two."""

from dataclasses import dataclass

import numpy as np

from project.registry import gettext_noop
from vessels.shapes.convex import convex_root
from vessels.shapes.errors import ImpossibleShape
from vessels.shapes.numbers import Floats, positive_length
from vessels.shapes.shape import Point, Shape


@dataclass(frozen=True, slots=True)
class Hopper:
    """A hopper below a box, from a level rectangular outlet up to the box.

    depth_m          from the box down to the outlet
    outlet_length_m  along the length of the box
    outlet_width_m   across it; None for a slot over its full width (a wedge)
    """

    depth_m: float | None
    outlet_length_m: float | None
    outlet_width_m: float | None = None


class Box(Shape):
    """An upright rectangular vessel with a level roof, and a level bottom or a hopper.

    Source: length times width times level; a hopper is a prismatoid, V = h/6·(S₀ + 4·S½ + S₁) with the areas of its
    outlet, its middle and its top, whatever the proportions of its outlet.
    """

    def __init__(
        self,
        box_length_m: float | None,
        box_width_m: float | None,
        cylinder_height_m: float | None,
        hopper: Hopper | None = None,
    ) -> None:
        self._length_m = positive_length("box_length_m", box_length_m)
        self._width_m = positive_length("box_width_m", box_width_m)
        self._box_height_m = positive_length("cylinder_height_m", cylinder_height_m)
        self._hopper_m, self._outlet_length_m, self._outlet_width_m = 0.0, self._length_m, self._width_m
        if hopper is not None:
            self._hopper_m = positive_length("bottom_depth_m", hopper.depth_m)
            self._outlet_length_m = _outlet("length", hopper.outlet_length_m, self._length_m)
            if hopper.outlet_width_m is not None:
                self._outlet_width_m = _outlet("width", hopper.outlet_width_m, self._width_m)

    @property
    def height_m(self) -> float:
        return self._hopper_m + self._box_height_m

    @property
    def tangent_height_m(self) -> float:
        return self._hopper_m

    @property
    def top_tangent_height_m(self) -> float:
        return self.height_m

    @property
    def total_volume_m3(self) -> float:
        return float(self._hopper_volume(np.asarray(self._hopper_m))) + self._plan_m2 * self._box_height_m

    @property
    def largest_half_width_m(self) -> float:
        return min(self._length_m, self._width_m) / 2

    @property
    def is_round(self) -> bool:
        return False

    @property
    def has_level_roof(self) -> bool:
        return True

    @property
    def method(self) -> str:
        if self._hopper_m:
            return gettext_noop("Closed form, prismatoid for the hopper and length times width times level above it.")
        return gettext_noop("Closed form, length times width times level.")

    @property
    def _plan_m2(self) -> float:
        return self._length_m * self._width_m

    def _sides(self, levels: Floats) -> tuple[Floats, Floats]:
        """Length and width of the section at each level."""
        if not self._hopper_m:
            return np.full_like(levels, self._length_m), np.full_like(levels, self._width_m)
        share = np.minimum(levels / self._hopper_m, 1.0)
        lengths = self._outlet_length_m * (1 - share) + self._length_m * share
        return lengths, self._outlet_width_m * (1 - share) + self._width_m * share

    def _hopper_volume(self, heights: Floats) -> Floats:
        """Volume in the hopper up to a height within it."""
        lengths, widths = self._sides(heights)
        low_length, low_width = self._outlet_length_m, self._outlet_width_m
        areas = low_length * low_width + (low_length + lengths) * (low_width + widths) + lengths * widths
        return np.asarray(heights / 6 * areas)

    def _volume_below(self, levels: Floats) -> Floats:
        in_hopper = np.minimum(levels, self._hopper_m)
        return np.asarray(self._hopper_volume(in_hopper) + self._plan_m2 * (levels - in_hopper))

    def _level_for(self, volumes: Floats) -> Floats:
        whole = float(self._hopper_volume(np.asarray(self._hopper_m)))
        in_hopper = np.minimum(volumes, whole)
        above = (volumes - in_hopper) / self._plan_m2
        if not self._hopper_m:
            return np.asarray(above)
        start = in_hopper / whole * self._hopper_m
        # Below the end of the hopper only: a sum of rounded areas may ask for a trifle more than it holds.
        heights = convex_root(self._hopper_volume, self._area_at, in_hopper, start, self._hopper_m)
        return np.asarray(np.where(volumes >= whole, self._hopper_m, heights) + above)

    def _area_at(self, levels: Floats) -> Floats:
        lengths, widths = self._sides(levels)
        return np.asarray(lengths * widths)

    def _half_width_at(self, levels: Floats) -> Floats:
        return np.asarray(np.minimum(*self._sides(levels)) / 2)

    def _reach(self, along: float, across: float) -> float:
        # Written so that a direction within rounding of one side does not divide by nothing.
        half_length, half_width = self._length_m / 2, self._width_m / 2
        if abs(along) * half_width >= abs(across) * half_length:
            return half_length / abs(along)
        return half_width / abs(across)

    def _bottom_at(self, x_m: Floats, y_m: Floats) -> Floats:
        bottom = np.zeros_like(x_m)
        for places, outlet, whole in (
            (x_m, self._outlet_length_m, self._length_m),
            (y_m, self._outlet_width_m, self._width_m),
        ):
            if outlet < whole:
                share = (2 * np.abs(places) - outlet) / (whole - outlet)
                bottom = np.maximum(bottom, np.clip(share, 0.0, 1.0) * self._hopper_m)
        return bottom

    def _roof_at(self, x_m: Floats, y_m: Floats) -> Floats:
        return np.full_like(x_m, self.height_m)

    def _wall_distance(self, levels: Floats, x_m: float, y_m: float) -> Floats:
        lengths, widths = self._sides(levels)
        return np.minimum(lengths / 2 - abs(x_m), widths / 2 - abs(y_m))

    def elevation_outline(self) -> list[Point]:
        half, outlet = self._length_m / 2, self._outlet_length_m / 2
        if not self._hopper_m:
            return [(-half, 0.0), (half, 0.0), (half, self.height_m), (-half, self.height_m)]
        right = [(outlet, 0.0), (half, self._hopper_m), (half, self.height_m)]
        return [(-outlet, 0.0), *right, (-half, self.height_m), (-half, self._hopper_m)]

    def elevation_lines(self) -> list[tuple[Point, Point]]:
        if not self._hopper_m:
            return []
        return [((-self._length_m / 2, self._hopper_m), (self._length_m / 2, self._hopper_m))]

    def plan_outline(self) -> list[Point]:
        half_length, half_width = self._length_m / 2, self._width_m / 2
        corners = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
        return [(along * half_length, across * half_width) for along, across in corners]


def _outlet(side: str, outlet_m: float | None, box_m: float) -> float:
    name = f"outlet_{side}_m"
    outlet = positive_length(name, outlet_m)
    if outlet >= box_m:
        raise ImpossibleShape(name, outlet, f"less than the inside {side} of the vessel, {box_m:g} m")
    return outlet
