"""Objects and lists of a document, member by member, with a problem for everything that is not taken."""

from collections.abc import Collection, Mapping
from difflib import get_close_matches

from django.utils.translation import gettext

from instruments.checks.case import Value
from instruments.evaluation.parts import CAN_BE_LISTED, POINTS, Part
from instruments.evaluation.problems import Problems, member, said_elsewhere, shown
from instruments.evaluation.values import ACCEPTED, Refused, accepted_by, read_atmosphere, read_value
from project.quantities import PlantUnits, Quantity
from project.registry import FieldDef, gettext_noop

LONGEST_KEY = 60  # a longer one is compared with none
NEAREST = gettext_noop("nearest is %(keys)s; the schema lists all that is accepted")
ALL_KEYS = gettext_noop("accepted are %(keys)s")
SEE_SCHEMA = gettext_noop("the schema lists what is accepted")


class RowReader:
    """Reads objects of one case.

    problems     where everything that is wrong goes
    definitions  the fields by entity and stem, see `parts.all_fields`
    units        unit set and atmosphere of the case's plant, once they are read
    """

    def __init__(self, problems: Problems, definitions: Mapping[str, Mapping[str, FieldDef]]) -> None:
        self.problems = problems
        self.definitions = definitions
        self.units = PlantUnits()
        self._refused: dict[str, set[str]] = {}

    def members(self, raw: object, path: str, label: str, accepted: Collection[str]) -> dict[str, object]:
        """The members of an object that are known; none where it is no object. A null counts as absent."""
        if not isinstance(raw, dict):
            self.wrong_kind(raw, path, "object")
            return {}
        known: dict[str, object] = {}
        for key, value in raw.items():
            if key not in accepted:
                self._unknown(str(key), path, label, accepted)
            elif value is not None:
                known[key] = value
        return known

    def entries(self, raw: object, path: str, most: int) -> list[object]:
        """The entries of a list; none where it is no list or too long."""
        if raw is None:
            return []
        if not isinstance(raw, list):
            self.wrong_kind(raw, path, "list")
            return []
        if len(raw) > most:
            self.problems.at(path, "too_many", count=str(len(raw)), most=str(most))
            return []
        return raw

    def row(self, part: Part, raw: object, path: str) -> dict[str, Value]:
        """The values of one row of a part by stem; the strapping table's points are left to their own reader."""
        definitions = self.definitions[part.entity]
        values: dict[str, Value] = {}
        members = self.members(raw, path, part.label, definitions)
        for stem, given in members.items():
            definition = definitions[stem]
            if definition.key == POINTS:
                continue
            value = self.value(definition, given, member(path, stem))
            if value is not None:
                values[stem] = value
        for stem in part.needed:
            # What was refused is told once, as that.
            if stem not in self.refused_at(path) and not (stem in members if stem == "points" else values.get(stem)):
                self.lacks(path, part.label, definitions[stem])
        return values

    def value(self, definition: FieldDef, raw: object, path: str) -> Value | None:
        """The value of a field; None where it is empty or refused."""
        try:
            return self._value(definition, raw)
        except Refused as refused:
            self.refuse(path, refused)
            return None

    def _value(self, definition: FieldDef, raw: object) -> Value | Quantity | None:
        if definition.key == "plant.atmosphere":
            return read_atmosphere(definition, raw)
        return read_value(definition, raw, self.units)

    def refuse(self, path: str, refused: Refused) -> None:
        parent, _, key = path.rpartition(".")
        self._refused.setdefault(parent, set()).add(key.partition("[")[0])
        self.problems.add(said_elsewhere(path, refused.code, refused.template, refused.params))

    def refused_at(self, path: str) -> set[str]:
        """Keys of an object whose values were refused."""
        return self._refused.get(path, set())

    def lacks(self, path: str, label: str, definition: FieldDef) -> None:
        """A problem for a field that has to be filled in."""
        self.problems.at(
            member(path, definition.stem), "missing",
            key=definition.stem, part=gettext(label), accepted=accepted_by(definition),
        )  # fmt: skip

    def wrong_kind(self, raw: object, path: str, wanted: str) -> None:
        self.problems.at(path, "wrong_kind", given=shown(raw), accepted=gettext(ACCEPTED[wanted]))

    def _unknown(self, key: str, path: str, label: str, accepted: Collection[str]) -> None:
        near = get_close_matches(key, accepted, n=3) if len(key) <= LONGEST_KEY else []
        if near:
            told = gettext(NEAREST) % {"keys": ", ".join(near)}
        elif len(accepted) <= CAN_BE_LISTED:
            told = gettext(ALL_KEYS) % {"keys": ", ".join(accepted)}
        else:
            told = gettext(SEE_SCHEMA)
        self.problems.at(member(path, key), "unknown_key", key=shown(key), part=gettext(label), accepted=told)
