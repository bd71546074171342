"""Quantities as people type them, as the database keeps them (SI) and as screens and sheets show them.

Everything that turns text into a number with a unit goes through `PlantUnits.parse`; everything that turns an SI
number into text goes through `PlantUnits.shown`. Kinds, unit spellings and unit sets are data (`project/data`).
The units library supplies the factors; user text never reaches its parser, because that evaluates expressions and
misreads the trade's spellings ("bar(g)" would be bar times gram).

Gauge and absolute: pressures are kept in Pa absolute. A gauge pressure needs the plant's atmosphere, so parsing and
showing take it; a bare "bar" is refused.

Pure: the standard library and pint only.
"""

import math
import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pint

DATA = Path(__file__).parent / "data"
STANDARD_ATMOSPHERE_PA_ABS = 101_325.0  # ISO 2533:1975, sea level
LONGEST_TEXT = 60
LARGEST_SI = 1e12  # beyond it a value is a slip of unit or exponent; it would only drown the figures
GROUP_SPACE = "\u202f"  # narrow no-break space: digits stay together on screen and sheet

_MINUS_SIGNS = str.maketrans({"−": "-", "–": "-"})
_PLAIN = r"(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?"
_FRACTION = r"(?:\d+[ -])?\d+/\d+"
_SIMPLE = re.compile(rf"([+-]?)\s*({_FRACTION}|{_PLAIN})\s*(.*)", re.DOTALL | re.ASCII)
_FEET_INCHES = re.compile(
    rf"""([+-]?)\s*(\d+)\s*(?:ft|feet|foot|'|′)\s*-?\s*({_FRACTION}|{_PLAIN})\s*(?:in|inch|inches|"|″)""",
    re.ASCII,
)
_REFERENCE = re.compile(r"(.+?)\s*\(?\s*(gauge|g|absolute|abs|a)\s*\)?", re.IGNORECASE)


class UnreadableQuantity(ValueError):
    """A text that cannot be taken as the quantity asked for; says what would be accepted.

    `template` and `params` are kept apart so that the edge can translate the sentence.
    """

    def __init__(self, template: str, **params: str) -> None:
        self.template = template
        self.params = params
        super().__init__(template % params)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value as typed (unit always explicit, '' is missing) and in SI (None is missing)."""

    typed: str = ""
    si: float | None = None

    @property
    def missing(self) -> bool:
        return self.si is None


MISSING = Quantity()


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity: what it is called, which unit spellings it takes, which of them is SI."""

    key: str
    base: str
    label: str
    si: str
    example: str
    units: dict[str, str]
    also: dict[str, str]
    as_typed: bool = False

    @property
    def has_reference(self) -> bool:
        """True where gauge or absolute has to be said."""
        return self.base == "pressure"


@dataclass(frozen=True, slots=True)
class Shown:
    """Text for a reader: number and unit apart, because tables put the unit in the header."""

    number: str
    unit: str

    def __str__(self) -> str:
        if self.unit in ("", "°"):
            return f"{self.number}{self.unit}"
        return f"{self.number}\u00a0{self.unit}" if self.number else ""


def _load_kinds() -> dict[str, Kind]:
    tables = tomllib.loads((DATA / "units.toml").read_text(encoding="utf-8"))["kind"]
    kinds: dict[str, Kind] = {}
    for key, own in tables.items():
        base = own.get("like", key)
        row = tables[base]
        as_typed = row.get("as_typed", False)
        kinds[key] = Kind(key, base, row["label"], row["si"], row["example"], row["units"], row["also"], as_typed)
    return kinds


@dataclass(frozen=True, slots=True)
class UnitSet:
    """What a plant shows: for each kind the unit, and the significant digits and decimals of computed values."""

    key: str
    label: str
    units: dict[str, tuple[str, int, int]]


def _load_unit_sets() -> dict[str, UnitSet]:
    tables = tomllib.loads((DATA / "unit_sets.toml").read_text(encoding="utf-8"))["set"]
    return {
        key: UnitSet(key, row["label"], {kind: tuple(shown) for kind, shown in row["units"].items()})
        for key, row in tables.items()
    }


KINDS = _load_kinds()
UNIT_SETS = _load_unit_sets()
_registry: Any = pint.UnitRegistry()


@cache
def _factor_offset(expression: str) -> tuple[float, float]:
    """Factor and offset that turn a number in a unit of our own list into SI base units."""
    unit = _registry.parse_units(expression)
    zero = _registry.Quantity(0.0, unit).to_base_units().magnitude
    if zero:
        one = _registry.Quantity(1.0, unit).to_base_units().magnitude
        return one - zero, zero
    return _registry.Quantity(1.0, unit).to_base_units().magnitude, 0.0


def _find_unit(spelling: str, kind: Kind) -> str | None:
    """The listed unit for a spelling, or None. Case is forgiven except for a leading m/M (milli or mega?)."""
    spelling = " ".join(spelling.split())
    if spelling in kind.units:
        return spelling
    if spelling in kind.also:
        return kind.also[spelling]
    names = {**{unit: unit for unit in kind.units}, **kind.also}
    close = {unit for name, unit in names.items() if name and name.casefold() == spelling.casefold()}
    if len(close) == 1 and (spelling[:1] not in ("m", "M") or len(spelling) == 1):
        return close.pop()
    return None


def _split_reference(spelling: str, kind: Kind) -> tuple[str | None, str]:
    """Unit and 'g'/'a' of a pressure spelling such as 'bar(g)', 'psig', 'kPa abs'; ('…', '') where it is bare."""
    bare = _find_unit(spelling, kind)
    if bare is not None:
        return bare, ""
    match = _REFERENCE.fullmatch(spelling.strip())
    if match is None:
        return None, ""
    return _find_unit(match.group(1), kind), match.group(2)[0].lower()


def _canonical_unit(spelling: str, kind: Kind, typed: str) -> str:
    """The unit as it is shown ('bar(g)', '°C'); raises with a sentence that says what is accepted."""
    if kind.has_reference:
        unit, reference = _split_reference(spelling, kind)
        if unit is not None and reference:
            return f"{unit}({reference})"
        if unit is not None:
            raise UnreadableQuantity(
                "“%(typed)s”: gauge or absolute? Write for example 6.5 %(unit)s(g) or 6.5 %(unit)s(a).",
                typed=typed,
                unit=unit,
            )
    else:
        found = _find_unit(spelling, kind)
        if found is not None:
            return found
    for other in KINDS.values():
        if other.base != kind.base and spelling and _find_unit(spelling, other) is not None:
            raise UnreadableQuantity(
                "“%(typed)s”: %(unit)s is a unit of %(other)s, but %(kind)s is wanted here, for example %(example)s.",
                typed=typed,
                unit=spelling,
                other=other.label,
                kind=kind.label,
                example=kind.example,
            )
    if not spelling:
        raise UnreadableQuantity(
            "“%(typed)s”: the unit is missing. Accepted is %(kind)s, for example %(example)s.",
            typed=typed,
            kind=kind.label,
            example=kind.example,
        )
    raise UnreadableQuantity(
        "“%(typed)s”: the unit “%(unit)s” is not known. Accepted is %(kind)s, for example %(example)s.",
        typed=typed,
        unit=spelling,
        kind=kind.label,
        example=kind.example,
    )


def _number(sign: str, digits: str) -> float:
    if "/" in digits:
        whole, _, fraction = digits.replace("-", " ").rpartition(" ")
        top, bottom = fraction.split("/")
        value = float(whole or 0) + (float(top) / float(bottom) if float(bottom) else math.inf)
    else:
        value = float(digits)
    return -value if sign == "-" else value


@dataclass(frozen=True, slots=True)
class _Read:
    value: float
    number: str
    unit: str  # canonical, '' for a bare number, 'ft in' for feet and inches


def _read(text: str, kind: Kind) -> _Read:
    """Number and unit of a text, before any conversion."""
    plain = text.translate(_MINUS_SIGNS)
    for space in ("\u2009", "\u202f", "\u00a0"):
        plain = re.sub(rf"(?<=\d){space}(?=\d{{3}})", "", plain).replace(space, " ")
    shown = text if len(text) <= 40 else text[:40] + "…"
    if len(text) > LONGEST_TEXT:
        raise UnreadableQuantity(
            "“%(typed)s”: longer than %(longest)s characters. Accepted is %(kind)s, for example %(example)s.",
            typed=shown,
            longest=str(LONGEST_TEXT),
            kind=kind.label,
            example=kind.example,
        )
    if re.search(r"[0-9],[0-9]", plain):
        raise UnreadableQuantity(
            "“%(typed)s”: a comma may mean thousands or decimals. Write 1500 or 1.5, with a point for decimals.",
            typed=shown,
        )
    if kind.base == "length" and (match := _FEET_INCHES.fullmatch(plain)):
        sign, feet, inches = match.groups()
        value = float(feet) + _number("", inches) / 12
        return _Read(-value if sign == "-" else value, plain, "ft in")
    match = _SIMPLE.fullmatch(plain)
    if match is None:
        raise UnreadableQuantity(
            "“%(typed)s” is not readable as a number. Accepted is %(kind)s, for example %(example)s.",
            typed=shown,
            kind=kind.label,
            example=kind.example,
        )
    sign, digits, spelling = match.groups()
    unit = _canonical_unit(spelling.strip(), kind, shown) if spelling.strip() else ""
    return _Read(_number(sign, digits), f"{sign}{digits}", unit)


def to_si(value: float, unit: str, kind_key: str, atmosphere_pa_abs: float = STANDARD_ATMOSPHERE_PA_ABS) -> float:
    """SI value of a number in a listed unit ('mm', 'bar(g)', '°F'). Raises KeyError for a unit not listed."""
    kind = KINDS[kind_key]
    if kind.has_reference:
        factor, _ = _factor_offset(kind.units[unit[:-3]])
        return value * factor + (atmosphere_pa_abs if unit.endswith("(g)") else 0.0)
    factor, offset = _factor_offset(kind.units["ft" if unit == "ft in" else unit])
    return value * factor + offset


def from_si(value_si: float, unit: str, kind_key: str, atmosphere_pa_abs: float = STANDARD_ATMOSPHERE_PA_ABS) -> float:
    """Number in a listed unit of an SI value; inverse of `to_si`."""
    kind = KINDS[kind_key]
    if kind.has_reference:
        factor, _ = _factor_offset(kind.units[unit[:-3]])
        return (value_si - (atmosphere_pa_abs if unit.endswith("(g)") else 0.0)) / factor
    factor, offset = _factor_offset(kind.units[unit])
    return (value_si - offset) / factor


def format_number(value: float, digits: int, most_decimals: int = 15) -> str:
    """A number with the given significant digits, grouped by narrow spaces, without trailing zeros or exponent
    between 1e-6 and 1e15. Decimals end at `most_decimals`, but never so that a number other than zero shows as 0."""
    if value == 0:
        return "0"
    magnitude = math.floor(math.log10(abs(value)))
    if not -6 <= magnitude < 15:
        return f"{value:.{digits - 1}e}"
    decimals = max(0, min(digits - 1 - magnitude, max(most_decimals, -magnitude)))
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    sign = "−" if text.startswith("-") else ""
    text = text.removeprefix("-")
    whole, point, fraction = text.partition(".")
    if len(whole) > 4:
        whole = f"{int(whole):,}".replace(",", GROUP_SPACE)
    if text == "0":
        sign = ""
    return f"{sign}{whole}{point}{fraction}"


@dataclass(frozen=True, slots=True)
class PlantUnits:
    """A plant's unit set and atmosphere: all that parsing and showing need to know of the plant.

    `atmosphere_pa_abs` is the plant's normal barometric pressure in Pa absolute.
    """

    set_key: str = "metric"
    atmosphere_pa_abs: float = STANDARD_ATMOSPHERE_PA_ABS

    def unit(self, kind_key: str) -> str:
        """The unit that a bare number takes and that views show, e.g. 'mm' or 'bar(g)'."""
        return UNIT_SETS[self.set_key].units[kind_key][0]

    def parse(self, text: str, kind_key: str) -> Quantity:
        """Typed text to a Quantity; '' (or blanks) to a missing one.

        Raises UnreadableQuantity for anything else than one finite number of that kind, with or without a unit.
        """
        text = text.strip()
        if not text:
            return MISSING
        kind = KINDS[kind_key]
        read = _read(text, kind)
        unit = read.unit or self.unit(kind_key)
        # Text without a unit takes the field's unit, and keeps it from then on whatever the plant's unit set becomes.
        typed = text if read.unit or not unit else f"{text} {unit}"
        value_si = to_si(read.value, unit, kind_key, self.atmosphere_pa_abs)
        self._refuse_impossible(value_si, kind, text)
        return Quantity(typed, value_si)

    def _refuse_impossible(self, value_si: float, kind: Kind, text: str) -> None:
        if not math.isfinite(value_si):
            raise UnreadableQuantity(
                "“%(typed)s” is not a finite number. Accepted is %(kind)s, for example %(example)s.",
                typed=text,
                kind=kind.label,
                example=kind.example,
            )
        if abs(value_si) > LARGEST_SI:
            raise UnreadableQuantity("“%(typed)s” is larger than anything in a plant; look at its unit.", typed=text)
        if kind.base == "temperature" and value_si < 0:
            raise UnreadableQuantity("“%(typed)s” is below absolute zero (−273.15 °C, −459.67 °F).", typed=text)
        if kind.base == "pressure" and value_si < 0:
            lowest = from_si(0.0, "bar(g)", "pressure", self.atmosphere_pa_abs)
            raise UnreadableQuantity(
                "“%(typed)s” is below perfect vacuum: at this plant's atmosphere the least is %(lowest)s bar(g), "
                "0 bar(a).",
                typed=text,
                lowest=format_number(lowest, 5),
            )

    def shown_si(self, value_si: float | None, kind_key: str, digits: int | None = None) -> Shown:
        """A computed SI value in the plant's unit, rounded to the kind's significant digits."""
        if value_si is None:
            return Shown("", "")
        unit, kind_digits, most_decimals = UNIT_SETS[self.set_key].units[kind_key]
        value = from_si(value_si, unit, kind_key, self.atmosphere_pa_abs)
        # Rounding noise of a conversion must not show: a difference far below the kind's digits is zero.
        if abs(value) < 1e-12:
            value = 0.0
        return Shown(format_number(value, digits or kind_digits, most_decimals), unit)

    def shown(self, quantity: Quantity, kind_key: str) -> Shown:
        """A typed quantity for a reader: as typed where it was typed in the plant's unit, converted otherwise."""
        if quantity.si is None:
            return Shown("", "")
        unit = self.unit(kind_key)
        read = _read(quantity.typed, KINDS[kind_key])
        if KINDS[kind_key].as_typed and read.unit:
            return Shown(read.number, read.unit)
        if read.unit == unit or (read.unit == "ft in" and unit == "ft"):
            if read.unit == "ft in":
                return Shown(quantity.typed, "")
            return Shown(read.number.replace("-", "−"), unit)
        return self.shown_si(quantity.si, kind_key)
