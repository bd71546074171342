"""Random cases: nothing raises, nothing is NaN, nothing passes where an input that it needs is absent."""

import math
from dataclasses import fields, is_dataclass, replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from instruments.checks.case import Case, Strapping
from instruments.checks.figures import key_figures
from instruments.checks.finding import Grade
from instruments.checks.registry import run_checks
from instruments.checks.sensor_class import SensorClass
from instruments.wording import describe, describe_figure
from project.quantities import PlantUnits
from tests.checks.builders import (
    AIMED,
    GOOD,
    GOOD_CASES,
    GOOD_MEDIUM,
    GOOD_TAPS,
    HORN,
    LEGS,
    RADAR,
    ROD,
    ROPE,
    SEALS,
    ULTRASONIC,
    finding_of,
    make_case,
    make_chamber_case,
    make_legs_case,
    make_rope_case,
    make_seals_case,
    make_silo_case,
)
from tests.checks.variants import AGITATOR, VARIANTS, with_agitator

ALL_CLASSES = (RADAR, AIMED, HORN, ULTRASONIC, ROD, ROPE, LEGS, SEALS)

LENGTHS = st.one_of(
    st.none(),
    st.floats(-1, 20).map(lambda value: f"{value!r} m"),
    st.sampled_from(["0 m", "12.6 m", "1e300 m", "-1e300 m", "1e-300 m", "12 ft 6 in", "0.5 m", "12 m"]),
)
TEMPERATURES = st.one_of(
    st.none(), st.floats(0, 700).map(lambda value: f"{value!r} K"), st.just("1e300 K"), st.just("20 °C")
)
PRESSURES = st.one_of(
    st.none(),
    st.floats(0, 60).map(lambda value: f"{value!r} bar(a)"),
    st.sampled_from(["0 bar(a)", "1e300 bar(a)"]),
)
NUMBERS = st.one_of(
    st.none(),
    st.floats(-1, 90).map(repr),
    st.sampled_from(["0", "1", "1e300", "1.0000000000000002", "1e-300"]),
)
DENSITIES = st.one_of(
    st.none(),
    st.floats(-100, 3000).map(lambda value: f"{value!r} kg/m³"),
    st.sampled_from(["0 kg/m³", "1e300 kg/m³", "915 kg/m³"]),
)
KEYS: dict[str, st.SearchStrategy[Any]] = {
    "measurement.arrangement": st.sampled_from(["one_nozzle", "two_taps", "remote_seals", "chamber", "none", ""]),
    "measurement.legs": st.sampled_from(["dry", "wet", ""]),
    "measurement.variable": st.sampled_from(["level", "interface", ""]),
    "measurement.compensation": st.sampled_from(["", "by temperature"]),
    "measurement.density_compensation": st.sampled_from(["", "none", "temperature", "other"]),
    "medium.gas": st.sampled_from(["", "Air", "Nitrogen", "Saturated steam", "Propane vapour", "Methanol vapour"]),
    "medium.permittivity_vapour": NUMBERS,
    "nozzle.standard": st.sampled_from(["", "en_1092_1", "asme_b16_5", "iso_228_1", "other"]),
    "nozzle.size": st.sampled_from(["", "DN 65", "DN 80", "3 in", "G 1½", "wide"]),
    "nozzle.rating": st.sampled_from(["", "PN 16", "PN 160", "class 300", "strong"]),
    "nozzle.material": st.sampled_from(["", "P250GH", "A105", "316L", "A350 LF6 Cl.1", "S235", "1.4404, lined"]),
    "nozzle.facing": st.sampled_from(["", "A", "B1", "RF", "C", "rough"]),
    "measurement.adapter": st.sampled_from(["", "Flange with thread"]),
    "measurement.connection_standard": st.sampled_from(["", "EN 1092-1", "ASME B16.5", "ISO 228-1", "own"]),
    "measurement.connection_size": st.sampled_from(["", "DN 65", "DN 80", "3 in", "G 1½", "wide"]),
    "measurement.connection_rating": st.sampled_from(["", "PN 40", "class 150", "strong"]),
    "measurement.connection_facing": st.sampled_from(["", "A", "B1", "RF", "D", "rough"]),
    "measurement.stilling_well": st.sampled_from(["", "DN 80"]),
    "vessel.capacity_from": st.sampled_from(["", "shape", "table"]),
    **dict.fromkeys(
        ("medium.angle_of_repose", "medium.angle_of_drawdown", "vessel.inlet_bearing", "vessel.outlet_bearing",
         "nozzle.inclination"),
        st.one_of(st.none(), st.floats(-10, 400).map(lambda value: f"{value!r} °"),
                  st.sampled_from(["0 °", "35 °", "90 °", "1e-300 °"])),
    ),
    "nozzle.bearing": st.one_of(st.none(), st.floats(-400, 400).map(lambda value: f"{value!r} °")),
    **dict.fromkeys(
        ("measurement.leg_density", "measurement.lower_leg_density", "measurement.fill_density", "medium.density",
         "medium.density_vapour", "medium.density_upper", "case.Maximum.density", "case.Maximum.density_vapour"),
        DENSITIES,
    ),
    "vessel.bottom": st.sampled_from(["flat", "cone", "", "spiral"]),
    "vessel.datum": st.sampled_from(["lowest_inside_point", "bottom_tangent_line", "dip_plate", ""]),
    **dict.fromkeys(
        (
            "vessel.diameter", "vessel.cylinder_height", "vessel.bottom_depth", "vessel.dip_plate_height",
            "vessel.overflow_level", "nozzle.bore", "nozzle.projection", "nozzle.face_elevation",
            "nozzle.radius", "measurement.adapter_length", "measurement.accuracy", "measurement.lrv",
            "measurement.urv", "measurement.probe_length", "measurement.transmitter_elevation",
            "measurement.reference_elevation", "measurement.chamber_bore", "vessel.inlet_radius",
            "vessel.outlet_radius", "vessel.outlet_elevation",
        ),
        LENGTHS,
    ),
    **dict.fromkeys(("vessel.design_temperature_max", "vessel.design_temperature_min"), TEMPERATURES),
    **dict.fromkeys(("vessel.design_pressure_max", "vessel.design_pressure_min"), PRESSURES),
    "medium.permittivity": NUMBERS,
    "medium.kind": st.sampled_from(["liquid", "solid", "interface", ""]),
    "measurement.direction": st.sampled_from(["direct", "reverse", ""]),
    "case.Normal.temperature": TEMPERATURES,
    "case.Maximum.pressure": PRESSURES,
    "case.Maximum.permittivity": NUMBERS,
    "case.Minimum.medium": st.sampled_from(["m1", "", "gone"]),
}  # fmt: skip


def thinned(sensor_class: SensorClass, absent: frozenset[str]) -> SensorClass:
    values = {stem: held for stem, held in sensor_class.values.items() if stem not in absent}
    return SensorClass(sensor_class.key, sensor_class.edition, sensor_class.name, False, values)


CLASSES = st.one_of(
    st.none(),
    st.builds(
        thinned,
        st.sampled_from(ALL_CLASSES),
        st.frozensets(st.sampled_from(sorted({stem for one in ALL_CLASSES for stem in one.values})), max_size=3),
    ),
)
TAPS = st.dictionaries(
    st.sampled_from(["upper", "lower", "sensor"]),
    st.fixed_dictionaries({"mark": st.just("N"), "face_elevation": LENGTHS, "bore": LENGTHS, "radius": LENGTHS}),
)
INTERNALS: st.SearchStrategy[Any] = st.lists(
    st.fixed_dictionaries(
        {"kind": st.sampled_from(["agitator", "ladder"])},
        optional=dict.fromkeys(("radius", "elevation_low", "elevation_high", "width"), LENGTHS)
        | {"displaced_volume": st.sampled_from(["0 m³", "1 m³", "-1 m³", "400 m³", "1e300 m³"])}
        | {"bearing": st.sampled_from(["", "0 °", "123 °"])},
    ),
    max_size=2,
)
HEIGHTS = st.one_of(st.floats(-2, 20), st.sampled_from([0.0, 1e300]))
STRAPPINGS = st.one_of(
    st.none(),
    st.builds(
        lambda interpolation, levels, volumes: Strapping(interpolation, tuple(zip(levels, volumes, strict=False))),
        st.sampled_from(["linear", "monotone_cubic", "spiral"]),
        st.one_of(st.lists(HEIGHTS, max_size=4), st.just([0.0, 5.0, 12.0])),
        st.one_of(st.lists(HEIGHTS, max_size=4), st.just([0.5, 100.0, 320.0])),
    ),
)
MAKERS = st.sampled_from(
    [make_case, make_case, make_legs_case, make_seals_case, make_chamber_case, make_rope_case, make_silo_case]
)
SETPOINTS = st.lists(
    st.tuples(st.sampled_from(["HH", "H", "L", "LL"]), LENGTHS.map(lambda text: text or "")), max_size=5
)
CHANGES = st.fixed_dictionaries({}, optional=KEYS)


@st.composite
def cases(draw: st.DrawFn) -> Case:
    changes = draw(CHANGES)
    operating_cases = GOOD_CASES if any(key.startswith("case.") for key in changes) else draw(
        st.sampled_from([GOOD_CASES, GOOD_CASES[:1], ()])
    )  # fmt: skip
    make = draw(MAKERS)
    own: dict[str, Any] = {}
    if make is make_case or draw(st.booleans()):
        own["sensor_class"] = draw(CLASSES)
    if draw(st.booleans()):
        own["taps"] = draw(st.sampled_from([None, GOOD_TAPS])) if draw(st.booleans()) else draw(TAPS)
    if operating_cases != GOOD_CASES and make is not make_case:
        operating_cases = GOOD_CASES
    return make(
        changes,
        **own,
        cases=operating_cases,
        internals=draw(INTERNALS),
        setpoints=draw(SETPOINTS),
        strapping=draw(STRAPPINGS),
        nozzle=draw(st.booleans()) or bool(changes),
        vessel=draw(st.booleans()) or bool(changes),
        unreadable={key: "?" for key in draw(st.frozensets(st.sampled_from(sorted(KEYS)), max_size=2))},
    )


def numbers_in(value: Any) -> list[float]:
    """Every float in a dataclass, tuple or mapping, however deep."""
    if isinstance(value, float):
        return [value]
    if is_dataclass(value):
        return [number for one in fields(value) for number in numbers_in(getattr(value, one.name))]
    if isinstance(value, dict):
        return [number for one in value.values() for number in numbers_in(one)]
    if isinstance(value, tuple | list):
        return [number for one in value for number in numbers_in(one)]
    return []


@settings(max_examples=150, deadline=None)
@given(cases())
def test_nothing_raises_and_every_number_is_finite(case):
    findings, figures = run_checks(case), key_figures(case)
    for one in (*findings, *figures):
        assert all(math.isfinite(number) for number in numbers_in(one)), one
    for units in (PlantUnits(), PlantUnits("us")):
        for finding in findings:
            assert describe(finding, units, case.unreadable).sentence
        for figure in figures:
            assert describe_figure(figure, units, case.unreadable).label
    known = {*VARIANTS, *((code, "missing") for code, _ in VARIANTS)}
    assert {(finding.code, finding.variant) for finding in findings} <= known


@settings(max_examples=150, deadline=None)
@given(cases())
def test_grade_and_margin_and_missing_agree(case):
    for finding in run_checks(case):
        assert (finding.grade is Grade.MISSING) == bool(finding.missing) == (finding.variant == "missing"), finding
        if finding.grade is Grade.PASS and finding.margin_si is not None:
            assert finding.margin_si >= 0, finding
        if finding.margin_si is not None and finding.margin_si < 0:
            assert finding.grade in (Grade.STOP, Grade.CAUTION), finding


@settings(max_examples=50, deadline=None)
@given(cases())
def test_code_and_place_identify_a_finding(case):
    """Pages keep findings apart by them. The database sees to it that setpoints have different names."""
    by_name = {row.text("name"): row for row in case.setpoints}
    findings = run_checks(replace(case, setpoints=tuple(by_name.values())))
    assert len({(one.code, one.place) for one in findings}) == len(findings)


MAKE = {
    "radar": make_case,
    "legs": make_legs_case,
    "wet leg": lambda changes=None: make_legs_case(
        {"measurement.legs": "wet", "measurement.leg_density": "1000 kg/m³", **(changes or {})}
    ),
    "seals": make_seals_case,
    "chamber": make_chamber_case,
    "rope": make_rope_case,
    "silo": lambda changes=None: make_silo_case(
        {
            "vessel.inlet_radius": "1 m",
            "vessel.inlet_bearing": "90°",
            "nozzle.bearing": "0°",
            "measurement.accuracy": "500 mm",
            **(changes or {}),
        }
    ),
    "agitator": lambda changes=None: with_agitator("270°", changes),
}
# Empty, they stand for a value of their own: none, direct, the vessel's lowest in operation, air above an open tank.
OPTIONAL = {
    "measurement.adapter_length", "measurement.direction", "vessel.design_temperature_min",
    "vessel.design_pressure_min", "medium.density_vapour",
}  # fmt: skip
ENTERED = [f"{entity}.{stem}" for entity, row in {**GOOD, "medium": GOOD_MEDIUM}.items() for stem in row]
ENTERED += ["medium.angle_of_repose", "vessel.inlet_bearing"]
ENTERED += [
    "measurement.legs", "measurement.leg_density", "measurement.lower_leg_density", "measurement.fill_density",
    "measurement.transmitter_elevation", "measurement.reference_elevation", "measurement.chamber_bore",
    "measurement.probe_length", "nozzle.bearing", "medium.density_vapour",
]  # fmt: skip


@pytest.mark.parametrize("name", list(MAKE))
def test_a_check_never_passes_without_a_field_that_its_pass_rests_on(name):
    for key in ENTERED:
        for finding in run_checks(MAKE[name]({key: None})):
            if finding.grade is Grade.PASS and key in finding.fields:
                assert key in OPTIONAL, (key, finding)


def test_what_was_removed_is_what_passes_rest_on():
    """The list above names the fields, and they matter."""
    rested = {
        key for make in MAKE.values() for one in run_checks(make()) if one.grade is Grade.PASS for key in one.fields
    }
    assert {*ENTERED[-12:], "measurement.urv", "nozzle.bore", "medium.permittivity", "vessel.datum"} <= rested


def test_an_agitator_without_a_dimension_never_passes_by_it():
    for stem in ("radius", "bearing", "elevation_low", "elevation_high", "width"):
        short = {**AGITATOR, stem: ""}
        for bearing in ("90°", "270°"):
            found = finding_of(with_agitator(bearing, internals=[short]), "reach.agitator")
            assert found.grade is not Grade.PASS or f"internal.{stem}" not in found.fields
