"""Places in lying vessels: reach, bottom and roof, distance to the wall, and how they are drawn."""

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.shapes.lying_samples import lying, lying_vessels
from vessels.shapes.heads import head_from
from vessels.shapes.lying import LyingVessel, lying_oval

EAST, NORTH, WEST, SOUTH = math.pi / 2, 0.0, -math.pi / 2, math.pi  # the axis runs east
some = settings(max_examples=40, deadline=None)
bearings = st.one_of(st.none(), st.floats(-4, 4))


# --- named places ---------------------------------------------------------------------------------------------


def test_a_level_drum_with_hemispheres():
    tank = lying(2, 6, "hemisphere")
    assert (tank.height_m, tank.tangent_height_m, tank.top_tangent_height_m) == (2, 0, 2)
    assert not tank.is_round
    assert not tank.has_level_roof
    assert tank.largest_half_width_m == tank.half_width_m(1.0) == 1
    assert tank.reach_m() == tank.reach_m(EAST) == tank.reach_m(WEST) == tank.largest_radius_m == 4
    assert tank.reach_m(NORTH) == tank.reach_m(SOUTH) == pytest.approx(1)
    assert tank.bottom_elevation_m(2.0) == 0
    assert tank.roof_elevation_m(2.0) == 2
    # On the ball at 0.6 from its centre, along or across: 1 − 0.8.
    assert tank.bottom_elevation_m(3.6) == tank.bottom_elevation_m(3.6, WEST) == pytest.approx(0.2)
    assert tank.bottom_elevation_m(0.6, NORTH) == pytest.approx(0.2)
    assert tank.roof_elevation_m(0.6, SOUTH) == pytest.approx(1.8)
    assert tank.bottom_elevation_m(4.0) == tank.roof_elevation_m(4.0) == 1
    # At the level of the axis: to the sides; near the end to the ball about x = 3.
    assert tank.wall_distance_m(1.0, 0.0) == pytest.approx(1, abs=1e-6)
    assert tank.wall_distance_m(1.0, 0.7, NORTH) == pytest.approx(0.3, abs=1e-6)
    assert tank.wall_distance_m(1.0, 3.6) == pytest.approx(0.4, abs=1e-6)
    assert tank.wall_distance_m(np.array([0.4, 1.6]), 1.0) == pytest.approx(0.8, abs=1e-6)


def test_the_corner_of_a_flat_drum():
    tank = lying(2, 6)
    assert tank.reach_m(EAST - math.atan2(1, 3)) == pytest.approx(math.hypot(3, 1))
    assert tank.reach_m(EAST - math.radians(10)) == pytest.approx(3 / math.cos(math.radians(10)))
    assert tank.reach_m(EAST - math.radians(50)) == pytest.approx(1 / math.sin(math.radians(50)))
    assert tank.wall_distance_m(1.0, 2.5) == pytest.approx(0.5, abs=1e-6)
    assert tank.elevation_outline() == [(-3, 0), (3, 0), (3, 2), (-3, 2)]
    assert tank.plan_outline() == [(-3, -1), (3, -1), (3, 1), (-3, 1)]
    assert tank.elevation_lines() == []
    assert tank.profile() == [(0, 0), (3, 0), (3, 2), (0, 2)]


def test_an_axis_that_runs_north():
    tank = lying(2, 6, ("cone", {"depth_m": 2.0}), "flat")
    tank.axis_bearing_rad = 0.0
    assert tank.reach_m() == tank.reach_m(NORTH) == 3
    assert tank.reach_m(SOUTH) == 5
    assert tank.reach_m(EAST) == pytest.approx(1)


def test_a_tilted_flat_drum():
    """A corner stands on the floor; all else follows from turning a rectangle."""
    tank = lying(2, 6, tilt_deg=10)
    sine, cosine = math.sin(math.radians(10)), math.cos(math.radians(10))
    assert tank.height_m == pytest.approx(6 * sine + 2 * cosine, rel=1e-14)
    assert tank.reach_m(EAST) == tank.reach_m(WEST) == pytest.approx(3 * cosine + sine, rel=1e-14)
    # Half the height up is mid-length; from there straight down to the wall it is R/cos t.
    assert tank.bottom_elevation_m(0.0) == pytest.approx(3 * sine + cosine - 1 / cosine, rel=1e-12)
    lowest, right_low = tank.elevation_outline()[:2]
    assert lowest == pytest.approx((-3 * cosine + sine, 0), abs=1e-12)
    assert right_low == pytest.approx((3 * cosine + sine, 6 * sine))
    # Between its corners the bottom rises with the tilt.
    rise = tank.bottom_elevation_m(1.0) - tank.bottom_elevation_m(0.0)
    assert rise == pytest.approx(math.tan(math.radians(10)), rel=1e-12)
    assert tank.half_width_m(tank.height_m / 2) == pytest.approx(1)
    assert tank.half_width_m(0.0) == 0


def test_a_steep_drum_stands_on_its_head():
    """The lowest point of a hemisphere is straight below its centre, that of a long cone is its apex."""
    ball, cone = lying(2, 6, "hemisphere", tilt_deg=30), lying(2, 6, ("cone", {"depth_m": 3.0}), "flat", 30)
    assert ball.height_m == pytest.approx(6 * math.sin(math.radians(30)) + 2)
    assert ball.bottom_elevation_m(3 * math.cos(math.radians(30)), WEST) == pytest.approx(0, abs=1e-12)
    highest = 3 * math.sin(math.radians(30)) + math.cos(math.radians(30))
    assert cone.height_m == pytest.approx(6 * math.sin(math.radians(30)) + highest)


def test_a_knuckle_is_lowest_where_its_normal_is_upright():
    """Small tilt: the lowest point lies on the knuckle's circle below its centre, which is k away from the wall."""
    knuckle, tilt = 0.154 * 2, math.radians(5)
    tank = lying(2, 6, "din_28013", tilt_deg=5)
    centres = 6 * math.sin(tilt) + 2 * (1 - knuckle) * math.cos(tilt) + 2 * knuckle
    assert tank.height_m == pytest.approx(centres, rel=1e-13)


def test_a_head_pushed_in_is_a_wall_but_no_bottom():
    tank = lying(2, 6, ("hemisphere", {"direction": "inward"}), "flat")
    assert tank.reach_m(WEST) == 3
    assert tank.bottom_elevation_m(2.5, WEST) == pytest.approx(0, abs=1e-12)
    assert tank.wall_distance_m(1.0, 1.5, WEST) == pytest.approx(0.5, abs=1e-6)
    with pytest.raises(ValueError, match="accepted there are levels inside"):
        tank.wall_distance_m(1.0, 2.5, WEST)
    # At 1.9 the ball is 0.436 wide there, the shell too: the wedge between them.
    assert 0 < tank.wall_distance_m(1.9, 2.5, WEST) < 0.436
    outline = tank.elevation_outline()
    assert (-2.0, 1.0) in [(round(x, 9), round(z, 9)) for x, z in outline]
    with pytest.raises(ValueError, match="two equal halves"):
        tank.profile()


def test_the_plan_of_an_oval():
    head = head_from("hemisphere", 0.75)
    tank = lying_oval(2.2, 1.5, 4.0, head, head_from("flat", 0.75))
    plan = np.array(tank.plan_outline())
    assert np.min(plan, axis=0) == pytest.approx([-2.75, -1.1])
    assert np.max(plan, axis=0) == pytest.approx([2, 1.1])
    assert tank.reach_m(NORTH) == pytest.approx(1.1)
    assert tank.bottom_elevation_m(1.1 * 0.6, NORTH) == pytest.approx(0.75 * 0.2)
    assert tank.wall_distance_m(0.75, 0.3, NORTH) == pytest.approx(0.8, abs=1e-6)


def test_lines_at_welds_and_tangents():
    tank = lying(2, 6, ("asme_fd", {"straight_flange_m": 0.1}), "flat")
    assert [start for start, _ in tank.elevation_lines()] == [(-3.1, 0), (-3.0, 0)]
    assert lying(2, 6, ("asme_fd", {"direction": "inward"}), "flat").elevation_lines() == []


# --- every vessel ---------------------------------------------------------------------------------------------


@some
@given(lying_vessels(), bearings, st.lists(st.floats(0, 0.999), min_size=1, max_size=6))
def test_bottom_and_roof_are_where_the_inside_begins_and_ends(
    tank: LyingVessel, bearing: float | None, some_shares: list[float]
):
    reach = tank.reach_m(bearing)
    radii = np.array([0.0, *some_shares, 1.0]) * reach
    bottoms, roofs = tank.bottom_elevation_m(radii, bearing), tank.roof_elevation_m(radii, bearing)
    assert np.all(bottoms >= 0)
    assert np.all(bottoms <= roofs)
    assert np.all(roofs <= tank.height_m)
    assert tank.bottom_elevation_m(float(radii[1]), bearing) == bottoms[1]
    for beyond in (-0.1 * reach, 1.001 * reach):
        with pytest.raises(ValueError, match="radius_m"):
            tank.bottom_elevation_m(beyond, bearing)
    # Just inside the vessel is a distance to the wall, just outside none.
    middle = (bottoms[1] + roofs[1]) / 2
    outward = not (tank._geometry.first.inward or tank._geometry.second.inward)
    if roofs[1] - bottoms[1] > 1e-3 and outward:
        assert tank.wall_distance_m(middle, float(radii[1]), bearing) > 0
    for height in (bottoms[1] - 1e-6 * tank.height_m, roofs[1] + 1e-6 * tank.height_m):
        if 0 <= height <= tank.height_m:
            with pytest.raises(ValueError, match="accepted there are levels inside"):
                tank.wall_distance_m(float(height), float(radii[1]), bearing)


@some
@given(lying_vessels(), st.floats(0.05, 0.95), bearings, st.floats(0, 0.95))
def test_the_nearest_wall_is_the_nearest_end_of_all_horizontal_rays(
    tank: LyingVessel, level_share: float, bearing: float | None, share: float
):
    """By walking outward in many directions until the place is outside the vessel, by its equations."""
    level = level_share * tank.height_m
    radius = share * tank.reach_m(bearing)
    along, across = tank._direction(bearing)
    start = np.array([radius * along, radius * across])
    if not inside(tank, level, *start):
        with pytest.raises(ValueError, match="accepted there are levels inside"):
            tank.wall_distance_m(level, radius, bearing)
        return
    distance = tank.wall_distance_m(level, radius, bearing)
    assert distance >= 0
    turns = np.linspace(0, 2 * math.pi, 721)
    rays = np.array([np.cos(turns), np.sin(turns)])
    nearer, further = start[:, None] + rays * (distance - 1e-6), start[:, None] + rays * (distance * 1.001 + 1e-3)
    if distance > 1e-5:
        assert np.all(inside(tank, level, *nearer))
    assert not np.all(inside(tank, level, *further))


def inside(tank: LyingVessel, level: float, x: Any, y: Any) -> Any:
    """Whether places are inside at a level: turned into the axis' own coordinates, held against the radius there."""
    geometry = tank._geometry
    height = level + geometry.lowest_m
    axial = np.asarray(x * geometry.cosine + height * geometry.sine, dtype=float)
    rho = np.hypot(height * geometry.cosine - x * geometry.sine, y / tank._ratio)
    result = (rho <= geometry.radius_m) | (axial < geometry.first_rim_m) | (axial > geometry.second_rim_m)
    for head, depth in (
        (geometry.first, geometry.first_rim_m - axial),
        (geometry.second, axial - geometry.second_rim_m),
    ):
        depth = np.atleast_1d(-depth if head.inward else depth)
        radii = head.radius_at_m(np.clip(depth, 0, head.depth_m)).reshape(axial.shape)
        depth = depth.reshape(axial.shape)
        if head.inward:
            result &= (depth >= 0) & ((depth > head.depth_m) | (rho >= radii))
        else:
            result &= (depth <= 0) | ((depth <= head.depth_m) & (rho <= radii))
    return result


@some
@given(lying_vessels())
def test_outlines_are_closed_and_reach_as_far_as_the_vessel(tank: LyingVessel):
    outline, plan = np.array(tank.elevation_outline()), np.array(tank.plan_outline())
    assert area_of(outline) > 0  # counter-clockwise
    assert area_of(plan) > 0
    assert np.min(outline[:, 1]) == outline[0, 1] == pytest.approx(0, abs=1e-12 * tank.height_m)
    assert np.max(outline[:, 1]) == pytest.approx(tank.height_m, rel=1e-12)
    assert np.max(outline[:, 0]) == pytest.approx(tank.reach_m(), rel=2e-3)
    for points in (outline, plan):
        assert all(tuple(one) != tuple(other) for one, other in pairwise([*points.tolist(), points[0].tolist()]))
    # No horizontal section is greater than the one seen from above; a polygon in a curve lacks a little.
    levels = np.linspace(0, tank.height_m, 101)
    assert area_of(plan) >= 0.99 * np.max(tank.surface_area_m2(levels)) or has_island(tank)


@pytest.mark.parametrize("tilt_deg", [0, 8, -40])
def test_the_elevation_is_the_section_through_the_axis(tilt_deg: float):
    """A rectangle with a half circle at one end and less one at the other, whichever way it is turned."""
    outward = np.array(lying(2, 6, "hemisphere", tilt_deg=tilt_deg).elevation_outline())
    assert area_of(outward) == pytest.approx(12 + math.pi, rel=1e-3)
    one_inward = np.array(
        lying(2, 6, "hemisphere", ("hemisphere", {"direction": "inward"}), tilt_deg).elevation_outline()
    )
    assert area_of(one_inward) == pytest.approx(12, rel=1e-3)


def has_island(tank: LyingVessel) -> bool:
    """Whether a head pushed in might stand in the section without touching the rim: its outline says nothing of it."""
    geometry = tank._geometry
    return not geometry.is_level and (geometry.first.inward or geometry.second.inward)


def area_of(points: np.ndarray) -> float:
    x, y = points[:, 0], points[:, 1]
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2)


@pytest.mark.parametrize("first", ["flat", "asme_fd", ("cone", {"depth_m": 1.0}), "hemisphere"])
@pytest.mark.parametrize("tilt_deg", [0, 12])
def test_the_plan_is_the_section_of_the_greatest_surface(first: Any, tilt_deg: float):
    tank = lying(2, 5, first, tilt_deg=tilt_deg)
    assert area_of(np.array(tank.plan_outline())) == pytest.approx(tank.surface_area_m2(tank.height_m / 2), rel=3e-3)
