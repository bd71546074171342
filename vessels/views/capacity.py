"""The capacity of a vessel: curve, table, reduced table, files and sheet."""

from dataclasses import dataclass

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _

from project.accounts.access import allowed
from project.documents.sheet_head import SheetHead
from project.documents.table_files import to_csv, to_xlsx
from project.responses import CSV, PDF, XLSX, file_response
from vessels.capacity.figures import working_capacity
from vessels.capacity_report import Capacity, capacity_of
from vessels.capacity_tables import file_of, reduced, reduced_file_of, reduction_in_words, rows_of, shown_rows
from vessels.contents import contents_of, normal_density, saved_table
from vessels.documents.capacity_sheet import capacity_sheet_pdf
from vessels.drawings import print_elevation, values_of
from vessels.forms.capacity import Asked, CapacityForm
from vessels.models import Vessel
from vessels.plots import curve_plot
from vessels.sheets import capacity_sheet_of
from vessels.solids import Solids, solids_of

# Rows that the page itself shows; files and every other step hold all of them.
SHOWN_ROWS = 200


@dataclass(frozen=True, slots=True)
class _Loaded:
    capacity: Capacity
    form: CapacityForm
    solids: Solids | None

    @property
    def asked(self) -> Asked:
        return self.form.asked()


def _loaded(request: HttpRequest, vessel: Vessel) -> _Loaded:
    """The capacity of a saved vessel, and what the address asks for."""
    units = vessel.plant.units
    holds = contents_of(vessel, vessel.internals.all(), saved_table(vessel), units)
    cases = list(vessel.operating_cases.select_related("medium"))
    density_kg_m3, medium = normal_density(cases)
    capacity = capacity_of(vessel, holds, density_kg_m3, medium)
    form = CapacityForm(request.GET, capacity=capacity)
    form.is_valid()
    return _Loaded(capacity, form, solids_of(vessel, holds.known, cases, vessel.nozzles.all(), units))


@allowed("vessel.view", Vessel)
def capacity_view(request: HttpRequest, vessel: Vessel) -> HttpResponse:
    loaded = _loaded(request, vessel)
    capacity, form = loaded.capacity, loaded.form
    context = {"vessel": vessel, "capacity": capacity, "form": form, "units": capacity.units}
    if capacity.contents is None:
        return render(request, "vessels/capacity_view.html", context)
    asked, units = loaded.asked, capacity.units
    rows = rows_of(capacity, asked.low_m, asked.high_m, asked.step_m)
    table = file_of(capacity, rows)
    few = reduced(capacity, asked.points, asked.low_m, asked.high_m)
    context |= {
        "plot": curve_plot(
            capacity.contents,
            units,
            capacity.datum_m,
            _("Level and volume of %(vessel)s") % {"vessel": vessel.number},
            marks=capacity.marks,
            comparison=capacity.holds.known.shape if capacity.holds.by_table else None,
        ),
        "table": table,
        "rows": shown_rows(table)[:SHOWN_ROWS],
        "count": len(rows),
        "reduced": shown_rows(reduced_file_of(capacity, few)),
        "reduction": reduction_in_words(capacity, few),
        "solids": loaded.solids,
        "working": _working(capacity, asked),
        "query": request.GET.urlencode(),
    }
    return render(request, "vessels/capacity_view.html", context)


def _working(capacity: Capacity, asked: Asked) -> str:
    """The capacity between two levels in words, '' where they were not asked for."""
    if asked.work_low_m is None or asked.work_high_m is None or capacity.contents is None:
        return ""
    low_m, high_m = asked.work_low_m + capacity.datum_m, asked.work_high_m + capacity.datum_m
    found = working_capacity(capacity.contents, low_m, high_m)
    shown = capacity.units.shown_si
    return _("%(volume)s between %(low)s and %(high)s, %(share)s of the whole.") % {
        "volume": shown(found.volume_m3, "volume"),
        "low": shown(asked.work_low_m, "length"),
        "high": shown(asked.work_high_m, "length"),
        "share": shown(found.share, "ratio"),
    }


def _name(vessel: Vessel, what: str) -> str:
    return f"{vessel.plant.code}-{vessel.number}-{what}"


@allowed("vessel.view", Vessel)
def capacity_file(request: HttpRequest, vessel: Vessel, what: str, ending: str) -> HttpResponse:
    """The capacity table or the reduced one as CSV or XLSX, at the step and span that the address asks for."""
    if what not in ("table", "reduced") or ending not in ("csv", "xlsx"):
        raise Http404
    loaded = _loaded(request, vessel)
    capacity, asked = loaded.capacity, loaded.asked if loaded.capacity.contents else None
    if asked is None or not loaded.form.is_valid():
        # The page says what is wrong with what was asked for, or why there is no table.
        context = {"vessel": vessel, "capacity": capacity, "form": loaded.form}
        return render(request, "vessels/capacity_none.html", context, status=422)
    if what == "reduced":
        table = reduced_file_of(capacity, reduced(capacity, asked.points, asked.low_m, asked.high_m))
    else:
        table = file_of(capacity, rows_of(capacity, asked.low_m, asked.high_m, asked.step_m))
    name = _name(vessel, "capacity" if what == "table" else "capacity-reduced")
    if ending == "csv":
        return file_response(to_csv(table), CSV, name)
    return file_response(to_xlsx(table), XLSX, name)


@allowed("vessel.view", Vessel)
def capacity_sheet(request: HttpRequest, vessel: Vessel) -> HttpResponse:
    """The capacity sheet as PDF."""
    loaded = _loaded(request, vessel)
    if loaded.capacity.contents is None or not loaded.form.is_valid():
        context = {"vessel": vessel, "capacity": loaded.capacity, "form": loaded.form}
        return render(request, "vessels/capacity_none.html", context, status=422)
    plant = vessel.plant
    head = SheetHead(
        legal_owner=plant.name,
        document_number="",
        title=_("Capacity of %(vessel)s") % {"vessel": vessel.number},
        supplementary_title=vessel.name,
        document_type=_("Capacity sheet"),
        creator=request.user.shown_name(),  # type: ignore[union-attr]
        paper=plant.paper,
        draft=True,
        invented=plant.invented,
    )
    known, nozzles, internals = loaded.capacity.holds.known, vessel.nozzles.all(), vessel.internals.all()
    drawn = values_of(vessel, known, nozzles, internals, plant.units)
    asked = loaded.asked
    sheet = capacity_sheet_of(
        loaded.capacity, (asked.low_m, asked.high_m, asked.step_m), print_elevation(drawn), loaded.solids
    )
    pdf = capacity_sheet_pdf(sheet, head, translate=_)
    return file_response(pdf, PDF, _name(vessel, "capacity"))
