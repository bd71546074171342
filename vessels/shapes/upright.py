"""An upright round vessel: a cylinder or frustum between two heads."""

import math

import numpy as np
from numpy.typing import NDArray

from project.registry import gettext_noop
from vessels.shapes.convex import rising_root
from vessels.shapes.errors import ImpossibleShape
from vessels.shapes.heads import Head
from vessels.shapes.numbers import Floats
from vessels.shapes.outlines import ellipse_points, turned
from vessels.shapes.segments import Frustum, Segment, above, below
from vessels.shapes.shape import Point, Shape

PROBES = 513  # radii, and heights, at which heads that are pushed in are looked at for room


class Upright(Shape):
    """A cylinder or frustum with an upright axis, closed by heads that bulge outward or are pushed in.

    bottom, top        heads whose rims are the ends of the shell (m); their straight flanges lengthen it
    shell_height_m     inside height of the shell between them, straight flanges excluded (m)

    The wall is a stack of segments, and heads that are pushed in are taken from what is inside it. With a head pushed
    in the lowest (highest) inside is the ring where it meets the shell.
    Raises ImpossibleShape where heads pushed in have no room.
    """

    def __init__(self, bottom: Head, shell_height_m: float, top: Head) -> None:
        self._bottom, self._top = bottom, top
        lower_end, upper_end = below(bottom), above(top)
        flanges = bottom.straight_flange_m, top.straight_flange_m
        if bottom.radius_m == top.radius_m:
            shell: list[Segment] = [Frustum(bottom.radius_m, top.radius_m, shell_height_m + sum(flanges))]
        else:
            shell = [Frustum(bottom.radius_m, top.radius_m, shell_height_m)]
            if flanges[0]:
                shell.insert(0, Frustum(bottom.radius_m, bottom.radius_m, flanges[0]))
            if flanges[1]:
                shell.append(Frustum(top.radius_m, top.radius_m, flanges[1]))
        self._segments: tuple[Segment, ...] = (*lower_end, *shell, *upper_end)
        # Limits of the segments, from 0: one more than there are segments.
        self._floors_m = np.array([0.0, *np.cumsum([segment.height_m for segment in self._segments])])
        volumes = [float(segment.volume_below_m3(np.asarray(segment.height_m))) for segment in self._segments]
        self._volumes_m3 = np.array([0.0, *np.cumsum(volumes)])
        self._tangent_m = float(self._floors_m[len(lower_end)])
        self._top_tangent_m = float(self._floors_m[len(self._segments) - len(upper_end)])
        self._widest_m = max(max(part.lower_radius_m, part.upper_radius_m) for part in self._segments)
        self._see_to_room(shell_height_m)
        self._joints_m = self._all_joints()
        self._joint_volumes_m3 = self._volume_below(self._joints_m)

    def _see_to_room(self, shell_height_m: float) -> None:
        """Refuse heads pushed in that touch each other, the far end or the shell."""
        for head, name, upward in ((self._bottom, "bottom", True), (self._top, "top", False)):
            if not head.inward:
                continue
            radii = np.linspace(0.0, min(self._bottom.radius_m, self._top.radius_m) * (1 - 1e-9), PROBES)
            gap_m = float(np.min(self._roof_at(radii, 0 * radii) - self._bottom_at(radii, 0 * radii)))
            if gap_m <= 0:
                least_m = shell_height_m - gap_m
                raise ImpossibleShape(
                    "cylinder_height_m",
                    shell_height_m,
                    f"more than {least_m:g} m: a head that is pushed in must not meet the other end",
                )
            depths = np.linspace(0.0, head.depth_m, PROBES)
            wall = self._outer_radius(depths if upward else self.height_m - depths)
            if np.any(head.radius_at_m(depths) > wall * (1 + 1e-9)):
                narrow = f"outward: a {name} head that is pushed in would cut the shell, which narrows too fast there"
                raise ImpossibleShape(f"{name}_direction", "inward", narrow)

    def _all_joints(self) -> Floats:
        """Heights between which nothing about the section changes but smoothly, from 0 to the roof."""
        heights = set(self._floors_m.tolist())
        if self._bottom.inward:
            heights |= {self._bottom.depth_m, *self._bottom.joints_m()}
        if self._top.inward:
            heights |= {self.height_m - depth for depth in (self._top.depth_m, *self._top.joints_m())}
        return np.array(sorted(heights))

    # --- sizes ----------------------------------------------------------------------------------------------

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
        return float(self._joint_volumes_m3[-1])

    @property
    def largest_half_width_m(self) -> float:
        return self._widest_m

    @property
    def heads(self) -> tuple[Head, ...]:
        return self._bottom, self._top

    @property
    def is_round(self) -> bool:
        return True

    @property
    def has_level_roof(self) -> bool:
        return self._top.is_flat and self._top.radius_m == self._widest_m

    @property
    def method(self) -> str:
        return gettext_noop("Closed form, solids of revolution one above the other.")

    # --- level and volume -----------------------------------------------------------------------------------

    def _by_segment(self, levels: Floats) -> list[tuple[int, Segment, NDArray[np.bool_]]]:
        """For each segment that holds some of the levels: its number, itself, and a mask of those levels.

        A level on a joint belongs to the segment above it; the joint's functions agree there.
        """
        which = np.clip(np.searchsorted(self._floors_m, levels, side="right") - 1, 0, len(self._segments) - 1)
        masks = [(number, segment, which == number) for number, segment in enumerate(self._segments)]
        return [(number, segment, mask) for number, segment, mask in masks if np.any(mask)]

    def _volume_below(self, levels: Floats) -> Floats:
        volumes = np.empty_like(levels)
        for number, segment, mask in self._by_segment(levels):
            heights = np.minimum(levels[mask] - self._floors_m[number], segment.height_m)
            volumes[mask] = self._volumes_m3[number] + segment.volume_below_m3(heights)
        if self._bottom.inward:
            head = self._bottom
            volumes -= head.volume_m3 - head.volume_beyond_m3(np.minimum(levels, head.depth_m))
        if self._top.inward:
            head = self._top
            volumes -= head.volume_beyond_m3(np.minimum(self.height_m - levels, head.depth_m))
        return volumes

    def _level_for(self, volumes: Floats) -> Floats:
        last = len(self._joints_m) - 2
        which = np.clip(np.searchsorted(self._joint_volumes_m3, volumes, side="right") - 1, 0, last)
        low, high = self._joints_m[which], self._joints_m[which + 1]
        return rising_root(self._volume_below, self._area_at, volumes, low, high)

    def _outer_radius(self, levels: Floats) -> Floats:
        radii = np.empty_like(levels)
        for number, segment, mask in self._by_segment(levels):
            heights = np.minimum(levels[mask] - self._floors_m[number], segment.height_m)
            radii[mask] = segment.radius_m(heights)
        return radii

    def _inner_radii(self, levels: Floats) -> list[Floats]:
        """Radius of each head that is pushed in, at each level; 0 where it does not reach."""
        found = []
        for head, depths in ((self._bottom, levels), (self._top, self.height_m - levels)):
            if head.inward:
                radii = head.radius_at_m(np.minimum(depths, head.depth_m))
                found.append(np.where(depths < head.depth_m, radii, 0.0))
        return found

    def _area_at(self, levels: Floats) -> Floats:
        squares = self._outer_radius(levels) ** 2
        for radii in self._inner_radii(levels):
            squares = squares - radii * radii
        return np.asarray(math.pi * np.maximum(squares, 0.0))

    def _half_width_at(self, levels: Floats) -> Floats:
        return self._outer_radius(levels)

    # --- places in plan -------------------------------------------------------------------------------------

    def _reach(self, along: float, across: float) -> float:
        return self._widest_m

    def _bottom_at(self, x_m: Floats, y_m: Floats) -> Floats:
        radii = np.hypot(x_m, y_m)
        heights = np.zeros_like(radii)
        for floor, segment in zip(self._floors_m, self._segments, strict=False):
            mask = (radii > segment.lower_radius_m) & (radii <= segment.upper_radius_m)
            heights[mask] = floor + segment.height_at_m(radii[mask])
        if self._bottom.inward:
            mask = radii <= self._bottom.radius_m
            heights[mask] = self._bottom.depth_at_m(radii[mask])
        return heights

    def _roof_at(self, x_m: Floats, y_m: Floats) -> Floats:
        radii = np.hypot(x_m, y_m)
        heights = np.full_like(radii, self.height_m)
        for floor, segment in zip(self._floors_m, self._segments, strict=False):
            mask = (radii <= segment.lower_radius_m) & (radii > segment.upper_radius_m)
            heights[mask] = floor + segment.height_at_m(radii[mask])
        if self._top.inward:
            mask = radii <= self._top.radius_m
            heights[mask] = self.height_m - self._top.depth_at_m(radii[mask])
        return heights

    def _wall_distance(self, levels: Floats, x_m: float, y_m: float) -> Floats:
        radius = math.hypot(x_m, y_m)
        distances = self._outer_radius(levels) - radius
        for radii in self._inner_radii(levels):
            distances = np.where(radii > 0, np.minimum(distances, radius - radii), distances)
        return distances

    # --- drawing --------------------------------------------------------------------------------------------

    def elevation_outline(self) -> list[Point]:
        right: list[Point] = []
        if self._bottom.inward:
            right += self._bottom.outline()
        for number, segment in enumerate(self._segments):
            floor, ceiling = float(self._floors_m[number]), float(self._floors_m[number + 1])
            *points, last = segment.outline()
            right += [(radius, floor + height) for radius, height in points]
            right.append((last[0], ceiling))
        if self._top.inward:
            right += [(radius, self.height_m - depth) for radius, depth in reversed(self._top.outline())]
        # Where one piece ends the next begins.
        once = [point for number, point in enumerate(right) if number == 0 or point != right[number - 1]]
        return turned(once)

    def elevation_lines(self) -> list[tuple[Point, Point]]:
        """Tangent lines, welds of straight flanges, and the ends of a frustum."""
        floor, ceiling = self._tangent_m, self._top_tangent_m
        heights = {floor, floor + self._bottom.straight_flange_m, ceiling - self._top.straight_flange_m, ceiling}
        lines: list[tuple[Point, Point]] = []
        for height in sorted(heights):
            if not 0 < height < self.height_m:
                continue
            at = np.array([height])
            outer = float(self._outer_radius(at)[0])
            inner = max((float(radii[0]) for radii in self._inner_radii(at)), default=0.0)
            if inner > 0:
                lines += [((-outer, height), (-inner, height)), ((inner, height), (outer, height))]
            else:
                lines.append(((-outer, height), (outer, height)))
        return lines

    def plan_outline(self) -> list[Point]:
        return ellipse_points(self._widest_m, self._widest_m)
