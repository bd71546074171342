"""Pages of units."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from project.accounts.access import allowed
from project.forms import RegistryForm
from project.pages import edit_page, form_actor, form_data, shown_values
from project.services import save_row
from project.tables import build_table
from vessels.models import Plant, PlantUnit
from vessels.services import create_unit
from vessels.tables import UNITS


@allowed("unit.view", Plant)
def unit_list(request: HttpRequest, plant: Plant) -> HttpResponse:
    table = build_table(request, PlantUnit.objects.filter(plant=plant), UNITS, plant.units)
    return render(request, "vessels/unit_list.html", {"table": table})


@allowed("unit.change", Plant)
def unit_new(request: HttpRequest, plant: Plant) -> HttpResponse:
    form = RegistryForm(form_data(request), row=PlantUnit(plant=plant), units=plant.units)
    return edit_page(
        request,
        form,
        lambda: create_unit(form_actor(request), plant, form.changes()),
        "vessels/unit_new.html",
        {},
        lambda unit: reverse("unit_view", args=[unit.uid]),
    )


@allowed("unit.view", PlantUnit)
def unit_view(request: HttpRequest, unit: PlantUnit) -> HttpResponse:
    context = {"unit": unit, "values": shown_values(unit, unit.plant.units), "vessels": unit.vessels.all()}
    return render(request, "vessels/unit_view.html", context)


@allowed("unit.change", PlantUnit)
def unit_edit(request: HttpRequest, unit: PlantUnit) -> HttpResponse:
    form = RegistryForm(form_data(request), row=unit, units=unit.plant.units)
    return edit_page(
        request,
        form,
        lambda: save_row(form_actor(request), unit, form.expected_version, form.changes()),
        "vessels/unit_edit.html",
        {"unit": unit},
        lambda _: reverse("unit_view", args=[unit.uid]),
    )
