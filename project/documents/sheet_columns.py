"""What stands in the columns of a printed sheet, how wide they are, and about how high the lines come out.

Estimates rest on the widths of the sheet's typeface (`vessels.sketch.text_width`); they choose between layouts, and a
wrong one costs a line, never a text.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from vessels.sketch.text_width import text_width_em

Translate = Callable[[str], str]

DASH = "–"  # a value that was not given
MM_PER_PT = 25.4 / 72
# Sizes of css/sheet.css.
VALUE_PT, VALUE_LEADING_PT = 8.0, 8.9
LABEL_PT, LABEL_LEADING_PT = 6.8, 7.8
ROW_PADDING_PT, CELL_GAP_MM = 1.4, 1.2
LONGEST_WORD_EM, LEAST_COLUMN_MM, COMFORTABLE_MM = 9.0, 4.0, 24.0
# Columns of a table with labels that stand abreast.
ABREAST = 6


@dataclass(frozen=True, slots=True)
class Pair:
    """A label with its value; '' is a value that was not given.

    sign   points at a footnote
    long   takes the whole width
    quiet  in the type of labels
    """

    label: str
    value: str
    sign: str = ""
    long: bool = False
    quiet: bool = False


@dataclass(frozen=True, slots=True)
class Grid:
    """A table: heads of the columns, rows of values; '' is a value that was not given.

    labelled   the first column holds labels
    not_given  heads of the columns that were left out because none of their values is given
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    labelled: bool = False
    not_given: tuple[str, ...] = ()


NOTHING = Pair("", "")


@dataclass(frozen=True, slots=True)
class Columns:
    """Pairs that stand abreast, and the widths of their label and value columns."""

    abreast: int
    label_mm: float
    value_mm: float

    @property
    def widths_mm(self) -> tuple[float, ...]:
        return (self.label_mm, self.value_mm) * self.abreast

    def value_lines(self, pair: Pair) -> int:
        return lines_of(pair.value, VALUE_PT, self.value_mm)

    def height_mm(self, line: Sequence[Pair]) -> float:
        """About the height of one line of pairs."""
        if len(line) == 1:
            size_pt = LABEL_PT if line[0].quiet else VALUE_PT
            values = lines_of(line[0].value, size_pt, sum(self.widths_mm) - self.label_mm)
        else:
            values = max(self.value_lines(pair) for pair in line)
        return row_mm(values, max(lines_of(pair.label, LABEL_PT, self.label_mm) for pair in line))


def row_mm(value_lines: int, label_lines: int = 1) -> float:
    """About the height of a line with values and labels of so many lines."""
    return (max(value_lines * VALUE_LEADING_PT, label_lines * LABEL_LEADING_PT) + ROW_PADDING_PT) * MM_PER_PT


def lines_of(text: str, size_pt: float, width_mm: float) -> int:
    """About how many lines a text takes; words do not fill a line to its end, hence a tenth less room."""
    em = 0.9 * width_mm / (size_pt * MM_PER_PT)
    return sum(max(1, math.ceil(text_width_em(part) / em)) for part in text.split("\n"))


def laid_out(pairs: Sequence[Pair], columns: Columns) -> list[tuple[Pair, ...]]:
    """Pairs abreast; one that needs more than two lines of its column has the whole width (a line of one).

    The order is kept, but a long pair lets short ones pass, so that no line is left half empty.
    """
    lines: list[tuple[Pair, ...]] = []
    begun: list[Pair] = []
    waiting: list[Pair] = []
    for pair in pairs:
        if pair.long or "\n" in pair.value or columns.value_lines(pair) > 2:
            waiting.append(pair)
        else:
            begun.append(pair)
        if len(begun) == columns.abreast:
            lines.append(tuple(begun))
            begun = []
        if not begun:
            lines += [(one,) for one in waiting]
            waiting = []
    if begun:
        lines.append((*begun, *[NOTHING] * (columns.abreast - len(begun))))
    return lines + [(one,) for one in waiting]


def upright(grid: Grid) -> list[Pair]:
    """The one row of a table as pairs."""
    (row,) = grid.rows
    return [Pair(head, value) for head, value in zip(grid.heads, row, strict=True)]


def abreast(grid: Grid, room_mm: float) -> list[Grid]:
    """A table in as many as it takes to stand in the room, each with the first column; evenly filled."""
    first, *others = _columns(grid)
    needed = [_comfortable_mm(column) for column in others]
    room_mm -= _comfortable_mm(first)
    if grid.labelled or sum(needed) <= room_mm:
        return [grid]
    share_mm = sum(needed) / math.ceil(sum(needed) / room_mm)
    parts: list[list[tuple[str, ...]]] = [[]]
    taken_mm = 0.0
    for column, width_mm in zip(others, needed, strict=True):
        if parts[-1] and (taken_mm + width_mm > room_mm or taken_mm + width_mm / 2 > share_mm):
            parts.append([])
            taken_mm = 0.0
        parts[-1].append(column)
        taken_mm += width_mm
    return [_grid_of([first, *part], grid.not_given if part is parts[-1] else ()) for part in parts]


def _grid_of(columns: Sequence[tuple[str, ...]], not_given: tuple[str, ...]) -> Grid:
    heads, *rows = zip(*columns, strict=True)
    return Grid(heads, tuple(rows), not_given=not_given)


def _comfortable_mm(column: Sequence[str]) -> float:
    """Width at which a column reads well: its texts in one line, long ones in several."""
    return max(_width_mm(column, longest_word=True), min(_width_mm(column, longest_word=False), COMFORTABLE_MM))


def _columns(grid: Grid) -> list[tuple[str, ...]]:
    """Head and values of each column."""
    return [(head, *(row[place] for row in grid.rows)) for place, head in enumerate(grid.heads)]


def column_widths_mm(grid: Grid, room_mm: float, label_mm: float) -> list[float]:
    """Widths of a table's columns that fill the room: what their texts need in one line, or else their share.

    label_mm  width of the first column of a table with labels; its other columns are equal
    """
    if grid.labelled:
        others = len(grid.heads) - 1
        return [label_mm, *((room_mm - label_mm) / others for _ in range(others))]
    columns = _columns(grid)
    least = [_width_mm(column, longest_word=True) for column in columns]
    wanted = [max(_width_mm(column, longest_word=False), low) for column, low in zip(columns, least, strict=True)]
    if sum(wanted) <= room_mm:
        return [width * room_mm / sum(wanted) for width in wanted]
    if sum(least) >= room_mm:
        return [width * room_mm / sum(least) for width in least]
    share = (room_mm - sum(least)) / (sum(wanted) - sum(least))
    return [low + (high - low) * share for low, high in zip(least, wanted, strict=True)]


def grid_height_mm(grid: Grid, widths_mm: Sequence[float]) -> float:
    """About the height of a table whose columns have these widths."""
    room = [width - CELL_GAP_MM for width in widths_mm]
    height = row_mm(0, max(lines_of(head, LABEL_PT, width) for head, width in zip(grid.heads, room, strict=True)))
    for row in grid.rows:
        height += row_mm(max(lines_of(text, VALUE_PT, width) for text, width in zip(row, room, strict=True)))
    if grid.not_given:
        height += row_mm(0, lines_of("; ".join(grid.not_given), LABEL_PT, sum(widths_mm) - LABEL_PT * MM_PER_PT * 6))
    return height


def _width_mm(column: Sequence[str], longest_word: bool) -> float:
    """Width that a column needs: its values in one line, or its longest word. A head may take two lines."""
    head, *values = column
    words = max((text_width_em(word) for word in head.split()), default=0.0)
    head_em = words if longest_word else max(words, 0.6 * text_width_em(head))
    # A number and its unit are joined by a no-break space, at which a bare split() would part them.
    texts = [word for value in values for word in value.split(" ")] if longest_word else values
    value_em = max((text_width_em(text) for text in texts), default=0.0)
    if longest_word:
        value_em = min(value_em, LONGEST_WORD_EM)  # longer ones are broken
    width_mm = max(head_em * LABEL_PT, value_em * VALUE_PT) * 1.04 * MM_PER_PT + CELL_GAP_MM
    return max(width_mm, LEAST_COLUMN_MM)
