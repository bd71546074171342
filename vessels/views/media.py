"""Pages of media."""

from collections.abc import Sequence
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from project import dependents
from project.accounts.access import allowed
from project.pages import form_actor, shown_values
from project.problems import Problem
from project.row_pages import RowPages
from vessels.library_table import chosen_media, library_page
from vessels.models import Medium, Plant
from vessels.services import copy_from_library
from vessels.tables import MEDIA


def _more(medium: Medium) -> dict[str, Any]:
    """What the view page shows: fields that concern the kind of medium; where the values come from by itself."""
    return {
        "values": shown_values(medium, medium.plant.units, ("provenance",), chosen=(medium.kind,)),
        "affected": dependents.affected_by(medium),
    }


PAGES = RowPages("medium", "vessels", Medium, MEDIA, more=_more)


@allowed("medium.view", Plant)
def medium_list(request: HttpRequest, plant: Plant) -> HttpResponse:
    return PAGES.list(request, plant)


@allowed("medium.view", Plant)
def media_library(request: HttpRequest, plant: Plant) -> HttpResponse:
    """The library, to look at and to tick what the plant is to have."""
    return _library(request, plant)


@allowed("medium.change", Plant)
def media_library_copy(request: HttpRequest, plant: Plant) -> HttpResponse:
    """Copy the ticked media into the plant; where one cannot be, none is, and the page says why."""
    if request.method != "POST":
        return redirect("media_library", uid=plant.uid)
    names = request.POST.getlist("medium")
    media, problems = chosen_media(names)
    if not problems:
        try:
            copies = copy_from_library(form_actor(request), plant, media)
        except ValidationError as problem:
            problems = [Problem("", message) for message in problem.messages]
        else:
            told = ", ".join(copy.name for copy in copies)
            messages.success(request, _("Copied: %(names)s. Confirm the values for this plant.") % {"names": told})
            if len(copies) == 1:
                return redirect("medium_view", uid=copies[0].uid)
            return redirect("medium_list", uid=plant.uid)
    return _library(request, plant, names, problems)


def _library(
    request: HttpRequest, plant: Plant, ticked: Sequence[str] = (), problems: Sequence[Problem] = ()
) -> HttpResponse:
    try:
        page = library_page(request.GET, plant.units, Medium.objects.filter(plant=plant), ticked)
    except LookupError as problem:
        raise Http404(_("There is no column “%(column)s” to sort by.") % {"column": str(problem)[:40]}) from problem
    context = {"table": page, "problems": problems}
    return render(request, "vessels/media_library.html", context, status=422 if problems else 200)


@allowed("medium.change", Plant)
def medium_new(request: HttpRequest, plant: Plant) -> HttpResponse:
    return PAGES.new(request, plant)


@allowed("medium.view", Medium)
def medium_view(request: HttpRequest, row: Medium) -> HttpResponse:
    return PAGES.view(request, row)


@allowed("medium.change", Medium)
def medium_edit(request: HttpRequest, row: Medium) -> HttpResponse:
    return PAGES.edit(request, row)


@allowed("medium.change", Medium)
def medium_delete(request: HttpRequest, row: Medium) -> HttpResponse:
    return PAGES.remove(request, row)
