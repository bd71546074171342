"""What the templates of printed sheets are given: blocks of pairs, tables and findings, and the frame of the page.

Names of groups stand at the left of their blocks; widths are those of `css/sheet.css`.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from instruments.checks.finding import Finding, Grade
from instruments.documents.sheet_rows import NOT_GIVEN, Footnotes
from project.documents.sheet_columns import (
    DASH,
    VALUE_PT,
    Columns,
    Grid,
    Pair,
    Translate,
    abreast,
    column_widths_mm,
    grid_height_mm,
    laid_out,
    lines_of,
    row_mm,
    upright,
)
from project.documents.sheet_frame import Block
from project.documents.sheet_head import SheetHead, content_width_mm
from project.registry import gettext_noop

NAME_MM, LABEL_MM = 20.0, 42.0
FINDING_MM, FOOTNOTE_MM, FOOTNOTE_PT, FOOTNOTE_LINE_MM = 143.0, 180.0, 6.8, 2.9

ACCEPTED = gettext_noop("Accepted: {reason}")

REMAINING = {Grade.STOP: "×", Grade.MISSING: "?", Grade.CAUTION: "!"}



class FindingText(Protocol):
    """What a sheet reads of a described finding; every text translated and in the plant's units."""

    @property
    def finding(self) -> Finding: ...
    @property
    def grade_label(self) -> str: ...
    @property
    def title(self) -> str: ...
    @property
    def sentence(self) -> str: ...
    @property
    def provisional_note(self) -> str: ...


@dataclass(frozen=True, slots=True)
class FindingLine:
    """One line of the table of findings."""

    grade: str
    sign: str
    word: str
    title: str
    text: str
    note: str = ""


def room_mm(head: SheetHead) -> float:
    """Width beside the names of the groups."""
    return content_width_mm(head) - NAME_MM


def pairs_block(name: str, pairs: Sequence[Pair], columns: Columns) -> Block:
    """One group of pairs: lines of (label, value, sign, columns that the value spans, class)."""
    lines = laid_out(pairs, columns)
    whole_width = 2 * columns.abreast - 1
    return {
        "kind": "pairs",
        "name": name,
        "lines": [[_cells(one, whole_width if len(line) == 1 else 1) for one in line] for line in lines],
        "columns": columns.abreast,
        "height_mm": sum(columns.height_mm(line) for line in lines),
    }


def _cells(one: Pair, span: int) -> tuple[str, str, str, int, str]:
    return (one.label, one.value or (DASH if one.label else ""), one.sign, span, "l" if one.quiet else "v")


def grid_blocks(grid: Grid, head: SheetHead, columns: Columns, translate: Translate) -> list[Block]:
    """A table as one block, as several where it is too wide, or as pairs where that is one row."""
    parts = abreast(grid, room_mm(head))
    if len(parts) > 1 and len(grid.rows) == 1:
        not_given = [Pair(translate(NOT_GIVEN), "; ".join(grid.not_given), long=True, quiet=True)]
        return [pairs_block("", [*upright(grid), *(not_given if grid.not_given else [])], columns)]
    return [_grid_block(part, head, translate) for part in parts]


def _grid_block(grid: Grid, head: SheetHead, translate: Translate) -> Block:
    widths_mm = column_widths_mm(grid, room_mm(head), LABEL_MM)
    return {
        "kind": "grid",
        "name": "",
        "heads": grid.heads,
        "rows": [[value or DASH for value in row] for row in grid.rows],
        "labelled": grid.labelled,
        "not_given": f"{translate(NOT_GIVEN)}: {'; '.join(grid.not_given)}" if grid.not_given else "",
        "widths": [f"{width:.2f}" for width in widths_mm],
        "height_mm": grid_height_mm(grid, widths_mm),
    }


def named(name: str, blocks: list[Block]) -> list[Block]:
    """Blocks of one group, its name at the first."""
    if blocks:
        blocks[0]["name"] = name
    return blocks


def remaining(
    findings: Sequence[FindingText], footnotes: Footnotes, accepted: Mapping[tuple[str, str], str], translate: Translate
) -> list[FindingLine]:
    """A line for each finding that somebody has to look at.

    accepted  (code, place) of a finding -> why somebody accepted it
    """
    lines = []
    for one in findings:
        finding = one.finding
        if finding.grade not in REMAINING:
            continue
        reason = accepted.get((finding.code, finding.place), "")
        text = f"{one.sentence} {translate(ACCEPTED).format(reason=reason)}" if reason else one.sentence
        sign = REMAINING[finding.grade]
        note = footnotes.sign(one.provisional_note)
        lines.append(FindingLine(finding.grade.value, sign, one.grade_label, f"{one.title}.", text, note))
    return lines


def end_height_mm(lines: Sequence[FindingLine], notes: Sequence[tuple[str, str]]) -> float:
    """About the height of findings and footnotes."""
    texts = [f"{one.title} {one.text}" for one in lines]
    height = sum(row_mm(lines_of(text, VALUE_PT, FINDING_MM)) for text in (*texts, ""))
    return height + FOOTNOTE_LINE_MM * lines_of(" ".join(text for _sign, text in notes), FOOTNOTE_PT, FOOTNOTE_MM)
