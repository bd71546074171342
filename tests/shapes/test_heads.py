"""Heads: depths and volumes of every kind against published and independent values, and what is refused by name."""

import math
from typing import Any

import numpy as np
import pytest
from fluids.geometry import TANK
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import tanhsinh

from tests.shapes.shape_samples import ROUND_BOTTOMS
from vessels.shapes.errors import ImpossibleShape
from vessels.shapes.heads import KINDS, Head, head_from

CAP_OF_THE_DIAMETER = 1 - math.sqrt(0.75)  # depth over diameter of a cap of a ball whose radius is that diameter

# Depth and volume over the inside diameter and its cube. Crown and knuckle ratios as listed for these heads in the
# documentation of the fluids library; digits by integration with 25 digits. ASME flanged and dished heads after the
# same ratios, DIN 28011 and DIN 28013 on the inside diameter, from memory.
TABLE: list[tuple[str, dict[str, float], float, float]] = [
    ("ellipsoidal_2_1", {}, 0.25, math.pi / 24),
    ("hemisphere", {}, 0.5, math.pi / 12),
    ("asme_fd", {}, 0.1693376, 0.0809990),
    ("asme_80_6", {}, 0.2050210, 0.0945365),
    ("asme_80_10", {}, 0.2255437, 0.1098840),
    ("din_28011", {}, 0.1937742, 0.0989660),
    ("din_28013", {}, 0.2544727, 0.1307717),
    ("torispherical", {"crown_ratio": 0.9, "knuckle_ratio": 0.17}, 0.2488472, 0.1328412),
    ("cap", {"depth_m": 2.4 * CAP_OF_THE_DIAMETER}, 0.1339746, 0.0538708),
]


@pytest.mark.parametrize("kind, sizes, depth, volume", TABLE, ids=[row[0] for row in TABLE])
def test_depth_and_volume_of_the_usual_heads(kind: str, sizes: dict[str, float], depth: float, volume: float):
    diameter = 2.4
    head = head_from(kind, diameter / 2, **sizes)
    assert head.depth_m / diameter == pytest.approx(depth, abs=5e-8)
    assert head.volume_m3 / diameter**3 == pytest.approx(volume, abs=5e-8)


def test_the_volume_of_a_flanged_and_dished_head_is_the_handbooks():
    """Chemical engineers' handbook (Perry): 0.0809·D³. From memory."""
    assert head_from("asme_fd", 0.5).volume_m3 == pytest.approx(0.0809, abs=1.5e-4)


@pytest.mark.parametrize("outside", [1.0, 2.0, 3.0])
@pytest.mark.parametrize("thickness", [0.005, 0.010, 0.020, 0.030])
def test_din_heads_with_a_wall_agree_with_the_standards_formulas(outside: float, thickness: float):
    """DIN 28011: h2 = 0.1935·Da − 0.455·s; DIN 28013: h2 = 0.255·Da − 0.635·s. From memory.

    Their first factors are those of a wall of no thickness, rounded: 0.19377 and 0.25447.
    """
    radius = outside / 2 - thickness
    torispherical = head_from("din_28011", radius, wall_thickness_m=thickness)
    assert torispherical.depth_m == pytest.approx(0.1935 * outside - 0.455 * thickness, abs=0.0003 * outside)
    semi_elliptical = head_from("din_28013", radius, wall_thickness_m=thickness)
    assert semi_elliptical.depth_m == pytest.approx(0.255 * outside - 0.635 * thickness, abs=0.0016)


def test_din_heads_take_their_radii_from_the_outside_diameter():
    """Outside diameter 2 m, wall 10 mm: 0.7688 and 1.01628 m³, by integration."""
    assert head_from("din_28011", 0.99, wall_thickness_m=0.01).volume_m3 == pytest.approx(0.7688, abs=5e-5)
    assert head_from("din_28013", 0.99, wall_thickness_m=0.01).volume_m3 == pytest.approx(1.01628, abs=5e-6)
    assert head_from("din_28011", 0.99).volume_m3 == pytest.approx(0.76821, abs=5e-6)
    assert head_from("din_28013", 0.99).volume_m3 == pytest.approx(1.01510, abs=5e-6)


@given(st.floats(0.5, 5), st.floats(0.01, 0.499), st.floats(0.02, 30))
def test_torispherical_heads_agree_with_the_fluids_library(crown: float, knuckle: float, diameter: float):
    """Independent implementation: TANK of the fluids library."""
    head = head_from("torispherical", diameter / 2, crown_ratio=crown, knuckle_ratio=knuckle)
    theirs = TANK(
        D=diameter, L=1.0, horizontal=False, sideA="torispherical", sideA_f=crown, sideA_k=knuckle
    )
    assert head.depth_m == pytest.approx(theirs.sideA_a, rel=1e-9)
    assert head.volume_m3 == pytest.approx(theirs.V_total - math.pi * diameter**2 / 4, rel=1e-9, abs=1e-9)


# --- random heads -----------------------------------------------------------------------------------------


@st.composite
def heads(draw: st.DrawFn) -> Head:
    """A head of any kind that is not flat."""
    kind = draw(st.sampled_from([kind for kind in ROUND_BOTTOMS if kind != "flat"]))
    radius = draw(st.floats(0.01, 15))
    values: dict[str, Any] = {}
    if "depth_m" in KINDS[kind].needs:
        values["depth_m"] = radius * draw(st.floats(0.02, 1.0 if kind == "cap" else 5.0))
    if "crown_ratio" in KINDS[kind].needs:
        values["crown_ratio"] = draw(st.floats(0.5, 20.0))
        values["knuckle_ratio"] = draw(st.floats(0.001, 0.499) | st.just(0.5))
    if "outlet_diameter_m" in KINDS[kind].needs:
        values["outlet_diameter_m"] = 2 * radius * draw(st.floats(0.01, 0.99))
    if "wall_thickness_m" in KINDS[kind].optional and draw(st.booleans()):
        values["wall_thickness_m"] = radius * draw(st.floats(0.001, 0.1))
    return head_from(kind, radius, **values)


@given(heads(), st.floats(0, 0.999))
def test_volume_beyond_a_depth_is_the_integral(head: Head, share: float):
    """Independent method: double exponential quadrature of π·r²."""
    depth = share * head.depth_m
    ends = np.array(sorted({depth, head.depth_m, *(joint for joint in head.joints_m() if joint > depth)}))
    pieces = tanhsinh(lambda depths: math.pi * head.radius_at_m(depths) ** 2, ends[:-1], ends[1:], rtol=1e-12)
    volume = float(head.volume_beyond_m3(np.array([depth]))[0])
    assert volume == pytest.approx(float(np.sum(pieces.integral)), rel=1e-10, abs=1e-13 * head.volume_m3)


@given(heads(), st.floats(0, 1))
def test_radius_and_depth_are_inverse_to_one_another(head: Head, share: float):
    depths = np.array([0.0, share * head.depth_m, head.depth_m])
    radii = head.radius_at_m(depths)
    assert radii[0] == pytest.approx(head.radius_m, rel=1e-12)
    assert radii[2] == pytest.approx(head.outlet_radius_m, abs=1e-7 * head.radius_m)
    assert np.all(np.diff(radii) <= 1e-12 * head.radius_m)
    # Where the wall is nearly upright (the rim) a radius says little about the depth: by √(2·1e-16) of it at worst.
    assert head.depth_at_m(radii)[1] == pytest.approx(depths[1], abs=1e-7 * (head.depth_m + head.radius_m))
    back = head.radius_at_m(head.depth_at_m(radii))
    assert back[1] == pytest.approx(radii[1], abs=1e-7 * head.radius_m)


@given(heads(), st.floats(1e-12, 1e-3))
def test_arcs_keep_their_digits_near_their_deep_end(head: Head, share: float):
    """A thin slice at the deep end is its mean area times its height: Simpson's rule, exact for such thin slices."""
    arc = head.arcs[0]
    rise = share * arc.height_m
    rises = np.array([0.0, rise / 2, rise])
    areas = math.pi * arc.radius_up_m(rises) ** 2
    slice_volume = rise / 6 * (areas[0] + 4 * areas[1] + areas[2])
    assert float(arc.volume_up_m3(np.array([rise]))[0]) == pytest.approx(slice_volume, rel=1e-12)
    # Beside an outlet a radius is known to a share of the outlet only.
    assert arc.rise_at_m(arc.radius_up_m(rises))[2] == pytest.approx(
        rise, rel=1e-9, abs=1e-14 * head.outlet_radius_m / head.radius_m * arc.height_m + 1e-30
    )


@given(st.floats(0.5, 5), st.floats(0.01, 0.499), st.floats(1e-9, 1e-4))
def test_a_knuckle_keeps_its_digits_near_the_crown(crown: float, knuckle: float, share: float):
    arcs = head_from("torispherical", 1.0, crown_ratio=crown, knuckle_ratio=knuckle).arcs
    if len(arcs) == 2:
        arc = arcs[1]
        rise = share * arc.height_m
        low, high = arc.radius_up_m(np.array([0.0, rise]))
        frustum = math.pi * rise / 3 * (low * low + low * high + high * high)
        volume = float(arc.volume_up_m3(np.array([rise]))[0])
        assert frustum * (1 - 1e-12) <= volume <= math.pi * high * high * rise * (1 + 1e-12)


@given(heads())
def test_the_outline_is_on_the_wall(head: Head):
    outline = head.outline()
    assert outline[0] == (head.outlet_radius_m, head.depth_m)
    assert outline[-1] == (head.radius_m, 0.0)
    for radius, depth in outline:
        assert float(head.radius_at_m(np.array([depth]))[0]) == pytest.approx(radius, abs=1e-7 * head.radius_m)
    assert len(outline) <= 2 * 24 + 1


def test_a_flat_head_is_its_rim():
    head = head_from("flat", 2.0)
    assert (head.is_flat, head.depth_m, head.volume_m3, head.outline()) == (True, 0.0, 0.0, [(2.0, 0.0)])
    assert head.depth_at_m(np.array([0.0, 2.0])).tolist() == [0.0, 0.0]


# --- impossible heads, by name ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    "kind, sizes, argument, accepted",
    [
        ("cone", {}, "depth_m", "above 0 m"),
        ("cone", {"depth_m": math.nan}, "depth_m", "above 0 m"),
        ("ellipsoidal", {"depth_m": -1.0}, "depth_m", "above 0 m"),
        ("paraboloid", {"depth_m": 0.0}, "depth_m", "above 0 m"),
        ("cap", {"depth_m": 1.0001}, "depth_m", "at most half the inside diameter, 1 m"),
        ("truncated_cone", {"depth_m": 1.0}, "outlet_diameter_m", "above 0 m"),
        ("truncated_cone", {"depth_m": 1.0, "outlet_diameter_m": 2.0}, "outlet_diameter_m", "less than .* 2 m"),
        ("torispherical", {"knuckle_ratio": 0.1}, "crown_ratio", "ratio above 0"),
        ("torispherical", {"crown_ratio": 1.0}, "knuckle_ratio", "ratio above 0"),
        ("torispherical", {"crown_ratio": math.inf, "knuckle_ratio": 0.1}, "crown_ratio", "ratio above 0"),
        ("torispherical", {"crown_ratio": 0.49, "knuckle_ratio": 0.1}, "crown_ratio", "from 0.5"),
        ("torispherical", {"crown_ratio": 2e3, "knuckle_ratio": 0.1}, "crown_ratio", "to 1000"),
        ("torispherical", {"crown_ratio": 1.0, "knuckle_ratio": 0.51}, "knuckle_ratio", "at most 0.5"),
        ("torispherical", {"crown_ratio": 1.0, "knuckle_ratio": 0.0}, "knuckle_ratio", "ratio above 0"),
        ("din_28011", {"wall_thickness_m": -0.01}, "wall_thickness_m", "above 0 m"),
        ("din_28011", {"wall_thickness_m": 4.5}, "wall_thickness_m", "at most 4 m"),
        ("hemisphere", {"straight_flange_m": -0.1}, "straight_flange_m", "above 0 m"),
        ("hemisphere", {"direction": "sideways"}, "direction", "outward or inward"),
        ("paraboloid", {"depth_m": 1.0, "direction": "inward"}, "direction", "outward for a paraboloid end"),
        ("truncated_cone", {"depth_m": 1.0, "direction": "inward"}, "direction", "outward for a truncated cone"),
        ("flat", {"direction": "inward"}, "direction", "outward for a flat end"),
    ],
)
def test_an_impossible_head_is_refused_by_name(kind: str, sizes: dict[str, Any], argument: str, accepted: str):
    with pytest.raises(ImpossibleShape, match=f"accepted is .*{accepted}") as caught:
        head_from(kind, 1.0, prefix="bottom_", **sizes)
    shared = argument in ("outlet_diameter_m", "wall_thickness_m")
    assert caught.value.argument == (argument if shared else f"bottom_{argument}")


def test_an_unknown_kind_is_refused_with_those_that_are_known():
    with pytest.raises(ImpossibleShape, match=r"top = 'dome' .* asme_fd or .* truncated_cone") as caught:
        head_from("dome", 1.0, prefix="top_")
    assert caught.value.argument == "top"
    with pytest.raises(ImpossibleShape, match="kind is missing"):
        head_from("", 1.0)


@pytest.mark.parametrize("crown, knuckle", [(0.5, 0.2), (0.5, 0.5), (1.0, 0.5), (0.5 + 1e-15, 0.1)])
def test_ratios_that_leave_only_one_arc_make_a_hemisphere(crown: float, knuckle: float):
    head = head_from("torispherical", 1.5, crown_ratio=crown, knuckle_ratio=knuckle)
    assert head.volume_m3 == pytest.approx(2 * math.pi / 3 * 1.5**3, rel=1e-6)
    assert head.depth_m == pytest.approx(1.5, rel=1e-6)
