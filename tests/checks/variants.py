"""For every code and variant that the checks know: a case that brings it about. One line for each."""

from collections.abc import Callable

from instruments.checks.case import Case
from tests.checks.builders import GOOD_CASES, ULTRASONIC, make_case

SOLID = {"m1": {"kind": "solid", "permittivity": "3"}}
NO_DESIGN_MIN = {"vessel.design_temperature_min": None, "vessel.design_pressure_min": None}
DESIGN_CASE = {
    "kind": "design",
    "display": "Design",
    "medium": "m1",
    "temperature": "90 °C",
    "pressure": "2 bar(g)",
}
NO_DESIGN_MAX = {"vessel.design_temperature_max": None, "vessel.design_pressure_max": None}


def _ultrasonic(lrv: str) -> Case:
    return make_case({"measurement.lrv": lrv}, sensor_class=ULTRASONIC, setpoints=())


def _setpoint(level: str) -> Case:
    return make_case(setpoints=[("H", level)])


VARIANTS: dict[tuple[str, str], Callable[[], Case]] = {
    ("reach.range", "ok"): make_case,
    ("reach.range", "short"): lambda: make_case({"medium.permittivity": "1.7"}),
    ("reach.range", "ok_class"): lambda: _ultrasonic("5 m"),
    ("reach.range", "short_class"): lambda: _ultrasonic("1 m"),
    ("reach.dead_zone_urv", "ok"): make_case,
    ("reach.dead_zone_urv", "close"): lambda: make_case({"measurement.urv": "12.689 m"}),
    ("reach.dead_zone_urv", "inside"): lambda: make_case({"measurement.urv": "12.75 m"}),
    ("reach.dead_zone_setpoint", "ok"): make_case,
    ("reach.dead_zone_setpoint", "close"): lambda: _setpoint("12.689 m"),
    ("reach.dead_zone_setpoint", "inside"): lambda: _setpoint("12.75 m"),
    ("reach.dead_zone_setpoint", "none"): lambda: make_case(setpoints=()),
    ("reach.dead_zone_overflow", "ok"): make_case,
    ("reach.dead_zone_overflow", "inside"): lambda: make_case({"vessel.overflow_level": "12.7 m"}),
    ("reach.dead_zone_overflow", "none"): lambda: make_case({"vessel.overflow_level": None}),
    ("reach.bottom", "ok"): make_case,
    ("reach.bottom", "below"): lambda: make_case({"measurement.lrv": "0 m"}),
    ("reach.permittivity", "ok"): make_case,
    ("reach.permittivity", "low"): lambda: make_case({"medium.permittivity": "1.5"}),
    ("reach.permittivity", "impossible"): lambda: make_case({"medium.permittivity": "0.9"}),
    ("reach.permittivity", "not_radar"): lambda: make_case(sensor_class=ULTRASONIC),
    ("reach.accuracy", "ok"): make_case,
    ("reach.accuracy", "coarse"): lambda: make_case({"measurement.accuracy": "1 mm"}),
    ("reach.accuracy", "none"): lambda: make_case({"measurement.accuracy": None}),
    ("process.medium_kind", "ok"): make_case,
    ("process.medium_kind", "unsuited"): lambda: make_case(media=SOLID),
    ("process.temperature_high", "ok"): lambda: make_case(NO_DESIGN_MAX, cases=(*GOOD_CASES, DESIGN_CASE)),
    ("process.temperature_high", "beyond"): lambda: make_case({"case.Maximum.temperature": "150 °C"}),
    ("process.temperature_high", "ok_design"): make_case,
    ("process.temperature_high", "beyond_design"): lambda: make_case({"vessel.design_temperature_max": "200 °C"}),
    ("process.temperature_low", "ok"): lambda: make_case(NO_DESIGN_MIN),
    ("process.temperature_low", "beyond"): lambda: make_case({"case.Minimum.temperature": "-30 °C"}),
    ("process.temperature_low", "ok_design"): make_case,
    ("process.temperature_low", "beyond_design"): lambda: make_case({"vessel.design_temperature_min": "-29 °C"}),
    ("process.pressure_high", "ok"): lambda: make_case(NO_DESIGN_MAX, cases=(*GOOD_CASES, DESIGN_CASE)),
    ("process.pressure_high", "beyond"): lambda: make_case({"case.Maximum.pressure": "20 bar(g)"}),
    ("process.pressure_high", "ok_design"): make_case,
    ("process.pressure_high", "beyond_design"): lambda: make_case({"vessel.design_pressure_max": "25 bar(g)"}),
    ("process.pressure_low", "ok"): lambda: make_case(NO_DESIGN_MIN),
    ("process.pressure_low", "beyond"): lambda: make_case(
        {"case.Minimum.pressure": "0.1 bar(a)"}, sensor_class=ULTRASONIC
    ),
    ("process.pressure_low", "ok_design"): make_case,
    ("process.pressure_low", "beyond_design"): lambda: make_case(
        {"vessel.design_pressure_min": "0.1 bar(a)"}, sensor_class=ULTRASONIC
    ),
    ("mounting.vessel_shape", "ok"): make_case,
    ("mounting.vessel_shape", "impossible"): lambda: make_case({"vessel.bottom": "flat"}),
    ("mounting.nozzle_face", "ok"): make_case,
    ("mounting.nozzle_face", "below_roof"): lambda: make_case({"nozzle.projection": "-10 mm"}),
    ("mounting.nozzle_face", "two_elevations"): lambda: make_case({"nozzle.face_elevation": "12.85 m"}),
    ("mounting.nozzle_position", "ok"): make_case,
    ("mounting.nozzle_position", "outside"): lambda: make_case({"nozzle.radius": "3 m"}),
    ("mounting.opening", "ok"): make_case,
    ("mounting.opening", "tight"): lambda: make_case({"nozzle.bore": "44 mm"}),
    ("mounting.opening", "narrow"): lambda: make_case({"nozzle.bore": "40 mm"}),
    ("signal.span_order", "ok"): make_case,
    ("signal.span_order", "equal"): lambda: make_case({"measurement.urv": "0.5 m"}),
    ("signal.span_order", "reversed"): lambda: make_case({"measurement.urv": "0.4 m"}),
    ("signal.span_inside", "ok"): make_case,
    ("signal.span_inside", "below_bottom"): lambda: make_case({"measurement.lrv": "-0.1 m"}),
    ("signal.span_inside", "above_roof"): lambda: make_case({"measurement.urv": "13 m"}),
    ("setpoints.order", "ok"): make_case,
    ("setpoints.order", "wrong"): lambda: make_case(setpoints=[("HH", "11 m"), ("H", "11.5 m")]),
    ("setpoints.order", "too_few"): lambda: _setpoint("11 m"),
    ("setpoints.inside_span", "ok"): make_case,
    ("setpoints.inside_span", "outside_low"): lambda: _setpoint("0.45 m"),
    ("setpoints.inside_span", "outside_high"): lambda: _setpoint("12.2 m"),
    ("setpoints.inside_span", "beyond_low"): lambda: _setpoint("0.1 m"),
    ("setpoints.inside_span", "beyond_high"): lambda: _setpoint("12.6 m"),
    ("setpoints.inside_span", "none"): lambda: make_case(setpoints=()),
}
