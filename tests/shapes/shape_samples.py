"""Shapes of every body and end, for tests: named ones, and random ones."""

from typing import Any

from hypothesis import strategies as st

from vessels.shapes.build import Shape, shape_from_values

NO_DIMENSIONS: dict[str, float | None] = dict.fromkeys(
    (
        "diameter_m", "cylinder_height_m", "bottom_depth_m", "cylinder_length_m", "box_length_m", "box_width_m",
        "outlet_diameter_m",
    )
)  # fmt: skip


def shape(body: str, bottom: str = "flat", top: str = "flat", **dimensions: float | None) -> Shape:
    """A shape from the dimensions that are given; all others are none."""
    values: dict[str, Any] = {**NO_DIMENSIONS, **dimensions}
    return shape_from_values(body=body, bottom=bottom, top=top, **values)


def upright(bottom: str, top: str, diameter: float, height: float, depth: float, outlet_share: float) -> Shape:
    """A vertical cylinder with the dimensions that its ends need."""
    more: dict[str, float] = {}
    if bottom in ("cone", "truncated_cone"):
        more["bottom_depth_m"] = depth
    if bottom == "truncated_cone":
        more["outlet_diameter_m"] = outlet_share * diameter
    return shape("vertical_cylinder", bottom, top, diameter_m=diameter, cylinder_height_m=height, **more)


def drum(diameter: float, length: float) -> Shape:
    return shape("horizontal_cylinder", diameter_m=diameter, cylinder_length_m=length)


def box(length: float, width: float, height: float) -> Shape:
    return shape("rectangular", box_length_m=length, box_width_m=width, cylinder_height_m=height)


def sphere(diameter: float) -> Shape:
    return shape("sphere", diameter_m=diameter)


lengths = st.floats(0.02, 100)
# The volume of a ball says less about its level the larger it is: near its top a double leaves 1 µm at 100 m.
ball_diameters = st.floats(0.02, 30)
straight_uprights = st.builds(
    upright, st.sampled_from(["flat", "cone", "truncated_cone"]), st.just("flat"), lengths, lengths, lengths,
    st.floats(0.01, 0.99),
)  # fmt: skip
round_uprights = st.builds(
    upright, st.sampled_from(["flat", "cone", "truncated_cone", "hemisphere"]),
    st.sampled_from(["flat", "hemisphere"]), ball_diameters, st.floats(0.02, 30), st.floats(0.02, 30),
    st.floats(0.01, 0.99),
)  # fmt: skip
drums = st.builds(drum, lengths, lengths)
boxes = st.builds(box, lengths, lengths, lengths)
spheres = st.builds(sphere, ball_diameters)
shapes = st.one_of(straight_uprights, round_uprights, drums, boxes, spheres)
