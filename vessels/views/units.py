"""Pages of units."""

from django.http import HttpRequest, HttpResponse

from project.accounts.access import allowed
from project.row_pages import RowPages
from vessels.models import Plant, PlantUnit
from vessels.tables import UNITS

PAGES = RowPages("unit", "vessels", PlantUnit, UNITS, more=lambda unit: {"vessels": unit.vessels.all()})


@allowed("unit.view", Plant)
def unit_list(request: HttpRequest, plant: Plant) -> HttpResponse:
    return PAGES.list(request, plant)


@allowed("unit.change", Plant)
def unit_new(request: HttpRequest, plant: Plant) -> HttpResponse:
    return PAGES.new(request, plant)


@allowed("unit.view", PlantUnit)
def unit_view(request: HttpRequest, row: PlantUnit) -> HttpResponse:
    return PAGES.view(request, row)


@allowed("unit.change", PlantUnit)
def unit_edit(request: HttpRequest, row: PlantUnit) -> HttpResponse:
    return PAGES.edit(request, row)


@allowed("unit.change", PlantUnit)
def unit_delete(request: HttpRequest, row: PlantUnit) -> HttpResponse:
    return PAGES.remove(request, row)
