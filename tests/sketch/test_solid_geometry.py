"""Cutting outlines: walls on both sides, lines inside them, heaps under a surface."""

import math
from dataclasses import replace
from typing import Literal

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sketch.clean import SVG, assert_clean
from tests.sketch.vessel_samples import samples
from vessels.drawing.scenes import vessel_scene_alone
from vessels.sketch.elevation import draw_elevation
from vessels.sketch.geometry import Polygon, clipped, contains, heights_at, spans_at, under, walls_at
from vessels.sketch.scene import Filling

ARCH = [(-2.0, 0.0), (-1.0, 1.0), (1.0, 1.0), (2.0, 0.0), (2.0, 4.0), (-2.0, 4.0)]  # a roofed bottom pushed in
BOX = [(-2.0, 0.0), (2.0, 0.0), (2.0, 4.0), (-2.0, 4.0)]


def area(polygon: Polygon) -> float:
    """By the shoelace formula."""
    x, y = (np.array(values) for values in zip(*polygon, strict=True))
    return float(abs(np.sum(x * np.roll(y, -1) - y * np.roll(x, -1))) / 2)


def test_a_pushed_in_bottom_parts_what_stands_on_it() -> None:
    assert spans_at(ARCH, 0.5) == [pytest.approx((-2, -1.5)), pytest.approx((1.5, 2))]
    assert spans_at(ARCH, 2.0) == [pytest.approx((-2, 2))]
    assert walls_at(ARCH, 0.5) == pytest.approx((-2, 2))
    assert spans_at(ARCH, 5.0) == []
    assert heights_at(ARCH, 0.0) == pytest.approx((1, 4))
    assert heights_at(ARCH, 2.0) == pytest.approx((0, 4), abs=1e-7)
    assert heights_at(ARCH, 2.1) is None


def test_lines_are_cut_to_what_is_inside() -> None:
    parts = clipped(ARCH, (-3.0, 0.5), (3.0, 0.5))
    assert [(start[0], end[0]) for start, end in parts] == [pytest.approx((-2, -1.5)), pytest.approx((1.5, 2))]
    assert clipped(BOX, (-1.0, 1.0), (1.0, 3.0)) == [((-1.0, 1.0), (1.0, 3.0))]
    assert clipped(BOX, (3.0, 1.0), (4.0, 1.0)) == []
    assert clipped(BOX, (1.0, 1.0), (1.0, 1.0)) == []


@given(st.lists(st.floats(0.1, 3.9), min_size=2, max_size=9))
def test_what_lies_under_a_surface_has_the_area_under_it(heights: list[float]) -> None:
    """Against numpy's trapezoidal rule, on a box whose floor is level."""
    xs = np.linspace(-2, 2, len(heights))
    surface = list(zip(xs.tolist(), heights, strict=True))
    assert sum(area(part) for part in under(BOX, surface)) == pytest.approx(np.trapezoid(heights, xs), rel=1e-9)


def test_a_surface_goes_on_level_beyond_its_ends() -> None:
    assert sum(area(part) for part in under(BOX, [(-1.0, 1.0), (1.0, 3.0)])) == pytest.approx(1 + 4 + 3)
    assert under(BOX, []) == []


@pytest.mark.parametrize("kind", ["solid", "liquid"])
def test_a_heap_is_drawn_under_its_surface(kind: Literal["solid", "liquid"]) -> None:
    """Every grain lies below the heap's surface, which is drawn as a line of its own."""
    scene = vessel_scene_alone(samples()["cone-flat"])
    heap = ((-2.0, 2.0), (0.0, 2.0 + 2 * math.tan(math.radians(30))), (2.0, 2.0))
    filling = Filling(3.0, kind, surface=heap)
    root = assert_clean(draw_elevation(replace(scene, filling=filling)))
    group = next(one for one in root.iter(f"{SVG}g") if one.get("data-place") == "medium")
    line = group[-1].get("d", "").replace("M", " ").replace("L", " ").split()
    xs, ys = [float(x) for x in line[::2]], [float(y) for y in line[1::2]]
    assert max(xs) - min(xs) == pytest.approx(2 * (xs[1] - xs[0]), abs=0.05)
    rise = (max(ys) - min(ys)) / ((max(xs) - min(xs)) / 2)
    assert rise == pytest.approx(math.tan(math.radians(30)), rel=1e-2)
    if kind == "solid":
        grains = group[0].get("d", "").replace("h.01", " ").replace("M", " ").split()
        points = [(float(x), float(y)) for x, y in zip(grains[::2], grains[1::2], strict=True)]
        assert len(points) > 60
        surface = [(min(xs), max(ys)), ((min(xs) + max(xs)) / 2, min(ys)), (max(xs), max(ys))]
        for x, y in points:
            assert y > np.interp(x, [x for x, _ in surface], [y for _, y in surface]) - 0.05
    else:
        assert {one.get("fill") for one in group[:-1]} == {"#d9e6e8"}


def test_a_point_in_a_polygon() -> None:
    assert contains(ARCH, (0, 2))
    assert not contains(ARCH, (0, 0.5))
