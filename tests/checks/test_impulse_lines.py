"""What stands in the lines to the transmitter, and above the liquid: worked examples, and what may be assumed."""

import pytest

from instruments.checks.finding import Grade
from instruments.checks.frame import Frame
from instruments.checks.hydrostatics import set_differences
from instruments.wording import describe
from tests.checks.builders import UNITS, finding_of, make_legs_case, make_seals_case

G = 9.80665  # standard gravity (3rd General Conference on Weights and Measures, 1901)
DP_CHECKS = ("process.dp_span", "process.dp_limits", "process.dp_density")


def set_to(case):
    return [one.value for one in set_differences(case, Frame(case))]


def legs_case(lower_m, upper_m, transmitter_m, lrv_m, urv_m, **densities):
    """Two taps with elevations in m; densities in kg/m³ by stem of medium or measurement."""
    changes = {
        "measurement.lrv": f"{lrv_m} m",
        "measurement.urv": f"{urv_m} m",
        "measurement.transmitter_elevation": f"{transmitter_m} m",
        "measurement.legs": "wet" if "leg_density" in densities else "dry",
        "measurement.lower_leg_density": None,
    }
    for stem, value in densities.items():
        entity = "medium" if stem in ("density", "density_vapour") else "measurement"
        changes[f"{entity}.{stem}"] = f"{value} kg/m³"
    taps = {"upper": {"face_elevation": f"{upper_m} m"}, "lower": {"face_elevation": f"{lower_m} m"}}
    return make_legs_case(changes, taps=taps)


# --- worked examples ------------------------------------------------------------------------------


def test_closed_tank_with_the_medium_in_the_lower_line():
    # Computed from hydrostatics: relative density 0.85 over 4 m, lower tap 0.5 m above the transmitter, wet leg of
    # 1.11 over 5.2 m, no gas, the lower line filled with the medium: −52.436 … −19.094 kPa.
    case = legs_case(0.5, 5.2, 0.0, 0.5, 4.5, density=850, density_vapour=0, leg_density=1110, lower_leg_density=850)
    assert set_to(case) == pytest.approx([-52436, -19094], abs=0.5)


def test_transmitter_above_the_lower_tap():
    # Worked example of open texts on differential pressure level, computed from hydrostatics; the texts are cited from
    # memory. Relative density 1.12 over 5470 mm, transmitter 1250 mm above the tap: −1400 … 4726.4 mm of water.
    case = legs_case(0, 5.74, 1.25, 0, 5.47, density=1120, density_vapour=0, lower_leg_density=1120)
    assert [one / G for one in set_to(case)] == pytest.approx([-1400, 4726.4])


# Saturated water and steam at 100 bar and water at 40 °C and 100 bar, by IAPWS-95 as the open library CoolProp
# computes it.
DRUM = {"density": 688.42, "density_vapour": 55.463, "leg_density": 996.52}


def test_a_drum_whose_transmitter_sits_at_the_lower_tap_asks_for_no_lower_line():
    case = legs_case(0, 1, 0, 0, 1, **DRUM)
    assert set_to(case) == pytest.approx([-9228.6, -3021.3], rel=1e-4)
    assert "ρ_l" not in set_differences(case, Frame(case))[0].working.formula
    for code in DP_CHECKS:
        assert "measurement.lower_leg_density" not in finding_of(case, code).missing


def test_below_a_drum_the_lower_line_is_cold():
    # Worked by hand: p = ρ·g·h, drum at 60 bar(g) with 756 and 31.4 kg/m³, taps at 0.2 and 1.2 m, transmitter at
    # −1.2 m, both lines filled with 995 kg/m³:
    # at 0.25 m  756 · 0.05 + 31.4 · 0.95 + 995 · 1.4 − 995 · 2.4 = −927.37 kg/m², at 1.1 m −311.46 kg/m².
    drum = {"density": 756, "density_vapour": 31.4, "leg_density": 995, "lower_leg_density": 995}
    case = legs_case(0.2, 1.2, -1.2, 0.25, 1.1, **drum)
    assert set_to(case) == pytest.approx([-927.37 * G, -311.46 * G])
    assert set_to(case) == pytest.approx([-9094, -3054], abs=1)
    # The same with the density of the boiling water, which does not stand in a line without flow: 33 mbar too low.
    boiling = set_to(legs_case(0.2, 1.2, -1.2, 0.25, 1.1, **{**drum, "lower_leg_density": 756}))
    assert [one - other for one, other in zip(set_to(case), boiling, strict=True)] == pytest.approx([239 * 1.4 * G] * 2)


# --- asked for where it matters -------------------------------------------------------------------


@pytest.mark.parametrize(
    "transmitter, wanted", [("0.4 m", False), ("1.3123359580052494 ft", False), ("0.401 m", True), ("0.3 m", True)]
)
def test_the_lower_line_is_asked_for_where_it_has_a_height(transmitter, wanted):
    # The lower tap lies at 0.4 m.
    empty = {"measurement.lower_leg_density": None, "measurement.transmitter_elevation": transmitter}
    for code in DP_CHECKS:
        finding = finding_of(make_legs_case(empty), code)
        assert ("measurement.lower_leg_density" in finding.missing) is wanted
        assert (finding.grade is Grade.MISSING) is wanted
        # It is no case's own datum.
        assert finding.grade is not Grade.MISSING or finding.where.case == ""


def test_its_density_does_not_follow_the_operating_case():
    other = make_legs_case({"measurement.lower_leg_density": "1030 kg/m³"})
    difference = finding_of(other, "process.dp_limits").available_si
    assert difference is not None
    shift = [one - before for one, before in zip(set_to(other), set_to(make_legs_case()), strict=True)]
    assert shift == pytest.approx([100 * 0.1 * G] * 2)
    # Equal in every case, it moves no reading.
    assert finding_of(other, "process.dp_density").available_si == pytest.approx(
        finding_of(make_legs_case(), "process.dp_density").available_si
    )


def test_seals_have_no_such_line():
    assert finding_of(make_seals_case({"measurement.lower_leg_density": None}), "process.dp_span").grade is Grade.PASS


# --- air above an open tank -----------------------------------------------------------------------

NO_GAS = {"medium.density_vapour": None, "case.Maximum.density_vapour": None}
OPEN = {**NO_GAS, "case.Maximum.pressure": "0 bar(g)"}


@pytest.mark.parametrize("gas", [None, "Air", " air "])
def test_above_an_open_tank_air_is_assumed_and_shown(gas):
    case = make_legs_case({**OPEN, "medium.gas": gas})
    assert set_to(case) == pytest.approx(set_to(make_legs_case({"medium.density_vapour": "1.2 kg/m³"})))
    for code in DP_CHECKS:
        assert finding_of(case, code).grade is Grade.PASS
    described = describe(finding_of(case, "process.dp_span"), UNITS)
    assert "ρ_a = ρ_air = 1.2\u00a0kg/m³" in described.working
    assert "assumed" in dict(described.legend)["ρ_air"]
    assert {"case.pressure", "medium.gas", "medium.density_vapour"} <= set(described.finding.fields)


def test_air_by_the_ideal_gas_law():
    # ρ = p·M/(R·T): 101.325 kPa (ISO 2533:1975), 28.9647 g/mol, R = 8.314 462 618 J/(mol·K) (CODATA 2018), 20 °C.
    density = 101_325 * 0.0289647 / (8.314462618 * 293.15)
    assert density == pytest.approx(1.2, abs=0.005)


@pytest.mark.parametrize(
    "changes",
    [
        {"case.Normal.pressure": "5.001 kPa(g)"},
        {"case.Normal.pressure": "-5.001 kPa(g)"},
        {"case.Normal.pressure": None},
        {"medium.gas": "Nitrogen"},
        {"case.Normal.gas": "Propane"},
        {"medium.kind": "liquefied_gas"},
        {"case.Normal.medium": None},
    ],
)
def test_no_air_is_assumed_where_another_gas_may_be(changes):
    finding = finding_of(make_legs_case({**OPEN, **changes}), "process.dp_span")
    assert finding.grade is Grade.MISSING
    assert {"medium.density_vapour", "case.medium"} & set(finding.missing)


@pytest.mark.parametrize("pressure", ["5 kPa(g)", "-4.999 kPa(g)"])
def test_what_a_vent_lets_stand_is_atmospheric(pressure):
    assert finding_of(make_legs_case({**OPEN, "case.Normal.pressure": pressure}), "process.dp_span").grade is Grade.PASS


def test_the_atmosphere_is_the_plant_s():
    high = {**OPEN, "plant.atmosphere": "0.84 bar(a)", "case.Normal.pressure": "0.84 bar(a)"}
    assert finding_of(make_legs_case(high), "process.dp_span").grade is Grade.PASS
    assert finding_of(make_legs_case({**high, "case.Normal.pressure": "1.013 bar(a)"}), "process.dp_span").missing == (
        "medium.density_vapour",
    )


def test_a_density_that_cannot_be_read_is_missing_not_air():
    for key in ("medium.density_vapour", "case.density_vapour"):
        case = make_legs_case(OPEN, unreadable={key: "?"})
        assert finding_of(case, "process.dp_span").grade is Grade.MISSING
