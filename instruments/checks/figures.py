"""Key figures of a measurement: what an engineer looks up beside the findings, each with its working."""

from collections.abc import Mapping

from instruments.checks.case import Case, Row
from instruments.checks.finding import Figure, Input, Working
from instruments.checks.frame import Frame
from instruments.checks.hydrostatics import SETTLED, set_differences
from instruments.checks.principle import NO_SPAN, is_pressure, measures_distance
from instruments.checks.ranges import effective_ranges, setpoint_level, worst_range
from instruments.checks.solids import solid_figures
from instruments.checks.support import (
    Derived,
    all_known,
    lacks,
    length,
    margin_of,
    worked,
)
from instruments.checks.volume_figures import volume_figures
from instruments.physics.signal import current_a, span_fraction
from project.registry import gettext_noop

NOTHING: Mapping[str, str] = {}
SIGNAL_SOURCE = gettext_noop("IEC 60381-1, linear 4 to 20 mA")


def key_figures(case: Case, frame: Frame | None = None) -> tuple[Figure, ...]:
    """Distances or pressure differences at LRV and URV; range; volumes; heaps of solids; signal at setpoints.

    A figure that lacks data has no value and names the fields; one whose inputs nobody entered is left out. A level
    that lies outside the vessel or its strapping table has no volume; its figure says so with a note. Raises nothing
    for missing or contradictory data.
    """
    frame = frame or Frame(case)
    lrv, urv = frame.entered("measurement.lrv"), frame.entered("measurement.urv")
    return (
        *(_differences(case, frame) if is_pressure(case) else _distances(case, frame, lrv, urv)),
        *volume_figures(case, frame),
        *solid_figures(case, frame),
        *(figure for row in case.setpoints for figure in _signal_at(case, row, lrv, urv)),
    )


def _distances(case: Case, frame: Frame, lrv: Derived, urv: Derived) -> tuple[Figure, ...]:
    if not frame.has_reference_point or not measures_distance(case):
        return ()
    return (
        _figure("reference_point", frame.reference_point),
        _figure("distance_lrv", frame.distance(lrv)),
        _figure("distance_urv", frame.distance(urv)),
        _effective_range(case, frame),
    )


def _differences(case: Case, frame: Frame) -> tuple[Figure, ...]:
    """What the transmitter is set to; none where another arrangement has to be chosen first."""
    if frame.arrangement not in SETTLED:
        return ()
    kind = "pressure_difference"
    return tuple(
        Figure(f"dp_{end}", kind, one.value, {}, one.working, one.missing, one.contradictory)
        for end, one in zip(("lrv", "urv"), set_differences(case, frame), strict=True)
    )


def _figure(key: str, derived: Derived) -> Figure:
    return Figure(key, "length", derived.value, {}, derived.working, derived.missing, derived.contradictory)


def _without(kind: str, key: str, lack: Derived, params: Mapping[str, str] = NOTHING) -> Figure:
    """A figure that has no value for want of what a Derived lacks."""
    return Figure(key, kind, None, params, missing=lack.missing, contradictory=lack.contradictory)


def _effective_range(case: Case, frame: Frame) -> Figure:
    worst = worst_range(effective_ranges(case, frame))
    params = {"case": worst.case} if worst.case else {}
    reach = worst.reach
    return Figure("effective_range", "length", reach.value, params, reach.working, reach.missing, reach.contradictory)


def _signal_at(case: Case, row: Row, lrv: Derived, urv: Derived) -> tuple[Figure, Figure]:
    """Percent of span and current at a setpoint."""
    level, params = setpoint_level(row), {"name": row.text("name")}
    known = all_known(level, lrv, urv)
    if known is None or margin_of(known[1], known[2]) == 0:
        without = lacks(level, lrv, urv) if known is None else NO_SPAN
        return (
            _without("ratio", "setpoint_percent", without, params),
            _without("current", "setpoint_current", without, params),
        )
    level_m, lrv_m, urv_m = known
    fraction = span_fraction(level_m, lrv_m, urv_m)
    inputs = (length("z", level_m), length("LRV", lrv_m), length("URV", urv_m))
    percent = Working("x = (z − LRV)/(URV − LRV)", inputs, "x", fraction, "ratio", SIGNAL_SOURCE)
    reverse = case.measurement.text("direction") == "reverse"
    amperes = current_a(fraction, reverse)
    formula = "i = 20 mA − 16 mA · x" if reverse else "i = 4 mA + 16 mA · x"
    current = Working(formula, (Input("x", fraction, "ratio"),), "i", amperes, "current", SIGNAL_SOURCE)
    return (
        Figure("setpoint_percent", "ratio", fraction, params, percent),
        Figure(
            "setpoint_current",
            "current",
            amperes,
            params,
            worked(current, Derived(fraction, working=percent)),
        ),
    )
