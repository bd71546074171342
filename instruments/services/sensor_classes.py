"""Sensor classes: the library's, synced from files and never changed, and a plant's own copies, edited there."""

import copy
import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import cast

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from instruments.checks.sensor_class import SensorClass, load_class_file
from instruments.models import SensorClassRow
from project.actor import Actor, acting
from project.quantities import Quantity
from project.registry import REGISTRY, FieldDef, gettext_noop
from project.rows import KeptRow
from project.services import Changes, ConflictingValue, StaleEdit, create_row, save_row
from vessels.models import Plant

CLASS_FILES = Path(__file__).resolve().parent.parent / "data" / "sensor_classes"


def class_hash(sensor_class: SensorClass) -> str:
    """SHA-256 (hex) of the class as canonical JSON."""
    text = json.dumps(sensor_class.to_data(), sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def sync_sensor_classes(actor: Actor, folder: Path = CLASS_FILES) -> list[str]:
    """Bring new editions of class files into the database; returns what was added, as "key edition".

    Raises ValidationError where a file changed without a new edition: kept editions are what documents rest on.
    """
    added = []
    with acting(actor, "sync sensor classes"):
        for path in sorted(folder.glob("*.toml")):
            sensor_class = load_class_file(path)
            digest = class_hash(sensor_class)
            kept = SensorClassRow.objects.filter(plant=None, key=sensor_class.key)
            same = kept.filter(edition=sensor_class.edition).first()
            if same is not None:
                if same.content_hash != digest:
                    raise ValidationError(
                        _("%(file)s changed, but its edition is still %(edition)s: raise the edition.")
                        % {"file": path.name, "edition": sensor_class.edition}
                    )
                continue
            for older in kept.filter(current=True):
                older.current = False
                older.version += 1
                older.save()
            SensorClassRow(
                key=sensor_class.key,
                edition=sensor_class.edition,
                name=sensor_class.name,
                technology=sensor_class.technology,
                content_hash=digest,
                data=sensor_class.to_data(),
            ).save()
            added.append(f"{sensor_class.key} {sensor_class.edition}")
    return added


# Where a value comes from that somebody changed without naming a source or a certificate.
TYPED_HERE = gettext_noop("typed in the plant, no source named")


def copy_class(actor: Actor, plant: Plant, source: SensorClassRow, key: str, name: str) -> SensorClassRow:
    """A plant's own copy of a class, to be edited there. Every value keeps its origin; nothing is confirmed.

    Raises ValidationError where the plant has a class of that key already.
    """
    with acting(actor, "copy sensor class", plant):
        if SensorClassRow.objects.filter(plant=plant, key=key).exists():
            raise ValidationError(
                {"key": _("This plant has a class with the key “%(key)s” already: choose another key.") % {"key": key}}
            )
        data = copy.deepcopy(source.data) | {"key": key, "edition": 1, "name": name, "confirmed": False}
        row = SensorClassRow(plant=plant, key=key, name=name, technology=source.technology, data=data)
        row.content_hash = class_hash(row.sensor_class())
        return cast(SensorClassRow, create_row(actor, row, {}))


@dataclass(frozen=True, slots=True)
class ClassEdit:
    """One save of the page of a plant's class, with the version that the page was opened at.

    values       stem -> value; lists are one text, items joined by "; "
    origins      stem -> where the value comes from, '' to have it filled in
    certificate  reference of the certificate of the device to be bought
    confirmed    True where the values were compared with that certificate
    """

    version: int
    name: str
    values: Changes
    origins: Mapping[str, str]
    certificate: str = ""
    confirmed: bool = False


def save_class(actor: Actor, row: SensorClassRow, edit: ClassEdit) -> bool:
    """Change a plant's copy; measurements that use it are checked again. True if anything was written.

    A value that was changed and whose origin was not gets the certificate for its origin, or that it was typed here.
    The principle of a class stays: the checks and what is stated of it rest on that.
    Raises ValidationError for a class of the library, for a confirmation without a certificate and for a required value
    that is empty; StaleEdit where somebody saved meanwhile.
    """
    _refuse(row, edit)
    with acting(actor, "change sensor class", row.plant):
        changes = {stem: value for stem, value in edit.values.items() if stem != "technology"}
        origins = _origins(row, changes, edit)
        draft = SensorClassRow(data=copy.deepcopy(row.data) | {"name": edit.name, "confirmed": edit.confirmed})
        for stem, value in changes.items():
            draft.assign(REGISTRY[f"sensor_class.{stem}"], value)
            if stem in draft.data["values"]:
                draft.data["values"][stem]["provenance"] = origins[stem]
        details = {**row.details, "certificate": edit.certificate}
        touch = (draft.data, edit.certificate) != (row.data, row.certificate)
        row.name, row.data, row.details = edit.name, draft.data, details
        row.content_hash = class_hash(row.sensor_class())
        try:
            return save_row(actor, row, edit.version, {}, touch=touch)
        except StaleEdit as problem:
            values = _differing(problem.conflict.row, changes)
            raise StaleEdit(replace(problem.conflict, values=values)) from problem


def _differing(kept: KeptRow, changes: Changes) -> tuple[ConflictingValue, ...]:
    """The values of a refused edit that are not what is kept now."""
    differing = []
    for stem, value in changes.items():
        definition = REGISTRY[f"sensor_class.{stem}"]
        pair = [one.typed if isinstance(one, Quantity) else str(one) for one in (value, kept.value(definition))]
        if pair[0] != pair[1]:
            yours, theirs = (_choices_text(definition, one) for one in pair)
            differing.append(ConflictingValue(definition, yours, theirs))
    return tuple(differing)


def _choices_text(definition: FieldDef, text: str) -> str:
    """Stored choices in words."""
    return "; ".join(_(definition.choice_label(item)) if item else "" for item in text.split("; "))


def _refuse(row: SensorClassRow, edit: ClassEdit) -> None:
    if row.plant is None:
        raise ValidationError(_("A class of the library is not changed: copy it into the plant and edit the copy."))
    if edit.confirmed and not edit.certificate:
        raise ValidationError(
            {"certificate": _("Values are confirmed by a certificate: enter its reference, or take the tick away.")}
        )
    for definition in REGISTRY.of("sensor_class"):
        if definition.required and definition.stem in edit.values and not edit.values[definition.stem]:
            raise ValidationError({definition.stem: _("Every class states this.")})


def _origins(row: SensorClassRow, changes: Changes, edit: ClassEdit) -> dict[str, str]:
    """Where each value comes from after the edit."""
    sensor_class, origins = row.sensor_class(), {}
    for stem, value in changes.items():
        kept, typed = sensor_class.provenance(stem), edit.origins.get(stem, "").strip()
        changed = row.value(REGISTRY[f"sensor_class.{stem}"]) != value
        origins[stem] = typed or kept
        if not origins[stem] or (changed and origins[stem] == kept):
            origins[stem] = edit.certificate or TYPED_HERE
    return origins
