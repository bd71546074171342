"""Pages of media."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from project.accounts.access import allowed
from project.forms import RegistryForm
from project.pages import edit_page, form_actor, form_data, shown_values
from project.services import save_row
from project.tables import build_table
from vessels.models import Medium, Plant
from vessels.services import create_medium
from vessels.tables import MEDIA


@allowed("medium.view", Plant)
def medium_list(request: HttpRequest, plant: Plant) -> HttpResponse:
    table = build_table(request, Medium.objects.filter(plant=plant), MEDIA, plant.units)
    return render(request, "vessels/medium_list.html", {"table": table})


@allowed("medium.change", Plant)
def medium_new(request: HttpRequest, plant: Plant) -> HttpResponse:
    form = RegistryForm(form_data(request), row=Medium(plant=plant), units=plant.units)
    return edit_page(
        request,
        form,
        lambda: create_medium(form_actor(request), plant, form.changes()),
        "vessels/medium_new.html",
        {},
        lambda medium: reverse("medium_view", args=[medium.uid]),
    )


@allowed("medium.view", Medium)
def medium_view(request: HttpRequest, medium: Medium) -> HttpResponse:
    context = {"medium": medium, "values": shown_values(medium, medium.plant.units)}
    return render(request, "vessels/medium_view.html", context)


@allowed("medium.change", Medium)
def medium_edit(request: HttpRequest, medium: Medium) -> HttpResponse:
    form = RegistryForm(form_data(request), row=medium, units=medium.plant.units)
    return edit_page(
        request,
        form,
        lambda: save_row(form_actor(request), medium, form.expected_version, form.changes()),
        "vessels/medium_edit.html",
        {"medium": medium},
        lambda _: reverse("medium_view", args=[medium.uid]),
    )
