"""Invented cases for sketches: ordinary vessels, extreme ones, and ones with faults or gaps."""

from dataclasses import replace

from instruments.checks.case import Case
from instruments.checks.sensor_class import SensorClass
from tests.checks.builders import RADAR, ULTRASONIC, make_row

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
    tag = {"letters": "LT", "number": "6001", "text": "60-LT-6001", "service": "Invented"}
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
        sensor_class=sensor_class,
    )


def without_nozzle(case: Case) -> Case:
    return replace(case, connections=(), sensor_class=None)


FLAT = {"bottom": "flat", "bottom_depth": "", "datum": "lowest_inside_point"}

SAMPLES: dict[str, Case] = {
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
