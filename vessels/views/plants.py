"""Pages of plants."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from project import dependents
from project.accounts.access import allowed
from project.accounts.models import User
from project.accounts.permissions import ANYBODY_LOGGED_IN, CREATE_PLANT
from project.forms import RegistryForm
from project.pages import edit_page, form_actor, form_data, shown_values
from vessels.models import Plant
from vessels.services import create_plant, save_plant


@allowed(ANYBODY_LOGGED_IN)
def plant_list(request: HttpRequest) -> HttpResponse:
    user = request.user
    assert isinstance(user, User)
    plants = Plant.objects.visible_to(user)
    return render(request, "vessels/plant_list.html", {"plants": plants})


@allowed(CREATE_PLANT)
def plant_new(request: HttpRequest) -> HttpResponse:
    plant = Plant()
    form = RegistryForm(form_data(request), row=plant, units=plant.units)
    return edit_page(
        request,
        form,
        lambda: create_plant(form_actor(request), form.changes()),
        "vessels/plant_new.html",
        {},
        lambda created: reverse("plant_view", args=[created.uid]),
    )


@allowed("plant.view", Plant)
def plant_view(request: HttpRequest, plant: Plant) -> HttpResponse:
    memberships = plant.memberships.select_related("user").order_by("user__username", "role")
    context = {
        "values": shown_values(plant, plant.units),
        "memberships": memberships,
        "counts": dependents.counts_of(plant),
    }
    return render(request, "vessels/plant_view.html", context)


@allowed("plant.change", Plant)
def plant_edit(request: HttpRequest, plant: Plant) -> HttpResponse:
    form = RegistryForm(form_data(request), row=plant, units=plant.units)
    return edit_page(
        request,
        form,
        lambda: save_plant(form_actor(request), plant, form.expected_version, form.changes()),
        "vessels/plant_edit.html",
        {},
        lambda _: reverse("plant_view", args=[plant.uid]),
    )
