"""A strapping table as text from a spreadsheet: read row by row, nothing lost, every problem with its row.

Every number goes through `project.quantities`, which refuses "1,500" because a comma may mean thousands or decimals.
Columns are separated by tabs, semicolons, commas or at least two spaces. A comma separates only where the text proves
that it is no part of a number: a decimal point before it ("0.5,12"), a unit or a space beside it ("500 mm,12 L"), or a
heading of two columns that it separates.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from project.quantities import KINDS, PlantUnits, UnreadableQuantity
from project.registry import gettext_noop
from vessels.capacity.problems import COLUMNS, Column, ImpossibleTable, Problem, errors_in, of_unreadable
from vessels.capacity.strapping import Interpolation, StrappingTable
from vessels.capacity.validation import MOST_ROWS, problem_of, validate

ColumnOrder = Literal["level_volume", "volume_level"]
_ORDERS: Mapping[ColumnOrder, tuple[Column, Column]] = {
    "level_volume": ("level", "volume"),
    "volume_level": ("volume", "level"),
}
_KINDS: Mapping[str, str] = {"level": "length", "volume": "volume"}
# Any set of units will do: a bare number takes the unit of its column before it gets there.
_UNITS = PlantUnits()

_NUMBER_FIRST = re.compile(r"\s*[+\-−–]?\s*\.?[0-9]", re.ASCII)
_BARE = re.compile(r"[+\-−–]?\s*(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?", re.ASCII)
_SPACES = re.compile(r"[ \u00a0]{2,}")
_PROOF_OF_COMMA = re.compile(
    r"[0-9]\.(?![0-9]{3},)[0-9]*,"  # 0.5,12; but 1.234,56 might be one number
    r"|\.[0-9]+,[0-9]*\."  # 0.500,1.25
    r"|[^0-9.,\s]\s*,|,\s|,\s*[^0-9.,\s+\-−–]",  # 500 mm,12 L; Level,Volume
    re.ASCII,
)
_COMMA_SPACE = re.compile(r"[^,]+,\s[^,]+")
_LINE_END = re.compile(r"\r\n|\r|\n")
_IN_BRACKETS = re.compile(r"[(\[]\s*([^()\[\]]*(?:\([^()]*\))?[^()\[\]]*?)\s*[)\]]")
_LAST_WORD = re.compile(r"([^\s,/]+)\s*$")

TEMPLATES = {
    "empty": gettext_noop("There are no rows. Paste two columns: a level and a volume in each row."),
    "cell_missing": gettext_noop("The %(column)s is missing in this row."),
    "one_column": gettext_noop(
        "One value instead of two: “%(text)s”. Separate level and volume by a tab, a semicolon or at least two spaces."
    ),
    "comma_unclear": gettext_noop(
        "“%(text)s”: a comma may mean thousands, decimals or the next column. Write decimals with a point, and "
        "separate the columns by a tab or a semicolon."
    ),
    "many_columns": gettext_noop("%(count)s values instead of two: “%(text)s”. Paste the level and the volume only."),
    "cells_swapped": gettext_noop(
        "Every row has a volume where a level is wanted and a level where a volume is wanted. Swap the columns, or say "
        "that the volume comes first."
    ),
    "heading_unit": gettext_noop(
        "The heading “%(text)s” names a unit that is not known for a %(column)s: “%(unit)s”. Accepted are %(units)s; "
        "without a unit in the heading, numbers are taken in %(taken)s."
    ),
    "heading_swapped": gettext_noop(
        "The heading “%(text)s” stands over the column that is read as %(column)s, but it names a %(other)s. Swap the "
        "columns, or say that the volume comes first."
    ),
}


@dataclass(frozen=True, slots=True)
class PastedRow:
    """One row: its number as pasted (every line counts, from 1), its line, and both cells as typed and in SI.

    `level_typed` and `volume_typed` carry the unit in which they were read; level_m and volume_m3 are None where the
    cell could not be read.
    """

    number: int
    line: str
    level_typed: str
    volume_typed: str
    level_m: float | None
    volume_m3: float | None


@dataclass(frozen=True, slots=True)
class PastedTable:
    """What was pasted, what was read, and what is wrong with it.

    text         exactly as pasted          heading     the heading line, "" where there is none
    level_unit, volume_unit  units that bare numbers were taken in
    rows         all rows but the heading and empty lines
    problems     of reading, in the order of the rows; `check` adds those of the table
    """

    text: str
    heading: str
    level_unit: str
    volume_unit: str
    rows: tuple[PastedRow, ...]
    problems: tuple[Problem, ...]

    def _complete(self) -> tuple[list[float], list[float], list[int]]:
        levels: list[float] = []
        volumes: list[float] = []
        numbers: list[int] = []
        for row in self.rows:
            if row.level_m is not None and row.volume_m3 is not None:
                levels.append(row.level_m)
                volumes.append(row.volume_m3)
                numbers.append(row.number)
        return levels, volumes, numbers

    def check(self, **options: Any) -> list[Problem]:
        """Problems of reading and of the table together, by row, those of the whole table last.

        options  `shape`, `height_m`, tolerances: as for `validation.validate`
        """
        if not self.rows:  # nothing was there or was read, which the problems say already
            return list(self.problems)
        levels, volumes, numbers = self._complete()
        if len(levels) < 2 and errors_in(self.problems):  # too few are left because of what is said already
            return list(self.problems)
        found = [*self.problems, *validate(levels, volumes, row_numbers=numbers, **options)]
        return sorted(found, key=lambda problem: (problem.row is None, problem.row or 0))

    def table(self, interpolation: Interpolation = "linear") -> StrappingTable:
        """The strapping table. Raises ImpossibleTable with every error of reading and of the table."""
        errors = errors_in(self.check())
        if errors:
            raise ImpossibleTable(errors)
        levels, volumes, _ = self._complete()
        return StrappingTable(levels, volumes, interpolation)


def read_paste(text: str, *, level_unit: str, volume_unit: str, order: ColumnOrder = "level_volume") -> PastedTable:
    """Read pasted text into rows of level and volume.

    Parameters
    ----------
    text         with or without a heading line, which may carry units: "Level (mm)\\tVolume (L)"
    level_unit   unit of levels without one, a length unit of `project.quantities`, e.g. "mm"
    volume_unit  unit of volumes without one, e.g. "m³"
    order        which column comes first: "level_volume" or "volume_level"

    A unit in a cell counts for that cell, one in the heading for its column, the given ones for the rest.

    Returns
    -------
    PastedTable with the text unchanged. It is never an error of this function that the text is bad: problems say which
    row and column, what stands there and what would be accepted. Above 20,000 rows none is read, and a problem says so.

    Raises
    ------
    ValueError   for a unit or an order that is not known: these come from the program, not from the text.
    """
    taken = {"level": level_unit, "volume": volume_unit}
    for column, unit in taken.items():
        known = KINDS[_KINDS[column]].units
        if unit not in known:
            raise ValueError(f"{column}_unit = {unit!r}: accepted is {' or '.join(known)}")
    if order not in _ORDERS:
        raise ValueError(f"order = {order!r}: accepted is {' or '.join(_ORDERS)}")
    lines = [(number, line) for number, line in enumerate(_LINE_END.split(text), start=1) if line.strip(" \t;,\u00a0")]
    if not lines:
        return PastedTable(text, "", level_unit, volume_unit, (), (_problem("empty"),))
    split, comma_unclear = _splitter([line for _, line in lines])
    heading_number, heading = lines[0]
    if any(_NUMBER_FIRST.match(cell) for cell in split(heading)) or _NUMBER_FIRST.match(heading):
        heading = ""
    else:
        lines = lines[1:]
    if len(lines) > MOST_ROWS:
        too_many = problem_of("too_many_rows", count=len(lines), most=MOST_ROWS)
        return PastedTable(text, heading, level_unit, volume_unit, (), (too_many,))
    if not lines:
        return PastedTable(text, heading, level_unit, volume_unit, (), (_problem("empty"),))
    columns = _ORDERS[order]
    problems: list[Problem] = []
    if heading:
        problems += _heading_units(heading_number, split(heading), columns, taken)
    # Numbers under a heading that contradicts them would be wrong by the factor between two units.
    readable = not problems
    rows: list[PastedRow] = []
    for number, line in lines:
        cells = split(line)
        found = _row_problem(number, line, cells, comma_unclear)
        if found is not None:
            problems.append(found)
            rows.append(PastedRow(number, line, "", "", None, None))
            continue
        typed: dict[str, str] = dict(zip(columns, cells, strict=True))
        values: dict[str, float | None] = {"level": None, "volume": None}
        if readable:
            for column in columns:
                typed[column], values[column] = _read_cell(number, column, typed[column], taken[column], problems)
        rows.append(PastedRow(number, line, typed["level"], typed["volume"], values["level"], values["volume"]))
    if readable and all(_looks_swapped(row) for row in rows):
        problems.append(_problem("cells_swapped"))
    return PastedTable(text, heading, taken["level"], taken["volume"], tuple(rows), tuple(problems))


def _problem(code: str, row: int | None = None, at: Column = "", given: str = "", /, **params: str | int) -> Problem:
    return Problem(code, "error", TEMPLATES[code], params, row, at, given)


def _short(text: str) -> str:
    text = " ".join(text.split())
    return text if len(text) <= 40 else text[:40] + "…"


class _Split:
    """Splits lines into cells, all by one separator; cells that are empty at the end of a line are dropped."""

    def __init__(self, separator: str) -> None:
        self.separator = separator

    def __call__(self, line: str) -> list[str]:
        parts = _SPACES.split(line.strip(" \u00a0")) if self.separator == "  " else line.split(self.separator)
        cells = [part.strip(" \u00a0\t\r") for part in parts]
        while len(cells) > 2 and not cells[-1]:
            cells.pop()
        return cells


def _splitter(lines: Sequence[str]) -> tuple[_Split, bool]:
    """How this text is split, and whether it has commas that might be separators but need not be."""
    for separator in ("\t", ";"):
        if any(separator in line.strip(" ") for line in lines):
            return _Split(separator), False
    below = [line for line in lines[1:] if "," in line]
    if below and all(_COMMA_SPACE.fullmatch(line) for line in below):
        return _Split(","), False
    if any(_SPACES.search(line.strip(" \u00a0")) for line in lines):
        return _Split("  "), False
    commas = [line for line in lines if "," in line]
    if any(_PROOF_OF_COMMA.search(line) for line in commas):
        return _Split(","), False
    return _Split("  "), bool(commas)


def _row_problem(number: int, line: str, cells: Sequence[str], comma_unclear: bool) -> Problem | None:
    """What is wrong with the number of cells of a row, or None where there are two."""
    if comma_unclear and "," in line:
        return _problem("comma_unclear", number, "", line, text=_short(line))
    if len(cells) == 1:
        return _problem("one_column", number, "", line, text=_short(line))
    if len(cells) > 2:
        return _problem("many_columns", number, "", line, text=_short(line), count=len(cells))
    return None


def _read_cell(row: int, column: Column, cell: str, unit: str, problems: list[Problem]) -> tuple[str, float | None]:
    """Typed text with its unit, and SI value; a problem is added, and the value None, where it cannot be read."""
    if not cell:
        problems.append(_problem("cell_missing", row, column, "", column=COLUMNS[column]))
        return "", None
    kind = _KINDS[column]
    try:
        if _BARE.fullmatch(cell):
            cell = f"{cell} {unit}"
        quantity = _UNITS.parse(cell, kind)
        if quantity.typed != cell:  # a bare number that only `project.quantities` recognises, such as 1/2
            quantity = _UNITS.parse(f"{cell} {unit}", kind)
    except UnreadableQuantity as unreadable:
        problems.append(of_unreadable(unreadable, row, column, cell))
        return cell, None
    return quantity.typed, quantity.si


def _looks_swapped(row: PastedRow) -> bool:
    """True where both cells are refused as they stand and would be read in the other column."""
    if row.level_m is not None or row.volume_m3 is not None:
        return False
    return _readable(row.level_typed, "volume") and _readable(row.volume_typed, "level")


def _readable(text: str, column: str) -> bool:
    try:
        return _UNITS.parse(text, _KINDS[column]).si is not None
    except UnreadableQuantity:
        return False


def _known_unit(spelling: str, column: str) -> bool:
    """True for a unit of this column's kind."""
    return _readable(f"1 {spelling}", column)


def _units_in(text: str) -> tuple[str, str]:
    """What may be the unit of a heading: its last word, and what stands in brackets; "" where there is neither."""
    last, bracketed = _LAST_WORD.search(text), _IN_BRACKETS.search(text)
    return last.group(1) if last else "", bracketed.group(1) if bracketed else ""


def _heading_units(
    number: int, cells: Sequence[str], columns: tuple[Column, Column], taken: dict[str, str]
) -> list[Problem]:
    """Take the units of a heading into `taken`; problems where they are not known or belong to the other column."""
    if len(cells) != 2:
        return []
    problems: list[Problem] = []
    for cell, column, other in zip(cells, columns, reversed(columns), strict=True):
        last, bracketed = _units_in(cell)
        own_name, other_name = column in cell.casefold(), other in cell.casefold()
        own_unit = next((spelling for spelling in (last, bracketed) if spelling and _known_unit(spelling, column)), "")
        # A lone last word may be a symbol ("Level L"); it counts as the other column's unit only without a name.
        other_units = [spelling for spelling in (bracketed, "" if own_name else last) if spelling]
        if (other_name and not own_name) or (not own_unit and any(_known_unit(u, other) for u in other_units)):
            problems.append(
                _problem(
                    "heading_swapped",
                    number,
                    column,
                    cell,
                    text=_short(cell),
                    column=COLUMNS[column],
                    other=COLUMNS[other],
                )
            )
        elif own_unit:
            taken[column] = own_unit
        elif bracketed:
            units = ", ".join(KINDS[_KINDS[column]].units)
            problems.append(
                _problem(
                    "heading_unit", number, column, cell, text=_short(cell), column=COLUMNS[column],
                    unit=_short(bracketed), units=units, taken=taken[column],
                )
            )  # fmt: skip
    return problems
