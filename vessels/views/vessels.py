"""Pages of vessels."""

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from project import dependents
from project.accounts.access import allowed
from project.forms import ChildForms, RegistryForm
from project.pages import delete_page, edit_page, form_actor, form_data, shown_values
from project.registry import REGISTRY
from project.tables import build_table
from vessels.forms.vessel import VesselForm, case_forms, internal_forms
from vessels.models import Plant, Vessel
from vessels.services import attachments_of, copy_vessel, create_vessel, save_vessel
from vessels.tables import NOZZLES, VESSELS


@allowed("vessel.view", Plant)
def vessel_list(request: HttpRequest, plant: Plant) -> HttpResponse:
    vessels = Vessel.objects.filter(plant=plant).select_related("unit")
    table = build_table(request, vessels, VESSELS, plant.units)
    return render(request, "vessels/vessel_list.html", {"table": table})


@dataclass
class VesselPage:
    """The forms of a vessel: its own fields, operating cases as columns, internals as rows."""

    form: VesselForm
    cases: ChildForms
    internals: ChildForms

    @classmethod
    def of(cls, request: HttpRequest, vessel: Vessel, plant: Plant) -> "VesselPage":
        data = form_data(request)
        return cls(
            VesselForm(data, row=vessel, plant=plant),
            case_forms(data, vessel, plant),
            internal_forms(data, vessel, plant),
        )

    def is_valid(self) -> bool:
        return all([self.cases.is_valid(), self.internals.is_valid()])

    def context(self, vessel: Vessel) -> dict[str, Any]:
        """What the template draws: all fields in order (the page hides what the shape has not), cases turned."""
        kinds = {case.medium.kind for case in vessel.operating_cases.all() if case.medium} if vessel.pk else set()
        shown, folded = self.cases.by_field(kinds)
        return {
            "fields": [self.form[stem] for stem in self.form.definitions],
            "cases": self.cases,
            "cases_shown": shown,
            "cases_folded": folded,
            "internals": self.internals,
        }


@allowed("vessel.change", Plant)
def vessel_new(request: HttpRequest, plant: Plant) -> HttpResponse:
    vessel = Vessel(plant=plant)
    page = VesselPage.of(request, vessel, plant)
    return edit_page(
        request,
        page.form,
        lambda: create_vessel(
            form_actor(request), plant, page.form.changes(), page.cases.children(), page.internals.children()
        ),
        "vessels/vessel_new.html",
        lambda: page.context(vessel),
        lambda created: reverse("vessel_view", args=[created.uid]),
        also_valid=page.is_valid,
    )


@allowed("vessel.view", Vessel)
def vessel_view(request: HttpRequest, vessel: Vessel) -> HttpResponse:
    units = vessel.plant.units
    cases = list(vessel.operating_cases.select_related("medium"))
    columns = [shown_values(case, units, skip=("kind", "name")) for case in cases]
    # One row a value, one column a case: people compare cases. A value that no case has is left out.
    case_rows = [
        (row[0].label, [value.text for value in row])
        for row in zip(*columns, strict=True)
        if any(value.text for value in row) or REGISTRY[row[0].key].stored == "column"
    ]
    context = {
        "vessel": vessel,
        "values": shown_values(vessel, units, chosen=vessel.shape_words),
        "cases": cases,
        "case_rows": case_rows,
        "internals": [shown_values(row, units) for row in vessel.internals.all()],
        "nozzles": build_table(request, vessel.nozzles.select_related("vessel"), NOZZLES, units),
        "affected": dependents.affected_by(vessel),
        "overview": dependents.drawn_on(vessel),
        "attachments": attachments_of(vessel),
    }
    return render(request, "vessels/vessel_view.html", context)


@allowed("vessel.change", Vessel)
def vessel_edit(request: HttpRequest, vessel: Vessel) -> HttpResponse:
    page = VesselPage.of(request, vessel, vessel.plant)
    return edit_page(
        request,
        page.form,
        lambda: save_vessel(
            form_actor(request),
            vessel,
            page.form.expected_version,
            page.form.changes(),
            page.cases.children(),
            page.internals.children(),
        ),
        "vessels/vessel_edit.html",
        lambda: {"vessel": vessel, "affected": dependents.affected_by(vessel), **page.context(vessel)},
        lambda _: reverse("vessel_view", args=[vessel.uid]),
        also_valid=page.is_valid,
    )


@allowed("vessel.change", Vessel)
def vessel_copy(request: HttpRequest, vessel: Vessel) -> HttpResponse:
    form = RegistryForm(form_data(request), row=Vessel(plant=vessel.plant), units=vessel.plant.units, stems=("number",))
    return edit_page(
        request,
        form,
        lambda: copy_vessel(form_actor(request), vessel, form.changes()["number"]),
        "vessels/vessel_copy.html",
        {"vessel": vessel},
        lambda copy: reverse("vessel_edit", args=[copy.uid]),
    )


@allowed("vessel.change", Vessel)
def vessel_delete(request: HttpRequest, vessel: Vessel) -> HttpResponse:
    back = reverse("vessel_view", args=[vessel.uid])
    return delete_page(request, vessel, {}, back, reverse("vessel_list", args=[vessel.plant.uid]))
