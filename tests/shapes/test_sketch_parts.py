"""The parts of a sketch on their own: placing labels, plane geometry, widths of texts."""

from io import BytesIO
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from fontTools.ttLib import TTFont  # type: ignore[import-untyped]
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import isotonic_regression

from vessels.sketch.geometry import cut, dots, hatch, mirrored, ray_end, walls_at
from vessels.sketch.placement import spread
from vessels.sketch.text_width import shorten, text_width_em, wrap

FONTS = Path(__file__).parents[2] / "project" / "static" / "fonts"
CONE = [(0.0, 0.0), (2.0, 3.0), (2.0, 9.0), (0.0, 9.0)]


# --- placing labels ---------------------------------------------------------------------------------


@given(st.lists(st.tuples(st.floats(-200, 800), st.floats(1, 40)), max_size=30))
def test_spread_labels_keep_order_and_limits_and_do_not_overlap(labels: list[tuple[float, float]]):
    wanted = sorted(place for place, _ in labels)
    heights = [height for _, height in labels]
    low, high = 0.0, max(600.0, sum(heights))
    centres = spread(wanted, heights, low, high)
    edges = [
        (centre - height / 2, centre + height / 2) for centre, height in zip(centres, heights, strict=True)
    ]
    for (_, bottom), (top, _) in pairwise(edges):
        assert top >= bottom - 1e-6
    for top, bottom in edges:
        assert low - 1e-6 <= top
        assert bottom <= high + 1e-6


@given(st.lists(st.floats(0, 1000), min_size=1, max_size=30))
def test_spread_is_isotonic_regression_where_the_limits_do_not_bind(places: list[float]):
    """Independent implementation: scipy's isotonic regression of the places less the labels' own heights."""
    wanted = sorted(places)
    offsets = 10.0 * np.arange(len(wanted))
    expected = isotonic_regression(np.array(wanted) - offsets).x + offsets
    assert spread(wanted, [10.0] * len(wanted), -1e4, 1e4) == pytest.approx(list(expected), abs=1e-6)


def test_labels_that_have_room_stay_where_they_are_wanted():
    assert spread([10, 50, 90], [12, 12, 12], 0, 100) == [10, 50, 90]
    assert spread([], [], 0, 100) == []


@pytest.mark.parametrize(
    "wanted, heights, high, message",
    [
        ([2, 1], [1, 1], 100, "ascending"),
        ([1, 2], [60, 60], 100, "do not fit"),
        ([1], [1, 2], 100, "2 given for 1"),
    ],
)
def test_labels_that_cannot_be_placed_are_refused(
    wanted: list[float], heights: list[float], high: float, message: str
):
    with pytest.raises(ValueError, match=message):
        spread(wanted, heights, 0, high)


# --- geometry and text ------------------------------------------------------------------------------

SQUARE = [(-1.0, 0.0), (1.0, 0.0), (1.0, 2.0), (-1.0, 2.0)]


def test_a_ray_ends_where_it_first_leaves():
    assert ray_end(SQUARE, (0, 3), (0, -1)) == pytest.approx((0, 0))
    assert ray_end(SQUARE, (0, 1), (1, 0)) == pytest.approx((1, 1))
    assert ray_end(SQUARE, (0, 2), (0, -1)) == pytest.approx((0, 0))
    assert ray_end(SQUARE, (0, 3), (1, 0)) is None
    notch = [
        (-2.0, 0.0),
        (2.0, 0.0),
        (2.0, 2.0),
        (0.5, 2.0),
        (0.5, 1.0),
        (-0.5, 1.0),
        (-0.5, 2.0),
        (-2.0, 2.0),
    ]
    assert ray_end(notch, (-1, 1.5), (1, 0)) == pytest.approx((-0.5, 1.5))


def test_walls_follow_the_outline_and_take_the_larger_side_of_a_step():
    outline = mirrored(CONE)
    assert walls_at(outline, 1.5) == pytest.approx((-1, 1))
    assert walls_at(outline, 9) == pytest.approx((-2, 2))
    assert walls_at(outline, 0) == pytest.approx((0, 0), abs=1e-8)
    assert walls_at(outline, -0.1) is None
    assert walls_at(SQUARE, 0) == pytest.approx((-1, 1))


@given(st.floats(0.5, 20))
def test_hatching_and_grains_stay_inside_their_outline(spacing: float):
    outline = [(10 * x, 10 * y) for x, y in mirrored(CONE)]
    for start, end in hatch(outline, spacing):
        for x, y in (start, end):
            _, right = walls_at(mirrored(CONE), min(max(y / 10, 0), 9)) or (0, 0)
            assert abs(x) <= 10 * right + 1e-6
    assert len(dots(outline, spacing)) <= 1000
    assert cut(outline, 0, 1, -1) == []


@pytest.mark.parametrize("weight, bold", [("Regular", False), ("SemiBold", True)])
def test_text_widths_are_those_of_the_bundled_font_or_a_little_more(weight: str, bold: bool):
    font = TTFont(BytesIO((FONTS / f"IBMPlexSansCondensed-{weight}.woff2").read_bytes()))
    advances, letters, em = font["hmtx"], font.getBestCmap(), font["head"].unitsPerEm
    for text in (
        "Distance at URV 11.65 m",
        "Nozzle face",
        "Dead zone to",
        "−1 234.5 mm",
        "Größe Ø 4 m, 8°",
        "HH",
    ):
        real = sum(advances[letters[ord(character)]][0] for character in text) / em
        assert real * 0.99 <= text_width_em(text, bold=bold) <= real * 1.08, text


def test_long_texts_are_cut_and_notes_wrapped():
    assert shorten("short", 10) == "short"
    assert shorten("a rather long name of a level", 6).endswith("…")
    assert text_width_em(shorten("a rather long name of a level", 6)) <= 6
    lines = wrap("one two three four five six", 5)
    assert len(lines) > 1
    assert " ".join(lines) == "one two three four five six"
    assert all(text_width_em(line) <= 5 for line in lines)
    assert text_width_em("高水位") == 3
