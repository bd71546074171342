"""A table of numbers and texts as CSV or XLSX: numbers stay numbers, and no text is run as a formula.

Pure: the standard library and xlsxwriter. Equal tables give equal bytes: nothing of the clock is written.
"""

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

import xlsxwriter  # type: ignore[import-untyped]

Cell = float | str | None

# A spreadsheet runs a text that begins so; a plain number with its sign is none.
_RUNS = re.compile(r"^[=+\-@\t\r]")
_NUMBER = re.compile(r"^[+\-]?\d+(\.\d+)?([eE][+\-]?\d+)?$")
# What XML 1.0, and so XLSX, cannot hold.
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_BAD_IN_SHEET_NAME = re.compile(r"[\[\]:*?/\\']")
_UNDATED = datetime(2000, 1, 1)
LONGEST_SHEET_NAME = 31


@dataclass(frozen=True, slots=True)
class FileColumn:
    """A column: its label, the unit of its numbers ('' for texts), and the decimals in which numbers are shown."""

    label: str
    unit: str = ""
    decimals: int = 3

    @property
    def heading(self) -> str:
        return f"{self.label} ({self.unit})" if self.unit else self.label


@dataclass(frozen=True, slots=True)
class TableFile:
    """What is written. `notes` stand above the table in CSV and on a sheet of their own in XLSX."""

    name: str
    columns: tuple[FileColumn, ...]
    rows: Sequence[Sequence[Cell]]
    notes: tuple[str, ...] = ()


def neutral(text: str) -> str:
    """A text that no spreadsheet runs: an apostrophe before what would be a formula. Negative numbers stay as they are.

    Source: common practice against formulas in CSV files, no source.
    """
    return f"'{text}" if _RUNS.match(text) and not _NUMBER.match(text) else text


def to_csv(table: TableFile) -> bytes:
    """UTF-8 with a byte order mark (spreadsheets need it), commas, decimal points, CRLF, after RFC 4180."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    for note in table.notes:
        writer.writerow([neutral(note)])
    writer.writerow([neutral(column.heading) for column in table.columns])
    for row in table.rows:
        writer.writerow([_csv_cell(cell) for cell in row])
    return out.getvalue().encode("utf-8-sig")


def _csv_cell(cell: Cell) -> str:
    if cell is None:
        return ""
    return neutral(cell) if isinstance(cell, str) else f"{cell:.12g}"


def to_xlsx(table: TableFile) -> bytes:
    """One sheet with typed cells and a frozen heading, and one with the notes."""
    out = io.BytesIO()
    book = xlsxwriter.Workbook(out, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False})
    book.set_properties({"created": _UNDATED, "title": _plain(table.name), "author": "Levelwright"})
    heading = book.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1})
    sheet = book.add_worksheet(_sheet_name(table.name))
    for place, column in enumerate(table.columns):
        number = book.add_format({"num_format": "0." + "0" * column.decimals if column.decimals else "0"})
        sheet.set_column(place, place, max(12, min(len(column.heading) + 2, 28)), number)
        sheet.write_string(0, place, _plain(column.heading), heading)
    for line, row in enumerate(table.rows, start=1):
        for place, cell in enumerate(row):
            if isinstance(cell, str):
                sheet.write_string(line, place, _plain(cell))
            elif cell is not None:
                sheet.write_number(line, place, cell)
    sheet.freeze_panes(1, 0)
    sheet.repeat_rows(0)
    if table.notes:
        notes = book.add_worksheet("Notes")
        notes.set_column(0, 0, 100, book.add_format({"text_wrap": True}))
        for line, note in enumerate(table.notes):
            notes.write_string(line, 0, _plain(note))
    book.close()
    return out.getvalue()


def _plain(text: str) -> str:
    return _NOT_XML.sub("\ufffd", text)


def _sheet_name(name: str) -> str:
    """A name that a sheet may have: no reserved character, at most 31 of them, never empty."""
    return _BAD_IN_SHEET_NAME.sub(" ", _plain(name)).strip()[:LONGEST_SHEET_NAME].strip() or "Table"
