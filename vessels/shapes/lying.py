"""Lying vessels: a cylinder of circular or oval section on its side, closed by two heads, level or tilted."""

import math
from functools import lru_cache

import numpy as np

from project.registry import gettext_noop
from vessels.shapes.circle import half_chord, segment_area, segment_depth
from vessels.shapes.errors import ImpossibleShape
from vessels.shapes.heads import Head
from vessels.shapes.lying_geometry import LyingGeometry
from vessels.shapes.lying_outline import elevation_lines, elevation_outline, section_outline
from vessels.shapes.lying_places import least_at, reach_m, vertical_extent_m, wall_distance_m
from vessels.shapes.lying_table import HalfTable, LevelTable
from vessels.shapes.numbers import NOISE, Floats, positive_length
from vessels.shapes.shape import Point, Shape

STEEPEST_RAD = math.pi / 4  # beyond, the heads would rather be bottom and top
PROBES = 400  # radii at which heads that are pushed in are held against the other end
LEVELS = 257  # looked at first for the greatest section


class LyingVessel(Shape):
    """A cylinder on its side with any two heads, each bulging outward or pushed in.

    geometry     of a circular section, level or tilted; see `lying_cylinder` and `lying_oval`
    width_ratio  by how much the section and the heads are stretched across; 1 for a circle

    Its lowest inside point is level 0: the shell's lowest line where it lies level, else the low end's rim or head.
    Volumes and surfaces are read from a table, made at first use by integration of cross-sections and good to a
    relative 1e-9 (1e-12 m³ nearly empty); two flat ends on a level shell have a closed form.

    Validity: a rigid shell with heads of revolution (or stretched ones); gas under the shell's high line beside a head
    that is pushed in counts as filled, as if it were vented.
    Source: segments of circles integrated along the axis, see `lying_pieces`; tested against D. Jones, "Calculating
    Tank Volume", and numerical integration by other methods.
    """

    def __init__(self, geometry: LyingGeometry, width_ratio: float = 1.0) -> None:
        self._geometry = geometry
        self._ratio = width_ratio
        self._is_plain = geometry.is_level and geometry.first.is_flat and geometry.second.is_flat
        _see_to_room(geometry)

    # --- sizes ----------------------------------------------------------------------------------------------

    @property
    def height_m(self) -> float:
        return self._geometry.height_m

    @property
    def tangent_height_m(self) -> float:
        return 0.0

    @property
    def top_tangent_height_m(self) -> float:
        return self.height_m

    @property
    def total_volume_m3(self) -> float:
        if self._is_plain:
            return math.pi * self._geometry.radius_m * self._geometry.radius_m * self._stretched_length_m
        return self._ratio * self._geometry.total_volume_m3

    @property
    def _stretched_length_m(self) -> float:
        """Length of a circular drum of the same height that holds as much."""
        return self._geometry.shell_m * self._ratio

    @property
    def largest_half_width_m(self) -> float:
        return self._ratio * self._geometry.radius_m

    @property
    def is_round(self) -> bool:
        return False

    @property
    def heads(self) -> tuple[Head, ...]:
        return self._geometry.first, self._geometry.second

    @property
    def has_level_roof(self) -> bool:
        return False

    @property
    def method(self) -> str:
        if self._is_plain and self._ratio == 1:
            return gettext_noop("Closed form, circle segment times length.")
        if self._is_plain:
            return gettext_noop("Closed form, ellipse segment times length.")
        if self._ratio == 1:
            return gettext_noop("Numerical integration of cross-sections along the axis, relative error below 1e-9.")
        return gettext_noop(
            "Numerical integration of cross-sections along the axis, stretched from a circle to the oval, relative "
            "error below 1e-9."
        )

    # --- level and volume -----------------------------------------------------------------------------------

    def _volume_below(self, levels: Floats) -> Floats:
        if self._is_plain:
            return segment_area(levels, self._geometry.radius_m) * self._stretched_length_m
        return self._ratio * _level_table(self._geometry).volume_m3(levels)

    def _level_for(self, volumes: Floats) -> Floats:
        if self._is_plain:
            return segment_depth(volumes / self._stretched_length_m, self._geometry.radius_m)
        return _level_table(self._geometry).level_m(volumes / self._ratio)

    def _area_at(self, levels: Floats) -> Floats:
        if self._is_plain:
            return half_chord(levels, self._geometry.radius_m) * (2 * self._stretched_length_m)
        return self._ratio * _level_table(self._geometry).area_m2(levels)

    def _half_width_at(self, levels: Floats) -> Floats:
        """Half the chord across the axis at mid-length; 0 where a tilted vessel's wall lies above or below it there."""
        geometry = self._geometry
        if geometry.is_level:
            return half_chord(levels, geometry.radius_m) * self._ratio
        heights = levels + geometry.lowest_m
        along, up = heights * geometry.sine, np.abs(heights * geometry.cosine)
        inside = (along >= geometry.hull_from_m) & (along <= geometry.hull_to_m)
        radii = np.where(inside, geometry.hull_radius_m(along), 0.0)
        return np.sqrt(np.maximum((radii - up) * (radii + up), 0.0)) * self._ratio

    # --- places in plan -------------------------------------------------------------------------------------

    def _reach(self, along: float, across: float) -> float:
        return reach_m(self._geometry, self._ratio, along, across)

    def _bottom_at(self, x_m: Floats, y_m: Floats) -> Floats:
        return vertical_extent_m(self._geometry, x_m, y_m / self._ratio)[0]

    def _roof_at(self, x_m: Floats, y_m: Floats) -> Floats:
        return vertical_extent_m(self._geometry, x_m, y_m / self._ratio)[1]

    def _wall_distance(self, levels: Floats, x_m: float, y_m: float) -> Floats:
        return np.array([wall_distance_m(self._geometry, self._ratio, float(level), x_m, y_m) for level in levels])

    # --- drawing --------------------------------------------------------------------------------------------

    def elevation_outline(self) -> list[Point]:
        return elevation_outline(self._geometry)

    def elevation_lines(self) -> list[tuple[Point, Point]]:
        return elevation_lines(self._geometry)

    def plan_outline(self) -> list[Point]:
        return section_outline(self._geometry, self._ratio, self._level_of_greatest_section())

    def _level_of_greatest_section(self) -> float:
        geometry = self._geometry
        if geometry.is_level and not (geometry.first.inward or geometry.second.inward):
            return geometry.radius_m
        levels = np.linspace(0.0, self.height_m, LEVELS)
        best = int(np.argmax(self._area_at(levels)))
        low, high = levels[max(best - 1, 0)], levels[min(best + 1, LEVELS - 1)]
        return float(least_at(lambda some: -self._area_at(some), np.array([low]), np.array([high]))[0])


@lru_cache(maxsize=256)
def _level_table(geometry: LyingGeometry) -> LevelTable:
    """The table of a vessel, kept, because the same vessel is asked again and again."""
    half_m = geometry.height_m / 2
    lower = HalfTable(geometry.below, geometry.turning_levels(), half_m)
    upper = lower
    if not geometry.is_level:
        turned = geometry.upside_down
        upper = HalfTable(turned.below, turned.turning_levels(), half_m)
    return LevelTable(lower, upper, geometry.total_volume_m3)


def _see_to_room(geometry: LyingGeometry) -> None:
    """Refuse heads pushed in that touch each other or the far end."""
    if not (geometry.first.inward or geometry.second.inward):
        return
    radii = np.linspace(0.0, geometry.radius_m * (1 - 1e-9), PROBES)
    gaps = np.full_like(radii, geometry.shell_m)
    for head in (geometry.first, geometry.second):
        gaps += -head.depth_at_m(radii) if head.inward else head.depth_at_m(radii)
    if np.min(gaps) <= 0:
        least_m = geometry.length_m - float(np.min(gaps))
        limit = f"more than {least_m:g} m: a head that is pushed in must not meet the other end"
        raise ImpossibleShape("cylinder_length_m", geometry.length_m, limit)


def _tilt(tilt_rad: float | None) -> float:
    if tilt_rad is None:
        return 0.0
    if not math.isfinite(tilt_rad) or not abs(tilt_rad) < STEEPEST_RAD:
        raise ImpossibleShape("tilt_rad", tilt_rad, "a finite angle between −45° and 45°")
    return float(tilt_rad) if abs(tilt_rad) > NOISE else 0.0  # less is lost in the rounding of heights


def lying_cylinder(
    diameter_m: float | None,
    cylinder_length_m: float | None,
    first: Head,
    second: Head,
    tilt_rad: float | None = None,
) -> LyingVessel:
    """A cylinder of circular section on its side.

    Parameters
    ----------
    diameter_m         inside diameter (m)
    cylinder_length_m  inside length between the tangent lines (m), straight flanges excluded
    first, second      heads of the left and the right end, made for this radius; they may differ
    tilt_rad           rise of the second end over the first, between −45° and 45°; None where it lies level

    Returns
    -------
    LyingVessel

    Raises
    ------
    ImpossibleShape    by name: for a length that is missing, not finite, zero or negative, a tilt out of range, heads
                       pushed in that meet the other end.
    """
    radius_m = positive_length("diameter_m", diameter_m) / 2
    length_m = positive_length("cylinder_length_m", cylinder_length_m)
    return LyingVessel(LyingGeometry(radius_m, length_m, first, second, _tilt(tilt_rad)))


def lying_oval(
    box_width_m: float | None,
    section_height_m: float | None,
    cylinder_length_m: float | None,
    first: Head,
    second: Head,
    tilt_rad: float | None = None,
) -> LyingVessel:
    """A cylinder of elliptical section on its side, level.

    Parameters
    ----------
    box_width_m        inside width across (m)
    section_height_m   inside height (m)
    cylinder_length_m  inside length between the tangent lines (m), straight flanges excluded
    first, second      heads made for half the section's height as their radius; they are stretched across as the
                       section is
    tilt_rad           None or 0: an oval vessel lies level

    Returns
    -------
    LyingVessel

    Raises
    ------
    ImpossibleShape    by name, as `lying_cylinder`; also for a tilt.

    Source: an ellipse is a circle stretched in one direction, and so are volumes and areas.
    """
    width_m = positive_length("box_width_m", box_width_m)
    height_m = positive_length("section_height_m", section_height_m)
    length_m = positive_length("cylinder_length_m", cylinder_length_m)
    if tilt_rad:
        raise ImpossibleShape("tilt_rad", tilt_rad, "none or 0: an oval vessel lies level")
    return LyingVessel(LyingGeometry(height_m / 2, length_m, first, second), width_m / height_m)
