"""What the rest of the program knows of a vessel's inside, whatever its shape.

Levels are heights above the lowest inside point. The middle of a vessel is the axis where it is upright and round, the
middle of a box, or mid-length on the axis of a lying one (midway between the tangent lines of its cylinder; its ends
do not count). A place in plan is a horizontal distance from the middle, `radius_m`, and a direction, `bearing_rad`,
clockwise from plant north. What is not round has a direction itself, `axis_bearing_rad`, in which its length runs from
the first end to the second; in its own axes a place is

    x = r·cos(bearing − axis bearing)  along the length,    y = r·sin(bearing − axis bearing)  across it.

No bearing means on the positive side of the length: x = r, y = 0.

Every function takes a float and gives a float, or takes an array and gives an array of the same form. A level outside
0 … `height_m`, a volume outside 0 … `total_volume_m3` or a radius outside 0 … `reach_m` raises ValueError naming the
limits; see `numbers.within` for the one rule about rounding noise.

A shape writes the functions whose names begin with an underscore; those get flat arrays that are known to be in range.
"""

import math
from abc import ABC, abstractmethod

import numpy as np

from vessels.shapes.heads import Head
from vessels.shapes.numbers import NOISE, FloatOrArray, Floats, as_given, within

Point = tuple[float, float]

PLANT_EAST_RAD = math.pi / 2  # where the length of a vessel runs as long as nobody says otherwise
CROWN_PROBES = 65  # places along the length at which the roof is compared with the highest point


class Shape(ABC):
    """The inside of a vessel."""

    axis_bearing_rad: float = PLANT_EAST_RAD

    # --- sizes ----------------------------------------------------------------------------------------------

    @property
    @abstractmethod
    def height_m(self) -> float:
        """Height from the lowest to the highest inside point (m)."""

    @property
    @abstractmethod
    def tangent_height_m(self) -> float:
        """Height of the bottom tangent line above the lowest inside point (m).

        0 for a flat and for an inward bottom, and where there is no such line below the contents: on a sphere or
        spheroid, and on a lying vessel, whose tangent lines stand upright. There the lowest inside point takes its
        place.
        """

    @property
    @abstractmethod
    def top_tangent_height_m(self) -> float:
        """Height of the line where the top end begins above the lowest inside point (m).

        The whole height for a flat and for an inward top, a sphere or spheroid, and a lying vessel.
        """

    @property
    @abstractmethod
    def total_volume_m3(self) -> float:
        """Volume of the full vessel (m³)."""

    @property
    @abstractmethod
    def largest_half_width_m(self) -> float:
        """The largest value of `half_width_m` (m)."""

    @property
    @abstractmethod
    def is_round(self) -> bool:
        """Whether it is the same at every bearing."""

    @property
    @abstractmethod
    def has_level_roof(self) -> bool:
        """True where the roof has one height at every place."""

    @property
    def has_level_crown(self) -> bool:
        """True where the roof has one height all along the length, over the middle line; so has a level drum.

        A place without a bearing stands on that line, and then its radius says nothing about the roof.
        """
        along = np.linspace(-self._reach(-1.0, 0.0), self._reach(1.0, 0.0), CROWN_PROBES) * (1 - NOISE)
        return bool(np.all(self._roof_at(along, np.zeros_like(along)) >= self.height_m * (1 - NOISE)))

    @property
    @abstractmethod
    def method(self) -> str:
        """One English sentence, marked for translation: how volumes are computed, and after which source."""

    # --- level and volume -----------------------------------------------------------------------------------

    def volume_m3(self, level_m: FloatOrArray) -> FloatOrArray:
        """Volume (m³) below a level (m). Raises ValueError outside 0 … height."""
        levels = within("level_m", level_m, self.height_m, "m")
        return as_given(level_m, self._volume_below(levels.reshape(-1)).reshape(levels.shape))

    def level_m(self, volume_m3: FloatOrArray) -> FloatOrArray:
        """Level (m) that a volume (m³) reaches: inverse of `volume_m3`, good to 1 µm.

        Near a pointed roof or a head pushed in from above, good to what the rounding of the volume leaves.
        Raises ValueError outside 0 … total volume.
        """
        volumes = within("volume_m3", volume_m3, self.total_volume_m3, "m³")
        return as_given(volume_m3, self._level_for(volumes.reshape(-1)).reshape(volumes.shape))

    def surface_area_m2(self, level_m: FloatOrArray) -> FloatOrArray:
        """Area (m²) of the free surface at a level (m): dV/dh. Raises ValueError outside."""
        levels = within("level_m", level_m, self.height_m, "m")
        return as_given(level_m, self._area_at(levels.reshape(-1)).reshape(levels.shape))

    def half_width_m(self, level_m: FloatOrArray) -> FloatOrArray:
        """Horizontal distance (m) from the middle line to the nearest outer wall at a level (m).

        Upright round vessels and spheroids: the radius. Lying vessels: half the chord across the axis. Vessels of
        another plan: half the lesser of length and width. A wall pushed in from below or above does not count. Raises
        ValueError outside.
        """
        levels = within("level_m", level_m, self.height_m, "m")
        return as_given(level_m, self._half_width_at(levels.reshape(-1)).reshape(levels.shape))

    # --- places in plan -------------------------------------------------------------------------------------

    def reach_m(self, bearing_rad: float | None = None) -> float:
        """How far from the middle in a direction a vertical line can stand and still pass through the inside (m)."""
        return self._reach(*self._direction(bearing_rad))

    @property
    def largest_radius_m(self) -> float:
        """The reach along the length (m); of a round vessel in every direction."""
        return self.reach_m()

    def bottom_elevation_m(self, radius_m: FloatOrArray, bearing_rad: float | None = None) -> FloatOrArray:
        """Height (m) of the bottom's inside above the lowest inside point, at a place.

        Raises ValueError for a radius outside 0 … `reach_m` of that bearing.
        """
        x_m, y_m, form = self._places(radius_m, bearing_rad)
        return as_given(radius_m, self._bottom_at(x_m, y_m).reshape(form))

    def roof_elevation_m(self, radius_m: FloatOrArray, bearing_rad: float | None = None) -> FloatOrArray:
        """Height (m) of the roof's inside above the lowest inside point, at a place.

        Raises ValueError for a radius outside 0 … `reach_m` of that bearing.
        """
        x_m, y_m, form = self._places(radius_m, bearing_rad)
        return as_given(radius_m, self._roof_at(x_m, y_m).reshape(form))

    def wall_distance_m(self, level_m: FloatOrArray, radius_m: float, bearing_rad: float | None = None) -> FloatOrArray:
        """Horizontal distance (m) from a vertical line at a place to the nearest wall at a level (m).

        Raises ValueError for a level or radius outside, and where the place is not inside the vessel at that level.
        """
        levels = within("level_m", level_m, self.height_m, "m")
        x_m, y_m, _ = self._places(radius_m, bearing_rad)
        distances = self._wall_distance(levels.reshape(-1), float(x_m[0]), float(y_m[0])).reshape(levels.shape)
        outside = ~(distances >= -NOISE * max(self.height_m, self.largest_radius_m))
        if np.any(outside):
            bottom_m, roof_m = float(self._bottom_at(x_m, y_m)[0]), float(self._roof_at(x_m, y_m)[0])
            raise ValueError(
                f"level_m = {float(levels[outside].flat[0])!r} m lies outside the walls at radius_m = {radius_m!r} m: "
                f"accepted there are levels inside, from {bottom_m!r} m to {roof_m!r} m"
            )
        return as_given(level_m, np.maximum(distances, 0.0))

    def _direction(self, bearing_rad: float | None) -> tuple[float, float]:
        """A direction in the vessel's own axes: parts of 1 along its length and across it."""
        if bearing_rad is None:
            return 1.0, 0.0
        if not math.isfinite(bearing_rad):
            raise ValueError(f"bearing_rad = {bearing_rad!r} is no direction: accepted is a finite angle")
        turn = bearing_rad - self.axis_bearing_rad
        return math.cos(turn), math.sin(turn)

    def _places(self, radius_m: float | Floats, bearing_rad: float | None) -> tuple[Floats, Floats, tuple[int, ...]]:
        """The places in the vessel's own axes, as flat arrays, and the form in which the radii came."""
        along, across = self._direction(bearing_rad)
        radii = within("radius_m", radius_m, self._reach(along, across), "m")
        flat = radii.reshape(-1)
        return flat * along, flat * across, radii.shape

    # --- drawing --------------------------------------------------------------------------------------------

    @property
    def heads(self) -> tuple[Head, ...]:
        """The heads at "bottom" and "top" (of a lying vessel: at its first and second end); none of other shapes."""
        return ()

    @abstractmethod
    def elevation_outline(self) -> list[Point]:
        """(x_m, height_m) of the inside as seen from its side: a closed polygon, x along the length from the middle.

        It begins at the lowest point, the leftmost if there are several, and goes counter-clockwise; the last point is
        not the first again. A tilted vessel is drawn tilted.
        """

    def elevation_lines(self) -> list[tuple[Point, Point]]:
        """Lines inside that outline: tangent lines, welds, upper edges of hoppers."""
        return []

    @abstractmethod
    def plan_outline(self) -> list[Point]:
        """(x_m, y_m), along and across, of the greatest horizontal section: a closed polygon, counter-clockwise."""

    def profile(self) -> list[Point]:
        """(distance from the middle in m, height_m): the right half of `elevation_outline`, from the bottom in the
        middle to the roof in the middle. Only where both halves are alike; raises ValueError elsewhere."""
        outline = self.elevation_outline()
        mirrored = {(round(-x, 9), round(height, 9)) for x, height in outline}
        if mirrored != {(round(x, 9), round(height, 9)) for x, height in outline}:
            raise ValueError("profile() is for vessels of two equal halves: accepted elsewhere is elevation_outline()")
        return _right_half(outline)

    # --- what each shape writes -----------------------------------------------------------------------------

    @abstractmethod
    def _volume_below(self, levels: Floats) -> Floats: ...

    @abstractmethod
    def _level_for(self, volumes: Floats) -> Floats: ...

    @abstractmethod
    def _area_at(self, levels: Floats) -> Floats: ...

    @abstractmethod
    def _half_width_at(self, levels: Floats) -> Floats: ...

    @abstractmethod
    def _reach(self, along: float, across: float) -> float:
        """Reach in a direction given by its parts along the length and across it."""

    @abstractmethod
    def _bottom_at(self, x_m: Floats, y_m: Floats) -> Floats: ...

    @abstractmethod
    def _roof_at(self, x_m: Floats, y_m: Floats) -> Floats: ...

    @abstractmethod
    def _wall_distance(self, levels: Floats, x_m: float, y_m: float) -> Floats:
        """Distance to the nearest wall at each level; below 0 or NaN where the place is not inside there."""


def _right_half(outline: list[Point]) -> list[Point]:
    """The part with x ≥ 0 of a closed outline of two equal halves, with points of its own where it crosses the axis."""
    right: list[Point] = []
    for (x, height), (next_x, next_height) in zip(outline, [*outline[1:], outline[0]], strict=True):
        if x >= 0:
            right.append((x, height))
        if x < 0 < next_x or next_x < 0 < x:
            right.append((0.0, height + (next_height - height) * x / (x - next_x)))
    return right
