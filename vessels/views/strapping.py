"""The page of a strapping table: paste it, see what is wrong with it row by row, save it."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from project.accounts.access import allowed
from project.pages import delete_page, form_actor, form_data, submitted
from project.problems import form_problems
from vessels.contents import saved_table, shape_of_vessel
from vessels.forms.strapping import StrappingForm
from vessels.models import StrappingTable, Vessel
from vessels.plots import Plot, curve_plot
from vessels.services import save_strapping


def _form(request: HttpRequest, vessel: Vessel, data: Any) -> StrappingForm:
    row = saved_table(vessel) or StrappingTable(plant=vessel.plant, vessel=vessel)
    known = shape_of_vessel(vessel)
    return StrappingForm(data, row=row, units=vessel.plant.units, shape=known.shape, datum_height_m=known.datum_m)


def _plot(form: StrappingForm, vessel: Vessel) -> Plot | None:
    """The table as read, beside the shape where there is one; None while no table can be made of it."""
    table = form.table()
    if table is None:
        return None
    return curve_plot(
        table,
        vessel.plant.units,
        form.datum_height_m or 0.0,
        _("Strapping table of %(vessel)s") % {"vessel": vessel.number},
        comparison=form.shape if form.can_compare else None,
        dots=(table.levels_m, table.volumes_m3),
    )


def _context(form: StrappingForm, vessel: Vessel) -> dict[str, Any]:
    return {"vessel": vessel, "form": form, "plot": _plot(form, vessel), "saved": form.row.pk is not None}


def _save(request: HttpRequest, form: StrappingForm) -> bool:
    row = form.row
    assert isinstance(row, StrappingTable)
    return save_strapping(form_actor(request), row, form.expected_version, form.changes(), form.si_points)


@allowed("vessel.change", Vessel)
def strapping_edit(request: HttpRequest, vessel: Vessel) -> HttpResponse:
    form = _form(request, vessel, form_data(request))
    status = 200
    if not form.is_bound:
        form.read_saved()
    if request.method == "POST":
        if form.is_valid() and submitted(lambda: _save(request, form), form):
            messages.success(request, _("Saved."))
            if vessel.text_of("capacity_from") != "table":
                messages.info(
                    request,
                    _("The capacity still follows from the shape: choose the table under “Capacity” of the vessel."),
                )
            return redirect("capacity_view", uid=vessel.uid)
        status = 409 if form.conflict else 422
    problems = list(form_problems(form)) if request.method == "POST" else []
    context = {"problems": problems, **_context(form, vessel)}
    return render(request, "vessels/strapping_edit.html", context, status=status)


@require_POST
@allowed("vessel.change", Vessel)
def strapping_preview(request: HttpRequest, vessel: Vessel) -> HttpResponse:
    """What is wrong with the paste as it stands, and its curve beside the shape's. Writes nothing."""
    form = _form(request, vessel, request.POST)
    form.is_valid()
    return render(request, "vessels/_strapping_live.html", _context(form, vessel))


@allowed("vessel.change", Vessel)
def strapping_delete(request: HttpRequest, vessel: Vessel) -> HttpResponse:
    row = saved_table(vessel)
    back = reverse("capacity_view", args=[vessel.uid])
    if row is None:
        messages.info(request, _("There is no strapping table."))
        return redirect(back)
    return delete_page(request, row, {}, back, back)
