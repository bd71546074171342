"""What instruments tell the rest of the house: what rests on a vessel, how it is drawn there, what needs somebody."""

from collections.abc import Sequence
from typing import Any

from django.db.models import Count as CountRows
from django.urls import reverse
from django.utils.translation import gettext as _

from instruments.checks.finding import Grade
from instruments.documents.overview import scene_from_cases
from instruments.models import Measurement, MeasurementState, Tag
from instruments.services.cases import build_case, with_all_inputs
from instruments.services.effects import effects_of
from instruments.services.recheck import mark_changed, resting_on
from project.dependents import Count, Dependent, register
from project.rows import KeptRow
from vessels.models import Vessel
from vessels.sketch.overview import draw_overview

OVERVIEW_WIDTH_PX = 480


def affected(row: KeptRow) -> Sequence[Any]:
    """The measurements that rest on a row."""
    return list(resting_on(row).select_related("tag"))


def overview_of(row: KeptRow) -> str:
    """All level instruments of a vessel on one elevation, as SVG."""
    if not isinstance(row, Vessel):
        return ""
    measurements = with_all_inputs(Measurement.objects.filter(vessel=row).order_by("tag__text"))
    cases = [build_case(measurement) for measurement in measurements]
    return draw_overview(scene_from_cases(cases, translate=_), width_px=OVERVIEW_WIDTH_PX) if cases else ""


def counts_of(plant: KeptRow) -> Sequence[Count]:
    """What needs somebody: each count opens the index filtered so."""
    index = reverse("tag_list", args=[plant.uid])
    by_grade = dict(
        MeasurementState.objects.filter(plant_id=plant.pk)
        .values_list("worst_grade")
        .annotate(number=CountRows("pk"))
        .order_by()
    )
    labels = {
        Grade.STOP: _("will not work or not be safe as specified"),
        Grade.MISSING: _("lack data"),
        Grade.CAUTION: _("ask for a judgement"),
        Grade.PASS: _("pass every check"),
    }
    counts = [
        Count(by_grade[grade], label, f"{index}?grade={grade}", grade)
        for grade, label in labels.items()
        if grade in by_grade
    ]
    for number, label, query in (
        (Tag.objects.filter(plant_id=plant.pk, measurement=None).count(), _("tags not specified yet"), "specified=no"),
        (
            Measurement.objects.filter(plant_id=plant.pk, details__has_key="holds").count(),
            _("measurements with values on hold"),
            "holds=yes",
        ),
    ):
        if number:
            counts.append(Count(number, label, f"{index}?{query}"))
    return counts


register(
    Dependent(
        "instruments",
        affected=affected,
        changed=mark_changed,
        drawn_on=overview_of,
        counts=counts_of,
        previewed=effects_of,
    )
)
