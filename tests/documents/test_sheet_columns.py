"""Laying out pairs and tables: order kept, nothing lost, widths that fill the room."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from project.documents.sheet_columns import (
    NOTHING,
    Columns,
    Grid,
    Pair,
    abreast,
    column_widths_mm,
    grid_height_mm,
    laid_out,
    lines_of,
    upright,
)

TWO = Columns(2, 42.0, 38.0)
PAIRS = st.lists(st.builds(Pair, st.text("abc ", max_size=20), st.sampled_from(["", "12 m", "word " * 40, "a\nb"])))
TEXTS = st.text("abcW ", max_size=30)


@given(PAIRS)
def test_every_pair_is_laid_out_once(pairs: list[Pair]) -> None:
    lines = laid_out(pairs, TWO)
    assert all(len(line) in (1, TWO.abreast) for line in lines)
    found = [pair for line in lines for pair in line if pair is not NOTHING]
    assert sorted(map(repr, found)) == sorted(map(repr, pairs))
    short = [pair for pair in pairs if pair in found and "\n" not in pair.value and TWO.value_lines(pair) <= 2]
    assert [pair for line in lines if len(line) == 2 for pair in line if pair is not NOTHING] == short


def test_a_long_pair_lets_the_next_short_one_pass() -> None:
    first, long, second = Pair("a", "1 m"), Pair("b", "word " * 40), Pair("c", "2 m")
    assert laid_out([first, long, second], TWO) == [(first, second), (long,)]


def test_at_most_one_place_stays_empty() -> None:
    lines = laid_out([Pair("a", "1 m")], TWO)
    assert lines == [(Pair("a", "1 m"), NOTHING)]


@given(st.integers(1, 8).flatmap(lambda count: st.lists(st.lists(TEXTS, min_size=count, max_size=count), min_size=1)))
def test_columns_fill_the_room(rows: list[list[str]]) -> None:
    grid = Grid(tuple(rows[0]), tuple(tuple(row) for row in rows))
    widths = column_widths_mm(grid, 160.0, 42.0)
    assert sum(widths) == pytest.approx(160.0)
    assert min(widths) > 0
    assert grid_height_mm(grid, widths) > 0


def test_a_number_stays_with_its_unit() -> None:
    """Beside a text that takes all it can get, a column is still as wide as number and unit with no-break space."""
    grid = Grid(("Level", "Action"), (("19.714\u00a0mA", "word " * 60),))
    assert column_widths_mm(grid, 60.0, 42.0)[0] > 14.0


def test_a_table_that_is_too_wide_is_several_with_the_first_column_each() -> None:
    heads = ("Tag", *(f"Heading {number}" for number in range(40)))
    grid = Grid(heads, (("LT-1", *["Some value"] * 40), ("LT-2", *["Other"] * 40)), not_given=("c",))
    parts = abreast(grid, 160.0)
    assert len(parts) > 2
    assert all(part.heads[0] == "Tag" and [row[0] for row in part.rows] == ["LT-1", "LT-2"] for part in parts)
    assert [head for part in parts for head in part.heads[1:]] == list(heads[1:])
    assert [part.not_given for part in parts] == [()] * (len(parts) - 1) + [("c",)]
    counts = [len(part.heads) for part in parts]
    assert max(counts) - min(counts) <= 2


def test_a_table_that_fits_stays_whole() -> None:
    grid = Grid(("Tag", "Level"), (("LT-1", "1 m"),))
    assert abreast(grid, 160.0) == [grid]
    labelled = Grid(("Case", *["Normal"] * 30), (("Temperature", *["1 °C"] * 30),), labelled=True)
    assert abreast(labelled, 160.0) == [labelled]


def test_one_row_stands_upright() -> None:
    assert upright(Grid(("a", "b"), (("1", ""),))) == [Pair("a", "1"), Pair("b", "")]


@pytest.mark.parametrize(("text", "lines"), [("", 1), ("a", 1), ("a\nb\n", 3), ("word " * 10, 2)])
def test_lines_of_a_text(text: str, lines: int) -> None:
    assert lines_of(text, 8.0, 40.0) == lines
