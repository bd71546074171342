"""What a finding rests on, as plain texts: kept with a person's acceptance and compared later, key by key.

A value is taken in SI and rounded, so that typing it in another unit changes nothing, and a value that is not an input
of the finding is left out: of operating cases and media those of the finding's case, of setpoints those that it names.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping

from instruments.checks.case import Case, Row, Value
from instruments.checks.finding import Finding, Working
from instruments.checks.sensor_class import ClassValue
from project.quantities import Quantity

# Retyping in another unit moves a value by about 1e-15 of it; nothing that a person means is smaller than these.
VALUE_DIGITS = 9
FIGURE_DIGITS = 6

FIELD = "field:"  # begins the keys of entered values; the others are of what the check says

Basis = dict[str, str]


def basis_of(case: Case, finding: Finding) -> Basis:
    """What a finding of a case says and rests on: key -> text, '' for what is missing.

    Keys are "field:measurement.urv" for each field that the finding rests on, and "grade", "variant", "case",
    "required", "available", "say:NAME" and "input:N" for what the check made of them. Equal inputs give equal texts.
    """
    basis = {
        "grade": finding.grade.value,
        "variant": finding.variant,
        "case": finding.where.case,
        "required": _figure(finding.required_si),
        "available": _figure(finding.available_si),
    }
    for name, value in finding.params.items():
        basis[f"say:{name}"] = _figure(value[0]) if isinstance(value, tuple) else value
    for number, text in enumerate(_inputs(finding.working)):
        basis[f"input:{number}"] = text
    for key in finding.fields:
        basis[FIELD + key] = _entered(case, finding, key)
    return basis


def digest_of(basis: Mapping[str, str]) -> str:
    """SHA-256 (hex) of a basis. Equal content gives equal digests."""
    return hashlib.sha256(json.dumps(basis, sort_keys=True, ensure_ascii=False).encode()).hexdigest()


def changed_fields(then: Mapping[str, str], now: Mapping[str, str]) -> tuple[str, ...]:
    """Keys of the fields whose values differ, of those that both rest on, in the order of `now`."""
    return tuple(
        key.removeprefix(FIELD) for key in now if key.startswith(FIELD) and key in then and then[key] != now[key]
    )


def _figure(value_si: float | None, digits: int = FIGURE_DIGITS) -> str:
    # "+ 0.0" makes the zero of a difference positive, whichever way it came about.
    return "" if value_si is None else f"{round(value_si, 12) + 0.0:.{digits}g}"


def _inputs(working: Working | None) -> Iterator[str]:
    for step in (*working.before, working) if working is not None else ():
        for one in step.inputs:
            yield f"{one.symbol}={_figure(one.value_si)}"


def _entered(case: Case, finding: Finding, key: str) -> str:
    """The values of a field: one for each row that has it and matters to the finding, by the rows' identities."""
    entity, _dot, stem = key.partition(".")
    if entity == "strapping":
        return digest_of(_strapping(case))
    if entity == "sensor_class":
        return _class_value(case.sensor_class.values.get(stem)) if case.sensor_class is not None else ""
    if key == "measurement.nozzle" or key.startswith("measurement.nozzle_"):
        role = stem.removeprefix("nozzle").removeprefix("_") or "sensor"
        return "; ".join(row.uid for row in case.connections if row.text("role") == role)
    texts = (f"{row.uid}={_text(row.values.get(stem, ''))}" for row in _rows(case, finding, entity))
    return "; ".join(sorted(texts))


def _rows(case: Case, finding: Finding, entity: str) -> tuple[Row, ...]:
    single = {
        "plant": case.plant, "unit": case.unit, "tag": case.tag, "vessel": case.vessel,
        "measurement": case.measurement,
    }  # fmt: skip
    if entity in single:
        return (single[entity],)
    if entity in ("case", "medium"):
        named = tuple(row for row in case.operating_cases if row.text("display") == finding.where.case)
        if entity == "case":
            return named or case.operating_cases
        media = (case.medium_of(row) for row in named)
        return tuple(row for row in media if row is not None) or case.media
    if entity == "setpoint":
        names = {finding.place.removeprefix("setpoint-"), *(one for one in finding.params.values())}
        return tuple(row for row in case.setpoints if row.text("name") in names) or case.setpoints
    return {"nozzle": case.connections, "internal": case.internals}.get(entity, ())


def _text(value: Value) -> str:
    return _figure(value.si, VALUE_DIGITS) if isinstance(value, Quantity) else str(value).strip()


def _class_value(held: ClassValue | None) -> str:
    if held is None:
        return ""
    return "; ".join(held.value) if isinstance(held.value, tuple) else _text(held.value)


def _strapping(case: Case) -> Basis:
    if case.strapping is None:
        return {}
    points = enumerate(case.strapping.points)
    return {"interpolation": case.strapping.interpolation} | {
        str(number): f"{_figure(level_m, VALUE_DIGITS)}: {_figure(volume_m3, VALUE_DIGITS)}"
        for number, (level_m, volume_m3) in points
    }
