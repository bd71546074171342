"""Vessels for the tests of capacity, and a curve that is no vessel."""

import math
from typing import Any

import numpy as np
from hypothesis import settings
from hypothesis import strategies as st

from vessels.shapes.build import Shape, shape_from_values

# Other work on the same machine must not fail a property.
unhurried = settings(deadline=None)


def vessel(body: str, bottom: str = "flat", top: str = "flat", **given: Any) -> Shape:
    return shape_from_values(body=body, bottom=bottom, top=top, **given)


def silo(radius: float, height: float, bottom: str = "flat", **given: Any) -> Shape:
    return vessel("vertical_cylinder", bottom, diameter_m=2 * radius, cylinder_height_m=height, **given)


def drum(diameter: float = 2.0, length: float = 6.0) -> Shape:
    return vessel("horizontal_cylinder", diameter_m=diameter, cylinder_length_m=length)


def box(length: float, width: float, height: float, **given: Any) -> Shape:
    return vessel("rectangular", box_length_m=length, box_width_m=width, cylinder_height_m=height, **given)


def ball(diameter: float) -> Shape:
    return vessel("sphere", diameter_m=diameter)


class Power:
    """Volume = level ** exponent on 0 … 1 m: a curve for which best points are known from theory."""

    def __init__(self, exponent: float) -> None:
        self.exponent = exponent
        self.lowest_level_m, self.highest_level_m = 0.0, 1.0
        self.joints_m = (0.0, 1.0)

    def volume_m3(self, level_m: Any) -> Any:
        return level_m**self.exponent

    def level_m(self, volume_m3: Any) -> Any:
        return volume_m3 ** (1 / self.exponent)

    def surface_area_m2(self, level_m: Any) -> Any:
        return self.exponent * level_m ** (self.exponent - 1)


@st.composite
def rising_rows(draw: st.DrawFn) -> tuple[np.ndarray, np.ndarray]:
    """Levels and volumes of a table: steps from a millimetre to 2 m, areas from 0.1 to 100 m²."""
    count = draw(st.integers(2, 30))
    steps = draw(st.lists(st.floats(0.001, 2.0), min_size=count - 1, max_size=count - 1))
    areas = draw(st.lists(st.floats(0.1, 100.0), min_size=count - 1, max_size=count - 1))
    first_level, first_volume = draw(st.sampled_from([0.0, 0.3])), draw(st.sampled_from([0.0, 1.5]))
    levels = first_level + np.concatenate([[0.0], np.cumsum(steps)])
    volumes = first_volume + np.concatenate([[0.0], np.cumsum(np.array(steps) * np.array(areas))])
    return levels, volumes


vessels = st.sampled_from(
    [
        drum(),
        ball(5.0),
        box(3.0, 2.0, 4.0),
        silo(2.0, 6.0, "cone", bottom_depth_m=2.0),
        silo(1.5, 3.0, "hemisphere"),
        silo(2.0, 6.0, "truncated_cone", bottom_depth_m=2.0, outlet_diameter_m=0.5),
    ]
)


def degrees(angle: float) -> float:
    return math.radians(angle)
