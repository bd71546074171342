"""What must hold for every shape, whatever its body and ends."""

import math

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.integrate import tanhsinh

from tests.shapes.shape_samples import box, drum, drums, frusta, shape, shapes, sphere, standing, upright, uprights
from vessels.shapes.build import Shape

shares = st.floats(0, 1)
bearings = st.none() | st.floats(-7, 7)
# A lying vessel makes a table of levels when it is first asked.
unhurried = settings(deadline=None)


@unhurried
@given(shapes)
def test_empty_is_zero(tank: Shape):
    assert tank.volume_m3(0.0) == 0.0
    assert tank.level_m(0.0) == 0.0


@unhurried
@given(shapes, st.lists(shares, min_size=2, max_size=20))
def test_volume_never_falls_with_level(tank: Shape, some_shares: list[float]):
    levels = np.sort(np.array(some_shares)) * tank.height_m
    # But for rounding: two levels closer than a float can tell apart in the volume may come out either way.
    assert np.all(np.diff(tank.volume_m3(levels)) >= -2e-15 * tank.total_volume_m3)


@unhurried
@given(shapes, shares)
@example(upright("cone", "flat", 3.0, 12.0, 1.5, 0), 1e-9)
@example(drum(3.0, 9.0), 1e-9)
@example(drum(3.0, 9.0), 1 - 1e-9)
@example(sphere(25.0), 1 - 1e-12)
@example(upright("hemisphere", "hemisphere", 25.0, 1.0, 0, 0), 1 - 1e-12)
def test_level_comes_back_from_volume_within_a_micrometre(tank: Shape, share: float):
    """Or where its volume is the same but for rounding: near a pointed roof a double cannot tell more."""
    level = share * tank.height_m
    volume = tank.volume_m3(level)
    back = tank.level_m(volume)
    assert abs(back - level) <= 1e-6 or abs(tank.volume_m3(back) - volume) <= 2e-15 * tank.total_volume_m3


@unhurried
@given(shapes, shares)
def test_volume_comes_back_from_level(tank: Shape, share: float):
    volume = share * tank.total_volume_m3
    assert tank.volume_m3(tank.level_m(volume)) == pytest.approx(
        volume, rel=1e-12, abs=1e-12 * max(1.0, tank.total_volume_m3)
    )


@unhurried
@given(shapes, st.floats(0.001, 0.999))
def test_surface_area_is_the_derivative_of_volume(tank: Shape, share: float):
    """By integrating the area instead of differentiating the volume, which would cost digits."""
    level = share * tank.height_m
    # Kinks, where one part ends and the next begins, are among the heights of the outline.
    ends = np.array(sorted({0.0, level, *(height for _, height in tank.elevation_outline() if height < level)}))
    integral = float(np.sum(tanhsinh(tank.surface_area_m2, ends[:-1], ends[1:], rtol=1e-10, maxlevel=8).integral))
    assert integral == pytest.approx(tank.volume_m3(level), rel=1e-8, abs=1e-12 * tank.total_volume_m3)


@unhurried
@given(shapes, st.sampled_from(["volume_m3", "surface_area_m2", "half_width_m"]), st.floats(1e-9, 1e6))
def test_a_level_outside_raises_and_names_the_limits(tank: Shape, function: str, beyond: float):
    for level in (-beyond * tank.height_m, tank.height_m * (1 + beyond)):
        with pytest.raises(ValueError, match=r"level_m = .* accepted is 0 …"):
            getattr(tank, function)(level)


@unhurried
@given(shapes, st.floats(1e-9, 1e6))
def test_a_volume_outside_raises_and_names_the_limits(tank: Shape, beyond: float):
    for volume in (-beyond * tank.total_volume_m3, tank.total_volume_m3 * (1 + beyond)):
        with pytest.raises(ValueError, match=r"volume_m3 = .* accepted is 0 … .* m³"):
            tank.level_m(volume)


@pytest.mark.parametrize("level", [math.nan, math.inf, -math.inf])
def test_a_level_that_is_no_number_raises(level: float):
    with pytest.raises(ValueError, match="level_m"):
        drum(10, 3).volume_m3(level)


def test_one_bad_level_in_an_array_raises_and_is_named():
    with pytest.raises(ValueError, match=r"level_m = 10\.5 m"):
        drum(10, 3).volume_m3(np.array([1.0, 10.5, 2.0]))


def test_rounding_noise_at_the_limits_is_taken_as_the_limit():
    """The one rule: up to 1e-12 of the height. 0.1 + 0.2 m is such a sum."""
    tank = box(3, 2, 0.3)
    assert tank.volume_m3(0.1 + 0.2) == tank.total_volume_m3
    assert tank.volume_m3(0.3 - (0.1 + 0.2)) == 0.0
    with pytest.raises(ValueError, match="level_m"):
        tank.volume_m3(0.3 * (1 + 1e-11))
    with pytest.raises(ValueError, match="level_m"):
        tank.volume_m3(-0.3e-11)


@unhurried
@given(shapes, shares)
def test_arrays_give_what_floats_give(tank: Shape, share: float):
    level = share * tank.height_m
    levels = np.array([[0.0, level], [tank.tangent_height_m, tank.height_m]])
    volumes = tank.volume_m3(levels)
    assert volumes.shape == levels.shape
    assert volumes[0, 1] == tank.volume_m3(level)
    assert type(tank.volume_m3(level)) is type(tank.level_m(0.0)) is type(tank.half_width_m(level)) is float
    assert tank.level_m(volumes)[0, 1] == tank.level_m(tank.volume_m3(level))


@unhurried
@given(shapes)
def test_full_is_the_total_and_the_height(tank: Shape):
    assert tank.volume_m3(tank.height_m) == pytest.approx(tank.total_volume_m3, rel=1e-12)
    top = tank.level_m(tank.total_volume_m3)
    rest = tank.total_volume_m3 - tank.volume_m3(top)
    assert abs(top - tank.height_m) <= 1e-6 or abs(rest) <= 2e-15 * tank.total_volume_m3


@unhurried
@given(shapes)
def test_continuous_at_every_height_of_its_outline(tank: Shape):
    for joint in {tank.tangent_height_m, tank.top_tangent_height_m, *(z for _, z in tank.elevation_outline())}:
        joint = min(max(joint, 0.0), tank.height_m)
        around = np.array([np.nextafter(joint, 0), joint, min(np.nextafter(joint, math.inf), tank.height_m)])
        assert np.ptp(tank.volume_m3(around)) <= 1e-12 * tank.total_volume_m3
        assert np.ptp(tank.half_width_m(around)) <= 1e-6 * tank.largest_half_width_m


# --- places in plan ---------------------------------------------------------------------------------------

CIRCLE = 120  # places on a circle


@unhurried
@given(shapes, shares, bearings)
def test_bottom_and_roof_are_where_the_inside_begins_and_ends(tank: Shape, share: float, bearing: float | None):
    reach = tank.reach_m(bearing)
    radius = share * reach
    bottom, roof = tank.bottom_elevation_m(radius, bearing), tank.roof_elevation_m(radius, bearing)
    assert -1e-12 * tank.height_m <= bottom <= roof + 1e-12 * tank.height_m
    assert roof <= tank.height_m * (1 + 1e-12)
    radii = np.array([0.0, radius, reach])
    assert tank.bottom_elevation_m(radii, bearing)[1] == bottom
    assert tank.roof_elevation_m(radii, bearing)[1] == roof
    assert type(bottom) is type(roof) is float
    if tank.has_level_roof and bearing is None:
        assert roof == pytest.approx(tank.height_m, rel=1e-12)
    for beyond in (-0.1, 1.1):
        for function in (tank.bottom_elevation_m, tank.roof_elevation_m):
            with pytest.raises(ValueError, match="radius_m"):
                function(beyond * reach, bearing)


@unhurried
@given(standing, st.floats(0.01, 0.99), st.floats(0.01, 0.99), bearings)
def test_a_place_between_bottom_and_roof_is_inside_and_its_wall_is_where_one_of_them_is(
    tank: Shape, share: float, height_share: float, bearing: float | None
):
    """On a circle as wide as the wall is far, every place is inside; a trifle farther some place is not."""
    radius = share * tank.reach_m(bearing)
    bottom, roof = tank.bottom_elevation_m(radius, bearing), tank.roof_elevation_m(radius, bearing)
    level = bottom + height_share * (roof - bottom)
    distance = tank.wall_distance_m(level, radius, bearing)
    assert 0 < distance <= tank.largest_half_width_m * (1 + 1e-9) or distance <= tank.largest_radius_m
    angle = tank.axis_bearing_rad if bearing is None else bearing
    turns = np.linspace(0, 2 * math.pi, CIRCLE, endpoint=False)

    def inside(around: float) -> int:
        """How many places of that circle are inside at this level."""
        along = radius * math.cos(angle) + around * np.cos(turns)
        across = radius * math.sin(angle) + around * np.sin(turns)
        return sum(_is_inside(tank, level, float(x), float(y)) for x, y in zip(along, across, strict=True))

    assert inside(distance * (1 - 1e-6)) == CIRCLE
    assert inside(distance * 1.001 + 1e-6) < CIRCLE


def _is_inside(tank: Shape, level: float, north: float, east: float) -> bool:
    radius, bearing = math.hypot(north, east), math.atan2(east, north)
    if radius > tank.reach_m(bearing):
        return False
    try:
        tank.wall_distance_m(level, radius, bearing)
    except ValueError:
        return False
    return True


@given(standing, shares)
def test_a_round_vessel_is_the_same_at_every_bearing(tank: Shape, share: float):
    if tank.is_round:
        radius = share * tank.largest_radius_m
        for bearing in (0.0, 1.0, 4.0):
            assert tank.reach_m(bearing) == tank.largest_radius_m
            assert tank.bottom_elevation_m(radius, bearing) == pytest.approx(
                tank.bottom_elevation_m(radius), abs=1e-7 * tank.height_m
            )


def test_a_level_outside_the_walls_at_a_place_is_refused():
    tank = upright("cone", "flat", 4.0, 10.0, 2.0, 0)
    assert tank.wall_distance_m(1.0, 0.25) == pytest.approx(0.75)
    assert tank.wall_distance_m(np.array([1.0, 5.0]), 0.25).tolist() == pytest.approx([0.75, 1.75])
    with pytest.raises(ValueError, match=r"level_m = 1\.0 m lies outside the walls at radius_m = 1\.5 m: .* from 1\.5"):
        tank.wall_distance_m(1.0, 1.5)
    with pytest.raises(ValueError, match="bearing_rad"):
        tank.reach_m(math.nan)


# --- drawing ----------------------------------------------------------------------------------------------


def polygon_area(points: list[tuple[float, float]]) -> float:
    """Above 0 where it goes counter-clockwise (shoelace formula)."""
    sides = zip(points, [*points[1:], points[0]], strict=True)
    return sum(x * next_y - next_x * y for (x, y), (next_x, next_y) in sides) / 2


@unhurried
@given(shapes)
def test_the_outline_goes_round_the_inside_from_its_lowest_point(tank: Shape):
    outline = tank.elevation_outline()
    heights = [height for _, height in outline]
    assert heights[0] == min(heights) == 0.0
    assert max(heights) == pytest.approx(tank.height_m, rel=1e-12)
    assert outline[0][0] == min(x for x, height in outline if height == 0.0)
    assert polygon_area(outline) > 0
    assert len(set(outline)) == len(outline)
    for (left, low), (right, high) in tank.elevation_lines():
        assert 0 <= low <= tank.height_m
        assert 0 <= high <= tank.height_m
        assert left < right or low != high


@given(st.one_of(uprights(), frusta()))
def test_the_outline_of_a_round_vessel_lies_on_its_walls(tank: Shape):
    places = np.array(tank.elevation_outline())
    radii, heights = np.minimum(np.abs(places[:, 0]), tank.largest_radius_m), np.minimum(places[:, 1], tank.height_m)
    gaps = (
        tank.half_width_m(heights) - radii,
        tank.bottom_elevation_m(radii) - heights,
        tank.roof_elevation_m(radii) - heights,
    )
    assert np.all(np.min(np.abs(gaps), axis=0) <= 1e-7 * (tank.height_m + tank.largest_radius_m))


@given(standing)
def test_the_plan_is_the_greatest_section(tank: Shape):
    plan = tank.plan_outline()
    assert polygon_area(plan) > 0
    for x, y in plan:
        bearing = tank.axis_bearing_rad + math.atan2(y, x)
        assert math.hypot(x, y) == pytest.approx(tank.reach_m(bearing), rel=1e-9)


@given(st.one_of(standing, drums))
def test_the_profile_goes_from_the_lowest_to_the_highest_point_in_the_middle(tank: Shape):
    profile = tank.profile()
    assert profile[0] == (0.0, pytest.approx(tank.bottom_elevation_m(0.0), abs=1e-12 * tank.height_m))
    assert profile[-1] == (0.0, pytest.approx(tank.roof_elevation_m(0.0), rel=1e-12))
    assert max(radius for radius, _ in profile) == pytest.approx(tank.largest_radius_m, rel=1e-12)


def test_the_method_is_told():
    assert "Closed form" in shape("sphere", diameter_m=2.0).method
