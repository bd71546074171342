"""Few points for a whole capacity curve: against theory, against an exhaustive search, and looked at densely."""

import time
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.capacity.samples import Power, ball, box, drum, rising_rows, silo, vessels
from vessels.capacity.figures import Contents, Internal
from vessels.capacity.reduction import Reduction, reduce_curve
from vessels.capacity.strapping import StrappingTable


def dense_error(curve: Any, found: Reduction, looks: int = 200_001) -> float:
    """Largest error of straight lines between the points, looked for independently of the reduction."""
    levels = np.linspace(found.levels_m[0], found.levels_m[-1], looks)
    return float(np.abs(np.interp(levels, found.levels_m, found.volumes_m3) - curve.volume_m3(levels)).max())


@pytest.mark.parametrize("points", [2, 3, 9, 32])
def test_a_parabola_is_best_cut_into_equal_pieces(points: int):
    """The largest error of a chord of h² over a step s is s²/4 wherever it lies (elementary calculus), so the best
    points are at equal distances."""
    found = reduce_curve(Power(2.0), points)
    assert found.largest_error_m3 == pytest.approx(0.25 / (points - 1) ** 2, rel=2e-3)
    assert found.largest_error_m3 >= 0.25 / (points - 1) ** 2 * (1 - 1e-9)
    assert found.levels_m == pytest.approx(np.linspace(0, 1, points), abs=2e-3)


@pytest.mark.parametrize("exponent", [1.5, 3.0, 1.2])
def test_many_points_reach_the_error_of_theory(exponent: float):
    """C. de Boor, "A Practical Guide to Splines", chapter III (from memory): with n pieces of best lengths the error
    tends to (∫ √|V″| dh)²/(8 n²). V = h^p: ∫ √|V″| = √|p(p − 1)|/(p/2)."""
    pieces = 100
    integral = np.sqrt(abs(exponent * (exponent - 1))) / (exponent / 2)
    found = reduce_curve(Power(exponent), pieces + 1)
    assert found.largest_error_m3 == pytest.approx(integral**2 / (8 * pieces**2), rel=0.05)
    assert found.largest_error_m3 < 0.9 * found.equidistant_error_m3


def best_of_all(levels: np.ndarray, volumes: np.ndarray, pieces: int) -> float:
    """The least largest error of so many pieces between grid levels, by trying all ends (dynamic programming)."""
    count = levels.size
    errors = np.zeros((count, count))
    for first in range(count):
        for last in range(first + 2, count):
            chord = np.interp(levels[first:last], levels[[first, last]], volumes[[first, last]])
            errors[first, last] = np.abs(chord - volumes[first:last]).max()
    best = errors[0].copy()
    for _ in range(pieces - 1):
        best = np.array([np.maximum(best[: last + 1], errors[: last + 1, last]).min() for last in range(count)])
    return float(best[-1])


@pytest.mark.parametrize(
    "shape",
    [drum(), ball(5.0), silo(2.0, 6.0, "cone", bottom_depth_m=2.0), silo(1.5, 3.0, "hemisphere")],
    ids=["drum", "ball", "cone", "hemisphere"],
)
@pytest.mark.parametrize("points", [4, 7, 12])
def test_no_choice_on_a_grid_is_better(shape: Any, points: int):
    levels = np.linspace(0, shape.height_m, 161)
    best = best_of_all(levels, shape.volume_m3(levels), points - 1)
    assert reduce_curve(shape, points).largest_error_m3 <= best * 1.001


@given(vessels, st.integers(2, 40), st.floats(0, 0.4), st.floats(0.6, 1))
@settings(max_examples=60, deadline=None)
def test_the_reported_error_is_the_error(shape: Any, points: int, low: float, high: float):
    lower, upper = low * shape.height_m, high * shape.height_m
    found = reduce_curve(shape, points, lower, upper)
    assert len(found.levels_m) == len(found.volumes_m3) == points
    assert (found.levels_m[0], found.levels_m[-1]) == (lower, upper)
    assert np.all(np.diff(found.levels_m) > 0)
    assert found.volumes_m3 == pytest.approx(tuple(shape.volume_m3(np.array(found.levels_m))), rel=1e-12)
    noise = 1e-12 * shape.total_volume_m3
    dense = dense_error(shape, found, 40_001)
    assert dense <= found.largest_error_m3 * (1 + 1e-6) + noise
    assert dense >= found.largest_error_m3 * (1 - 1e-3) - noise
    over_span = shape.volume_m3(upper) - shape.volume_m3(lower)
    assert found.largest_error_share == pytest.approx(found.largest_error_m3 / over_span)
    # At the place that it names.
    there = np.interp(found.at_level_m, found.levels_m, found.volumes_m3) - shape.volume_m3(found.at_level_m)
    assert abs(there) == pytest.approx(found.largest_error_m3, rel=1e-9, abs=noise)
    # Never worse than points at equal distances.
    equal = np.linspace(lower, upper, points)
    levels = np.linspace(lower, upper, 40_001)
    equal_error = np.abs(np.interp(levels, equal, shape.volume_m3(equal)) - shape.volume_m3(levels)).max()
    assert found.largest_error_m3 <= found.equidistant_error_m3
    assert found.equidistant_error_m3 == pytest.approx(equal_error, rel=1e-3, abs=noise)


@given(rising_rows(), st.sampled_from(["linear", "monotone_cubic"]), st.integers(2, 40))
@settings(max_examples=60, deadline=None)
def test_tables_of_any_steps(rows: Any, interpolation: Any, points: int):
    table = StrappingTable(*rows, interpolation=interpolation)
    found = reduce_curve(table, points)
    noise = 1e-11 * table.highest_volume_m3
    assert np.all(np.diff(found.levels_m) > 0)
    assert np.all(np.diff(found.volumes_m3) >= 0)
    assert found.largest_error_m3 <= found.equidistant_error_m3
    at_rows = np.abs(np.interp(table.levels_m, found.levels_m, found.volumes_m3) - np.array(table.volumes_m3)).max()
    assert max(dense_error(table, found, 20_001), at_rows) <= found.largest_error_m3 * (1 + 1e-6) + noise


def test_a_linear_table_of_fewer_rows_is_kept():
    levels = np.array([0, 0.1, 0.5, 0.55, 1.7, 2.0])
    table = StrappingTable(levels, [0, 1, 1.2, 5, 6, 9])
    found = reduce_curve(table, 32)
    assert found.largest_error_m3 == pytest.approx(0, abs=1e-12)
    assert set(levels.tolist()) <= set(found.levels_m)
    assert len(found.levels_m) == 32


def test_a_straight_curve_has_no_error():
    found = reduce_curve(box(3, 2, 4), 2)
    assert found.volumes_m3 == pytest.approx((0, 24))
    assert found.largest_error_m3 == pytest.approx(0, abs=1e-12)


def test_contents_less_internals_are_reduced_with_their_kinks():
    contents = Contents(box(3, 2, 4), (Internal.of_section("coil", 1.0, 1.5, 3.0),))
    found = reduce_curve(contents, 4)
    assert found.levels_m == pytest.approx((0, 1, 1.5, 4))
    assert found.largest_error_m3 == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("points", [32, 200])
def test_ten_thousand_rows_take_well_under_a_second(points: int):
    levels = np.linspace(0, 2, 10_000)
    table = StrappingTable(levels, drum().volume_m3(levels))
    started = time.perf_counter()
    reduce_curve(table, points)
    assert time.perf_counter() - started < 0.8


@pytest.mark.parametrize("points", [-1, 0, 1, 1001])
def test_numbers_of_points_have_limits(points: int):
    with pytest.raises(ValueError, match="a whole number from 2 to 1000"):
        reduce_curve(drum(), points)


def test_spans_have_limits():
    with pytest.raises(ValueError, match="accepted is 0"):
        reduce_curve(drum(), 32, -0.1, 1.0)
    with pytest.raises(ValueError, match="accepted is 0"):
        reduce_curve(drum(), 32, 0.0, 2.1)
    with pytest.raises(ValueError, match="a level above the lower one"):
        reduce_curve(drum(), 32, 1.0, 1.0)
    flat = StrappingTable([0, 1, 2], [0, 0, 5])
    with pytest.raises(ValueError, match="no volume between"):
        reduce_curve(flat, 32, 0.0, 1.0)
