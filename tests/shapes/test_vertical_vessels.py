"""Vertical vessels against published values, an independent library, and what must hold for each of them."""

import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from fluids.geometry import TANK
from hypothesis import given
from hypothesis import strategies as st

from tests.shapes.shape_samples import box, drum, shape, sphere
from vessels.shapes.build import ImpossibleShape, Shape, shape_from_values
from vessels.shapes.segments import Frustum
from vessels.shapes.stack import VerticalStack

US_GALLON_M3 = 231 * 0.0254**3  # 231 cubic inches exactly: NIST SP 811, appendix B
INCH_M = 0.0254

# Levels and volumes by numerical integration with 25 digits; each row names a second method that agrees.
TANK_CASES = Path(__file__).parents[1] / "reference" / "tank_cases.json"
CASES: list[dict[str, Any]] = json.loads(TANK_CASES.read_text(encoding="utf-8"))["cases"]


def vessel(diameter_m: float, cylinder_height_m: float, depth_m: float | None = None) -> Shape:
    return shape_from_values(
        body="vertical_cylinder",
        bottom="flat" if depth_m is None else "cone",
        top="flat",
        diameter_m=diameter_m,
        cylinder_height_m=cylinder_height_m,
        bottom_depth_m=depth_m,
    )


lengths = st.floats(0.02, 100)
vessels = st.builds(vessel, lengths, lengths, st.one_of(st.none(), lengths))
shares = st.floats(0, 1)


# --- published and independent values --------------------------------------------------------------------


@pytest.mark.parametrize(
    "level_in, volume_gal",
    [(24, 250.67461381371024), (60, 2251.175535772343)],
)
def test_conical_bottom_agrees_with_jones_calculating_tank_volume(level_in: float, volume_gal: float):
    """D. Jones, "Calculating Tank Volume": vertical tank, D = 132 in, conical bottom 33 in deep; digits
    beyond the article's as held in the tests of the fluids library."""
    tank = vessel(132 * INCH_M, 200 * INCH_M, 33 * INCH_M)
    assert tank.volume_m3(level_in * INCH_M) / US_GALLON_M3 == pytest.approx(volume_gal, rel=1e-12)


def flat_or_cone(dims: dict[str, Any]) -> Shape:
    return vessel(dims["D"], dims["L"], dims.get("a"))


def truncated_hopper(dims: dict[str, Any]) -> Shape:
    return shape(
        "vertical_cylinder", "truncated_cone", diameter_m=dims["D"], cylinder_height_m=dims["L"],
        bottom_depth_m=dims["H_hopper"], outlet_diameter_m=dims["d_outlet"],
    )  # fmt: skip


def two_half_balls(dims: dict[str, Any]) -> Shape:
    assert dims["a"] == dims["D"] / 2
    return shape(
        "vertical_cylinder", "hemisphere", "hemisphere", diameter_m=dims["D"], cylinder_height_m=dims["L"]
    )


def two_cones(dims: dict[str, Any]) -> Shape:
    radius, depth = dims["D"] / 2, dims["a"]
    body = Frustum(radius, radius, dims["L"])
    return VerticalStack([Frustum(0, radius, depth)], [body], [Frustum(radius, 0, depth)])


@pytest.mark.parametrize(
    "wanted, composed",
    [
        ("vertical_cylinder/both heads flat", flat_or_cone),
        ("vertical_cylinder/bottom conical", flat_or_cone),
        ("vertical_silo/conical frustum hopper", truncated_hopper),
        ("vertical_cylinder/both heads hemispherical", two_half_balls),
        # No vessel has a conical roof yet; the segments carry it already.
        ("vertical_cylinder/both heads conical a=0.6", two_cones),
        ("horizontal_cylinder/both heads flat", lambda dims: drum(dims["D"], dims["L"])),
        ("sphere", lambda dims: sphere(dims["D"])),
        ("rectangular", lambda dims: box(dims["L"], dims["W"], dims["H"])),
    ],
)
def test_agrees_with_integration(wanted: str, composed: Callable[[dict[str, Any]], Shape]):
    rows = [row for row in CASES if row["shape"] == wanted]
    assert rows
    for row in rows:
        assert composed(row["dims_m"]).volume_m3(row["level_m"]) == pytest.approx(row["volume_m3"], rel=1e-12)


@given(lengths, lengths, st.one_of(st.none(), lengths), shares)
def test_agrees_with_the_fluids_library(diameter: float, height: float, depth: float | None, share: float):
    """Independent implementation: TANK of the fluids library."""
    ours = vessel(diameter, height, depth)
    ends: dict[str, Any] = {} if depth is None else {"sideA": "conical", "sideA_a": depth}
    theirs = TANK(D=diameter, L=height, horizontal=False, **ends)
    level = share * ours.height_m
    assert ours.volume_m3(level) == pytest.approx(theirs.V_from_h(level), rel=1e-9, abs=1e-12)
    assert ours.total_volume_m3 == pytest.approx(theirs.V_total, rel=1e-9)


@given(lengths, lengths, lengths)
def test_full_is_the_closed_form(diameter: float, height: float, depth: float):
    flat = math.pi * diameter**2 / 4 * height
    cone = math.pi * diameter**2 / 4 * depth / 3
    without, with_cone = vessel(diameter, height), vessel(diameter, height, depth)
    assert without.total_volume_m3 == pytest.approx(flat, rel=1e-12)
    assert with_cone.total_volume_m3 == pytest.approx(flat + cone, rel=1e-12)
    assert with_cone.volume_m3(with_cone.height_m) == pytest.approx(flat + cone, rel=1e-12)


@given(lengths, lengths, lengths)
def test_continuous_at_the_tangent_line(diameter: float, height: float, depth: float):
    tank = vessel(diameter, height, depth)
    joint = tank.tangent_height_m
    around = np.array([np.nextafter(joint, 0), joint, np.nextafter(joint, math.inf)])
    assert np.ptp(tank.volume_m3(around)) <= 1e-12 * tank.total_volume_m3
    assert np.ptp(tank.half_width_m(around)) <= 1e-12 * diameter
    volumes = tank.volume_m3(joint) * np.array([1 - 1e-15, 1, 1 + 1e-15])
    assert np.ptp(tank.level_m(np.minimum(volumes, tank.total_volume_m3))) <= 1e-9


# --- geometry other than volume --------------------------------------------------------------------------


def test_the_flat_vessel():
    tank = vessel(4, 10)
    assert (tank.height_m, tank.tangent_height_m, tank.top_tangent_height_m) == (10, 0, 10)
    assert tank.half_width_m(0.0) == tank.half_width_m(10.0) == 2
    assert tank.surface_area_m2(3.0) == pytest.approx(4 * math.pi)
    assert tank.bottom_elevation_m(np.array([0.0, 1.0, 2.0])).tolist() == [0, 0, 0]
    assert tank.profile() == [(0, 0), (2, 0), (2, 10), (0, 10)]


def test_the_vessel_with_a_cone():
    tank = vessel(4, 10, 3)
    assert (tank.height_m, tank.tangent_height_m, tank.top_tangent_height_m) == (13, 3, 13)
    assert tank.half_width_m(np.array([0.0, 1.5, 3.0, 8.0])).tolist() == [0, 1, 2, 2]
    assert tank.surface_area_m2(0.0) == 0
    assert tank.bottom_elevation_m(np.array([0.0, 1.0, 2.0])).tolist() == [0, 1.5, 3]
    assert tank.profile() == [(0, 0), (2, 3), (2, 13), (0, 13)]


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


# --- impossible dimensions, by name ----------------------------------------------------------------------

GOOD: dict[str, Any] = {
    "body": "vertical_cylinder",
    "bottom": "cone",
    "top": "flat",
    "diameter_m": 3.0,
    "cylinder_height_m": 10.0,
    "bottom_depth_m": 1.0,
}


@pytest.mark.parametrize("argument", ["diameter_m", "cylinder_height_m", "bottom_depth_m"])
@pytest.mark.parametrize("value", [None, 0.0, -0.0, -2.0, math.nan, math.inf, -math.inf, 1e-300, 1e200])
def test_an_impossible_length_is_named(argument: str, value: float | None):
    with pytest.raises(ImpossibleShape) as caught:
        shape_from_values(**{**GOOD, argument: value})
    assert caught.value.argument == argument
    assert caught.value.value is value
    assert argument in str(caught.value)
    assert "above 0 m" in str(caught.value)
    assert isinstance(caught.value, ValueError)


@pytest.mark.parametrize("depth", [0.0, 1.0])
def test_a_flat_bottom_has_no_depth(depth: float):
    with pytest.raises(ImpossibleShape, match=r"bottom_depth_m = .*flat bottom has none"):
        shape_from_values(**{**GOOD, "bottom": "flat", "bottom_depth_m": depth})


@pytest.mark.parametrize("argument", ["body", "bottom", "top"])
@pytest.mark.parametrize("value", ["", "dome"])
def test_an_unknown_part_is_named_with_what_is_known(argument: str, value: str):
    with pytest.raises(
        ImpossibleShape, match=f"{argument} .*accepted is .*(flat|vertical_cylinder)"
    ) as caught:
        shape_from_values(**{**GOOD, argument: value})
    assert caught.value.argument == argument


def test_segments_that_do_not_meet_are_refused():
    with pytest.raises(ImpossibleShape, match="equal radius"):
        VerticalStack([Frustum(0, 1, 1)], [Frustum(2, 2, 5)])
    with pytest.raises(ImpossibleShape, match="at least one"):
        VerticalStack([], [])
    with pytest.raises(ImpossibleShape, match="upper_radius_m"):
        Frustum(0, 0, 1)
