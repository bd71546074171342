"""For every variant of the checks of flanges, connections and the gas above: a case that brings it about."""

from collections.abc import Callable, Mapping

from instruments.checks.case import Case
from tests.checks.builders import (
    HORN,
    RADAR,
    ROD,
    ULTRASONIC,
    make_case,
    make_chamber_case,
    make_class,
    make_legs_case,
    make_rope_case,
    make_seals_case,
)

ASME_316L = {"nozzle.standard": "asme_b16_5", "nozzle.size": "NPS 3", "nozzle.rating": "class 300",
             "nozzle.facing": "RF", "nozzle.material": "316L"}  # fmt: skip
HOT_30_BAR = {"vessel.design_pressure_max": "30 bar(g)", "vessel.design_temperature_max": "250 °C"}
NO_DESIGN = {"vessel.design_pressure_max": None, "vessel.design_temperature_max": None,
             "vessel.design_temperature_min": None}  # fmt: skip
SENSOR = {"measurement.adapter": None, "measurement.connection_standard": "EN 1092-1",
          "measurement.connection_size": "DN 80", "measurement.connection_rating": "PN 16",
          "measurement.connection_facing": "B1"}  # fmt: skip
THREE_INCH = {"measurement.connection_standard": "ASME B16.5", "measurement.connection_size": "3 in",
              "measurement.connection_rating": "class 150", "measurement.connection_facing": "RF"}  # fmt: skip
THREAD = {"measurement.connection_standard": "ISO 228-1", "measurement.connection_size": "G 1 1/2",
          "measurement.connection_rating": None, "measurement.connection_facing": None}  # fmt: skip
THREADED_NOZZLE = {"nozzle.standard": "iso_228_1", "nozzle.size": "G 1½", "nozzle.rating": None,
                   "nozzle.facing": None, "nozzle.material": None}  # fmt: skip


def flange_case(changes: Mapping[str, str | None] | None = None) -> Case:
    """The good tank with plain 316L, class 300: 27.5 bar(g) at 250 °C by the table."""
    return make_case({**ASME_316L, **(changes or {})})


def sensor_case(changes: Mapping[str, str | None] | None = None) -> Case:
    """The good tank whose sensor has a flange of its own, DN 80 PN 16 form B1, on the same nozzle."""
    return make_case({**SENSOR, **(changes or {})})


# A drum at 60 bar absolute: saturated steam above the water, a rod in a chamber.
DRUM_CASES = (
    {"kind": "normal", "display": "Normal", "medium": "m1", "temperature": "275.6 °C", "pressure": "60 bar(a)"},
    {"kind": "named", "display": "Cold start", "medium": "m1", "temperature": "20 °C", "pressure": "1.01325 bar(a)",
     "gas": "Air"},
)  # fmt: skip


def drum_case(changes: Mapping[str, str | None] | None = None) -> Case:
    own = {"medium.gas": "Saturated steam", "measurement.accuracy": "20 mm"}
    return make_chamber_case({**own, **(changes or {})}, cases=DRUM_CASES, sensor_class=ROD)


PROCESS_VARIANTS: dict[tuple[str, str], Callable[[], Case]] = {
    ("process.flange_rating", "ok"): lambda: make_case(NO_DESIGN, cases=(
        {"kind": "design", "display": "Design", "medium": "m1", "temperature": "90 °C", "pressure": "2 bar(g)"},)),
    ("process.flange_rating", "ok_design"): flange_case,
    ("process.flange_rating", "beyond"): lambda: make_case({"case.Maximum.pressure": "17 bar(g)"}),
    ("process.flange_rating", "beyond_design"): lambda: flange_case(HOT_30_BAR),
    ("process.flange_rating", "long_term"): lambda: flange_case(
        {"nozzle.material": "A105", "vessel.design_temperature_max": "440 °C"}),
    ("process.flange_rating", "too_hot"): lambda: flange_case(
        {"nozzle.material": "A350 LF6 Cl.1", "vessel.design_temperature_max": "270 °C"}),
    ("process.flange_rating", "no_flange"): lambda: make_case(THREADED_NOZZLE),
    ("process.flange_rating", "arrangement"): lambda: make_case({"measurement.arrangement": "none"}),
    ("process.connection", "fits"): sensor_case,
    ("process.connection", "lower_rating"): lambda: sensor_case({"measurement.connection_rating": "PN 40"}),
    ("process.connection", "raised_flat"): lambda: sensor_case({"measurement.connection_facing": "A"}),
    ("process.connection", "other_holes"): lambda: sensor_case(
        {"nozzle.size": "DN 65", "measurement.connection_size": "DN 65"}),
    ("process.connection", "drilling"): lambda: sensor_case(THREE_INCH),
    ("process.connection", "size"): lambda: sensor_case({"measurement.connection_size": "DN 50"}),
    ("process.connection", "facing"): lambda: sensor_case({"measurement.connection_facing": "C"}),
    ("process.connection", "fits_thread"): lambda: sensor_case({**THREADED_NOZZLE, **THREAD}),
    ("process.connection", "thread"): lambda: sensor_case({**THREADED_NOZZLE, **THREAD, "nozzle.size": "G 2"}),
    ("process.connection", "thread_flange"): lambda: sensor_case(THREAD),
    ("process.connection", "offered"): lambda: make_case(
        {"nozzle.rating": "PN 40", "measurement.adapter": None}, sensor_class=HORN),
    ("process.connection", "not_offered"): lambda: make_case({"measurement.adapter": None}),
    ("process.connection", "adapter"): make_case,
    ("process.connection", "adapter_unnamed"): lambda: make_case(
        {"measurement.adapter": None, "measurement.adapter_length": "100 mm"}),
    ("process.connection", "arrangement"): lambda: make_case({"measurement.arrangement": "none"}),
    ("process.connection", "lines"): make_legs_case,
    ("process.connection", "chamber"): make_chamber_case,
    # A radar in the chamber's tube, the gas as entered.
    ("process.gas_error", "ok"): lambda: make_chamber_case(
        {"medium.permittivity_vapour": "1.0006", "measurement.accuracy": "50 mm"}, sensor_class=HORN),
    ("process.gas_error", "bounded"): lambda: make_case(
        {"medium.gas": "Hexane vapour", "case.Maximum.pressure": "0 bar(g)", "measurement.accuracy": "200 mm"}),
    ("process.gas_error", "slight"): lambda: make_case({"measurement.accuracy": "3 mm"}),
    ("process.gas_error", "low"): drum_case,
    ("process.gas_error", "high"): lambda: make_case(
        {"medium.gas": "Methane", "measurement.lrv": "5 m"}, sensor_class=ULTRASONIC),
    ("process.gas_error", "compensated"): lambda: drum_case({"measurement.compensation": "Reference probe, 500 mm"}),
    ("process.gas_error", "pressure"): make_legs_case,
    ("process.gas_error", "arrangement"): lambda: make_case({"measurement.arrangement": "none"}),
    ("process.gas_error", "principle"): lambda: make_case(sensor_class=make_class(RADAR, technology="gamma")),
    ("process.seal_temperature", "ok"): make_case,
    ("process.seal_temperature", "hot"): lambda: make_case({"case.Maximum.temperature": "210 °C"}),
    ("process.seal_temperature", "cold"): lambda: make_case({"case.Minimum.temperature": "-25 °C"}),
    ("process.seal_temperature", "special"): lambda: make_case(
        {"case.Maximum.temperature": "300 °C", "measurement.seal_material": "FFKM"}
    ),
    ("process.seal_temperature", "no_seal"): make_seals_case,
    ("process.seal_temperature", "arrangement"): lambda: make_case({"measurement.arrangement": "none"}),
    ("process.seal_temperature", "lines"): make_legs_case,
    ("process.second_seal", "ok"): lambda: make_case(
        {"medium.hazards": "toxic", "measurement.second_seal": "yes"}
    ),
    ("process.second_seal", "toxic"): lambda: make_case({"medium.toxicity": "LD50 of 50 mg/kg"}),
    ("process.second_seal", "flammable"): lambda: make_case({"medium.hazards": "flammable"}),
    ("process.second_seal", "no_hazard"): make_case,
    ("process.second_seal", "no_window"): lambda: make_rope_case({"medium.hazards": "flammable"}),
    ("process.second_seal", "arrangement"): lambda: make_case({"measurement.arrangement": "none"}),
}  # fmt: skip
