"""Pasted strapping tables: what is read, what is refused, and in which words."""

import time
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.capacity.samples import drum, unhurried
from vessels.capacity.paste import TEMPLATES, PastedTable, read_paste
from vessels.capacity.problems import ImpossibleTable, Problem
from vessels.capacity.validation import MOST_ROWS

# 231 cubic inches exactly: NIST SP 811, appendix B
US_GALLON_M3 = 231 * 0.0254**3


def read(text: str, **options: Any) -> PastedTable:
    return read_paste(text, **{"level_unit": "mm", "volume_unit": "m³", **options})


def values(table: PastedTable) -> list[tuple[float | None, float | None]]:
    return [(row.level_m, row.volume_m3) for row in table.rows]


def codes(problems: Any) -> list[tuple[str, int | None, str]]:
    return [(problem.code, problem.row, problem.column) for problem in problems]


def only(problems: Any) -> Problem:
    (problem,) = problems
    return problem


# --- what is read -------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        "0\t0\n500\t1.25\n1000\t2.75",
        "0;0\r\n500;1.25\r\n1000;2.75\r\n",
        "0;0\r500;1.25\r1000;2.75",
        "0 ; 0\n500 ; 1.25\n1000;2.75;",
        "0.,0\n500.0,1.25\n1000.0,2.75",
        "0, 0\n500, 1.25\n1000, 2.75",
        "0, 0\n500,  1.25\n1000,   2.75",
        "  0   0\n500   1.25\n1000  2.75\n\n",
        "\n0\t0\t\t\n500\t1.25\n\n1000\t2.75\n\t\n",
        "0 mm\t0 L\n50 cm\t1250 L\n1 m\t2.75 m3",
        "Level\tVolume\n0\t0\n500\t1.25\n1000\t2.75",
        "Level (mm)\tVolume (L)\n0\t0\n500\t1250\n1000\t2750",
        "Level [m],Volume [L]\n0,0\n0.5,1250\n1,2750",
        "Level, cm   Volume, L\n0   0\n50   1250\n100   2750",
        "Level m;Volume L\n0;0\n500 mm;1250\n1;2.75 m³",
        "h/mm\tV/m³\n0\t0\n5e2\t1.25\n1e3\t2.75",
        "\u00a00\t0\u00a0\n500\t1.25\n1\u202f000\t2.75",
    ],
)
def test_the_same_table_in_many_forms(text: str):
    table = read(text)
    assert table.check() == []
    found = [pytest.approx(row, rel=1e-12) for row in values(table)]
    assert found == [(0.0, 0.0), (0.5, 1.25), (1.0, 2.75)]
    assert table.text == text
    strapping = table.table("monotone_cubic")
    assert strapping.volume_m3(0.5) == pytest.approx(1.25)


def test_every_cell_keeps_what_was_typed_with_its_unit():
    table = read("Level (mm)\tVolume (gal(US))\n0\t0\n1 ft 6 in\t25\n500\t0.1 m³")
    assert [(row.number, row.level_typed, row.volume_typed) for row in table.rows] == [
        (2, "0 mm", "0 gal(US)"), (3, "1 ft 6 in", "25 gal(US)"), (4, "500 mm", "0.1 m³")
    ]  # fmt: skip
    assert table.rows[1].level_m == pytest.approx(18 * 0.0254, rel=1e-12)
    assert table.rows[1].volume_m3 == pytest.approx(25 * US_GALLON_M3, rel=1e-12)
    assert (table.heading, table.level_unit, table.volume_unit) == ("Level (mm)\tVolume (gal(US))", "mm", "gal(US)")


def test_the_callers_units_are_for_bare_numbers():
    table = read("0\t0\n10\t20", level_unit="in", volume_unit="ft³")
    assert values(table)[1] == pytest.approx((10 * 0.0254, 20 * 0.3048**3), rel=1e-12)


def test_the_volume_may_come_first():
    table = read("Volume (L)\tLevel (mm)\n0\t0\n1250\t500", order="volume_level")
    assert table.check() == []
    assert values(table)[1] == pytest.approx((0.5, 1.25))


def test_a_symbol_in_the_heading_is_no_unit():
    table = read("Level L\tVolume V\n0\t0\n500\t1")
    assert table.check() == []
    assert values(table)[1] == (0.5, 1.0)


@given(st.lists(st.tuples(st.integers(1, 5000), st.integers(1, 5000)), min_size=2, max_size=40), st.booleans())
@unhurried
def test_whole_millimetres_and_litres_come_back(steps: list[tuple[int, int]], heading: bool):
    levels, volumes, lines = 0, 0, []
    for level_step, volume_step in steps:
        levels, volumes = levels + level_step, volumes + volume_step
        lines.append(f"{levels}\t{volumes}")
    text = "\n".join(["Level\tVolume"] * heading + lines)
    table = read(text, volume_unit="L")
    assert table.problems == ()
    assert values(table)[-1] == (pytest.approx(levels / 1000, rel=1e-12), pytest.approx(volumes / 1000, rel=1e-12))
    assert [row.line for row in table.rows] == lines


def test_five_thousand_rows_are_fast():
    shape = drum(2.0, 6.0)
    lines = [f"{i * 0.4:.1f}\t{shape.volume_m3(i * 0.0004):.6f}" for i in range(5000)]
    started = time.perf_counter()
    table = read("Level (mm)\tVolume (m³)\n" + "\n".join(lines))
    strapping = table.table()
    assert time.perf_counter() - started < 3.0
    assert table.check(shape=shape) == []
    assert len(strapping.levels_m) == 5000


# --- what is refused ----------------------------------------------------------------------------------------


def test_a_comma_in_a_number_is_refused_with_its_row():
    table = read("0\t0\n500\t1,500\n1,000\t2.5")
    assert codes(table.check()) == [("unreadable", 2, "volume"), ("unreadable", 3, "level")]
    assert table.problems[0].given == "1,500"
    assert "a comma may mean thousands or decimals. Write 1500 or 1.5" in table.problems[0].sentence()
    assert (table.rows[1].volume_typed, table.rows[1].volume_m3) == ("1,500", None)


@pytest.mark.parametrize("text", ["0,0\n1,500\n2,800", "1,500\n2,800", "1.234,56\n2.345,67", "1,500.5\n2,800.5"])
def test_commas_that_prove_nothing_are_refused_in_every_row(text: str):
    table = read(text)
    assert {problem.code for problem in table.problems} == {"comma_unclear"}
    assert [problem.row for problem in table.problems] == list(range(1, len(table.rows) + 1))
    assert "thousands, decimals or the next column" in table.problems[0].sentence()
    assert [row.line for row in table.rows] == text.split("\n")


def test_a_heading_makes_commas_clear():
    assert values(read("Level,Volume\n1,500\n2,800")) == [(0.001, 500.0), (0.002, 800.0)]


def test_decimal_commas_between_semicolons_and_spaces():
    for text in ("0;0\n0,5;1,25", "0  0\n0,5  1,25"):
        table = read(text)
        assert codes(table.problems) == [("unreadable", 2, "level"), ("unreadable", 2, "volume")]


def test_text_in_cells():
    table = read("0\t0\n100\tabout 2\nroof\t7\n300\t-\n400\t9")
    assert codes(table.problems) == [
        ("unreadable", 2, "volume"),
        ("unreadable", 3, "level"),
        ("unreadable", 4, "volume"),
    ]
    assert "“about 2” is not readable as a number. Accepted is a volume, for example" in table.problems[0].sentence()
    assert "Accepted is a length" in table.problems[1].sentence()
    with pytest.raises(ImpossibleTable) as refused:
        table.table()
    assert len(refused.value.problems) == 3


def test_missing_cells():
    table = read("0\t0\n\t2\n200\t\n300\t4")
    assert codes(table.problems) == [("cell_missing", 2, "level"), ("cell_missing", 3, "volume")]
    assert table.problems[0].sentence() == "The level is missing in this row."
    assert values(table)[1] == (None, 2.0)


def test_one_column():
    table = read("0\n100\n200")
    assert codes(table.check()) == [("one_column", row, "") for row in (1, 2, 3)]
    assert "Separate level and volume by a tab" in table.problems[0].sentence()
    assert codes(read("0 0\n1 500").problems) == [("one_column", 1, ""), ("one_column", 2, "")]


def test_three_columns():
    table = read("1\t0\t0\n2\t100\t5\n3\t200\t9")
    assert codes(table.check()) == [("many_columns", row, "") for row in (1, 2, 3)]
    assert "3 values instead of two: “2 100 5”" in table.problems[1].sentence()


@pytest.mark.parametrize("text", ["", "\n \n\t\n", "Level\tVolume", "nothing here"])
def test_empty(text: str):
    table = read(text)
    assert codes(table.check()) == [("empty", None, "")]
    assert table.text == text
    with pytest.raises(ImpossibleTable, match="There are no rows"):
        table.table()


def test_falling_volumes_row_by_row():
    lines = [f"{10 * i}\t{100 - i}" for i in range(50)]
    found = read("\n".join(lines)).check()
    falls = [problem for problem in found if problem.code == "volume_falls"]
    assert [problem.row for problem in falls] == list(range(2, 51))
    assert "The volume 99 m³ is less than 100 m³ in row 1" in falls[0].sentence()


def test_rows_are_numbered_as_pasted():
    found = read("Level\tVolume\n\n0\t0\n\n100\t5\n50\t7").check()
    assert codes(found) == [("level_falls", 6, "level")]
    assert "in row 5" in found[0].sentence()


def test_swapped_columns_with_units_in_the_heading():
    table = read("Volume (L)\tLevel (mm)\n0\t0\n1250\t500")
    assert codes(table.check()) == [("heading_swapped", 1, "level"), ("heading_swapped", 1, "volume")]
    assert "it names a volume. Swap the columns" in table.problems[0].sentence()
    # No number is taken in a unit that the heading contradicts.
    assert values(table) == [(None, None), (None, None)]
    assert [(row.level_typed, row.volume_typed) for row in table.rows] == [("0", "0"), ("1250", "500")]


def test_swapped_columns_with_units_in_the_cells():
    found = read("0 L\t0 mm\n1250 L\t500 mm").check()
    assert codes(found)[:4] == [
        ("unreadable", row, column) for row in (1, 2) for column in ("level", "volume")
    ]  # fmt: skip
    assert "L is a unit of a volume, but a length is wanted here" in found[0].sentence()
    assert found[4].code == "cells_swapped"


def test_swapped_columns_of_bare_numbers_by_the_vessel():
    shape = drum(2.0, 6.0)
    lines = [f"{shape.volume_m3(i / 10):.4f}\t{i / 10}" for i in range(21)]
    table = read("\n".join(lines), level_unit="m")
    found = table.check(shape=shape)
    assert "columns_swapped_for_vessel" in {problem.code for problem in found}
    assert ("above_vessel", 21, "level") in codes(found)


def test_mixed_units_that_belong_to_the_wrong_column():
    table = read("0 mm\t0 L\n500 kg\t1 L\n600 mm\t700 mm")
    assert codes(table.problems) == [("unreadable", 2, "level"), ("unreadable", 3, "volume")]
    assert "kg is a unit of a mass, but a length is wanted" in table.problems[0].sentence()


def test_an_unknown_unit_in_the_heading_is_no_guess():
    table = read("Level (mm)\tVolume (firkin)\n0\t0\n500\t1")
    problem = only(table.check())
    assert (problem.code, problem.row, problem.column) == ("heading_unit", 1, "volume")
    assert "“firkin”. Accepted are m³, L," in problem.sentence()
    assert values(table) == [(None, None), (None, None)]


def test_more_rows_than_are_read():
    lines = [f"{i}\t{i}" for i in range(MOST_ROWS + 1)]
    text = "\n".join(lines)
    table = read(text)
    assert only(table.check()).sentence() == f"{MOST_ROWS + 1} rows are too many: at most {MOST_ROWS} are read."
    assert (table.rows, table.text) == ((), text)


def test_a_very_long_cell_is_refused_and_shown_short():
    problem = read("0\t0\n1\t" + "9" * 500).problems[0]
    assert problem.code == "unreadable"
    assert len(problem.sentence()) < 200
    assert len(problem.given) > 500


def test_numbers_beyond_any_plant_are_refused():
    found = read("0\t0\n1\t1e300\n2\t1e999").problems
    assert codes(found) == [("unreadable", 2, "volume"), ("unreadable", 3, "volume")]


def test_negative_values_are_named():
    found = read("-10\t0\n0\t-1\n10\t5").check()
    assert ("negative_level", 1, "level") in codes(found)
    assert ("negative_volume", 2, "volume") in codes(found)


@given(st.text(alphabet="0123456789.,;\t \n-+eEmLl()x³\u00a0", max_size=200))
@unhurried
def test_no_text_is_an_error_of_the_program(text: str):
    table = read(text)
    assert table.text == text
    for problem in table.check():
        assert problem.sentence()
    numbers = [row.number for row in table.rows]
    assert numbers == sorted(set(numbers))


def test_units_and_orders_of_the_caller_are_checked():
    with pytest.raises(ValueError, match="level_unit = 'm³'"):
        read("", level_unit="m³")
    with pytest.raises(ValueError, match="level_volume or volume_level"):
        read("", order="sideways")


def test_every_sentence_can_be_written():
    texts = [
        "", "0\t\n1", "0\n1", "1,500\n2,500", "1\t2\t3", "Level (firkin)\tVolume\n1\t2", "Volume\tLevel\n0\t0",
        "0 L\t0 mm",
    ]  # fmt: skip
    found = [problem for text in texts for problem in read(text).problems]
    assert {problem.code for problem in found} >= set(TEMPLATES)
    for problem in found:
        assert "%(" not in problem.sentence()
