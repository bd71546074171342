"""Impossible and contradictory dimensions, refused by name; what each body needs and can have."""

import math
from typing import Any

import pytest

from tests.shapes.shape_samples import NO_DIMENSIONS, shape
from vessels.shapes.build import (
    BODIES,
    BOTTOMS,
    ImpossibleShape,
    needed_dimensions,
    possible_dimensions,
    shape_from_values,
)

GOOD: dict[str, tuple[str, str, dict[str, Any]]] = {
    "vertical_cylinder": ("truncated_cone", "ellipsoidal", {
        "diameter_m": 4.0, "cylinder_height_m": 8.0, "bottom_depth_m": 3.0, "outlet_diameter_m": 0.5,
        "top_depth_m": 0.7,
    }),
    "vertical_frustum": ("torispherical", "torispherical", {
        "diameter_m": 4.0, "upper_diameter_m": 3.0, "cylinder_height_m": 8.0, "bottom_crown_ratio": 1.0,
        "bottom_knuckle_ratio": 0.1, "top_crown_ratio": 0.9, "top_knuckle_ratio": 0.17,
    }),
    "vertical_oval": ("flat", "flat", {"box_length_m": 5.0, "box_width_m": 3.0, "cylinder_height_m": 3.0}),
    "horizontal_cylinder": ("cone", "flat", {"diameter_m": 2.4, "cylinder_length_m": 6.0, "bottom_depth_m": 0.5}),
    "horizontal_oval": ("flat", "cap", {
        "box_width_m": 2.2, "section_height_m": 1.5, "cylinder_length_m": 4.0, "top_depth_m": 0.3,
    }),
    "rectangular": ("pyramid_hopper", "flat", {
        "box_length_m": 5.0, "box_width_m": 3.0, "cylinder_height_m": 3.0, "bottom_depth_m": 2.0,
        "outlet_length_m": 0.5, "outlet_width_m": 0.4,
    }),
    "sphere": ("flat", "flat", {"diameter_m": 10.0}),
    "spheroid": ("flat", "flat", {"diameter_m": 10.0, "section_height_m": 7.0}),
}  # fmt: skip
NEEDED = [(body, name) for body, (_, _, sizes) in GOOD.items() for name in sizes]
SPARE = [
    (body, name)
    for body, (bottom, top, _) in GOOD.items()
    for name in NO_DIMENSIONS
    if name not in possible_dimensions(body, bottom, top)
]


def test_every_body_is_tried():
    assert set(GOOD) == set(BODIES)


@pytest.mark.parametrize("body", GOOD)
def test_what_a_body_needs_makes_it(body: str):
    bottom, top, sizes = GOOD[body]
    assert set(needed_dimensions(body, bottom, top)) == set(sizes)
    assert set(sizes) <= set(possible_dimensions(body, bottom, top))
    tank = shape(body, bottom, top, **sizes)
    assert tank.total_volume_m3 > 0


@pytest.mark.parametrize("body, name", NEEDED)
@pytest.mark.parametrize("value", [None, 0.0, -0.0, -2.0, math.nan, math.inf, -math.inf, 1e-300, 1e200])
def test_a_dimension_that_is_needed_is_named(body: str, name: str, value: float | None):
    bottom, top, sizes = GOOD[body]
    with pytest.raises(ImpossibleShape) as caught:
        shape(body, bottom, top, **{**sizes, name: value})
    assert caught.value.argument == name
    assert caught.value.value is value
    assert name in str(caught.value)
    assert "above 0" in str(caught.value)
    assert isinstance(caught.value, ValueError)


@pytest.mark.parametrize("body, name", SPARE)
@pytest.mark.parametrize("value", [0.0, 1.0])
def test_a_dimension_that_the_body_does_not_have_is_to_be_cleared(body: str, name: str, value: float):
    bottom, top, sizes = GOOD[body]
    with pytest.raises(ImpossibleShape, match=rf"{name} = .* accepted is none: clear it, because a .* has none"):
        shape(body, bottom, top, **{**sizes, name: value})


@pytest.mark.parametrize(
    "bottom, spare",
    [("hemisphere", "bottom_depth_m"), ("cone", "outlet_diameter_m"), ("flat", "outlet_diameter_m"),
     ("cone", "bottom_crown_ratio"), ("asme_fd", "bottom_knuckle_ratio"), ("flat", "bottom_straight_flange_m")],
)  # fmt: skip
def test_a_dimension_that_the_bottom_does_not_have_is_to_be_cleared(bottom: str, spare: str):
    sizes: dict[str, Any] = {"diameter_m": 4.0, "cylinder_height_m": 8.0, spare: 1.0}
    if bottom == "cone":
        sizes["bottom_depth_m"] = 3.0
    words = bottom.replace("_", " ")
    with pytest.raises(ImpossibleShape, match=f"{spare} .* clear it, because a {words} bottom has none"):
        shape("vertical_cylinder", bottom, **sizes)


def test_whose_dimension_it_is_is_told():
    cylinder: dict[str, Any] = {"diameter_m": 4.0, "cylinder_height_m": 8.0}
    with pytest.raises(ImpossibleShape, match=r"top_depth_m .* because a hemisphere top has none"):
        shape("vertical_cylinder", "flat", "hemisphere", top_depth_m=1.0, **cylinder)
    with pytest.raises(ImpossibleShape, match=r"top_depth_m .* because a flat second end has none"):
        shape("horizontal_cylinder", top_depth_m=1.0, diameter_m=2.0, cylinder_length_m=5.0)
    with pytest.raises(ImpossibleShape, match=r"tilt_rad .* because a vertical cylinder has none"):
        shape("vertical_cylinder", tilt_rad=0.1, **cylinder)
    with pytest.raises(ImpossibleShape, match=r"axis_bearing_rad .* because a sphere has none"):
        shape("sphere", axis_bearing_rad=0.1, diameter_m=2.0)


@pytest.mark.parametrize("outlet", [4.0, 5.0])
def test_an_outlet_as_wide_as_the_shell_is_refused(outlet: float):
    bottom, top, sizes = GOOD["vertical_cylinder"]
    with pytest.raises(ImpossibleShape, match=r"outlet_diameter_m .* less than the inside diameter, 4 m"):
        shape("vertical_cylinder", bottom, top, **{**sizes, "outlet_diameter_m": outlet})


@pytest.mark.parametrize("name, outlet", [("outlet_length_m", 5.0), ("outlet_width_m", 3.0), ("outlet_width_m", 9.0)])
def test_an_outlet_as_wide_as_the_box_is_refused(name: str, outlet: float):
    bottom, top, sizes = GOOD["rectangular"]
    side = name.split("_")[1]
    with pytest.raises(ImpossibleShape, match=rf"{name} .* less than the inside {side} of the vessel, [53] m"):
        shape("rectangular", bottom, top, **{**sizes, name: outlet})


@pytest.mark.parametrize("body", ["vertical_oval", "rectangular", "sphere", "spheroid"])
@pytest.mark.parametrize("end", ["bottom", "top"])
def test_ends_that_a_body_cannot_have_are_refused(body: str, end: str):
    _, _, sizes = GOOD[body]
    kinds: dict[str, Any] = {"bottom": "flat", "top": "flat", end: "hemisphere"}
    with pytest.raises(ImpossibleShape, match=f"{end} = 'hemisphere' .* flat.* for a"):
        shape_from_values(body=body, **kinds, **{**NO_DIMENSIONS, **sizes})


@pytest.mark.parametrize("body, end", [("vertical_cylinder", "top"), ("horizontal_cylinder", "bottom")])
def test_a_hopper_is_below_only(body: str, end: str):
    with pytest.raises(ImpossibleShape, match=f"{end} = 'truncated_cone'"):
        shape_from_values(body=body, **{"bottom": "flat", "top": "flat", end: "truncated_cone"})


@pytest.mark.parametrize("argument", ["body", "bottom", "top"])
@pytest.mark.parametrize("value", ["", "dome", None])
def test_an_unknown_part_is_named_with_what_is_known(argument: str, value: str | None):
    values: dict[str, Any] = {"body": "vertical_cylinder", "bottom": "flat", "top": "flat"}
    with pytest.raises(ImpossibleShape, match=f"{argument} .*accepted is .*(flat|vertical_cylinder)") as caught:
        shape_from_values(**{**values, argument: value}, diameter_m=3.0, cylinder_height_m=10.0)
    assert caught.value.argument == argument


@pytest.mark.parametrize("body", ["sphere", "spheroid", "vertical_oval"])
def test_where_there_is_no_choice_of_ends_none_has_to_be_made(body: str):
    tank = shape_from_values(body=body, bottom="", top=None, **GOOD[body][2])
    assert tank.total_volume_m3 == shape(*[body, *GOOD[body][:2]], **GOOD[body][2]).total_volume_m3


@pytest.mark.parametrize(
    "body, bottom, direction",
    [("vertical_cylinder", "flat", "inward"), ("vertical_cylinder", "hemisphere", "up"), ("sphere", "flat", "inward"),
     ("rectangular", "pyramid_hopper", "inward")],
)  # fmt: skip
def test_a_direction_that_an_end_cannot_have_is_refused(body: str, bottom: str, direction: str):
    sizes = {**GOOD[body][2]}
    if body == "vertical_cylinder":
        sizes = {"diameter_m": 4.0, "cylinder_height_m": 8.0}
    with pytest.raises(ImpossibleShape, match="accepted is outward") as caught:
        shape(body, bottom, bottom_direction=direction, **sizes)
    assert caught.value.argument == "bottom_direction"


@pytest.mark.parametrize("bearing", [math.nan, math.inf])
def test_a_bearing_is_a_finite_angle(bearing: float):
    bottom, top, sizes = GOOD["rectangular"]
    with pytest.raises(ImpossibleShape, match="finite angle, clockwise from plant north") as caught:
        shape("rectangular", bottom, top, axis_bearing_rad=bearing, **sizes)
    assert caught.value.argument == "axis_bearing_rad"


@pytest.mark.parametrize("tilt", [math.radians(45), -1.0, math.nan])
def test_a_tilt_out_of_range_is_refused(tilt: float):
    with pytest.raises(ImpossibleShape, match="between −45° and 45°") as caught:
        shape("horizontal_cylinder", diameter_m=2.0, cylinder_length_m=5.0, tilt_rad=tilt)
    assert caught.value.argument == "tilt_rad"


def test_a_wall_thickness_belongs_to_din_heads():
    cylinder: dict[str, Any] = {"diameter_m": 1.98, "cylinder_height_m": 8.0, "wall_thickness_m": 0.01}
    tank = shape("vertical_cylinder", "flat", "din_28011", **cylinder)
    assert tank.total_volume_m3 == pytest.approx(math.pi / 4 * 1.98**2 * 8 + 0.7688, abs=1e-4)
    with pytest.raises(ImpossibleShape, match=r"wall_thickness_m .* clear it"):
        shape("vertical_cylinder", "asme_fd", "hemisphere", **cylinder)


def test_a_name_that_no_vessel_has_is_a_programmers_mistake():
    with pytest.raises(TypeError, match="colour_m is no dimension of a vessel"):
        shape_from_values(body="sphere", diameter_m=1.0, colour_m=1.0)


def test_what_a_form_has_to_ask_for():
    assert needed_dimensions("sphere") == ("diameter_m",)
    assert needed_dimensions("vertical_cylinder", "cone") == ("diameter_m", "cylinder_height_m", "bottom_depth_m")
    assert needed_dimensions("vertical_cylinder", "flat", "torispherical")[2:] == (
        "top_crown_ratio", "top_knuckle_ratio",
    )  # fmt: skip
    assert needed_dimensions("", "spiral") == ()
    assert needed_dimensions("vertical_cylinder", "") == ("diameter_m", "cylinder_height_m")


def test_what_a_form_may_ask_for():
    assert possible_dimensions("", "spiral") == ()
    assert possible_dimensions("horizontal_cylinder", "flat", "din_28013") == (
        "diameter_m", "cylinder_length_m", "tilt_rad", "axis_bearing_rad", "wall_thickness_m",
        "top_straight_flange_m", "top_direction",
    )  # fmt: skip
    for kind in BOTTOMS:
        names = possible_dimensions("vertical_cylinder", kind)
        assert set(needed_dimensions("vertical_cylinder", kind)) <= set(names)
        assert ("bottom_direction" in names) == (kind not in ("flat", "truncated_cone", "paraboloid"))
        assert ("bottom_straight_flange_m" in names) == (kind != "flat")
