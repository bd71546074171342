"""What must hold for every shape, whatever its body and ends."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from scipy.integrate import quad

from tests.shapes.shape_samples import box, drum, shapes, sphere, upright
from vessels.shapes.build import Shape

shares = st.floats(0, 1)


@given(shapes)
def test_empty_is_zero(tank: Shape):
    assert tank.volume_m3(0.0) == 0.0
    assert tank.level_m(0.0) == 0.0


@given(shapes, st.lists(shares, min_size=2, max_size=20))
def test_volume_never_falls_with_level(tank: Shape, some_shares: list[float]):
    levels = np.sort(np.array(some_shares)) * tank.height_m
    # But for rounding: two levels closer than a float can tell apart in the volume may come out either way.
    assert np.all(np.diff(tank.volume_m3(levels)) >= -1e-15 * tank.total_volume_m3)


@given(shapes, shares)
@example(upright("cone", "flat", 3.0, 12.0, 1.5, 0), 1e-9)
@example(drum(3.0, 9.0), 1e-9)
@example(drum(3.0, 9.0), 1 - 1e-9)
@example(sphere(25.0), 1 - 1e-12)
@example(upright("hemisphere", "hemisphere", 25.0, 1.0, 0, 0), 1 - 1e-12)
def test_level_comes_back_from_volume_within_a_micrometre(tank: Shape, share: float):
    level = share * tank.height_m
    assert tank.level_m(tank.volume_m3(level)) == pytest.approx(level, abs=1e-6)


@given(shapes, shares)
def test_volume_comes_back_from_level(tank: Shape, share: float):
    volume = share * tank.total_volume_m3
    assert tank.volume_m3(tank.level_m(volume)) == pytest.approx(volume, rel=1e-12, abs=1e-12)


@given(shapes, st.floats(0.001, 0.999))
def test_surface_area_is_the_derivative_of_volume(tank: Shape, share: float):
    """By integrating the area instead of differentiating the volume, which would cost digits."""
    level = share * tank.height_m
    joints = [joint for joint in (tank.tangent_height_m, tank.top_tangent_height_m) if 0 < joint < level]
    ends = [0.0, *joints, level]
    integral = sum(quad(tank.surface_area_m2, low, high, epsabs=0, epsrel=1e-11)[0] for low, high in pairwise(ends))
    assert integral == pytest.approx(tank.volume_m3(level), rel=1e-9)


@given(shapes, st.sampled_from(["volume_m3", "surface_area_m2", "half_width_m"]), st.floats(1e-9, 1e6))
def test_a_level_outside_raises_and_names_the_limits(tank: Shape, function: str, beyond: float):
    for level in (-beyond * tank.height_m, tank.height_m * (1 + beyond)):
        with pytest.raises(ValueError, match=r"level_m = .* accepted is 0 …"):
            getattr(tank, function)(level)


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


@given(shapes, shares)
def test_arrays_give_what_floats_give(tank: Shape, share: float):
    level = share * tank.height_m
    levels = np.array([[0.0, level], [tank.tangent_height_m, tank.height_m]])
    volumes = tank.volume_m3(levels)
    assert volumes.shape == levels.shape
    assert volumes[0, 1] == tank.volume_m3(level)
    assert type(tank.volume_m3(level)) is type(tank.level_m(0.0)) is type(tank.half_width_m(level)) is float
    assert tank.level_m(volumes)[0, 1] == tank.level_m(tank.volume_m3(level))


@given(shapes)
def test_full_is_the_total_and_the_height(tank: Shape):
    assert tank.volume_m3(tank.height_m) == pytest.approx(tank.total_volume_m3, rel=1e-12)
    assert tank.level_m(tank.total_volume_m3) == pytest.approx(tank.height_m, abs=1e-6)


@given(shapes)
def test_continuous_at_both_joints(tank: Shape):
    for joint in (tank.tangent_height_m, tank.top_tangent_height_m):
        around = np.array([np.nextafter(joint, 0), joint, min(np.nextafter(joint, math.inf), tank.height_m)])
        assert np.ptp(tank.volume_m3(around)) <= 1e-12 * tank.total_volume_m3
        assert np.ptp(tank.half_width_m(around)) <= 1e-6 * tank.largest_half_width_m


@given(shapes, shares)
def test_bottom_and_roof_are_where_the_inside_begins_and_ends(tank: Shape, share: float):
    radius = share * tank.largest_radius_m
    bottom, roof = tank.bottom_elevation_m(radius), tank.roof_elevation_m(radius)
    assert 0 <= bottom <= roof <= tank.height_m
    radii = np.array([0.0, radius, tank.largest_radius_m])
    assert tank.bottom_elevation_m(radii)[1] == bottom
    assert tank.roof_elevation_m(radii)[1] == roof
    assert type(bottom) is type(roof) is float
    if tank.has_level_roof:
        assert roof == tank.height_m
    for beyond in (-0.1, 1.1):
        for function in (tank.bottom_elevation_m, tank.roof_elevation_m):
            with pytest.raises(ValueError, match="radius_m"):
                function(beyond * tank.largest_radius_m)


@given(shapes)
def test_the_profile_goes_from_the_lowest_to_the_highest_point_in_the_middle(tank: Shape):
    profile = tank.profile()
    assert profile[0] == (0.0, 0.0)
    assert profile[-1] == (0.0, tank.height_m)
    assert [height for _, height in profile] == sorted(height for _, height in profile)
    assert max(radius for radius, _ in profile) == tank.largest_radius_m
