"""What kind of measurement this is: which checks concern it at all, and how exact its class is."""

from instruments.checks.case import Case
from instruments.checks.finding import Finding, Input, Working
from instruments.checks.frame import Frame
from instruments.checks.support import (
    Derived,
    all_known,
    contradiction,
    derive,
    lacks,
    length,
    margin_of,
    not_applicable,
)

TAPPED = ("two_taps", "remote_seals", "chamber")  # arrangements between an upper and a lower connection

# Principles that measure the distance from a reference point down to the surface, along a beam or a probe.
DISTANCES = ("radar_free", "guided_wave", "ultrasonic", "laser", "magnetostrictive", "capacitance")
PROBES = ("guided_wave", "magnetostrictive", "capacitance")
POINTS = ("vibrating_fork", "float_switch", "capacitance_point", "paddle", "microwave_barrier", "conductivity")
OUTSIDE = ("gamma", "weighing")  # nothing of it is inside the vessel
BY_PERMITTIVITY = ("radar_free", "guided_wave", "capacitance", "capacitance_point", "microwave_barrier")
SHARE_OF_SPAN = ("differential_pressure", "hydrostatic", "displacer", *OUTSIDE)  # how their accuracy is stated

# What needs a span lacks one where LRV is not below URV.
NO_SPAN = contradiction("measurement.lrv", "measurement.urv")


def is_pressure(case: Case) -> bool:
    """True where the level follows from a difference of pressures."""
    return case.sensor_class is not None and case.sensor_class.technology == "differential_pressure"


def is_probe(case: Case) -> bool:
    """True where the sensor sees as far as its probe reaches: a wave, a float or a capacitance along a rod."""
    return case.sensor_class is not None and case.sensor_class.technology in PROBES


def is_outside(case: Case) -> bool:
    """True where nothing of the sensor is inside the vessel or touches what holds its pressure."""
    return case.sensor_class is not None and case.sensor_class.technology in OUTSIDE


def measures_distance(case: Case) -> bool:
    """True where the sensor measures a distance to the surface, or where it is not chosen yet."""
    return case.sensor_class is None or case.sensor_class.technology in DISTANCES


def may_stand_aside(case: Case) -> bool:
    """True where the sensor may stand at the side or bottom as well as on the roof, or nowhere inside."""
    technology = case.sensor_class.technology if case.sensor_class is not None else ""
    return technology in (*POINTS, *OUTSIDE, "hydrostatic")


def needs_permittivity(case: Case) -> bool:
    """True where the medium's relative permittivity matters, or where the class is not chosen yet."""
    return case.sensor_class is None or case.sensor_class.technology in BY_PERMITTIVITY


def states_share_of_span(case: Case) -> bool:
    """True where the class's accuracy is a share of the span rather than a height."""
    return case.sensor_class is not None and case.sensor_class.technology in SHARE_OF_SPAN


def is_tapped(frame: Frame) -> bool:
    """True where the measurement ends at an upper and a lower connection."""
    return frame.arrangement in TAPPED


def no_distance(code: str, case: Case, frame: Frame) -> Finding | None:
    """The finding of a check of distances where there is no distance; None where there is one."""
    if is_pressure(case):
        return not_applicable(code, "pressure", ("measurement.sensor_class",))
    if not measures_distance(case):
        return not_applicable(code, "no_distance", ("measurement.sensor_class",))
    if not frame.has_reference_point:
        return not_applicable(code, "arrangement", ("measurement.arrangement",))
    return None


def class_accuracy(case: Case, frame: Frame) -> Derived:
    """The class's own accuracy as a height in m; of some principles it is a share of the span."""
    if not states_share_of_span(case):
        return frame.entered("sensor_class.accuracy")
    share = frame.entered("sensor_class.accuracy_of_span")
    lrv, urv = frame.entered("measurement.lrv"), frame.entered("measurement.urv")
    known = all_known(share, lrv, urv)
    if known is None:
        return lacks(share, lrv, urv)
    of_span, lrv_m, urv_m = known
    if margin_of(urv_m, lrv_m) <= 0:  # told as a stop by the check of the span
        return NO_SPAN
    inputs = (Input("u_span", of_span, "ratio"), length("URV", urv_m), length("LRV", lrv_m))
    source = frame.class_source("accuracy_of_span")
    working = Working("u = u_span · (URV − LRV)", inputs, "u", of_span * (urv_m - lrv_m), "length_small", source)
    return derive(working, share, lrv, urv)
