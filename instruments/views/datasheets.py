"""Datasheets as PDF."""

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.translation import gettext as _

from instruments.documents.datasheet import SheetHead, datasheet_pdf
from instruments.models import Measurement
from instruments.results import results_of
from instruments.services.cases import build_case
from instruments.views.measurements import loaded
from project.accounts.access import allowed


@allowed("datasheet.view", Measurement)
def measurement_datasheet(request: HttpRequest, measurement: Measurement) -> HttpResponse:
    """The datasheet as PDF, drawn from the case."""
    measurement = loaded(measurement)
    plant = measurement.plant
    case = build_case(measurement)
    results = results_of(case)
    document = measurement.documents.filter(kind="datasheet").first()
    head = SheetHead(
        legal_owner=plant.name,
        document_number=document.number if document is not None else "",
        title=_("Level measurement %(tag)s") % {"tag": measurement.tag.text},
        supplementary_title=measurement.tag.service,
        creator=request.user.shown_name(),  # type: ignore[union-attr]
        date_of_issue=timezone.localtime(timezone.now(), plant.zone).date().isoformat(),
        paper=plant.paper,
        draft=True,
        invented=plant.invented,
    )
    pdf = datasheet_pdf(case, head, results.findings, results.figures, translate=_)
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="{_file_name(measurement)}"'
    response["X-Content-Type-Options"] = "nosniff"
    return response


def _file_name(measurement: Measurement) -> str:
    """A plain ASCII name: tags may hold what a header or a file system would not take."""
    text = f"{measurement.plant.code}-{measurement.tag.text}-datasheet"
    return (
        "".join(letter if letter.isascii() and (letter.isalnum() or letter in "-_") else "_" for letter in text)
        + ".pdf"
    )
