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

# What needs a span lacks one where LRV is not below URV.
NO_SPAN = contradiction("measurement.lrv", "measurement.urv")


def is_pressure(case: Case) -> bool:
    """True where the level follows from a difference of pressures."""
    return case.sensor_class is not None and case.sensor_class.technology == "differential_pressure"


def is_probe(case: Case) -> bool:
    """True where a wave runs along a probe."""
    return case.sensor_class is not None and case.sensor_class.technology == "guided_wave"


def is_tapped(frame: Frame) -> bool:
    """True where the measurement ends at an upper and a lower connection."""
    return frame.arrangement in TAPPED


def no_distance(code: str, case: Case, frame: Frame) -> Finding | None:
    """The finding of a check of distances where there is no distance; None where there is one."""
    if is_pressure(case):
        return not_applicable(code, "pressure", ("measurement.sensor_class",))
    if not frame.has_reference_point:
        return not_applicable(code, "arrangement", ("measurement.arrangement",))
    return None


def class_accuracy(case: Case, frame: Frame) -> Derived:
    """The class's own accuracy as a height in m; of a pressure sensor it is a share of the span."""
    if not is_pressure(case):
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
