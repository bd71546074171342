"""The capacity sheet of a vessel on one page: sketch, figures, curve, table, method, uncertainty, warnings.

Plain data in, HTML or PDF out; nothing is computed here. Pure: the standard library, Django's templates and other pure
modules.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from project.documents.engine import Metadata, html_to_pdf
from project.documents.sheet_columns import Translate
from project.documents.sheet_frame import STYLESHEETS, frame, render
from project.documents.sheet_head import SheetHead
from project.registry import gettext_noop

SHEETS = (*STYLESHEETS, "css/capacity_sheet.css")
BLOCKS = 3  # of the table, side by side
# More rows than these would not fit on one page: the sheet's maker takes a larger step.
MOST_ROWS = 63

NAMES = {
    "figures_name": gettext_noop("Key figures"),
    "method_name": gettext_noop("Method"),
    "uncertainty_name": gettext_noop("Uncertainty"),
    "warnings_name": gettext_noop("Look at these"),
    "table_name": gettext_noop("Capacity table"),
}
VALIDITY = gettext_noop(
    "Inside dimensions of a rigid vessel, not corrected for temperature or bulging. Not for custody transfer."
)


@dataclass(frozen=True, slots=True)
class CapacitySheet:
    """What the sheet shows; every text translated and in the plant's units.

    number       of the vessel
    sketch       elevation as SVG, '' where there is none
    curve        level–volume curve as SVG
    figures      (label, value, note)
    method       sentences: how volumes come about, which heads are meant
    uncertainty  (level, volume, expanded uncertainty, share, parts in words)
    coverage     what the expanded uncertainty means
    warnings     sentences
    heads        heading of each column of the table
    rows         texts of the table, at most 63 rows
    """

    number: str
    sketch: str
    curve: str
    figures: tuple[tuple[str, str, str], ...]
    method: tuple[str, ...]
    uncertainty: tuple[tuple[str, str, str, str, str], ...]
    uncertainty_heads: tuple[str, ...]
    coverage: str
    warnings: tuple[str, ...]
    heads: tuple[str, ...]
    rows: Sequence[Sequence[str]]

    def __post_init__(self) -> None:
        if len(self.rows) > MOST_ROWS:
            raise ValueError(f"{len(self.rows)} rows: accepted are {MOST_ROWS} or fewer on one page")


def capacity_sheet_html(sheet: CapacitySheet, head: SheetHead, translate: Translate = str) -> str:
    """The sheet as one HTML document for `css/sheet.css` and `css/capacity_sheet.css`."""
    context = {
        **frame(head, translate),
        **{key: translate(text) for key, text in NAMES.items()},
        "title": f"{head.title} – {translate(head.document_type)}",
        "tag": sheet.number,
        "sheet_data": sheet,
        "blocks": range(BLOCKS),
        "lines": _abreast(sheet.rows),
        "validity": translate(VALIDITY),
    }
    return render("vessels/capacity_sheet_pdf.html", context)


def capacity_sheet_pdf(sheet: CapacitySheet, head: SheetHead, translate: Translate = str) -> bytes:
    """The sheet as PDF. Equal input gives equal bytes."""
    title = f"{head.title} – {translate(head.document_type)}"
    metadata = Metadata(
        title=title, subject=head.supplementary_title, keywords=(sheet.number,), language=head.language,
        author=head.creator,
    )  # fmt: skip
    return html_to_pdf(capacity_sheet_html(sheet, head, translate), metadata, SHEETS)


def _abreast(rows: Sequence[Sequence[str]]) -> list[list[Sequence[str] | None]]:
    """The rows in blocks side by side: down the first, then down the second …; None where a block is shorter."""
    height = math.ceil(len(rows) / BLOCKS)
    return [
        [rows[line + block * height] if line + block * height < min(len(rows), (block + 1) * height) else None
         for block in range(BLOCKS)]
        for line in range(height)
    ]  # fmt: skip
