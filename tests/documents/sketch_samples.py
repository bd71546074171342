"""Invented cases for sketches: ordinary vessels, extreme ones, and ones with faults or gaps."""

from collections.abc import Sequence
from dataclasses import replace

from instruments.checks.case import Case
from instruments.checks.sensor_class import SensorClass, load_class_file
from tests.checks.builders import CLASS_FILES, RADAR, ULTRASONIC, make_row

ROD = load_class_file(CLASS_FILES / "guided_wave_rod.toml")
ROPE = load_class_file(CLASS_FILES / "guided_wave_rope.toml")
LEGS = load_class_file(CLASS_FILES / "differential_pressure_legs.toml")
SEALS = load_class_file(CLASS_FILES / "differential_pressure_remote_seals.toml")

SETPOINTS = {"HH": "11.2 m", "H": "10.5 m", "L": "1.2 m", "LL": "0.7 m"}


def sample(
    *,
    vessel: dict[str, str] | None = None,
    nozzle: dict[str, str] | None = None,
    measurement: dict[str, str] | None = None,
    setpoints: dict[str, str] | None = None,
    medium: str = "liquid",
    sensor_class: SensorClass = RADAR,
    unit_set: str = "metric",
    internals: Sequence[dict[str, str]] = (),
    letters: str = "LT",
) -> Case:
    """A storage tank of 4 m × 12 m with a cone, or whatever is said otherwise; '' leaves a value out."""
    dimensions = {
        "number": "T-6001", "body": "vertical_cylinder", "bottom": "cone", "top": "flat", "diameter": "4 m",
        "cylinder_height": "12 m", "bottom_depth": "1.5 m", "datum": "bottom_tangent_line",
    }  # fmt: skip
    opening = {"mark": "N3", "size": "DN 80", "bore": "82 mm", "projection": "300 mm", "radius": "1.2 m"}
    span = {"lrv": "0.4 m", "urv": "11 m"}
    levels = SETPOINTS if setpoints is None else setpoints
    plant = {"code": "KRO", "unit_set": unit_set, "atmosphere": "1.01325 bar(a)"}
    tag = {"letters": letters, "number": "6001", "text": f"60-{letters}-6001", "service": "Invented"}
    return Case(
        plant=make_row("plant", plant),
        unit=make_row("unit", {"number": "60", "name": "Storage"}),
        tag=make_row("tag", tag),
        vessel=make_row("vessel", {**dimensions, **(vessel or {})}),
        measurement=make_row("measurement", {**span, **(measurement or {})}),
        connections=(make_row("nozzle", {"role": "sensor", **opening, **(nozzle or {})}),),
        media=(make_row("medium", {"name": "Methyl ester", "kind": medium}, uid="m1"),),
        operating_cases=(make_row("case", {"kind": "normal", "medium": "m1", "display": "Normal"}),),
        setpoints=tuple(make_row("setpoint", {"name": name, "level": text}) for name, text in levels.items()),
        internals=tuple(make_row("internal", row) for row in internals),
        sensor_class=sensor_class,
    )


def on_side(case: Case, upper: str = "", lower: str = "") -> Case:
    """The case with two connections in the vessel's side instead of the nozzle."""
    taps = (("upper", "N5", upper), ("lower", "N6", lower))
    rows = [
        make_row("nozzle", {"role": role, "mark": mark, "size": "DN 50", "face_elevation": text})
        for role, mark, text in taps
        if text
    ]
    return replace(case, connections=tuple(rows))


def without_nozzle(case: Case) -> Case:
    return replace(case, connections=(), sensor_class=None)


FLAT = {"bottom": "flat", "bottom_depth": "", "datum": "lowest_inside_point"}

DRUM = {
    "body": "horizontal_cylinder", "bottom": "flat", "diameter": "2.4 m", "cylinder_length": "6 m",
    "cylinder_height": "", "bottom_depth": "", "datum": "lowest_inside_point", "number": "V-6010",
}  # fmt: skip
PIT = {
    "body": "rectangular", "bottom": "flat", "box_length": "5 m", "box_width": "3 m", "cylinder_height": "3 m",
    "diameter": "", "bottom_depth": "", "datum": "lowest_inside_point", "number": "S-6020",
}  # fmt: skip
BALL = {
    "body": "sphere", "bottom": "flat", "diameter": "10 m", "cylinder_height": "", "bottom_depth": "",
    "datum": "lowest_inside_point", "number": "T-6030",
}  # fmt: skip
HOPPER = {
    "bottom": "truncated_cone", "outlet_diameter": "0.5 m", "bottom_depth": "3 m", "cylinder_height": "8 m",
    "number": "B-6040",
}  # fmt: skip
ROUND_ENDS = {
    "bottom": "hemisphere", "top": "hemisphere", "diameter": "2 m", "cylinder_height": "4 m", "bottom_depth": "",
    "number": "R-6050",
}  # fmt: skip
INTERNALS = (
    {"kind": "ladder", "radius": "1.8 m", "bearing": "90 deg", "elevation_low": "0.2 m", "elevation_high": "12 m",
     "width": "400 mm"},
    {"kind": "coil", "radius": "0 m", "elevation_low": "0.3 m", "elevation_high": "1.4 m", "width": "3 m"},
    {"kind": "agitator", "radius": "0 m", "elevation_low": "2 m", "elevation_high": "3.2 m", "width": "1.6 m"},
    {"kind": "baffle", "radius": "1.9 m", "bearing": "270 deg", "elevation_low": "0 m", "elevation_high": "9 m",
     "width": "200 mm"},
    {"kind": "inlet_stream", "radius": "0.9 m", "bearing": "45 deg", "elevation_low": "7 m", "elevation_high": "12 m",
     "width": "250 mm"},
    {"kind": "pipe", "radius": "0.4 m", "bearing": "225 deg", "elevation_low": "4 m", "elevation_high": "12 m",
     "width": "150 mm"},
    {"kind": "well", "radius": "1.3 m", "bearing": "135 deg", "elevation_low": "3.6 m", "elevation_high": "12 m",
     "width": "100 mm"},
    {"kind": "pipe", "radius": "1 m"},
)  # fmt: skip
DRUM_SPAN = {"lrv": "0.3 m", "urv": "2.1 m"}
DRUM_LEVELS = {"HH": "2.2 m", "H": "2 m", "L": "0.5 m", "LL": "0.35 m"}


def on_drum(arrangement: str, upper: str, lower: str, sensor_class: SensorClass, **measurement: str) -> Case:
    """A measurement on the drum through two connections in its side."""
    case = sample(
        vessel=DRUM,
        measurement={**DRUM_SPAN, "arrangement": arrangement, **measurement},
        setpoints=DRUM_LEVELS,
        sensor_class=sensor_class,
    )
    return on_side(case, upper, lower)


def on_tank(arrangement: str, sensor_class: SensorClass, **measurement: str) -> Case:
    """A measurement on the tank with the cone through two connections in its side."""
    return on_side(sample(measurement={"arrangement": arrangement, **measurement}, sensor_class=sensor_class),
                   "11.5 m", "0.2 m")  # fmt: skip


SAMPLES: dict[str, Case] = {
    "drum": sample(
        vessel=DRUM, nozzle={"radius": "2 m"}, measurement=DRUM_SPAN, setpoints=DRUM_LEVELS,
    ),
    "drum-chamber": on_drum(
        "chamber", "2.25 m", "0.2 m", ROD, reference_elevation="2.7 m", probe_length="2.5 m"
    ),
    "drum-legs": on_drum("two_taps", "2.25 m", "0.2 m", LEGS, transmitter_elevation="-0.6 m"),
    "tank-seals": on_tank("remote_seals", SEALS, transmitter_elevation="3 m"),
    "tank-legs-unknown": on_tank("two_taps", LEGS),
    "tank-chamber": on_tank("chamber", ROD, reference_elevation="12.1 m", probe_length="12 m"),
    "pit": sample(
        vessel=PIT, nozzle={"radius": "1.5 m", "bearing": "90 deg"}, measurement={"lrv": "0.2 m", "urv": "2.6 m"},
        setpoints={"HH": "2.7 m", "H": "2.4 m", "L": "0.5 m"},
    ),
    "sphere": sample(
        vessel=BALL, nozzle={"radius": "1 m"}, measurement={"lrv": "0.5 m", "urv": "9 m"},
        setpoints={"HH": "9.2 m", "H": "8.8 m", "L": "1 m"}, medium="liquefied_gas",
    ),
    "hopper": sample(
        vessel=HOPPER, measurement={"lrv": "-2.5 m", "urv": "7.2 m", "probe_length": "10 m"},
        setpoints={"H": "7 m", "L": "-2 m"}, medium="solid", sensor_class=ROPE,
    ),
    "round-ends": sample(
        vessel=ROUND_ENDS, nozzle={"radius": "0.6 m", "projection": "400 mm"},
        measurement={"lrv": "-0.8 m", "urv": "4.4 m", "probe_length": "5.4 m"},
        setpoints={"H": "4.2 m", "L": "-0.5 m"}, sensor_class=ROD,
    ),
    "internals": sample(internals=INTERNALS, nozzle={"bearing": "180 deg"}),
    "tank-with-cone": sample(),
    "tank-with-cone-us": sample(unit_set="us"),
    "wide-tank": sample(
        vessel={**FLAT, "diameter": "12 m", "cylinder_height": "10 m"},
        nozzle={"radius": "5 m"},
        measurement={"lrv": "0.3 m", "urv": "9.2 m"},
        setpoints={"HH": "9.4 m", "H": "9.1 m", "L": "0.9 m", "LL": "0.5 m"},
    ),
    "crowded-levels": sample(
        measurement={"urv": "11.5 m"},
        setpoints={"HH": "11.45 m", "H": "11.4 m", "L": "11.35 m", "LL": "11.3 m"},
    ),
    "silo-60-by-3": sample(
        vessel={"diameter": "3 m", "cylinder_height": "56 m", "bottom_depth": "4 m"},
        nozzle={"radius": "0.8 m", "bore": "155 mm"},
        measurement={"lrv": "-2 m", "urv": "54 m"},
        setpoints={"HH": "55 m", "H": "53 m", "L": "2 m"},
        medium="solid",
    ),
    "flat-40-by-2": sample(
        vessel={**FLAT, "diameter": "40 m", "cylinder_height": "2 m"},
        nozzle={"radius": "17 m"},
        measurement={"lrv": "0.1 m", "urv": "1.8 m"},
        setpoints={"HH": "1.9 m", "H": "1.7 m", "L": "0.3 m", "LL": "0.2 m"},
    ),
    "solid-hopper": sample(
        vessel={"bottom_depth": "3 m", "cylinder_height": "6 m"},
        nozzle={"radius": "1 m", "projection": "500 mm"},
        measurement={"lrv": "-2 m", "urv": "5.2 m", "adapter_length": "250 mm"},
        setpoints={"H": "5.5 m", "L": "-1 m"},
        medium="solid",
    ),
    "levels-outside": sample(
        measurement={"lrv": "-2.2 m", "urv": "12.9 m"},
        setpoints={"HH": "13.1 m", "H": "1250 m", "L": "0.5 m", "LL": "-40 m"},
    ),
    "long-dead-zone": sample(
        vessel={**FLAT, "diameter": "3 m", "cylinder_height": "3 m"},
        nozzle={"radius": "0.9 m", "projection": "150 mm"},
        measurement={"lrv": "0.2 m", "urv": "2.8 m"},
        setpoints={"H": "2.6 m", "L": "0.4 m"},
        sensor_class=ULTRASONIC,
    ),
    "small-sump": sample(
        vessel={**FLAT, "diameter": "0.8 m", "cylinder_height": "1 m"},
        nozzle={"radius": "", "bore": "200 mm", "projection": "400 mm"},
        measurement={"lrv": "0.1 m", "urv": "0.8 m"},
        setpoints={"HH": "0.85 m", "LL": "0.15 m"},
    ),
    "no-nozzle": without_nozzle(sample()),
    "vessel-only": without_nozzle(sample(measurement={"lrv": "", "urv": ""}, setpoints={})),
    "no-vessel": sample(vessel={"diameter": ""}),
    "no-datum": sample(vessel={"datum": "dip_plate"}),
    "dip-plate": sample(
        vessel={
            "datum": "dip_plate",
            "dip_plate_height": "200 mm",
            "overflow_level": "11.8 m",
            "bottom_depth": "0.3 m",
        }
    ),
    "nozzle-below-roof": sample(nozzle={"projection": "", "face_elevation": "9 m"}),
    "nozzle-far-off": sample(nozzle={"projection": "300 m"}),
    "reduced-cylinder": sample(
        vessel={"cylinder_height": "0.2 m", "bottom_depth": "3 m"},
        measurement={"lrv": "-2.5 m", "urv": "-0.3 m"},
        setpoints={"H": "-0.5 m"},
    ),
}


def several(vessel: dict[str, str] | None = None) -> list[Case]:
    """Six measurements of the tank with the cone: transmitters, a switch, a gauge glass, one hardly begun."""
    radar = sample(vessel=vessel, internals=INTERNALS, nozzle={"bearing": "180 deg"})
    rope = sample(
        vessel=vessel, nozzle={"mark": "N4", "radius": "1.4 m", "bearing": "90 deg"}, setpoints={"HH": "11.3 m"},
        measurement={"lrv": "0.5 m", "urv": "11.2 m", "probe_length": "12 m"}, sensor_class=ROPE, letters="LZT",
    )  # fmt: skip
    seals = on_tank("remote_seals", SEALS, transmitter_elevation="3 m", urv="11 m")
    switch = sample(
        vessel=vessel, nozzle={"mark": "N8", "radius": "1.5 m", "bearing": "80 deg"}, setpoints={"HH": "11.35 m"},
        measurement={"lrv": "", "urv": ""}, letters="LSHH",
    )  # fmt: skip
    glass = on_side(
        sample(vessel=vessel, measurement={"arrangement": "chamber", "lrv": "", "urv": ""}, setpoints={}, letters="LG"),
        "11.6 m", "0.1 m",
    )  # fmt: skip
    begun = sample(vessel=vessel, measurement={"lrv": "", "urv": ""}, nozzle={"radius": ""}, setpoints={}, letters="LI")
    return [radar, rope, seals, switch, glass, begun]
