"""Shapes of every body and end, for tests: named ones, and random ones."""

from typing import Any

from hypothesis import strategies as st

from vessels.shapes.build import DIMENSIONS, Shape, shape_from_values
from vessels.shapes.heads import KINDS

NO_DIMENSIONS: dict[str, float | None] = dict.fromkeys(DIMENSIONS)


def shape(body: str, bottom: str = "flat", top: str = "flat", **given: Any) -> Shape:
    """A shape from what is given; all other dimensions are none."""
    values: dict[str, Any] = {**NO_DIMENSIONS, **given}
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


# --- random ones ------------------------------------------------------------------------------------------

lengths = st.floats(0.02, 100)
# The volume of a ball says less about its level the larger it is: near its top a double leaves 1 µm at 100 m.
ball_diameters = st.floats(0.02, 30)
DISHED = sorted(set(KINDS) - {"flat", "cone", "truncated_cone", "paraboloid"})


@st.composite
def ends(draw: st.DrawFn, prefix: str, kinds: list[str], radius: float) -> tuple[dict[str, Any], float]:
    """Values of one end on a shell of this radius, and how far it reaches inward (0 where outward)."""
    kind = draw(st.sampled_from(kinds))
    values: dict[str, Any] = {}
    needs = KINDS[kind].needs
    if "depth_m" in needs:
        values[f"{prefix}depth_m"] = radius * draw(st.floats(0.05, 1.0 if kind == "cap" else 2.5))
    if "crown_ratio" in needs:
        values[f"{prefix}crown_ratio"] = draw(st.floats(0.5, 3.0))
        values[f"{prefix}knuckle_ratio"] = draw(st.floats(0.01, 0.5))
    if "outlet_diameter_m" in needs:
        values["outlet_diameter_m"] = 2 * radius * draw(st.floats(0.01, 0.99))
    if kind != "flat" and draw(st.booleans()):
        values[f"{prefix}straight_flange_m"] = radius * draw(st.floats(0.01, 0.3))
    inward = 0.0
    if KINDS[kind].can_be_inward and draw(st.booleans()):
        values[f"{prefix}direction"] = "inward"
        inward = max(values.get(f"{prefix}depth_m", 0.0), radius)
    return {prefix.rstrip("_"): kind, **values}, inward


ROUND_BOTTOMS = sorted(KINDS)
ROUND_TOPS = sorted(set(KINDS) - {"truncated_cone"})


@st.composite
def uprights(draw: st.DrawFn, bottoms: list[str] = ROUND_BOTTOMS, tops: list[str] = ROUND_TOPS) -> Shape:
    """A vertical cylinder with any two heads, long enough for those that are pushed in."""
    radius = draw(ball_diameters) / 2
    lower, lower_inward = draw(ends("bottom_", bottoms, radius))
    upper, upper_inward = draw(ends("top_", tops, radius))
    height = draw(ball_diameters) + lower_inward + upper_inward
    return shape("vertical_cylinder", diameter_m=2 * radius, cylinder_height_m=height, **lower, **upper)


@st.composite
def frusta(draw: st.DrawFn) -> Shape:
    """A frustum with any two heads that bulge outward."""
    lower_radius, upper_radius = draw(ball_diameters) / 2, draw(ball_diameters) / 2
    lower, _ = draw(ends("bottom_", ROUND_BOTTOMS, lower_radius))
    upper, _ = draw(ends("top_", ROUND_TOPS, upper_radius))
    outward = {"bottom_direction": "outward", "top_direction": ""}
    return shape(
        "vertical_frustum", diameter_m=2 * lower_radius, upper_diameter_m=2 * upper_radius,
        cylinder_height_m=draw(ball_diameters), **{**lower, **upper, **outward},
    )  # fmt: skip


@st.composite
def hopper_boxes(draw: st.DrawFn) -> Shape:
    """A box with a hopper of two sides or four, its length in any direction."""
    length, width = draw(lengths), draw(lengths)
    bottom = draw(st.sampled_from(["wedge_hopper", "pyramid_hopper"]))
    values = {"bottom_depth_m": draw(lengths), "outlet_length_m": length * draw(st.floats(0.01, 0.99))}
    if bottom == "pyramid_hopper":
        values["outlet_width_m"] = width * draw(st.floats(0.01, 0.99))
    return shape(
        "rectangular", bottom, box_length_m=length, box_width_m=width, cylinder_height_m=draw(lengths),
        axis_bearing_rad=draw(st.none() | st.floats(-4, 7)), **values,
    )  # fmt: skip


def vertical_oval(length: float, width: float, height: float) -> Shape:
    return shape("vertical_oval", box_length_m=length, box_width_m=width, cylinder_height_m=height)


def spheroid(diameter: float, height: float) -> Shape:
    return shape("spheroid", diameter_m=diameter, section_height_m=height)


drums = st.builds(drum, lengths, lengths)
boxes = st.builds(box, lengths, lengths, lengths)
spheres = st.builds(sphere, ball_diameters)
ovals = st.builds(vertical_oval, lengths, lengths, lengths)
spheroids = st.builds(spheroid, ball_diameters, ball_diameters)


@st.composite
def lying(draw: st.DrawFn) -> Shape:
    """A lying cylinder or oval with any two heads, the cylinder also tilted."""
    height = draw(st.floats(0.1, 10))
    first, first_inward = draw(ends("bottom_", ROUND_TOPS, height / 2))
    second, second_inward = draw(ends("top_", ROUND_TOPS, height / 2))
    values = {"cylinder_length_m": draw(st.floats(0.1, 30)) + first_inward + second_inward, **first, **second}
    values["axis_bearing_rad"] = draw(st.none() | st.floats(-4, 7))
    if draw(st.booleans()):
        width = height * draw(st.floats(0.3, 3))
        return shape("horizontal_oval", box_width_m=width, section_height_m=height, **values)
    values["tilt_rad"] = draw(st.none() | st.floats(-0.7, 0.7) | st.floats(-0.03, 0.03))
    return shape("horizontal_cylinder", diameter_m=height, **values)


standing = st.one_of(uprights(), frusta(), boxes, hopper_boxes(), ovals, spheres, spheroids)
shapes = st.one_of(standing, drums, lying())
