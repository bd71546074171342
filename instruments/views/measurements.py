"""The measurement page: where the work happens; its live preview; fitting to a vessel and nozzle; the datasheet."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from instruments.forms.measurement import FitForm, MeasurementPage
from instruments.letters import spell_out
from instruments.models import Measurement, Tag
from instruments.results import results_of
from instruments.services.cases import build_case, with_all_inputs
from instruments.services.measurements import create_measurement, fit_measurement, save_page
from project.accounts.access import allowed
from project.pages import edit_page, form_actor, form_data, shown_values, submitted


def loaded(measurement: Measurement) -> Measurement:
    """The measurement with all that a case needs, in a fixed number of queries."""
    return with_all_inputs(Measurement.objects.filter(pk=measurement.pk)).get()


def _links(measurement: Measurement) -> dict[str, Any]:
    """What the page links to rather than edits."""
    vessel = measurement.vessel
    media = {case.medium for case in vessel.operating_cases.all() if case.medium} if vessel is not None else set()
    return {
        "measurement": measurement,
        "tag": measurement.tag,
        "vessel": vessel,
        "media": sorted(media, key=lambda medium: medium.name),
        "letters_spelled_out": spell_out(measurement.tag.letters),
        "document": measurement.documents.filter(kind="datasheet").first(),
    }


@allowed("measurement.change", Tag)
def measurement_new(request: HttpRequest, tag: Tag) -> HttpResponse:
    existing = Measurement.objects.filter(tag=tag).first()
    if existing is not None:
        return redirect("measurement_edit", uid=existing.uid)
    form = FitForm(form_data(request), row=Measurement(plant=tag.plant, tag=tag), plant=tag.plant)
    return edit_page(
        request,
        form,
        lambda: create_measurement(form_actor(request), tag, {}, **form.changes()),
        "instruments/measurement_new.html",
        {"tag": tag},
        lambda measurement: reverse("measurement_edit", args=[measurement.uid]),
    )


@allowed("measurement.change", Measurement)
def measurement_fit(request: HttpRequest, measurement: Measurement) -> HttpResponse:
    form = FitForm(form_data(request), row=measurement, plant=measurement.plant)
    return edit_page(
        request,
        form,
        lambda: fit_measurement(form_actor(request), measurement, form.expected_version, **form.changes()),
        "instruments/measurement_fit.html",
        {"measurement": measurement, "tag": measurement.tag},
        lambda _: reverse("measurement_edit", args=[measurement.uid]),
    )


@allowed("measurement.view", Measurement)
def measurement_view(request: HttpRequest, measurement: Measurement) -> HttpResponse:
    measurement = loaded(measurement)
    units = measurement.plant.units
    nozzle = measurement.nozzle
    context = {
        **_links(measurement),
        "results": results_of(build_case(measurement)),
        "tag_values": shown_values(measurement.tag, units, skip=("letters", "number", "suffix")),
        "values": shown_values(measurement, units, skip=("vessel", "nozzle")),
        "nozzle": nozzle,
        "nozzle_values": shown_values(nozzle, units) if nozzle is not None else [],
        "setpoints": [shown_values(row, units) for row in measurement.setpoints.all()],
    }
    return render(request, "instruments/measurement_view.html", context)


@allowed("measurement.change", Measurement)
def measurement_edit(request: HttpRequest, measurement: Measurement) -> HttpResponse:
    measurement = loaded(measurement)
    page = MeasurementPage.of(measurement, form_data(request))
    status = 200
    if request.method == "POST":
        if page.is_valid() and submitted(lambda: save_page(form_actor(request), measurement, page.edit()), *page.forms):
            messages.success(request, _("Saved."))
            return redirect("measurement_edit", uid=measurement.uid)
        status = 409 if any(form.conflict for form in page.forms) else 422
        measurement = loaded(measurement)
        case = build_case(measurement, page.typing())
    else:
        case = build_case(measurement)
    context = {**_links(measurement), "page": page, "results": results_of(case)}
    return render(request, "instruments/measurement_edit.html", context, status=status)


@require_POST
@allowed("measurement.change", Measurement)
def measurement_preview(request: HttpRequest, measurement: Measurement) -> HttpResponse:
    """Findings, figures and sketch of the typing as it stands. Writes nothing, refuses nothing."""
    measurement = loaded(measurement)
    page = MeasurementPage.of(measurement, request.POST)
    context = {
        "measurement": measurement,
        "page": page,
        "results": results_of(build_case(measurement, page.typing())),
        "stale": page.stale_rows(),
        "sequence": request.POST.get("sequence", "")[:12],
        "live": True,
    }
    return render(request, "instruments/_live.html", context)
