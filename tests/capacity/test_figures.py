"""What internals take away, and the figures read off what is left."""

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.capacity.samples import ball, box, drum, silo, vessels
from vessels.capacity.figures import (
    Contents,
    Internal,
    InternalTooLarge,
    dead_volume,
    volume_at,
    working_capacity,
)
from vessels.capacity.strapping import StrappingTable

COIL = Internal.of_section("coil", 1.0, 2.5, 0.4)
TUBE = Internal("draught tube", 0.5, 3.0, 1.0)  # 0.4 m² of section
TANK = box(3.0, 2.0, 4.0)  # 6 m²


def test_an_internal_displaces_evenly_over_its_height():
    levels = np.array([0.0, 1.0, 1.75, 2.5, 4.0])
    assert COIL.displaced_m3(levels) == pytest.approx(np.array([0, 0, 0.3, 0.6, 0.6]))
    assert COIL.volume_m3 == pytest.approx(0.6)
    assert TUBE.section_m2 == pytest.approx(0.4)
    assert COIL.displaced_m3(1.75) == pytest.approx(0.3)


def test_contents_by_hand():
    """6 m² of tank less 0.4 m² from 1 to 2.5 m and 0.4 m² from 0.5 to 3 m: plain arithmetic."""
    contents = Contents(TANK, (COIL, TUBE))
    for level, volume, area in ((0.5, 3.0, 5.6), (1.0, 5.8, 5.2), (2.5, 13.6, 5.6), (3.0, 16.4, 6.0), (4.0, 22.4, 6.0)):
        assert contents.volume_m3(level) == pytest.approx(volume, rel=1e-14)
        assert contents.surface_area_m2(level) == pytest.approx(area, rel=1e-14)
        assert contents.level_m(volume) == pytest.approx(level, abs=1e-9)
    assert contents.surface_area_m2(0.2) == 6.0
    assert contents.displaced_m3(2.0) == pytest.approx(1.0)
    assert contents.total_volume_m3 == pytest.approx(22.4)
    assert contents.joints_m == (0.0, 0.5, 1.0, 2.5, 3.0, 4.0)
    up_to_the_roof = Contents(TANK, (Internal.of_section("shaft", 2.0, 4.0, 1.0),))
    assert up_to_the_roof.surface_area_m2(4.0) == 5.0


@st.composite
def contents_of(draw: st.DrawFn) -> Contents:
    source: Any = draw(vessels)
    if draw(st.booleans()):
        levels = np.linspace(0, source.height_m, draw(st.integers(5, 40)))
        source = StrappingTable(levels, source.volume_m3(levels), draw(st.sampled_from(["linear", "monotone_cubic"])))
        height = source.highest_level_m
    else:
        height = source.height_m
    internals = []
    for number in range(draw(st.integers(0, 3))):
        low = draw(st.floats(0.3, 0.6)) * height
        high = low + draw(st.floats(0.05, 0.15)) * height
        internals.append(Internal.of_section(f"internal {number}", low, high, draw(st.floats(0, 0.3))))
    return Contents(source, tuple(internals))


@given(contents_of(), st.floats(0, 1))
@settings(deadline=None)
def test_level_comes_back_within_a_micrometre(contents: Contents, share: float):
    level = share * contents.highest_level_m
    volume = contents.volume_m3(level)
    assert contents.volume_m3(contents.level_m(volume)) == pytest.approx(volume, rel=1e-9, abs=1e-12)
    # Where the surface has no area (the ends of a ball or a drum, less so of a table) a level says nothing.
    if contents.surface_area_m2(level) > 0.05:
        assert contents.level_m(volume) == pytest.approx(level, abs=1e-6)


@given(contents_of())
@settings(deadline=None)
def test_the_net_curve_never_falls_and_its_slope_is_its_area(contents: Contents):
    levels = np.linspace(contents.lowest_level_m, contents.highest_level_m, 3001)
    volumes = contents.volume_m3(levels)
    assert np.all(np.diff(volumes) >= -1e-12 * volumes[-1])
    assert np.all(contents.surface_area_m2(levels) >= 0)
    joints = contents.joints_m
    for low, high in pairwise(joints):
        if high - low < 1e-3:
            continue
        nodes, weights = np.polynomial.legendre.leggauss(40)
        places = low + (high - low) * (nodes + 1) / 2
        integral = float((contents.surface_area_m2(places) * weights).sum() * (high - low) / 2)
        assert integral == pytest.approx(contents.volume_m3(high) - contents.volume_m3(low), rel=2e-4, abs=1e-9)


def test_arrays_come_back_in_their_form():
    contents = Contents(TANK, (COIL,))
    levels = np.array([[0.5, 1.2], [2.0, 3.9]])
    assert contents.level_m(contents.volume_m3(levels)) == pytest.approx(levels, abs=1e-9)
    assert contents.surface_area_m2(levels).shape == (2, 2)
    assert type(contents.volume_m3(1.2)) is type(contents.level_m(3.0)) is type(contents.displaced_m3(1.2)) is float


def test_contents_of_a_table_with_dead_stock():
    table = StrappingTable([0.2, 1.2, 2.2], [0.5, 3.0, 6.0])
    contents = Contents(table, (Internal.of_section("pipe", 0.7, 1.2, 0.5),))
    assert (contents.lowest_level_m, contents.highest_level_m) == (0.2, 2.2)
    assert contents.volume_m3(0.2) == 0.5
    assert contents.volume_m3(2.2) == pytest.approx(5.75)
    with pytest.raises(ValueError, match=r"outside the capacity curve: accepted is 0\.2 … 2\.2 m"):
        contents.volume_m3(0.1)
    with pytest.raises(ValueError, match=r"volume_m3 = 0\.4 m³"):
        contents.level_m(0.4)


# --- internals that cannot be -------------------------------------------------------------------------------


def test_internals_larger_than_the_section_are_named():
    bundle = Internal.of_section("tube bundle", 1.0, 2.0, 4.0)
    jacket = Internal.of_section("inner jacket", 1.5, 3.0, 2.1)
    assert Contents(TANK, (bundle,)).total_volume_m3 == pytest.approx(20)
    with pytest.raises(
        InternalTooLarge, match=r"tube bundle and inner jacket displace 6\.1 m² at a level of"
    ) as refused:
        Contents(TANK, (bundle, jacket))
    assert refused.value.names == ("tube bundle", "inner jacket")
    assert 1.5 <= refused.value.level_m <= 2.0


def test_a_part_in_the_tip_of_a_cone_is_too_large():
    shape = silo(2.0, 6.0, "cone", bottom_depth_m=2.0)
    with pytest.raises(InternalTooLarge, match="anchor"):
        Contents(shape, (Internal.of_section("anchor", 0.0, 1.0, 0.2),))
    with pytest.raises(InternalTooLarge, match="anchor"):
        Contents(ball(2.0), (Internal.of_section("anchor", 1.5, 2.0, 0.1),))


def test_an_internal_beyond_the_vessel_is_refused():
    with pytest.raises(ValueError, match=r"mast = 4\.5 m is outside the vessel: accepted is 0\.0 … 4\.0 m"):
        Contents(TANK, (Internal("mast", 3.0, 4.5, 0.1),))


def test_impossible_internals():
    for values, message in (
        ((2.0, 1.0, 0.5), "to_level_m = 1.0 m: accepted is a level above"),
        ((1.0, 1.0, 0.5), "to_level_m"),
        ((1.0, 2.0, -0.5), "volume_m3 = -0.5"),
        ((1.0, 2.0, math.nan), "volume_m3 = nan"),
        ((math.nan, 2.0, 0.5), "finite levels"),
    ):
        with pytest.raises(ValueError, match=message):
            Internal("part", *values)
    with pytest.raises(ValueError, match="section_m2"):
        Internal.of_section("part", 0, 1, -1.0)


# --- figures ------------------------------------------------------------------------------------------------


def test_figures_by_hand():
    contents = Contents(TANK, (COIL,))
    dead = dead_volume(contents, 0.25)
    assert (dead.volume_m3, dead.level_m) == (pytest.approx(1.5), 0.25)
    assert dead.share == pytest.approx(1.5 / 23.4)
    assert volume_at(contents, 3.8).volume_m3 == pytest.approx(22.2)
    working = working_capacity(contents, 0.5, 3.0)
    assert working.volume_m3 == pytest.approx(2.5 * 6 - 0.6)
    assert working.level_m == 3.0


def test_dead_volume_of_a_dished_bottom_is_the_cap_of_a_ball():
    """π·h²·(r − h/3), r = 1.5 m, outlet 0.3 m above the lowest point: elementary geometry."""
    contents = Contents(silo(1.5, 3.0, "hemisphere"))
    assert dead_volume(contents, 0.3).volume_m3 == pytest.approx(math.pi * 0.09 * 1.4, rel=1e-12)
    assert dead_volume(contents, 0.0).volume_m3 == 0.0


def test_figures_have_limits():
    contents = Contents(drum())
    with pytest.raises(ValueError, match="outside the capacity curve"):
        volume_at(contents, 2.1)
    with pytest.raises(ValueError, match="a level above the lower one"):
        working_capacity(contents, 1.0, 1.0)


def test_contents_of_contents_are_contents():
    twice = Contents(Contents(TANK, (COIL,)), (TUBE,))
    once = Contents(TANK, (COIL, TUBE))
    levels = np.linspace(0, 4, 101)
    assert twice.volume_m3(levels) == pytest.approx(once.volume_m3(levels), rel=1e-14)
    assert twice.level_m(20.0) == pytest.approx(once.level_m(20.0), abs=1e-9)
