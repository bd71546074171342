"""Rows of the capacity table, and the uncertainty of a volume."""

import math
from collections.abc import Mapping
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.capacity.samples import box, drum, silo, unhurried, vessel, vessels
from vessels.capacity.figures import Contents, Internal
from vessels.capacity.strapping import StrappingTable
from vessels.capacity.table import MOST_ROWS, capacity_table, levels_by_step
from vessels.capacity.uncertainty import (
    combine,
    dimension_contributions,
    level_contribution,
    of_rectangular,
    volume_contribution,
)
from vessels.shapes.build import Shape

# --- rows ---------------------------------------------------------------------------------------------------


def test_rows_by_hand():
    table = capacity_table(box(3, 2, 4), levels_by_step(0, 4, 1.5), density_kg_m3=800)
    assert [row.level_m for row in table.rows] == [0, 1.5, 3, 4]
    assert [row.volume_m3 for row in table.rows] == [0, 9, 18, 24]
    assert [row.share_of_total for row in table.rows] == [0, 0.375, 0.75, 1]
    assert [row.surface_area_m2 for row in table.rows] == [6, 6, 6, 6]
    assert [row.step_volume_m3 for row in table.rows] == [None, 9, 9, 6]
    assert [row.mass_kg for row in table.rows] == [0, 7200, 14400, 19200]
    assert capacity_table(box(3, 2, 4), [1.0]).rows[0].mass_kg is None


@given(vessels, st.floats(0.005, 0.7))
@unhurried
def test_rows_add_up_and_end_at_the_top(shape: Any, share: float):
    step = share * shape.height_m
    table = capacity_table(shape, levels_by_step(0, shape.height_m, step))
    assert table.rows[-1].level_m == shape.height_m
    assert table.rows[-1].share_of_total == pytest.approx(1, rel=1e-12)
    assert sum(row.step_volume_m3 or 0 for row in table.rows) == pytest.approx(shape.total_volume_m3, rel=1e-9)
    steps = np.diff([row.level_m for row in table.rows])
    assert steps[:-1] == pytest.approx(step, rel=1e-9)
    assert 0 < steps[-1] <= step * (1 + 1e-9)


@given(st.integers(1, 500), st.sampled_from([0.001, 0.01, 0.0254, 0.1, 0.3048]), st.sampled_from([0.0, 0.25, 1.1]))
@unhurried
def test_a_last_step_that_fits_but_for_rounding_is_no_row_of_its_own(count: int, step: float, first: float):
    levels = levels_by_step(first, first + count * step, step)
    assert levels.size == count + 1
    assert levels[-1] == first + count * step
    assert np.all(np.diff(levels) > 0.999 * step)


def test_levels_that_are_round_in_another_unit():
    inches = np.arange(0, 79, 6) * 0.0254
    table = capacity_table(drum(2.0, 6.0), [*inches, 2.0])
    assert table.rows[13].level_m == pytest.approx(78 * 0.0254)
    assert table.rows[-1].level_m == 2.0


def test_the_number_of_rows_has_a_limit():
    assert levels_by_step(0, 19.999, 0.001).size == MOST_ROWS
    with pytest.raises(ValueError, match=r"gives 20001 rows, more than 20000: accepted is a step from 0\.00100005 m"):
        levels_by_step(0, 20, 0.001)
    with pytest.raises(ValueError, match="1 to 20000"):
        capacity_table(drum(), np.linspace(0, 2, MOST_ROWS + 1))
    with pytest.raises(ValueError, match="0 levels"):
        capacity_table(drum(), [])


def test_the_largest_table_is_made():
    table = capacity_table(drum(), np.linspace(0, 2, MOST_ROWS), 1000.0)
    assert len(table.rows) == MOST_ROWS


def test_levels_steps_and_density_are_checked():
    with pytest.raises(ValueError, match="outside the capacity curve"):
        capacity_table(drum(), [0, 2.1])
    with pytest.raises(ValueError, match=r"level 0\.5 m follows 1 m: accepted are rising levels"):
        capacity_table(drum(), [0, 1, 0.5])
    for density in (0.0, -1.0, math.nan, math.inf):
        with pytest.raises(ValueError, match="density_kg_m3"):
            capacity_table(drum(), [0, 1], density)
    for step in (0.0, -0.1, math.nan):
        with pytest.raises(ValueError, match="step_m"):
            levels_by_step(0, 1, step)
    with pytest.raises(ValueError, match="to_level_m"):
        levels_by_step(1, 1, 0.1)


def test_tables_and_contents_have_rows_too():
    measured = StrappingTable([0.2, 1, 2], [0.5, 3, 6])
    rows = capacity_table(measured, levels_by_step(0.2, 2, 0.6)).rows
    assert (rows[0].volume_m3, rows[-1].share_of_total) == (0.5, 1.0)
    net = capacity_table(Contents(box(3, 2, 4), (Internal("coil", 1, 2, 0.6),)), [0, 1.5, 4])
    assert [row.volume_m3 for row in net.rows] == pytest.approx([0, 8.7, 23.4])
    assert net.total_volume_m3 == pytest.approx(23.4)


# --- uncertainty --------------------------------------------------------------------------------------------


def upright(dimensions: Mapping[str, float]) -> Shape:
    return silo(dimensions["diameter"] / 2, dimensions["height"])


def lying(dimensions: Mapping[str, float]) -> Shape:
    return drum(dimensions["diameter"], dimensions["length"])


def test_an_upright_tank_by_the_law_of_propagation():
    """JCGM 100:2008 (GUM) 5.1.2 on V = π·D²·h/4, D = 10 m ± 5 mm, h = 6 m ± 2 mm (standard): 0.471239 m³ from the
    diameter, 0.157080 m³ from the level, together 0.496729 m³, 0.99346 m³ or 0.2108 % expanded with k = 2; by hand."""
    dimensions = {"diameter": 10.0, "height": 12.0}
    shape = upright(dimensions)
    parts = dimension_contributions(upright, dimensions, {"diameter": 0.0005, "height": 0.001}, 6.0)
    found = combine(shape, 6.0, [*parts, level_contribution(shape, 6.0, 0.002)])
    by_name = {part.name: part.volume_m3 for part in found.contributions}
    assert by_name["diameter"] == pytest.approx(0.471239, abs=5e-7)
    assert by_name["level"] == pytest.approx(0.157080, abs=5e-7)
    assert by_name["height"] == 0.0  # of the shell: it does not matter to a volume below it
    assert found.standard_m3 == pytest.approx(0.496729, abs=5e-7)
    assert found.expanded_m3() == pytest.approx(0.99346, abs=5e-6)
    assert found.expanded_m3() / found.volume_m3 == pytest.approx(0.002108, abs=5e-7)
    assert found.share == pytest.approx(0.001054, abs=5e-7)


@pytest.mark.parametrize("level, area, share", [(0.2, 7.2, 0.0367), (1.0, 12.0, 0.0064), (1.8, 7.2, None)])
def test_level_in_a_lying_drum(level: float, area: float, share: float | None):
    """R = 1 m, L = 6 m: dV/dh = 2·L·√(2·R·h − h²) by hand; 5 mm are 3.67 % of the contents at 0.2 m."""
    found = combine(drum(2.0, 6.0), level, [level_contribution(drum(2.0, 6.0), level, 0.005)])
    assert found.contributions[0].sensitivity == pytest.approx(area, rel=1e-12)
    assert found.standard_m3 == pytest.approx(area * 0.005, rel=1e-12)
    if share is not None:
        assert found.share == pytest.approx(share, abs=5e-5)


def test_length_and_diameter_of_a_lying_drum():
    """V is proportional to the length; by the diameter ∂V/∂D = L·∂A/∂D, for a half full drum
    A = R²·acos((R − h)/R) − (R − h)·√(2·R·h − h²), ∂A/∂R = 2·R·φ − 2·√(2·R·h − h²) = π − 2 at R = h = 1 m; by hand."""
    dimensions = {"diameter": 2.0, "length": 6.0}
    parts = dimension_contributions(lying, dimensions, {"diameter": 0.001, "length": 0.002}, 1.0)
    assert parts[0].sensitivity == pytest.approx(6 * (math.pi - 2) / 2, rel=1e-7)
    assert parts[1].volume_m3 == pytest.approx(0.002 * lying(dimensions).volume_m3(1.0), rel=1e-7)


@given(vessels, st.floats(0.01, 0.99), st.lists(st.floats(0, 0.1), min_size=1, max_size=5))
@unhurried
def test_parts_add_by_their_squares(shape: Any, share: float, uncertainties: list[float]):
    parts = [volume_contribution(f"part {number}", u) for number, u in enumerate(uncertainties)]
    found = combine(shape, share * shape.height_m, parts)
    assert found.standard_m3 == pytest.approx(float(np.linalg.norm(uncertainties)))
    assert found.standard_m3 >= max(uncertainties) * (1 - 1e-12)


def test_the_interpolation_of_a_table_is_one_part():
    levels = np.linspace(0, 2, 11)
    table = StrappingTable(levels, drum().volume_m3(levels))
    u = of_rectangular(table.interpolation_error().largest_m3)
    found = combine(table, 0.9, [volume_contribution("interpolation", u), level_contribution(table, 0.9, 0.001)])
    assert found.standard_m3 > u > 0
    assert of_rectangular(3.0) == pytest.approx(math.sqrt(3))  # GUM 4.3.7: a/√3


def test_at_the_roof_and_when_empty():
    dimensions = {"diameter": 2.0, "length": 6.0}
    full = dimension_contributions(lying, dimensions, {"diameter": 0.001, "length": 0.001}, 2.0)
    # V = π·D²·L/4 of the full drum: 2 ‰ for 1 ‰ of the diameter, 1 ‰ for 1 ‰ of the length (GUM 5.1.2).
    whole = math.pi * 6
    assert [one.volume_m3 for one in full] == pytest.approx([0.002 * whole, 0.001 * whole], rel=1e-6)
    assert combine(drum(), 0.0, []).share is None


def test_a_flat_roof_is_no_kink_in_the_uncertainty():
    """A full tank is as unsure as V = π·D²·H/4 says, just below it the height no longer counts: the level stays."""
    dimensions = {"diameter": 2.0, "height": 3.0}

    def upright(of):
        return vessel("vertical_cylinder", diameter_m=of["diameter"], cylinder_height_m=of["height"])

    full = dimension_contributions(upright, dimensions, {"diameter": 0.01, "height": 0.01}, 3.0)
    whole = math.pi * 3
    assert [one.volume_m3 for one in full] == pytest.approx([0.02 * whole, 0.01 * whole], rel=1e-6)
    below = dimension_contributions(upright, dimensions, {"diameter": 0.01, "height": 0.01}, 3.0 * (1 - 1e-6))
    assert [one.volume_m3 for one in below] == pytest.approx([0.02 * whole, 0.0], rel=1e-5, abs=1e-9)


def test_wrong_uncertainties_are_refused():
    dimensions = {"diameter": 2.0, "length": 6.0}
    with pytest.raises(ValueError, match="'width' is no dimension of this vessel: accepted is diameter or length"):
        dimension_contributions(lying, dimensions, {"width": 0.001}, 1.0)
    for u in (-0.001, math.nan):
        with pytest.raises(ValueError, match="relative uncertainty of diameter"):
            dimension_contributions(lying, dimensions, {"diameter": u}, 1.0)
        with pytest.raises(ValueError, match="standard_uncertainty_m"):
            level_contribution(drum(), 1.0, u)
        with pytest.raises(ValueError, match="interpolation"):
            volume_contribution("interpolation", u)
        with pytest.raises(ValueError, match="half_width"):
            of_rectangular(u)
    with pytest.raises(ValueError, match="level_m"):
        combine(drum(), 3.0, [])
