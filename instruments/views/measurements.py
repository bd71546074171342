"""The measurement page: where the work happens; its live preview; fitting to a vessel and nozzle; the datasheet."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from instruments.field_defs import ROLES
from instruments.forms.copy import CopyForm
from instruments.forms.fit import FitForm
from instruments.forms.measurement import MeasurementPage
from instruments.letters import spell_out
from instruments.models import Measurement, Tag
from instruments.results import results_of
from instruments.services.acceptances import acceptances_of
from instruments.services.cases import build_case, with_all_inputs
from instruments.services.measurements import copy_measurement, create_measurement, fit_measurement, save_page
from project.accounts.access import allowed
from project.pages import delete_page, edit_page, form_actor, form_data, shown_groups, shown_values, submitted
from vessels.services import attachments_of
from vessels.views.attachments import attach_page


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
    form = FitForm(
        form_data(request),
        row=Measurement(plant=tag.plant, tag=tag),
        plant=tag.plant,
        vessel_asked=request.GET.get("measurement-vessel"),
    )
    return edit_page(
        request,
        form,
        lambda: create_measurement(form_actor(request), tag, {}, **form.fit()),
        "instruments/measurement_new.html",
        {"tag": tag},
        lambda measurement: reverse("measurement_edit", args=[measurement.uid]),
    )


@allowed("measurement.change", Measurement)
def measurement_fit(request: HttpRequest, measurement: Measurement) -> HttpResponse:
    form = FitForm(
        form_data(request),
        row=measurement,
        plant=measurement.plant,
        vessel_asked=request.GET.get("measurement-vessel"),
    )
    return edit_page(
        request,
        form,
        lambda: fit_measurement(form_actor(request), measurement, form.expected_version, **form.fit()),
        "instruments/measurement_fit.html",
        {"measurement": measurement, "tag": measurement.tag},
        lambda _: reverse("measurement_edit", args=[measurement.uid]),
    )


@allowed("measurement.view", Measurement)
def measurement_view(request: HttpRequest, measurement: Measurement) -> HttpResponse:
    measurement = loaded(measurement)
    units = measurement.plant.units
    labels = dict(ROLES[measurement.arrangement])
    context = {
        **_links(measurement),
        "results": results_of(build_case(measurement), acceptances_of([measurement])),
        "groups": shown_groups([measurement.tag, measurement], units, skip=("letters", "number", "suffix", "vessel")),
        "connections": [
            (_(labels[role]), nozzle, shown_values(nozzle, units, filled=True))
            for role, nozzle in measurement.nozzles.items()
        ],
        "attachments": attachments_of(measurement),
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
    context = {
        **_links(measurement),
        "page": page,
        "problems": page.problems() if request.method == "POST" else [],
        "sections": page.sections(),
        "results": results_of(case, acceptances_of([measurement])),
        "unsaved": request.method == "POST",
    }
    return render(request, "instruments/measurement_edit.html", context, status=status)


@allowed("measurement.change", Measurement)
def measurement_copy(request: HttpRequest, measurement: Measurement) -> HttpResponse:
    form = CopyForm(form_data(request), source=measurement)
    return edit_page(
        request,
        form,
        lambda: copy_measurement(
            form_actor(request), measurement, **form.changes(), nozzles=form.nozzles()
        ),
        "instruments/measurement_copy.html",
        {"measurement": measurement, "tag": measurement.tag},
        lambda copy: reverse("measurement_edit", args=[copy.uid]),
    )


@allowed("measurement.change", Measurement)
def measurement_delete(request: HttpRequest, measurement: Measurement) -> HttpResponse:
    back = reverse("measurement_view", args=[measurement.uid])
    return delete_page(request, measurement, {}, back, reverse("tag_view", args=[measurement.tag.uid]))


@allowed("measurement.change", Measurement)
def measurement_attach(request: HttpRequest, measurement: Measurement) -> HttpResponse:
    return attach_page(request, measurement, reverse("measurement_view", args=[measurement.uid]))


@require_POST
@allowed("measurement.change", Measurement)
def measurement_preview(request: HttpRequest, measurement: Measurement) -> HttpResponse:
    """Findings, figures and sketch of the typing as it stands. Writes nothing, refuses nothing."""
    measurement = loaded(measurement)
    page = MeasurementPage.of(measurement, request.POST)
    context = {
        "measurement": measurement,
        "page": page,
        "sections": page.sections(),
        "results": results_of(build_case(measurement, page.typing()), acceptances_of([measurement])),
        "unsaved": True,
        "stale": page.stale_rows(),
        "sequence": request.POST.get("sequence", "")[:12],
        "live": True,
    }
    return render(request, "instruments/_live.html", context)
