"""Every field of the registry prints when it is filled, with its label and in the plant's units."""

from dataclasses import replace
from functools import cache
from itertools import count

import pytest

from instruments.checks.case import Case, Row, Value
from instruments.checks.sensor_class import ClassValue, SensorClass
from instruments.documents.datasheet import datasheet_pdf
from instruments.documents.sheet_rows import NUMBERED
from instruments.sensor_class_fields import LIST_STEMS
from project.quantities import UNIT_SETS, PlantUnits, Quantity
from project.registry import REGISTRY, FieldDef
from tests.checks.builders import RADAR, make_row
from tests.documents.sheet_reading import overlapping, squeezed, text_of, words_of
from tests.documents.sheet_samples import TEXTS, head_of

PRINTING = [one for one in REGISTRY if one.prints]
# What these print as is not their own text: the names of a linked row, the heading of an operating case's column.
ELSEWHERE = {"measurement.vessel", "measurement.sensor_class", "case.medium", "case.kind"}
# The box and the heading say these in their own words.
OTHER_LABELS = {"measurement.holds": "HOLD", "case.name": "Operating case"}
# A kind other than "named" prints beside the name of its case.
FIXED = {"measurement.arrangement": "chamber", "tag.text": "LT-4001", "case.kind": "normal"}
UNITS = PlantUnits()


def sample(one: FieldDef, number: int) -> Value:
    """A value of a field's kind, another one for each number."""
    if one.key in FIXED:
        return FIXED[one.key]
    if one.is_quantity:
        # Metric units, so that US sheets have to convert; above absolute zero and above vacuum everywhere.
        unit = UNIT_SETS["metric"].units[one.kind][0]
        return UNITS.parse(f"{number + 2} {unit}".strip(), one.kind)
    if one.kind == "flag":
        return True
    if one.kind == "integer":
        return number
    if one.choices:
        return one.choices[number % len(one.choices)][0]
    return f"Ж{number}ω"


@cache
def filled(unit_set: str = "metric", paper: str = "a4") -> Case:
    """A case with every field of every entity."""
    numbers = count(1)

    def row(entity: str, uid: str = "", **extra: Value) -> Row:
        values = {one.stem: sample(one, next(numbers)) for one in REGISTRY.of(entity) if one.kind != "link"}
        return Row(uid, {**values, **extra})

    plant = make_row("plant", {**TEXTS["plant"], "unit_set": unit_set, "paper": paper})
    held = {one.stem: sample(one, next(numbers)) for one in REGISTRY.of("sensor_class")}
    values = {
        stem: ClassValue((str(value),) if stem in LIST_STEMS else value, "invented") for stem, value in held.items()
    }
    return Case(
        plant=plant,
        unit=row("unit"),
        tag=row("tag", text="LT-4001"),
        vessel=row("vessel"),
        measurement=row("measurement"),
        connections=(row("nozzle", role="upper"), row("nozzle", role="lower")),
        media=(row("medium", "m1"),),
        operating_cases=(row("case", medium="m1", display="Ω1"), row("case", medium="m1", display="Ω2")),
        setpoints=(row("setpoint"), row("setpoint")),
        internals=(row("internal"), row("internal")),
        sensor_class=SensorClass(RADAR.key, 1, "Invented class", values=values),
    )


@cache
def text(unit_set: str, paper: str) -> str:
    return text_of(pdf(unit_set, paper))


@cache
def pdf(unit_set: str, paper: str) -> bytes:
    case = filled(unit_set, paper)
    return datasheet_pdf(case, head_of(case), [], [])


def rows_of(case: Case, entity: str) -> list[Row]:
    many = {"nozzle": case.connections, "medium": case.media, "case": case.operating_cases,
            "setpoint": case.setpoints, "internal": case.internals}  # fmt: skip
    if entity == "sensor_class":
        assert case.sensor_class is not None
        return [Row("", {stem: held.value for stem, held in case.sensor_class.values.items()})]
    return list(many[entity]) if entity in many else [getattr(case, entity)]


def shown(case: Case, one: FieldDef, value: object) -> str:
    if isinstance(value, Quantity):
        return str(case.units.shown(value, one.kind))
    if isinstance(value, tuple):
        return ", ".join(shown(case, one, item) for item in value)
    if isinstance(value, bool):
        return "Yes" if value else "No"
    return one.choice_label(str(value)) if one.choices else str(value)


def label_on_sheet(one: FieldDef) -> str:
    """A range prints under what the labels of its ends have in common, a number and its name likewise."""
    if one.key in OTHER_LABELS:
        return OTHER_LABELS[one.key]
    for ending, other in (("_min", "_max"), ("_max", "_min")):
        if one.key.endswith(ending) and one.key.removesuffix(ending) + other in REGISTRY:
            return one.label.rpartition(",")[0]
    if one.key in NUMBERED or one.key in NUMBERED.values():
        return one.label.split()[0]
    # A revision prints with what it is the revision of.
    return "" if one.key.endswith("_revision") else one.label


@pytest.mark.parametrize(("unit_set", "paper"), [("metric", "a4"), ("us", "letter")])
@pytest.mark.parametrize("key", [one.key for one in PRINTING if one.key not in ELSEWHERE])
def test_a_filled_field_prints_with_its_label(key: str, unit_set: str, paper: str) -> None:
    one, case, found = REGISTRY[key], filled(unit_set, paper), text(unit_set, paper)
    for row in rows_of(case, one.entity):
        value = squeezed(shown(case, one, row.values[one.stem]))
        assert value
        assert value in found, (key, value)
    assert squeezed(label_on_sheet(one)) in found


@pytest.mark.parametrize("key", sorted(ELSEWHERE))
def test_what_prints_elsewhere_is_printed_too(key: str) -> None:
    expected = {
        "measurement.vessel": filled().vessel.text("number"),
        "measurement.sensor_class": "Sensor class Invented class",
        "case.medium": filled().media[0].text("name"),
        "case.kind": f"{filled().operating_cases[0].text('name')} (",
    }
    assert squeezed(expected[key]) in text("metric", "a4")


def test_nothing_is_said_to_be_missing_on_a_full_sheet() -> None:
    assert "Notgiven" not in text("metric", "a4")


@pytest.mark.parametrize(("unit_set", "paper"), [("metric", "a4"), ("us", "letter")])
def test_no_text_covers_another(unit_set: str, paper: str) -> None:
    assert not any(overlapping(words) for words in words_of(pdf(unit_set, paper)))


def test_a_field_that_does_not_concern_the_case_is_not_said_to_be_missing() -> None:
    case = filled()
    bare = replace(
        case,
        vessel=Row("", {"number": "V-1", "body": "sphere"}),
        measurement=Row("", {"arrangement": "one_nozzle"}),
        media=(Row("m1", {"name": "Grit", "kind": "solid"}),),
        operating_cases=(Row("", {"kind": "normal", "medium": "m1"}),),
        sensor_class=SensorClass("x", 1, "Any", values={"technology": ClassValue("radar_free", "invented")}),
    )
    found = text_of(datasheet_pdf(bare, head_of(bare), [], []))
    for absent in ("Capillary", "Fillfluid", "Displacer", "Insidewidth", "viscosity", "Emulsion", "Boreofthechamber"):
        assert absent not in found
    for present in ("Insidediameter", "Grainsize", "Angleofrepose", "Build-up"):
        assert present in found


def test_a_field_with_a_value_prints_even_where_it_concerns_nothing_chosen() -> None:
    case = filled()
    odd = replace(
        case,
        vessel=Row("", {**case.vessel.values, "body": "sphere", "box_width": UNITS.parse("7.77 m", "length")}),
        media=(Row("m1", {"name": "Grit", "kind": "solid", "viscosity": UNITS.parse("6.66 mPa·s", "viscosity")}),),
    )
    found = text_of(datasheet_pdf(odd, head_of(odd), [], []))
    assert "Insidewidth7.77m" in found
    assert "Dynamicviscosity6.66mPa·s" in found
