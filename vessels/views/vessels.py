"""Pages of vessels."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from project import dependents
from project.accounts.access import allowed
from project.pages import edit_page, form_actor, form_data, shown_values
from project.tables import build_table
from vessels.forms.vessel import VesselForm, case_forms
from vessels.models import Plant, Vessel
from vessels.services import create_vessel, save_vessel
from vessels.tables import NOZZLES, VESSELS


@allowed("vessel.view", Plant)
def vessel_list(request: HttpRequest, plant: Plant) -> HttpResponse:
    vessels = Vessel.objects.filter(plant=plant).select_related("unit")
    table = build_table(request, vessels, VESSELS, plant.units)
    return render(request, "vessels/vessel_list.html", {"table": table})


@allowed("vessel.change", Plant)
def vessel_new(request: HttpRequest, plant: Plant) -> HttpResponse:
    vessel = Vessel(plant=plant)
    form = VesselForm(form_data(request), row=vessel, plant=plant)
    cases = case_forms(form_data(request), vessel, plant)
    return edit_page(
        request,
        form,
        lambda: create_vessel(form_actor(request), plant, form.changes(), cases.children()),
        "vessels/vessel_new.html",
        {"cases": cases},
        lambda created: reverse("vessel_view", args=[created.uid]),
        also_valid=cases.is_valid,
    )


@allowed("vessel.view", Vessel)
def vessel_view(request: HttpRequest, vessel: Vessel) -> HttpResponse:
    units = vessel.plant.units
    cases = [
        (case, shown_values(case, units, skip=("kind", "name")))
        for case in vessel.operating_cases.select_related("medium")
    ]
    # One row a value, one column a case: people compare cases.
    case_rows = [
        (row[0].label, [value.text for value in row]) for row in zip(*(values for _, values in cases), strict=True)
    ]
    nozzles = build_table(request, vessel.nozzles.select_related("vessel"), NOZZLES, units)
    context = {
        "vessel": vessel,
        "values": shown_values(vessel, units),
        "cases": cases,
        "case_rows": case_rows,
        "nozzles": nozzles,
        "affected": dependents.affected_by(vessel),
    }
    return render(request, "vessels/vessel_view.html", context)


@allowed("vessel.change", Vessel)
def vessel_edit(request: HttpRequest, vessel: Vessel) -> HttpResponse:
    form = VesselForm(form_data(request), row=vessel, plant=vessel.plant)
    cases = case_forms(form_data(request), vessel, vessel.plant)
    return edit_page(
        request,
        form,
        lambda: save_vessel(form_actor(request), vessel, form.expected_version, form.changes(), cases.children()),
        "vessels/vessel_edit.html",
        {"vessel": vessel, "cases": cases, "affected": dependents.affected_by(vessel)},
        lambda _: reverse("vessel_view", args=[vessel.uid]),
        also_valid=cases.is_valid,
    )
