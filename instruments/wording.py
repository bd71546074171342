"""Findings, figures and class values in words and in the plant's units, for screen and sheet alike.

The checks are pure and know no wording; the texts stand in `instruments.wording_sentences` and
`instruments.wording_texts`.
"""

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

from django.utils.translation import gettext

# The modules of fields register the labels that are looked up here.
import instruments.field_defs
import instruments.sensor_class_fields  # noqa: F401
import vessels.field_defs  # noqa: F401
from instruments.checks.capacity import BY_SHAPE, BY_TABLE
from instruments.checks.finding import PRESSURE_MARGIN, Cure, Figure, Finding, Grade, Input, Where, Working
from instruments.checks.sensor_class import SensorClass
from instruments.wording_sentences import SENTENCES, TITLES
from instruments.wording_texts import (
    CONNECTION_LABELS,
    CONTRADICTORY,
    CURES,
    FAMILY_LABELS,
    FIGURE_LABELS,
    FIGURE_NOTES,
    GRADE_LABELS,
    MISSING,
    MISSING_AND_CONTRADICTORY,
    SYMBOLS,
)
from project.quantities import KINDS, UNIT_SETS, PlantUnits, Quantity, Shown, format_number, from_si
from project.registry import REGISTRY, FieldDef

NOTHING_UNREADABLE: Mapping[str, str] = {}
DIFFERENCE = "pressure_difference"
PRESSURE_MARGIN_DIGITS = 4
RATIO_DIGITS = 7  # in workings, where 103.125 % of 50 m must not become 103.1 %


@dataclass(frozen=True, slots=True)
class DescribedFinding:
    """A finding in words. All texts are translated and in the plant's units.

    working  one line for each step, "d = z_ref − z = 12.9 m − 0.5 m = 12.4 m"
    legend   (symbol, meaning) of every symbol in the working
    missing  labels of the fields that are missing, with a note where what is typed in one is not accepted
    contradictory  labels of the fields whose values cannot be or contradict others, and have to be put right
    """

    finding: Finding
    grade_label: str
    family_label: str
    title: str
    sentence: str
    required: str
    available: str
    margin: str
    where: str
    working: tuple[str, ...]
    legend: tuple[tuple[str, str], ...]
    source: str
    cures: tuple[str, ...]
    missing: tuple[str, ...]
    contradictory: tuple[str, ...]
    provisional_note: str

    @property
    def line(self) -> str:
        """Title and sentence, for lists: two checks that lack the same data stay apart."""
        return gettext("%(title)s: %(sentence)s") % {"title": self.title, "sentence": self.sentence}

    @property
    def grade(self) -> Grade:
        return self.finding.grade

    @property
    def code(self) -> str:
        return self.finding.code

    @property
    def place(self) -> str:
        return self.finding.place


@dataclass(frozen=True, slots=True)
class DescribedFigure:
    """A key figure in words; `number` and `unit` apart for tables, both empty where there is no value.

    note  the operating case that it holds for, or why there is no value
    """

    figure: Figure
    label: str
    number: str
    unit: str
    working: tuple[str, ...]
    legend: tuple[tuple[str, str], ...]
    missing: tuple[str, ...]
    note: str

    @property
    def text(self) -> str:
        return str(Shown(self.number, self.unit))


def describe(
    finding: Finding, units: PlantUnits, unreadable: Mapping[str, str] = NOTHING_UNREADABLE
) -> DescribedFinding:
    """A finding in words. `unreadable` is the Case's: field key -> message of the preview."""
    missing, contradictory = _lacking_labels(finding, unreadable)
    return DescribedFinding(
        finding=finding,
        grade_label=str(GRADE_LABELS[finding.grade.value]),
        family_label=str(FAMILY_LABELS[finding.family]),
        title=str(TITLES[finding.code]),
        sentence=_sentence(finding, units, missing, contradictory),
        required=_optional(finding.required_si, finding.kind, units),
        available=_optional(finding.available_si, finding.kind, units),
        margin=_signed(finding.margin_si, finding.margin_kind, units),
        where=_where(finding.where, units),
        working=working_lines(finding.working, units),
        legend=legend(finding.working),
        source=gettext(finding.source) if finding.source else "",
        cures=tuple(_cure(cure, units) for cure in finding.cures),
        missing=missing,
        contradictory=contradictory,
        provisional_note=_provisional_note(finding),
    )


def describe_figure(
    figure: Figure, units: PlantUnits, unreadable: Mapping[str, str] = NOTHING_UNREADABLE
) -> DescribedFigure:
    """A key figure in words. `unreadable` as in `describe`."""
    shown = units.shown_si(figure.value_si, figure.kind)
    missing, contradictory = _lacking_labels(figure, unreadable)
    return DescribedFigure(
        figure=figure,
        label=FIGURE_LABELS[figure.key] % figure.params,
        number=shown.number,
        unit=shown.unit,
        working=(*working_lines(figure.working, units), *_by_what(figure)),
        legend=legend(figure.working),
        missing=missing,
        note=_figure_note(figure, units, missing, contradictory),
    )


def class_value_text(sensor_class: SensorClass, definition: FieldDef, units: PlantUnits) -> str:
    """One value of a sensor class for a reader, '' where the class states none."""
    held = sensor_class.values.get(definition.stem)
    if held is None:
        return ""
    if isinstance(held.value, Quantity):
        return str(units.shown(held.value, definition.kind))
    items = held.value if isinstance(held.value, tuple) else (held.value,)
    return ", ".join(gettext(definition.choice_label(item)) for item in items)


# --- sentences ----------------------------------------------------------------------------------------------


def _sentence(finding: Finding, units: PlantUnits, missing: tuple[str, ...], contradictory: tuple[str, ...]) -> str:
    params = {name: _param(name, value, units) for name, value in finding.params.items()}
    if finding.variant != "missing":
        return str(SENTENCES[finding.code, finding.variant]) % params
    params |= {"fields": "; ".join(missing), "wrong": "; ".join(contradictory), "case": finding.where.case}
    about = "of" if "what" in params else "case" if finding.where.case else ""
    if not contradictory:
        return str(MISSING[about]) % params
    return str((MISSING_AND_CONTRADICTORY if missing else CONTRADICTORY)[about]) % params


def _param(name: str, value: str | tuple[float, str], units: PlantUnits) -> str:
    if isinstance(value, tuple):
        return shown_text(value[0], value[1], units)
    if name == "field":
        return field_label(value)
    if name in REGISTRY:
        return gettext(REGISTRY[name].choice_label(value))
    return value


def field_label(key: str) -> str:
    """The label of a field; one of a class or a strapping table says so: vessels have ranges and volumes too."""
    if key in CONNECTION_LABELS:
        return str(CONNECTION_LABELS[key])
    if key not in REGISTRY:
        return key
    label = gettext(REGISTRY[key].label)
    if key.startswith("sensor_class."):
        return gettext("%(label)s (sensor class)") % {"label": label}
    return gettext("%(label)s (strapping table)") % {"label": label} if key.startswith("strapping.") else label


def _lacking_labels(one: Finding | Figure, unreadable: Mapping[str, str]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Labels of what is to be filled in, and of what is filled in and has to be put right."""
    wrong = tuple(key for key in one.contradictory if key not in unreadable)
    to_fill = tuple(key for key in one.missing if key not in wrong)
    return (
        tuple(_missing_label(key, key in unreadable) for key in to_fill),
        tuple(field_label(key) for key in wrong),
    )


def _missing_label(key: str, unreadable: bool) -> str:
    """The message at the field says why what is typed there is not accepted: no number, or one that cannot be."""
    label = field_label(key)
    return gettext("%(label)s (not accepted as typed)") % {"label": label} if unreadable else label


def _where(where: Where, units: PlantUnits) -> str:
    parts = []
    if where.case:
        parts.append(gettext("case %(case)s") % {"case": where.case})
    if where.elevation_m is not None:
        parts.append(gettext("at %(level)s") % {"level": shown_text(where.elevation_m, "length", units)})
    return ", ".join(parts)


def _provisional_note(finding: Finding) -> str:
    if not finding.provisional:
        return ""
    return gettext("Provisional: rests on typical values of the class that no certificate has confirmed.")


def _by_what(figure: Figure) -> tuple[str, ...]:
    """A line that says where volumes were read: off the shape or off the strapping table."""
    source = figure.working.source if figure.working is not None else ""
    return (gettext(source),) if source in (BY_SHAPE, *BY_TABLE.values()) else ()


def _figure_note(figure: Figure, units: PlantUnits, missing: tuple[str, ...], contradictory: tuple[str, ...]) -> str:
    if missing:
        return gettext("needs %(fields)s") % {"fields": "; ".join((*missing, *contradictory))}
    if contradictory:
        return gettext("until this is put right: %(fields)s") % {"fields": "; ".join(contradictory)}
    params = {name: _param(name, value, units) for name, value in figure.params.items()}
    case = [gettext("case %(case)s") % params] if "case" in params else []
    return "; ".join([*case, *(str(FIGURE_NOTES[note]) % params for note in figure.notes)])


# --- numbers ------------------------------------------------------------------------------------------------


def shown_text(value_si: float, kind: str, units: PlantUnits) -> str:
    """An SI value with its unit. The margin of two pressures takes the unit of the plant's pressures."""
    if kind != PRESSURE_MARGIN:
        return str(units.shown_si(value_si, kind))
    unit = units.unit("pressure")[:-3]  # without (g) or (a)
    if unit not in KINDS[DIFFERENCE].units:
        return str(units.shown_si(value_si, DIFFERENCE))
    return str(Shown(format_number(from_si(value_si, unit, DIFFERENCE), PRESSURE_MARGIN_DIGITS), unit))


def _optional(value_si: float | None, kind: str, units: PlantUnits) -> str:
    return "" if value_si is None else shown_text(value_si, kind, units)


def _signed(margin_si: float | None, kind: str, units: PlantUnits) -> str:
    if margin_si is None:
        return ""
    text = shown_text(margin_si, kind, units)
    return f"+{text}" if margin_si > 0 else text


def _cure(cure: Cure, units: PlantUnits) -> str:
    direction, sentence = CURES[cure.code]
    params = {"field": field_label(cure.field)}
    if cure.value_si is not None:
        params["value"] = _sufficient(cure.value_si, cure.kind, direction, units)
    return str(sentence) % params


def _sufficient(value_si: float, kind: str, direction: str, units: PlantUnits) -> str:
    """A value rounded to the side on which it still cures, so that a person may type what is shown."""
    unit, digits, most_decimals = UNIT_SETS[units.set_key].units[kind]
    value = from_si(value_si, unit, kind, units.atmosphere_pa_abs)
    if value == 0:
        return str(units.shown_si(value_si, kind))
    magnitude = math.floor(math.log10(abs(value)))
    step = max(10.0 ** (magnitude - digits + 1), 10.0 ** -max(most_decimals, -magnitude))
    count = value / step
    # A value that is a whole number of steps but for rounding noise stays as it is.
    if abs(count - round(count)) > 1e-6:
        count = math.ceil(count) if direction == "up" else math.floor(count)
    return str(Shown(format_number(round(count) * step, digits, most_decimals), unit))


# --- workings -----------------------------------------------------------------------------------------------


def working_lines(working: Working | None, units: PlantUnits) -> tuple[str, ...]:
    """The steps of a working, each as "d = z_ref − z = 12.9 m − 0.5 m = 12.4 m"."""
    if working is None:
        return ()
    return tuple(_line(step, units) for step in _steps(working))


def legend(working: Working | None) -> tuple[tuple[str, str], ...]:
    """(symbol, meaning) of every symbol in a working, in the order of appearance."""
    if working is None:
        return ()
    symbols = [
        symbol for step in _steps(working) for symbol in (*(one.symbol for one in step.inputs), step.result_symbol)
    ]
    return tuple((symbol, str(SYMBOLS[symbol])) for symbol in dict.fromkeys(symbols) if symbol in SYMBOLS)


def _steps(working: Working) -> tuple[Working, ...]:
    return (*working.before, working)


def _line(working: Working, units: PlantUnits) -> str:
    filled = _filled(working.formula.partition("=")[2].strip(), working.inputs, units)
    result = _worked_text(working.result_si, working.result_kind, units)
    return " = ".join([working.formula, *([] if filled == result else [filled]), result])


def _worked_text(value_si: float, kind: str, units: PlantUnits) -> str:
    """A value in a working. A share of the span multiplies others: rounded as elsewhere it would spoil the result."""
    if kind != "ratio":
        return shown_text(value_si, kind, units)
    unit = units.unit(kind)
    return str(Shown(format_number(from_si(value_si, unit, kind), RATIO_DIGITS), unit))


def _filled(formula: str, inputs: tuple[Input, ...], units: PlantUnits) -> str:
    """A formula with the inputs' values in place of their symbols; negative ones in brackets."""
    values = {one.symbol: _worked_text(one.value_si, one.kind, units) for one in inputs}
    if not values:
        return formula
    longest_first = sorted(values, key=len, reverse=True)
    pattern = r"(?<!\w)(" + "|".join(re.escape(symbol) for symbol in longest_first) + r")(?!\w)"
    return re.sub(pattern, lambda found: _bracketed(values[found.group(1)]), formula)


def _bracketed(text: str) -> str:
    return f"({text})" if text.startswith("−") else text
