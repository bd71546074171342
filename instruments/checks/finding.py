"""What a check says: a grade with the numbers behind it. Plain data, no wording: texts are made at the edge."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum


class Grade(StrEnum):
    """Grades in rank order, worst first (see DEVELOPERS.md, "Grades")."""

    STOP = "stop"
    MISSING = "missing"
    CAUTION = "caution"
    PASS = "pass"
    NOT_APPLICABLE = "not_applicable"

    @property
    def rank(self) -> int:
        """0 is worst."""
        return _RANK[self]


_RANK = {grade: position for position, grade in enumerate(Grade)}

# What lies between two pressures: a difference, to be shown in the unit of the pressures that it separates. A
# "pressure_difference" is one that is measured itself, as by a level transmitter between two taps.
PRESSURE_MARGIN = "pressure_margin"

# A margin of two temperatures or pressures is a difference, which converts without offset or atmosphere.
_MARGIN_KINDS = {
    "temperature": "temperature_difference",
    "pressure": PRESSURE_MARGIN,
    "pressure_absolute": PRESSURE_MARGIN,
}


def margin_kind(kind: str) -> str:
    """The kind of what lies between two values of a kind."""
    return _MARGIN_KINDS.get(kind, kind)


@dataclass(frozen=True, slots=True)
class Input:
    """One input of a working: symbol as in the formula, SI value and its kind of quantity."""

    symbol: str
    value_si: float
    kind: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Working:
    """How a figure came about. `formula` is text such as "d = z_ref − z"; `source` names who says so.

    before  the workings of its inputs, in the order of computing
    """

    formula: str
    inputs: tuple[Input, ...]
    result_symbol: str
    result_si: float
    result_kind: str
    source: str
    before: tuple["Working", ...] = ()


@dataclass(frozen=True, slots=True)
class Where:
    """Operating case by its display name ('' for none) and elevation above datum."""

    case: str = ""
    elevation_m: float | None = None


@dataclass(frozen=True, slots=True)
class Cure:
    """What would cure a finding: a wording code ("raise_nozzle", "lower_urv" …), the nearest sufficient value, the
    field concerned."""

    code: str
    field: str = ""
    value_si: float | None = None
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Finding:
    """The result of one check.

    code       the check, "family.name", e.g. "reach.range"
    variant    which of the check's sentences applies, e.g. "short"; with the code it selects the wording
    params     values for the sentence: texts, or (SI value, kind) pairs that are shown in the plant's units
    kind       kind of quantity of `required_si` and `available_si`; the margin is available − required or as the check
               says, signed, negative when failed
    missing    keys of fields without which it cannot be decided
    fields     keys of the fields it rests on (also marks the places on form and sketch)
    place      name of a mark in the elevation sketch ("urv", "dead-zone", "nozzle", "setpoint-HH" …) or ''
    provisional  rests on typical values of the class that no certificate has confirmed
    contradictory  those of `missing` that are filled in, but with what cannot be or contradicts other values
    """

    code: str
    grade: Grade
    variant: str
    params: Mapping[str, str | tuple[float, str]] = field(default_factory=dict)
    kind: str = ""
    required_si: float | None = None
    available_si: float | None = None
    margin_si: float | None = None
    where: Where = Where()
    working: Working | None = None
    source: str = ""
    cures: tuple[Cure, ...] = ()
    missing: tuple[str, ...] = ()
    fields: tuple[str, ...] = ()
    place: str = ""
    provisional: bool = False
    contradictory: tuple[str, ...] = ()

    @property
    def family(self) -> str:
        return self.code.partition(".")[0]

    @property
    def margin_kind(self) -> str:
        return margin_kind(self.kind)


@dataclass(frozen=True, slots=True)
class Figure:
    """A key figure, e.g. the distance at LRV. `value_si` is None where `missing` or a note says why.

    params  as in a `Finding`: what the label and the notes name
    notes   codes of what a reader has to know of it, e.g. "outside": the level is outside the vessel
    contradictory  as in a `Finding`
    """

    key: str
    kind: str
    value_si: float | None
    params: Mapping[str, str | tuple[float, str]] = field(default_factory=dict)
    working: Working | None = None
    missing: tuple[str, ...] = ()
    contradictory: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
