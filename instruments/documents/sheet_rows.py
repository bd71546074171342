"""From a Case to the rows of a printed sheet: labels and values as text, in the groups of the field registry.

Nothing here knows of HTML. Every text is translated and in the plant's units.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import takewhile
from typing import Any

from instruments.checks.case import EMPTY_ROW, Case, Row
from instruments.checks.sensor_class import SensorClass
from instruments.field_defs import ROLES
from project.documents.sheet_columns import ABREAST, Grid, Pair, Translate
from project.quantities import PlantUnits, Quantity
from project.registry import REGISTRY, FieldDef, gettext_noop
from vessels.shape_values import chosen_words

FOOTNOTE_SIGNS = ("†", "‡", "§", "††", "‡‡", "§§")
TAG = gettext_noop("Tag")
NOT_GIVEN = gettext_noop("Not given")
YES, NO = gettext_noop("Yes"), gettext_noop("No")
# Key figures of setpoints, and the heads of their columns.
SIGNALS = {"setpoint_percent": gettext_noop("Signal"), "setpoint_current": gettext_noop("Current")}
CONNECTION = gettext_noop("Connection")

# A field may have a companion that says more about its value; both print as one: "791 kg/m³ at 20 °C".
COMPANIONS = {
    "_revision": gettext_noop("{value} rev. {companion}"),
    "_temperature": gettext_noop("{value} at {companion}"),
}
NUMBER_AND_NAME = gettext_noop("{companion} {value}")
NUMBERED = {"unit.name": "unit.number", "plant.name": "plant.code", "vessel.name": "vessel.number"}
# The two ends of a range print as one: "−20 °C to 65 °C".
LOWEST, HIGHEST, RANGE = "_min", "_max", gettext_noop("{lowest} to {highest}")
# Said by the heading of the operating case's column.
IN_HEADING = frozenset({"case.kind", "case.name"})
# Entities with any number of rows print as tables; all others have one row.
TABLES = ("nozzle", "case", "setpoint", "internal")
# Printed apart, in a box.
HOLDS = "measurement.holds"
# So many values that were not given print as dashes in one group or table.
FEW = 1


@dataclass
class Footnotes:
    """Texts at the foot of the sheet and the signs that point at them, in the order of first use."""

    texts: list[str] = field(default_factory=list)

    def sign(self, text: str) -> str:
        """The sign of a text, '' for an empty one."""
        if not text:
            return ""
        if text not in self.texts:
            self.texts.append(text)
        return _sign(self.texts.index(text))

    def lines(self) -> list[tuple[str, str]]:
        """(sign, text) of every footnote."""
        return [(_sign(place), text) for place, text in enumerate(self.texts)]


def _sign(place: int) -> str:
    return FOOTNOTE_SIGNS[place] if place < len(FOOTNOTE_SIGNS) else f"{place + 1})"


@dataclass(frozen=True, slots=True)
class SheetRows:
    """What a Case puts into each group of the datasheet.

    A field with a value always prints. One without is named as not given where it concerns the technology,
    arrangement, body, end or kind of medium that the Case has.

    blanks  False leaves out all that is not given
    """

    case: Case
    translate: Translate
    footnotes: Footnotes
    blanks: bool = True

    @property
    def units(self) -> PlantUnits:
        return self.case.units

    def wanted(self, one: FieldDef, row: Row) -> bool:
        """True where a field of a row is to be printed, be it as not given."""
        kinds = [row] if one.entity == "medium" else self.case.media
        chosen = self._chosen() | {medium.text("kind") for medium in kinds}
        if self.text(one, row):
            return not one.says_nothing(row.text(one.stem), chosen)
        return self.blanks and not one.optional and one.is_about(chosen)

    def _chosen(self) -> set[str]:
        """What fields may be about, but for the kinds of the media."""
        case = self.case
        technology = case.sensor_class.text("technology") if case.sensor_class is not None else ""
        body, bottom, top = (case.vessel.text(stem) for stem in ("body", "bottom", "top"))
        return {technology, case.measurement.text("arrangement"), *chosen_words(body, bottom, top)}

    # --- label and value ------------------------------------------------------------------------------

    def holds(self) -> str:
        """What has to be settled before anybody orders by this sheet."""
        return self.text(REGISTRY[HOLDS], self.case.measurement)

    def pairs(self, group: str) -> list[Pair]:
        """The group's fields that have one value each; none where not one of them is given."""
        fields = [one for one in REGISTRY.in_group(group) if one.entity not in (*TABLES, "medium") and one.key != HOLDS]
        found = [pair for entity, row in self.single_rows() for pair in self._pairs_of(fields, entity, row)]
        if group == "identification" and (self.blanks or self.case.tag.text("text")):
            found.insert(0, Pair(self.translate(TAG), self.case.tag.text("text")))
        return self._gathered(found) if any(pair.value for pair in found) else []

    def media(self) -> list[list[Pair]]:
        """One list of pairs for each medium of the operating cases."""
        printing = REGISTRY.in_group("medium")
        found = [self._gathered(self._pairs_of(printing, "medium", row)) for row in self.case.media]
        return [pairs for pairs in found if pairs]

    def _gathered(self, pairs: list[Pair]) -> list[Pair]:
        """A few values that were not given stay, and print as dashes; many go into one line that names them."""
        absent = [pair.label for pair in pairs if not pair.value]
        if len(absent) <= FEW:
            return pairs
        given = [pair for pair in pairs if pair.value]
        return [*given, Pair(self.translate(NOT_GIVEN), "; ".join(absent), long=True, quiet=True)]

    def single_rows(self) -> list[tuple[str, Row]]:
        """The rows that there is one of: (entity, row)."""
        case = self.case
        rows = [
            ("tag", case.tag),
            ("unit", case.unit),
            ("plant", case.plant),
            ("measurement", case.measurement),
            ("vessel", case.vessel),
        ]
        if case.sensor_class is not None:
            rows.append(("sensor_class", _class_row(case.sensor_class)))
        return rows

    def _pairs_of(self, fields: Iterable[FieldDef], entity: str, row: Row) -> list[Pair]:
        """Pairs of one row. What prints with another field's value has no pair of its own."""
        own = [one for one in fields if one.entity == entity and self.wanted(one, row)]
        if entity == "sensor_class":
            # A class states what concerns its technology and nothing else: what it does not state is no gap.
            own = [one for one in own if one.stem in row.values]
        companions = {one.key: more for one in own if (more := companion_of(one)) and self.text(one, row)}
        said = {more.key for more in companions.values()}
        pairs: list[Pair] = []
        for one in own:
            if one.key in said:
                continue
            other_end = _other_end(one)
            if other_end in own:
                said.add(other_end.key)
                pairs.append(self._range(one, other_end, row))
            else:
                pairs.append(self._pair(one, row, companions.get(one.key)))
        return pairs

    def _pair(self, one: FieldDef, row: Row, companion: FieldDef | None = None) -> Pair:
        label = self.translate(one.label)
        if companion and one.key in NUMBERED and self.text(companion, row):
            label = _common_words(label, self.translate(companion.label)) or label
        return Pair(label, self._joined(one, row, companion), self._sign(one), long=one.kind == "long_text")

    def _joined(self, one: FieldDef, row: Row, companion: FieldDef | None) -> str:
        """A value and what prints with it: "791 kg/m³ at 20 °C"."""
        value = self.text(one, row)
        more = self.text(companion, row) if companion and value else ""
        if not companion or not more:
            return value
        return self.translate(_template(companion)).format(value=value, companion=more)

    def whole_text(self, one: FieldDef, row: Row) -> str:
        """A value as it prints where it stands alone: with a companion that has no place of its own."""
        companion = companion_of(one)
        return self._joined(one, row, companion if companion and not companion.prints else None)

    def _range(self, one: FieldDef, other: FieldDef, row: Row) -> Pair:
        """Both ends of a range; with one end only, that end under its own label."""
        lowest, highest = (one, other) if one.key.endswith(LOWEST) else (other, one)
        low, high = self.text(lowest, row), self.text(highest, row)
        if bool(low) != bool(high):
            return self._pair(lowest if low else highest, row)
        value = self.translate(RANGE).format(lowest=low, highest=high) if low else ""
        sign = "".join(dict.fromkeys((self._sign(lowest), self._sign(highest))))
        return Pair(_common_label(self.translate(lowest.label), self.translate(highest.label)), value, sign)

    def _sign(self, one: FieldDef) -> str:
        """The sign of the footnote that says where a class's value comes from."""
        if one.entity != "sensor_class" or self.case.sensor_class is None:
            return ""
        provenance = self.case.sensor_class.provenance(one.stem)
        return self.footnotes.sign(self.translate(provenance)) if provenance else ""

    def text(self, one: FieldDef, row: Row) -> str:
        if one.kind == "link":
            return self._linked(one, row)
        return self._value_text(one, row.values.get(one.stem, ""))

    def _linked(self, one: FieldDef, row: Row) -> str:
        """The name of what a field points at; only such links print as the Case holds the names of."""
        if one.key == "measurement.sensor_class" and self.case.sensor_class is not None:
            return self.translate(self.case.sensor_class.name)
        if one.key == "case.medium" and (medium := self.case.medium_of(row)):
            return medium.text("name")
        return ""

    def _value_text(self, one: FieldDef, value: Any) -> str:
        if isinstance(value, Quantity):
            return _shown(self.units, value, one.kind)
        if isinstance(value, tuple):
            return ", ".join(self._value_text(one, item) for item in value)
        if isinstance(value, bool):
            return self.translate(YES if value else NO)
        if one.choices and value:
            return self.translate(one.choice_label(str(value)))
        return str(value)

    # --- tables ---------------------------------------------------------------------------------------

    def connections(self) -> Grid | None:
        """A row for each connection; where the arrangement has several, each under its role."""
        rows, fields = list(self.case.connections), REGISTRY.in_group("connection")
        roles = ROLES.get(self.case.measurement.text("arrangement"), ())
        if len(rows) < 2 and len(roles) < 2:
            return self._grid(fields, rows)
        named = [(label, row) for role, label in roles for row in rows if row.text("role") == role]
        given = {row.text("role") for row in rows}
        # A role without a connection prints as a line of dashes: a place that has to be filled.
        named += [(label, EMPTY_ROW) for role, label in roles if role not in given and rows and self.blanks]
        named += [(row.text("role"), row) for row in rows if row.text("role") not in dict(roles)]
        labels = [self.translate(label) for label, _row in named]
        return self._grid(fields, [row for _label, row in named], (self.translate(CONNECTION), labels))

    def internals(self) -> Grid | None:
        """A row for each thing that stands in the vessel."""
        return self._grid([one for one in REGISTRY.of("internal") if one.prints], self.case.internals)

    def operating_cases(self) -> list[Grid]:
        """A column for each operating case; several tables where they are too many to stand abreast."""
        cases = self.case.operating_cases
        return [self._cases_abreast(cases[start : start + ABREAST]) for start in range(0, len(cases), ABREAST)]

    def _cases_abreast(self, cases: Sequence[Row]) -> Grid:
        fields = [one for one in REGISTRY.in_group("medium") if one.entity == "case" and one.key not in IN_HEADING]
        rows = [
            (self.translate(one.label), *(self.text(one, case) for case in cases))
            for one in fields
            if any(self.wanted(one, case) for case in cases)
            # One medium is said above, once; a property of the medium that no case overrides likewise.
            and (one.key != "case.medium" or len(self.case.media) > 1)
            and (f"medium.{one.stem}" not in REGISTRY or any(self.text(one, case) for case in cases))
        ]
        absent = [row[0] for row in rows if not any(row[1:])]
        if len(absent) > FEW:
            rows = [row for row in rows if any(row[1:])]
        heads = (self.translate(REGISTRY["case.kind"].label), *(self.case_name(case) for case in cases))
        not_given = tuple(absent) if len(absent) > FEW else ()
        return Grid(heads, tuple(rows), labelled=True, not_given=not_given)

    def case_name(self, case: Row) -> str:
        """The name of an operating case, with its kind where the name does not say it: "Hot (Maximum)"."""
        kind = REGISTRY["case.kind"].choice_label(case.text("kind"))
        name = case.text("name") or case.text("display")
        if name in ("", kind):
            return self.translate(kind)
        return name if case.text("kind") in ("", "named") else f"{name} ({self.translate(kind)})"

    def setpoints(self, signals: Mapping[str, Sequence[str]]) -> Grid | None:
        """A row for each setpoint, highest first, with its signal.

        signals  key of a figure ("setpoint_percent", "setpoint_current") -> its texts in the order of the Case; empty
                 leaves the signal out
        """
        fields = [one for one in REGISTRY.in_group("setpoints") if one.entity == "setpoint"]
        grid = self._grid(fields, self.case.setpoints)
        if grid is None:
            return None
        columns = [list(column) for column in zip(grid.heads, *grid.rows, strict=True)]
        level = self.translate(REGISTRY["setpoint.level"].label)
        place = grid.heads.index(level) + 1 if level in grid.heads else 1
        numbers = range(len(grid.rows))
        columns[place:place] = [
            [self.translate(head), *(_at(signals[key], number) for number in numbers)]
            for key, head in SIGNALS.items()
            if key in signals
        ]
        heads, *rows = zip(*columns, strict=True)
        order = sorted(numbers, key=lambda number: -_level_m(self.case.setpoints[number]))
        return Grid(heads, tuple(rows[number] for number in order), not_given=grid.not_given)

    def _grid(
        self, fields: Sequence[FieldDef], rows: Sequence[Row], named: tuple[str, Sequence[str]] | None = None
    ) -> Grid | None:
        """A column for each field that is wanted, before them the names of the rows: (head, names)."""
        fields = [one for one in fields if any(self.wanted(one, row) for row in rows)]
        if not fields:
            return None
        columns = [(self.translate(one.label), *(self.text(one, row) for row in rows)) for one in fields]
        absent = [column[0] for column in columns if not any(column[1:])]
        if len(absent) > FEW:
            columns = [column for column in columns if any(column[1:])]
        if named is not None:
            columns.insert(0, (named[0], *named[1]))
        heads, *lines = zip(*columns, strict=True)
        return Grid(heads, tuple(lines), not_given=tuple(absent) if len(absent) > FEW else ())


@lru_cache(maxsize=4096)
def _shown(units: PlantUnits, quantity: Quantity, kind: str) -> str:
    """A quantity in the plant's units; asked for several times on the way to the sheet."""
    return str(units.shown(quantity, kind))


def _template(companion: FieldDef) -> str:
    """How a companion prints with the value that it belongs to."""
    return next((text for ending, text in COMPANIONS.items() if companion.key.endswith(ending)), NUMBER_AND_NAME)


def companion_of(one: FieldDef) -> FieldDef | None:
    """The field that says more about a field's value and prints with it."""
    if one.key in NUMBERED:
        return REGISTRY[NUMBERED[one.key]]
    for ending in COMPANIONS:
        if one.key + ending in REGISTRY:
            return REGISTRY[one.key + ending]
    return None


def _other_end(one: FieldDef) -> FieldDef | None:
    """The other end of the range of which a field is one end."""
    for ending, other in ((LOWEST, HIGHEST), (HIGHEST, LOWEST)):
        key = one.key.removesuffix(ending) + other
        if one.key.endswith(ending) and key in REGISTRY:
            return REGISTRY[key]
    return None


def _common_label(lowest: str, highest: str) -> str:
    """What two labels begin with: "Design pressure" of "Design pressure, lowest" and "Design pressure, highest"."""
    return _common_words(lowest, highest).rstrip(" ,") or f"{lowest} / {highest}"


def _common_words(one: str, other: str) -> str:
    """The words that two texts begin with: "Vessel" of "Vessel number" and "Vessel name"."""
    words = zip(one.split(), other.split(), strict=False)
    return " ".join(first for first, _second in takewhile(lambda pair: pair[0] == pair[1], words))


def _class_row(sensor_class: SensorClass) -> Row:
    # The values of a class may be lists of texts too, which the rows of a Case never are.
    return Row(sensor_class.key, {stem: held.value for stem, held in sensor_class.values.items()})  # type: ignore[misc]


def _at(texts: Sequence[str], number: int) -> str:
    return texts[number] if number < len(texts) else ""


def _level_m(setpoint: Row) -> float:
    """Level of a setpoint, the lowest where it is not known."""
    level = setpoint.values.get("level")
    return level.si if isinstance(level, Quantity) and level.si is not None else -math.inf
