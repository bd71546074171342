"""What the rest of the program knows of a vessel's inside, whatever its shape.

Levels are heights above the lowest inside point. Every function takes a float and gives a float, or takes an
array and gives an array of the same form. A level outside 0 … `height_m` (or a volume outside 0 …
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
        """Height of the bottom tangent line above the lowest inside point (m); 0 for a flat bottom."""

    @property
    @abstractmethod
    def top_tangent_height_m(self) -> float:
        """Height of the line where the top end begins above the lowest inside point (m)."""

    @property
    @abstractmethod
    def total_volume_m3(self) -> float:
        """Volume of the full vessel (m³)."""

    @property
    @abstractmethod
    def largest_half_width_m(self) -> float:
        """Half the inside width at the widest level (m)."""

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
        """Horizontal distance (m) from the axis to the wall at a level (m). Raises ValueError outside."""

    @abstractmethod
    def bottom_elevation_m(self, radius_m: FloatOrArray) -> FloatOrArray:
        """Height (m) of the bottom's inside above the lowest inside point, at a radius (m) from the axis.

        Raises ValueError for a radius outside 0 … half the inside diameter.
        """

    @abstractmethod
    def profile(self) -> list[Point]:
        """(radius_m, height_m) of the inside, from the lowest point on the axis to the roof on the axis."""
