"""Cases for tests, built from typed texts as a person would enter them. All data invented."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from instruments.checks.case import EMPTY_ROW, Case, Row, Strapping, Value
from instruments.checks.finding import Finding
from instruments.checks.registry import run_checks
from instruments.checks.sensor_class import ClassValue, SensorClass, load_class_file
from instruments.field_defs import SETPOINT_NAMES
from instruments.sensor_class_fields import LIST_STEMS
from project.quantities import LARGEST_SI, PlantUnits, Quantity, to_si
from project.registry import REGISTRY
from vessels.field_defs import CASE_KINDS

# Importing these two registers the fields whose kinds are looked up below.
assert SETPOINT_NAMES
assert CASE_KINDS

CLASS_FILES = Path(__file__).parents[2] / "instruments" / "data" / "sensor_classes"
RADAR = load_class_file(CLASS_FILES / "radar_80ghz_lens_threaded.toml")
ULTRASONIC = load_class_file(CLASS_FILES / "ultrasonic_liquids.toml")
HORN = load_class_file(CLASS_FILES / "radar_26ghz_horn.toml")
ROD = load_class_file(CLASS_FILES / "guided_wave_rod.toml")
ROPE = load_class_file(CLASS_FILES / "guided_wave_rope.toml")
LEGS = load_class_file(CLASS_FILES / "differential_pressure_legs.toml")
AIMED = load_class_file(CLASS_FILES / "radar_80ghz_aimable_purge.toml")
SEALS = load_class_file(CLASS_FILES / "differential_pressure_remote_seals.toml")

UNITS = PlantUnits()


def held(units: PlantUnits, text: str, kind: str) -> Quantity:
    """A text as a quantity. Sizes that no form accepts are held all the same, as a Case from outside may hold them."""
    number, _, unit = text.partition(" ")
    if "e" in number and abs(float(number)) > LARGEST_SI:
        return Quantity(text, to_si(float(number), unit, kind, units.atmosphere_pa_abs))
    return units.parse(text, kind)


# A tank that the radar class suits in every respect: roof at 12.6 m, reference point at 12.85 m, dead zone
# from 12.69 m up, bottom under the sensor at 0.2 m.
GOOD: dict[str, dict[str, str]] = {
    "plant": {
        "code": "KRO",
        "name": "Kestrel Reach Oleochemicals",
        "unit_set": "metric",
        "atmosphere": "1.01325 bar(a)",
        "time_zone": "UTC",
        "paper": "a4",
    },
    "unit": {"number": "60", "name": "Storage"},
    "tag": {"letters": "LT", "number": "6001", "service": "Refined oil tank", "text": "60-LT-6001"},
    "vessel": {
        "number": "T-601",
        "body": "vertical_cylinder",
        "bottom": "cone",
        "top": "flat",
        "diameter": "6 m",
        "cylinder_height": "12 m",
        "bottom_depth": "0.6 m",
        "datum": "lowest_inside_point",
        "design_pressure_max": "2 bar(g)",
        "design_pressure_min": "0.9 bar(a)",
        "design_temperature_max": "90 °C",
        "design_temperature_min": "0 °C",
        "overflow_level": "12.3 m",
    },
    "nozzle": {
        "mark": "N3",
        "standard": "en_1092_1",
        "size": "DN 80",
        "rating": "PN 16",
        "facing": "B1",
        "material": "P250GH",
        "bore": "80 mm",
        "projection": "250 mm",
        "radius": "1 m",
        "role": "sensor",
    },
    "measurement": {
        "duty": "alarm",
        "arrangement": "one_nozzle",
        "accuracy": "5 mm",
        "adapter": "Flange DN 80 PN 16 with thread G 1½",
        "lrv": "0.5 m",
        "urv": "12 m",
        "direction": "direct",
        "failure_current": "low",
    },
}
GOOD_MEDIUM = {"name": "Refined oil (invented)", "kind": "liquid", "density": "915 kg/m³",
               "density_temperature": "20 °C", "permittivity": "3", "gas": "Air"}  # fmt: skip
GOOD_CASES: tuple[dict[str, str], ...] = (
    {
        "kind": "minimum",
        "display": "Minimum",
        "medium": "m1",
        "temperature": "15 °C",
        "pressure": "1.0 bar(a)",
    },
    {
        "kind": "normal",
        "display": "Normal",
        "medium": "m1",
        "temperature": "25 °C",
        "pressure": "0.02 bar(g)",
    },
    {
        "kind": "maximum",
        "display": "Maximum",
        "medium": "m1",
        "temperature": "60 °C",
        "pressure": "0.1 bar(g)",
    },
)
GOOD_SETPOINTS = (("HH", "11.9 m"), ("H", "11.5 m"), ("L", "1 m"), ("LL", "0.7 m"))


def make_row(entity: str, texts: Mapping[str, Any], units: PlantUnits = UNITS, uid: str = "") -> Row:
    """A row from typed texts; quantities are parsed, '' or None leaves a value out."""
    values: dict[str, Value] = {}
    for stem, text in texts.items():
        key = f"{entity}.{stem}"
        if text in ("", None):
            continue
        is_quantity = key in REGISTRY and REGISTRY[key].is_quantity
        values[stem] = held(units, text, REGISTRY[key].kind) if is_quantity else text
    return Row(uid, values)


def make_class(base: SensorClass = RADAR, *, confirmed: bool = False, **changes: str | None) -> SensorClass:
    """A sensor class with some values changed; None takes one out."""
    values = dict(base.values)
    for stem, text in changes.items():
        if text is None:
            values.pop(stem, None)
            continue
        if stem in LIST_STEMS:
            values[stem] = ClassValue(tuple(text.split("; ")), "test")
            continue
        kind = REGISTRY[f"sensor_class.{stem}"].kind
        is_quantity = REGISTRY[f"sensor_class.{stem}"].is_quantity
        values[stem] = ClassValue(held(UNITS, text, kind) if is_quantity else text, "test")
    return SensorClass(base.key, base.edition, base.name, confirmed, values)


def _connection(row: Row, shared: Mapping[str, str]) -> Row:
    return Row(row.uid, {**row.values, "shared_with": shared.get(row.text("role"), "")})


def make_case(
    changes: Mapping[str, str | None] | None = None,
    *,
    sensor_class: SensorClass | None = RADAR,
    cases: Sequence[Mapping[str, str]] = GOOD_CASES,
    media: Mapping[str, Mapping[str, str]] | None = None,
    setpoints: Sequence[tuple[str, str]] = GOOD_SETPOINTS,
    nozzle: bool = True,
    vessel: bool = True,
    unreadable: Mapping[str, str] | None = None,
    taps: Mapping[str, Mapping[str, str]] | None = None,
    internals: Sequence[Mapping[str, str]] = (),
    shared: Mapping[str, str] | None = None,
    strapping: Strapping | None = None,
) -> Case:
    """The good case with changes.

    changes  "entity.stem" -> text, None or '' to leave empty; "medium.…" changes the one medium,
             "case.Normal.…" the operating case of that display name
    media    replaces the media: uid -> texts
    taps     replaces the nozzle: role -> texts of a connection
    shared   tags of other measurements on the connections, by role
    """
    texts = {entity: dict(row) for entity, row in GOOD.items()}
    texts["medium"] = dict(GOOD_MEDIUM)
    case_rows = [dict(row) for row in cases]
    for key, text in (changes or {}).items():
        entity, _, stem = key.partition(".")
        if entity == "case":
            name, _, stem = stem.partition(".")
            next(row for row in case_rows if row["display"] == name)[stem] = text or ""
        else:
            texts[entity][stem] = text or ""
    units = PlantUnits(atmosphere_pa_abs=UNITS.parse(texts["plant"]["atmosphere"], "pressure_absolute").si or 0.0)
    fitted = [texts["nozzle"]] if taps is None else [{**row, "role": role} for role, row in taps.items()]
    for key in [key for key, text in (changes or {}).items() if taps is not None and text is None]:
        for row in fitted:  # what the nozzle is to lack, taps lack too
            row.pop(key.removeprefix("nozzle."), None)
    fitted = fitted if nozzle else []
    one_medium = {"m1": texts["medium"]} if media is None else media
    return Case(
        plant=make_row("plant", texts["plant"], units, "p1"),
        unit=make_row("unit", texts["unit"], units, "u1"),
        tag=make_row("tag", texts["tag"], units, "t1"),
        vessel=make_row("vessel", texts["vessel"], units, "v1") if vessel else EMPTY_ROW,
        measurement=make_row("measurement", texts["measurement"], units, "l1"),
        connections=tuple(
            _connection(make_row("nozzle", row, units, f"n{number}"), shared or {})
            for number, row in enumerate(fitted, start=1)
        ),
        media=tuple(make_row("medium", row, units, uid) for uid, row in one_medium.items()),
        operating_cases=tuple(
            make_row("case", row, units, f"c{number}") for number, row in enumerate(case_rows, start=1)
        ),
        setpoints=tuple(
            make_row("setpoint", {"name": name, "level": level}, units, f"s{number}")
            for number, (name, level) in enumerate(setpoints, start=1)
        ),
        internals=tuple(
            make_row("internal", row, units, f"i{number}") for number, row in enumerate(internals, start=1)
        ),
        strapping=strapping,
        sensor_class=sensor_class,
        unreadable=dict(unreadable or {}),
    )


_TAP = {"standard": "en_1092_1", "size": "DN 50", "rating": "PN 16", "facing": "B1", "material": "P250GH"}
GOOD_TAPS = {
    "upper": {**_TAP, "mark": "N5", "face_elevation": "5.5 m", "bore": "50 mm"},
    "lower": {**_TAP, "mark": "N6", "face_elevation": "0.4 m", "bore": "50 mm"},
}
TAPPED_SETPOINTS = (("H", "4.5 m"), ("L", "1 m"))
TAPPED = {"measurement.lrv": "0.5 m", "measurement.urv": "5 m", "medium.density_vapour": "1.2 kg/m³"}
# At 60 °C the densities stated at 20 °C no longer hold.
HOT = {"case.Maximum.density": "890 kg/m³", "case.Maximum.density_vapour": "1.1 kg/m³"}


def with_taps(changes: Mapping[str, str | None] | None, own: Mapping[str, str], kwargs: Mapping[str, Any]) -> Case:
    return make_case(
        {**TAPPED, **own, **(changes or {})}, **{"taps": GOOD_TAPS, "setpoints": TAPPED_SETPOINTS, **kwargs}
    )


def make_legs_case(changes: Mapping[str, str | None] | None = None, **kwargs: Any) -> Case:
    """The good tank with two taps and a dry leg, which the class with legs suits in every respect."""
    own = {"measurement.arrangement": "two_taps", "measurement.legs": "dry", "measurement.accuracy": "200 mm",
           "measurement.transmitter_elevation": "0.3 m", "measurement.lower_leg_density": "930 kg/m³",
           **HOT}  # fmt: skip
    return with_taps(changes, own, {"sensor_class": LEGS, **kwargs})


def make_seals_case(changes: Mapping[str, str | None] | None = None, **kwargs: Any) -> Case:
    """The good tank with two remote seals."""
    own = {"measurement.arrangement": "remote_seals", "measurement.fill_density": "934 kg/m³",
           "measurement.accuracy": "200 mm", **HOT}  # fmt: skip
    return with_taps(changes, own, {"sensor_class": SEALS, **kwargs})


def make_chamber_case(changes: Mapping[str, str | None] | None = None, **kwargs: Any) -> Case:
    """The good tank with a rod in a chamber: reference point at 6 m, end of the rod at 0.2 m."""
    own = {"measurement.arrangement": "chamber", "measurement.reference_elevation": "6 m",
           "measurement.chamber_bore": "60 mm", "measurement.probe_length": "5.8 m",
           "vessel.overflow_level": "5.4 m"}  # fmt: skip
    return with_taps(changes, own, {"sensor_class": ROD, **kwargs})


def make_rope_case(changes: Mapping[str, str | None] | None = None, **kwargs: Any) -> Case:
    """The good tank with a rope of 12.5 m, which ends at 0.35 m and sees from 0.6 m up."""
    own = {"measurement.probe_length": "12.5 m", "measurement.lrv": "0.65 m"}
    return make_case({**own, **(changes or {})}, **{"sensor_class": ROPE, **kwargs})


# Bulk solid in the good tank: below the feed point in the middle a heap of 35°, whose mean level a sensor at two thirds
# of the radius reads.
SOLID_MEDIUM = {"name": "Meal (invented)", "kind": "solid", "density": "580 kg/m³", "density_temperature": "20 °C",
                "permittivity": "3", "angle_of_repose": "35°", "gas": "Air"}  # fmt: skip


def make_silo_case(changes: Mapping[str, str | None] | None = None, **kwargs: Any) -> Case:
    """The good tank with a bulk solid in it and the aimable radar on top, which suits it in every respect."""
    medium = dict(SOLID_MEDIUM)
    own = {"nozzle.radius": "2 m", "nozzle.bore": "107 mm", "vessel.inlet_radius": "0 m", "vessel.outlet_radius": "0 m"}
    changed = {**own, **(changes or {})}
    for key in [key for key in changed if key.startswith("medium.")]:
        medium[key.removeprefix("medium.")] = changed.pop(key) or ""
    return make_case(changed, **{"sensor_class": AIMED, "media": {"m1": medium}, **kwargs})


def findings_of(case: Case, code: str) -> list[Finding]:
    """The findings of one check."""
    return [finding for finding in run_checks(case) if finding.code == code]


def finding_of(case: Case, code: str, place: str | None = None) -> Finding:
    """The one finding of a check; where it has several, the one at a place."""
    found = [one for one in findings_of(case, code) if place is None or one.place == place]
    assert len(found) == 1, [(one.variant, one.place) for one in findings_of(case, code)]
    return found[0]
