"""Datasheets as PDF."""

from uuid import UUID

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _

from instruments.documents.common_sheet import common_sheet_pdf
from instruments.documents.datasheet import SheetHead, datasheet_pdf
from instruments.models import Measurement
from instruments.results import results_of
from instruments.services.acceptances import acceptances_of
from instruments.services.cases import build_case, with_all_inputs
from instruments.views.measurements import loaded
from project.accounts.access import allowed
from project.responses import PDF, file_response

MOST_ON_A_SHEET = 60


@allowed("datasheet.view", Measurement)
def measurement_datasheet(request: HttpRequest, measurement: Measurement) -> HttpResponse:
    """The datasheet as PDF, drawn from the case."""
    measurement = loaded(measurement)
    plant = measurement.plant
    case = build_case(measurement)
    results = results_of(case, acceptances_of([measurement]))
    document = measurement.documents.filter(kind="datasheet").first()
    head = SheetHead(
        legal_owner=plant.name,
        document_number=document.number if document is not None else "",
        title=_("Level measurement %(tag)s") % {"tag": measurement.tag.text},
        supplementary_title=measurement.tag.service,
        creator=request.user.shown_name(),  # type: ignore[union-attr]
        date_of_issue="",  # a draft was not issued
        paper=plant.paper,
        draft=True,
        invented=plant.invented,
    )
    pdf = datasheet_pdf(case, head, results.findings, results.figures, translate=_, accepted=results.accepted)
    return file_response(pdf, PDF, f"{plant.code}-{measurement.tag.text}-datasheet")


def _candidates(measurement: Measurement) -> QuerySet[Measurement]:
    """Measurements that may share a sheet: same plant, sensor class and arrangement."""
    return Measurement.objects.filter(
        plant=measurement.plant,
        sensor_class=measurement.sensor_class,
        arrangement=measurement.arrangement,
    ).order_by("tag__text")


@allowed("datasheet.view", Measurement)
def common_sheet_choose(request: HttpRequest, measurement: Measurement) -> HttpResponse:
    candidates = _candidates(measurement).select_related("tag")
    context = {"measurement": measurement, "candidates": candidates[:MOST_ON_A_SHEET]}
    return render(request, "instruments/common_sheet_choose.html", context)


@allowed("datasheet.view", Measurement)
def common_sheet(request: HttpRequest, measurement: Measurement) -> HttpResponse:
    """One sheet for several equal tags."""
    wanted = [uid for uid in request.GET.getlist("with")[:MOST_ON_A_SHEET] if is_uuid(uid)]
    chosen = list(with_all_inputs(_candidates(measurement).filter(uid__in=wanted)))
    if len(chosen) < 2:
        context = {
            "measurement": measurement,
            "candidates": _candidates(measurement).select_related("tag")[:MOST_ON_A_SHEET],
            "refused": _("Choose at least two tags."),
        }
        return render(request, "instruments/common_sheet_choose.html", context, status=422)
    cases = [build_case(one) for one in chosen]
    plant = measurement.plant
    head = SheetHead(
        legal_owner=plant.name,
        document_number="",
        title=_("Level measurements, common sheet"),
        supplementary_title=", ".join(one.tag.text for one in chosen)[:300],
        creator=request.user.shown_name(),  # type: ignore[union-attr]
        date_of_issue="",
        paper=plant.paper,
        draft=True,
        invented=plant.invented,
    )
    findings = [results_of(case).findings for case in cases]
    pdf = common_sheet_pdf(cases, head, findings, translate=_)
    return file_response(pdf, PDF, f"{plant.code}-common-sheet")


def is_uuid(text: str) -> bool:
    try:
        UUID(text)
    except ValueError:
        return False
    return True
