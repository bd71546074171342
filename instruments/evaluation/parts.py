"""What a document of cases is made of: its parts, each with the fields that the registry has for it.

Which parts there are stands here; which fields a part has is read off the registry, so that a new field is read,
described by the schema and checked without a change here.
"""

from dataclasses import dataclass
from typing import Literal

# The modules of fields register what is looked up here.
import instruments.sensor_class_fields  # noqa: F401
import vessels.field_defs  # noqa: F401
from instruments.checks.records import SHARED
from instruments.field_defs import ROLES
from project.quantities import KINDS
from project.registry import REGISTRY, FieldDef, gettext_noop

MOST_CASES = 5_000
MOST_ROWS = 100  # of internals, media, operating cases or setpoints in one case
LONGEST_NAME = 120
LONGEST_NOTE = 1_000
LONGEST_PROVENANCE = 300


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a case.

    name     its key in the document
    entity   whose fields it has, see `project.registry`
    form     "one": an object; "list": a list of objects; "roles": an object of objects by role
    label    what it is called in a message
    alone    key under which a single object may stand instead of the list or the roles, '' for none
    needed   stems that have to be filled in, because the case could not be told from others or read without them
    """

    name: str
    entity: str
    form: Literal["one", "list", "roles"]
    label: str
    alone: str = ""
    needed: tuple[str, ...] = ()


PARTS = (
    Part("plant", "plant", "one", gettext_noop("the plant"), needed=("atmosphere",)),
    Part("unit", "unit", "one", gettext_noop("the unit")),
    Part("tag", "tag", "one", gettext_noop("the tag")),
    Part("vessel", "vessel", "one", gettext_noop("the vessel")),
    Part("strapping", "strapping", "one", gettext_noop("the strapping table"), needed=("points",)),
    Part("internals", "internal", "list", gettext_noop("an internal"), needed=("kind",)),
    Part("nozzles", "nozzle", "roles", gettext_noop("a nozzle"), alone="nozzle"),
    Part("media", "medium", "list", gettext_noop("a medium"), alone="medium", needed=("name",)),
    Part("operating_cases", "case", "list", gettext_noop("an operating case"), needed=("kind",)),
    Part("measurement", "measurement", "one", gettext_noop("the measurement")),
    Part("setpoints", "setpoint", "list", gettext_noop("a setpoint"), needed=("name",)),
)
BY_NAME = {part.name: part for part in PARTS}
ROLE_NAMES = tuple(dict.fromkeys(role for roles in ROLES.values() for role, _label in roles))

# Of the links between rows only this one stays: a document holds one vessel, one tag and one sensor class a case.
MEDIUM_LINK = "case.medium"
POINTS = "strapping.points"
CAN_BE_LISTED = 12  # more accepted keys than these are not listed in a message

# What a Case says of a connection besides the fields of its nozzle. '' says "none", absence "not known".
SHARED_WITH = FieldDef(
    f"nozzle.{SHARED}", gettext_noop("Other measurements on this nozzle"), "connection", longest=400,
    help=gettext_noop("Their tags, separated by commas; empty for none. Left out where it is not known."),
)  # fmt: skip


def all_fields() -> dict[str, dict[str, FieldDef]]:
    """The fields that a document may fill in, by entity and stem."""
    found: dict[str, dict[str, FieldDef]] = {"sensor_class": {}, **{part.entity: {} for part in PARTS}}
    for definition in (*REGISTRY, SHARED_WITH):
        if definition.entity in found and (definition.kind != "link" or definition.key == MEDIUM_LINK):
            found[definition.entity][definition.stem] = definition
    return found


def fields_of(entity: str) -> dict[str, FieldDef]:
    """The fields of an entity that a document may fill in, by stem."""
    return all_fields()[entity]


def takes_bare_numbers(definition: FieldDef) -> bool:
    """True for a quantity without a unit, such as a relative permittivity."""
    return definition.is_quantity and "" in KINDS[definition.kind].units
