"""The registry of fields: everything that a person fills in has one entry here, with a stable key.

Forms, pages, history, datasheets and the index are generated from these entries, so that adding a field is one entry
(and a migration, where the field is sorted or searched and therefore has columns of its own).

Pure: labels are plain English marked for translation, and translated where they are shown.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal

from project.quantities import KINDS

PLAIN_KINDS = frozenset({"text", "long_text", "choice", "integer", "flag", "link"})


def gettext_noop(text: str) -> str:
    """Mark a text for the translation files; the edge translates it when it is shown."""
    return text


@dataclass(frozen=True)
class FieldDef:
    """One field.

    key       stable, "entity.stem"; status, source, hold and comment attach to it, so it is never renamed
    kind      "text", "long_text", "choice", "integer", "flag", "link", or a kind of quantity (`project.quantities`)
    group     the group of the datasheet that it prints in
    stored    "column": own column(s) named after the stem; "details": in the row's JSON of typed texts
    sign      for quantities: "positive", "not_negative" or "" for any
    lowest, highest   for quantities: the limits of what is accepted, themselves included, typed with their unit ("90°")
    concerns  what it is about, where it is not about everything: technologies, kinds of medium, arrangements or
              bodies. A page folds it away where none of them is chosen; it is never refused.
    optional  nothing is missing where it is empty: a sheet leaves it out then
    """

    key: str
    label: str
    group: str
    kind: str = "text"
    help: str = ""
    choices: tuple[tuple[str, str], ...] = ()
    required: bool = False
    longest: int = 120
    stored: Literal["column", "details"] = "column"
    sign: Literal["", "positive", "not_negative"] = ""
    lowest: str = ""
    highest: str = ""
    prints: bool = True
    default: str = ""
    concerns: tuple[str, ...] = ()
    optional: bool = False

    def __post_init__(self) -> None:
        if self.kind not in PLAIN_KINDS and self.kind not in KINDS:
            raise ValueError(f"field {self.key}: kind {self.kind!r} is neither plain nor a kind of quantity")
        if self.kind == "choice" and not self.choices:
            raise ValueError(f"field {self.key}: a choice needs choices")

    @cached_property
    def entity(self) -> str:
        return self.key.partition(".")[0]

    @cached_property
    def stem(self) -> str:
        return self.key.partition(".")[2]

    def is_about(self, chosen: Collection[str]) -> bool:
        """True where the field concerns something that is chosen, or everything."""
        return not self.concerns or any(one in chosen for one in self.concerns)

    def says_nothing(self, text: str, chosen: Collection[str]) -> bool:
        """True for a value not worth showing: empty or left as it was set, of a field about nothing that is chosen.

        Without it a sphere would print that its bottom end is flat.
        """
        return not self.is_about(chosen) and text in ("", self.default)

    @property
    def is_quantity(self) -> bool:
        return self.kind in KINDS

    def choice_label(self, value: str) -> str:
        """The label of a stored choice; the value itself where it is not (or no longer) among the choices."""
        return dict(self.choices).get(value, value)


def detail(key: str, label: str, group: str, kind: str = "text", **more: Any) -> FieldDef:
    """A field without columns of its own, kept in the row's details: nothing sorts or searches by it."""
    return FieldDef(key, label, group, kind, stored="details", **more)


class FieldRegistry:
    """All fields by key, in the order of registration. Apps register theirs when they are imported."""

    def __init__(self) -> None:
        self._fields: dict[str, FieldDef] = {}

    def register(self, *fields: FieldDef) -> None:
        for field in fields:
            if field.key in self._fields:
                raise ValueError(f"field {field.key} is registered twice")
            self._fields[field.key] = field

    def __getitem__(self, key: str) -> FieldDef:
        return self._fields[key]

    def __contains__(self, key: object) -> bool:
        return key in self._fields

    def __iter__(self) -> Iterator[FieldDef]:
        return iter(self._fields.values())

    def of(self, entity: str) -> tuple[FieldDef, ...]:
        """The fields of one entity ("vessel"), in order."""
        return tuple(field for field in self._fields.values() if field.entity == entity)

    def in_group(self, group: str) -> tuple[FieldDef, ...]:
        """The fields that print in one group of the datasheet, in order."""
        return tuple(field for field in self._fields.values() if field.group == group and field.prints)


REGISTRY = FieldRegistry()

# Groups of the datasheet in printing order (terms of ISA-TR20 and IEC 61987-15).
GROUPS: tuple[tuple[str, str], ...] = (
    ("identification", gettext_noop("Identification")),
    ("duty", gettext_noop("Duty")),
    ("vessel", gettext_noop("Vessel")),
    ("connection", gettext_noop("Connection")),
    ("medium", gettext_noop("Medium and operating cases")),
    ("sensor", gettext_noop("Sensor required")),
    ("process_connection", gettext_noop("Process connection of the sensor")),
    ("housing", gettext_noop("Housing")),
    ("electrical", gettext_noop("Electrical and hazardous area")),
    ("signal", gettext_noop("Signal")),
    ("setpoints", gettext_noop("Setpoints")),
    ("accessories", gettext_noop("Accessories")),
    ("certificates", gettext_noop("Certificates and inspection")),
    ("commercial", gettext_noop("Commercial")),
    ("record", gettext_noop("Record")),
)
