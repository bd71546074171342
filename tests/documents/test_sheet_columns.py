"""Laying out pairs and tables: order kept, nothing lost, widths that fill the room."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from instruments.documents.sheet_columns import (
    NOTHING,
    Columns,
    Grid,
    Pair,
    column_widths_mm,
    grid_height_mm,
    laid_out,
    lines_of,
    too_wide,
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


def test_a_table_that_is_too_wide_is_turned() -> None:
    grid = Grid(tuple(f"Heading{number}" for number in range(20)), (("Value",) * 20, ("Other",) * 20))
    assert too_wide(grid, 160.0)
    (turned,) = grid.turned()
    assert turned.heads == ("Heading0", "Value", "Other")
    assert turned.rows[0] == ("Heading1", "Value", "Other")
    assert len(turned.rows) == 19
    assert not too_wide(turned, 160.0)


def test_rows_too_many_to_stand_abreast_are_several_tables() -> None:
    grid = Grid(("a", "b"), tuple((str(number), "x") for number in range(8)), not_given=("c",))
    first, second = grid.turned()
    assert first.heads == ("a", "0", "1", "2", "3", "4", "5")
    assert second.heads == ("a", "6", "7")
    assert (first.not_given, second.not_given) == ((), ("c",))


@pytest.mark.parametrize(("text", "lines"), [("", 1), ("a", 1), ("a\nb\n", 3), ("word " * 10, 2)])
def test_lines_of_a_text(text: str, lines: int) -> None:
    assert lines_of(text, 8.0, 40.0) == lines
