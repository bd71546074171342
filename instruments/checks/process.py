"""Family "process": does the sensor stand the temperatures, pressures and kind of medium."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from instruments.checks.case import Case
from instruments.checks.finding import Cure, Finding, Grade, Input, Where, Working, margin_kind
from instruments.checks.frame import Frame
from instruments.checks.principle import is_outside
from instruments.checks.ranges import NO_CASE
from instruments.checks.support import (
    Derived,
    all_known,
    fields_of,
    margin_of,
    missing_finding,
    not_applicable,
    worst_of,
)

Side = Literal["high", "low"]


@dataclass(frozen=True, slots=True)
class _Demand:
    """A temperature or pressure that the sensor must stand: of a case, or of the vessel's design."""

    case: str
    value: Derived
    by_design: bool = False


def temperature_high(case: Case, frame: Frame) -> Finding:
    """The highest temperature of all cases and of the design is within the class's highest."""
    return _one_way(case, frame, "temperature", "high")


def temperature_low(case: Case, frame: Frame) -> Finding:
    """The lowest temperature of all cases and of the design is within the class's lowest."""
    return _one_way(case, frame, "temperature", "low")


def pressure_high(case: Case, frame: Frame) -> Finding:
    """The highest pressure of all cases and of the design is within the class's highest."""
    return _one_way(case, frame, "pressure", "high")


def pressure_low(case: Case, frame: Frame) -> Finding:
    """The lowest pressure (vacuum) of all cases and of the design is within the class's lowest."""
    return _one_way(case, frame, "pressure", "low")


def _one_way(case: Case, frame: Frame, stem: str, side: Side) -> Finding:
    """The worst of the demands on one side against the class's limit on that side."""
    if is_outside(case):
        return not_applicable(f"process.{stem}_{side}", "outside", ("measurement.sensor_class",))
    limit = frame.entered(f"sensor_class.process_{stem}_{'max' if side == 'high' else 'min'}")
    demands = [*_of_cases(frame, stem), *_of_design(case, frame, stem, side)]
    return worst_of([_demand_finding(frame, stem, side, limit, demand) for demand in demands])


def _of_cases(frame: Frame, stem: str) -> Iterable[_Demand]:
    if not frame.media:
        yield _Demand("", NO_CASE)
    for medium in frame.media:
        yield _Demand(medium.name, medium.temperature_k if stem == "temperature" else medium.pressure_pa_abs)


def _of_design(case: Case, frame: Frame, stem: str, side: Side) -> Iterable[_Demand]:
    """The vessel's design value binds what bears pressure.

    The highest one is needed, unless an operating case of the kind "design" gives it. The lowest one binds
    where it is stated; where it is empty, the operating cases alone say how cold or how evacuated the vessel
    gets.
    """
    key = f"vessel.design_{stem}_{'max' if side == 'high' else 'min'}"
    value = frame.entered(key)
    empty = frame.is_empty(value, key)
    has_design_case = any(row.text("kind") == "design" for row in case.operating_cases)
    if not empty or (side == "high" and not has_design_case):
        yield _Demand("", value, by_design=True)


def _demand_finding(frame: Frame, stem: str, side: Side, limit: Derived, demand: _Demand) -> Finding:
    code = f"process.{stem}_{side}"
    known = all_known(demand.value, limit)
    if known is None:
        case = demand.case if demand.value.missing else ""
        return missing_finding(code, demand.value, limit, place="nozzle", case=case)
    asked, allowed = known
    margin = margin_of(allowed, asked) if side == "high" else margin_of(asked, allowed)
    by_design = "_design" if demand.by_design else ""
    limit_stem = f"process_{stem}_{'max' if side == 'high' else 'min'}"
    finding = Finding(
        code,
        Grade.PASS,
        f"ok{by_design}",
        params={
            "asked": (asked, stem),
            "limit": (allowed, stem),
            "beyond": (-margin, margin_kind(stem)),
            "case": demand.case,
        },
        kind=stem,
        required_si=asked,
        available_si=allowed,
        margin_si=margin,
        where=Where(demand.case),
        working=_working(stem, side, asked, allowed, margin, frame.class_source(limit_stem)),
        source=frame.class_source(limit_stem),
        fields=fields_of(demand.value, limit),
        place="nozzle",
        provisional=frame.provisional,
    )
    if margin >= 0:
        return finding
    cure = Cure(f"other_class_{stem}_{side}", "measurement.sensor_class", asked, stem)
    return replace(finding, grade=Grade.STOP, variant=f"beyond{by_design}", cures=(cure,))


def _working(stem: str, side: Side, asked: float, allowed: float, margin: float, source: str) -> Working:
    symbol = "T" if stem == "temperature" else "p"
    limit = f"{symbol}_{'max' if side == 'high' else 'min'}"
    inputs = (Input(symbol, asked, stem), Input(limit, allowed, stem))
    formula = f"m = {limit} − {symbol}" if side == "high" else f"m = {symbol} − {limit}"
    return Working(formula, inputs, "m", margin, margin_kind(stem), source)


def medium_kind(case: Case, frame: Frame) -> Finding:
    """The kind of medium of every operating case is one that the class suits."""
    if not frame.media:
        return missing_finding("process.medium_kind", NO_CASE)
    return worst_of([_kind_finding(case, frame, medium.name, medium.kind) for medium in frame.media])


def _kind_finding(case: Case, frame: Frame, name: str, kind: str) -> Finding:
    code, fields = "process.medium_kind", ("case.medium", "medium.kind", "measurement.sensor_class")
    lacks = [] if kind else ["case.medium"]
    if case.sensor_class is None:
        lacks.append("measurement.sensor_class")
    suited = case.sensor_class.items("media") if case.sensor_class else ()
    if case.sensor_class is not None and not suited:
        lacks.append("sensor_class.media")
    if lacks:
        return missing_finding(code, Derived(None, missing=tuple(lacks)), case="" if kind else name)
    fits = kind in suited
    return Finding(
        code,
        Grade.PASS if fits else Grade.STOP,
        "ok" if fits else "unsuited",
        params={"medium.kind": kind, "case": name},
        where=Where(name),
        source=frame.class_source("media"),
        cures=() if fits else (Cure("other_class_medium", "measurement.sensor_class"),),
        fields=fields,
        provisional=frame.provisional,
    )
