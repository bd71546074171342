"""A vertical vessel: segments one above the other."""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from vessels.shapes.errors import ImpossibleShape
from vessels.shapes.numbers import FloatOrArray, Floats, as_given, within
from vessels.shapes.segments import Segment
from vessels.shapes.shape import Point, Shape


class VerticalStack(Shape):
    """Segments from the lowest inside point up: those of the bottom end, the body, those of the top end.

    Validity: the inside radius grows through the bottom end, does not change through the body and shrinks through the
    top end, so that bottom and roof have one height at each radius. A flat end is no segment; it is the plane in which
    the next segment begins.

    Raises ImpossibleShape where neighbours do not fit together.
    """

    def __init__(self, bottom: Sequence[Segment], body: Sequence[Segment], top: Sequence[Segment] = ()) -> None:
        self._segments: tuple[Segment, ...] = (*bottom, *body, *top)
        self._bottom_count, self._top_count = len(bottom), len(top)
        if not body:
            raise ImpossibleShape("body", (), "at least one segment between the ends")
        for lower, upper in zip(self._segments, self._segments[1:], strict=False):
            if lower.outline()[-1][0] != upper.outline()[0][0]:
                raise ImpossibleShape("segments", (lower, upper), "segments of equal radius where they join")
        # Limits of the segments, from 0: one more than there are segments.
        self._floors_m = np.array([0.0, *np.cumsum([segment.height_m for segment in self._segments])])
        self._volumes_m3 = np.array([0.0, *np.cumsum([segment.volume_m3 for segment in self._segments])])
        self._tangent_m = float(self._floors_m[len(bottom)])
        self._top_tangent_m = float(self._floors_m[len(bottom) + len(body)])
        self._outline = tuple(self._walk())

    def _walk(self) -> list[Point]:
        """Outline from the lowest segment up, without the points on the axis that flat ends need."""
        points: list[Point] = []
        for floor, segment in zip(self._floors_m, self._segments, strict=False):
            for radius, height in segment.outline():
                point = (radius, float(floor) + height)
                if not points or points[-1] != point:
                    points.append(point)
        # The last point is the roof itself; the sum of heights may differ from it in the last digit.
        points[-1] = (points[-1][0], self.height_m)
        return points

    @property
    def height_m(self) -> float:
        return float(self._floors_m[-1])

    @property
    def tangent_height_m(self) -> float:
        return self._tangent_m

    @property
    def top_tangent_height_m(self) -> float:
        return self._top_tangent_m

    @property
    def total_volume_m3(self) -> float:
        return float(self._volumes_m3[-1])

    @property
    def largest_half_width_m(self) -> float:
        return max(radius for radius, _ in self._outline)

    def _by_segment(self, values: Floats, limits: Floats) -> list[tuple[int, Segment, NDArray[np.bool_]]]:
        """For each segment that holds some of the values: its number, itself, and a mask of those values.

        A value on a joint belongs to the segment above it; the joint's functions agree there.
        """
        which = np.clip(np.searchsorted(limits, values, side="right") - 1, 0, len(self._segments) - 1)
        masks = [(number, segment, which == number) for number, segment in enumerate(self._segments)]
        return [(number, segment, mask) for number, segment, mask in masks if np.any(mask)]

    def volume_m3(self, level_m: FloatOrArray) -> FloatOrArray:
        levels = within("level_m", level_m, self.height_m, "m")
        volumes = np.empty_like(levels)
        for number, segment, mask in self._by_segment(levels, self._floors_m):
            heights = np.minimum(levels[mask] - self._floors_m[number], segment.height_m)
            volumes[mask] = self._volumes_m3[number] + segment.volume_below_m3(heights)
        return as_given(level_m, volumes)

    def level_m(self, volume_m3: FloatOrArray) -> FloatOrArray:
        volumes = within("volume_m3", volume_m3, self.total_volume_m3, "m³")
        levels = np.empty_like(volumes)
        for number, segment, mask in self._by_segment(volumes, self._volumes_m3):
            parts = np.minimum(volumes[mask] - self._volumes_m3[number], segment.volume_m3)
            levels[mask] = self._floors_m[number] + segment.height_for_m(parts)
        return as_given(volume_m3, levels)

    def half_width_m(self, level_m: FloatOrArray) -> FloatOrArray:
        levels = within("level_m", level_m, self.height_m, "m")
        radii = np.empty_like(levels)
        for number, segment, mask in self._by_segment(levels, self._floors_m):
            heights = np.minimum(levels[mask] - self._floors_m[number], segment.height_m)
            radii[mask] = segment.radius_m(heights)
        return as_given(level_m, radii)

    def surface_area_m2(self, level_m: FloatOrArray) -> FloatOrArray:
        half_widths = self.half_width_m(level_m)
        return math.pi * half_widths * half_widths

    @property
    def largest_radius_m(self) -> float:
        return self.largest_half_width_m

    @property
    def has_level_roof(self) -> bool:
        return self._top_count == 0

    def bottom_elevation_m(self, radius_m: FloatOrArray) -> FloatOrArray:
        radii = within("radius_m", radius_m, self.largest_radius_m, "m")
        return as_given(radius_m, self._on_end(radii, range(self._bottom_count), 0.0))

    def roof_elevation_m(self, radius_m: FloatOrArray) -> FloatOrArray:
        radii = within("radius_m", radius_m, self.largest_radius_m, "m")
        count = len(self._segments)
        return as_given(radius_m, self._on_end(radii, range(count - self._top_count, count), self.height_m))

    def _on_end(self, radii: Floats, numbers: range, flat_m: float) -> Floats:
        """Height of an end's wall at each radius; that of its flat part where no segment reaches so far inward."""
        heights = np.full_like(radii, flat_m)
        for number in numbers:
            segment = self._segments[number]
            ends = segment.outline()[0][0], segment.outline()[-1][0]
            mask = (radii >= min(ends)) & (radii <= max(ends))
            heights[mask] = self._floors_m[number] + segment.height_at_m(radii[mask])
        return heights

    def profile(self) -> list[Point]:
        points = list(self._outline)
        if points[0][0] > 0:
            points.insert(0, (0.0, points[0][1]))
        if points[-1][0] > 0:
            points.append((0.0, points[-1][1]))
        return points
