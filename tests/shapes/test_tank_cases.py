"""Every body against levels and volumes by numerical integration, and against the worked examples among them.

The table holds volumes integrated with 25 digits; each row names a second method that agrees, and some the published
example that they belong to.
"""

import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.shapes.shape_samples import shape
from vessels.shapes.build import Shape

TANK_CASES = Path(__file__).parents[1] / "reference" / "tank_cases.json"
CASES: list[dict[str, Any]] = json.loads(TANK_CASES.read_text(encoding="utf-8"))["cases"]
US_GALLON_M3 = 231 * 0.0254**3  # 231 cubic inches exactly: NIST SP 811, appendix B

# What the table calls an end -> the kind, and whether it has the depth "a".
ENDS = {
    "flat": ("flat", False),
    "conical": ("cone", True),
    "ellipsoidal": ("ellipsoidal", True),
    "ellipsoidal_2to1": ("ellipsoidal_2_1", False),
    "ellipsoidal 2:1": ("ellipsoidal_2_1", False),
    "hemispherical": ("hemisphere", False),
    "spherical_cap": ("cap", True),
    "paraboloid": ("paraboloid", True),
    "torispherical": ("torispherical", False),
}


def _end_of(words: str, dims: dict[str, Any], prefix: str) -> dict[str, Any]:
    """Values of an end, from the words and the dimensions of a row."""
    if "Da=" in words:
        kind = "din_28011" if "28011" in words else "din_28013"
        return {prefix: kind, "wall_thickness_m": dims["s"]}
    name = max((name for name in ENDS if words.startswith(name)), key=len)
    kind, has_depth = ENDS[name]
    values: dict[str, Any] = {prefix: kind}
    if has_depth:
        values[f"{prefix}_depth_m"] = abs(dims["a"])
    elif kind == "ellipsoidal_2_1":
        assert dims["a"] == pytest.approx(dims["D"] / 4)
    elif kind == "hemisphere":
        assert dims["a"] == dims["D"] / 2
    elif kind == "torispherical":
        values |= {f"{prefix}_crown_ratio": dims["f"], f"{prefix}_knuckle_ratio": dims["k"]}
    return values


def _cylinder(body: str, row: dict[str, Any]) -> tuple[Shape, float]:
    words, dims = row["shape"].split("/")[1], row["dims_m"]
    diameter = dims.get("D", dims.get("Di"))
    length = {"vertical_cylinder": "cylinder_height_m", "horizontal_cylinder": "cylinder_length_m"}[body]
    values: dict[str, Any] = {"diameter_m": diameter, length: dims.get("L", 4.0)}
    both = words.startswith("both heads ") or words.endswith("_both") or "_both " in words
    words = words.removeprefix("both heads ").replace("_both", "")
    inward = words.startswith("concave ")
    words = words.removeprefix("concave ").removeprefix("bottom ")
    if inward:
        values["bottom_direction"] = "inward"
    values |= _end_of(words, dims, "bottom")
    if both:
        values |= _end_of(words, dims, "top")
    return shape(body, **values), row["level_m"]


def _upright(row: dict[str, Any]) -> tuple[Shape, float]:
    words = row["shape"].split("/")[1]
    if words.endswith(" bottom"):
        row = {**row, "shape": row["shape"].replace(words, "bottom " + words.removesuffix(" bottom"))}
    return _cylinder("vertical_cylinder", row)


def _lying(row: dict[str, Any]) -> tuple[Shape, float]:
    return _cylinder("horizontal_cylinder", row)


def _silo(row: dict[str, Any]) -> tuple[Shape, float]:
    dims = row["dims_m"]
    tank = shape(
        "vertical_cylinder", "truncated_cone", diameter_m=dims["D"], cylinder_height_m=dims["L"],
        bottom_depth_m=dims["H_hopper"], outlet_diameter_m=dims["d_outlet"],
    )  # fmt: skip
    return tank, row["level_m"]


def _box_silo(row: dict[str, Any]) -> tuple[Shape, float]:
    dims = row["dims_m"]
    outlet = {"outlet_length_m": dims.get("a", dims.get("slot"))}
    if "b" in dims:
        outlet["outlet_width_m"] = dims["b"]
    tank = shape(
        "rectangular", "pyramid_hopper" if "b" in dims else "wedge_hopper", box_length_m=dims["A"],
        box_width_m=dims["B"], cylinder_height_m=dims["L"], bottom_depth_m=dims["H_hopper"], **outlet,
    )  # fmt: skip
    return tank, row["level_m"]


def _box(row: dict[str, Any]) -> tuple[Shape, float]:
    dims = row["dims_m"]
    sides = {"box_length_m": dims["L"], "box_width_m": dims["W"], "cylinder_height_m": dims["H"]}
    return shape("rectangular", **sides), row["level_m"]


def _sphere(row: dict[str, Any]) -> tuple[Shape, float]:
    return shape("sphere", diameter_m=row["dims_m"]["D"]), row["level_m"]


def _upright_oval(row: dict[str, Any]) -> tuple[Shape, float]:
    dims = row["dims_m"]
    sides = {"box_length_m": dims["W"], "box_width_m": dims["B"], "cylinder_height_m": dims["L"]}
    return shape("vertical_oval", **sides), row["level_m"]


def _lying_oval(row: dict[str, Any]) -> tuple[Shape, float]:
    dims = row["dims_m"]
    sides = {"box_width_m": dims["W"], "section_height_m": dims["H"], "cylinder_length_m": dims["L"]}
    return shape("horizontal_oval", **sides), row["level_m"]


def _tilted(row: dict[str, Any]) -> tuple[Shape, float]:
    """The row's depth is square to the axis; ours is upright, above the lowest point of the low end."""
    dims = row["dims_m"]
    tilt = math.radians(dims["tilt_deg"])
    tank = shape("horizontal_cylinder", diameter_m=dims["D"], cylinder_length_m=dims["L"], tilt_rad=tilt)
    level = row["level_m"] * math.cos(tilt)
    if "mid length" in dims["level_ref"]:
        level += dims["L"] / 2 * math.sin(tilt)
    return tank, level


MAKERS: dict[str, Callable[[dict[str, Any]], tuple[Shape, float]]] = {
    "vertical_cylinder": _upright,
    "horizontal_cylinder": _lying,
    "vertical_silo": _silo,
    "rectangular_silo": _box_silo,
    "rectangular": _box,
    "sphere": _sphere,
    "vertical elliptical cylinder": _upright_oval,
    "horizontal elliptical (oval) cylinder, flat ends": _lying_oval,
    "tilted horizontal cylinder, flat ends": _tilted,
}


@pytest.mark.parametrize("row", CASES, ids=[row["id"] for row in CASES])
def test_agrees_with_integration(row: dict[str, Any]):
    tank, level = MAKERS[row["shape"].split("/")[0]](row)
    assert tank.volume_m3(level) == pytest.approx(row["volume_m3"], rel=1e-9, abs=1e-12)
    assert tank.level_m(row["volume_m3"]) == pytest.approx(level, abs=1e-6)


# One more comes from the tests of the fluids library and has no article behind it.
PUBLISHED = [row for row in CASES if "Jones" in row.get("published", {}).get("source", "")]


@pytest.mark.parametrize("row", PUBLISHED, ids=[row["id"] for row in PUBLISHED])
def test_agrees_with_the_worked_example(row: dict[str, Any]):
    """D. Jones, "Calculating Tank Volume" and "Compute Fluid Volumes in Vertical Tanks" (Chemical Processing, 2003).

    In inches and US gallons; digits beyond the articles' as held in the tests of the fluids library.
    """
    tank, level = MAKERS[row["shape"].split("/")[0]](row)
    assert tank.volume_m3(level) / US_GALLON_M3 == pytest.approx(row["published"]["US_gal"], rel=1e-9)


def test_every_row_of_the_table_is_looked_at():
    assert len(CASES) == 95
    assert len(PUBLISHED) == 28
    assert {row["shape"].split("/")[0] for row in CASES} == set(MAKERS)
