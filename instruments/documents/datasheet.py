"""The datasheet of one level measurement: Case, described findings and figures in, HTML or PDF out.

What is printed is what the Case holds; nothing is fetched and nothing is judged here. Groups and labels come from the
field registry (`instruments.documents.sheet_rows`), so that a new field prints without a change of this file.

Pure: the standard library, Django's templates (an engine of its own, so that no settings are needed) and other pure
modules.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from instruments.checks.case import Case
from instruments.checks.finding import Figure, Grade
from instruments.documents.elevation import scene_from_case
from instruments.documents.sheet_blocks import (
    LABEL_MM,
    FindingText,
    end_height_mm,
    grid_blocks,
    named,
    pairs_block,
    remaining,
)
from instruments.documents.sheet_rows import SIGNALS, Footnotes, SheetRows
from project.documents.engine import Metadata, html_to_pdf
from project.documents.sheet_columns import DASH, Columns, Grid, Pair, Translate
from project.documents.sheet_frame import CAUTION, STYLESHEETS, Block, frame, render
from project.documents.sheet_head import SheetHead, page_height_mm
from project.registry import GROUPS, REGISTRY, gettext_noop
from vessels.sketch.elevation import draw_elevation

__all__ = ["CAUTION", "STYLESHEETS", "SheetHead", "datasheet_html", "datasheet_metadata", "datasheet_pdf"]

# Widths as css/sheet.css has them. The sketch is in px of 1/96 in.
BESIDE_SKETCH = ("identification", "duty", "vessel")
BESIDE, BELOW, FIGURES = Columns(1, 31.0, 47.0), Columns(2, LABEL_MM, 38.0), Columns(1, 44.0, 36.0)
PX_PER_MM = 96 / 25.4
SKETCH_WIDTH_PX, SKETCH_LEAST_PX, SKETCH_MOST_PX = 302, 200, 440
HEAD_MM, TOP_MARGIN_MM = 7.5, 8.0
# A sheet that would run over by a little is set tighter instead; estimates are sure to some millimetres only.
TIGHT_GAIN, SURE_MM = 1.065, 3.0

KEY_FIGURES = gettext_noop("Key figures")
INTERNALS = gettext_noop("Internals")
LEVELS_FROM = gettext_noop("Levels and elevations count from the vessel's datum: {datum}.")
NO_FINDING = gettext_noop("No finding remains.")
PASSED = gettext_noop("Checks passed: {count}.")
NOT_APPLICABLE = gettext_noop("Not applicable: {count}.")

NONE_ACCEPTED: Mapping[tuple[str, str], str] = {}


class FigureText(Protocol):
    """What the sheet reads of a described key figure."""

    @property
    def figure(self) -> Figure: ...
    @property
    def label(self) -> str: ...
    @property
    def text(self) -> str: ...
    @property
    def note(self) -> str: ...


def datasheet_html(
    case: Case,
    head: SheetHead,
    findings: Sequence[FindingText],
    figures: Sequence[FigureText],
    translate: Translate = str,
    accepted: Mapping[tuple[str, str], str] = NONE_ACCEPTED,
) -> str:
    """The datasheet as one HTML document for `css/sheet.css`.

    case       the measurement; values print in the plant's units, as typed where typed in them
    head       the title block
    findings   all findings, described, worst first; those that remain print, the others are counted
    figures    key figures, described
    translate  turns an English text into the reader's language
    accepted   (code, place) of a finding -> why somebody accepted it; prints with the finding
    """
    sheet = _Sheet(case, head, translate)
    return render("instruments/datasheet_pdf.html", sheet.context(findings, figures, accepted))


def datasheet_pdf(
    case: Case,
    head: SheetHead,
    findings: Sequence[FindingText],
    figures: Sequence[FigureText],
    translate: Translate = str,
    accepted: Mapping[tuple[str, str], str] = NONE_ACCEPTED,
) -> bytes:
    """The datasheet as PDF; arguments as in `datasheet_html`. Equal input gives equal bytes."""
    html = datasheet_html(case, head, findings, figures, translate, accepted)
    return html_to_pdf(html, datasheet_metadata(case, head, translate), STYLESHEETS)


def datasheet_metadata(case: Case, head: SheetHead, translate: Translate = str) -> Metadata:
    """What the PDF says about itself. No date: it would make equal sheets differ."""
    tag, vessel = case.tag.text("text"), case.vessel.text("number")
    named = [head.document_number, head.title]
    keywords = [tag, vessel, case.plant.text("code"), head.document_number]
    return Metadata(
        title=" – ".join(part for part in named if part) or translate(head.document_type),
        subject=" – ".join(part for part in (translate(head.document_type), head.supplementary_title) if part),
        keywords=tuple(word for word in keywords if word),
        language=head.language,
        author=head.creator,
    )


@dataclass(frozen=True, slots=True)
class _Sheet:
    """Puts the rows of a Case into the order of the page."""

    case: Case
    head: SheetHead
    translate: Translate

    def context(
        self,
        findings: Sequence[FindingText],
        figures: Sequence[FigureText],
        accepted: Mapping[tuple[str, str], str],
    ) -> Block:
        """Everything that the template names."""
        translate, head = self.translate, self.head
        footnotes = Footnotes()
        rows = SheetRows(self.case, translate, footnotes)
        beside = self._beside(rows)
        key_figures = _figure_pairs(figures)
        groups = self._below(rows, figures)
        lines = remaining(findings, footnotes, accepted, translate)
        notes = [("", levels_from(self.case, translate)), *footnotes.lines()]
        around = frame(head, translate)
        height_mm = HEAD_MM + sum(one["height_mm"] for one in (*beside, *groups)) + end_height_mm(lines, notes)
        room_mm = page_height_mm(head) - TOP_MARGIN_MM - float(around["margin"])
        return {
            **around,
            "title": datasheet_metadata(self.case, head, translate).title,
            "tight": room_mm - SURE_MM < height_mm < room_mm * TIGHT_GAIN,
            "tag": self.case.tag.text("text") or DASH,
            "hold": rows.holds(),
            "sketch": self._sketch(sum(group["height_mm"] for group in beside), key_figures),
            "key_figures_name": translate(KEY_FIGURES) if key_figures else "",
            "key_figures": [(one.label, one.value or DASH) for one in key_figures],
            "beside": beside,
            "groups": groups,
            "remaining": lines,
            "settled": self._settled(findings, bool(lines)),
            "notes": [note for note in notes if note[1]],
        }

    # --- groups ---------------------------------------------------------------------------------------

    def _beside(self, rows: SheetRows) -> list[Block]:
        """The groups that stand left of the sketch: what it shows."""
        found = [(self._name(group), rows.pairs(group)) for group in BESIDE_SKETCH]
        return [pairs_block(name, pairs, BESIDE) for name, pairs in found if pairs]

    def _below(self, rows: SheetRows, figures: Sequence[FigureText]) -> list[Block]:
        """All other groups in the registry's order, over the whole width."""
        blocks = named(self.translate(INTERNALS), self._tables([rows.internals()]))
        for group, _label in GROUPS:
            if group not in BESIDE_SKETCH:
                blocks += named(self._name(group), self._group(group, rows, figures))
        return blocks

    def _group(self, group: str, rows: SheetRows, figures: Sequence[FigureText]) -> list[Block]:
        """One group: its pairs, then its table."""
        media = rows.media() if group == "medium" else []
        found = [pairs_block("", pairs, BELOW) for pairs in (*media, rows.pairs(group)) if pairs]
        if group == "connection":
            found += self._tables([rows.connections()])
        if group == "medium":
            found += self._tables(rows.operating_cases())
        if group == "setpoints":
            signals = {key: [one.text for one in figures if one.figure.key == key] for key in SIGNALS}
            found += self._tables([rows.setpoints(signals)])
        return found

    def _tables(self, grids: Sequence[Grid | None]) -> list[Block]:
        return [
            block for grid in grids if grid is not None for block in grid_blocks(grid, self.head, BELOW, self.translate)
        ]

    def _name(self, group: str) -> str:
        return self.translate(dict(GROUPS)[group])

    def _sketch(self, beside_mm: float, key_figures: Sequence[Pair]) -> str:
        """The elevation, about as high as the groups beside it less the key figures under it."""
        room_mm = beside_mm - sum(FIGURES.height_mm((one,)) for one in key_figures) - 5.5
        height_px = min(max(room_mm * PX_PER_MM, SKETCH_LEAST_PX), SKETCH_MOST_PX)
        scene = scene_from_case(self.case, translate=self.translate)
        return draw_elevation(scene, width_px=SKETCH_WIDTH_PX, height_px=height_px, for_print=True)

    def _settled(self, findings: Sequence[FindingText], some_remain: bool) -> str:
        """The findings that nobody has to look at, counted."""
        passed = sum(one.finding.grade is Grade.PASS for one in findings)
        beside_the_point = sum(one.finding.grade is Grade.NOT_APPLICABLE for one in findings)
        parts = [] if some_remain else [self.translate(NO_FINDING)]
        parts.append(self.translate(PASSED).format(count=passed))
        if beside_the_point:
            parts.append(self.translate(NOT_APPLICABLE).format(count=beside_the_point))
        return " ".join(parts)


def levels_from(case: Case, translate: Translate) -> str:
    """What levels count from, in a sentence; '' where the vessel's datum is not known."""
    datum = case.vessel.text("datum")
    if not datum:
        return ""
    return translate(LEVELS_FROM).format(datum=translate(REGISTRY["vessel.datum"].choice_label(datum)))


def _figure_pairs(figures: Sequence[FigureText]) -> list[Pair]:
    """Key figures; those of setpoints print in their table."""
    return [
        Pair(one.label, f"{one.text} ({one.note})" if one.text and one.note else one.text or one.note)
        for one in figures
        if one.figure.key not in SIGNALS
    ]
