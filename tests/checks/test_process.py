"""Family "process": temperatures, pressures, kind of medium."""

import pytest

from instruments.checks.finding import Grade
from tests.checks.builders import GOOD_CASES, ULTRASONIC, finding_of, make_case, make_class

NO_DESIGN = {
    "vessel.design_temperature_max": None,
    "vessel.design_temperature_min": None,
    "vessel.design_pressure_max": None,
    "vessel.design_pressure_min": None,
}


def test_temperature_passes_both_ways():
    high, low = (finding_of(make_case(), f"process.temperature_{side}") for side in ("high", "low"))
    assert (high.grade, high.variant, high.margin_si) == (Grade.PASS, "ok_design", pytest.approx(40))
    assert (low.grade, low.variant, low.margin_si) == (Grade.PASS, "ok_design", pytest.approx(20))
    assert high.margin_kind == low.margin_kind == "temperature_difference"


@pytest.mark.parametrize(
    "celsius, grade", [("129.999999 °C", Grade.PASS), ("130 °C", Grade.PASS), ("130.000001 °C", Grade.STOP)]
)
def test_hot_by_a_hair_in_a_case_that_is_not_normal(celsius, grade):
    finding = finding_of(make_case({"case.Maximum.temperature": celsius}), "process.temperature_high")
    assert (finding.grade, finding.where.case) == (grade, "Maximum")
    assert finding.margin_si == pytest.approx(130 - float(celsius.split()[0]), abs=1e-9)
    assert finding.variant == ("ok" if grade is Grade.PASS else "beyond")


@pytest.mark.parametrize(
    "celsius, grade", [("-19.999999 °C", Grade.PASS), ("-20 °C", Grade.PASS), ("-20.000001 °C", Grade.STOP)]
)
def test_cold_by_a_hair(celsius, grade):
    finding = finding_of(make_case({"case.Minimum.temperature": celsius}), "process.temperature_low")
    assert (finding.grade, finding.where.case) == (grade, "Minimum")
    assert finding.margin_si == pytest.approx(float(celsius.split()[0]) + 20, abs=1e-9)


def test_the_design_temperature_binds():
    hot = finding_of(make_case({"vessel.design_temperature_max": "150 °C"}), "process.temperature_high")
    assert (hot.grade, hot.variant, hot.margin_si) == (Grade.STOP, "beyond_design", pytest.approx(-20))
    cold = finding_of(make_case({"vessel.design_temperature_min": "-29 °C"}), "process.temperature_low")
    assert (cold.grade, cold.variant, cold.margin_si) == (Grade.STOP, "beyond_design", pytest.approx(-9))
    assert hot.cures[0].value_si == pytest.approx(150 + 273.15)


def test_the_highest_design_value_is_needed_the_lowest_is_not():
    for stem in ("temperature", "pressure"):
        high = finding_of(make_case(NO_DESIGN), f"process.{stem}_high")
        assert high.missing == (f"vessel.design_{stem}_max",)
        low = finding_of(make_case(NO_DESIGN), f"process.{stem}_low")
        assert (low.grade, low.variant) == (Grade.PASS, "ok")


def test_a_design_case_stands_for_the_design_values():
    design = {
        "kind": "design",
        "display": "Design",
        "medium": "m1",
        "temperature": "95 °C",
        "pressure": "2.5 bar(g)",
    }
    case = make_case(NO_DESIGN, cases=(*GOOD_CASES, design))
    for code in ("process.temperature_high", "process.pressure_high"):
        finding = finding_of(case, code)
        assert (finding.grade, finding.where.case) == (Grade.PASS, "Design")


def test_an_unreadable_lowest_design_value_is_missing():
    case = make_case(NO_DESIGN, unreadable={"vessel.design_pressure_min": "?"})
    assert finding_of(case, "process.pressure_low").missing == ("vessel.design_pressure_min",)


ONE_WAY = [(f"process.{stem}_{side}", stem) for stem in ("temperature", "pressure") for side in ("high", "low")]


@pytest.mark.parametrize("code, stem", ONE_WAY)
def test_every_case_that_lacks_data_is_named(code, stem):
    finding = finding_of(make_case({f"case.Normal.{stem}": None, f"case.Maximum.{stem}": None}), code)
    assert (finding.grade, finding.missing) == (Grade.MISSING, (f"case.{stem}",))
    assert finding.where.case == "Normal, Maximum"


@pytest.mark.parametrize("code, stem", ONE_WAY)
@pytest.mark.parametrize(
    "kwargs, missing",
    [
        ({"cases": ()}, "case.kind"),
        ({"sensor_class": None}, "measurement.sensor_class"),
        ({"vessel": False}, "measurement.vessel"),
    ],
)
def test_missing(code, stem, kwargs, missing):
    finding = finding_of(make_case(**kwargs), code)
    assert finding.grade is Grade.MISSING
    assert missing in finding.missing


def test_a_class_without_a_limit():
    case = make_case(sensor_class=make_class(process_pressure_max=None))
    finding = finding_of(case, "process.pressure_high")
    assert finding.missing == ("sensor_class.process_pressure_max",)
    assert finding.where.case == ""


@pytest.mark.parametrize(
    "pressure, grade",
    [
        ("17 bar(a)", Grade.PASS),
        ("17.000001 bar(a)", Grade.STOP),
        ("15.98675 bar(g)", Grade.PASS),  # 17 bar(a) at 1.01325 bar
        ("15.98676 bar(g)", Grade.STOP),
        ("16.999999 bar(a)", Grade.PASS),
    ],
)
def test_high_pressure_by_a_hair_gauge_and_absolute(pressure, grade):
    finding = finding_of(make_case({"case.Maximum.pressure": pressure}), "process.pressure_high")
    assert (finding.grade, finding.where.case) == (grade, "Maximum")
    assert finding.margin_kind == "pressure_margin"


def test_the_plant_s_atmosphere_decides_what_gauge_means():
    changes = {"case.Maximum.pressure": "16.1 bar(g)", "vessel.design_pressure_min": None}
    assert finding_of(make_case(changes), "process.pressure_high").grade is Grade.STOP
    mountain = {**changes, "plant.atmosphere": "0.8 bar(a)"}
    finding = finding_of(make_case(mountain), "process.pressure_high")
    assert finding.grade is Grade.PASS
    assert finding.margin_si == pytest.approx(0.1e5)


@pytest.mark.parametrize(
    "pressure, grade",
    [("0.7 bar(a)", Grade.PASS), ("0.6999999 bar(a)", Grade.STOP), ("0 bar(a)", Grade.STOP)],
)
def test_ultrasonic_in_vacuum(pressure, grade):
    case = make_case({"case.Minimum.pressure": pressure}, sensor_class=ULTRASONIC)
    finding = finding_of(case, "process.pressure_low")
    assert (finding.grade, finding.where.case) == (grade, "Minimum")
    assert finding.margin_si == pytest.approx((float(pressure.split()[0]) - 0.7) * 1e5, abs=1e-6)


def test_radar_in_full_vacuum_passes_at_its_limit_of_zero():
    finding = finding_of(make_case({"case.Minimum.pressure": "0 bar(a)"}), "process.pressure_low")
    assert (finding.grade, finding.margin_si) == (Grade.PASS, 0.0)


def test_design_vacuum_binds():
    case = make_case({"vessel.design_pressure_min": "-1 bar(g)"}, sensor_class=ULTRASONIC)
    finding = finding_of(case, "process.pressure_low")
    assert (finding.grade, finding.variant) == (Grade.STOP, "beyond_design")
    assert finding.margin_si == pytest.approx(1325 - 70000)


def test_kind_of_medium():
    assert finding_of(make_case(), "process.medium_kind").grade is Grade.PASS
    media = {"m1": {"kind": "liquid"}, "m2": {"kind": "solid"}}
    case = make_case({"case.Maximum.medium": "m2"}, media=media)
    finding = finding_of(case, "process.medium_kind")
    assert (finding.grade, finding.where.case) == (Grade.STOP, "Maximum")
    assert finding.params["medium.kind"] == "solid"


@pytest.mark.parametrize(
    "changes, kwargs, missing, where",
    [
        ({"case.Normal.medium": None}, {}, "case.medium", "Normal"),
        ({"medium.kind": None}, {}, "case.medium", "Minimum, Normal, Maximum"),
        ({}, {"sensor_class": None}, "measurement.sensor_class", ""),
        ({}, {"sensor_class": make_class(media=None)}, "sensor_class.media", ""),
        ({}, {"cases": ()}, "case.kind", ""),
    ],
)
def test_kind_of_medium_missing(changes, kwargs, missing, where):
    finding = finding_of(make_case(changes, **kwargs), "process.medium_kind")
    assert finding.grade is Grade.MISSING
    assert finding.missing == (missing,)
    assert finding.where.case == where
