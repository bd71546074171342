"""Documents for `evaluate`, made of Cases, and random changes to them. All data invented."""

import random
from collections.abc import Mapping, Sequence
from typing import Any

from instruments.checks.case import Case, Row
from instruments.checks.sensor_class import SensorClass
from instruments.evaluation.parts import LONGEST_NAME, PARTS, all_fields
from instruments.sensor_class_fields import LIST_STEMS
from project.quantities import KINDS, Quantity
from project.registry import FieldDef
from tests.checks.builders import (
    GOOD_CASES,
    make_case,
    make_chamber_case,
    make_legs_case,
    make_rope_case,
    make_seals_case,
    make_silo_case,
)
from tests.checks.variants import with_agitator

Document = dict[str, Any]
FIELDS = all_fields()


def _row_data(entity: str, row: Row) -> Document:
    known = FIELDS[entity]
    data: Document = {}
    for stem, value in row.values.items():
        text = value.typed if isinstance(value, Quantity) else value
        if stem in known and (text != "" or stem == "shared_with"):
            data[stem] = text
    return data


def class_data(sensor_class: SensorClass) -> Document:
    """A sensor class inline, each value with its origin."""
    values = {
        stem: {"value": list(held.value) if isinstance(held.value, tuple) else _typed(held.value),
               "provenance": held.provenance}
        for stem, held in sensor_class.values.items()
    }  # fmt: skip
    return {
        "key": sensor_class.key, "edition": sensor_class.edition, "name": sensor_class.name,
        "confirmed": sensor_class.confirmed, "provenance": "test", "values": values,
    }  # fmt: skip


def _typed(value: Any) -> Any:
    return value.typed if isinstance(value, Quantity) else value


def document_of(case: Case, *, name: str = "", inline_class: bool = True) -> Document:
    """The document of one case that a person would write for it."""
    names = {row.uid: row.text("name") for row in case.media}
    document: Document = {"name": name[:LONGEST_NAME]} if name else {}
    rows = {"plant": case.plant, "unit": case.unit, "tag": case.tag, "vessel": case.vessel,
            "measurement": case.measurement}  # fmt: skip
    for part, row in rows.items():
        if row.values:
            document[part] = _row_data(part, row)
    document["media"] = [_row_data("medium", row) for row in case.media]
    document["internals"] = [_row_data("internal", row) for row in case.internals]
    document["setpoints"] = [_row_data("setpoint", row) for row in case.setpoints]
    document["nozzles"] = {row.text("role"): _row_data("nozzle", row) for row in case.connections}
    document["operating_cases"] = [
        {**_row_data("case", row), "medium": names.get(row.text("medium"), "")} for row in case.operating_cases
    ]
    if case.strapping is not None:
        points = [[f"{level_m!r} m", f"{volume_m3!r} m³"] for level_m, volume_m3 in case.strapping.points]
        document["strapping"] = {"interpolation": case.strapping.interpolation, "points": points}
    if case.sensor_class is not None:
        document["sensor_class"] = class_data(case.sensor_class) if inline_class else case.sensor_class.key
    return document


# The situations that random documents start from.
BASES = {
    "radar": make_case(),
    "legs": make_legs_case(),
    "wet leg": make_legs_case({"measurement.legs": "wet", "measurement.leg_density": "1000 kg/m³"}),
    "seals": make_seals_case(),
    "chamber": make_chamber_case(),
    "rope": make_rope_case(),
    "silo": make_silo_case(
        {"vessel.inlet_radius": "1 m", "vessel.inlet_bearing": "90°", "nozzle.bearing": "0°",
         "measurement.accuracy": "500 mm"}
    ),
    "agitator": with_agitator("270°"),
    "one operating case": make_case(cases=GOOD_CASES[1:2]),
}  # fmt: skip

# What a document is refused without, or where two rows have the same: changed now and then only.
NAMING = {
    "plant": ("atmosphere",), "strapping": ("points",), "internal": ("kind",), "medium": ("name",), "case": ("kind",),
    "setpoint": ("name",), "sensor_class": ("technology", "media"), "measurement": ("arrangement",),
}  # fmt: skip
# Numbers at which sums and comparisons are tried: nothing, a hair, large; and what a plant has.
_NUMBERS = ("0", "1", "0.5", "12", "35", "90", "1e-300", "1e-9", "1.0000000000000002", "1e6", "-1", "-0.0")


# What texts may say that checks read, and what they may not stumble over.
TEXTS = (
    "", "x", "5 % of %(all)s", "<b>&\"'", "Air", "Nitrogen", "Saturated steam", "DN 65", "DN 80", "3 in", "G 1½",
    "PN 16", "PN 160", "class 300", "P250GH", "A105", "316L", "B1", "RF", "40", "PTFE", "1oo2",
)  # fmt: skip


def random_number(rng: random.Random) -> str:
    return rng.choice(_NUMBERS) if rng.random() < 0.3 else repr(round(rng.uniform(-2, 100), rng.choice((0, 1, 3, 12))))


def random_text(rng: random.Random, definition: FieldDef) -> Any:
    """A random value of a field, mostly one that it takes."""
    if definition.is_quantity:
        kind = KINDS[definition.kind]
        unit = rng.choice(list(kind.units))
        reference = rng.choice(("(g)", "(a)")) if kind.has_reference else ""
        return f"{random_number(rng)} {unit}{reference}".strip()
    if definition.choices:
        return rng.choice([value for value, _label in definition.choices])
    if definition.kind == "integer":
        return rng.randrange(100)
    return rng.choice(TEXTS)


def _rows_of(document: Document) -> list[tuple[str, Document]]:
    """(entity, object) of every row of a document, the values of an inline sensor class among them."""
    found: list[tuple[str, Document]] = []
    for part in PARTS:
        held = document.get(part.name)
        if held is None:
            continue
        rows: Sequence[Document] = held if part.form == "list" else (
            list(held.values()) if part.form == "roles" else [held])  # fmt: skip
        found += [(part.entity, row) for row in rows]
    if isinstance(document.get("sensor_class"), dict):
        found.append(("sensor_class", document["sensor_class"]["values"]))
    return found


def change(rng: random.Random, document: Document) -> None:
    """Change, add or take out one value somewhere in a document; sometimes a whole part."""
    if rng.random() < 0.03:
        document.pop(rng.choice([key for key in document if key != "plant"]), None)
        return
    rows = _rows_of(document)
    entity, row = rng.choice(rows)
    known = [one for one in FIELDS[entity].values() if one.key != "strapping.points"]
    # What is there already is what the checks read; the rest of the registry gets its turn too.
    present = [one for one in known if one.stem in row]
    definition = rng.choice(present if present and rng.random() < 0.7 else known)
    if definition.stem in NAMING.get(entity, ()) and rng.random() < 0.95:
        return
    if rng.random() < 0.35:
        row.pop(definition.stem, None)
    elif definition.stem in LIST_STEMS and entity == "sensor_class":
        row[definition.stem] = [random_text(rng, definition) or "x" for _ in range(rng.randint(1, 3))]
    elif definition.key == "case.medium":
        row[definition.stem] = rng.choice([one.get("name", "") for one in document.get("media", [])] or [""])
    else:
        row[definition.stem] = random_text(rng, definition)


def without_field(document: Mapping[str, Any], key: str) -> Document:
    """A document with one field taken out, wherever it stands; a link takes out what it leads to."""
    entity, _, stem = key.partition(".")
    whole = {"measurement.vessel": "vessel", "measurement.sensor_class": "sensor_class",
             "strapping.points": "strapping"}  # fmt: skip
    if key in whole:
        return {name: value for name, value in document.items() if name != whole[key]}
    if key.startswith("measurement.nozzle"):
        role = key.removeprefix("measurement.nozzle").removeprefix("_") or "sensor"
        nozzles = {one: row for one, row in document.get("nozzles", {}).items() if one != role}
        return {**document, "nozzles": nozzles}
    copy: Document = dict(document)
    for part in PARTS:
        if part.entity != entity or part.name not in copy:
            continue
        held = copy[part.name]
        if part.form == "list":
            copy[part.name] = [_without(row, stem) for row in held]
        elif part.form == "roles":
            copy[part.name] = {role: _without(row, stem) for role, row in held.items()}
        else:
            copy[part.name] = _without(held, stem)
    if entity == "sensor_class" and isinstance(copy.get("sensor_class"), dict):
        held = copy["sensor_class"]
        copy["sensor_class"] = {**held, "values": _without(held["values"], stem)}
    return copy


def _without(row: Mapping[str, Any], stem: str) -> Document:
    return {key: value for key, value in row.items() if key != stem}
