"""A document of cases read into Cases, or into everything that is wrong with it.

A document is JSON data: one case, or {"cases": [case, …]}. Nothing is filled in for the reader: what a document leaves
out is missing, and the checks say so. No query is made.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext

from instruments.checks.case import EMPTY_ROW, Case, Row, Strapping, Value
from instruments.checks.records import SHARED
from instruments.evaluation.class_reading import read_class
from instruments.evaluation.parts import (
    BY_NAME,
    LONGEST_NAME,
    LONGEST_NOTE,
    MOST_CASES,
    MOST_ROWS,
    PARTS,
    ROLE_NAMES,
    Part,
    all_fields,
)
from instruments.evaluation.problems import Problem, Problems, TooManyProblems, element, member, shown
from instruments.evaluation.rows import RowReader
from instruments.evaluation.strapping_reading import read_strapping
from instruments.field_defs import ROLES
from project.quantities import PlantUnits, Quantity
from project.registry import REGISTRY, FieldDef, gettext_noop
from vessels.field_defs import CASE_KINDS

DOCUMENT = gettext_noop("the document")
CASE = gettext_noop("a case")
NAME = FieldDef("evaluated_case.name", gettext_noop("Name of the case"), "record", longest=LONGEST_NAME,
                help=gettext_noop("Comes back in the answer; the tag's where it is left out."))  # fmt: skip
NOTE = FieldDef("evaluated_case.note", gettext_noop("Note"), "record", "long_text", longest=LONGEST_NOTE,
                help=gettext_noop("For the reader of the file; changes nothing."))  # fmt: skip
SENSOR_CLASS = "sensor_class"
DOCUMENT_KEYS = ("note", "cases")
CASE_KEYS = (
    "name", "note", *(part.name for part in PARTS), *(part.alone for part in PARTS if part.alone), SENSOR_CLASS,
)  # fmt: skip
SENSOR_ROLE = "sensor"
NO_CASE = Case(EMPTY_ROW, EMPTY_ROW, EMPTY_ROW, EMPTY_ROW, EMPTY_ROW)


@dataclass(frozen=True, slots=True)
class NamedCase:
    """A case with its name in the document and the JSON path at which it stands."""

    name: str
    path: str
    case: Case


@dataclass(frozen=True, slots=True)
class Reading:
    """What was read: the cases in the order of the document. With problems the cases are not to be used."""

    cases: tuple[NamedCase, ...]
    problems: tuple[Problem, ...]


def read_document(document: object) -> Reading:
    """The cases of a document, and every problem with its path. Raises nothing, whatever the document is.

    document  JSON data as `json.loads` gives it
    """
    problems = Problems()
    cases: list[NamedCase] = []
    try:
        if isinstance(document, dict) and "cases" in document:
            cases = _read_cases(document, problems)
        else:
            cases = [_CaseReader(RowReader(problems, all_fields()), "$").read(document, 1)]
        _refuse_same_names(cases, problems)
    except TooManyProblems:
        cases = []
    return Reading(tuple(cases), tuple(problems.found))


def _read_cases(document: object, problems: Problems) -> list[NamedCase]:
    definitions = all_fields()
    rows = RowReader(problems, definitions)
    members = rows.members(document, "$", DOCUMENT, DOCUMENT_KEYS)
    rows.value(NOTE, members.get("note"), "$.note")
    entries = rows.entries(members.get("cases", []), "$.cases", MOST_CASES)
    if members.get("cases", []) == []:
        problems.at("$.cases", "empty", accepted=gettext("a list with at least one case"))
    return [
        _CaseReader(RowReader(problems, definitions), element("$.cases", position)).read(one, position + 1)
        for position, one in enumerate(entries)
    ]


def _refuse_same_names(cases: list[NamedCase], problems: Problems) -> None:
    seen: set[str] = set()
    for one in cases:
        if one.name in seen:
            problems.at(member(one.path, "name"), "duplicate", given=shown(one.name), part=gettext(DOCUMENT))
        seen.add(one.name)


class _CaseReader:
    """Reads one case at a path."""

    def __init__(self, rows: RowReader, path: str) -> None:
        self.rows = rows
        self.problems = rows.problems
        self.path = path
        self.members: Mapping[str, object] = {}

    def read(self, raw: object, number: int) -> NamedCase:
        self.members = self.rows.members(raw, self.path, CASE, CASE_KEYS)
        name = self.rows.value(NAME, self.members.get("name"), member(self.path, "name"))
        self.rows.value(NOTE, self.members.get("note"), member(self.path, "note"))
        case = self._case() if isinstance(raw, dict) else NO_CASE
        tag = "-".join(part for part in (case.tag.text("letters"), case.tag.text("number")) if part)
        return NamedCase(str(name or f"{tag}{case.tag.text('suffix')}" or f"case {number}"), self.path, case)

    def _case(self) -> Case:
        plant = self._plant()  # before all others: their gauge pressures need its atmosphere
        media = self._list("media")
        vessel = self._one("vessel")
        measurement = self._one("measurement")
        return Case(
            plant=plant,
            unit=self._one("unit"),
            tag=self._one("tag"),
            vessel=vessel,
            measurement=measurement,
            connections=self._connections(measurement),
            media=media,
            operating_cases=self._operating_cases(media),
            setpoints=self._list("setpoints"),
            internals=self._list("internals"),
            strapping=self._strapping(vessel),
            sensor_class=read_class(self.rows, self.members.get(SENSOR_CLASS), member(self.path, SENSOR_CLASS)),
        )

    def _strapping(self, vessel: Row) -> Strapping | None:
        raw, path = self.members.get("strapping"), member(self.path, "strapping")
        if raw is None:
            return None
        values = self.rows.row(BY_NAME["strapping"], raw, path)
        points = raw.get("points") if isinstance(raw, dict) else None
        return read_strapping(self.rows, values, points, vessel, path)

    def _plant(self) -> Row:
        part, path = BY_NAME["plant"], member(self.path, "plant")
        values = self.rows.row(part, self.members.get("plant", {}), path)
        # It says in which units values are shown, and changes no value.
        unit_set = str(values.get("unit_set") or REGISTRY["plant.unit_set"].default)
        atmosphere = values.get("atmosphere")
        if isinstance(atmosphere, Quantity) and atmosphere.si is not None:
            self.rows.units = PlantUnits(unit_set, atmosphere.si)
        return Row(part.name, {**values, "unit_set": unit_set})

    def _one(self, name: str) -> Row:
        raw = self.members.get(name)
        if raw is None:
            return EMPTY_ROW
        return Row(name, self.rows.row(BY_NAME[name], raw, member(self.path, name)))

    def _given(self, part: Part) -> tuple[object, str, bool]:
        """JSON value, path and whether it is the single object that may stand instead of the list or the roles."""
        if part.alone and part.alone in self.members:
            if part.name in self.members:
                self.problems.at(member(self.path, part.alone), "both", one=part.alone, other=part.name)
            return self.members[part.alone], member(self.path, part.alone), True
        return self.members.get(part.name), member(self.path, part.name), False

    def _list(self, name: str) -> tuple[Row, ...]:
        part = BY_NAME[name]
        raw, path, alone = self._given(part)
        if alone:
            return (Row(f"{part.entity}-1", self.rows.row(part, raw, path)),)
        rows = tuple(
            Row(f"{part.entity}-{position + 1}", self.rows.row(part, one, element(path, position)))
            for position, one in enumerate(self.rows.entries(raw, path, MOST_ROWS))
        )
        if "name" in part.needed:
            self._refuse_same(part, [row.text("name") for row in rows], "name")
        return rows

    def _refuse_same(self, part: Part, names: list[str], stem: str) -> None:
        """A problem for each row of a list that has the name of an earlier one."""
        path = member(self.path, part.name)
        for position, name in enumerate(names):
            if name and name in names[:position]:
                place = member(element(path, position), stem)
                self.problems.at(place, "duplicate", given=shown(name), part=f"“{part.name}”")

    def _connections(self, measurement: Row) -> tuple[Row, ...]:
        part = BY_NAME["nozzles"]
        raw, path, alone = self._given(part)
        if raw is None:
            return ()
        by_role = {SENSOR_ROLE: raw} if alone else self.rows.members(raw, path, "“nozzles”", ROLE_NAMES)
        # Without a choice a measurement counts as fitted through one nozzle, see `Frame.arrangement`.
        arrangement = measurement.text("arrangement") or next(iter(ROLES))
        fitting = [role for role, _label in ROLES.get(arrangement, ())]
        rows = []
        for role, one in by_role.items():
            place = path if alone else member(path, role)
            values: dict[str, Value] = self.rows.row(part, one, place)
            if role not in fitting:
                accepted = ", ".join(fitting) or gettext("none")
                self.problems.at(place, "role", given=role, arrangement=arrangement, accepted=accepted)
            if SHARED in values:
                tags = (tag.strip() for tag in str(values[SHARED]).split(","))
                values[SHARED] = ", ".join(tag for tag in tags if tag)
            rows.append(Row(f"nozzle-{role}", {**values, "role": role}))
        return tuple(rows)

    def _operating_cases(self, media: tuple[Row, ...]) -> tuple[Row, ...]:
        """Operating cases with the uid of their medium; one that stands alone holds in every case that names none."""
        uid_of = {row.text("name"): row.uid for row in media}
        alone = media[0].uid if media and BY_NAME["media"].alone in self.members else ""
        rows = []
        for position, row in enumerate(self._list("operating_cases")):
            named = row.text("medium")
            if named and named not in uid_of:
                place = member(element(member(self.path, "operating_cases"), position), "medium")
                accepted = ", ".join(name for name in uid_of if name) or gettext("none, because there are no media")
                self.problems.at(place, "unknown_medium", given=shown(named), accepted=accepted)
            kind = row.text("kind")
            display = row.text("name") or dict(CASE_KINDS).get(kind, kind)
            medium = uid_of.get(named, "") if named else alone
            rows.append(Row(row.uid, {**row.values, "medium": medium, "display": display}))
        shown_names = [row.text("display") for row in rows]
        self._refuse_same(BY_NAME["operating_cases"], shown_names, "name")
        return tuple(rows)
