"""Random cases: nothing raises, nothing is NaN, nothing passes where an input that it needs is absent."""

import math
from dataclasses import fields, is_dataclass, replace
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from instruments.checks.case import Case
from instruments.checks.figures import key_figures
from instruments.checks.finding import Grade
from instruments.checks.registry import run_checks
from instruments.checks.sensor_class import SensorClass
from instruments.wording import describe, describe_figure
from project.quantities import PlantUnits
from tests.checks.builders import GOOD, GOOD_CASES, GOOD_MEDIUM, RADAR, ULTRASONIC, make_case
from tests.checks.variants import VARIANTS

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
KEYS: dict[str, st.SearchStrategy[Any]] = {
    "vessel.bottom": st.sampled_from(["flat", "cone", "", "spiral"]),
    "vessel.datum": st.sampled_from(["lowest_inside_point", "bottom_tangent_line", "dip_plate", ""]),
    **dict.fromkeys(
        (
            "vessel.diameter", "vessel.cylinder_height", "vessel.bottom_depth", "vessel.dip_plate_height",
            "vessel.overflow_level", "nozzle.bore", "nozzle.projection", "nozzle.face_elevation",
            "nozzle.radius", "measurement.adapter_length", "measurement.accuracy", "measurement.lrv",
            "measurement.urv",
        ),
        LENGTHS,
    ),
    **dict.fromkeys(("vessel.design_temperature_max", "vessel.design_temperature_min"), TEMPERATURES),
    **dict.fromkeys(("vessel.design_pressure_max", "vessel.design_pressure_min"), PRESSURES),
    "medium.permittivity": NUMBERS,
    "medium.kind": st.sampled_from(["liquid", "solid", ""]),
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
        st.sampled_from([RADAR, ULTRASONIC]),
        st.frozensets(st.sampled_from(sorted({*RADAR.values, *ULTRASONIC.values})), max_size=3),
    ),
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
    return make_case(
        changes,
        sensor_class=draw(CLASSES),
        cases=operating_cases,
        setpoints=draw(SETPOINTS),
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


def _needed() -> dict[str, set[str]]:
    """For every check: the fields that its pass in the good case rests on, less the optional ones."""
    optional = {"measurement.adapter_length", "vessel.design_temperature_min", "vessel.design_pressure_min"}
    needed: dict[str, set[str]] = {}
    for finding in run_checks(make_case()):
        needed.setdefault(finding.code, set()).update(set(finding.fields) - optional)
    return needed


NEEDED = _needed()
ENTERED = {f"{entity}.{stem}" for entity, row in {**GOOD, "medium": GOOD_MEDIUM}.items() for stem in row}
REMOVABLE = sorted({key for keys in NEEDED.values() for key in keys} & ENTERED)


@given(st.sampled_from(REMOVABLE), st.sampled_from([RADAR, ULTRASONIC]))
def test_a_check_never_passes_without_a_field_that_its_pass_rests_on(key, sensor_class):
    case = make_case({key: None}, sensor_class=sensor_class)
    for finding in run_checks(case):
        if finding.grade is Grade.PASS:
            assert key not in finding.fields or key == "measurement.direction", finding


def test_the_list_of_removable_fields_is_not_empty_by_accident():
    assert {"measurement.urv", "nozzle.bore", "medium.permittivity", "vessel.datum"} <= set(REMOVABLE)
