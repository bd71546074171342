"""The sensor class of a document: by its key in the library of files, or with its values inline."""

from functools import cache
from pathlib import Path
from typing import Any

from instruments.checks.sensor_class import ClassValue, SensorClass, load_class_file
from instruments.evaluation.parts import LONGEST_NAME, LONGEST_PROVENANCE
from instruments.evaluation.problems import element, member, shown
from instruments.evaluation.rows import RowReader
from instruments.evaluation.values import Refused, accepted_by, read_choice, read_text
from instruments.sensor_class_fields import LIST_STEMS
from project.quantities import Quantity
from project.registry import FieldDef, gettext_noop

CLASS_FILES = Path(__file__).resolve().parent.parent / "data" / "sensor_classes"
CLASS_LABEL = gettext_noop("the sensor class")
VALUES_LABEL = gettext_noop("the values of the sensor class")
MOST_ITEMS = 50

KEY = FieldDef("inline_class.key", gettext_noop("Key"), "sensor", longest=60)
NAME = FieldDef("inline_class.name", gettext_noop("Name"), "sensor", longest=LONGEST_NAME, required=True)
EDITION = FieldDef("inline_class.edition", gettext_noop("Edition"), "sensor", "integer")
CONFIRMED = FieldDef("inline_class.confirmed", gettext_noop("Confirmed from a certificate"), "sensor", "flag",
                     help=gettext_noop("Findings that rest on other values are provisional."))  # fmt: skip
PROVENANCE = FieldDef("inline_class.provenance", gettext_noop("Where the values come from"), "sensor",
                      longest=LONGEST_PROVENANCE, required=True,
                      help=gettext_noop("Of every value that names no origin of its own."))  # fmt: skip
HEAD = {one.stem: one for one in (KEY, NAME, EDITION, CONFIRMED, PROVENANCE)}


@cache
def library() -> dict[str, SensorClass]:
    """The sensor classes of the library by key, read from their files once. Raises ClassFileError for a bad file."""
    return {path.stem: load_class_file(path) for path in sorted(CLASS_FILES.glob("*.toml"))}


def read_class(rows: RowReader, raw: object, path: str) -> SensorClass | None:
    """The sensor class from its JSON value: a key, an object, or nothing; problems go to `rows`."""
    if raw is None or raw == "":
        return None
    if isinstance(raw, str):
        if raw.strip() not in library():
            rows.problems.at(path, "unknown_class", given=shown(raw), accepted=", ".join(library()))
        return library().get(raw.strip())
    return _inline(rows, raw, path)


def _inline(rows: RowReader, raw: object, path: str) -> SensorClass | None:
    members = rows.members(raw, path, CLASS_LABEL, (*HEAD, "values"))
    head = {stem: rows.value(definition, members[stem], member(path, stem))
            for stem, definition in HEAD.items() if stem in members}  # fmt: skip
    for stem, definition in HEAD.items():
        if definition.required and not head.get(stem) and stem not in rows.refused_at(path):
            rows.lacks(path, CLASS_LABEL, definition)
    provenance = str(head.get("provenance") or "")
    values = _values(rows, members.get("values"), member(path, "values"), provenance)
    return SensorClass(
        str(head.get("key") or "inline"),
        int(str(head.get("edition") or 1)),
        str(head.get("name") or ""),
        head.get("confirmed") is True,
        values,
    )


def _values(rows: RowReader, raw: object, path: str, provenance: str) -> dict[str, ClassValue]:
    definitions = rows.definitions["sensor_class"]
    values: dict[str, ClassValue] = {}
    members = rows.members({} if raw is None else raw, path, VALUES_LABEL, tuple(definitions))
    for stem, given in members.items():
        held = _held(rows, definitions[stem], given, member(path, stem), provenance)
        if held is not None:
            values[stem] = held
    for stem, definition in definitions.items():
        if definition.required and stem not in values and stem not in rows.refused_at(path):
            rows.lacks(path, VALUES_LABEL, definition)
    return values


def _held(rows: RowReader, definition: FieldDef, raw: object, path: str, provenance: str) -> ClassValue | None:
    """One value, with an origin of its own where it stands as an object."""
    if isinstance(raw, dict):
        members = rows.members(raw, path, VALUES_LABEL, ("value", "provenance"))
        own = rows.value(PROVENANCE, members.get("provenance"), member(path, "provenance"))
        raw, path, provenance = members.get("value"), member(path, "value"), str(own or provenance)
    if definition.stem in LIST_STEMS:
        items = _items(rows, definition, raw, path)
        return ClassValue(items, provenance) if items else None
    value = rows.value(definition, raw, path)
    if value is None or value == "":
        return None
    return ClassValue(value if isinstance(value, Quantity) else str(value), provenance)


def _items(rows: RowReader, definition: FieldDef, raw: Any, path: str) -> tuple[str, ...]:
    """A list of texts, each one of the field's choices where it has any."""
    given = rows.entries(raw, path, MOST_ITEMS)
    items: list[str] = []
    for position, one in enumerate(given):
        place = element(path, position)
        if not isinstance(one, str) or not one.strip():
            rows.problems.at(place, "wrong_kind", given=shown(one), accepted=accepted_by(definition))
            continue
        try:
            item = read_choice(definition, one) if definition.choices else read_text(definition, one)
        except Refused as refused:
            rows.refuse(place, refused)
            continue
        items.append(str(item))
    return tuple(items)
