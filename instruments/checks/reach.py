"""Family "reach": does the sensor see the whole span, and every setpoint, in this medium."""

from dataclasses import replace

from instruments.checks.case import Case
from instruments.checks.finding import Cure, Finding, Grade, Input, Where, Working
from instruments.checks.frame import CaseMedium, Frame
from instruments.checks.principle import (
    class_accuracy,
    is_pressure,
    is_probe,
    needs_permittivity,
    no_distance,
    states_share_of_span,
)
from instruments.checks.ranges import (
    NO_CASE,
    RangeInCase,
    effective_ranges,
    lowest_wanted,
    reflects,
    setpoint_level,
)
from instruments.checks.support import (
    GEOMETRY,
    Derived,
    all_known,
    fields_of,
    length,
    margin_of,
    missing_finding,
    not_applicable,
    small_length,
    worked,
    worst_of,
)
from project.registry import gettext_noop

NO_ECHO_SOURCE = gettext_noop("Fresnel equations: relative permittivity 1 is that of a vacuum and returns nothing")


# --- range --------------------------------------------------------------------------------------------------


def range_(case: Case, frame: Frame) -> Finding:
    """The distance to the lowest level is within the effective range, in every operating case."""
    nothing = no_distance("reach.range", case, frame)
    if nothing is not None:
        return nothing
    what, level = lowest_wanted(case, frame)
    distance = frame.distance(level)
    found = [_range_finding(case, frame, what, level, distance, one) for one in effective_ranges(case, frame)]
    return worst_of(found)


def _range_finding(case: Case, frame: Frame, what: str, level: Derived, distance: Derived, one: RangeInCase) -> Finding:
    place = "lrv" if what == "LRV" else f"setpoint-{what}"
    known = all_known(level, distance, one.reach)
    if known is None:
        name = one.case if one.reach.missing else ""
        return missing_finding("reach.range", level, distance, one.reach, place=place, case=name)
    level_m, distance_m, reach_m = known
    margin = margin_of(reach_m, distance_m)
    by_probe = is_probe(case)
    limit = "_probe" if by_probe else "" if one.case else "_class"
    finding = Finding(
        "reach.range",
        Grade.PASS,
        f"ok{limit}",
        params=_range_params(what, level_m, distance_m, reach_m, margin, one.case),
        kind="length",
        required_si=distance_m,
        available_si=reach_m,
        margin_si=margin,
        where=Where(one.case, level_m),
        working=_range_working(distance, one.reach, margin),
        source=one.reach.working.source if one.reach.working else "",
        fields=fields_of(level, distance, one.reach),
        place=place,
        provisional=frame.provisional,
    )
    if margin >= 0:
        return finding
    reference_m = frame.reference_point.value or 0.0
    probe_m = frame.entered("measurement.probe_length").value or 0.0
    cures = (
        Cure("raise_level", level.fields[0], reference_m - reach_m, "length"),
        Cure("longer_probe", "measurement.probe_length", probe_m - margin, "length")
        if by_probe
        else _other_class("other_class_range", distance_m * 10 ** (one.loss_db / 20), "length"),
    )
    return replace(finding, grade=Grade.STOP, variant=f"short{limit}", cures=cures)


def _other_class(code: str, value_si: float, kind: str) -> Cure:
    return Cure(code, "measurement.sensor_class", value_si, kind)


def _range_working(distance: Derived, reach: Derived, margin: float) -> Working:
    inputs = (
        length("R_eff", reach.value or 0.0),
        length("d", distance.value or 0.0),
    )
    return worked(Working("m = R_eff − d", inputs, "m", margin, "length", GEOMETRY), reach, distance)


def _range_params(
    what: str, level_m: float, distance_m: float, reach_m: float, margin: float, case: str
) -> dict[str, str | tuple[float, str]]:
    return {
        "what": what,
        "level": (level_m, "length"),
        "distance": (distance_m, "length"),
        "range": (reach_m, "length"),
        "short": (-margin, "length"),
        "spare": (margin, "length"),
        "case": case,
    }


# --- upper dead zone ----------------------------------------------------------------------------------------


def dead_zone_urv(case: Case, frame: Frame) -> Finding:
    """URV lies below the upper dead zone, by the accuracy of the class."""
    code = "reach.dead_zone_urv"
    nothing = no_distance(code, case, frame)
    return nothing or _below_dead_zone(frame, code, "URV", frame.entered("measurement.urv"), "urv")


def dead_zone_setpoint(case: Case, frame: Frame) -> tuple[Finding, ...]:
    """Every setpoint of this signal lies below the upper dead zone, by the accuracy of the class."""
    if not case.setpoints:
        return (not_applicable("reach.dead_zone_setpoint", "none"),)
    nothing = no_distance("reach.dead_zone_setpoint", case, frame)
    if nothing is not None:
        return (nothing,)
    return tuple(
        _below_dead_zone(
            frame,
            "reach.dead_zone_setpoint",
            row.text("name"),
            setpoint_level(row),
            f"setpoint-{row.text('name')}",
        )
        for row in case.setpoints
    )


def _below_dead_zone(frame: Frame, code: str, what: str, level: Derived, place: str) -> Finding:
    end, accuracy = frame.dead_zone_end, frame.entered("sensor_class.accuracy")
    known = all_known(level, end, accuracy)
    if known is None:
        return replace(missing_finding(code, level, end, accuracy, place=place), params={"what": what})
    level_m, end_m, accuracy_m = known
    highest_m = end_m - accuracy_m
    margin = margin_of(highest_m, level_m)
    inside = margin_of(end_m, level_m) < 0
    inputs = (
        length("z_dead", end_m),
        small_length("u", accuracy_m),
    )
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={
            "what": what,
            "level": (level_m, "length"),
            "end": (end_m, "length"),
            "inside": (level_m - end_m, "length"),
            "clear": (end_m - level_m, "length"),
            "accuracy": (accuracy_m, "length_small"),
            "spare": (margin, "length"),
            "short": (-margin, "length"),
        },
        kind="length",
        required_si=level_m,
        available_si=highest_m,
        margin_si=margin,
        where=Where(elevation_m=level_m),
        working=worked(Working("z_max = z_dead − u", inputs, "z_max", highest_m, "length", GEOMETRY), end),
        source=frame.class_source("dead_zone_upper"),
        fields=fields_of(level, end, accuracy),
        place=place,
        provisional=frame.provisional,
    )
    if margin >= 0:
        return finding
    cures = (Cure("lower_level", level.fields[0], highest_m, "length"), *_raising(frame, -margin))
    return replace(finding, grade=Grade.STOP, variant="inside" if inside else "close", cures=cures)


def _raising(frame: Frame, by_m: float) -> tuple[Cure, ...]:
    """What lifts the sensor by a height (nozzle, adapter), or a class whose dead zone is shorter."""
    cures: list[Cure] = []
    top = frame.entered("measurement.reference_elevation")
    if frame.arrangement == "chamber":
        if top.value is not None:
            cures.append(Cure("raise_chamber_top", "measurement.reference_elevation", top.value + by_m, "length"))
        return (*cures, *_shorter_dead_zone(frame, by_m))
    for key, kind in (("nozzle.projection", "length_small"), ("nozzle.face_elevation", "length")):
        entered = frame.entered(key)
        if entered.value is not None:
            cures.append(Cure("raise_nozzle", key, entered.value + by_m, kind))
    adapter = frame.optional("measurement.adapter_length", 0.0)
    if adapter.value is not None:
        cures.append(Cure("longer_adapter", "measurement.adapter_length", adapter.value + by_m, "length_small"))
    return (*cures, *_shorter_dead_zone(frame, by_m))


def _shorter_dead_zone(frame: Frame, by_m: float) -> tuple[Cure, ...]:
    zone = frame.entered("sensor_class.dead_zone_upper")
    if zone.value is None or zone.value < by_m:
        return ()
    return (_other_class("other_class_dead_zone", zone.value - by_m, "length_small"),)


def dead_zone_overflow(case: Case, frame: Frame) -> Finding:
    """The overflow level lies below the upper dead zone; above it an overflowing vessel is not seen."""
    code, key = "reach.dead_zone_overflow", "vessel.overflow_level"
    nothing = no_distance(code, case, frame)
    if nothing is not None:
        return nothing
    overflow, end = frame.entered(key), frame.dead_zone_end
    if frame.is_empty(overflow, key):
        return not_applicable(code, "none", (key,))
    known = all_known(overflow, end)
    if known is None:
        return missing_finding(code, overflow, end, place="dead-zone")
    overflow_m, end_m = known
    margin = margin_of(end_m, overflow_m)
    return Finding(
        code,
        Grade.PASS if margin >= 0 else Grade.CAUTION,
        "ok" if margin >= 0 else "inside",
        params={"level": (overflow_m, "length"), "end": (end_m, "length"), "inside": (-margin, "length")},
        kind="length",
        required_si=overflow_m,
        available_si=end_m,
        margin_si=margin,
        where=Where(elevation_m=overflow_m),
        working=end.working,
        source=frame.class_source("dead_zone_upper"),
        cures=() if margin >= 0 else _raising(frame, -margin),
        fields=fields_of(overflow, end),
        place="dead-zone",
        provisional=frame.provisional,
    )


# --- bottom, permittivity, accuracy -------------------------------------------------------------------------


def bottom(case: Case, frame: Frame) -> Finding:
    """The lowest level clears the bottom on the sensor's axis by the lower dead zone.

    A probe sees as far as it reaches, a chamber as far as its lower connection; other checks tell of both.
    """
    nothing = no_distance("reach.bottom", case, frame)
    if nothing is not None:
        return nothing
    if frame.arrangement == "chamber":
        return not_applicable("reach.bottom", "chamber", ("measurement.arrangement",))
    if is_probe(case):
        return not_applicable("reach.bottom", "probe", ("measurement.sensor_class",))
    what, level = lowest_wanted(case, frame)
    axis, zone = frame.bottom_on_axis, frame.entered("sensor_class.dead_zone_lower")
    known = all_known(level, axis, zone)
    if known is None:
        return missing_finding("reach.bottom", level, axis, zone, place="bottom")
    level_m, axis_m, zone_m = known
    lowest_m = axis_m + zone_m
    margin = margin_of(level_m, lowest_m)
    inputs = (
        length("z_axis", axis_m),
        small_length("D_low", zone_m),
    )
    finding = Finding(
        "reach.bottom",
        Grade.PASS,
        "ok",
        params={
            "what": what,
            "level": (level_m, "length"),
            "lowest": (lowest_m, "length"),
            "below": (-margin, "length"),
        },
        kind="length",
        required_si=lowest_m,
        available_si=level_m,
        margin_si=margin,
        where=Where(elevation_m=level_m),
        working=worked(Working("z_min = z_axis + D_low", inputs, "z_min", lowest_m, "length", GEOMETRY), axis),
        source=GEOMETRY,
        fields=fields_of(level, axis, zone),
        place="bottom",
        provisional=frame.provisional,
    )
    if margin >= 0:
        return finding
    cures = (
        Cure("raise_level", level.fields[0], lowest_m, "length"),
        Cure("towards_lowest_point", "nozzle.radius"),
    )
    return replace(finding, grade=Grade.STOP, variant="below", cures=cures)


def permittivity(case: Case, frame: Frame) -> Finding:
    """Where it matters, the medium's relative permittivity is enough for the class, in every operating case."""
    code = "reach.permittivity"
    if case.sensor_class is not None and case.sensor_class.technology == "ultrasonic":
        return not_applicable(code, "not_radar", ("measurement.sensor_class",))
    if is_pressure(case):
        return not_applicable(code, "pressure", ("measurement.sensor_class",))
    if not needs_permittivity(case):
        return not_applicable(code, "other_principle", ("measurement.sensor_class",))
    least = frame.entered("sensor_class.permittivity_min")
    if not frame.media:
        return missing_finding(code, NO_CASE, least)
    return worst_of([_permittivity_finding(frame, code, least, medium) for medium in frame.media])


def _permittivity_finding(frame: Frame, code: str, least: Derived, medium: CaseMedium) -> Finding:
    er = medium.permittivity
    if er.value is not None and not reflects(er.value):
        return Finding(
            code,
            Grade.STOP,
            "impossible",
            params={"value": (er.value, "permittivity"), "case": medium.name},
            where=Where(medium.name),
            source=NO_ECHO_SOURCE,
            fields=er.fields,
        )
    known = all_known(er, least)
    if known is None:
        return missing_finding(code, er, least, case=medium.name if er.missing else "")
    value, least_er = known
    margin = margin_of(value, least_er)
    return Finding(
        code,
        Grade.PASS if margin >= 0 else Grade.STOP,
        "ok" if margin >= 0 else "low",
        params={"value": (value, "permittivity"), "least": (least_er, "permittivity"), "case": medium.name},
        kind="permittivity",
        required_si=least_er,
        available_si=value,
        margin_si=margin,
        where=Where(medium.name),
        working=Working(
            "m = εr − εr_min",
            (Input("εr", value, "permittivity"), Input("εr_min", least_er, "permittivity")),
            "m",
            margin,
            "permittivity",
            frame.class_source("permittivity_min"),
        ),
        source=frame.class_source("permittivity_min"),
        cures=() if margin >= 0 else (_other_class("other_class_permittivity", value, "permittivity"),),
        fields=fields_of(er, least),
        provisional=frame.provisional,
    )


def accuracy(case: Case, frame: Frame) -> Finding:
    """The class's own accuracy is at least what is asked for; further contributions are not in it."""
    code, key = "reach.accuracy", "measurement.accuracy"
    asked, offered = frame.entered(key), class_accuracy(case, frame)
    if frame.is_empty(asked, key):
        return not_applicable(code, "none", (key,))
    known = all_known(asked, offered)
    if known is None:
        return missing_finding(code, asked, offered)
    asked_m, offered_m = known
    margin = margin_of(asked_m, offered_m)
    inputs = (small_length("u_asked", asked_m), small_length("u", offered_m))
    source = frame.class_source("accuracy_of_span" if states_share_of_span(case) else "accuracy")
    return Finding(
        code,
        Grade.PASS if margin >= 0 else Grade.STOP,
        "ok" if margin >= 0 else "coarse",
        params={"asked": (asked_m, "length_small"), "offered": (offered_m, "length_small")},
        kind="length_small",
        required_si=asked_m,
        available_si=offered_m,
        margin_si=margin,
        working=worked(Working("m = u_asked − u", inputs, "m", margin, "length_small", source), offered),
        source=source,
        cures=() if margin >= 0 else (_other_class("other_class_accuracy", asked_m, "length_small"),),
        fields=fields_of(asked, offered),
        provisional=frame.provisional,
    )
