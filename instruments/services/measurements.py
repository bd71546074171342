"""What changes level measurements: the tag, the measurement with its setpoints, and the nozzle, in one transaction."""

from dataclasses import dataclass, field
from typing import Any, cast

from django.core.exceptions import ValidationError
from django.db.models import Max
from django.utils.translation import gettext as _

from instruments.models import Connection, Document, Measurement, MeasurementState, Tag
from instruments.services.tags import save_tag
from project import dependents
from project.actor import Actor, acting
from project.services import Changes, Child, OtherPlant, children_differ, create_row, save_children, save_row
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
    actor: Actor, tag: Tag, changes: Changes, *, vessel: Vessel | None = None, nozzle: Nozzle | None = None
) -> Measurement:
    """Create the level measurement of a tag, fitted to a vessel through a nozzle where these are known."""
    with acting(actor, "create measurement", tag.plant):
        if Measurement.objects.filter(tag=tag).exists():
            raise ValidationError(_("%(tag)s has its level measurement already.") % {"tag": tag.text})
        measurement = Measurement(plant=tag.plant, tag=tag, vessel=vessel)
        create_row(actor, measurement, changes)
        if nozzle is not None:
            _connect(actor, measurement, nozzle)
        MeasurementState.objects.create(measurement=measurement, plant=tag.plant)
        allot_document(actor, tag.plant, "datasheet", measurement)
        # Once more, now that the state row exists: creating rows told the dependents before there was one.
        dependents.tell(measurement)
    return measurement


def _connect(actor: Actor, measurement: Measurement, nozzle: Nozzle) -> None:
    if nozzle.vessel_id != measurement.vessel_id:
        raise OtherPlant(f"nozzle {nozzle} is not on the vessel of {measurement}")
    create_row(actor, Connection(plant=measurement.plant, measurement=measurement, nozzle=nozzle, role="sensor"), {})


def fit_measurement(
    actor: Actor, measurement: Measurement, version: int, vessel: Vessel | None, nozzle: Nozzle | None
) -> bool:
    """Put a measurement on another vessel or nozzle. Counts in the measurement's version."""
    with acting(actor, "fit measurement", measurement.plant):
        same = measurement.vessel == vessel and measurement.nozzle == nozzle
        if same:
            return False
        save_row(actor, measurement, version, {"vessel": vessel}, touch=True)
        for connection in measurement.connections.filter(role="sensor"):
            connection.delete()
        if nozzle is not None:
            _connect(actor, measurement, nozzle)
    return True


@dataclass(frozen=True, slots=True)
class PageEdit:
    """One save of the measurement page: each row with the version that the page was opened at."""

    tag_version: int
    tag_changes: dict[str, Any]
    measurement_version: int
    measurement_changes: dict[str, Any]
    setpoints: list[Child] = field(default_factory=list)
    nozzle: Nozzle | None = None
    nozzle_version: int = 0
    nozzle_changes: dict[str, Any] = field(default_factory=dict)


def save_page(actor: Actor, measurement: Measurement, edit: PageEdit) -> bool:
    """Save tag, nozzle and measurement together or not at all. Raises StaleEdit, ValidationError."""
    with acting(actor, "change measurement", measurement.plant):
        written = save_tag(actor, measurement.tag, edit.tag_version, edit.tag_changes)
        if edit.nozzle is not None:
            written |= save_row(actor, edit.nozzle, edit.nozzle_version, edit.nozzle_changes)
        touch = children_differ(measurement.setpoints, edit.setpoints)
        written |= save_row(actor, measurement, edit.measurement_version, edit.measurement_changes, touch=touch)
        save_children(measurement.setpoints, "measurement", measurement, edit.setpoints)
    return written
