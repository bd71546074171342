"""The datasheet of one level measurement: Case, described findings and figures in, HTML or PDF out.

What is printed is what the Case holds; nothing is fetched and nothing is judged here. Groups and labels come from the
field registry (`instruments.documents.sheet_rows`), so that a new field prints without a change of this file.

Pure: the standard library, Django's templates (an engine of its own, so that no settings are needed) and other pure
modules.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Protocol

from django.template import Context, Engine

from instruments.checks.case import Case
from instruments.checks.finding import Figure, Finding, Grade
from instruments.documents.elevation import scene_from_case
from instruments.documents.engine import Metadata, html_to_pdf
from instruments.documents.sheet_columns import (
    DASH,
    VALUE_PT,
    Columns,
    Grid,
    Pair,
    Translate,
    column_widths_mm,
    grid_height_mm,
    laid_out,
    lines_of,
    row_mm,
    too_wide,
)
from instruments.documents.sheet_head import (
    CONTENT_WIDTH_MM,
    PAGE_HEIGHT_MM,
    USUAL_MARGIN_MM,
    SheetHead,
    bottom_margin_mm,
    title_block,
)
from instruments.documents.sheet_rows import NOT_GIVEN, Footnotes, SheetRows
from project.registry import GROUPS, REGISTRY, gettext_noop
from vessels.sketch.elevation import draw_elevation

STYLESHEETS = ("css/sheet.css",)

# Widths as css/sheet.css has them. The sketch is in px of 1/96 in.
BESIDE_SKETCH = ("identification", "duty", "vessel")
NAME_MM = 20.0
BESIDE, BELOW, FIGURES = Columns(1, 31.0, 47.0), Columns(2, 42.0, 38.0), Columns(1, 44.0, 36.0)
PX_PER_MM = 96 / 25.4
SKETCH_WIDTH_PX, SKETCH_LEAST_PX, SKETCH_MOST_PX = 302, 200, 340
FINDING_MM, FOOTNOTE_MM, FOOTNOTE_PT, FOOTNOTE_LINE_MM = 143.0, 180.0, 6.8, 2.9
HEAD_MM, TOP_MARGIN_MM = 7.5, 8.0
# A sheet that would run over by a little is set tighter instead; estimates are sure to some millimetres only.
TIGHT_GAIN, SURE_MM = 1.065, 3.0
SETPOINT_FIGURES = ("setpoint_percent", "setpoint_current")

CAUTION = gettext_noop(
    "Figures support a competent person's judgement; local codes and licensed practice come first; the certificate "
    "of the actual device decides."
)
INVENTED = gettext_noop("Invented demonstration data")
DRAFT = gettext_noop("DRAFT")
KEY_FIGURES = gettext_noop("Key figures")
FINDINGS = gettext_noop("Findings")
LEVELS_FROM = gettext_noop("Levels and elevations count from the vessel's datum: {datum}.")
NO_FINDING = gettext_noop("No finding remains.")
PASSED = gettext_noop("Checks passed: {count}.")
NOT_APPLICABLE = gettext_noop("Not applicable: {count}.")

REMAINING = {Grade.STOP: "×", Grade.MISSING: "?", Grade.CAUTION: "!"}

_TEMPLATES = Engine(dirs=[str(Path(__file__).resolve().parents[2] / "templates")], autoescape=True, debug=False)


class FindingText(Protocol):
    """What the sheet reads of a described finding; every text translated and in the plant's units."""

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
) -> str:
    """The datasheet as one HTML document for `css/sheet.css`.

    case       the measurement; values print in the plant's units, as typed where typed in them
    head       the title block
    findings   all findings, described, worst first; those that remain print, the others are counted
    figures    key figures, described
    translate  turns an English text into the reader's language
    """
    context = Context(_Sheet(case, head, translate).context(findings, figures), use_l10n=False)
    return _TEMPLATES.get_template("instruments/datasheet_pdf.html").render(context)


def datasheet_pdf(
    case: Case,
    head: SheetHead,
    findings: Sequence[FindingText],
    figures: Sequence[FigureText],
    translate: Translate = str,
) -> bytes:
    """The datasheet as PDF; arguments as in `datasheet_html`. Equal input gives equal bytes."""
    html = datasheet_html(case, head, findings, figures, translate)
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

    def context(self, findings: Sequence[FindingText], figures: Sequence[FigureText]) -> dict[str, Any]:
        """Everything that the template names."""
        translate, head = self.translate, self.head
        footnotes = Footnotes()
        rows = SheetRows(self.case, translate, footnotes)
        beside = self._beside(rows)
        key_figures = _figure_pairs(figures)
        groups = self._below(rows, figures)
        remaining = self._remaining(findings, footnotes)
        notes = [("", self._levels_from()), *footnotes.lines()]
        block = title_block(head, translate)
        margin_mm = bottom_margin_mm(block, translate(CAUTION))
        height_mm = HEAD_MM + sum(one["height_mm"] for one in (*beside, *groups)) + _end_mm(remaining, notes)
        room_mm = PAGE_HEIGHT_MM[head.paper] - TOP_MARGIN_MM - margin_mm
        return {
            "language": head.language,
            "title": datasheet_metadata(self.case, head, translate).title,
            "paper": head.paper,
            "tight": room_mm - SURE_MM < height_mm < room_mm * TIGHT_GAIN,
            "margin": f"{margin_mm:.1f}" if margin_mm > USUAL_MARGIN_MM else "",
            "draft": translate(DRAFT) if head.draft else "",
            "caution": translate(CAUTION),
            "block": block,
            "sheet": translate(gettext_noop("Sheet")),
            "of": translate(gettext_noop("of")),
            "tag": self.case.tag.text("text") or DASH,
            "document_type": translate(head.document_type),
            "invented": translate(INVENTED) if head.invented else "",
            "sketch": self._sketch(sum(group["height_mm"] for group in beside), key_figures),
            "key_figures_name": translate(KEY_FIGURES) if key_figures else "",
            "key_figures": [(one.label, one.value or DASH) for one in key_figures],
            "beside": beside,
            "groups": groups,
            "findings_name": translate(FINDINGS),
            "remaining": remaining,
            "settled": self._settled(findings, bool(remaining)),
            "notes": [note for note in notes if note[1]],
        }

    # --- groups ---------------------------------------------------------------------------------------

    def _beside(self, rows: SheetRows) -> list[dict[str, Any]]:
        """The groups that stand left of the sketch: what it shows."""
        found = [(self._name(group), rows.pairs(group)) for group in BESIDE_SKETCH]
        return [_pairs_block(name, pairs, BESIDE) for name, pairs in found if pairs]

    def _below(self, rows: SheetRows, figures: Sequence[FigureText]) -> list[dict[str, Any]]:
        """All other groups in the registry's order, over the whole width."""
        blocks: list[dict[str, Any]] = []
        for group, _label in GROUPS:
            if group in BESIDE_SKETCH:
                continue
            own: list[dict[str, Any]] = []
            if group == "medium":
                own += [_pairs_block("", pairs, BELOW) for pairs in rows.media()]
            if pairs := rows.pairs(group):
                own.append(_pairs_block("", pairs, BELOW))
            for grid in self._grids(group, rows, figures):
                own += [self._grid_block(one) for one in (grid.turned() if too_wide(grid, self._room_mm) else [grid])]
            if own:
                own[0]["name"] = self._name(group)
            blocks += own
        return blocks

    def _grids(self, group: str, rows: SheetRows, figures: Sequence[FigureText]) -> list[Grid]:
        if group == "connection":
            return _those_there_are(rows.connections())
        if group == "medium":
            return rows.operating_cases()
        if group == "setpoints":
            signals = {key: [one.text for one in figures if one.figure.key == key] for key in SETPOINT_FIGURES}
            return _those_there_are(rows.setpoints(signals))
        return []

    @property
    def _room_mm(self) -> float:
        """Width beside the names of the groups."""
        return CONTENT_WIDTH_MM[self.head.paper] - NAME_MM

    def _grid_block(self, grid: Grid) -> dict[str, Any]:
        widths_mm = column_widths_mm(grid, self._room_mm, BELOW.label_mm)
        return {
            "kind": "grid",
            "name": "",
            "heads": grid.heads,
            "rows": [[value or DASH for value in row] for row in grid.rows],
            "labelled": grid.labelled,
            "not_given": f"{self.translate(NOT_GIVEN)}: {'; '.join(grid.not_given)}" if grid.not_given else "",
            "widths": [f"{width:.2f}" for width in widths_mm],
            "height_mm": grid_height_mm(grid, widths_mm),
        }

    def _name(self, group: str) -> str:
        return self.translate(dict(GROUPS)[group])

    def _sketch(self, beside_mm: float, key_figures: Sequence[Pair]) -> str:
        """The elevation, about as high as the groups beside it less the key figures under it."""
        room_mm = beside_mm - sum(FIGURES.height_mm((one,)) for one in key_figures) - 5.5
        height_px = min(max(room_mm * PX_PER_MM, SKETCH_LEAST_PX), SKETCH_MOST_PX)
        scene = scene_from_case(self.case, translate=self.translate)
        return draw_elevation(scene, width_px=SKETCH_WIDTH_PX, height_px=height_px, for_print=True)

    def _levels_from(self) -> str:
        definition = REGISTRY["vessel.datum"]
        datum = self.case.vessel.text("datum")
        if not datum:
            return ""
        return self.translate(LEVELS_FROM).format(datum=self.translate(definition.choice_label(datum)))

    # --- findings -------------------------------------------------------------------------------------

    def _remaining(
        self, findings: Sequence[FindingText], footnotes: Footnotes
    ) -> list[tuple[str, str, str, str, str, str]]:
        """(grade, sign, word, title, sentence, footnote sign) of each finding that somebody has to look at."""
        return [
            (
                one.finding.grade.value,
                REMAINING[one.finding.grade],
                one.grade_label,
                one.title,
                one.sentence,
                footnotes.sign(one.provisional_note),
            )
            for one in findings
            if one.finding.grade in REMAINING
        ]

    def _settled(self, findings: Sequence[FindingText], some_remain: bool) -> str:
        """The other findings, counted."""
        passed = sum(one.finding.grade is Grade.PASS for one in findings)
        beside_the_point = sum(one.finding.grade is Grade.NOT_APPLICABLE for one in findings)
        parts = [] if some_remain else [self.translate(NO_FINDING)]
        parts.append(self.translate(PASSED).format(count=passed))
        if beside_the_point:
            parts.append(self.translate(NOT_APPLICABLE).format(count=beside_the_point))
        return " ".join(parts)


def _end_mm(remaining: Sequence[tuple[str, ...]], notes: Sequence[tuple[str, str]]) -> float:
    """About the height of findings and footnotes."""
    texts = [f"{title}. {sentence}" for _grade, _sign, _word, title, sentence, _note in remaining]
    height = sum(row_mm(lines_of(text, VALUE_PT, FINDING_MM)) for text in (*texts, ""))
    return height + FOOTNOTE_LINE_MM * lines_of(" ".join(text for _sign, text in notes), FOOTNOTE_PT, FOOTNOTE_MM)


def _figure_pairs(figures: Sequence[FigureText]) -> list[Pair]:
    """Key figures; those of setpoints print in their table."""
    return [
        Pair(one.label, f"{one.text} ({one.note})" if one.text and one.note else one.text or one.note)
        for one in figures
        if one.figure.key not in SETPOINT_FIGURES
    ]


def _pairs_block(name: str, pairs: Sequence[Pair], columns: Columns) -> dict[str, Any]:
    """One group of pairs for the template: lines of (label, value, sign, columns that the value spans, class)."""
    lines = laid_out(pairs, columns)
    whole_width = 2 * columns.abreast - 1
    cells = [
        [
            (
                one.label,
                one.value or (DASH if one.label else ""),
                one.sign,
                whole_width if len(line) == 1 else 1,
                "l" if one.quiet else "v",
            )
            for one in line
        ]
        for line in lines
    ]
    return {
        "kind": "pairs",
        "name": name,
        "lines": cells,
        "widths": columns.widths_mm[:-1],
        "height_mm": sum(columns.height_mm(line) for line in lines),
    }


def _those_there_are(grid: Grid | None) -> list[Grid]:
    return [] if grid is None else [grid]
