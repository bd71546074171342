"""One value of a document as the value of a field: texts with units to quantities, choices, texts."""

from collections.abc import Mapping

from django.utils.translation import gettext

from instruments.checks.case import Value
from instruments.evaluation.parts import POINTS, takes_bare_numbers
from instruments.evaluation.problems import TEMPLATES, is_printable, shown
from project.fields import refuse_beyond, refuse_sign
from project.quantities import KINDS, STANDARD_ATMOSPHERE_PA_ABS, PlantUnits, Quantity, UnreadableQuantity
from project.registry import FieldDef, gettext_noop

LARGEST_INTEGER = 1_000_000  # as forms have it

ACCEPTED = {
    "object": gettext_noop("an object"),
    "list": gettext_noop("a list"),
    "text": gettext_noop("a text"),
    "flag": gettext_noop("true or false"),
    "integer": gettext_noop("a whole number"),
    "points": gettext_noop('a list of pairs of texts with units, for example [["0 m", "0 m³"], ["1 m", "4.2 m³"]]'),
    "quantity": gettext_noop("a text with its unit: %(kind)s, for example %(example)s"),
    "number": gettext_noop("a number, or a text with one: %(kind)s, for example %(example)s"),
    "choices": gettext_noop("one of %(choices)s"),
}


class Refused(ValueError):
    """A value that a field does not take: the code of the problem, its sentence and what goes into it."""

    def __init__(self, code: str, template: str, params: Mapping[str, str]) -> None:
        self.code, self.template, self.params = code, template, params
        super().__init__(template % params)


def refusal(code: str, **params: str) -> Refused:
    """The refusal with the sentence of a code of `problems.TEMPLATES`."""
    return Refused(code, TEMPLATES[code], params)


def accepted_by(definition: FieldDef) -> str:
    """What a field takes, for a message."""
    if definition.key == POINTS:
        return gettext(ACCEPTED["points"])
    if definition.is_quantity:
        kind = KINDS[definition.kind]
        sentence = ACCEPTED["number" if takes_bare_numbers(definition) else "quantity"]
        return gettext(sentence) % {"kind": gettext(kind.label), "example": kind.example}
    if definition.choices:
        return gettext(ACCEPTED["choices"]) % {"choices": choices_of(definition)}
    return gettext(ACCEPTED.get(definition.kind, ACCEPTED["text"]))


def choices_of(definition: FieldDef) -> str:
    return ", ".join(value for value, _label in definition.choices)


def read_value(definition: FieldDef, raw: object, units: PlantUnits) -> Value | None:
    """The value of a field from its JSON value; None where nothing is filled in (null, or an empty text).

    units  unit set and atmosphere of the plant; bare numbers are refused all the same

    Raises Refused for anything that the field does not take.
    """
    if raw is None:
        return None
    if definition.is_quantity:
        return _read_quantity(definition, raw, units)
    if definition.kind == "flag":
        if not isinstance(raw, bool):
            raise _wrong_kind(definition, raw)
        return raw
    if definition.kind == "integer":
        return _read_integer(definition, raw)
    if not isinstance(raw, str):
        raise _wrong_kind(definition, raw)
    return read_choice(definition, raw) if definition.choices else read_text(definition, raw)


def read_choice(definition: FieldDef, raw: str) -> str | None:
    """A choice by its key; None for an empty text."""
    text = raw.strip()
    if text and text not in {value for value, _label in definition.choices}:
        raise refusal("choice", given=shown(raw), accepted=choices_of(definition))
    return text or None


def read_text(definition: FieldDef, raw: str) -> str:
    """A text of the field's length at most."""
    text = raw.strip()
    if len(text) > definition.longest:
        raise refusal("too_long", count=str(len(text)), most=str(definition.longest))
    if not is_printable(text, lines=definition.kind == "long_text"):
        raise refusal("characters")
    return text


def read_atmosphere(definition: FieldDef, raw: object) -> Quantity | None:
    """The plant's atmospheric pressure, which cannot count from itself. Raises Refused."""
    read = read_value(definition, raw, PlantUnits())
    if not isinstance(read, Quantity):
        return None
    if PlantUnits(atmosphere_pa_abs=2 * STANDARD_ATMOSPHERE_PA_ABS).parse(read.typed, definition.kind).si != read.si:
        raise refusal("gauge", given=shown(raw))
    return read


def _wrong_kind(definition: FieldDef, raw: object) -> Refused:
    return refusal("wrong_kind", given=shown(raw), accepted=accepted_by(definition))


def _read_integer(definition: FieldDef, raw: object) -> int:
    if isinstance(raw, bool) or not isinstance(raw, int):
        raise _wrong_kind(definition, raw)
    if not 0 <= raw <= LARGEST_INTEGER:
        raise refusal("number_range", given=shown(raw))
    return raw


def _read_quantity(definition: FieldDef, raw: object, units: PlantUnits) -> Quantity | None:
    kind = KINDS[definition.kind]
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        raise _wrong_kind(definition, raw)
    bare = not isinstance(raw, str)
    if bare and not takes_bare_numbers(definition):
        raise refusal("bare_number", given=shown(raw), accepted=gettext(kind.label), example=kind.example)
    text = shown(raw) if bare else str(raw).strip()
    if not text:
        return None
    if not is_printable(text):
        raise refusal("characters")
    try:
        quantity = units.parse(text, definition.kind)
        if quantity.typed != text:  # the plant's unit was added
            raise refusal("bare_number", given=shown(raw), accepted=gettext(kind.label), example=kind.example)
        refuse_sign(definition, quantity)
        refuse_beyond(definition, units, quantity)
    except UnreadableQuantity as unreadable:
        raise Refused("quantity", unreadable.template, unreadable.params) from unreadable
    return quantity
