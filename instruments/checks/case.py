"""The Case: all that checks, preview, evaluation, snapshot and datasheet need to know of one measurement, frozen.

A Case is plain data (texts, quantities, flags, tuples of rows) and goes to canonical JSON and back without loss, so
that the same object is the input of the live preview, of the issued document and of a comparison years later.
Values are held under the stems of the field registry ("vessel.diameter" is `case.vessel.si("diameter")`), so that a
new field needs no change here. `CASE_VERSION` changes when an old Case can no longer be read; tests keep a fixture of
every version.
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from instruments.checks.sensor_class import SensorClass
from project.quantities import MISSING, PlantUnits, Quantity

CASE_VERSION = 1

Value = Quantity | str | bool | int


@dataclass(frozen=True, slots=True)
class Row:
    """One row of data (a vessel, a nozzle, an operating case …): its uid and its values by stem."""

    uid: str = ""
    values: Mapping[str, Value] = field(default_factory=dict)

    def quantity(self, stem: str) -> Quantity:
        """The quantity under a stem; missing where it was never filled. Raises TypeError where it is a text."""
        value = self.values.get(stem, MISSING)
        if not isinstance(value, Quantity):
            raise TypeError(f"{stem} holds {value!r}, not a quantity")
        return value

    def si(self, stem: str) -> float | None:
        return self.quantity(stem).si

    def text(self, stem: str) -> str:
        """The text (or choice) under a stem, '' where it was never filled."""
        value = self.values.get(stem, "")
        if isinstance(value, Quantity):
            return value.typed
        return str(value)

    def to_data(self) -> dict[str, Any]:
        values = {
            stem: {"typed": value.typed, "si": value.si} if isinstance(value, Quantity) else value
            for stem, value in self.values.items()
        }
        return {"uid": self.uid, "values": values}

    @classmethod
    def from_data(cls, data: Mapping[str, Any]) -> "Row":
        values = {
            stem: Quantity(value["typed"], value["si"]) if isinstance(value, dict) else value
            for stem, value in data["values"].items()
        }
        return cls(data["uid"], values)


EMPTY_ROW = Row()


@dataclass(frozen=True, slots=True)
class Strapping:
    """The strapping table of the vessel, as plain data.

    interpolation  "linear" or "monotone_cubic"
    points         (level_m, volume_m3) of each row; levels count from the vessel's datum
    """

    interpolation: str
    points: tuple[tuple[float, float], ...]

    def to_data(self) -> dict[str, Any]:
        return {"interpolation": self.interpolation, "points": [list(point) for point in self.points]}

    @classmethod
    def from_data(cls, data: Mapping[str, Any]) -> "Strapping":
        points = tuple((float(level_m), float(volume_m3)) for level_m, volume_m3 in data["points"])
        return cls(data["interpolation"], points)


@dataclass(frozen=True, slots=True)
class Case:
    """One level measurement with everything that it rests on.

    connections       rows of nozzles through which it is fitted, each with the extra stems "role" and "shared_with":
                      tags of other measurements on the nozzle, "" for none; not there where that was not noted yet
    operating_cases   rows with the stem "medium" holding the medium's uid, and "display" the name to show
    media             every medium that an operating case names
    internals         what stands in the vessel, e.g. a ladder; left out of the data where there is nothing
    strapping         the vessel's strapping table, whether or not its capacity follows from it; left out as above
    unreadable        field key -> message, for texts that the preview could not read; those values are missing
    """

    plant: Row
    unit: Row
    tag: Row
    vessel: Row
    measurement: Row
    connections: tuple[Row, ...] = ()
    media: tuple[Row, ...] = ()
    operating_cases: tuple[Row, ...] = ()
    setpoints: tuple[Row, ...] = ()
    internals: tuple[Row, ...] = ()
    strapping: Strapping | None = None
    sensor_class: SensorClass | None = None
    unreadable: Mapping[str, str] = field(default_factory=dict)
    version: int = CASE_VERSION

    @property
    def units(self) -> PlantUnits:
        """The plant's unit set and atmosphere, for showing values."""
        atmosphere = self.plant.si("atmosphere")
        if atmosphere is None:
            raise ValueError("the case has no atmospheric pressure: plant.atmosphere is required")
        return PlantUnits(self.plant.text("unit_set"), atmosphere)

    @property
    def nozzle(self) -> Row | None:
        """The connection with the role "sensor", or None."""
        return next((row for row in self.connections if row.text("role") == "sensor"), None)

    def medium_of(self, operating_case: Row) -> Row | None:
        uid = operating_case.text("medium")
        return next((row for row in self.media if row.uid == uid), None) if uid else None

    def to_data(self) -> dict[str, Any]:
        """Plain JSON data."""
        # Cases from before there were internals and strapping tables keep their bytes.
        internals = {"internals": [row.to_data() for row in self.internals]} if self.internals else {}
        strapping = {"strapping": self.strapping.to_data()} if self.strapping else {}
        return {
            "version": self.version,
            "plant": self.plant.to_data(),
            "unit": self.unit.to_data(),
            "tag": self.tag.to_data(),
            "vessel": self.vessel.to_data(),
            "measurement": self.measurement.to_data(),
            "connections": [row.to_data() for row in self.connections],
            "media": [row.to_data() for row in self.media],
            "operating_cases": [row.to_data() for row in self.operating_cases],
            "setpoints": [row.to_data() for row in self.setpoints],
            **internals,
            **strapping,
            "sensor_class": self.sensor_class.to_data() if self.sensor_class else None,
            "unreadable": dict(self.unreadable),
        }

    @classmethod
    def from_data(cls, data: Mapping[str, Any]) -> "Case":
        """A Case from its JSON data. Raises ValueError for a version that this program does not know."""
        if data.get("version") != CASE_VERSION:
            raise ValueError(f"case version {data.get('version')!r} is not known; known is {CASE_VERSION}")
        one: Any = {key: Row.from_data(data[key]) for key in ("plant", "unit", "tag", "vessel", "measurement")}
        many: Any = {
            key: tuple(Row.from_data(row) for row in data[key])
            for key in ("connections", "media", "operating_cases", "setpoints")
        }
        many["internals"] = tuple(Row.from_data(row) for row in data.get("internals", ()))
        strapping = Strapping.from_data(data["strapping"]) if "strapping" in data else None
        sensor_class = SensorClass.from_data(data["sensor_class"]) if data["sensor_class"] else None
        return cls(**one, **many, strapping=strapping, sensor_class=sensor_class, unreadable=dict(data["unreadable"]))

    def canonical_bytes(self) -> bytes:
        """Canonical UTF-8 JSON: sorted keys, no blanks, no NaN. Equal content gives equal bytes."""
        return json.dumps(
            self.to_data(), sort_keys=True, ensure_ascii=False, separators=(",", ":"), allow_nan=False
        ).encode()

    def content_hash(self) -> str:
        """SHA-256 (hex) of the canonical bytes."""
        return hashlib.sha256(self.canonical_bytes()).hexdigest()
