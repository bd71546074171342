"""What must hold for every lying vessel, and what is refused."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from tests.shapes.lying_samples import lying, lying_vessels
from vessels.shapes.errors import ImpossibleShape
from vessels.shapes.heads import head_from
from vessels.shapes.lying import LyingVessel, lying_cylinder, lying_oval

shares = st.floats(0, 1)
some = settings(max_examples=60, deadline=None)


@some
@given(lying_vessels(), st.lists(shares, min_size=2, max_size=20))
def test_empty_full_and_never_falling(tank: LyingVessel, some_shares: list[float]):
    assert tank.volume_m3(0.0) == 0.0
    assert tank.level_m(0.0) == 0.0
    assert tank.volume_m3(tank.height_m) == tank.total_volume_m3
    assert tank.level_m(tank.total_volume_m3) == pytest.approx(tank.height_m, abs=1e-6)
    levels = np.sort(np.array([*some_shares, 0.0, 0.5, 1.0])) * tank.height_m
    assert np.all(np.diff(tank.volume_m3(levels)) >= -1e-15 * tank.total_volume_m3)


@some
@given(lying_vessels())
def test_full_is_the_shell_with_its_heads(tank: LyingVessel):
    """Total of the closed forms of shell and heads, and the same from the integration of both halves of the levels."""
    geometry, ratio = tank._geometry, tank._ratio
    half = np.array([geometry.height_m / 2])
    both = geometry.below(half)[0] + geometry.upside_down.below(half)[0]
    assert ratio * both[0] == pytest.approx(tank.total_volume_m3, rel=1e-12)


@some
@given(lying_vessels(), st.lists(shares, min_size=1, max_size=8))
def test_the_table_is_what_it_was_made_from(tank: LyingVessel, some_shares: list[float]):
    levels = np.array(some_shares) * tank.height_m
    volumes, areas = (tank._ratio * found for found in tank._geometry.below(levels))
    # Nearly empty the integration itself only knows the level to the rounding of the diameter.
    rounding = 1e-15 * areas * tank.height_m
    assert np.all(np.abs(tank.volume_m3(levels) - volumes) <= 1e-11 * volumes + 1e-13 * tank.total_volume_m3 + rounding)
    assert tank.surface_area_m2(levels) == pytest.approx(areas, rel=1e-9, abs=1e-9 * np.max(areas) + 1e-12)


@some
@given(lying_vessels(), shares)
def test_level_comes_back_from_volume_within_a_micrometre(tank: LyingVessel, share: float):
    level = share * tank.height_m
    volume = tank.volume_m3(level)
    found = tank.level_m(volume)
    if abs(found - level) > 1e-6:
        # Near the highest point of a tilted vessel a micrometre holds less than a float of the volume can tell.
        assert level > 0.9 * tank.height_m
        assert abs(tank.volume_m3(found) - volume) <= 2 * np.spacing(tank.total_volume_m3)
        assert tank.surface_area_m2(level) * 1e-6 < 8 * np.spacing(tank.total_volume_m3)


@some
@given(lying_vessels(), shares)
def test_volume_comes_back_from_level(tank: LyingVessel, share: float):
    volume = share * tank.total_volume_m3
    assert tank.volume_m3(tank.level_m(volume)) == pytest.approx(volume, rel=1e-12, abs=1e-12)


@settings(max_examples=30, deadline=None)
@given(lying_vessels(), st.floats(0.01, 0.99))
def test_surface_area_is_the_derivative_of_volume(tank: LyingVessel, share: float):
    """By integrating the area instead of differentiating the volume, which would cost digits."""
    level = share * tank.height_m
    turning = [one for one in tank._geometry.turning_levels() if 1e-9 < one < level - 1e-9]
    ends = [0.0, *sorted(turning), level]
    integral = sum(quad(tank.surface_area_m2, low, high, epsabs=1e-13, epsrel=1e-11)[0] for low, high in pairwise(ends))
    assert integral == pytest.approx(tank.volume_m3(level), rel=1e-9, abs=1e-12)


@some
@given(lying_vessels())
def test_continuous_where_the_surface_passes_a_joint(tank: LyingVessel):
    for joint in tank._geometry.turning_levels():
        around = np.clip(joint + np.array([-1e-12, 0, 1e-12]) * tank.height_m, 0, tank.height_m)
        assert np.ptp(tank.volume_m3(around)) <= 1e-11 * tank.total_volume_m3
        greatest = np.max(tank.surface_area_m2(np.linspace(0, tank.height_m, 33)))
        assert np.ptp(tank.surface_area_m2(around)) <= 1e-5 * greatest


@some
@given(lying_vessels(), st.lists(shares, min_size=3, max_size=12))
def test_arrays_give_what_floats_give(tank: LyingVessel, some_shares: list[float]):
    levels = np.array(some_shares) * tank.height_m
    volumes = tank.volume_m3(levels)
    found, areas, widths = tank.level_m(volumes), tank.surface_area_m2(levels), tank.half_width_m(levels)
    for number, level in enumerate(levels.tolist()):
        assert tank.volume_m3(level) == volumes[number]
        assert tank.level_m(float(volumes[number])) == found[number]
        assert tank.surface_area_m2(level) == areas[number]
        assert tank.half_width_m(level) == widths[number]
    assert tank.volume_m3(levels.reshape(1, -1, 1)).shape == (1, len(levels), 1)
    assert type(tank.volume_m3(0.0)) is type(tank.level_m(0.0)) is float


@settings(max_examples=30, deadline=None)
@given(lying_vessels(), st.floats(1e-9, 1e6))
def test_outside_raises_and_names_the_limits(tank: LyingVessel, beyond: float):
    for level in (-beyond * tank.height_m, tank.height_m * (1 + beyond), math.nan):
        for function in (tank.volume_m3, tank.surface_area_m2, tank.half_width_m):
            with pytest.raises(ValueError, match=r"level_m = .* accepted is 0 …"):
                function(level)
    for volume in (-beyond * tank.total_volume_m3, tank.total_volume_m3 * (1 + beyond)):
        with pytest.raises(ValueError, match=r"volume_m3 = .* accepted is 0 …"):
            tank.level_m(volume)


@pytest.mark.parametrize("tilt_deg", [3.0, 20.0])
@pytest.mark.parametrize("first, second", [("asme_fd", "flat"), (("cone", {"depth_m": 2.0}), "hemisphere")])
def test_a_mirrored_tilt_holds_the_same(first: object, second: object, tilt_deg: float):
    """A drum seen from its other side: ends and tilt the other way round."""
    one, other = lying(2, 5, first, second, tilt_deg), lying(2, 5, second, first, -tilt_deg)
    levels = np.linspace(0, one.height_m, 40)
    assert one.height_m == pytest.approx(other.height_m, rel=1e-14)
    assert one.volume_m3(levels) == pytest.approx(other.volume_m3(levels), rel=1e-12, abs=1e-13)


def test_a_head_pushed_in_takes_what_it_holds_outward():
    outward = lying(2, 5, "asme_fd", "flat")
    inward = lying(2, 5, ("asme_fd", {"direction": "inward"}), "flat")
    flat = lying(2, 5)
    levels = np.linspace(0, 2, 30)
    expected = 2 * flat.volume_m3(levels) - outward.volume_m3(levels)
    assert inward.volume_m3(levels) == pytest.approx(expected, rel=1e-11, abs=1e-13)


def test_a_straight_flange_lengthens_the_shell():
    with_flange = lying(2, 5, ("asme_fd", {"straight_flange_m": 0.25}), "asme_fd")
    levels = np.linspace(0, 2, 30)
    assert with_flange.volume_m3(levels) == pytest.approx(lying(2, 5.25, "asme_fd").volume_m3(levels), rel=1e-12)


# --- what is refused ------------------------------------------------------------------------------------------

FLAT = head_from("flat", 1.0)


@pytest.mark.parametrize("name", ["diameter_m", "cylinder_length_m"])
@pytest.mark.parametrize("value", [None, 0.0, -2.0, math.nan, math.inf, 1e-300])
def test_an_impossible_length_of_a_drum_is_named(name: str, value: float | None):
    lengths = {"diameter_m": 2.0, "cylinder_length_m": 5.0, name: value}
    with pytest.raises(ImpossibleShape, match="above 0 m") as caught:
        lying_cylinder(**lengths, first=FLAT, second=FLAT)
    assert (caught.value.argument, caught.value.value) == (name, value) or value is math.nan


@pytest.mark.parametrize("name", ["box_width_m", "section_height_m", "cylinder_length_m"])
def test_an_impossible_length_of_an_oval_is_named(name: str):
    lengths = {"box_width_m": 3.0, "section_height_m": 2.0, "cylinder_length_m": 5.0, name: -1.0}
    with pytest.raises(ImpossibleShape) as caught:
        lying_oval(**lengths, first=FLAT, second=FLAT)
    assert caught.value.argument == name


@pytest.mark.parametrize("tilt", [math.pi / 4, -1.0, math.nan, math.inf])
def test_a_tilt_out_of_range_is_named(tilt: float):
    with pytest.raises(ImpossibleShape, match=r"between −45° and 45°") as caught:
        lying_cylinder(2, 5, FLAT, FLAT, tilt)
    assert caught.value.argument == "tilt_rad"


def test_a_tilted_oval_is_refused():
    with pytest.raises(ImpossibleShape, match="lies level") as caught:
        lying_oval(3, 2, 5, FLAT, FLAT, 0.01)
    assert caught.value.argument == "tilt_rad"
    assert lying_oval(3, 2, 5, FLAT, FLAT, 0.0).height_m == 2


@pytest.mark.parametrize("length, fits", [(2.01, True), (1.99, False)])
def test_heads_pushed_in_must_not_meet(length: float, fits: bool):
    inward = head_from("hemisphere", 1.0, direction="inward")
    if fits:
        assert lying_cylinder(2, length, inward, inward).total_volume_m3 > 0
        return
    with pytest.raises(ImpossibleShape, match="must not meet") as caught:
        lying_cylinder(2, length, inward, inward)
    assert caught.value.argument == "cylinder_length_m"
