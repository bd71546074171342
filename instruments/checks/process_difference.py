"""Family "process", pressure differences: does the cell span them, and what does a change of density do."""

from collections.abc import Callable
from dataclasses import replace

from instruments.checks.case import Case
from instruments.checks.finding import Cure, Finding, Grade, Input, Where, Working
from instruments.checks.frame import Frame
from instruments.checks.hydrostatics import SETTLED, Filling, difference_at, fillings, set_differences
from instruments.checks.principle import NO_SPAN, is_pressure
from instruments.checks.ranges import NO_CASE
from instruments.checks.support import (
    Derived,
    all_known,
    derive,
    fields_of,
    lacks,
    length,
    margin_of,
    missing_field,
    missing_finding,
    not_applicable,
    unique,
    worked,
    worst_of,
)
from instruments.physics.hydrostatic import indicated_level_m
from project.registry import gettext_noop

KIND = "pressure_difference"
COMPENSATION = ("measurement.density_compensation", "measurement.compensation")
COMPENSATED = ("temperature", "pressure_temperature", "saturation", "density")  # by what the density is known
LINEAR = gettext_noop("Hydrostatics; linear between the two differences that the transmitter is set to")
SUBTRACTION = gettext_noop("Hydrostatics")


def _concerns_nothing(code: str, case: Case, frame: Frame) -> Finding | None:
    """Why there is no pressure difference to check; None where there is one."""
    if case.sensor_class is not None and not is_pressure(case):
        return not_applicable(code, "other_principle", ("measurement.sensor_class",))
    if frame.arrangement not in SETTLED:
        return not_applicable(code, "arrangement", ("measurement.arrangement",))
    if case.sensor_class is None:
        return missing_finding(code, missing_field("measurement.sensor_class"))
    return None


# --- what the cell is set to --------------------------------------------------------------------------------


def dp_span(case: Case, frame: Frame) -> Finding:
    """The pressure span from LRV to URV in the normal case is within the class's least and greatest span."""
    code = "process.dp_span"
    nothing = _concerns_nothing(code, case, frame)
    if nothing is not None:
        return nothing
    low, high = set_differences(case, frame)
    least, most = frame.entered("sensor_class.pressure_span_min"), frame.entered("sensor_class.pressure_span_max")
    known = all_known(low, high, least, most)
    if known is None:
        return missing_finding(code, low, high, least, most)
    low_pa, high_pa, least_pa, most_pa = known
    span_pa = margin_of(high_pa, low_pa)
    too_small = margin_of(span_pa, least_pa) < margin_of(most_pa, span_pa)
    limit_pa = least_pa if too_small else most_pa
    margin = margin_of(span_pa, least_pa) if too_small else margin_of(most_pa, span_pa)
    inputs = (Input("Δp_100", high_pa, KIND), Input("Δp_0", low_pa, KIND))
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={"span": (span_pa, KIND), "least": (least_pa, KIND), "most": (most_pa, KIND)},
        kind=KIND,
        required_si=limit_pa if too_small else span_pa,
        available_si=span_pa if too_small else limit_pa,
        margin_si=margin,
        working=worked(Working("Δp_span = Δp_100 − Δp_0", inputs, "Δp_span", span_pa, KIND, SUBTRACTION), low, high),
        source=frame.class_source("pressure_span_min" if too_small else "pressure_span_max"),
        fields=fields_of(low, high, least, most),
        provisional=frame.provisional,
    )
    if margin >= 0:
        return finding
    variant = "small" if too_small else "large"
    cure = Cure(f"other_class_span_{variant}", "measurement.sensor_class", span_pa, KIND)
    return replace(finding, grade=Grade.STOP, variant=variant, cures=(cure,) if span_pa > 0 else ())


# --- what acts on the cell, case by case --------------------------------------------------------------------


def _over_cases(case: Case, frame: Frame, code: str, check: Callable[[Filling, str, Derived], Finding]) -> Finding:
    """The worst of a check at LRV and URV over all operating cases."""
    ends = (("lrv", frame.entered("measurement.lrv")), ("urv", frame.entered("measurement.urv")))
    found = [check(filling, end, level) for filling in fillings(case, frame) for end, level in ends]
    return worst_of(found) if found else missing_finding(code, NO_CASE)


def dp_limits(case: Case, frame: Frame) -> Finding:
    """The differences at LRV and URV are within what the cell measures, in every operating case, signs included."""
    code = "process.dp_limits"
    nothing = _concerns_nothing(code, case, frame)
    if nothing is not None:
        return nothing
    return _over_cases(case, frame, code, lambda filling, end, level: _limit_finding(frame, code, filling, end, level))


def _limit_finding(frame: Frame, code: str, filling: Filling, end: str, level: Derived) -> Finding:
    difference = difference_at(frame, level, filling, "Δp")
    lowest, highest = frame.entered("sensor_class.difference_min"), frame.entered("sensor_class.difference_max")
    known = all_known(difference, lowest, highest)
    if known is None:
        return missing_finding(code, difference, lowest, highest, case=_named(filling))
    pressure_pa, lowest_pa, highest_pa = known
    at_low = margin_of(pressure_pa, lowest_pa) < margin_of(highest_pa, pressure_pa)
    limit_pa = lowest_pa if at_low else highest_pa
    margin = margin_of(pressure_pa, lowest_pa) if at_low else margin_of(highest_pa, pressure_pa)
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={
            "what": end.upper(),
            "difference": (pressure_pa, KIND),
            "limit": (limit_pa, KIND),
            "beyond": (-margin, KIND),
            "case": filling.case,
        },
        kind=KIND,
        required_si=limit_pa if at_low else pressure_pa,
        available_si=pressure_pa if at_low else limit_pa,
        margin_si=margin,
        where=Where(filling.case, level.value),
        working=difference.working,
        source=frame.class_source("difference_min" if at_low else "difference_max"),
        fields=fields_of(difference, lowest, highest),
        provisional=frame.provisional,
    )
    if margin >= 0:
        return finding
    cure = Cure(f"other_class_difference_{'low' if at_low else 'high'}", "measurement.sensor_class", pressure_pa, KIND)
    return replace(finding, grade=Grade.STOP, variant="below" if at_low else "above", cures=(cure,))


def dp_density(case: Case, frame: Frame) -> Finding:
    """The level is shown within the accuracy asked for though densities are not those that the cell is set to.

    Other operating cases than the normal one, at LRV and URV, by signed error. A stop, because it is physics; a caution
    where the reading is said to be compensated for density, which a person has to see proved.
    """
    code = "process.dp_density"
    nothing = _concerns_nothing(code, case, frame)
    if nothing is not None:
        return nothing
    if fillings(case, frame) and all(one.is_normal for one in fillings(case, frame)):
        return not_applicable(code, "only_normal", ("case.kind",))
    set_to = set_differences(case, frame)
    return _over_cases(
        case, frame, code, lambda filling, end, level: _density_finding(case, frame, set_to, filling, end, level)
    )


def _density_finding(
    case: Case, frame: Frame, set_to: tuple[Derived, Derived], filling: Filling, end: str, level: Derived
) -> Finding:
    code, asked = "process.dp_density", frame.entered("measurement.accuracy")
    error = _reading_error(frame, set_to, level, difference_at(frame, level, filling, "Δp"))
    known = all_known(error, asked)
    if known is None:
        return missing_finding(code, error, asked, case=_named(filling))
    error_m, asked_m = known
    # The sign of the error stands in the finding; how far it may go is asked for in both directions alike.
    margin = margin_of(asked_m, error_m if error_m > 0 else -error_m)
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={
            "what": end.upper(),
            "error": (error_m, "length_small"),
            "asked": (asked_m, "length_small"),
            "case": filling.case,
        },
        kind="length_small",
        required_si=asked_m,
        available_si=error_m,
        margin_si=margin,
        where=Where(filling.case, level.value),
        working=error.working,
        source=LINEAR,
        fields=fields_of(error, asked),
    )
    if margin >= 0:
        return finding
    finding = replace(finding, fields=unique((*finding.fields, *COMPENSATION)))
    if _is_compensated(case):
        cures = (Cure("prove_compensation", "measurement.compensation"),)
        return replace(finding, grade=Grade.CAUTION, variant="compensated", cures=cures)
    cures = (Cure("compensate_density", "measurement.density_compensation"),)
    return replace(finding, grade=Grade.STOP, variant="off", cures=cures)


def _is_compensated(case: Case) -> bool:
    """True where it is chosen how the reading is corrected for density; another way counts where it is described."""
    how, description = (case.measurement.text(key.partition(".")[2]) for key in COMPENSATION)
    return bool(description.strip()) if how == "other" else how in COMPENSATED


def _reading_error(frame: Frame, set_to: tuple[Derived, Derived], level: Derived, difference: Derived) -> Derived:
    """What the transmitter shows less the true level, in m."""
    lrv, urv = frame.entered("measurement.lrv"), frame.entered("measurement.urv")
    known = all_known(level, difference, *set_to, lrv, urv)
    if known is None:
        return lacks(level, difference, *set_to, lrv, urv)
    level_m, acting_pa, low_pa, high_pa, lrv_m, urv_m = known
    if margin_of(high_pa, low_pa) == 0 or margin_of(urv_m, lrv_m) <= 0:  # told as stops by the checks of both spans
        return NO_SPAN
    shown_m = indicated_level_m(acting_pa, low_pa, high_pa, lrv_m, urv_m)
    inputs = (
        length("LRV", lrv_m),
        length("URV", urv_m),
        Input("Δp", acting_pa, KIND),
        Input("Δp_0", low_pa, KIND),
        Input("Δp_100", high_pa, KIND),
    )
    formula = "z_shown = LRV + (URV − LRV) · (Δp − Δp_0)/(Δp_100 − Δp_0)"
    working = Working(formula, inputs, "z_shown", shown_m, "length", LINEAR)
    shown = derive(working, lrv, urv, *set_to, difference)
    error_m = margin_of(shown_m, level_m)
    levels = (length("z_shown", shown_m), length("z", level_m))
    return derive(Working("e = z_shown − z", levels, "e", error_m, "length_small", LINEAR), shown, level)


def _named(filling: Filling) -> str:
    """The case to name where something is missing: only where it is the case's own data."""
    return filling.case if filling.medium.missing or filling.above.missing else ""
