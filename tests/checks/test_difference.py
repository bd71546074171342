"""Measurements by a difference of pressures: what the cell is set to, its limits, and changes of density."""

import pytest

from instruments.checks.figures import key_figures
from instruments.checks.finding import Grade
from instruments.checks.frame import Frame
from instruments.checks.hydrostatics import fillings, set_differences
from tests.checks.builders import (
    GOOD_CASES,
    LEGS,
    SEALS,
    finding_of,
    make_case,
    make_class,
    make_legs_case,
    make_seals_case,
)

G = 9.80665  # standard gravity (3rd General Conference on Weights and Measures, 1901)
HAIR_PA = 1e-3


def head(*parts: tuple[float, float]) -> float:
    """Pressure in Pa of columns (density in kg/m³, height in m, negative where it acts the other way)."""
    return G * sum(density * height for density, height in parts)


# Taps at 0.4 and 5.5 m, transmitter at 0.3 m, LRV 0.5 m, URV 5 m.
# The lower line holds what stands in it, 930 kg/m³, whatever the medium weighs in the vessel.
LOW_PA = head((915, 0.1), (1.2, 5.0), (930, 0.1), (1.2, -5.2))
HIGH_PA = head((915, 4.6), (1.2, 0.5), (930, 0.1), (1.2, -5.2))
WET = {"measurement.legs": "wet", "measurement.leg_density": "1000 kg/m³"}


def set_to(case):
    return [one.value for one in set_differences(case, Frame(case))]


# --- differences ----------------------------------------------------------------------------------


def test_dry_leg():
    assert set_to(make_legs_case()) == pytest.approx([LOW_PA, HIGH_PA])


def test_wet_leg():
    wet = head((1000, -5.2)) + head((1.2, 5.2))
    assert set_to(make_legs_case(WET)) == pytest.approx([LOW_PA + wet, HIGH_PA + wet])
    assert set_to(make_legs_case(WET))[0] < 0


def test_remote_seals_whatever_the_height_of_the_transmitter():
    low = head((915, 0.1), (1.2, 5.0), (934, -5.1))
    assert set_to(make_seals_case())[0] == pytest.approx(low)
    lifted = {"measurement.transmitter_elevation": "7 m"}
    assert set_to(make_seals_case(lifted)) == set_to(make_seals_case())


def test_between_two_seals_as_computed_from_hydrostatics():
    # Two remote seals 4 m apart, fill of relative density 0.934, product 0.95, no gas: −36.638 … +0.628 kPa.
    changes = {
        "measurement.lrv": "0.4 m",
        "measurement.urv": "4.4 m",
        "medium.density": "950 kg/m³",
        "medium.density_vapour": "0 kg/m³",
    }
    taps = {"upper": {"face_elevation": "4.4 m"}, "lower": {"face_elevation": "0.4 m"}}
    found = set_to(make_seals_case(changes, taps=taps))
    assert found == pytest.approx([-36638, 628], abs=0.5)


def test_levels_count_from_the_datum():
    by_tangent = {
        "vessel.datum": "bottom_tangent_line",
        "measurement.lrv": "-0.1 m",
        "measurement.urv": "4.4 m",
        "measurement.transmitter_elevation": "-0.3 m",
    }
    taps = {"upper": {"face_elevation": "4.9 m"}, "lower": {"face_elevation": "-0.2 m"}}
    assert set_to(make_legs_case(by_tangent, taps=taps)) == pytest.approx([LOW_PA, HIGH_PA])


INTERFACE = {"medium.kind": "interface", "medium.density_upper": "700 kg/m³", "case.Maximum.density_upper": "690 kg/m³"}


def test_an_interface_lies_below_the_upper_liquid():
    case = make_legs_case({**INTERFACE, "measurement.variable": "interface"})
    assert set_to(case)[1] == pytest.approx(head((915, 4.6), (700, 0.5), (930, 0.1), (700, -5.2)))
    total = make_legs_case(INTERFACE)
    assert "measurement.variable" in set_differences(total, Frame(total))[0].missing


PRESSED = {"case.Normal.pressure": "1 bar(g)"}  # no vent lets that stand, so that air is not assumed


@pytest.mark.parametrize(
    "make, changes, missing",
    [
        (make_legs_case, {"measurement.legs": None}, "measurement.legs"),
        (make_legs_case, {**WET, "measurement.leg_density": None}, "measurement.leg_density"),
        (make_legs_case, {"measurement.transmitter_elevation": None}, "measurement.transmitter_elevation"),
        (make_legs_case, {"medium.density": None}, "medium.density"),
        (make_legs_case, {"measurement.lower_leg_density": None}, "measurement.lower_leg_density"),
        (make_legs_case, {"measurement.lower_leg_density": "-1 kg/m³"}, "measurement.lower_leg_density"),
        (make_legs_case, {**PRESSED, "medium.density_vapour": None}, "medium.density_vapour"),
        (make_legs_case, {"medium.density": "-915 kg/m³"}, "medium.density"),
        (make_legs_case, {"case.Normal.temperature": "31 °C"}, "case.density"),
        (make_legs_case, {"measurement.urv": "5.6 m"}, "measurement.urv"),
        (make_seals_case, {"measurement.fill_density": None}, "measurement.fill_density"),
    ],
)
def test_what_a_difference_lacks_is_named(make, changes, missing):
    case = make(changes)
    for code in ("process.dp_span", "process.dp_limits", "process.dp_density"):
        finding = finding_of(case, code)
        assert (finding.grade, finding.variant) == (Grade.MISSING, "missing"), code
        assert missing in finding.missing
    assert missing in next(one for one in key_figures(case) if one.key == "dp_urv").missing


def test_a_density_of_the_gas_does_not_hold_beyond_ten_kelvin_either():
    case = make_legs_case({"case.Maximum.density_vapour": None})
    hot = next(one for one in fillings(case, Frame(case)) if one.case == "Maximum")
    assert hot.above.missing == ("case.density_vapour",)
    assert finding_of(case, "process.dp_density").where.case == "Maximum"
    no_medium = make_legs_case({"case.Maximum.medium": None, "case.Maximum.density_vapour": None})
    assert "case.medium" in finding_of(no_medium, "process.dp_density").missing


def test_taps_that_are_not_there_or_not_placed():
    assert "measurement.nozzle_upper" in finding_of(make_legs_case(taps={}), "process.dp_span").missing
    unplaced = {"upper": {"mark": "N5"}, "lower": {"face_elevation": "0.4 m"}}
    assert "nozzle.face_elevation" in finding_of(make_legs_case(taps=unplaced), "process.dp_span").missing


def test_without_a_normal_case_there_is_nothing_to_set_to():
    case = make_legs_case({"case.Normal.kind": "maximum"})
    assert finding_of(case, "process.dp_span").missing == ("case.kind",)
    for code in ("process.dp_span", "process.dp_limits", "process.dp_density"):
        assert "case.kind" in finding_of(make_case(sensor_class=LEGS, cases=(), changes=TWO_TAPS), code).missing


TWO_TAPS = {"measurement.arrangement": "two_taps"}


def test_no_class_is_missing_and_another_principle_is_not_concerned():
    for code in ("process.dp_span", "process.dp_limits", "process.dp_density"):
        no_class = finding_of(make_legs_case(sensor_class=None), code)
        assert no_class.missing == ("measurement.sensor_class",)
        assert finding_of(make_case(TWO_TAPS), code).variant == "other_principle"
        assert finding_of(make_case(sensor_class=LEGS), code).variant == "arrangement"


def test_figures():
    found = {one.key: one for one in key_figures(make_legs_case())}
    assert found["dp_lrv"].value_si == pytest.approx(LOW_PA)
    assert found["dp_urv"].value_si == pytest.approx(HIGH_PA)
    assert found["dp_urv"].kind == "pressure_difference"
    assert "ρ_u" in found["dp_urv"].working.formula
    assert "ρ_f" in {one.key: one for one in key_figures(make_seals_case())}["dp_urv"].working.formula
    assert not {"reference_point", "distance_lrv", "effective_range"} & set(found)
    assert not {"dp_lrv", "distance_lrv"} & {one.key for one in key_figures(make_case(sensor_class=LEGS))}


def test_a_level_at_a_tap_is_between_them_whatever_its_unit():
    # 18 ft 6 in and 5.6388 m differ by rounding noise only.
    taps = {"upper": {"face_elevation": "5.6388 m"}, "lower": {"face_elevation": "4.8 in"}}
    changes = {"measurement.urv": "18 ft 6 in", "measurement.lrv": "0.12192 m"}
    assert finding_of(make_legs_case(changes, taps=taps), "process.dp_span").grade is not Grade.MISSING
    assert finding_of(make_legs_case(changes, taps=taps), "reach.between_taps", "urv").margin_si == 0.0


# --- span -----------------------------------------------------------------------------------------

SPAN_PA = HIGH_PA - LOW_PA


@pytest.mark.parametrize("spare, grade", [(HAIR_PA, Grade.PASS), (-HAIR_PA, Grade.STOP)])
def test_span_by_a_hair(spare, grade):
    largest = make_class(LEGS, pressure_span_max=f"{SPAN_PA + spare!r} Pa")
    large = finding_of(make_legs_case(sensor_class=largest), "process.dp_span")
    assert (large.grade, large.variant) == (grade, "ok" if grade is Grade.PASS else "large")
    assert large.margin_si == pytest.approx(spare, abs=1e-9)
    assert (large.kind, large.margin_kind) == ("pressure_difference", "pressure_difference")
    least = make_class(LEGS, pressure_span_min=f"{SPAN_PA - spare!r} Pa", pressure_span_max="2 bar")
    small = finding_of(make_legs_case(sensor_class=least), "process.dp_span")
    assert (small.grade, small.variant) == (grade, "ok" if grade is Grade.PASS else "small")
    assert small.margin_si == pytest.approx(spare, abs=1e-9)
    assert small.provisional


def test_a_gas_heavier_than_the_liquid_gives_a_negative_span():
    finding = finding_of(make_legs_case({"medium.density_vapour": "1000 kg/m³"}), "process.dp_span")
    assert (finding.grade, finding.variant, finding.cures) == (Grade.STOP, "small", ())
    assert finding.available_si < 0


def test_span_of_a_class_that_states_none():
    assert finding_of(make_legs_case(sensor_class=make_class(LEGS, pressure_span_min=None)), "process.dp_span").missing


# --- limits of the cell ---------------------------------------------------------------------------


def test_the_worst_difference_is_not_that_of_the_normal_case():
    finding = finding_of(make_legs_case({"case.Maximum.density": "1200 kg/m³"}), "process.dp_limits")
    high = head((1200, 4.6), (1.1, 0.5), (930, 0.1), (1.1, -5.2))
    assert (finding.grade, finding.variant, finding.where.case) == (Grade.STOP, "above", "Maximum")
    assert finding.margin_si == pytest.approx(50_000 - high)
    assert finding.where.elevation_m == 5.0
    assert finding.cures[0].value_si == pytest.approx(high)


@pytest.mark.parametrize("spare, grade", [(HAIR_PA, Grade.PASS), (-HAIR_PA, Grade.STOP)])
def test_limits_by_a_hair_signs_included(spare, grade):
    # The heaviest leg of a wet one at LRV, in the Maximum case with the lighter liquid.
    low = head((890, 0.1), (1.1, 5.0), (930, 0.1), (1000, -5.2))
    narrow = make_class(LEGS, difference_min=f"{low - spare!r} Pa")
    finding = finding_of(make_legs_case(WET, sensor_class=narrow), "process.dp_limits")
    assert (finding.grade, finding.variant) == (grade, "ok" if grade is Grade.PASS else "below")
    assert (finding.where.case, finding.params["what"]) == ("Maximum", "LRV")
    assert finding.margin_si == pytest.approx(spare, abs=1e-6)


def test_limits_missing():
    unstated = make_legs_case(sensor_class=make_class(LEGS, difference_max=None))
    finding = finding_of(unstated, "process.dp_limits")
    assert (finding.missing, finding.where.case) == (("sensor_class.difference_max",), "")


# --- change of density ----------------------------------------------------------------------------

HOT_PA = head((890, 4.6), (1.1, 0.5), (930, 0.1), (1.1, -5.2))
ERROR_M = 0.5 + 4.5 * (HOT_PA - LOW_PA) / (HIGH_PA - LOW_PA) - 5.0  # about −0.126 m: a lighter liquid reads low


@pytest.mark.parametrize("spare, grade", [(1e-9, Grade.PASS), (-1e-9, Grade.STOP)])
def test_error_by_a_hair(spare, grade):
    finding = finding_of(make_legs_case({"measurement.accuracy": f"{-ERROR_M + spare!r} m"}), "process.dp_density")
    assert (finding.grade, finding.variant) == (grade, "ok" if grade is Grade.PASS else "off")
    assert (finding.where.case, finding.where.elevation_m) == ("Maximum", 5.0)
    assert finding.available_si == pytest.approx(ERROR_M)
    assert finding.available_si < 0
    assert finding.margin_si == pytest.approx(spare, abs=1e-10)
    assert finding.working.result_si == pytest.approx(ERROR_M)
    assert not finding.provisional


def test_open_tank_error_is_the_ratio_of_the_densities():
    # Open tank, tap at 0 %, no gas: shown over true is ρ/ρ_set, 0.95 → −5 % (hydrostatics).
    changes = {
        "measurement.lrv": "0.4 m",
        "measurement.urv": "5.4 m",
        "measurement.transmitter_elevation": "0.4 m",
        "medium.density": "1000 kg/m³",
        "medium.density_vapour": "0 kg/m³",
        "case.Maximum.density": "950 kg/m³",
        "case.Maximum.density_vapour": "0 kg/m³",
    }
    finding = finding_of(make_legs_case(changes), "process.dp_density")
    assert finding.available_si == pytest.approx(-0.05 * 5.0)


def test_a_heavier_liquid_reads_high():
    finding = finding_of(make_legs_case({"case.Minimum.density": "980 kg/m³"}), "process.dp_density")
    assert (finding.grade, finding.where.case) == (Grade.STOP, "Minimum")
    assert finding.available_si > 0
    assert finding.margin_si < 0


def test_a_wet_leg_and_a_heavy_vapour_are_worst_at_lrv():
    # More vapour presses on the lower tap, and most where there is least liquid.
    finding = finding_of(make_legs_case({**WET, "case.Maximum.density": "915 kg/m³",
                                         "case.Maximum.density_vapour": "60 kg/m³"}), "process.dp_density")  # fmt: skip
    assert (finding.params["what"], finding.grade) == ("LRV", Grade.STOP)


LIGHT = {"case.Maximum.density": "850 kg/m³"}


@pytest.mark.parametrize(
    "how, text",
    [
        ("temperature", ""),
        ("pressure_temperature", "in the control system"),
        ("saturation", ""),
        ("density", ""),
        ("other", "density of the recipe step"),
    ],
)
def test_a_compensation_for_density_has_to_be_proved(how, text):
    own = {**LIGHT, "measurement.density_compensation": how, "measurement.compensation": text}
    finding = finding_of(make_legs_case(own), "process.dp_density")
    assert (finding.grade, finding.variant) == (Grade.CAUTION, "compensated")
    assert finding.cures[0].code == "prove_compensation"
    assert finding.margin_si < 0
    assert set(own) - {"case.Maximum.density"} <= set(finding.fields)


@pytest.mark.parametrize(
    "how, text",
    [
        ("", ""),
        ("", "None yet"),
        ("", "of the vapour, by a reference probe"),
        ("none", "planned for the next shutdown"),
        ("other", ""),
        ("other", "  "),
        ("unheard of", "by temperature"),
    ],
)
def test_other_words_about_compensation_compensate_nothing(how, text):
    own = {**LIGHT, "measurement.density_compensation": how, "measurement.compensation": text}
    finding = finding_of(make_legs_case(own), "process.dp_density")
    assert (finding.grade, finding.variant) == (Grade.STOP, "off")
    assert finding.cures[0].field == "measurement.density_compensation"


def test_one_case_or_no_accuracy():
    alone = make_legs_case({"case.Maximum.kind": "normal"}, cases=GOOD_CASES[2:])
    assert finding_of(alone, "process.dp_density").variant == "only_normal"
    assert finding_of(make_legs_case({"measurement.accuracy": None}), "process.dp_density").missing == (
        "measurement.accuracy",
    )


def test_an_error_beyond_the_accuracy_is_told_though_another_case_lacks_data():
    case = make_legs_case({"case.Maximum.density": "850 kg/m³", "case.Minimum.medium": None})
    assert finding_of(case, "process.dp_density").grade is Grade.STOP


# --- accuracy as a share of the span --------------------------------------------------------------


@pytest.mark.parametrize("asked, grade", [("4.5 mm", Grade.PASS), ("4.4999999 mm", Grade.STOP)])
def test_accuracy_of_a_pressure_sensor_is_a_share_of_the_span(asked, grade):
    finding = finding_of(make_legs_case({"measurement.accuracy": asked}), "reach.accuracy")
    assert finding.grade is grade
    assert finding.available_si == pytest.approx(0.001 * 4.5)
    seals = finding_of(make_seals_case(), "reach.accuracy")
    assert seals.available_si == pytest.approx(0.0025 * 4.5)
    assert "u_span" in seals.working.before[0].formula


def test_accuracy_without_span_or_share():
    reversed_span = finding_of(make_legs_case({"measurement.urv": "0.5 m"}), "reach.accuracy")
    assert reversed_span.missing == ("measurement.lrv", "measurement.urv")
    unstated = make_seals_case(sensor_class=make_class(SEALS, accuracy_of_span=None))
    assert finding_of(unstated, "reach.accuracy").missing == ("sensor_class.accuracy_of_span",)
    # A setpoint clears the end of the measuring current by it.
    assert finding_of(unstated, "setpoints.inside_span", "setpoint-H").missing == ("sensor_class.accuracy_of_span",)
