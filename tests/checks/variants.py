"""For every code and variant that the checks know: a case that brings it about. One line for each."""

from collections.abc import Callable
from dataclasses import replace

from instruments.checks.case import Case, Row
from tests.checks.builders import (
    GOOD_CASES,
    GOOD_TAPS,
    LEGS,
    ROPE,
    SEALS,
    ULTRASONIC,
    make_case,
    make_chamber_case,
    make_class,
    make_legs_case,
    make_rope_case,
    make_seals_case,
    make_silo_case,
)
from tests.checks.variants_mounting import VARIANTS as MOUNTING_VARIANTS
from tests.checks.variants_principles import PRINCIPLE_VARIANTS
from tests.checks.variants_process import PROCESS_VARIANTS

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


# Off the middle, so that bearings matter.
AGITATOR = {"kind": "agitator", "name": "A-1", "radius": "1 m", "bearing": "90°", "elevation_low": "1 m",
            "elevation_high": "3 m", "width": "1.2 m"}  # fmt: skip


def with_agitator(bearing: str = "90°", changes: dict[str, str | None] | None = None, **kwargs: object) -> Case:
    """The good rope, at radius 1 m, beside an agitator at the same radius."""
    return make_rope_case({"nozzle.bearing": bearing, **(changes or {})}, **{"internals": [AGITATOR], **kwargs})


def _as(arrangement: str) -> Case:
    """The good radar, put into an arrangement that it does not suit."""
    return make_case({"measurement.arrangement": arrangement})


def _before_sharing_was_noted() -> Case:
    case = make_case()
    rows = (Row(row.uid, {stem: held for stem, held in row.values.items() if stem != "shared_with"}) for row in
            case.connections)  # fmt: skip
    return replace(case, connections=tuple(rows))


VARIANTS: dict[tuple[str, str], Callable[[], Case]] = {
    **PROCESS_VARIANTS,
    **PRINCIPLE_VARIANTS,
    **MOUNTING_VARIANTS,
    ("reach.range", "ok"): make_case,
    ("reach.range", "short"): lambda: make_case({"medium.permittivity": "1.7"}),
    ("reach.range", "ok_class"): lambda: _ultrasonic("5 m"),
    ("reach.range", "short_class"): lambda: _ultrasonic("1 m"),
    ("reach.range", "ok_probe"): make_rope_case,
    ("reach.range", "short_probe"): lambda: make_rope_case({"measurement.probe_length": "11 m"}),
    ("reach.range", "pressure"): make_legs_case,
    ("reach.range", "arrangement"): lambda: _as("none"),
    ("reach.dead_zone_urv", "ok"): make_case,
    ("reach.dead_zone_urv", "pressure"): make_seals_case,
    ("reach.dead_zone_urv", "arrangement"): lambda: _as("none"),
    ("reach.dead_zone_setpoint", "pressure"): make_legs_case,
    ("reach.dead_zone_setpoint", "arrangement"): lambda: _as("none"),
    ("reach.dead_zone_overflow", "pressure"): make_legs_case,
    ("reach.dead_zone_overflow", "arrangement"): lambda: _as("none"),
    ("reach.bottom", "pressure"): make_legs_case,
    ("reach.bottom", "arrangement"): lambda: _as("none"),
    ("reach.bottom", "chamber"): make_chamber_case,
    ("reach.bottom", "probe"): make_rope_case,
    ("reach.between_taps", "ok"): make_chamber_case,
    ("reach.between_taps", "below"): lambda: make_chamber_case({"measurement.lrv": "0.3 m"}),
    ("reach.between_taps", "above"): lambda: make_chamber_case({"measurement.urv": "5.6 m"}),
    ("reach.between_taps", "no_taps"): make_case,
    ("reach.agitator", "ok"): lambda: with_agitator(changes={"measurement.probe_length": "9 m"}),
    ("reach.agitator", "swept"): with_agitator,
    ("reach.agitator", "none"): make_rope_case,
    ("reach.agitator", "no_probe"): lambda: make_case(internals=[AGITATOR]),
    ("reach.agitator", "apart"): lambda: make_chamber_case(internals=[AGITATOR]),
    ("reach.agitator", "well"): lambda: with_agitator(changes={"measurement.stilling_well": "DN 80, slotted"}),
    ("reach.heap", "ok"): make_silo_case,
    ("reach.heap", "off"): lambda: make_silo_case({"nozzle.radius": "0 m"}),
    ("reach.heap", "ok_middle"): lambda: make_silo_case({"vessel.inlet_radius": None}),
    ("reach.heap", "off_middle"): lambda: make_silo_case({"nozzle.radius": "0 m", "vessel.inlet_radius": None}),
    ("reach.heap", "no_solid"): make_case,
    ("reach.heap", "no_accuracy"): lambda: make_silo_case({"measurement.accuracy": None}),
    ("reach.heap", "pressure"): lambda: make_legs_case(media=SOLID),
    ("reach.heap", "arrangement"): lambda: make_silo_case({"measurement.arrangement": "none"}),
    ("reach.heap", "inclined"): lambda: make_silo_case({"nozzle.inclination": "5°"}),
    ("reach.heap", "walls"): lambda: make_silo_case(
        {"vessel.body": "sphere", "vessel.cylinder_height": None, "vessel.bottom": "flat", "vessel.bottom_depth": None}
    ),
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
    ("reach.permittivity", "pressure"): make_legs_case,
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
    ("process.dp_span", "ok"): make_legs_case,
    ("process.dp_span", "small"): lambda: make_legs_case({"measurement.urv": "0.52 m"}),
    ("process.dp_span", "large"): lambda: make_legs_case(sensor_class=make_class(LEGS, pressure_span_max="400 mbar")),
    ("process.dp_span", "other_principle"): make_case,
    ("process.dp_span", "arrangement"): lambda: make_case(sensor_class=LEGS),
    ("process.dp_limits", "ok"): make_seals_case,
    ("process.dp_limits", "below"): lambda: make_seals_case(sensor_class=make_class(SEALS, difference_min="-400 mbar")),
    ("process.dp_limits", "above"): lambda: make_legs_case({"case.Maximum.density": "1200 kg/m³"}),
    ("process.dp_limits", "other_principle"): make_case,
    ("process.dp_limits", "arrangement"): lambda: make_case(sensor_class=LEGS),
    ("process.dp_density", "ok"): make_legs_case,
    ("process.dp_density", "off"): lambda: make_legs_case({"case.Maximum.density": "850 kg/m³"}),
    ("process.dp_density", "compensated"): lambda: make_legs_case(
        {"case.Maximum.density": "850 kg/m³", "measurement.density_compensation": "temperature"}
    ),
    ("process.dp_density", "only_normal"): lambda: make_legs_case(
        {"case.Maximum.density": None, "case.Maximum.density_vapour": None, "case.Maximum.kind": "normal"},
        cases=GOOD_CASES[2:],
    ),
    ("process.dp_density", "other_principle"): make_case,
    ("process.dp_density", "arrangement"): lambda: make_case(sensor_class=LEGS),
    ("mounting.arrangement", "ok"): make_case,
    ("mounting.arrangement", "unsuited"): lambda: _as("remote_seals"),
    ("mounting.nozzle_face", "arrangement"): make_legs_case,
    ("mounting.nozzle_position", "arrangement"): make_chamber_case,
    ("mounting.opening", "arrangement"): lambda: _as("two_taps"),
    ("mounting.opening", "pressure"): make_seals_case,
    ("mounting.taps", "ok"): make_chamber_case,
    ("mounting.taps", "reversed"): lambda: make_legs_case(
        taps={"upper": GOOD_TAPS["lower"], "lower": GOOD_TAPS["upper"]}
    ),
    ("mounting.taps", "top_below"): lambda: make_chamber_case({"measurement.reference_elevation": "5.4 m"}),
    ("mounting.taps", "no_taps"): make_case,
    ("mounting.probe_length", "ok_class"): make_chamber_case,
    ("mounting.probe_length", "beyond_class"): lambda: make_rope_case(
        sensor_class=make_class(ROPE, probe_length_max="12 m")
    ),
    ("mounting.probe_length", "ok_bottom"): make_rope_case,
    ("mounting.probe_length", "beyond_bottom"): lambda: make_rope_case({"measurement.probe_length": "12.8 m"}),
    ("mounting.probe_length", "no_probe"): make_case,
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
    ("records.shared_connection", "ok"): make_case,
    ("records.shared_connection", "shared"): lambda: make_case(shared={"sensor": "60-LT-6002"}),
    ("records.shared_connection", "shared_claimed"): lambda: make_case(
        {"measurement.redundancy": "1oo2 with LT-6002"}, shared={"sensor": "60-LT-6002"}
    ),
    ("records.shared_connection", "none"): lambda: make_case(nozzle=False),
    ("records.shared_connection", "unknown"): _before_sharing_was_noted,
}
