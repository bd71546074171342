"""How far the sensor reaches in each operating case, and which levels it has to see."""

from dataclasses import dataclass

from instruments.checks.case import Case, Row
from instruments.checks.finding import Input, Working
from instruments.checks.frame import Frame
from instruments.checks.media import CaseMedium
from instruments.checks.principle import is_probe
from instruments.checks.support import (
    Derived,
    all_known,
    contradiction,
    derive,
    known_or_missing,
    lacks,
    length,
    missing_field,
    small_length,
    unique,
)
from instruments.physics.radar import derated_range_m, echo_level_db, power_reflection
from project.registry import gettext_noop

ECHO_SOURCE = gettext_noop("Fresnel equations, normal incidence")
RANGE_SOURCE = gettext_noop("Fresnel equations; image in a flat reflector: amplitude falls with distance")
NO_CASE = missing_field("case.kind")  # there is no operating case at all


@dataclass(frozen=True, slots=True)
class RangeInCase:
    """How far the sensor reaches in one operating case ('' where that is the same in all)."""

    case: str
    reach: Derived
    loss_db: float = 0.0


def effective_ranges(case: Case, frame: Frame) -> tuple[RangeInCase, ...]:
    """The effective range in every operating case; once, without a case, where the medium does not matter."""
    if is_probe(case):
        probe = frame.entered("measurement.probe_length")
        if not frame.media:
            return (RangeInCase("", lacks(NO_CASE, probe)),)
        return tuple(_probe_range_in(frame, probe, medium) for medium in frame.media)
    class_range = frame.entered("sensor_class.range_max")
    if case.sensor_class is None or case.sensor_class.technology != "radar_free":
        return (RangeInCase("", _class_range(frame, class_range)),)
    if not frame.media:
        return (RangeInCase("", lacks(NO_CASE, class_range)),)
    return tuple(_range_in(frame, class_range, medium) for medium in frame.media)


def _class_range(frame: Frame, class_range: Derived) -> Derived:
    if class_range.value is None:
        return class_range
    inputs = (length("R_class", class_range.value),)
    source = frame.class_source("range_max")
    return derive(Working("R_eff = R_class", inputs, "R_eff", class_range.value, "length", source), class_range)


def _range_in(frame: Frame, class_range: Derived, medium: CaseMedium) -> RangeInCase:
    reference, permittivity = frame.entered("sensor_class.reference_echo"), medium.permittivity
    known = all_known(class_range, reference, permittivity)
    if known is None:
        name = medium.name if permittivity.missing else ""
        return RangeInCase(name, lacks(class_range, reference, permittivity))
    range_m, reference_db, er = known
    if range_m <= 0.0 or reference_db > 0.0:
        return RangeInCase("", contradiction("sensor_class.range_max"))
    # Told as a stop by the check of the permittivity; no echo can be computed from it.
    if not reflects(er):
        return RangeInCase(medium.name, contradiction(*permittivity.fields))
    medium_db = echo_level_db(er)
    result = derated_range_m(range_m, reference_db, medium_db)
    echo = derive(_echo_working(er, medium_db), permittivity)
    inputs = (
        length("R_class", range_m),
        Input("L_ref", reference_db, "level_ratio"),
        Input("L_medium", medium_db, "level_ratio"),
    )
    formula = "R_eff = min(R_class, R_class · 10^(−(L_ref − L_medium)/20))"
    working = Working(formula, inputs, "R_eff", result, "length", RANGE_SOURCE)
    reach = derive(working, class_range, reference, echo)
    return RangeInCase(medium.name, reach, max(0.0, reference_db - medium_db))


def _echo_working(er: float, medium_db: float) -> Working:
    inputs = (Input("εr", er, "permittivity"),)
    formula = "L_medium = 20 · lg((√εr − 1)/(√εr + 1))"
    return Working(formula, inputs, "L_medium", medium_db, "level_ratio", ECHO_SOURCE)


def _probe_range_in(frame: Frame, probe: Derived, medium: CaseMedium) -> RangeInCase:
    """Along a probe: its length less the dead zone at its end, which depends on the medium's permittivity."""
    if frame.case.sensor_class is not None and frame.case.sensor_class.technology != "guided_wave":
        return RangeInCase(medium.name, _less_its_end(frame, probe))
    permittivity, limit = medium.permittivity, frame.entered("sensor_class.end_zone_permittivity")
    stem = "end_zone_below"
    if permittivity.value is not None and limit.value is not None and permittivity.value >= limit.value:
        stem = "end_zone_above"
    zone = frame.entered(f"sensor_class.{stem}")
    known = all_known(probe, permittivity, limit, zone)
    if known is None:
        return RangeInCase(medium.name if permittivity.missing else "", lacks(probe, permittivity, limit, zone))
    inputs = (length("L", known[0]), small_length("D_end", known[3]))
    source = frame.class_source(stem)
    working = Working("R_eff = L − D_end", inputs, "R_eff", known[0] - known[3], "length", source)
    return RangeInCase(medium.name, derive(working, probe, permittivity, limit, zone))


def _less_its_end(frame: Frame, probe: Derived) -> Derived:
    """Along a rod with a float or an insulated end: its length less the part at its end that is not measured."""
    zone = frame.entered("sensor_class.dead_zone_lower")
    known = all_known(probe, zone)
    if known is None:
        return lacks(probe, zone)
    inputs, source = (length("L", known[0]), small_length("D_end", known[1])), frame.class_source("dead_zone_lower")
    working = Working("R_eff = L − D_end", inputs, "R_eff", known[0] - known[1], "length", source)
    return derive(working, probe, zone)


def reflects(permittivity: float) -> bool:
    """True where a surface of that relative permittivity returns an echo at all: it is above 1."""
    return permittivity > 1.0 and power_reflection(permittivity) > 0.0


def worst_range(ranges: tuple[RangeInCase, ...]) -> RangeInCase:
    """The shortest of the ranges; missing where one of them is."""
    without = [one for one in ranges if one.reach.value is None]
    if without:
        cases = ", ".join(unique(one.case for one in without if one.case))
        return RangeInCase(cases, lacks(*(one.reach for one in without)))
    return min(ranges, key=lambda one: one.reach.value or 0.0)


def setpoint_level(row: Row) -> Derived:
    """The level of a setpoint, or that it is missing."""
    return known_or_missing(row.si("level"), "setpoint.level")


def lowest_wanted(case: Case, frame: Frame) -> tuple[str, Derived]:
    """Name and elevation of the lowest level that has to be seen: LRV, or a setpoint below it.

    A setpoint without a level is told by the family "setpoints"; LRV alone decides then.
    """
    levels = [("LRV", frame.entered("measurement.lrv"))]
    if levels[0][1].value is not None:
        levels += [(row.text("name"), setpoint_level(row)) for row in case.setpoints]
    return min(
        ((name, level) for name, level in levels if level.value is not None),
        key=lambda one: one[1].value or 0.0,
        default=levels[0],
    )
