"""Building the frozen Case of a measurement from the database, with unsaved typing laid over it for the preview."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from django.db.models import Prefetch, QuerySet

from instruments.checks.case import EMPTY_ROW, Case, Row, Strapping
from instruments.models import Connection, Measurement
from project.rows import KeptRow
from vessels.models import OperatingCase, StrappingTable


def with_all_inputs(measurements: "QuerySet[Measurement]") -> "QuerySet[Measurement]":
    """Measurements with everything that a Case needs, in a fixed number of queries."""
    return measurements.select_related("plant", "tag__unit", "vessel__unit", "sensor_class").prefetch_related(
        Prefetch("connections", Connection.objects.select_related("nozzle")),
        Prefetch("connections__nozzle__connections", Connection.objects.select_related("measurement__tag")),
        "setpoints",
        Prefetch("vessel__operating_cases", OperatingCase.objects.select_related("medium")),
        "vessel__internals",
        # Their typed text is as long as the table again, and no Case needs it.
        Prefetch("vessel__strapping_table", StrappingTable.objects.defer("points")),
    )


@dataclass(frozen=True, slots=True)
class Typing:
    """Unsaved values by entity and stem, as the forms of the measurement page read them ("nozzle-ROLE" for nozzles).

    `setpoints` replaces the saved rows when given; `unreadable` maps field keys to messages.
    """

    rows: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    setpoints: Sequence[Mapping[str, Any]] | None = None
    unreadable: Mapping[str, str] = field(default_factory=dict)
    sensor_class: Any = None
    has_sensor_class: bool = False


NO_TYPING = Typing()


def _row(source: KeptRow | None, typed: Mapping[str, Any] | None = None, **extra: Any) -> Row:
    if source is None:
        return EMPTY_ROW
    values = source.case_values()
    for stem, value in (typed or {}).items():
        if not isinstance(value, KeptRow) and value is not None:
            values[stem] = value
    return Row(str(source.uid), {**values, **extra})


def _others_on(connection: Connection) -> str:
    """The tags of other measurements on a connection's nozzle, "" for none."""
    others = connection.nozzle.connections.all()
    return ", ".join(
        sorted({one.measurement.tag.text for one in others if one.measurement_id != connection.measurement_id})
    )


def strapping_of(table: StrappingTable | None) -> Strapping | None:
    """A strapping table as a Case holds it."""
    if table is None:
        return None
    points = zip(table.levels_m, table.volumes_m3, strict=True)
    return Strapping(table.interpolation, tuple((float(level_m), float(volume_m3)) for level_m, volume_m3 in points))


def build_case(measurement: Measurement, typing: Typing = NO_TYPING) -> Case:
    """The Case of a measurement loaded by `with_all_inputs` (otherwise it costs queries)."""
    vessel = measurement.vessel
    cases = list(vessel.operating_cases.all()) if vessel is not None else []
    media = {case.medium.uid: case.medium for case in cases if case.medium is not None}
    sensor_row = typing.sensor_class if typing.has_sensor_class else measurement.sensor_class
    setpoints = (
        tuple(_row(row) for row in measurement.setpoints.all())
        if typing.setpoints is None
        else tuple(Row("", dict(values)) for values in typing.setpoints)
    )
    case = Case(
        plant=_row(measurement.plant),
        unit=_row(measurement.tag.unit),
        tag=_row(measurement.tag, typing.rows.get("tag"), text=measurement.tag.text),
        vessel=_row(vessel),
        measurement=_row(measurement, typing.rows.get("measurement")),
        connections=tuple(
            _row(
                connection.nozzle,
                typing.rows.get(f"nozzle-{connection.role}"),
                role=connection.role,
                shared_with=_others_on(connection),
            )
            for connection in measurement.connections.all()
        ),
        media=tuple(_row(medium) for medium in media.values()),
        operating_cases=tuple(_row(case, display=case.display) for case in cases),
        setpoints=setpoints,
        internals=tuple(_row(row) for row in vessel.internals.all()) if vessel is not None else (),
        strapping=strapping_of(getattr(vessel, "strapping_table", None)),
        sensor_class=sensor_row.sensor_class() if sensor_row is not None else None,
    )
    return replace(case, unreadable=dict(typing.unreadable)) if typing.unreadable else case
