"""Family "setpoints": order, and what the measuring current of NAMUR NE 43 carries."""

import pytest

from instruments.checks.finding import Grade
from tests.checks.builders import finding_of, findings_of, make_case, make_class


def test_order_passes_with_the_smallest_gap():
    finding = finding_of(make_case(), "setpoints.order")
    assert finding.grade is Grade.PASS
    assert finding.margin_si == pytest.approx(0.3)  # LL 0.7 m to L 1 m


@pytest.mark.parametrize(
    "setpoints, grade, place",
    [
        ([("HH", "11.500000001 m"), ("H", "11.5 m")], Grade.PASS, "setpoint-HH"),
        ([("HH", "11.5 m"), ("H", "11.5 m")], Grade.STOP, "setpoint-HH"),
        ([("HH", "11.499999999 m"), ("H", "11.5 m")], Grade.STOP, "setpoint-HH"),
        ([("H", "1 m"), ("L", "2 m")], Grade.STOP, "setpoint-H"),
        ([("HH", "11 m"), ("LL", "11.2 m")], Grade.STOP, "setpoint-HH"),
    ],
)
def test_order_by_a_hair(setpoints, grade, place):
    finding = finding_of(make_case(setpoints=setpoints), "setpoints.order")
    assert (finding.grade, finding.place) == (grade, place)
    assert (finding.margin_si > 0) is (grade is Grade.PASS)


def test_order_worst_pair_is_told():
    setpoints = [("HH", "11 m"), ("H", "11.5 m"), ("L", "14 m")]
    finding = finding_of(make_case(setpoints=setpoints), "setpoints.order")
    assert finding.margin_si == pytest.approx(-3.0)
    assert (finding.params["low_name"], finding.params["high_name"]) == ("L", "HH")


@pytest.mark.parametrize("setpoints", [(), [("H", "11 m")], [("H", "11 m"), ("H", "11.2 m")]])
def test_order_needs_two(setpoints):
    finding = finding_of(make_case(setpoints=setpoints), "setpoints.order")
    assert (finding.grade, finding.variant) == (Grade.NOT_APPLICABLE, "too_few")


def test_order_with_a_level_missing():
    missing = finding_of(make_case(setpoints=[("HH", ""), ("H", "11 m"), ("L", "1 m")]), "setpoints.order")
    assert (missing.grade, missing.missing) == (Grade.MISSING, ("setpoint.level",))
    wrong = finding_of(make_case(setpoints=[("HH", ""), ("H", "1 m"), ("L", "11 m")]), "setpoints.order")
    assert wrong.grade is Grade.STOP


# Span 0.5 to 12 m; NE 43 carries −1.25 % to 103.125 %; the class's accuracy is 2 mm.
SPAN_M = 11.5
LOW_M = 0.5 - 0.0125 * SPAN_M + 0.002
HIGH_M = 12 + 0.03125 * SPAN_M - 0.002


@pytest.mark.parametrize(
    "level, grade, variant",
    [
        (12.0, Grade.PASS, "ok"),
        (12.000000001, Grade.CAUTION, "outside_high"),
        (HIGH_M - 1e-9, Grade.CAUTION, "outside_high"),
        (HIGH_M + 1e-9, Grade.STOP, "beyond_high"),
        (0.5, Grade.PASS, "ok"),
        (0.499999999, Grade.CAUTION, "outside_low"),
        (LOW_M + 1e-9, Grade.CAUTION, "outside_low"),
        (LOW_M - 1e-9, Grade.STOP, "beyond_low"),
    ],
)
def test_setpoint_and_span(level, grade, variant):
    finding = finding_of(make_case(setpoints=[("H", f"{level!r} m")]), "setpoints.inside_span")
    assert (finding.grade, finding.variant, finding.place) == (grade, variant, "setpoint-H")
    assert finding.margin_si == pytest.approx(min(HIGH_M - level, level - LOW_M), abs=1e-9)
    assert "NE 43" in finding.source


def test_a_reverse_signal_has_its_larger_reserve_below():
    case = make_case({"measurement.direction": "reverse"}, setpoints=[("H", "12.2 m"), ("L", "0.2 m")])
    found = {one.place: one for one in findings_of(case, "setpoints.inside_span")}
    assert found["setpoint-H"].variant == "beyond_high"
    assert found["setpoint-H"].margin_si == pytest.approx(12 + 0.0125 * SPAN_M - 0.002 - 12.2)
    assert found["setpoint-L"].variant == "outside_low"


@pytest.mark.parametrize(
    "changes, kwargs, missing",
    [
        ({"measurement.lrv": None}, {}, "measurement.lrv"),
        ({"measurement.urv": None}, {}, "measurement.urv"),
        ({"measurement.urv": "0.5 m"}, {}, "measurement.urv"),
        ({}, {"setpoints": [("H", "")]}, "setpoint.level"),
        ({}, {"sensor_class": None}, "measurement.sensor_class"),
        ({}, {"sensor_class": make_class(accuracy=None)}, "sensor_class.accuracy"),
    ],
)
def test_setpoint_and_span_missing(changes, kwargs, missing):
    for finding in findings_of(make_case(changes, **kwargs), "setpoints.inside_span"):
        assert finding.grade is Grade.MISSING
        assert missing in finding.missing


def test_no_setpoints():
    assert finding_of(make_case(setpoints=()), "setpoints.inside_span").grade is Grade.NOT_APPLICABLE
