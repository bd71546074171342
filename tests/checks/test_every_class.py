"""Every sensor class of the library in every kind of case: an answer, a finite one, and nothing asked for in vain."""

import math
from dataclasses import replace

import pytest

from instruments.checks.figures import key_figures
from instruments.checks.finding import Grade
from instruments.checks.principle import DISTANCES, OUTSIDE, POINTS
from instruments.checks.registry import run_checks
from instruments.checks.sensor_class import load_class_file
from instruments.sensor_class_fields import TECHNOLOGIES
from instruments.wording import describe, describe_figure
from project.quantities import PlantUnits
from tests.checks.builders import (
    CLASS_FILES,
    findings_of,
    make_case,
    make_chamber_case,
    make_legs_case,
    make_rope_case,
    make_seals_case,
    make_silo_case,
)
from tests.checks.variants import with_agitator

LIBRARY = [load_class_file(path) for path in sorted(CLASS_FILES.glob("*.toml"))]
BY_KEY = {one.key: one for one in LIBRARY}
# A class that is not said to be aimable says nothing of its angle; whether it can be aimed is then asked for.
UNSTATED = ("sensor_class.aiming_angle",)
EMPTY = {"measurement.lrv": None, "measurement.urv": None, "nozzle.bore": None, "vessel.diameter": None}
SAMPLES = {
    "one nozzle": make_case,
    "no connection": lambda: make_case({"measurement.arrangement": "none"}, nozzle=False),
    "legs": make_legs_case,
    "seals": make_seals_case,
    "chamber": make_chamber_case,
    "probe": make_rope_case,
    "silo": make_silo_case,
    "agitator": with_agitator,
    "gaps": lambda: make_case(EMPTY, cases=()),
    "no setpoints": lambda: make_case(setpoints=()),
}


@pytest.mark.parametrize("sample", SAMPLES)
@pytest.mark.parametrize("one", LIBRARY, ids=lambda one: one.key)
def test_every_check_answers(one, sample):
    case = replace(SAMPLES[sample](), sensor_class=one)
    for finding in run_checks(case):
        # A class states all that its technology has, so that nothing of the class can be missing.
        assert not [key for key in finding.missing if key.startswith("sensor_class.") and key not in UNSTATED], finding
        assert finding.margin_si is None or math.isfinite(finding.margin_si), finding
        assert "nan" not in describe(finding, PlantUnits()).sentence.lower().split()
    for figure in key_figures(case):
        assert not [key for key in figure.missing if key.startswith("sensor_class.")], figure
        assert figure.value_si is None or math.isfinite(figure.value_si), figure
        describe_figure(figure, PlantUnits())


@pytest.mark.parametrize("one", [one for one in LIBRARY if one.technology not in DISTANCES], ids=lambda one: one.key)
def test_what_measures_no_distance_has_no_dead_zone_and_no_range(one):
    case = make_case(sensor_class=one)
    for code in ("reach.range", "reach.dead_zone_urv", "reach.dead_zone_setpoint", "reach.bottom"):
        assert {found.grade for found in findings_of(case, code)} == {Grade.NOT_APPLICABLE}
    assert "effective_range" not in {figure.key for figure in key_figures(case)}


@pytest.mark.parametrize("key, low, high", [("magnetostrictive", "12.075 m", "12.0749 m"),
                                            ("capacitance_rod", "12.05 m", "12.0499 m")])  # fmt: skip
def test_a_rod_sees_to_its_end_less_what_is_not_measured(key, low, high):
    """The reference point is at 12.85 m; LRV at 0.85 m is 12 m away, whatever the medium."""
    for length, grade in ((low, Grade.PASS), (high, Grade.STOP)):
        changes = {"measurement.probe_length": length, "measurement.lrv": "0.85 m"}
        case = make_case(changes, sensor_class=BY_KEY[key], setpoints=())
        assert [found.grade for found in findings_of(case, "reach.range")] == [grade], length


@pytest.mark.parametrize("key", ["capacitance_point", "microwave_barrier"])
def test_point_devices_that_need_a_permittivity(key):
    for er, grade in (("1.5", Grade.PASS), ("1.4999", Grade.STOP), (None, Grade.MISSING)):
        case = make_case({"medium.permittivity": er}, sensor_class=BY_KEY[key])
        assert [found.grade for found in findings_of(case, "reach.permittivity")] == [grade], er


@pytest.mark.parametrize("one", [one for one in LIBRARY if one.technology in POINTS], ids=lambda one: one.key)
def test_point_devices_are_held_to_their_temperature_and_pressure(one):
    limit_k, limit_pa = one.si("process_temperature_max"), one.si("process_pressure_max")
    hot = make_case({"vessel.design_temperature_max": f"{limit_k + 0.01!r} K"}, sensor_class=one)
    assert findings_of(hot, "process.temperature_high")[0].grade is Grade.STOP
    pressed = make_case({"vessel.design_pressure_max": f"{limit_pa + 1:.0f} Pa(a)"}, sensor_class=one)
    assert findings_of(pressed, "process.pressure_high")[0].grade is Grade.STOP
    at_limit = {"vessel.design_temperature_max": f"{limit_k!r} K",
                "vessel.design_pressure_max": f"{limit_pa:.0f} Pa(a)"}  # fmt: skip
    case = make_case(at_limit, sensor_class=one)
    for code in ("process.temperature_high", "process.pressure_high"):
        assert findings_of(case, code)[0].grade in (Grade.PASS, Grade.STOP)
        assert (findings_of(case, code)[0].margin_si or 0.0) >= 0 or findings_of(case, code)[0].where.case


@pytest.mark.parametrize("technology", OUTSIDE)
def test_what_stands_outside_suits_no_nozzle_and_minds_no_pressure(technology):
    one = next(one for one in LIBRARY if one.technology == technology)
    case = make_case({"vessel.design_pressure_max": "900 bar(g)"}, sensor_class=one)
    assert findings_of(case, "process.pressure_high")[0].variant == "outside"
    assert findings_of(case, "mounting.arrangement")[0].grade is Grade.STOP


def test_accuracy_as_a_share_of_the_span():
    """11.5 m of span: 0.5 % are 57.5 mm, by hand."""
    for asked, grade in (("57.5 mm", Grade.PASS), ("57.4 mm", Grade.STOP)):
        case = make_case({"measurement.accuracy": asked}, sensor_class=BY_KEY["weighing"])
        assert findings_of(case, "reach.accuracy")[0].grade is grade


def test_every_technology_is_in_the_library():
    assert {one.technology for one in LIBRARY} == {key for key, _label in TECHNOLOGIES}
