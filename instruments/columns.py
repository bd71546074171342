"""The registry of index columns. Adding a column is one entry here (and its test)."""

from typing import Any

from instruments.models import Tag
from project.quantities import MISSING
from project.registry import gettext_noop
from project.tables import Column, TableSpec


def _of_measurement(row: Tag, stem: str) -> Any:
    measurement = getattr(row, "measurement", None)
    return measurement.quantity(stem) if measurement is not None else MISSING


def _vessel(row: Tag) -> str:
    measurement = getattr(row, "measurement", None)
    return measurement.vessel.number if measurement is not None and measurement.vessel is not None else ""


def _sensor_class(row: Tag) -> str:
    measurement = getattr(row, "measurement", None)
    return measurement.sensor_class.name if measurement is not None and measurement.sensor_class is not None else ""


INDEX = TableSpec(
    columns=(
        Column(
            "tag", gettext_noop("Tag"), lambda row: row.text, "text", template="instruments/_tag_link.html", code=True
        ),
        Column("service", gettext_noop("Service"), lambda row: row.service, "service"),
        Column("unit", gettext_noop("Unit"), lambda row: row.unit.number, "unit__number"),
        Column("pid", gettext_noop("P&ID"), lambda row: row.pid, "pid", code=True),
        Column("vessel", gettext_noop("Vessel"), _vessel, "measurement__vessel__number", code=True),
        Column("sensor_class", gettext_noop("Sensor class"), _sensor_class, "measurement__sensor_class__name"),
        Column("lrv", gettext_noop("LRV"), lambda row: _of_measurement(row, "lrv"), "measurement__lrv_si", "length"),
        Column("urv", gettext_noop("URV"), lambda row: _of_measurement(row, "urv"), "measurement__urv_si", "length"),
        Column(
            "grade",
            gettext_noop("Worst finding"),
            lambda row: "",
            "measurement__state__worst_rank",
            template="instruments/_grade_cell.html",
            code=True,
        ),
    ),
    search=("text", "service", "pid", "measurement__vessel__number", "measurement__sensor_class__name"),
    default_sort="tag",
)
