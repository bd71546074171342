"""Reads published tables kept as CSV: comments that name the source, a header, and rows that each say their origin."""

import csv
import math
from collections.abc import Iterable
from pathlib import Path

FOLDER = Path(__file__).parent.parent / "data"

# From the strongest to the weakest: read in the source or in a table made from it; computed by a published rule from
# values that were found; recalled, not seen; common practice without a single source.
ORIGINS = ("found", "computed", "memory", "practice")
ZERO_CELSIUS_K = 273.15


def read_rows(name: str, columns: Iterable[str], folder: Path = FOLDER) -> list[dict[str, str]]:
    """Rows of a table in the data folder, as text by column.

    name     file name
    columns  columns that must be there, besides "origin"

    Returns one dictionary a row, blanks around cells removed; an empty cell is "".
    Raises ValueError naming file and line where a column lacks, a row has another number of cells, or its origin is not
    one of `ORIGINS`.
    """
    numbered = [
        (number, line)
        for number, line in enumerate((folder / name).read_text(encoding="utf-8").splitlines(), start=1)
        if line.strip() and not line.startswith("#")
    ]
    table = csv.reader(line for _, line in numbered)
    header = next(table, [])
    for column in (*columns, "origin"):
        if column not in header:
            raise ValueError(f"{name}: column {column} is not there; the header has {', '.join(header)}")
    rows = []
    for cells, (number, _) in zip(table, numbered[1:], strict=True):
        if len(cells) != len(header):
            raise ValueError(f"{name}, line {number}: {len(cells)} cells; accepted are {len(header)}, as in the header")
        row = dict(zip(header, (cell.strip() for cell in cells), strict=True))
        if row["origin"] not in ORIGINS:
            raise ValueError(
                f"{name}, line {number}: origin is {row['origin']!r}; accepted is one of {', '.join(ORIGINS)}"
            )
        rows.append(row)
    return rows


def number_or_none(text: str, what: str) -> float | None:
    """The number of a cell, None where it is empty. Raises ValueError naming `what` where it is not a finite number."""
    return None if text == "" else number(text, what)


def number(text: str, what: str) -> float:
    """The number of a cell. Raises ValueError naming `what` where it is not a finite number."""
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        raise ValueError(f"{what} is {text!r}; accepted is a finite number")
    return value


def weakest(origins: Iterable[str]) -> str:
    """The weakest of some origins, "" for none: what rests on several values is only as good as the worst of them."""
    return max(origins, key=ORIGINS.index, default="")


def celsius(temperature_k: float) -> float:
    """°C of a temperature in K, free of the noise of the subtraction, so that limits are hit exactly.

    Raises ValueError where it is not finite or below absolute zero.
    """
    if not math.isfinite(temperature_k) or temperature_k < 0.0:
        raise ValueError(f"temperature_k is {temperature_k!r}; accepted is a finite number of at least 0 K")
    return round(temperature_k - ZERO_CELSIUS_K, 9)


def kelvin(temperature_c: float | None) -> float | None:
    """K of a temperature in °C; None stays None."""
    return None if temperature_c is None else temperature_c + ZERO_CELSIUS_K
