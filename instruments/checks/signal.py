"""Family "signal": the span, and what the current can carry."""

from dataclasses import replace

from instruments.checks.case import Case
from instruments.checks.finding import Cure, Finding, Grade, Where, Working
from instruments.checks.frame import Frame
from instruments.checks.support import (
    GEOMETRY,
    all_known,
    fields_of,
    length,
    margin_of,
    missing_finding,
    worked,
)
from project.registry import gettext_noop

SPAN_SOURCE = gettext_noop("Definition of the span: LRV is the level at 0 %, URV at 100 %")


def span_order(case: Case, frame: Frame) -> Finding:
    """LRV lies below URV; a span of nothing cannot be measured."""
    code = "signal.span_order"
    lrv, urv = frame.entered("measurement.lrv"), frame.entered("measurement.urv")
    known = all_known(lrv, urv)
    if known is None:
        return missing_finding(code, lrv, urv, place="urv")
    lrv_m, urv_m = known
    margin = margin_of(urv_m, lrv_m)
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={"lrv": (lrv_m, "length"), "urv": (urv_m, "length"), "span": (margin, "length")},
        kind="length",
        required_si=lrv_m,
        available_si=urv_m,
        margin_si=margin,
        where=Where(elevation_m=urv_m),
        working=Working(
            "s = URV − LRV", (length("URV", urv_m), length("LRV", lrv_m)), "s", margin, "length", SPAN_SOURCE
        ),
        source=SPAN_SOURCE,
        fields=fields_of(lrv, urv),
        place="urv",
    )
    if margin > 0:
        return finding
    if margin == 0:
        return replace(finding, grade=Grade.STOP, variant="equal")
    return replace(finding, grade=Grade.STOP, variant="reversed", cures=(Cure("swap_span", "measurement.lrv"),))


def span_inside(case: Case, frame: Frame) -> tuple[Finding, ...]:
    """LRV and URV each lie inside the vessel, from the lowest inside point to the roof."""
    return tuple(_end_inside(frame, name) for name in ("lrv", "urv"))


def _end_inside(frame: Frame, stem: str) -> Finding:
    code, key = "signal.span_inside", f"measurement.{stem}"
    level, bottom, roof = frame.entered(key), frame.bottom, frame.roof
    known = all_known(level, bottom, roof)
    if known is None:
        return replace(missing_finding(code, level, bottom, roof, place=stem), params={"what": stem.upper()})
    level_m, bottom_m, roof_m = known
    above, below = margin_of(level_m, bottom_m), margin_of(roof_m, level_m)
    limit = bottom if above < below else roof
    limit_m, margin = (bottom_m, above) if above < below else (roof_m, below)
    at_bottom = limit is bottom
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={
            "what": stem.upper(),
            "level": (level_m, "length"),
            "limit": (limit_m, "length"),
            "bottom": (bottom_m, "length"),
            "roof": (roof_m, "length"),
            "beyond": (-margin, "length"),
        },
        kind="length",
        required_si=limit_m if at_bottom else level_m,
        available_si=level_m if at_bottom else limit_m,
        margin_si=margin,
        where=Where(elevation_m=level_m),
        working=_end_working(level_m, limit_m, margin, at_bottom),
        source=GEOMETRY,
        fields=fields_of(level, bottom, roof),
        place=stem,
    )
    finding = replace(finding, working=worked(finding.working, limit) if finding.working else None)
    if margin >= 0:
        return finding
    variant, code_of_cure = ("below_bottom", "raise_level") if at_bottom else ("above_roof", "lower_level")
    return replace(finding, grade=Grade.STOP, variant=variant, cures=(Cure(code_of_cure, key, limit_m, "length"),))


def _end_working(level_m: float, limit_m: float, margin: float, at_bottom: bool) -> Working:
    inputs = (length("z", level_m), length("z_bottom" if at_bottom else "z_roof", limit_m))
    formula = "m = z − z_bottom" if at_bottom else "m = z_roof − z"
    return Working(formula, inputs, "m", margin, "length", GEOMETRY)
