"""The JSON Schema of `evaluate`, against a small reader of schemas of its own and against what the program accepts.

The reader below knows the keywords that the schema uses, as JSON Schema 2020-12 (validation vocabulary, section 6, and
applicators, core section 10) defines them, and refuses to pass over any other.
"""

import copy
import json
import random
import re
from pathlib import Path
from typing import Any

import pytest

from instruments.evaluation.answer import evaluate
from instruments.evaluation.parts import all_fields
from instruments.evaluation.schema import DIALECT, document_schema
from project.quantities import KINDS, PlantUnits, UnreadableQuantity
from project.registry import REGISTRY, FieldDef
from tests.checks.builders import make_case
from tests.checks.evaluate_samples import BASES, document_of
from tests.checks.test_fuzz_evaluate import random_document

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "docs" / "evaluate").glob("*.json"))
SCHEMA = document_schema()
GOOD = document_of(make_case())
TYPES = {"object": dict, "array": list, "string": str, "boolean": bool, "null": type(None)}
ANNOTATIONS = {"title", "description", "$schema", "$defs"}
KEYWORDS = {
    "type", "enum", "pattern", "minLength", "maxLength", "minimum", "maximum", "minItems", "maxItems", "items",
    "prefixItems", "properties", "additionalProperties", "required", "anyOf", "not", "if", "then", "else", "$ref",
}  # fmt: skip


def is_of_type(value: Any, name: str) -> bool:
    if name in ("number", "integer"):
        whole = isinstance(value, int) or (isinstance(value, float) and value.is_integer())
        return not isinstance(value, bool) and (whole if name == "integer" else isinstance(value, int | float))
    return isinstance(value, TYPES[name]) and (name == "boolean" or not isinstance(value, bool))


def is_valid(value: Any, schema: Any) -> bool:
    """Whether a value is valid by a schema."""
    if isinstance(schema, bool):
        return schema
    unknown = set(schema) - KEYWORDS - ANNOTATIONS
    assert not unknown, f"the reader of schemas does not know {unknown}"
    return all(rule(value, schema) for rule in (_general, _text_or_number, _array, _object, _combined))


def _general(value: Any, schema: dict[str, Any]) -> bool:
    types = schema.get("type", [])
    types = [types] if isinstance(types, str) else types
    if types and not any(is_of_type(value, name) for name in types):
        return False
    return "enum" not in schema or any(value == one and type(value) is type(one) for one in schema["enum"])


def _text_or_number(value: Any, schema: dict[str, Any]) -> bool:
    if isinstance(value, str):
        longest = schema.get("maxLength", len(value))
        fits = re.search(schema.get("pattern", ""), value) is not None
        return schema.get("minLength", 0) <= len(value) <= longest and fits
    if is_of_type(value, "number"):
        return bool(schema.get("minimum", value) <= value <= schema.get("maximum", value))
    return True


def _array(value: Any, schema: dict[str, Any]) -> bool:
    if not isinstance(value, list):
        return True
    first = schema.get("prefixItems", [])
    rest = value[len(first) :]
    return (
        schema.get("minItems", 0) <= len(value) <= schema.get("maxItems", len(value))
        and all(is_valid(one, its) for one, its in zip(value, first, strict=False))
        and all(is_valid(one, schema.get("items", True)) for one in rest)
    )


def _object(value: Any, schema: dict[str, Any]) -> bool:
    if not isinstance(value, dict):
        return True
    properties = schema.get("properties", {})
    return (
        all(key in value for key in schema.get("required", []))
        and all(is_valid(value[key], one) for key, one in properties.items() if key in value)
        and all(is_valid(one, schema.get("additionalProperties", True))
                for key, one in value.items() if key not in properties)
    )  # fmt: skip


def _combined(value: Any, schema: dict[str, Any]) -> bool:
    if "$ref" in schema and not is_valid(value, SCHEMA["$defs"][schema["$ref"].removeprefix("#/$defs/")]):
        return False
    if "anyOf" in schema and not any(is_valid(value, one) for one in schema["anyOf"]):
        return False
    if "not" in schema and is_valid(value, schema["not"]):
        return False
    if "if" not in schema:
        return True
    return is_valid(value, schema["then" if is_valid(value, schema["if"]) else "else"])


def good(**changes: Any) -> dict[str, Any]:
    return copy.deepcopy(GOOD) | changes


def test_the_reader_of_schemas_tells_right_from_wrong():
    """Examples of the specification's own kind: each keyword once passing, once failing."""
    for schema, right, wrong in (
        ({"type": "integer"}, 1.0, True), ({"type": ["string", "null"]}, None, 3), ({"enum": ["1"]}, "1", 1),
        ({"pattern": "^a"}, "ab", "ba"), ({"minLength": 1}, "a", ""), ({"maxLength": 1}, "a", "ab"),
        ({"minimum": 0}, 0, -1), ({"maximum": 0}, 0, 1), ({"minItems": 1}, [1], []), ({"maxItems": 1}, [1], [1, 2]),
        ({"items": {"type": "null"}}, [None], [1]), ({"prefixItems": [True], "items": False}, [1], [1, 2]),
        ({"properties": {"a": False}}, {"b": 1}, {"a": 1}), ({"additionalProperties": False}, {}, {"a": 1}),
        ({"required": ["a"]}, {"a": 1}, {}), ({"anyOf": [False, {"type": "null"}]}, None, 1),
        ({"not": {"type": "null"}}, 1, None),
        ({"if": {"type": "string"}, "then": False, "else": True}, 1, "a"),
    ):  # fmt: skip
        assert is_valid(right, schema), schema
        assert not is_valid(wrong, schema), schema
    with pytest.raises(AssertionError, match="multipleOf"):
        is_valid(1, {"multipleOf": 2})


def test_the_schema_says_which_draft_it_is_and_is_plain_json():
    assert SCHEMA["$schema"] == DIALECT == "https://json-schema.org/draft/2020-12/schema"
    assert json.loads(json.dumps(SCHEMA, allow_nan=False)) == SCHEMA


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_the_examples_are_valid(path):
    assert is_valid(json.loads(path.read_text(encoding="utf-8")), SCHEMA)


@pytest.mark.parametrize("name", list(BASES))
def test_documents_of_cases_are_valid(name):
    for inline in (True, False):
        assert is_valid(document_of(BASES[name], inline_class=inline), SCHEMA)
    assert is_valid({"cases": [document_of(BASES[name])], "note": "x"}, SCHEMA)


def test_what_is_evaluated_is_valid():
    """Two hundred random documents; those that a schema can refuse and the program takes would be a trap for others."""
    taken = 0
    for seed in range(200):
        document = random_document(seed)
        if not evaluate(document).problems:
            taken += 1
            assert is_valid(document, SCHEMA), seed
    assert taken > 100


@pytest.mark.parametrize(
    "broken",
    [
        None, [], "x", 3, {}, {"cases": []}, {"cases": [{}]}, {"cases": [GOOD], "other": 1}, good(plant=None),
        good(plant={}), good(plant={"atmosphere": ""}), good(plant={"atmosphere": "1 bar"}), good(vessel=[]),
        good(vessel={"diameter": 6}), good(vessel={"diameter": "6"}), good(vessel={"diameter": "6 kg"}),
        good(vessel={"diametre": "6 m"}), good(vessel={"body": "egg"}), good(vessel={"design_pressure_max": "2 bar"}),
        good(media={}), good(media=[{}]), good(media=[{"name": "x", "permittivity": "3 m"}]),
        good(media=[{"name": "x", "permittivity": True}]), good(nozzles={"side": {}}), good(nozzle={}, nozzles={}),
        good(medium={"name": "x"}), good(setpoints=[{}]), good(setpoints=[{"name": "HHH"}]), good(setpoints=[None]),
        good(sensor_class="no_such_class"), good(sensor_class={}), good(sensor_class=3),
        good(sensor_class={"name": "x", "provenance": "x", "values": {"technology": "radar_free"}}),
        good(sensor_class={"name": "x", "provenance": "x", "values": {"technology": "radar_free", "media": []}}),
        good(strapping={}), good(strapping={"points": [["0 m", "0 m³"]]}), good(tag={"quantity": -1}),
        good(strapping={"points": [["0 m", "0 m³"], ["1 m", "1 m³", "x"]]}), good(tag={"service": "x" * 201}),
        good(strapping={"points": [["0 m", "0 m³"], ["1 m"]]}), good(name=3), good(cases=3),
    ],
)  # fmt: skip
def test_broken_documents_are_neither_valid_nor_evaluated(broken):
    assert not is_valid(broken, SCHEMA)
    assert evaluate(broken).problems


def test_every_field_is_described():
    for entity, definitions in all_fields().items():
        if entity == "sensor_class":
            inline = SCHEMA["$defs"]["sensor_class"]["anyOf"][1]
            described = inline["properties"]["values"]["properties"]
        else:
            described = SCHEMA["$defs"][entity]["properties"]
        assert set(described) == set(definitions)
        for stem, definition in definitions.items():
            text = json.dumps(described[stem], ensure_ascii=False)
            assert definition.label in text or stem == "points"
            assert all(f'"{value}"' in text for value, _label in definition.choices)
            told = described[stem].get("description", "")
            assert definition.help in told or entity == "sensor_class" or stem == "points"
    assert "At most 90°." in SCHEMA["$defs"]["nozzle"]["properties"]["inclination"]["description"]


@pytest.mark.parametrize("key", list(KINDS))
def test_texts_that_are_read_as_a_kind_fit_its_pattern(key):
    """And those of other kinds do not, so that a wrong unit is seen before anything is sent."""
    kind, schema = KINDS[key], SCHEMA["$defs"][f"quantity_{key}"]
    rng, units = random.Random(1), PlantUnits()
    reference = ("(g)", " (a)", "a", " abs", "gauge", " G") if kind.has_reference else ("",)
    texts = kind.example.split(", ")
    for name in (*kind.units, *kind.also):
        for number in ("1", "-2.5", "−3", "1e3", ".5", "1/2", "1 1/2", "1-1/2", "10 000", "10\u202f000", "+4"):
            spelled = rng.choice((name, name.upper(), name.lower(), name.capitalize()))
            texts.append(f"{number}{rng.choice(('', ' ', '  '))}{spelled}{rng.choice(reference)}")
    texts += ["1 ft 6 in", "-1' 6 1/2\"", "3ft-2in"] if kind.base == "length" else []
    read = [text for text in texts if _is_read(text, key, units)]
    assert len(read) >= len(kind.units)
    assert [text for text in read if not is_valid(text, schema)] == []
    assert is_valid("", schema)
    assert is_valid(None, schema)
    others = {text for other in KINDS.values() if not set(other.units) & set(kind.units)
              for text in other.example.split(", ") if not _is_read(text, key, units)}  # fmt: skip
    assert [text for text in sorted(others) if is_valid(text, schema)] == []


def _is_read(text: str, key: str, units: PlantUnits) -> bool:
    try:
        return units.parse(text, key).typed == text
    except UnreadableQuantity:
        return False


def test_a_new_field_is_in_the_schema(monkeypatch):
    monkeypatch.setattr(REGISTRY, "_fields", dict(REGISTRY._fields))
    REGISTRY.register(FieldDef("vessel.freeboard", "Freeboard", "vessel", "length", sign="positive", help="Kept free."))
    described = document_schema()["$defs"]["vessel"]["properties"]["freeboard"]
    assert described["$ref"] == "#/$defs/quantity_length"
    assert described["description"] == "Kept free. More than zero."
