"""Upright vessels of every kind against published values and an independent library; their places and drawings."""

import math
from typing import Any

import numpy as np
import pytest
from fluids.geometry import TANK
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.shapes.shape_samples import ball_diameters, lengths, shape, sphere, spheroid, upright
from vessels.shapes.build import ImpossibleShape, Shape

US_GALLON_M3 = 231 * 0.0254**3  # 231 cubic inches exactly: NIST SP 811, appendix B
INCH_M = 0.0254
shares = st.floats(0, 1)


def vessel(diameter_m: float, cylinder_height_m: float, depth_m: float | None = None) -> Shape:
    """With a flat bottom, or a cone of this depth."""
    bottom, more = ("flat", {}) if depth_m is None else ("cone", {"bottom_depth_m": depth_m})
    return shape("vertical_cylinder", bottom, diameter_m=diameter_m, cylinder_height_m=cylinder_height_m, **more)


vessels = st.builds(vessel, lengths, lengths, st.none() | lengths)


# --- published and independent values ---------------------------------------------------------------------


@pytest.mark.parametrize("level_in, volume_gal", [(24, 250.67461381371024), (60, 2251.175535772343)])
def test_conical_bottom_agrees_with_jones_calculating_tank_volume(level_in: float, volume_gal: float):
    """D. Jones, "Calculating Tank Volume": vertical tank, D = 132 in, conical bottom 33 in deep; digits
    beyond the article's as held in the tests of the fluids library."""
    tank = vessel(132 * INCH_M, 200 * INCH_M, 33 * INCH_M)
    assert tank.volume_m3(level_in * INCH_M) / US_GALLON_M3 == pytest.approx(volume_gal, rel=1e-12)


# Our kinds -> those of the library, and the shares of the radius that a depth may be.
KNOWN = {
    "flat": (None, None),
    "cone": ("conical", 2.5),
    "ellipsoidal": ("ellipsoidal", 2.5),
    "cap": ("spherical", 1.0),
    "torispherical": ("torispherical", None),
}


@st.composite
def with_a_twin(draw: st.DrawFn) -> tuple[Shape, Any]:
    """A vertical cylinder with any two heads that both know, and the same of the fluids library."""
    diameter, height = draw(ball_diameters), draw(ball_diameters)
    ours: dict[str, Any] = {}
    theirs: dict[str, Any] = {}
    for end, side in (("bottom", "sideA"), ("top", "sideB")):
        kind = draw(st.sampled_from(sorted(KNOWN)))
        name, deepest = KNOWN[kind]
        ours[end], theirs[side] = kind, name
        if deepest is not None:
            depth = diameter / 2 * draw(st.floats(0.05, deepest))
            ours[f"{end}_depth_m"] = theirs[f"{side}_a"] = depth
        if kind == "torispherical":
            crown, knuckle = draw(st.floats(0.5, 3.0)), draw(st.floats(0.01, 0.49))
            ours |= {f"{end}_crown_ratio": crown, f"{end}_knuckle_ratio": knuckle}
            theirs |= {f"{side}_f": crown, f"{side}_k": knuckle}
    tank = shape("vertical_cylinder", diameter_m=diameter, cylinder_height_m=height, **ours)
    return tank, TANK(D=diameter, L=height, horizontal=False, **theirs)


@settings(deadline=None)
@given(with_a_twin(), shares)
def test_volumes_agree_with_the_fluids_library(both: tuple[Shape, Any], share: float):
    """Independent implementation: TANK of the fluids library."""
    ours, theirs = both
    level = share * ours.height_m
    assert ours.height_m == pytest.approx(theirs.h_max, rel=1e-9)
    assert ours.total_volume_m3 == pytest.approx(theirs.V_total, rel=1e-9)
    assert ours.volume_m3(level) == pytest.approx(
        theirs.V_from_h(min(level, theirs.h_max)), rel=1e-9, abs=1e-12 * max(1.0, ours.total_volume_m3)
    )


@pytest.mark.slow
@settings(deadline=None, max_examples=60)
@given(with_a_twin(), st.floats(0.001, 0.999))
def test_levels_agree_with_the_fluids_library(both: tuple[Shape, Any], share: float):
    """Their inverse by Brent's root finder; the default one, a spline, is only good to millimetres.

    Where their root finder stops early, as in a shallow vessel of two unlike heads, their level is as far off as the
    volume that it leaves, by the surface; their own volume at our level has to be the one asked for in any case.
    """
    ours, theirs = both
    volume = share * theirs.V_total
    level = ours.level_m(volume)
    assert theirs.V_from_h(level) == pytest.approx(volume, rel=1e-9, abs=1e-9)
    their_level = theirs.h_from_V(volume, method="brenth")
    left = abs(theirs.V_from_h(their_level) - volume) / ours.surface_area_m2(min(their_level, ours.height_m))
    assert level == pytest.approx(their_level, abs=1e-6 + 2 * left)


@given(lengths, lengths, lengths)
def test_full_is_the_closed_form(diameter: float, height: float, depth: float):
    flat = math.pi * diameter**2 / 4 * height
    cone = math.pi * diameter**2 / 4 * depth / 3
    without, with_cone = vessel(diameter, height), vessel(diameter, height, depth)
    assert without.total_volume_m3 == pytest.approx(flat, rel=1e-12)
    assert with_cone.total_volume_m3 == pytest.approx(flat + cone, rel=1e-12)
    inward = shape(
        "vertical_cylinder", "cone", "cone", diameter_m=diameter, cylinder_height_m=height + 2 * depth,
        bottom_depth_m=depth, top_depth_m=depth, bottom_direction="inward", top_direction="inward",
    )  # fmt: skip
    assert inward.height_m == height + 2 * depth
    assert inward.total_volume_m3 == pytest.approx(flat + 4 * cone, rel=1e-12)  # (height + 2·depth) − 2·depth/3


@given(lengths, lengths, lengths, st.floats(0.01, 0.99))
def test_hopper_is_the_frustum_and_the_cylinder(diameter: float, height: float, depth: float, share: float):
    small = share * diameter
    frustum = math.pi * depth / 12 * (diameter**2 + diameter * small + small**2)
    whole = frustum + math.pi * diameter**2 / 4 * height
    assert upright("truncated_cone", "flat", diameter, height, depth, share).total_volume_m3 == pytest.approx(whole)


@given(lengths, lengths, lengths, shares)
def test_a_frustum_is_a_large_cone_less_a_small_one(lower: float, upper: float, height: float, share: float):
    tank = shape("vertical_frustum", diameter_m=lower, upper_diameter_m=upper, cylinder_height_m=height)
    level = share * height
    here = lower + (upper - lower) * share
    if abs(upper - lower) > 1e-3 * lower:
        apex = height / (upper - lower)  # heights over the apex are proportional to diameters
        cones = math.pi / 12 * apex * (here**3 - lower**3)
        assert tank.volume_m3(level) == pytest.approx(cones, rel=1e-9, abs=1e-9 * tank.total_volume_m3)
    assert tank.half_width_m(level) == pytest.approx(here / 2)
    assert (tank.tangent_height_m, tank.top_tangent_height_m) == (0, height)


def test_a_straight_flange_lengthens_the_shell():
    sizes: dict[str, Any] = {"diameter_m": 2.0, "cylinder_height_m": 4.0}
    without = shape("vertical_cylinder", "hemisphere", "asme_fd", **sizes)
    flanges: dict[str, Any] = {"bottom_straight_flange_m": 0.05, "top_straight_flange_m": 0.03}
    tank = shape("vertical_cylinder", "hemisphere", "asme_fd", **sizes, **flanges)
    assert tank.height_m == pytest.approx(without.height_m + 0.08)
    assert tank.total_volume_m3 == pytest.approx(without.total_volume_m3 + math.pi * 0.08)
    assert tank.tangent_height_m == 1.0
    heights = [low for (_, low), _ in tank.elevation_lines()]
    assert heights == pytest.approx([1.0, 1.05, 5.05, 5.08])
    frustum = shape("vertical_frustum", "hemisphere", upper_diameter_m=3.0, bottom_straight_flange_m=0.05, **sizes)
    assert frustum.half_width_m(1.04) == 1.0
    assert [low for (_, low), _ in frustum.elevation_lines()] == pytest.approx([1.0, 1.05])


def test_no_straight_flange_may_be_said_as_nothing():
    sizes: dict[str, Any] = {"diameter_m": 2.0, "cylinder_height_m": 4.0}
    assert shape("vertical_cylinder", "hemisphere", bottom_straight_flange_m=0.0, **sizes).height_m == 5.0


# --- a head pushed in -------------------------------------------------------------------------------------


def test_a_bottom_pushed_in():
    """The lowest inside is the ring at the tangent line; a level below the apex has a hole in its middle."""
    tank = shape(
        "vertical_cylinder", "hemisphere", diameter_m=4.0, cylinder_height_m=10.0, bottom_direction="inward"
    )
    assert (tank.height_m, tank.tangent_height_m, tank.top_tangent_height_m) == (10, 0, 10)
    assert tank.total_volume_m3 == pytest.approx(math.pi * (4 * 10 - 2 / 3 * 8))
    assert tank.bottom_elevation_m(np.array([0.0, 1.2, 2.0])).tolist() == pytest.approx([2.0, 1.6, 0.0])
    # At 1.6 m the hole has a radius of 1.2 m.
    assert tank.surface_area_m2(1.6) == pytest.approx(math.pi * (4 - 1.44))
    assert tank.half_width_m(1.6) == 2.0
    assert tank.wall_distance_m(1.6, 1.5) == pytest.approx(0.3)
    assert tank.wall_distance_m(1.6, 1.9) == pytest.approx(0.1)
    assert tank.wall_distance_m(2.5, 0.5) == pytest.approx(1.5)
    with pytest.raises(ValueError, match=r"level_m = 1\.6 m lies outside the walls at radius_m = 1\.0 m"):
        tank.wall_distance_m(1.6, 1.0)
    outline = tank.elevation_outline()
    assert outline[0] == (-2.0, 0.0)
    assert (0.0, 2.0) in outline
    assert tank.profile()[0] == (0.0, 2.0)


def test_a_top_pushed_in():
    tank = shape(
        "vertical_cylinder", "flat", "cap", diameter_m=4.0, cylinder_height_m=10.0, top_depth_m=1.0,
        top_direction="inward", top_straight_flange_m=0.1,
    )  # fmt: skip
    assert (tank.height_m, tank.top_tangent_height_m) == (10.1, 10.1)
    assert not tank.has_level_roof
    assert tank.roof_elevation_m(np.array([0.0, 2.0])).tolist() == pytest.approx([9.1, 10.1])
    assert tank.surface_area_m2(10.1) == pytest.approx(0.0, abs=1e-12)
    assert (0.0, 9.1) in [(x, pytest.approx(height)) for x, height in tank.elevation_outline()]
    # The weld of the flange ends where the head comes in.
    (left, right) = [line for line in tank.elevation_lines() if line[0][1] == pytest.approx(10.0)]
    assert left[0][0] == -2.0
    assert -2.0 < left[1][0] < 0 < right[0][0] < right[1][0] == 2.0


@pytest.mark.parametrize(
    "bottom, top, height, least",
    [
        ({"bottom": "hemisphere", "bottom_direction": "inward"}, {"top": "flat"}, 1.0, 1.0),
        (
            {"bottom": "cone", "bottom_depth_m": 3.0, "bottom_direction": "inward"},
            {"top": "cap", "top_depth_m": 0.5, "top_direction": "inward"}, 3.5, 3.5,
        ),
        ({"bottom": "cone", "bottom_depth_m": 3.0, "bottom_direction": "inward"}, {"top": "hemisphere"}, 1.0, None),
        ({"bottom": "flat"}, {"top": "ellipsoidal_2_1", "top_direction": "inward"}, 0.4, 0.5),
    ],
)  # fmt: skip
def test_heads_that_meet_are_refused(bottom: dict[str, Any], top: dict[str, Any], height: float, least: float | None):
    with pytest.raises(ImpossibleShape, match="must not meet the other end") as caught:
        shape("vertical_cylinder", diameter_m=2.0, cylinder_height_m=height, **bottom, **top)
    assert caught.value.argument == "cylinder_height_m"
    if least is not None:
        assert f"more than {least:g} m" in str(caught.value)
    longer = shape("vertical_cylinder", diameter_m=2.0, cylinder_height_m=(least or 2.5) + 0.01, **bottom, **top)
    assert longer.level_m(longer.volume_m3(0.3)) == pytest.approx(0.3, abs=1e-6)


def test_a_head_pushed_in_may_not_cut_a_shell_that_narrows():
    sizes: dict[str, Any] = {"diameter_m": 4.0, "cylinder_height_m": 10.0, "bottom_direction": "inward"}
    with pytest.raises(ImpossibleShape, match="would cut the shell") as caught:
        shape("vertical_frustum", "ellipsoidal_2_1", upper_diameter_m=2.0, **sizes)
    assert caught.value.argument == "bottom_direction"
    widens = shape("vertical_frustum", "ellipsoidal_2_1", upper_diameter_m=6.0, **sizes)
    assert widens.bottom_elevation_m(np.array([0.0, 2.0, 2.5])).tolist() == pytest.approx([1.0, 0.0, 5.0])
    narrows = shape("vertical_frustum", "cone", upper_diameter_m=3.0, bottom_depth_m=1.0, **sizes)
    assert narrows.roof_elevation_m(np.array([0.0, 1.5, 1.75])).tolist() == pytest.approx([10.0, 10.0, 5.0])
    assert not narrows.has_level_roof


# --- places in plan, and drawing --------------------------------------------------------------------------


def test_the_flat_vessel():
    tank = vessel(4, 10)
    assert (tank.height_m, tank.tangent_height_m, tank.top_tangent_height_m) == (10, 0, 10)
    assert tank.half_width_m(0.0) == tank.half_width_m(10.0) == 2
    assert tank.surface_area_m2(3.0) == pytest.approx(4 * math.pi)
    assert tank.bottom_elevation_m(np.array([0.0, 1.0, 2.0])).tolist() == [0, 0, 0]
    assert tank.profile() == [(0, 0), (2, 0), (2, 10), (0, 10)]
    assert tank.elevation_outline() == [(-2, 0), (2, 0), (2, 10), (-2, 10)]
    assert tank.elevation_lines() == []
    assert tank.has_level_roof
    assert tank.has_level_crown


def test_the_vessel_with_a_cone():
    tank = vessel(4, 10, 3)
    assert (tank.height_m, tank.tangent_height_m, tank.top_tangent_height_m) == (13, 3, 13)
    assert tank.half_width_m(np.array([0.0, 1.5, 3.0, 8.0])).tolist() == [0, 1, 2, 2]
    assert tank.surface_area_m2(0.0) == 0
    assert tank.bottom_elevation_m(np.array([0.0, 1.0, 2.0])).tolist() == [0, 1.5, 3]
    assert tank.profile() == [(0, 0), (2, 3), (2, 13), (0, 13)]
    assert tank.elevation_outline() == [(0, 0), (2, 3), (2, 13), (-2, 13), (-2, 3)]
    assert tank.elevation_lines() == [((-2, 3), (2, 3))]


def test_the_hopper_and_the_dome():
    tank = upright("truncated_cone", "hemisphere", 4.0, 8.0, 3.0, 0.125)
    assert (tank.tangent_height_m, tank.top_tangent_height_m, tank.height_m) == (3, 11, 13)
    assert tank.bottom_elevation_m(np.array([0.0, 0.25, 1.125, 2.0])).tolist() == pytest.approx([0, 0, 1.5, 3])
    assert tank.roof_elevation_m(np.array([0.0, 1.2, 2.0])).tolist() == pytest.approx([13, 12.6, 11])
    assert not tank.has_level_roof
    assert not tank.has_level_crown
    assert tank.profile()[:3] == [(0, 0), (0.25, 0), (2, 3)]
    assert tank.elevation_outline()[:3] == [(-0.25, 0), (0.25, 0), (2, 3)]


@given(ball_diameters, shares)
def test_a_round_bottom_lies_on_its_ball(diameter: float, share: float):
    tank = upright("hemisphere", "flat", diameter, 1.0, 0, 0)
    radius = share * diameter / 2
    height = tank.bottom_elevation_m(radius)
    assert math.hypot(radius, diameter / 2 - height) == pytest.approx(diameter / 2, rel=1e-12)


@pytest.mark.parametrize("radius", [-0.1, 2.1, math.nan])
def test_a_radius_beyond_the_wall_raises(radius: float):
    with pytest.raises(ValueError, match=r"radius_m = .* accepted is 0 … 2"):
        vessel(4, 10, 3).bottom_elevation_m(radius)


@given(vessels, shares)
def test_the_bottom_lies_on_the_wall_of_the_bottom_end(tank: Shape, share: float):
    radius = share * tank.largest_half_width_m
    height = tank.bottom_elevation_m(radius)
    assert 0 <= height <= tank.tangent_height_m
    if tank.tangent_height_m > 0:
        assert tank.half_width_m(height) == pytest.approx(radius, rel=1e-9, abs=1e-12)


# --- spheres and spheroids --------------------------------------------------------------------------------


@given(ball_diameters, shares)
def test_sphere_is_the_closed_form(diameter: float, share: float):
    tank, level = sphere(diameter), share * diameter
    assert tank.total_volume_m3 == pytest.approx(math.pi * diameter**3 / 6, rel=1e-12)
    assert tank.volume_m3(level) == pytest.approx(math.pi * level**2 * (3 * diameter / 2 - level) / 3, rel=1e-9)


def test_the_sphere():
    tank = sphere(10.0)
    assert (tank.height_m, tank.tangent_height_m, tank.top_tangent_height_m, tank.has_level_roof) == (10, 0, 10, False)
    assert (tank.bottom_elevation_m(3.0), tank.roof_elevation_m(3.0)) == pytest.approx((1.0, 9.0))
    assert tank.half_width_m(1.0) == pytest.approx(3.0)
    assert tank.surface_area_m2(5.0) == pytest.approx(25 * math.pi)
    assert tank.wall_distance_m(5.0, 3.0, 1.0) == pytest.approx(2.0)


@given(ball_diameters, ball_diameters, shares)
def test_a_spheroid_is_two_ellipsoidal_heads_without_a_shell(diameter: float, height: float, share: float):
    """Independent implementation: TANK of the fluids library, with a shell too thin to count."""
    tank, level = spheroid(diameter, height), share * height
    assert tank.total_volume_m3 == pytest.approx(math.pi / 6 * diameter**2 * height, rel=1e-12)
    thin = 1e-12 * height
    ends: dict[str, Any] = {"sideA": "ellipsoidal", "sideB": "ellipsoidal"}
    ends |= {"sideA_a": height / 2, "sideB_a": height / 2}
    theirs = TANK(D=diameter, L=thin, horizontal=False, **ends)
    assert tank.volume_m3(level) == pytest.approx(theirs.V_from_h(level), rel=1e-9, abs=1e-11 * tank.total_volume_m3)
