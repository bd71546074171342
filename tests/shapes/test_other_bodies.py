"""Bodies other than the plain vertical cylinder: published and independent values, and what is refused by name."""

import math
from typing import Any

import numpy as np
import pytest
from fluids.geometry import TANK
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq

from tests.shapes.shape_samples import (
    NO_DIMENSIONS,
    ball_diameters,
    box,
    drum,
    lengths,
    shape,
    sphere,
    upright,
)
from vessels.shapes.build import ImpossibleShape, needed_dimensions, shape_from_values
from vessels.shapes.circle import segment_area, segment_depth

shares = st.floats(0, 1)


# --- published and independent values --------------------------------------------------------------------

# Depth over diameter and area over that of the whole circle: "Volume of partially filled horizontal cylinders", as
# tabulated in chemical engineers' handbooks (Perry). From memory, checked against the quadrature below.
SEGMENTS = [(0.05, 0.0187), (0.10, 0.0520), (0.20, 0.1424), (0.25, 0.1955), (0.30, 0.2523), (0.40, 0.3735),
            (0.50, 0.5000), (0.60, 0.6265), (0.75, 0.8045), (0.90, 0.9480)]  # fmt: skip


@pytest.mark.parametrize("depth, share", SEGMENTS)
def test_partly_filled_horizontal_cylinder_agrees_with_handbook_tables(depth: float, share: float):
    tank = drum(1.0, 4.0)
    assert tank.volume_m3(depth) / tank.total_volume_m3 == pytest.approx(share, abs=5e-5)


@given(lengths, lengths, st.floats(0.01, 0.99))
def test_horizontal_cylinder_agrees_with_the_fluids_library(diameter: float, length: float, share: float):
    """Independent implementation: TANK of the fluids library, whose arc cosine loses digits beyond these levels."""
    ours, theirs = drum(diameter, length), TANK(D=diameter, L=length, horizontal=True)
    level = share * ours.height_m
    assert ours.volume_m3(level) == pytest.approx(theirs.V_from_h(level), rel=1e-9, abs=1e-12)


@given(ball_diameters, ball_diameters, shares, st.sampled_from(["flat", "hemisphere"]))
def test_hemispherical_ends_agree_with_the_fluids_library(diameter: float, height: float, share: float, top: str):
    ours = upright("hemisphere", top, diameter, height, 0, 0)
    ends: dict[str, Any] = {"sideA": "spherical", "sideA_a": diameter / 2}
    if top == "hemisphere":
        ends |= {"sideB": "spherical", "sideB_a": diameter / 2}
    theirs = TANK(D=diameter, L=height, horizontal=False, **ends)
    level = share * ours.height_m
    assert ours.volume_m3(level) == pytest.approx(theirs.V_from_h(level), rel=1e-9, abs=1e-12)
    assert ours.total_volume_m3 == pytest.approx(theirs.V_total, rel=1e-9)


@given(lengths, st.floats(0.001, 0.999))
def test_the_inverse_of_a_segment_agrees_with_bisection(radius: float, share: float):
    """Independent method: Brent's root finder (scipy) on the area written with the arc cosine."""

    def area(depth: float) -> float:
        rest = radius - depth
        return radius * radius * math.acos(rest / radius) - rest * math.sqrt(depth * (2 * radius - depth))

    wanted = share * math.pi * radius * radius
    found = brentq(lambda depth: area(depth) - wanted, 0, 2 * radius, xtol=1e-12, rtol=1e-15)
    assert float(segment_depth(np.asarray(wanted), radius)) == pytest.approx(found, abs=1e-8)


def test_a_nearly_empty_drum_keeps_its_digits():
    """Close to the invert a circle is a parabola, whose segment is A = 4/3·√(2·r)·h^1.5 (Archimedes)."""
    for depth in (1e-6, 1e-9, 1e-12):
        area = float(segment_area(np.asarray(depth), 1.2))
        assert area == pytest.approx(4 / 3 * math.sqrt(2 * 1.2) * depth**1.5, rel=1e-6)
        assert float(segment_depth(np.asarray(area), 1.2)) == pytest.approx(depth, rel=1e-12)


@given(ball_diameters, shares)
def test_sphere_is_the_closed_form(diameter: float, share: float):
    tank, level = sphere(diameter), share * diameter
    assert tank.total_volume_m3 == pytest.approx(math.pi * diameter**3 / 6, rel=1e-12)
    assert tank.volume_m3(level) == pytest.approx(math.pi * level**2 * (3 * diameter / 2 - level) / 3, rel=1e-9)


@given(lengths, lengths, lengths, shares)
def test_box_is_the_closed_form(length: float, width: float, height: float, share: float):
    assert box(length, width, height).volume_m3(share * height) == pytest.approx(length * width * height * share)


@given(lengths, lengths, lengths, st.floats(0.01, 0.99))
def test_hopper_is_the_frustum_and_the_cylinder(diameter: float, height: float, depth: float, share: float):
    small = share * diameter
    frustum = math.pi * depth / 12 * (diameter**2 + diameter * small + small**2)
    whole = frustum + math.pi * diameter**2 / 4 * height
    assert upright("truncated_cone", "flat", diameter, height, depth, share).total_volume_m3 == pytest.approx(whole)


# --- geometry other than volume --------------------------------------------------------------------------


def test_the_drum():
    tank = drum(2.4, 6.0)
    assert (tank.height_m, tank.tangent_height_m, tank.top_tangent_height_m) == (2.4, 0, 2.4)
    assert tank.half_width_m(np.array([0.0, 1.2, 2.4])).tolist() == pytest.approx([0, 1.2, 0])
    assert tank.half_width_m(0.6) == pytest.approx(math.sqrt(0.6 * 1.8))
    assert tank.surface_area_m2(1.2) == pytest.approx(14.4)
    assert (tank.largest_half_width_m, tank.largest_radius_m) == (1.2, 3.0)
    assert (tank.bottom_elevation_m(2.9), tank.roof_elevation_m(2.9)) == (0.0, 2.4)
    assert tank.profile() == [(0, 0), (3, 0), (3, 2.4), (0, 2.4)]


def test_the_box():
    tank = box(5.0, 3.0, 2.0)
    assert (tank.height_m, tank.half_width_m(1.0), tank.surface_area_m2(0.0)) == (2.0, 1.5, 15.0)
    assert (tank.largest_radius_m, tank.level_m(15.0)) == (2.5, 1.0)
    assert tank.profile() == [(0, 0), (2.5, 0), (2.5, 2), (0, 2)]


def test_the_sphere():
    tank = sphere(10.0)
    assert (tank.height_m, tank.tangent_height_m, tank.has_level_roof) == (10, 0, False)
    assert (tank.bottom_elevation_m(3.0), tank.roof_elevation_m(3.0)) == pytest.approx((1.0, 9.0))
    assert tank.half_width_m(1.0) == pytest.approx(3.0)
    assert tank.surface_area_m2(5.0) == pytest.approx(25 * math.pi)


def test_the_hopper_and_the_dome():
    tank = upright("truncated_cone", "hemisphere", 4.0, 8.0, 3.0, 0.125)
    assert (tank.tangent_height_m, tank.top_tangent_height_m, tank.height_m) == (3, 11, 13)
    assert tank.bottom_elevation_m(np.array([0.0, 0.25, 1.125, 2.0])).tolist() == pytest.approx([0, 0, 1.5, 3])
    assert tank.roof_elevation_m(np.array([0.0, 1.2, 2.0])).tolist() == pytest.approx([13, 12.6, 11])
    assert not tank.has_level_roof
    assert tank.profile()[:3] == [(0, 0), (0.25, 0), (2, 3)]


@given(ball_diameters, shares)
def test_a_round_bottom_lies_on_its_ball(diameter: float, share: float):
    tank = upright("hemisphere", "flat", diameter, 1.0, 0, 0)
    radius = share * diameter / 2
    height = tank.bottom_elevation_m(radius)
    assert math.hypot(radius, diameter / 2 - height) == pytest.approx(diameter / 2, rel=1e-12)


# --- impossible and contradictory dimensions, by name ----------------------------------------------------

GOOD: dict[str, tuple[str, str, dict[str, Any]]] = {
    "vertical_cylinder": ("truncated_cone", "hemisphere", {
        "diameter_m": 4.0, "cylinder_height_m": 8.0, "bottom_depth_m": 3.0, "outlet_diameter_m": 0.5,
    }),
    "horizontal_cylinder": ("flat", "flat", {"diameter_m": 2.4, "cylinder_length_m": 6.0}),
    "rectangular": ("flat", "flat", {"box_length_m": 5.0, "box_width_m": 3.0, "cylinder_height_m": 3.0}),
    "sphere": ("flat", "flat", {"diameter_m": 10.0}),
}  # fmt: skip
NEEDED = [(body, name) for body, (_, _, sizes) in GOOD.items() for name in sizes]
SPARE = [(body, name) for body, (_, _, sizes) in GOOD.items() for name in NO_DIMENSIONS if name not in sizes]


@pytest.mark.parametrize("body, name", NEEDED)
@pytest.mark.parametrize("value", [None, 0.0, -2.0, math.nan, math.inf])
def test_a_dimension_that_is_needed_is_named(body: str, name: str, value: float | None):
    bottom, top, sizes = GOOD[body]
    assert name in needed_dimensions(body, bottom, top)
    with pytest.raises(ImpossibleShape) as caught:
        shape(body, bottom, top, **{**sizes, name: value})
    assert caught.value.argument == name


@pytest.mark.parametrize("body, name", SPARE)
@pytest.mark.parametrize("value", [0.0, 1.0])
def test_a_dimension_that_the_body_does_not_have_is_to_be_cleared(body: str, name: str, value: float):
    bottom, top, sizes = GOOD[body]
    with pytest.raises(ImpossibleShape, match=rf"{name} = .* accepted is none: clear it, because a .* has none"):
        shape(body, bottom, top, **{**sizes, name: value})


@pytest.mark.parametrize("bottom, spare", [("hemisphere", "bottom_depth_m"), ("cone", "outlet_diameter_m"),
                                           ("flat", "outlet_diameter_m")])  # fmt: skip
def test_a_dimension_that_the_bottom_does_not_have_is_to_be_cleared(bottom: str, spare: str):
    sizes: dict[str, Any] = {"diameter_m": 4.0, "cylinder_height_m": 8.0, spare: 1.0}
    if bottom == "cone":
        sizes["bottom_depth_m"] = 3.0
    with pytest.raises(ImpossibleShape, match=f"{spare} .* clear it, because a {bottom} bottom has none"):
        shape("vertical_cylinder", bottom, **sizes)


@pytest.mark.parametrize("outlet", [4.0, 5.0])
def test_an_outlet_as_wide_as_the_shell_is_refused(outlet: float):
    bottom, top, sizes = GOOD["vertical_cylinder"]
    with pytest.raises(ImpossibleShape, match=r"outlet_diameter_m .* less than the inside diameter, 4 m"):
        shape("vertical_cylinder", bottom, top, **{**sizes, "outlet_diameter_m": outlet})


@pytest.mark.parametrize("body", ["horizontal_cylinder", "rectangular", "sphere"])
@pytest.mark.parametrize("end", ["bottom", "top"])
def test_ends_that_a_body_cannot_have_are_refused(body: str, end: str):
    _, _, sizes = GOOD[body]
    ends: dict[str, Any] = {"bottom": "flat", "top": "flat", end: "hemisphere"}
    with pytest.raises(ImpossibleShape, match=f"{end} = 'hemisphere' .* flat for a"):
        shape_from_values(body=body, **ends, **{**NO_DIMENSIONS, **sizes})


def test_what_a_form_has_to_ask_for():
    assert needed_dimensions("sphere") == ("diameter_m",)
    assert needed_dimensions("vertical_cylinder", "cone") == ("diameter_m", "cylinder_height_m", "bottom_depth_m")
    assert needed_dimensions("", "spiral") == ()
    assert needed_dimensions("vertical_cylinder", "") == ("diameter_m", "cylinder_height_m")
