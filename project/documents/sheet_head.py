"""The title block along the bottom of every printed sheet, after ISO 7200."""

from collections.abc import Sequence
from dataclasses import dataclass

from project.documents.sheet_columns import (
    DASH,
    MM_PER_PT,
    VALUE_LEADING_PT,
    VALUE_PT,
    Translate,
    lines_of,
)
from project.registry import gettext_noop

PAPERS = {"a4": "A4", "letter": "Letter"}
PAPER_MM = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}  # ISO 216; ANSI/ASME Y14.1, size A
SIDES_MM = 30.0  # margins left and right
LONGEST_TEXT = 320

DRAFT_STATUS = gettext_noop("Draft, not issued")

# Widths of the columns and sizes of the type, as css/sheet.css has them.
BLOCK_MM = (31, 31, 21, 24, 27, 12, 12, 11, 11)
CELL_PADDING_MM, STRONG_PT, STRONG_LEADING_PT, LABEL_LEADING_PT = 2.4, 9.0, 10.0, 7.0
LEAST_ROW_MM, CAUTION_PT, CAUTION_LEADING_PT = 7.6, 6.8, 8.0
# White below the block, and between it and what stands above it.
BELOW_MM, ABOVE_MM = 7.0, 3.0
USUAL_MARGIN_MM = 32.0


@dataclass(frozen=True, slots=True)
class SheetHead:
    """What the title block says, after ISO 7200, and how the sheet is printed.

    date_of_issue    "YYYY-MM-DD", or '' while nothing is issued, which prints a dash
    document_status  '' prints "Draft, not issued" on a draft
    paper            "a4" or "letter"
    landscape        the long side lies
    draft            prints DRAFT across every sheet
    invented         prints a line that says so on the first sheet: for demonstration plants

    Raises ValueError for a paper that is not known and for a text longer than 320 characters.
    """

    legal_owner: str
    document_number: str
    title: str
    supplementary_title: str = ""
    document_type: str = gettext_noop("Datasheet")
    creator: str = ""
    approval_person: str = ""
    date_of_issue: str = ""
    revision_index: str = ""
    document_status: str = ""
    language: str = "en"
    paper: str = "a4"
    landscape: bool = False
    draft: bool = True
    invented: bool = False

    def __post_init__(self) -> None:
        if self.paper not in PAPERS:
            raise ValueError(f"paper {self.paper!r}: accepted are {', '.join(PAPERS)}")
        for name in self.__slots__:
            value = getattr(self, name)
            if isinstance(value, str) and len(value) > LONGEST_TEXT:
                raise ValueError(f"{name} has {len(value)} characters: accepted are {LONGEST_TEXT} or fewer")


def content_width_mm(head: SheetHead) -> float:
    """Width between the margins."""
    return PAPER_MM[head.paper][head.landscape] - SIDES_MM


def page_height_mm(head: SheetHead) -> float:
    return PAPER_MM[head.paper][not head.landscape]


# (label, value, columns spanned, strong, second line)
Cell = tuple[str, str, int, bool, str]


def title_block(head: SheetHead, translate: Translate) -> list[list[Cell]]:
    """The fields of ISO 7200 in two lines; the number of the sheet is filled in by the style sheet."""
    status = head.document_status or (DRAFT_STATUS if head.draft else "")
    title = translate(gettext_noop("Title"))
    if head.supplementary_title:
        title = translate(gettext_noop("Title and supplementary title"))
    return [
        [
            (translate(gettext_noop("Legal owner")), head.legal_owner, 2, True, ""),
            (title, head.title, 3, True, head.supplementary_title),
            (translate(gettext_noop("Document number")), head.document_number or DASH, 4, True, ""),
        ],
        [
            (translate(label), value or DASH, 1, False, "")
            for label, value in (
                (gettext_noop("Creator"), head.creator),
                (gettext_noop("Approval person"), head.approval_person),
                (gettext_noop("Date of issue"), head.date_of_issue),
                (gettext_noop("Document type"), translate(head.document_type)),
                (gettext_noop("Document status"), translate(status) if status else ""),
                (gettext_noop("Revision"), head.revision_index),
                (gettext_noop("Language"), head.language),
                (gettext_noop("Paper"), PAPERS[head.paper]),
            )
        ],
    ]


def bottom_margin_mm(block: Sequence[Sequence[Cell]], caution: str) -> float:
    """Room that the caution and the title block need below the text: the usual, or more where texts are long."""
    caution_lines = lines_of(caution, CAUTION_PT, sum(BLOCK_MM))
    height_mm = caution_lines * CAUTION_LEADING_PT * MM_PER_PT + sum(_row_mm(row) for row in block)
    return max(USUAL_MARGIN_MM, height_mm + BELOW_MM + ABOVE_MM)


def _row_mm(row: Sequence[Cell]) -> float:
    """About the height of one line of the block."""
    place, highest_pt = 0, 0.0
    for _label, value, span, strong, more in row:
        width_mm = sum(BLOCK_MM[place : place + span]) - CELL_PADDING_MM
        place += span
        lines = lines_of(value, STRONG_PT if strong else VALUE_PT, width_mm)
        height_pt = LABEL_LEADING_PT + lines * (STRONG_LEADING_PT if strong else VALUE_LEADING_PT)
        if more:
            height_pt += lines_of(more, VALUE_PT, width_mm) * VALUE_LEADING_PT
        highest_pt = max(highest_pt, height_pt)
    return max(LEAST_ROW_MM, highest_pt * MM_PER_PT + 1.2)
