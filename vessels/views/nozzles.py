"""Pages of nozzles."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from project import dependents
from project.accounts.access import allowed
from project.pages import delete_page, edit_page, form_actor, form_data, shown_values
from project.services import save_row
from project.tables import build_table
from vessels.forms.nozzle import NozzleForm
from vessels.models import Nozzle, Plant, Vessel
from vessels.services import create_nozzle
from vessels.tables import NOZZLES


@allowed("nozzle.view", Plant)
def nozzle_list(request: HttpRequest, plant: Plant) -> HttpResponse:
    nozzles = Nozzle.objects.filter(plant=plant).select_related("vessel")
    table = build_table(request, nozzles, NOZZLES, plant.units)
    return render(request, "vessels/nozzle_list.html", {"table": table})


@allowed("nozzle.change", Vessel)
def nozzle_new(request: HttpRequest, vessel: Vessel) -> HttpResponse:
    form = NozzleForm(form_data(request), row=Nozzle(plant=vessel.plant, vessel=vessel), units=vessel.plant.units)
    return edit_page(
        request,
        form,
        lambda: create_nozzle(form_actor(request), vessel, form.changes()),
        "vessels/nozzle_new.html",
        {"vessel": vessel},
        lambda _: reverse("vessel_view", args=[vessel.uid]),
    )


@allowed("nozzle.view", Nozzle)
def nozzle_view(request: HttpRequest, nozzle: Nozzle) -> HttpResponse:
    context = {
        "nozzle": nozzle,
        "values": shown_values(nozzle, nozzle.plant.units),
        "affected": dependents.affected_by(nozzle),
    }
    return render(request, "vessels/nozzle_view.html", context)


@allowed("nozzle.change", Nozzle)
def nozzle_edit(request: HttpRequest, nozzle: Nozzle) -> HttpResponse:
    form = NozzleForm(form_data(request), row=nozzle, units=nozzle.plant.units)
    return edit_page(
        request,
        form,
        lambda: save_row(form_actor(request), nozzle, form.expected_version, form.changes()),
        "vessels/nozzle_edit.html",
        {"nozzle": nozzle, "affected": dependents.affected_by(nozzle)},
        lambda _: reverse("nozzle_view", args=[nozzle.uid]),
    )


@allowed("nozzle.change", Nozzle)
def nozzle_delete(request: HttpRequest, nozzle: Nozzle) -> HttpResponse:
    back = reverse("nozzle_view", args=[nozzle.uid])
    done = reverse("vessel_view", args=[nozzle.vessel.uid])
    return delete_page(request, nozzle, {}, back, done)
