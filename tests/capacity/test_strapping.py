"""Strapping tables: interpolation, its inverse, its error, and what the rows may look like."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from project.quantities import PlantUnits
from tests.capacity.samples import ball, drum, rising_rows, silo, unhurried, vessels
from vessels.capacity.curve import Curve, ShapeCurve, as_curve
from vessels.capacity.problems import ImpossibleTable, Problem
from vessels.capacity.strapping import INTERPOLATIONS, StrappingTable
from vessels.capacity.validation import MOST_ROWS, TEMPLATES, validate

shares = st.floats(0, 1)
methods = st.sampled_from(INTERPOLATIONS)


def table_of(shape: Any, rows: int, interpolation: Any = "linear") -> StrappingTable:
    levels = np.linspace(0, shape.height_m, rows)
    return StrappingTable(levels, shape.volume_m3(levels), interpolation)


def codes(problems: list[Problem]) -> list[tuple[str, int | None]]:
    return [(problem.code, problem.row) for problem in problems]


# --- interpolation ------------------------------------------------------------------------------------------


def test_linear_by_hand():
    """Straight lines between (0, 0), (1, 2) and (3, 10): plain arithmetic."""
    table = StrappingTable([0, 1, 3], [0, 2, 10])
    assert table.volume_m3(0.25) == 0.5
    assert table.volume_m3(2.0) == 6.0
    assert table.level_m(4.0) == 1.5
    assert [table.surface_area_m2(level) for level in (0.0, 0.5, 1.0, 3.0)] == [2.0, 2.0, 4.0, 4.0]
    assert (table.lowest_volume_m3, table.highest_volume_m3, table.highest_level_m) == (0.0, 10.0, 3.0)


def test_monotone_cubic_by_hand():
    """F. N. Fritsch, J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300: at an inner row the slope is the weighted
    harmonic mean of its neighbours'; with equal steps and slopes 2 and 4 it is 2/(1/2 + 1/4) = 8/3, and at the first
    row the three-point rule gives (3·2 − 4)/2 = 1. Hermite's cubic at the middle is the mean of the volumes plus an
    eighth of the step times the difference of slopes."""
    table = StrappingTable([0, 1, 2], [0, 2, 6], "monotone_cubic")
    assert table.surface_area_m2(1.0) == pytest.approx(8 / 3, rel=1e-14)
    assert table.surface_area_m2(0.0) == pytest.approx(1.0, rel=1e-14)
    assert table.volume_m3(0.5) == pytest.approx(1 + (1 - 8 / 3) / 8, rel=1e-14)


def test_a_fine_table_gives_the_published_fractions_of_a_lying_cylinder():
    """Filled fraction of a horizontal cylinder (J. H. Perry, Chemical Engineers' Handbook, tabulates it; these digits
    by the segment formula): 0.25 D 0.195501, 0.5 D 0.5, 0.9 D 0.947956."""
    shape = drum(2.0, 6.0)
    for interpolation, allowed in (("linear", 2e-6), ("monotone_cubic", 1e-6)):
        table = table_of(shape, 2001, interpolation)
        for depth, fraction in ((0.25, 0.195501), (0.5, 0.5), (0.9, 0.947956)):
            assert table.volume_m3(2 * depth) / shape.total_volume_m3 == pytest.approx(fraction, abs=allowed)


@given(rising_rows(), methods, shares)
@unhurried
def test_level_comes_back_within_a_micrometre(rows: Any, interpolation: Any, share: float):
    table = StrappingTable(*rows, interpolation=interpolation)
    level = table.lowest_level_m + share * (table.highest_level_m - table.lowest_level_m)
    assert table.level_m(table.volume_m3(level)) == pytest.approx(level, abs=1e-6)


@given(rising_rows(), methods)
@unhurried
def test_rows_are_met_and_nothing_falls_between_them(rows: Any, interpolation: Any):
    levels, volumes = rows
    table = StrappingTable(levels, volumes, interpolation)
    assert table.volume_m3(levels) == pytest.approx(volumes, rel=1e-13)
    fine = np.sort(np.concatenate([np.linspace(levels[0], levels[-1], 2000), levels]))
    assert np.all(np.diff(table.volume_m3(fine)) >= -1e-12 * volumes[-1])
    assert np.all(table.surface_area_m2(fine) >= 0)
    # Never beyond the two rows around, which an ordinary cubic does.
    upper = np.clip(np.searchsorted(levels, fine, side="left"), 1, levels.size - 1)
    found = table.volume_m3(fine)
    assert np.all(found >= volumes[upper - 1] - 1e-12 * volumes[-1])
    assert np.all(found <= volumes[upper] + 1e-12 * volumes[-1])


@given(rising_rows(), methods)
@unhurried
def test_surface_area_integrates_to_volume(rows: Any, interpolation: Any):
    levels, volumes = rows
    table = StrappingTable(levels, volumes, interpolation)
    low, high = levels[:2]
    inside = low + 1e-12 * (high - low), high - 1e-9 * (high - low)
    assert quad(table.surface_area_m2, *inside)[0] == pytest.approx(volumes[1] - volumes[0], rel=1e-6)


@given(rising_rows(), methods, st.floats(1e-6, 10))
@unhurried
def test_nothing_is_extrapolated_and_the_limits_are_named(rows: Any, interpolation: Any, beyond: float):
    table = StrappingTable(*rows, interpolation=interpolation)
    for level in (table.lowest_level_m - beyond, table.highest_level_m + beyond, math.nan):
        for function in (table.volume_m3, table.surface_area_m2):
            with pytest.raises(ValueError, match=r"level_m = .* outside the table: accepted is .* … .* m"):
                function(level)
    for volume in (table.lowest_volume_m3 - beyond, table.highest_volume_m3 + beyond * 1e3, math.inf):
        with pytest.raises(ValueError, match=r"volume_m3 = .* accepted is .* m³"):
            table.level_m(volume)


def test_arrays_come_back_in_their_form():
    table = table_of(drum(), 21, "monotone_cubic")
    levels = np.array([[0.0, 0.4], [1.1, 2.0]])
    assert table.volume_m3(levels).shape == (2, 2)
    assert table.level_m(table.volume_m3(levels)) == pytest.approx(levels, abs=1e-9)
    assert type(table.volume_m3(0.4)) is type(table.level_m(1.0)) is type(table.surface_area_m2(1.0)) is float
    assert table.level_m(np.array([])).size == 0


@pytest.mark.parametrize("interpolation", INTERPOLATIONS)
def test_where_volumes_repeat_the_lowest_level_is_given(interpolation: Any):
    table = StrappingTable([0.0, 0.1, 0.2, 1.0, 1.5], [0.0, 0.0, 0.5, 3.0, 3.0], interpolation)
    assert table.level_m(0.0) == 0.0
    assert table.level_m(3.0) == pytest.approx(1.0, abs=1e-9)
    assert table.volume_m3(0.05) == 0.0


def test_unknown_interpolation_is_refused():
    with pytest.raises(ValueError, match="linear or monotone_cubic"):
        StrappingTable([0, 1], [0, 1], "cubic")


def test_tables_of_equal_rows_are_equal():
    assert StrappingTable([0, 1], [0, 2]) == StrappingTable([0.0, 1.0], [0.0, 2.0])
    assert StrappingTable([0, 1], [0, 2]) != StrappingTable([0, 1], [0, 2], "monotone_cubic")
    assert hash(StrappingTable([0, 1], [0, 2])) == hash(StrappingTable([0.0, 1.0], [0.0, 2.0]))


@given(vessels)
@unhurried
def test_a_shape_is_a_curve_too(shape: Any):
    curve: Curve = as_curve(shape)
    assert isinstance(curve, ShapeCurve)
    assert as_curve(curve) is curve
    assert curve.volume_m3(curve.highest_level_m) == pytest.approx(shape.total_volume_m3, rel=1e-12)
    assert curve.joints_m[0] == 0
    assert curve.joints_m[-1] == shape.height_m
    assert list(curve.joints_m) == sorted(curve.joints_m)


# --- error of interpolation ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "shape", [drum(), ball(5.0), silo(2.0, 6.0, "cone", bottom_depth_m=2.0)], ids=["drum", "ball", "cone"]
)
@pytest.mark.parametrize("rows", [11, 21, 41, 201])
@pytest.mark.parametrize("interpolation", INTERPOLATIONS)
def test_the_estimate_is_of_the_order_of_the_true_error(shape: Any, rows: int, interpolation: Any):
    table = table_of(shape, rows, interpolation)
    found = table.interpolation_error()
    fine = np.linspace(0, shape.height_m, 40_001)
    true = np.abs(table.volume_m3(fine) - shape.volume_m3(fine)).max()
    if interpolation == "linear":
        assert 0.5 * true <= found.largest_m3 <= 2 * true
    else:
        assert true <= found.largest_m3 <= 40 * true
    assert found.largest_m3 == max(found.intervals_m3)
    assert found.from_level_m == table.levels_m[found.interval - 1]
    assert found.to_level_m == table.levels_m[found.interval]


def test_the_estimate_says_where():
    """A kink between straight parts: a cone of 2 m below a shell. Only near the kink can straight lines be right and a
    cubic not."""
    table = StrappingTable([0, 1, 2, 3, 4, 5], [0, 1, 2, 8, 14, 20])
    assert table.interpolation_error().interval in (2, 3)
    straight = StrappingTable([0, 1, 2, 3], [0, 2, 4, 6])
    assert straight.interpolation_error().largest_m3 == pytest.approx(0, abs=1e-12)


def test_two_rows_say_nothing_about_their_error():
    assert StrappingTable([0, 1], [0, 1]).interpolation_error() is None


# --- rows that are wrong ------------------------------------------------------------------------------------


def test_every_problem_is_reported_with_its_row():
    levels = [0.0, 1.0, 1.0, 0.5, -1.0, math.nan, 3.0]
    volumes = [0.5, 1.0, 2.0, 1.5, 3.0, 4.0, -5.0]
    found = codes(validate(levels, volumes))
    assert ("starts_with_volume", 1) in found
    assert ("level_repeats", 3) in found
    assert ("level_falls", 4) in found
    assert ("volume_falls", 4) in found
    assert ("negative_level", 5) in found
    assert ("level_falls", 5) in found
    assert ("not_finite", 6) in found
    assert ("negative_volume", 7) in found
    assert ("volume_falls", 7) in found
    assert [row for _, row in found] == sorted(row for _, row in found)


def test_rows_have_the_numbers_that_were_given():
    found = validate([0, 2, 1], [0, 1, 2], row_numbers=[2, 5, 9])
    assert codes(found) == [("level_falls", 9)]
    assert "lower than 2 m in row 5" in found[0].sentence()


def test_sentences_are_shown_in_the_units_of_the_plant():
    problem = validate([0, 2, 1], [0, 1, 2])[0]
    assert problem.sentence() == "The level 1 m is lower than 2 m in row 2. Levels have to rise from row to row."
    assert "3.2808399 ft is lower than 6.56167979 ft" in problem.sentence(PlantUnits("us"))
    translated = problem.sentence(translate=lambda text: text.replace("The level", "Der Füllstand"))
    assert translated.startswith("Der Füllstand 1 m is lower than 2 m")


@pytest.mark.parametrize("rows", [0, 1])
def test_fewer_than_two_rows(rows: int):
    assert ("too_few_rows", None) in codes(validate([0.0] * rows, [0.0] * rows))


def test_more_rows_than_are_read():
    levels = np.arange(MOST_ROWS + 1.0)
    found = validate(levels, levels)
    assert codes(found) == [("too_many_rows", None)]
    assert str(MOST_ROWS) in found[0].sentence()
    assert validate(levels[:-1], levels[:-1]) == []


def test_a_gap_is_a_step_above_the_stated_factor():
    levels = [0, 1, 2, 3, 8, 9, 10.0]
    assert validate(levels, levels, gap_factor=5) == []
    found = validate(levels, levels, gap_factor=4.9)
    assert codes(found) == [("gap", 5)]
    assert found[0].grade == "caution"
    assert "rises by 5 m, more than 4.9 times the usual step of 1 m" in found[0].sentence()


def test_a_first_volume_is_a_caution_only():
    table = StrappingTable([0.2, 1], [0.3, 2])
    assert [problem.grade for problem in validate([0.2, 1], [0.3, 2])] == ["caution"]
    assert table.lowest_volume_m3 == 0.3


def test_contradiction_to_the_shape_above_the_stated_tolerance():
    shape = silo(1.0, 4.0)  # π m² of section
    levels = np.linspace(0, 4, 5)
    volumes = math.pi * levels
    volumes[2] += 0.011 * shape.total_volume_m3
    volumes[3] -= 0.009 * shape.total_volume_m3
    found = validate(levels, volumes, shape=shape)
    assert codes(found) == [("against_shape", 3)]
    assert found[0].grade == "caution"
    assert "1.1 % of the total, where 1 % are allowed" in found[0].sentence()
    assert codes(validate(levels, volumes, shape=shape, shape_tolerance=0.008)) == [
        ("against_shape", 3), ("against_shape", 4)
    ]  # fmt: skip
    assert validate(levels, volumes, shape=shape, shape_tolerance=0.02) == []


def test_levels_beyond_the_vessel():
    found = validate([0, 3, 4.0005, 4.002], [0, 3, 4, 5], height_m=4.0)
    assert codes(found) == [("above_vessel", 4)]
    assert "above the vessel's inside height of 4 m" in found[0].sentence()
    assert codes(validate([0, 3, 4.0005], [0, 3, 4], height_m=4.0, height_tolerance_m=0.0)) == [("above_vessel", 3)]


def test_swapped_columns_are_seen_by_the_height_of_the_vessel():
    shape = drum(2.0, 6.0)
    levels = np.linspace(0, 2, 11)
    found = validate(shape.volume_m3(levels), levels, height_m=2.0)
    assert found[-1].code == "columns_swapped_for_vessel"
    assert found[-1].grade == "error"
    assert validate(levels, shape.volume_m3(levels), shape=shape) == []


def test_swapped_columns_are_seen_by_their_steps():
    levels = np.linspace(0, 2, 11)
    found = validate(drum().volume_m3(levels), levels)
    assert ("columns_swapped", None) in codes(found)
    assert all(problem.grade == "caution" for problem in found)


def test_a_table_is_refused_with_all_its_errors():
    with pytest.raises(ImpossibleTable) as refused:
        StrappingTable([0, 2, 1, 3, 2.5], [0, 1, 0.5, 4, 5])
    assert codes(list(refused.value.problems)) == [("level_falls", 3), ("volume_falls", 3), ("level_falls", 5)]
    with pytest.raises(ImpossibleTable, match="All volumes are the same"):
        StrappingTable([0, 1, 2], [3, 3, 3])


def test_wrong_calls_are_errors_of_the_program():
    with pytest.raises(ValueError, match="equally many"):
        validate([0, 1], [0])
    with pytest.raises(ValueError, match="gap_factor"):
        validate([0, 1], [0, 1], gap_factor=math.nan)
    with pytest.raises(ValueError, match="shape_tolerance"):
        validate([0, 1], [0, 1], shape_tolerance=-0.1)


def test_every_sentence_can_be_written():
    """A template whose places are not filled would fail only on the page that shows it."""
    shape = silo(1.0, 4.0)
    samples: list[Problem] = []
    samples += validate([0, -1, 1, 1, 0.5, math.nan, 9], [0.1, -1, 5, 5, 2, 1, 3], shape=shape)
    samples += validate([], [])
    samples += validate(np.arange(MOST_ROWS + 1), np.arange(MOST_ROWS + 1))
    samples += validate([0, 1, 2, 9], [1, 1, 1, 1])
    samples += validate(drum().volume_m3(np.linspace(0, 2, 11)), np.linspace(0, 2, 11), height_m=2.0)
    samples += validate(drum().volume_m3(np.linspace(0, 2, 11)), np.linspace(0, 2, 11))
    assert {problem.code for problem in samples} == set(TEMPLATES)
    for problem in samples:
        assert "%(" not in problem.sentence(PlantUnits("us"))
