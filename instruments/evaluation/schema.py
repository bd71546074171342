"""The JSON Schema (draft 2020-12) of a document of cases, made from the registry of fields.

It says in a schema's words what `reading` accepts: a document that is read is valid by it. Some that are refused are
valid too, because limits of quantities and names that have to match are beyond a schema for texts.
"""

import re
from collections.abc import Iterable
from typing import Any

from django.utils.translation import gettext

from instruments.evaluation.class_reading import HEAD, MOST_ITEMS, library
from instruments.evaluation.parts import (
    MOST_CASES,
    MOST_ROWS,
    PARTS,
    POINTS,
    ROLE_NAMES,
    Part,
    fields_of,
    takes_bare_numbers,
)
from instruments.evaluation.reading import NAME, NOTE
from instruments.evaluation.strapping_reading import PAIR
from instruments.evaluation.values import LARGEST_INTEGER, accepted_by
from instruments.sensor_class_fields import LIST_STEMS
from project.quantities import KINDS, LONGEST_TEXT, Kind
from project.registry import FieldDef
from vessels.capacity.validation import MOST_ROWS as MOST_POINTS

Schema = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"
_NUMBER = "[+\\-−–]?\\s*[0-9.][0-9.eE+\\-/ \u00a0\u2009\u202f]*"
_FEET = "(?:ft|feet|foot|'|′)"
_INCHES = '(?:in|inch|inches|"|″)'
_REFERENCE = "\\s*\\(?\\s*(?:[gG][aA][uU][gG][eE]|[gG]|[aA][bB][sS][oO][lL][uU][tT][eE]|[aA][bB][sS]|[aA])\\s*\\)?"


def document_schema() -> Schema:
    """The schema of a document: one case, or an object with a list of them."""
    return {
        "$schema": DIALECT,
        "title": gettext("Level measurements to evaluate"),
        "description": gettext(
            "One case, or a list of cases. Quantities are texts with their units; pressures say gauge or absolute. "
            "What is left out, null or an empty text is missing, and the checks that need it say so."
        ),
        "if": {"type": "object", "required": ["cases"]},
        "then": {
            "type": "object",
            "properties": {
                "note": _field(NOTE),
                "cases": {"type": "array", "minItems": 1, "maxItems": MOST_CASES, "items": {"$ref": "#/$defs/a_case"}},
            },
            "additionalProperties": False,
        },
        "else": {"$ref": "#/$defs/a_case"},
        "$defs": {
            "a_case": _case(),
            **{part.entity: _part(part) for part in PARTS},
            "sensor_class": _sensor_class(),
            **{f"quantity_{key}": _quantity(kind) for key, kind in KINDS.items()},
        },
    }


def _case() -> Schema:
    properties: Schema = {"name": _field(NAME), "note": _field(NOTE)}
    for part in PARTS:
        one = {"$ref": f"#/$defs/{part.entity}"}
        if part.form == "one":
            properties[part.name] = one
        elif part.form == "list":
            properties[part.name] = {"type": ["array", "null"], "maxItems": MOST_ROWS, "items": one}
        else:
            properties[part.name] = {
                "type": ["object", "null"],
                "properties": dict.fromkeys(ROLE_NAMES, one),
                "additionalProperties": False,
            }
        if part.alone:
            properties[part.alone] = {"anyOf": [one, {"type": "null"}]}
    properties["sensor_class"] = {"$ref": "#/$defs/sensor_class"}
    return {
        "type": "object",
        "properties": properties,
        "required": [part.name for part in PARTS if part.name == "plant"],
        "additionalProperties": False,
        # A null counts as absent, hence the look at its type.
        "not": {"anyOf": [_both(part) for part in PARTS if part.alone]},
    }


def _both(part: Part) -> Schema:
    filled = {"not": {"type": "null"}}
    return {"required": [part.name, part.alone], "properties": {part.name: filled, part.alone: filled}}


def _part(part: Part) -> Schema:
    return {
        "type": "object" if part.name == "plant" or part.form == "list" else ["object", "null"],
        "title": gettext(part.label),
        "properties": {
            stem: _points() if definition.key == POINTS else _field(definition, needed=stem in part.needed)
            for stem, definition in fields_of(part.entity).items()
        },
        "required": list(part.needed),
        "additionalProperties": False,
    }


def _points() -> Schema:
    pair = [_field(definition, needed=True) for definition in PAIR]
    return {
        "type": "array",
        "description": gettext("Rows of level from the vessel's datum and volume; levels rise from row to row."),
        "minItems": 2,
        "maxItems": MOST_POINTS,
        "items": {"type": "array", "prefixItems": pair, "items": False, "minItems": len(pair)},
    }


def _sensor_class() -> Schema:
    values = {stem: _class_value(definition) for stem, definition in fields_of("sensor_class").items()}
    required = [stem for stem, definition in fields_of("sensor_class").items() if definition.required]
    inline = {
        "type": "object",
        "properties": {
            **{stem: _field(definition, needed=definition.required) for stem, definition in HEAD.items()},
            "values": {"type": "object", "properties": values, "required": required, "additionalProperties": False},
        },
        "required": [*(stem for stem, definition in HEAD.items() if definition.required), "values"],
        "additionalProperties": False,
    }
    return {
        "title": gettext("The sensor class"),
        "description": gettext("The key of a class of the library, or a class with its values."),
        "anyOf": [{"enum": [*library(), "", None]}, inline],
    }


def _class_value(definition: FieldDef) -> Schema:
    """A value alone, or with an origin of its own."""
    if definition.stem in LIST_STEMS:
        item: Schema = {"type": "string", "minLength": 1, "maxLength": definition.longest}
        if definition.choices:
            item = {"enum": [value for value, _label in definition.choices]}
        alone = {
            "type": "array" if definition.required else ["array", "null"], "maxItems": MOST_ITEMS, "items": item,
            "minItems": 1 if definition.required else 0, "title": gettext(definition.label),
        }  # fmt: skip
    else:
        alone = _field(definition, needed=definition.required)
    origin = {
        "type": "object",
        "properties": {"value": alone, "provenance": _field(HEAD["provenance"])},
        "additionalProperties": False,
    }
    return {"title": gettext(definition.label), "anyOf": [alone, origin]}


def _field(definition: FieldDef, *, needed: bool = False) -> Schema:
    """A field as a schema; null and the empty text are missing, so that a needed one takes neither."""
    schema: Schema = {"title": gettext(definition.label)}
    told = [gettext(definition.help)] if definition.help else []
    if definition.is_quantity:
        schema |= {"$ref": f"#/$defs/quantity_{definition.kind}"}
        told += _limits(definition)
        if needed:
            schema |= {"type": ["string", "number"], "minLength": 1}
    elif definition.choices:
        meaning = ", ".join(f"{value}: {gettext(label)}" for value, label in definition.choices)
        schema |= {"enum": [*(value for value, _ in definition.choices), *([] if needed else ["", None])]}
        told.append(meaning + ".")
    elif definition.kind == "integer":
        schema |= {"type": ["integer", "null"], "minimum": 0, "maximum": LARGEST_INTEGER}
    elif definition.kind == "flag":
        schema |= {"type": ["boolean", "null"]}
    else:
        schema |= {"type": "string" if needed else ["string", "null"], "maxLength": definition.longest}
        schema |= {"minLength": 1} if needed else {}
    if told:
        schema["description"] = " ".join(told)
    return schema


def _limits(definition: FieldDef) -> list[str]:
    """Limits of a quantity in words: those of a text with a unit cannot be said otherwise."""
    signs = {"positive": gettext("More than zero."), "not_negative": gettext("Zero or more.")}
    limits = [signs[definition.sign]] if definition.sign else []
    if definition.lowest:
        limits.append(gettext("At least %(limit)s.") % {"limit": definition.lowest})
    if definition.highest:
        limits.append(gettext("At most %(limit)s.") % {"limit": definition.highest})
    if definition.key == "plant.atmosphere":
        limits.append(gettext("Absolute."))
    return limits


def _quantity(kind: Kind) -> Schema:
    """The schema of a kind of quantity: a text with one of its units; a number alone where it has none."""
    sample = FieldDef(f"sample.{kind.key}", kind.label, "", kind.key)
    bare, accepted = takes_bare_numbers(sample), accepted_by(sample)
    units = gettext("none") if bare else ", ".join(kind.units)
    return {
        "description": gettext("Accepted is %(accepted)s; units: %(units)s.") % {"accepted": accepted, "units": units},
        "type": ["string", "number", "null"] if bare else ["string", "null"],
        "maxLength": 2 * LONGEST_TEXT,  # blanks around it do not count
        "pattern": f"^\\s*(?:{_pattern(kind)})?\\s*$",
    }


def _pattern(kind: Kind) -> str:
    """A regular expression for texts with the units of a kind, in what ECMA-262 and Python's have in common."""
    if not any(kind.units):
        return _NUMBER
    unit = "|".join(_spelled(name) for name in sorted({*kind.units, *kind.also}, key=len, reverse=True))
    reference = _REFERENCE if kind.has_reference else ""
    one = f"{_NUMBER}\\s*(?:{unit}){reference}"
    if kind.base != "length":
        return one
    return f"{one}|{_NUMBER}\\s*{_FEET}\\s*-?\\s*{_NUMBER}\\s*{_INCHES}"


def _spelled(unit: str) -> str:
    """A unit's spelling with capitals or small letters; blanks inside are left to the reader."""
    return "".join(_letter(one) for one in unit)


def _letter(one: str) -> str:
    forms = list(_forms(one))
    return f"[{''.join(forms)}]" if len(forms) > 1 else re.escape(forms[0]).replace("\\ ", " ")


def _forms(one: str) -> Iterable[str]:
    return dict.fromkeys(form for form in (one, one.lower(), one.upper()) if len(form) == 1)
