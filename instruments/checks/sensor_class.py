"""A sensor class: one generic kind of device, as plain data with an origin for every value.

Values are held under the stems of `instruments.sensor_class_fields`, so that a further property, technology
or class needs no change here. A class is not a product: its values are typical until somebody confirms them
from a certificate (`confirmed`); findings that rest on unconfirmed values are provisional.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from instruments.sensor_class_fields import LIST_STEMS
from project.quantities import MISSING, STANDARD_ATMOSPHERE_PA_ABS, PlantUnits, Quantity
from project.registry import REGISTRY, FieldDef

_HEAD = {"key": str, "edition": int, "name": str, "confirmed": bool, "provenance": str, "values": dict}


class ClassFileError(ValueError):
    """A class file that cannot be taken; the message names the file, the key and what would be accepted."""


@dataclass(frozen=True, slots=True)
class ClassValue:
    """One value of a class: a quantity, a text or choice, or a tuple of texts; and where it comes from."""

    value: Quantity | str | tuple[str, ...]
    provenance: str

    def to_data(self) -> dict[str, Any]:
        if isinstance(self.value, Quantity):
            return {"typed": self.value.typed, "si": self.value.si, "provenance": self.provenance}
        if isinstance(self.value, tuple):
            return {"items": list(self.value), "provenance": self.provenance}
        return {"text": self.value, "provenance": self.provenance}

    @classmethod
    def from_data(cls, data: Mapping[str, Any]) -> "ClassValue":
        if "typed" in data:
            return cls(Quantity(data["typed"], data["si"]), data["provenance"])
        if "items" in data:
            return cls(tuple(data["items"]), data["provenance"])
        return cls(data["text"], data["provenance"])


@dataclass(frozen=True, slots=True)
class SensorClass:
    """One edition of a sensor class.

    key        stable name, equal to the stem of its file
    edition    counts up whenever a value changes
    name       what a person calls it
    confirmed  True where the values were taken from the certificate of the device to be bought
    values     stem ("range_max") -> ClassValue; a stem that is absent is missing
    """

    key: str
    edition: int
    name: str
    confirmed: bool = False
    values: Mapping[str, ClassValue] = field(default_factory=dict)

    def quantity(self, stem: str) -> Quantity:
        """The quantity under a stem, missing where the class states none. TypeError where it is a text."""
        held = self.values.get(stem)
        if held is None:
            return MISSING
        if not isinstance(held.value, Quantity):
            raise TypeError(f"{self.key}.{stem} holds {held.value!r}, not a quantity")
        return held.value

    def si(self, stem: str) -> float | None:
        return self.quantity(stem).si

    def text(self, stem: str) -> str:
        """The text, choice or typed quantity under a stem, items joined by '; '; '' where there is none."""
        held = self.values.get(stem)
        if held is None:
            return ""
        if isinstance(held.value, Quantity):
            return held.value.typed
        return held.value if isinstance(held.value, str) else "; ".join(held.value)

    def items(self, stem: str) -> tuple[str, ...]:
        """The texts of a list such as "media"; empty where there are none. TypeError where it is no list."""
        held = self.values.get(stem)
        if held is None:
            return ()
        if not isinstance(held.value, tuple):
            raise TypeError(f"{self.key}.{stem} holds {held.value!r}, not a list")
        return held.value

    def provenance(self, stem: str) -> str:
        held = self.values.get(stem)
        return held.provenance if held else ""

    @property
    def technology(self) -> str:
        return self.text("technology")

    def to_data(self) -> dict[str, Any]:
        """Plain JSON data, without loss."""
        return {
            "key": self.key,
            "edition": self.edition,
            "name": self.name,
            "confirmed": self.confirmed,
            "values": {stem: held.to_data() for stem, held in self.values.items()},
        }

    @classmethod
    def from_data(cls, data: Mapping[str, Any]) -> "SensorClass":
        values = {stem: ClassValue.from_data(held) for stem, held in data["values"].items()}
        return cls(data["key"], data["edition"], data["name"], data["confirmed"], values)


def load_class_file(path: Path) -> SensorClass:
    """The sensor class in a TOML file.

    The file has `key` (its own stem), `edition`, `name`, `confirmed`, `provenance` (of every value that names
    none of its own) and a table `[values]`: stem = "typed value with unit", a text, a list of texts, or
    { value = …, provenance = "…" }. Pressures are written absolute, because a class knows no plant's
    atmosphere.

    Raises ClassFileError, which names the file and the key, for anything else; OSError where it cannot be
    read.
    """
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise ClassFileError(f"{path.name}: not readable as TOML: {error}") from error
    for key, wanted in _HEAD.items():
        _require_head(path, data, key, wanted)
    unknown = sorted(set(data) - set(_HEAD))
    if unknown:
        raise ClassFileError(f"{path.name}: {unknown[0]}: not known; known are {', '.join(_HEAD)}")
    if data["key"] != path.stem:
        raise ClassFileError(f"{path.name}: key: {data['key']!r} must equal the file's name, {path.stem!r}")
    if data["edition"] < 1:
        raise ClassFileError(f"{path.name}: edition: {data['edition']!r}; accepted are 1, 2, 3 …")
    values = {stem: _read_value(path, stem, raw, data["provenance"]) for stem, raw in data["values"].items()}
    for definition in REGISTRY.of("sensor_class"):
        if definition.required and definition.stem not in values:
            raise ClassFileError(f"{path.name}: values.{definition.stem}: missing; every class states it")
    return SensorClass(data["key"], data["edition"], data["name"], data["confirmed"], values)


def _require_head(path: Path, data: Mapping[str, Any], key: str, wanted: type) -> None:
    if key not in data:
        raise ClassFileError(f"{path.name}: {key}: missing; accepted is a {wanted.__name__}")
    # bool is an int to Python, but "edition = true" is a slip.
    if type(data[key]) is not wanted:
        raise ClassFileError(f"{path.name}: {key}: {data[key]!r}; accepted is a {wanted.__name__}")
    if wanted is str and not data[key].strip():
        raise ClassFileError(f"{path.name}: {key}: empty; accepted is a text")


def _read_value(path: Path, stem: str, raw: Any, provenance: str) -> ClassValue:
    """One entry of `[values]`."""
    where = f"{path.name}: values.{stem}"
    if f"sensor_class.{stem}" not in REGISTRY:
        raise ClassFileError(f"{where}: not a property of a sensor class; see instruments/sensor_class_fields.py")
    if isinstance(raw, dict):
        if set(raw) != {"value", "provenance"} or not isinstance(raw["provenance"], str):
            raise ClassFileError(f'{where}: accepted is {{ value = …, provenance = "…" }}, not {raw!r}')
        raw, provenance = raw["value"], raw["provenance"]
    definition = REGISTRY[f"sensor_class.{stem}"]
    if stem in LIST_STEMS:
        return ClassValue(_read_items(where, definition, raw), provenance)
    if not isinstance(raw, str) or not raw.strip():
        raise ClassFileError(f'{where}: {raw!r}; accepted is a text, for quantities with the unit: "12.5 m"')
    if definition.is_quantity:
        return ClassValue(_read_quantity(where, definition, raw), provenance)
    _require_choice(where, definition, raw)
    return ClassValue(raw, provenance)


def _read_items(where: str, definition: FieldDef, raw: Any) -> tuple[str, ...]:
    if not isinstance(raw, list) or not raw or not all(isinstance(item, str) and item.strip() for item in raw):
        raise ClassFileError(f"{where}: {raw!r}; accepted is a list of texts with at least one")
    for item in raw:
        _require_choice(where, definition, item)
    return tuple(raw)


def _require_choice(where: str, definition: FieldDef, text: str) -> None:
    accepted = [value for value, _ in definition.choices]
    if accepted and text not in accepted:
        raise ClassFileError(f"{where}: {text!r}; accepted are {', '.join(accepted)}")


def _read_quantity(where: str, definition: FieldDef, text: str) -> Quantity:
    try:
        quantity = PlantUnits().parse(text, definition.kind)
    except ValueError as error:
        raise ClassFileError(f"{where}: {error}") from error
    if quantity.typed != text.strip():
        raise ClassFileError(f"{where}: {text!r}: the unit is missing; accepted is for example {quantity.typed!r}")
    if _changes_with_atmosphere(text, definition.kind, quantity):
        raise ClassFileError(f"{where}: {text!r} is gauge; write it absolute, because a class knows no atmosphere")
    if quantity.si is not None and definition.sign == "positive" and quantity.si <= 0:
        raise ClassFileError(f"{where}: {text!r}; accepted is a value above zero")
    if quantity.si is not None and definition.sign == "not_negative" and quantity.si < 0:
        raise ClassFileError(f"{where}: {text!r}; accepted is zero or above")
    highest = PlantUnits().parse(definition.highest, definition.kind).si
    if None not in (quantity.si, highest) and quantity.si > highest:  # type: ignore[operator]
        raise ClassFileError(f"{where}: {text!r}; accepted is {definition.highest} or less")
    return quantity


def _changes_with_atmosphere(text: str, kind: str, quantity: Quantity) -> bool:
    """True for a gauge pressure however it is spelled ("psig", "bar g")."""
    return PlantUnits(atmosphere_pa_abs=2 * STANDARD_ATMOSPHERE_PA_ABS).parse(text, kind).si != quantity.si
