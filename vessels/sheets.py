"""Documents of vessels, put together from what is known of them: plain data for `vessels.documents`."""

from django.utils.translation import gettext as _

from vessels.capacity_report import Capacity
from vessels.capacity_tables import file_of, rows_of, shown_rows, usual_step_m
from vessels.documents.capacity_sheet import MOST_ROWS, CapacitySheet
from vessels.plots import curve_plot
from vessels.solids import Solids

CURVE_WIDTH_PX, CURVE_HEIGHT_PX = 360, 225
SKETCH_WIDTH_PX, SKETCH_HEIGHT_PX = 360, 300
COLUMNS = 3  # level, volume, share: what fits three times across the page


def capacity_sheet_of(
    capacity: Capacity, asked: tuple[float, float, float], sketch: str = "", solids: Solids | None = None
) -> CapacitySheet:
    """The capacity sheet of a vessel whose contents are known.

    asked   lowest and highest level from the datum, and step (m); the usual step where so many rows do not fit
    sketch  its elevation as SVG for print
    solids  how a heap or funnel stands in it, for a vessel of bulk solids
    """
    assert capacity.contents is not None  # the page says why where there are none
    vessel, units = capacity.vessel, capacity.units
    low_m, high_m, step_m = asked
    if (high_m - low_m) / step_m + 2 > MOST_ROWS:
        step_m = usual_step_m(capacity)  # which gives about 50 rows over the whole height
    rows = rows_of(capacity, low_m, high_m, step_m)
    table = file_of(capacity, rows)
    plot = curve_plot(
        capacity.contents,
        units,
        capacity.datum_m,
        _("Level and volume of %(vessel)s") % {"vessel": vessel.number},
        marks=capacity.marks,
        width_px=CURVE_WIDTH_PX,
        height_px=CURVE_HEIGHT_PX,
        for_print=True,
    )
    return CapacitySheet(
        number=vessel.number,
        sketch=sketch,
        curve=plot.svg,
        figures=tuple((one.label, one.text, one.note) for one in capacity.figures),
        method=(*capacity.method, *_solids_lines(solids)),
        uncertainty=tuple(
            (row.level, row.volume, row.expanded, row.share, ", ".join(f"{name} {text}" for name, text in row.parts))
            for row in capacity.uncertainty
        ),
        uncertainty_heads=(_("Level"), _("Volume"), _("± (k = 2)"), _("Share"), _("Standard, of")),
        coverage=_("Combined after JCGM 100 (GUM), 5.1.2; the uncertainties of the inputs are the user's."),
        warnings=capacity.warnings,
        heads=tuple(f"{column.label}, {column.unit}" for column in table.columns[:COLUMNS]),
        rows=[row[:COLUMNS] for row in shown_rows(table)],
    )


def _solids_lines(solids: Solids | None) -> list[str]:
    """Heap and funnel in sentences, with what to add to a reading at each place."""
    if solids is None:
        return []
    told = _("%(place)s: add %(heap)s below a heap, %(funnel)s above a funnel.")
    places = [told % {"place": one.place, "heap": one.heap, "funnel": one.funnel} for one in solids.corrections]
    return [*solids.lines, " ".join(places), *solids.missing] if places else [*solids.lines, *solids.missing]
