"""Measurements between an upper and a lower connection: families "reach" and "mounting"."""

from dataclasses import replace

from instruments.checks.case import Case
from instruments.checks.finding import Cure, Finding, Grade, Where, Working
from instruments.checks.frame import Frame
from instruments.checks.principle import is_tapped
from instruments.checks.ranges import setpoint_level
from instruments.checks.support import (
    GEOMETRY,
    Derived,
    all_known,
    fields_of,
    length,
    margin_of,
    missing_finding,
    not_applicable,
)


def between_taps(case: Case, frame: Frame) -> tuple[Finding, ...]:
    """LRV, URV and every setpoint lie between the lower and the upper connection, where the measurable range ends."""
    code = "reach.between_taps"
    if not is_tapped(frame):
        return (not_applicable(code, "no_taps", ("measurement.arrangement",)),)
    ends = [(name, frame.entered(f"measurement.{name.lower()}"), name.lower()) for name in ("LRV", "URV")]
    points = [(row.text("name"), setpoint_level(row), f"setpoint-{row.text('name')}") for row in case.setpoints]
    return tuple(_between(frame, code, *one) for one in (*ends, *points))


def _between(frame: Frame, code: str, what: str, level: Derived, place: str) -> Finding:
    lower, upper = frame.tap("lower"), frame.tap("upper")
    known = all_known(level, lower, upper)
    if known is None:
        return replace(missing_finding(code, level, lower, upper, place=place), params={"what": what})
    level_m, lower_m, upper_m = known
    at_lower = margin_of(level_m, lower_m) < margin_of(upper_m, level_m)
    limit_m = lower_m if at_lower else upper_m
    margin = margin_of(level_m, lower_m) if at_lower else margin_of(upper_m, level_m)
    symbol = "z_low" if at_lower else "z_up"
    inputs = (length("z", level_m), length(symbol, limit_m))
    formula = f"m = z − {symbol}" if at_lower else f"m = {symbol} − z"
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={
            "what": what,
            "level": (level_m, "length"),
            "lower": (lower_m, "length"),
            "upper": (upper_m, "length"),
            "beyond": (-margin, "length"),
        },
        kind="length",
        required_si=limit_m if at_lower else level_m,
        available_si=level_m if at_lower else limit_m,
        margin_si=margin,
        where=Where(elevation_m=level_m),
        working=Working(formula, inputs, "m", margin, "length", GEOMETRY),
        source=GEOMETRY,
        fields=fields_of(level, lower, upper),
        place=place,
    )
    if margin >= 0:
        return finding
    variant, cure = ("below", "raise_level") if at_lower else ("above", "lower_level")
    return replace(finding, grade=Grade.STOP, variant=variant, cures=(Cure(cure, level.fields[0], limit_m, "length"),))


def taps(case: Case, frame: Frame) -> Finding:
    """The upper connection lies above the lower one, and the top of a chamber not below the upper one."""
    code = "mounting.taps"
    if not is_tapped(frame):
        return not_applicable(code, "no_taps", ("measurement.arrangement",))
    lower, upper = frame.tap("lower"), frame.tap("upper")
    order = _order(code, lower, upper)
    if frame.arrangement != "chamber" or order.grade is not Grade.PASS:
        return order
    return _chamber_top(code, order, upper, frame.reference_point)


def _order(code: str, lower: Derived, upper: Derived) -> Finding:
    known = all_known(lower, upper)
    if known is None:
        return missing_finding(code, lower, upper, place="nozzle")
    lower_m, upper_m = known
    margin = margin_of(upper_m, lower_m)
    inputs = (length("z_up", upper_m), length("z_low", lower_m))
    return Finding(
        code,
        Grade.PASS if margin > 0 else Grade.STOP,
        "ok" if margin > 0 else "reversed",
        params={"lower": (lower_m, "length"), "upper": (upper_m, "length"), "apart": (margin, "length")},
        kind="length",
        required_si=lower_m,
        available_si=upper_m,
        margin_si=margin,
        working=Working("m = z_up − z_low", inputs, "m", margin, "length", GEOMETRY),
        source=GEOMETRY,
        cures=() if margin > 0 else (Cure("exchange_taps"),),
        fields=fields_of(lower, upper),
        place="nozzle",
    )


def _chamber_top(code: str, order: Finding, upper: Derived, top: Derived) -> Finding:
    known = all_known(top, upper)
    if known is None:
        return missing_finding(code, top, upper, place="nozzle")
    top_m, upper_m = known
    margin = margin_of(top_m, upper_m)
    fields = (*order.fields, *top.fields)
    if margin >= 0:
        return replace(order, fields=fields)
    return replace(
        order,
        grade=Grade.STOP,
        variant="top_below",
        params={**order.params, "top": (top_m, "length"), "below": (-margin, "length")},
        required_si=upper_m,
        available_si=top_m,
        margin_si=margin,
        working=Working(
            "m = z_ref − z_up", (length("z_ref", top_m), length("z_up", upper_m)), "m", margin, "length", GEOMETRY
        ),
        cures=(Cure("raise_chamber_top", "measurement.reference_elevation", upper_m, "length"),),
        fields=fields,
    )
