"""What changes level measurements: tag, measurement with its setpoints, and nozzles, in one transaction."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, cast

from django.core.exceptions import ValidationError
from django.db.models import Max
from django.utils.translation import gettext as _

from instruments.field_defs import ROLES
from instruments.models import Connection, Document, Measurement, MeasurementState, Tag
from instruments.services.tags import copy_tag, save_tag
from project import dependents
from project.actor import Actor, acting
from project.copying import copy_row
from project.services import (
    Changes,
    Child,
    OtherPlant,
    children_differ,
    create_row,
    save_children,
    save_row,
    telling_of_children,
)  # fmt: skip
from vessels.models import Nozzle, Plant, Vessel


def allot_document(actor: Actor, plant: Plant, kind: str, measurement: Measurement) -> Document:
    """The next number of a kind of document. Allotted once; it never follows a rename of the tag."""
    with acting(actor, "allot document number", plant):
        # The plant's row is locked (where the database can), so that two allotments never take the same number.
        Plant.objects.select_for_update().get(pk=plant.pk)
        last = Document.objects.filter(plant=plant, kind=kind).aggregate(last=Max("serial"))["last"] or 0
        document = Document(
            plant=plant, kind=kind, serial=last + 1, number=f"{plant.code}-LD-{last + 1:04d}", measurement=measurement
        )
        return cast(Document, create_row(actor, document, {}))


def create_measurement(
    actor: Actor,
    tag: Tag,
    changes: Changes,
    *,
    arrangement: str = "one_nozzle",
    vessel: Vessel | None = None,
    nozzles: Mapping[str, Nozzle] | None = None,
) -> Measurement:
    """Create the level measurement of a tag, fitted to a vessel through nozzles (by role) where these are known."""
    with acting(actor, "create measurement", tag.plant):
        if Measurement.objects.filter(tag=tag).exists():
            raise ValidationError(_("%(tag)s has its level measurement already.") % {"tag": tag.text})
        measurement = Measurement(plant=tag.plant, tag=tag, vessel=vessel, arrangement=arrangement)
        create_row(actor, measurement, changes)
        _connect(actor, measurement, nozzles or {})
        MeasurementState.objects.create(measurement=measurement, plant=tag.plant)
        allot_document(actor, tag.plant, "datasheet", measurement)
        # Once more, now that the state row exists: creating rows told the dependents before there was one.
        dependents.tell(measurement)
    return measurement


def _connect(actor: Actor, measurement: Measurement, nozzles: Mapping[str, Nozzle]) -> None:
    roles = [role for role, _label in ROLES[measurement.arrangement]]
    for role, nozzle in nozzles.items():
        if role not in roles:
            raise ValueError(f"role {role!r} does not belong to the arrangement {measurement.arrangement!r}")
        if nozzle.vessel_id != measurement.vessel_id:
            raise OtherPlant(f"nozzle {nozzle} is not on the vessel of {measurement}")
        create_row(
            actor,
            Connection(
                plant=measurement.plant, measurement=measurement, nozzle=nozzle, role=role, position=roles.index(role)
            ),
            {},
        )


def fit_measurement(
    actor: Actor,
    measurement: Measurement,
    version: int,
    *,
    arrangement: str,
    vessel: Vessel | None,
    nozzles: Mapping[str, Nozzle],
) -> bool:
    """Put a measurement on another vessel, in another arrangement or on other nozzles. Counts in its version."""
    with acting(actor, "fit measurement", measurement.plant):
        now = measurement.arrangement, measurement.vessel, measurement.nozzles
        if now == (arrangement, vessel, dict(nozzles)):
            return False
        save_row(actor, measurement, version, {"vessel": vessel, "arrangement": arrangement}, touch=True)
        left = list(measurement.connections.all())
        for connection in left:
            connection.delete()
        _connect(actor, measurement, nozzles)
        for row in (*left, measurement):
            dependents.tell(row)
    return True


def copy_measurement(
    actor: Actor,
    source: Measurement,
    letters: str,
    number: str,
    suffix: str,
    nozzles: Mapping[str, Nozzle] | None = None,
) -> Measurement:
    """A measurement with a new tag and everything else carried: specification, vessel, arrangement, setpoints.

    Nozzles are not carried, because two sensors do not share one: `nozzles` (by role) are those of the copy.
    """
    with acting(actor, "copy measurement", source.plant):
        tag = copy_tag(actor, source.tag, letters, number, suffix)
        measurement = copy_row(actor, source, tag=tag)
        _connect(actor, measurement, nozzles or {})
        for setpoint in source.setpoints.all():
            copy_row(actor, setpoint, measurement=measurement)
        MeasurementState.objects.create(measurement=measurement, plant=tag.plant)
        allot_document(actor, tag.plant, "datasheet", measurement)
        dependents.tell(measurement)
    return measurement


@dataclass(frozen=True, slots=True)
class NozzleEdit:
    """A nozzle of the page with the version that the page was opened at."""

    nozzle: Nozzle
    version: int
    changes: dict[str, Any]


@dataclass(frozen=True, slots=True)
class PageEdit:
    """One save of the measurement page: each row with the version that the page was opened at."""

    tag_version: int
    tag_changes: dict[str, Any]
    measurement_version: int
    measurement_changes: dict[str, Any]
    setpoints: list[Child] = field(default_factory=list)
    nozzles: list[NozzleEdit] = field(default_factory=list)


def save_page(actor: Actor, measurement: Measurement, edit: PageEdit) -> bool:
    """Save tag, nozzles and measurement together or not at all. Raises StaleEdit, ValidationError."""
    with acting(actor, "change measurement", measurement.plant):
        written = save_tag(actor, measurement.tag, edit.tag_version, edit.tag_changes)
        for one in edit.nozzles:
            written |= save_row(actor, one.nozzle, one.version, one.changes)
        touch = children_differ(measurement.setpoints, edit.setpoints)
        with telling_of_children(measurement.setpoints, edit.setpoints):
            written |= save_row(actor, measurement, edit.measurement_version, edit.measurement_changes, touch=touch)
        save_children(measurement.setpoints, "measurement", measurement, edit.setpoints)
    return written
