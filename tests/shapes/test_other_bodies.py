"""Bodies that are not round in plan: boxes, hoppers, ovals, and the plain lying cylinder."""

import math

import numpy as np
import pytest
from fluids.geometry import TANK
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq, minimize_scalar

from tests.shapes.shape_samples import box, drum, lengths, shape, vertical_oval
from vessels.shapes.circle import segment_area, segment_depth
from vessels.shapes.oval import distance_to_ellipse

shares = st.floats(0, 1)

# --- the plain lying cylinder -----------------------------------------------------------------------------

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


def test_the_drum():
    tank = drum(2.4, 6.0)
    assert (tank.height_m, tank.tangent_height_m, tank.top_tangent_height_m) == (2.4, 0, 2.4)
    assert tank.half_width_m(np.array([0.0, 1.2, 2.4])).tolist() == pytest.approx([0, 1.2, 0])
    assert tank.half_width_m(0.6) == pytest.approx(math.sqrt(0.6 * 1.8))
    assert tank.surface_area_m2(1.2) == pytest.approx(14.4)
    assert (tank.largest_half_width_m, tank.largest_radius_m) == (1.2, pytest.approx(3.0))
    assert (tank.bottom_elevation_m(2.9), tank.roof_elevation_m(2.9)) == pytest.approx((0.0, 2.4))
    assert tank.profile() == [(0, 0), (3, 0), (3, 2.4), (0, 2.4)]
    # Along the crown the roof has one height; beside it, it has not.
    assert tank.has_level_crown
    assert tank.roof_elevation_m(0.72, 0.0) == pytest.approx(1.2 + 0.96)


# --- boxes and hoppers ------------------------------------------------------------------------------------


@given(lengths, lengths, lengths, shares)
def test_box_is_the_closed_form(length: float, width: float, height: float, share: float):
    assert box(length, width, height).volume_m3(share * height) == pytest.approx(length * width * height * share)


def test_the_box():
    tank = box(5.0, 3.0, 2.0)
    assert (tank.height_m, tank.half_width_m(1.0), tank.surface_area_m2(0.0)) == (2.0, 1.5, 15.0)
    assert (tank.largest_radius_m, tank.level_m(15.0)) == (2.5, 1.0)
    assert tank.profile() == [(0, 0), (2.5, 0), (2.5, 2), (0, 2)]
    assert tank.plan_outline() == [(-2.5, -1.5), (2.5, -1.5), (2.5, 1.5), (-2.5, 1.5)]


@given(lengths, lengths, lengths, lengths, st.floats(0.01, 0.99))
def test_a_similar_outlet_makes_a_frustum_of_a_pyramid(
    length: float, width: float, height: float, depth: float, share: float
):
    """V = h/3·(S₀ + S₁ + √(S₀·S₁)), which holds for similar outlets only. Source: elementary geometry."""
    tank = shape(
        "rectangular", "pyramid_hopper", box_length_m=length, box_width_m=width, cylinder_height_m=height,
        bottom_depth_m=depth, outlet_length_m=share * length, outlet_width_m=share * width,
    )  # fmt: skip
    top, outlet = length * width, share * share * length * width
    assert tank.volume_m3(depth) == pytest.approx(depth / 3 * (top + outlet + math.sqrt(top * outlet)), rel=1e-12)
    assert tank.total_volume_m3 == pytest.approx(tank.volume_m3(depth) + top * height, rel=1e-12)
    assert tank.tangent_height_m == depth


def test_a_pyramid_hopper():
    tank = shape(
        "rectangular", "pyramid_hopper", box_length_m=4.0, box_width_m=3.0, cylinder_height_m=6.0,
        bottom_depth_m=2.5, outlet_length_m=0.4, outlet_width_m=0.9, axis_bearing_rad=0.0,
    )  # fmt: skip
    assert (tank.height_m, tank.axis_bearing_rad) == (8.5, 0.0)
    # Along the length (north) the slope rises over 1.8 m, across it (east) over 1.05 m.
    assert tank.bottom_elevation_m(np.array([0.2, 1.1, 2.0])).tolist() == pytest.approx([0, 1.25, 2.5])
    assert tank.bottom_elevation_m(np.array([0.45, 0.975, 1.5]), math.pi / 2).tolist() == pytest.approx([0, 1.25, 2.5])
    assert tank.reach_m(math.pi / 2) == pytest.approx(1.5)
    assert tank.reach_m(math.atan2(1.5, 2.0)) == pytest.approx(2.5)
    assert tank.wall_distance_m(1.25, 0.5) == pytest.approx(0.6)
    assert tank.wall_distance_m(8.0, 1.0, math.pi / 2) == pytest.approx(0.5)
    assert tank.half_width_m(1.25) == pytest.approx(0.975)
    assert tank.elevation_outline() == [(-0.2, 0), (0.2, 0), (2, 2.5), (2, 8.5), (-2, 8.5), (-2, 2.5)]
    assert tank.elevation_lines() == [((-2, 2.5), (2, 2.5))]


def test_a_wedge_hopper_has_a_slot_over_its_width():
    tank = shape(
        "rectangular", "wedge_hopper", box_length_m=4.0, box_width_m=3.0, cylinder_height_m=6.0,
        bottom_depth_m=2.5, outlet_length_m=0.3,
    )  # fmt: skip
    assert tank.surface_area_m2(0.0) == pytest.approx(0.9)
    # The length runs east; across it there is no slope.
    assert tank.bottom_elevation_m(1.4, 0.0) == 0.0
    assert tank.bottom_elevation_m(2.0) == 2.5


# --- ovals ------------------------------------------------------------------------------------------------


def test_the_upright_oval():
    tank = vertical_oval(4.0, 2.0, 5.0)
    assert tank.total_volume_m3 == pytest.approx(math.pi * 2 * 1 * 5)
    assert (tank.reach_m(), tank.largest_half_width_m) == (pytest.approx(2.0), 1.0)
    assert tank.reach_m(0.0) == pytest.approx(1.0)
    assert tank.wall_distance_m(2.0, 0.0) == pytest.approx(1.0)
    assert tank.wall_distance_m(2.0, 1.9) == pytest.approx(0.1)
    assert tank.elevation_outline() == [(-2, 0), (2, 0), (2, 5), (-2, 5)]


@given(st.floats(0.05, 50), st.floats(0.05, 50), shares, st.floats(0, math.pi / 2))
def test_the_distance_to_an_ellipse_is_the_least_one(half_length: float, half_width: float, share: float, turn: float):
    """Independent method: the least of the distances to all its points, by scipy."""
    x, y = share * half_length * math.cos(turn), share * half_width * math.sin(turn)

    def distance(angle: float) -> float:
        return math.hypot(half_length * math.cos(angle) - x, half_width * math.sin(angle) - y)

    angles = np.linspace(0, math.pi / 2, 2001)
    best = int(np.argmin([distance(angle) for angle in angles]))
    bounds = angles[max(best - 1, 0)], angles[min(best + 1, 2000)]
    least = minimize_scalar(distance, bounds=bounds, method="bounded", options={"xatol": 1e-12}).fun
    ours = distance_to_ellipse(half_length, half_width, x, y)
    assert ours == pytest.approx(min(least, distance(angles[best])), abs=1e-6 * max(half_length, half_width))
    assert distance_to_ellipse(half_length, half_width, -x, -y) == ours


def test_a_place_outside_an_ellipse_has_a_negative_distance():
    assert distance_to_ellipse(3.0, 1.0, 4.0, 0.0) == pytest.approx(-1.0)
    assert distance_to_ellipse(1.0, 3.0, 4.0, 0.0) == pytest.approx(-3.0)
    assert distance_to_ellipse(2.0, 2.0, 3.0, 4.0) == pytest.approx(-3.0)
