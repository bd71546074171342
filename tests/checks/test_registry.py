"""The run of all checks."""

import subprocess
import sys

import pytest

from instruments.checks.finding import Finding, Grade
from instruments.checks.frame import Frame
from instruments.checks.registry import (
    CHECKS,
    CHECKS_VERSION,
    FAMILIES,
    grades_by_family,
    run_checks,
    worst_grade,
)
from tests.checks.builders import (
    make_case,
    make_chamber_case,
    make_legs_case,
    make_rope_case,
    make_seals_case,
    make_silo_case,
)


def test_the_good_case_passes_every_check():
    findings = run_checks(make_case())
    assert {finding.grade for finding in findings} == {Grade.PASS, Grade.NOT_APPLICABLE}
    assert worst_grade(findings) is Grade.PASS
    assert grades_by_family(findings) == dict.fromkeys(FAMILIES, Grade.PASS)


@pytest.mark.parametrize("make", [make_legs_case, make_seals_case, make_chamber_case, make_rope_case, make_silo_case])
def test_every_good_case_passes_what_concerns_it(make):
    assert {finding.grade for finding in run_checks(make())} == {Grade.PASS, Grade.NOT_APPLICABLE}


def test_what_does_not_concern_a_good_radar_in_one_nozzle():
    apart = {one.code: one.variant for one in run_checks(make_case()) if one.grade is Grade.NOT_APPLICABLE}
    assert apart == {
        "reach.between_taps": "no_taps",
        "reach.agitator": "none",
        "reach.heap": "no_solid",
        "process.second_seal": "no_hazard",
        "process.dp_span": "other_principle",
        "process.dp_limits": "other_principle",
        "process.dp_density": "other_principle",
        "mounting.internals": "none",
        "mounting.aiming": "no_solid",
        "mounting.centre": "level_roof",
        "mounting.taps": "no_taps",
        "mounting.probe_length": "no_probe",
    }


def test_every_check_speaks_under_its_own_code_and_family():
    case = make_case()
    assert len({check.code for check in CHECKS}) == len(CHECKS)
    for check in CHECKS:
        found = check.function(case, Frame(case))
        found = found if isinstance(found, tuple) else (found,)
        assert found
        assert {finding.code for finding in found} == {check.code}
        assert check.family in FAMILIES


def test_worst_first_then_in_order_of_the_families():
    case = make_case({"measurement.urv": "12.8 m", "nozzle.bore": "44 mm", "nozzle.radius": None})
    findings = run_checks(case)
    ranks = [finding.grade.rank for finding in findings]
    assert ranks == sorted(ranks)
    assert {finding.grade for finding in findings} >= {Grade.STOP, Grade.MISSING, Grade.CAUTION, Grade.PASS}
    stops = [FAMILIES.index(finding.family) for finding in findings if finding.grade is Grade.STOP]
    assert stops == sorted(stops)


def test_grades_of_families():
    findings = run_checks(make_case({"measurement.urv": "12.8 m"}))
    by_family = grades_by_family(iter(findings))
    assert by_family["reach"] is Grade.STOP
    assert by_family["process"] is Grade.PASS
    assert tuple(by_family) == FAMILIES


def test_without_findings_nothing_applies():
    assert worst_grade([]) is Grade.NOT_APPLICABLE
    assert grades_by_family([])["reach"] is Grade.NOT_APPLICABLE
    passed = [Finding("a.b", Grade.PASS, "ok"), Finding("a.c", Grade.NOT_APPLICABLE, "none")]
    assert worst_grade(passed) is Grade.PASS


def test_an_empty_measurement_is_missing_or_not_applicable_throughout():
    case = make_case(
        {"measurement.lrv": None, "measurement.urv": None, "measurement.accuracy": None},
        sensor_class=None,
        cases=(),
        setpoints=(),
        nozzle=False,
        vessel=False,
    )
    assert {finding.grade for finding in run_checks(case)} == {Grade.MISSING, Grade.NOT_APPLICABLE}


def test_the_version_is_a_whole_number():
    assert isinstance(CHECKS_VERSION, int)
    assert CHECKS_VERSION >= 1


def test_checks_run_where_there_is_no_django():
    code = (
        "import sys; sys.modules['django'] = None\n"
        "from tests.checks.builders import make_case\n"
        "from instruments.checks.registry import run_checks\n"
        "from instruments.checks.figures import key_figures\n"
        "assert run_checks(make_case()) and key_figures(make_case())\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr
