"""Pages of sensor classes."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.translation import gettext as _

from instruments.models import SensorClassRow
from instruments.wording import class_value_text
from project.accounts.access import allowed
from project.registry import REGISTRY, gettext_noop
from project.tables import Column, TableSpec, build_table
from vessels.models import Plant

CLASSES = TableSpec(
    columns=(
        Column(
            "name", gettext_noop("Sensor class"), lambda row: row.name, "name",
            template="instruments/_sensor_class_link.html",
        ),
        Column(
            "technology",
            gettext_noop("Technology"),
            lambda row: _(REGISTRY["sensor_class.technology"].choice_label(row.technology)),
            "technology",
        ),
        Column("edition", gettext_noop("Edition"), lambda row: str(row.edition)),
        Column("range", gettext_noop("Longest range"), lambda row: row.sensor_class().quantity("range_max"),
               kind="length"),
        Column("owner", gettext_noop("Owner"), lambda row: _("Plant") if row.plant_id else _("Library")),
    ),
    search=("name", "technology", "key"),
    default_sort="name",
)  # fmt: skip


@allowed("sensor_class.view", Plant)
def sensor_class_list(request: HttpRequest, plant: Plant) -> HttpResponse:
    table = build_table(request, SensorClassRow.objects.for_plant(plant), CLASSES, plant.units)
    return render(request, "instruments/sensor_class_list.html", {"table": table})


@allowed("sensor_class.view", Plant)
def sensor_class_view(request: HttpRequest, plant: Plant, class_uid: UUID) -> HttpResponse:
    row = get_object_or_404(SensorClassRow.objects.for_plant(plant), uid=class_uid)
    sensor_class = row.sensor_class()
    values = [
        (
            _(definition.label),
            class_value_text(sensor_class, definition, plant.units),
            sensor_class.provenance(definition.stem),
        )
        for definition in REGISTRY.of("sensor_class")
        if definition.stem in sensor_class.values
    ]
    used_by = row.measurements.filter(plant=plant).select_related("tag")
    context = {"row": row, "sensor_class": sensor_class, "values": values, "used_by": used_by}
    return render(request, "instruments/sensor_class_view.html", context)
