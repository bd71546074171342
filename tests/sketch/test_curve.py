"""The level–volume plot: round ticks, everything inside its frame, well-formed SVG."""

import math
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vessels.sketch.curve import Axis, CurveMark, CurveScene, draw_curve, nice_ticks, tick_text

SVG = "{http://www.w3.org/2000/svg}"


def scene(**more: object) -> CurveScene:
    """A drum of 2.4 m with 48.3 m³ or so; the curve's own form does not matter here."""
    points = tuple((math.sin(step / 100 * math.pi / 2) ** 2 * 48.3, step / 100 * 2.4) for step in range(101))
    values = {
        "title": "Level and volume of <T-1>",
        "description": "From 0 to 2.4 m",
        "volume": Axis("Volume, m³", 0.0, 48.3),
        "level": Axis("Level, m", 0.0, 2.4),
        "points": points,
        **more,
    }
    return CurveScene(**values)


@given(st.floats(-1e6, 1e6), st.floats(1e-6, 1e9))
def test_ticks_are_round_few_and_inside(low: float, width: float) -> None:
    high = low + width
    if not low < high or width < 1e-9 * abs(low):
        return
    ticks = nice_ticks(low, high)
    assert 2 <= len(ticks) <= 11
    step = ticks[1] - ticks[0]
    mantissa = step / 10 ** math.floor(math.log10(step) + 1e-9)
    assert any(math.isclose(mantissa, round_one, rel_tol=1e-6) for round_one in (1, 2, 5, 10))
    assert all(low - 1e-6 * width <= tick <= high + 1e-6 * width for tick in ticks)


@pytest.mark.parametrize(("low", "high"), [(1.0, 1.0), (2.0, 1.0), (0.0, math.inf), (math.nan, 1.0)])
def test_a_range_that_is_none_is_refused(low: float, high: float) -> None:
    with pytest.raises(ValueError, match="lower one first"):
        nice_ticks(low, high)


def test_tick_texts_have_the_decimals_of_their_step() -> None:
    assert [tick_text(value, [0, 0.5, 1.0]) for value in (0, 0.5, 1.0)] == ["0.0", "0.5", "1.0"]
    assert tick_text(-20000, [-20000, 0]) == "−20\u202f000"


@pytest.mark.parametrize("for_print", [False, True])
def test_everything_lies_inside_the_picture(for_print: bool) -> None:
    marks = (CurveMark("overflow", "Overflow 2.2 m", 2.2), CurveMark("critical", "Critical level 2.25 m", 2.25))
    svg = draw_curve(scene(marks=marks, dots=((0.0, 0.0), (48.3, 2.4))), for_print=for_print)
    root = ElementTree.fromstring(svg)
    assert "style=" not in svg
    assert root.find(f"{SVG}title").text == "Level and volume of <T-1>"
    texts = list(root.iter(f"{SVG}text"))
    assert {"Overflow 2.2 m", "Volume, m³", "Level, m"} <= {one.text for one in texts}
    for one in texts:
        assert 0 <= float(one.get("x", "")) <= 460
        assert 0 < float(one.get("y", "")) <= 320
    names = [one for one in texts if one.text in ("Overflow 2.2 m", "Critical level 2.25 m")]
    heights = sorted(float(one.get("y", "")) for one in names)
    assert heights[1] - heights[0] >= 8, "names of two close levels stand apart"


def test_level_goes_up_and_volume_to_the_right() -> None:
    root = ElementTree.fromstring(draw_curve(scene()))
    plot = next(one for one in root.iter(f"{SVG}g") if one.get("data-place") == "plot")
    path = plot.find(f"{SVG}path").get("d", "")
    first, last = path[1:].split("L")[0].split(), path.split("L")[-1].split()
    left, top = float(plot.get("data-left", "")), float(plot.get("data-top", ""))
    width, height = float(plot.get("data-width", "")), float(plot.get("data-height", ""))
    assert [float(value) for value in first] == pytest.approx([left, top + height], abs=0.01)
    assert [float(value) for value in last] == pytest.approx([left + width, top], abs=0.01)


def test_too_little_is_refused_by_name() -> None:
    with pytest.raises(ValueError, match="240"):
        draw_curve(scene(), width_px=100)
    with pytest.raises(ValueError, match="two or more"):
        draw_curve(scene(points=((0.0, 0.0),)))
