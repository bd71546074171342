"""Pages of vessels."""

from dataclasses import dataclass
from typing import Any, cast

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from project import dependents
from project.accounts.access import allowed
from project.dependents import Effect
from project.forms import ChildForms, RegistryForm
from project.pages import delete_page, edit_page, form_actor, form_data, shown_values
from project.problems import error_slots
from project.registry import REGISTRY
from project.tables import build_table
from vessels.capacity_report import capacity_of
from vessels.contents import contents_of, normal_density, saved_table
from vessels.drafts import draft_of
from vessels.drawings import draw_vessel, pictures, values_of
from vessels.forms.vessel import VesselForm, case_forms, internal_forms
from vessels.models import Internal, OperatingCase, Plant, Vessel
from vessels.services import attachments_of, copy_vessel, create_vessel, save_vessel
from vessels.solids import solids_of
from vessels.tables import NOZZLES, VESSELS

# Measurements whose findings are compared while somebody types; the page says how many more there are.
MOST_EFFECTS = 60


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

    def slots(self) -> list[tuple[str, list[str]]]:
        """Every field's error slot: its id and its messages, for the preview to fill."""
        return [*error_slots((self.form, *self.cases)), *error_slots(self.internals, labelled=True)]

    def context(self, vessel: Vessel) -> dict[str, Any]:
        """What the template draws: all fields in order (the page hides what the shape has not), cases turned."""
        kinds = {case.medium.kind for case in vessel.operating_cases.all() if case.medium} if vessel.pk else set()
        shown, folded = self.cases.by_field(kinds)
        return {
            "pictures": _picture_rows(self.form),
            "cases": self.cases,
            "cases_shown": shown,
            "cases_folded": folded,
            "internals": self.internals,
        }


LYING_SIDES = {"bottom": "left", "top": "right"}


def _picture_rows(form: VesselForm) -> dict[str, list[tuple[str, str, str, str]]]:
    """For the choices of body and ends: (key, name, picture, picture on a lying vessel or '') of each."""
    drawn = pictures()
    return {
        stem: [
            (key, _(label), drawn[stem, key], drawn.get((LYING_SIDES.get(stem, ""), key), ""))
            for key, label in form.definitions[stem].choices
            if (stem, key) in drawn
        ]
        for stem in ("body", "bottom", "top")
    }


def _live(vessel: Vessel, page: VesselPage | None = None) -> dict[str, Any]:
    """Drawings, figures and effects of a vessel, saved or (with a page) as it stands in the form. Writes nothing."""
    units = vessel.plant.units
    if page is None:
        row = vessel
        internals = list(vessel.internals.all()) if vessel.pk else []
        cases = list(vessel.operating_cases.all()) if vessel.pk else []
        effects: list[Effect] = []
    else:
        draft = draft_of(vessel, page.form, page.cases, page.internals)
        row = cast(Vessel, draft.row)
        internals = cast(list[Internal], draft.parts["internals"])
        cases = cast(list[OperatingCase], draft.parts["operating_cases"])
        effects = dependents.effects_of(draft, MOST_EFFECTS) if vessel.pk else []
    holds = contents_of(row, internals, saved_table(vessel), units)
    density_kg_m3, medium = normal_density(cases)
    nozzles = list(vessel.nozzles.all()) if vessel.pk else []
    return {
        "vessel": vessel,
        "capacity": capacity_of(row, holds, density_kg_m3, medium),
        "lacking": [_(REGISTRY[f"vessel.{stem}"].label) for stem in holds.known.missing],
        "solids": solids_of(row, holds.known, cases, nozzles, units, with_volume=False),
        "drawings": draw_vessel(values_of(row, holds.known, nozzles, internals, units)),
        "shifting": [effect for effect in effects if effect.shifts],
        "touched": len(effects),
    }


@require_POST
@allowed("vessel.change", Plant)
def vessel_new_preview(request: HttpRequest, plant: Plant) -> HttpResponse:
    """What a vessel that is not saved yet would be. Writes nothing."""
    return _preview(request, Vessel(plant=plant), plant)


@require_POST
@allowed("vessel.change", Vessel)
def vessel_preview(request: HttpRequest, vessel: Vessel) -> HttpResponse:
    """What the vessel would be, and what that would do to the measurements on it. Writes nothing, refuses nothing."""
    return _preview(request, vessel, vessel.plant)


def _preview(request: HttpRequest, vessel: Vessel, plant: Plant) -> HttpResponse:
    page = VesselPage.of(request, vessel, plant)
    context = {
        **_live(vessel, page),
        "slots": page.slots(),
        "stale": bool(vessel.pk) and str(request.POST.get("vessel-version", "")) != str(vessel.version),
        "sequence": request.POST.get("sequence", "")[:12],
        "live": True,
    }
    return render(request, "vessels/_vessel_live.html", context)


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
        lambda: {**page.context(vessel), **_live(vessel, page if request.method == "POST" else None)},
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
        **_live(vessel),
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
        lambda: {
            "vessel": vessel,
            "affected": dependents.affected_by(vessel),
            **page.context(vessel),
            **_live(vessel, page if request.method == "POST" else None),
        },
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
