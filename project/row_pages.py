"""The five pages of a row that is edited by one plain form: list, new, view, edit, delete.

Rows with more to them (vessels, tags, measurements) have views of their own.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from project.forms import RegistryForm
from project.pages import delete_page, edit_page, form_actor, form_data, shown_values
from project.rows import PlantRow
from project.services import create_row, save_row
from project.tables import TableSpec, build_table


def _nothing(row: PlantRow) -> dict[str, Any]:
    return {}


@dataclass(frozen=True)
class RowPages:
    """Pages of one model; `stem` names addresses and templates ("unit" -> "unit_list", "vessels/unit_list.html").

    `more(row)` adds to what the view page shows.
    """

    stem: str
    folder: str
    model: type[PlantRow]
    table: TableSpec
    more: Callable[[Any], dict[str, Any]] = _nothing

    def _template(self, page: str) -> str:
        return f"{self.folder}/{self.stem}_{page}.html"

    def _view_address(self, row: PlantRow) -> str:
        return reverse(f"{self.stem}_view", args=[row.uid])

    def list(self, request: HttpRequest, plant: Any) -> HttpResponse:
        table = build_table(request, self.model.objects.filter(plant=plant), self.table, plant.units)
        return render(request, self._template("list"), {"table": table})

    def new(self, request: HttpRequest, plant: Any) -> HttpResponse:
        row = self.model(plant=plant)
        form = RegistryForm(form_data(request), row=row, units=plant.units)
        return edit_page(
            request,
            form,
            lambda: create_row(form_actor(request), row, form.changes()),
            self._template("new"),
            {},
            self._view_address,
        )

    def view(self, request: HttpRequest, row: PlantRow) -> HttpResponse:
        context = {self.stem: row, "values": shown_values(row, row.plant.units), **self.more(row)}
        return render(request, self._template("view"), context)

    def edit(self, request: HttpRequest, row: PlantRow) -> HttpResponse:
        form = RegistryForm(form_data(request), row=row, units=row.plant.units)
        return edit_page(
            request,
            form,
            lambda: save_row(form_actor(request), row, form.expected_version, form.changes()),
            self._template("edit"),
            {self.stem: row},
            lambda _: self._view_address(row),
        )

    def remove(self, request: HttpRequest, row: PlantRow) -> HttpResponse:
        done = reverse(f"{self.stem}_list", args=[row.plant.uid])
        return delete_page(request, row, {}, self._view_address(row), done)
