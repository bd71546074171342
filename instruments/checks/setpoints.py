"""Family "setpoints": order of the alarms and trips, and whether the signal can carry them."""

from dataclasses import replace

from instruments.checks.case import Case, Row
from instruments.checks.finding import Cure, Finding, Grade, Input, Where, Working
from instruments.checks.frame import Frame
from instruments.checks.principle import NO_SPAN, class_accuracy
from instruments.checks.ranges import setpoint_level
from instruments.checks.support import (
    all_known,
    fields_of,
    length,
    margin_of,
    missing_finding,
    not_applicable,
    small_length,
    worked,
)
from instruments.physics.signal import NE43, level_at_fraction_m, measuring_limits
from project.registry import gettext_noop

ORDER = ("LL", "L", "H", "HH")  # from low to high
ORDER_SOURCE = gettext_noop("Meaning of the names: LL < L < H < HH")


def order(case: Case, frame: Frame) -> Finding:
    """LL lies below L, L below H, H below HH, as far as they are there."""
    code = "setpoints.order"
    rows = [row for row in case.setpoints if row.text("name") in ORDER]
    pairs = [(low, high) for low in rows for high in rows if _rank(low) < _rank(high)]
    if not pairs:
        return not_applicable(code, "too_few")
    known = [pair for pair in pairs if all_known(setpoint_level(pair[0]), setpoint_level(pair[1]))]
    worst = min((_pair_finding(code, low, high) for low, high in known), key=_margin, default=None)
    if worst is not None and (worst.grade is Grade.STOP or len(known) == len(pairs)):
        return worst
    return missing_finding(code, *(setpoint_level(row) for row in rows))


def _rank(row: Row) -> int:
    return ORDER.index(row.text("name"))


def _margin(finding: Finding) -> float:
    return 0.0 if finding.margin_si is None else finding.margin_si


def _pair_finding(code: str, low: Row, high: Row) -> Finding:
    low_m, high_m = setpoint_level(low).value or 0.0, setpoint_level(high).value or 0.0
    margin = margin_of(high_m, low_m)
    names = low.text("name"), high.text("name")
    return Finding(
        code,
        Grade.PASS if margin > 0 else Grade.STOP,
        "ok" if margin > 0 else "wrong",
        params={
            "low_name": names[0],
            "low": (low_m, "length"),
            "high_name": names[1],
            "high": (high_m, "length"),
            "gap": (margin, "length"),
        },
        kind="length",
        required_si=low_m,
        available_si=high_m,
        margin_si=margin,
        where=Where(elevation_m=high_m),
        working=Working(
            f"m = z_{names[1]} − z_{names[0]}",
            (length(f"z_{names[1]}", high_m), length(f"z_{names[0]}", low_m)),
            "m",
            margin,
            "length",
            ORDER_SOURCE,
        ),
        source=ORDER_SOURCE,
        fields=("setpoint.level",),
        place=f"setpoint-{names[1]}",
    )


def inside_span(case: Case, frame: Frame) -> tuple[Finding, ...]:
    """Every setpoint lies within the span and clears the ends of the measuring current."""
    if not case.setpoints:
        return (not_applicable("setpoints.inside_span", "none"),)
    return tuple(_inside_span(case, frame, row) for row in case.setpoints)


def _inside_span(case: Case, frame: Frame, row: Row) -> Finding:
    code, name = "setpoints.inside_span", row.text("name")
    lrv, urv = frame.entered("measurement.lrv"), frame.entered("measurement.urv")
    level, accuracy = setpoint_level(row), class_accuracy(case, frame)
    place = f"setpoint-{name}"
    known = all_known(level, lrv, urv, accuracy)
    if known is None:
        return replace(missing_finding(code, level, lrv, urv, accuracy, place=place), params={"what": name})
    level_m, lrv_m, urv_m, accuracy_m = known
    if margin_of(urv_m, lrv_m) <= 0:  # told as a stop by the check of the span
        return replace(missing_finding(code, NO_SPAN, place=place), params={"what": name})
    lowest, highest = measuring_limits(case.measurement.text("direction") == "reverse")
    low_m = level_at_fraction_m(lowest, lrv_m, urv_m) + accuracy_m
    high_m = level_at_fraction_m(highest, lrv_m, urv_m) - accuracy_m
    at_low = margin_of(level_m, low_m) < margin_of(high_m, level_m)
    margin = margin_of(level_m, low_m) if at_low else margin_of(high_m, level_m)
    limit_m = low_m if at_low else high_m
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={
            "what": name,
            "level": (level_m, "length"),
            "limit": (limit_m, "length"),
            "lrv": (lrv_m, "length"),
            "urv": (urv_m, "length"),
            "beyond": (-margin, "length"),
            "spare": (margin, "length"),
            "accuracy": (accuracy_m, "length_small"),
        },
        kind="length",
        required_si=limit_m if at_low else level_m,
        available_si=level_m if at_low else limit_m,
        margin_si=margin,
        where=Where(elevation_m=level_m),
        working=worked(
            _limit_working(lowest if at_low else highest, lrv_m, urv_m, accuracy_m, limit_m, at_low), accuracy
        ),
        source=NE43,
        fields=(*fields_of(level, lrv, urv, accuracy), "measurement.direction"),
        place=place,
        provisional=frame.provisional,
    )
    return _graded(finding, level_m, lrv_m, urv_m, at_low)


def _graded(finding: Finding, level_m: float, lrv_m: float, urv_m: float, at_low: bool) -> Finding:
    """Stop beyond the measuring current, caution between it and the end of the span, pass inside the span."""
    margin = _margin(finding)
    below, above = margin_of(level_m, lrv_m) < 0, margin_of(urv_m, level_m) < 0
    if margin >= 0 and not below and not above:
        return finding
    end_m, cure_code = (lrv_m, "raise_level") if at_low else (urv_m, "lower_level")
    cures = (Cure(cure_code, "setpoint.level", end_m, "length"),)
    if margin < 0:
        return replace(finding, grade=Grade.STOP, variant="beyond_low" if at_low else "beyond_high", cures=cures)
    return replace(finding, grade=Grade.CAUTION, variant="outside_low" if below else "outside_high", cures=cures)


def _limit_working(
    fraction: float, lrv_m: float, urv_m: float, accuracy_m: float, limit_m: float, at_low: bool
) -> Working:
    inputs = (
        length("LRV", lrv_m),
        length("URV", urv_m),
        Input("f", fraction, "ratio"),
        small_length("u", accuracy_m),
    )
    formula = f"z_limit = LRV + f · (URV − LRV) {'+' if at_low else '−'} u"
    return Working(formula, inputs, "z_limit", limit_m, "length", NE43)
