"""Pages of media."""

from django.http import HttpRequest, HttpResponse

from project import dependents
from project.accounts.access import allowed
from project.row_pages import RowPages
from vessels.models import Medium, Plant
from vessels.tables import MEDIA

PAGES = RowPages("medium", "vessels", Medium, MEDIA, more=lambda medium: {"affected": dependents.affected_by(medium)})


@allowed("medium.view", Plant)
def medium_list(request: HttpRequest, plant: Plant) -> HttpResponse:
    return PAGES.list(request, plant)


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
