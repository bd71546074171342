"""The datasheet from a case to bytes, against the bare PDF engine on the same HTML, and where the time goes.

The bare engine is WeasyPrint as its manual shows it, with shared fonts and parsed style sheets and the same kind of
PDF; the garbage collector pauses for both alike. What the house adds is the case's way to HTML, the guard over what
may be opened, and the lock; what it saves is the parsing of HTML in Python.
"""

from collections.abc import Callable

import weasyprint
from weasyprint.text.fonts import FontConfiguration

from instruments.documents.common_sheet import common_sheet_pdf
from instruments.documents.datasheet import STYLESHEETS, datasheet_html, datasheet_metadata, datasheet_pdf
from instruments.documents.elevation import scene_from_case
from project.documents.engine import FONT_SHEET, STATIC, garbage_collector_paused, html_to_pdf
from tests.bench.measure import Result, interleaved_s
from tests.documents.sheet_samples import described, equal_tags, full, head_of, two_remote_seals
from vessels.sketch.elevation import draw_elevation

REPEATS = 15
BARE = "the bare engine, same HTML"


class BareEngine:
    """WeasyPrint with shared fonts and style sheets; its parts one by one."""

    def __init__(self, html: str) -> None:
        self.html = html
        self.fonts = FontConfiguration()
        self.sheets = [
            weasyprint.CSS(filename=STATIC / name, font_config=self.fonts) for name in (FONT_SHEET, *STYLESHEETS)
        ]
        self.document = self.laid_out()

    def laid_out(self, variant: str | None = "pdf/ua-1") -> weasyprint.Document:
        source = weasyprint.HTML(string=self.html)
        return source.render(font_config=self.fonts, stylesheets=self.sheets, pdf_variant=variant)

    def whole(self, variant: str | None = "pdf/ua-1") -> bytes:
        with garbage_collector_paused():
            return bytes(self.laid_out(variant).write_pdf(pdf_variant=variant))

    def layout_only(self) -> None:
        with garbage_collector_paused():
            self.laid_out()

    def write_only(self) -> bytes:
        with garbage_collector_paused():
            return bytes(self.document.write_pdf(pdf_variant="pdf/ua-1"))

    def without_pause(self) -> bytes:
        return bytes(self.laid_out().write_pdf(pdf_variant="pdf/ua-1"))


def results() -> list[Result]:
    """Sheets of two pages, simple and full, with their parts; a common sheet of many tags."""
    return [*_simple(), *_full(), *_common()]


def _simple() -> list[Result]:
    case = full()
    head, (findings, figures) = head_of(case), described(case)
    bare = BareEngine(datasheet_html(case, head, findings, figures))
    parts: list[Callable[[], object]] = [bare.whole, lambda: datasheet_pdf(case, head, findings, figures)]
    whole_s, sheet_s = interleaved_s(parts, repeats=REPEATS)
    return [Result("datasheet, simple tank", sheet_s, sheet_s / whole_s, BARE, "aim at most 1.15")]


def _full() -> list[Result]:
    case = two_remote_seals()
    head, (findings, figures) = head_of(case), described(case)
    html = datasheet_html(case, head, findings, figures)
    bare = BareEngine(html)
    sketch = scene_from_case(case)
    seconds = interleaved_s(
        [
            bare.whole,
            lambda: datasheet_pdf(case, head, findings, figures),
            lambda: datasheet_html(case, head, findings, figures),
            lambda: draw_elevation(sketch, width_px=302, height_px=240, for_print=True),
            bare.layout_only,
            bare.write_only,
            lambda: html_to_pdf(html, datasheet_metadata(case, head), STYLESHEETS),
            lambda: bare.whole(None),
            bare.without_pause,
        ],
        repeats=REPEATS,
    )
    whole_s, sheet_s, html_s, sketch_s, layout_s, write_s, engine_s, plain_s, unpaused_s = seconds
    share = "the whole sheet"
    return [
        Result("bare PDF engine, full sheet", whole_s),
        Result("datasheet, full sheet", sheet_s, sheet_s / whole_s, BARE, "aim 1.15, and 150 ms on a quiet machine"),
        Result("  of it: case to HTML, sketch included", html_s, html_s / sheet_s, share),
        Result("  of it: drawing the sketch", sketch_s, sketch_s / sheet_s, share),
        Result("  of it: HTML to PDF", engine_s, engine_s / sheet_s, share),
        Result("  bare engine: parsing and layout", layout_s, layout_s / sheet_s, share),
        Result("  bare engine: painting and writing", write_s, write_s / sheet_s, share),
        Result("  bare engine without tags", plain_s, plain_s / whole_s, BARE),
        Result("  bare engine, garbage collector running", unpaused_s, unpaused_s / whole_s, BARE),
    ]


def _common() -> list[Result]:
    cases = equal_tags(60)
    head, findings = head_of(cases[0]), [described(case)[0] for case in cases]
    (seconds,) = interleaved_s([lambda: common_sheet_pdf(cases, head, findings)], repeats=5)
    return [Result("one sheet for 60 tags", seconds)]
