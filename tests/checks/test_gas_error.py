"""Error of the reading by the gas above the medium."""

import pytest

from instruments.checks.finding import Grade
from instruments.wording import describe
from tests.checks.builders import HORN, ULTRASONIC, UNITS, finding_of, make_case, make_chamber_case
from tests.checks.variants_process import drum_case

CODE = "process.gas_error"


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def test_steam_drum_at_60_bar():
    """IAPWS R8-97: at 60 bar absolute, saturated, εr is 1.2329 and the distance reads 11.04 % long."""
    found = finding_of(drum_case(), CODE)
    assert (found.grade, found.variant, found.where.case) == (Grade.STOP, "low", "Normal")
    share, _kind = found.params["share"]
    assert share == pytest.approx(0.1104, abs=2e-4)
    # LRV lies 5.5 m below the top of the chamber.
    assert found.required_si == pytest.approx(5.5 * share)
    assert found.margin_si == pytest.approx(0.02 - 5.5 * share)
    assert "alarms on a high level come late" in describe(found, UNITS).sentence
    assert any(plain(line).startswith("e = −d · δ = −5.5 m · 11.") for line in describe(found, UNITS).working)


def test_the_worst_is_not_the_normal_case():
    found = finding_of(drum_case({"case.Normal.pressure": "1.01325 bar(a)", "case.Normal.temperature": "100 °C",
                                  "case.Cold start.gas": "Steam", "case.Cold start.pressure": "10 bar(a)",
                                  "case.Cold start.temperature": "180 °C"}), CODE)  # fmt: skip
    assert (found.grade, found.where.case) == (Grade.STOP, "Cold start")


def test_by_a_hair():
    error = finding_of(drum_case(), CODE).required_si
    assert error is not None
    exact = {"measurement.accuracy": f"{error!r} m"}
    assert finding_of(drum_case(exact), CODE).grade is Grade.PASS
    assert finding_of(drum_case({"measurement.accuracy": f"{error * (1 - 1e-9)!r} m"}), CODE).grade is Grade.STOP


def test_a_compensation_that_is_named_has_to_be_proved():
    found = finding_of(drum_case({"measurement.compensation": "Reference probe, 500 mm"}), CODE)
    assert (found.grade, [cure.code for cure in found.cures]) == (Grade.CAUTION, ["prove_compensation"])


def test_plain_air_is_negligible_and_says_how_much():
    """ITU-R P.453: dry air at 20 °C and 1 atm, n − 1 = 268e-6: 2.7 mm in 10 m."""
    found = finding_of(make_case({"case.Maximum.pressure": "0 bar(g)", "case.Maximum.temperature": "20 °C",
                                  "case.Minimum.temperature": "20 °C"}), CODE)  # fmt: skip
    assert found.grade is Grade.PASS
    assert found.required_si == pytest.approx(12.35 * 268e-6, rel=0.03)


def test_an_unknown_gas_under_pressure_is_missing():
    found = finding_of(make_case({"medium.gas": "Methanol vapour and nitrogen"}), CODE)
    assert (found.grade, found.missing) == (Grade.MISSING, ("medium.permittivity_vapour",))
    entered = {"medium.gas": "Methanol vapour and nitrogen", "medium.permittivity_vapour": "1.0007"}
    assert finding_of(make_case(entered), CODE).grade is Grade.PASS
    assert finding_of(make_case({**entered, "case.Maximum.permittivity_vapour": "1.004"}), CODE).where.case == "Maximum"


def test_an_unknown_gas_in_a_vented_vessel_is_bounded():
    """εr below 1.02: at most 1 % of 12.35 m."""
    low = {"medium.gas": "Hexane vapour", "case.Maximum.pressure": "0 bar(g)", "case.Normal.pressure": "0 bar(g)"}
    found = finding_of(make_case({**low, "measurement.accuracy": "0.13 m"}), CODE)
    assert (found.grade, found.variant) == (Grade.PASS, "bounded")
    assert finding_of(make_case({**low, "measurement.accuracy": "0.12 m"}), CODE).missing == (
        "medium.permittivity_vapour",
    )


def test_a_dense_gas_needs_its_density():
    high = {"medium.gas": "Carbon dioxide", "case.Maximum.pressure": "10 bar(g)"}
    assert finding_of(make_case(high), CODE).missing == ("case.density_vapour",)
    assert finding_of(make_case({**high, "case.Maximum.density_vapour": "18 kg/m³"}), CODE).grade is Grade.STOP


@pytest.mark.parametrize("key", ["measurement.accuracy", "measurement.lrv", "measurement.sensor_class"])
def test_what_is_missing(key):
    case = make_case(sensor_class=None) if key.endswith("class") else make_case({key: None})
    assert key in finding_of(case, CODE).missing


def test_steam_that_cannot_be():
    found = finding_of(drum_case({"case.Normal.temperature": "200 °C"}), CODE)
    assert (found.grade, set(found.contradictory)) == (Grade.MISSING, {"case.temperature", "case.pressure"})


def test_ultrasonic_in_another_gas():
    """CO2 at 20 °C and 1 atm: 266.56 m/s against 343.3 m/s in air (reference equations of state)."""
    found = finding_of(make_case({"medium.gas": "Carbon dioxide", "measurement.lrv": "5 m"}, sensor_class=ULTRASONIC),
                       CODE)  # fmt: skip
    assert (found.grade, found.variant) == (Grade.STOP, "low")
    assert found.params["share"][0] == pytest.approx(343.344 / 266.56 - 1)
    assert finding_of(make_case({"measurement.lrv": "5 m"}, sensor_class=ULTRASONIC), CODE).grade is Grade.PASS
    unknown = make_case({"medium.gas": "Solvent vapour"}, sensor_class=ULTRASONIC)
    assert finding_of(unknown, CODE).missing == ("case.gas",)


def test_ultrasonic_below_a_gas_that_nobody_named():
    """Air only where the vessel is open to it; in a closed one nothing is assumed."""
    open_one = {
        "medium.gas": "", "case.Normal.pressure": "0 bar(g)", "case.Maximum.pressure": "0 bar(g)",
        "measurement.lrv": "5 m",
    }  # fmt: skip
    assert finding_of(make_case(open_one, sensor_class=ULTRASONIC), CODE).grade is not Grade.MISSING
    closed = {**open_one, "case.Normal.pressure": "3 bar(g)"}
    assert finding_of(make_case(closed, sensor_class=ULTRASONIC), CODE).missing == ("case.gas",)


def test_radar_in_a_tube():
    """Mode TE11, 26 GHz in 60 mm: 1/√(1 − (1.841·11.53/(π·60))²) − 1 = 0.640 %."""
    tube = {"medium.permittivity_vapour": "1", "measurement.accuracy": "5 mm"}
    found = finding_of(make_chamber_case(tube, sensor_class=HORN), CODE)
    assert (found.grade, found.variant) == (Grade.STOP, "low")
    assert found.params["share"][0] == pytest.approx(0.00640, abs=1e-5)
    narrow = finding_of(make_chamber_case({**tube, "measurement.chamber_bore": "6 mm"}, sensor_class=HORN), CODE)
    assert narrow.contradictory == ("measurement.chamber_bore",)
    well = finding_of(make_case({"measurement.stilling_well": "DN 80, slotted"}), CODE)
    assert well.missing == ("measurement.well_bore",)
