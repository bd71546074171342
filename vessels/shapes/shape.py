"""What the rest of the program knows of a vessel's inside, whatever its shape.

Levels are heights above the lowest inside point. Every function takes a float and gives a float, or takes an
array and gives an array of the same form. What is called a radius is how far a vertical line (a nozzle's axis, a
sensor's) stands from the middle of the vessel:

- upright round vessels and the sphere: from the axis, in any direction;
- horizontal cylinder: from mid-length, along the axis; the line is taken to meet the axis, so that a nozzle stands on
  the crown line;
- rectangular vessel: from the middle, along the length.

A bearing says only to which side that is. A level outside 0 … `height_m` (or a volume outside 0 …
`total_volume_m3`) raises ValueError naming the limits; see `numbers.within` for the one rule about rounding
noise.
"""

from abc import ABC, abstractmethod

from vessels.shapes.numbers import FloatOrArray

Point = tuple[float, float]


class Shape(ABC):
    """The inside of a vessel."""

    @property
    @abstractmethod
    def height_m(self) -> float:
        """Height from the lowest to the highest inside point (m)."""

    @property
    @abstractmethod
    def tangent_height_m(self) -> float:
        """Height of the bottom tangent line above the lowest inside point (m).

        0 for a flat bottom, and where there is no such line below the contents: on a sphere, and on a horizontal
        cylinder, whose tangent lines stand upright. There the lowest inside point takes its place.
        """

    @property
    @abstractmethod
    def top_tangent_height_m(self) -> float:
        """Height of the line where the top end begins above the lowest inside point (m).

        The whole height for a flat top, a sphere and a horizontal cylinder.
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
    def largest_radius_m(self) -> float:
        """How far from the middle a vertical line can stand and still pass through the inside (m)."""

    @property
    @abstractmethod
    def has_level_roof(self) -> bool:
        """True where the roof has one height at every radius."""

    @abstractmethod
    def volume_m3(self, level_m: FloatOrArray) -> FloatOrArray:
        """Volume (m³) below a level (m). Raises ValueError outside 0 … height."""

    @abstractmethod
    def level_m(self, volume_m3: FloatOrArray) -> FloatOrArray:
        """Level (m) that a volume (m³) reaches: inverse of `volume_m3`, good to 1 µm.

        Raises ValueError outside 0 … total volume.
        """

    @abstractmethod
    def surface_area_m2(self, level_m: FloatOrArray) -> FloatOrArray:
        """Area (m²) of the free surface at a level (m): dV/dh. Raises ValueError outside."""

    @abstractmethod
    def half_width_m(self, level_m: FloatOrArray) -> FloatOrArray:
        """Horizontal distance (m) from the middle to the nearest wall at a level (m).

        Upright round vessels and the sphere: the radius. Horizontal cylinder: half the chord across the axis.
        Rectangular vessel: half the lesser of length and width. Raises ValueError outside.
        """

    @abstractmethod
    def bottom_elevation_m(self, radius_m: FloatOrArray) -> FloatOrArray:
        """Height (m) of the bottom's inside above the lowest inside point, at a radius (m).

        Raises ValueError for a radius outside 0 … `largest_radius_m`.
        """

    @abstractmethod
    def roof_elevation_m(self, radius_m: FloatOrArray) -> FloatOrArray:
        """Height (m) of the roof's inside above the lowest inside point, at a radius (m).

        Raises ValueError for a radius outside 0 … `largest_radius_m`.
        """

    @abstractmethod
    def profile(self) -> list[Point]:
        """(radius_m, height_m) of the inside as an elevation shows it, half of it, from the lowest point in the middle
        to the roof in the middle. A horizontal cylinder is seen from its side, a box along its width."""
