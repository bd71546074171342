"""Sensor classes of the library: synced from files into rows that are never changed afterwards."""

import hashlib
import json
from pathlib import Path

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from instruments.checks.sensor_class import SensorClass, load_class_file
from instruments.models import SensorClassRow
from project.actor import Actor, acting

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
