"""What stands around every printed sheet, whatever it is about: page, title block, caution, watermark.

Pure: the standard library and Django's templates (an engine of its own, so that no settings are needed).
"""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from django.template import Context, Engine

from project.documents.sheet_columns import Translate
from project.documents.sheet_head import SheetHead, bottom_margin_mm, title_block
from project.registry import gettext_noop

STYLESHEETS = ("css/sheet.css",)

CAUTION = gettext_noop(
    "Figures support a competent person's judgement; local codes and licensed practice come first; the certificate "
    "of the actual device decides."
)
INVENTED = gettext_noop("Invented demonstration data")
DRAFT = gettext_noop("DRAFT")
HOLD = gettext_noop("HOLD")
FINDINGS = gettext_noop("Findings")

_TEMPLATES = Engine(dirs=[str(Path(__file__).resolve().parents[2] / "templates")], autoescape=True, debug=False)

Block = dict[str, Any]


def render(template: str, context: Mapping[str, Any]) -> str:
    """A template of the sheets as HTML that is well-formed XML too (see `engine.html_to_pdf`)."""
    return str(_TEMPLATES.get_template(template).render(Context(context, use_l10n=False)))


def frame(head: SheetHead, translate: Translate) -> Block:
    """What stands around the groups of every sheet, and the margin that the title block needs."""
    block = title_block(head, translate)
    return {
        "language": head.language,
        "paper": f"{head.paper}-landscape" if head.landscape else head.paper,
        "margin": f"{bottom_margin_mm(block, translate(CAUTION)):.1f}",
        "draft": translate(DRAFT) if head.draft else "",
        "caution": translate(CAUTION),
        "block": block,
        "sheet": translate(gettext_noop("Sheet")),
        "of": translate(gettext_noop("of")),
        "document_type": translate(head.document_type),
        "invented": translate(INVENTED) if head.invented else "",
        "hold_name": translate(HOLD),
        "findings_name": translate(FINDINGS),
    }
