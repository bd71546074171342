"""Temperatures of seals, and a second seal. All of it is common practice, no single source."""

import pytest

from instruments.checks.finding import Grade
from instruments.wording import describe
from tests.checks.builders import (
    HORN,
    RADAR,
    ROD,
    UNITS,
    finding_of,
    make_case,
    make_class,
    make_rope_case,
    make_silo_case,
)

TEMPERATURE, SECOND = "process.seal_temperature", "process.second_seal"


def test_fkm_to_200_degrees_by_a_hair():
    """Seal handbooks agree within 20 K: FKM −20 to 200 °C, dry and continuous."""
    limit = finding_of(make_case({"case.Maximum.temperature": "200 °C"}), TEMPERATURE)
    assert (limit.grade, limit.margin_si) == (Grade.PASS, 0.0)
    over = finding_of(make_case({"case.Maximum.temperature": "200.001 °C"}), TEMPERATURE)
    assert (over.grade, over.variant, over.where.case) == (Grade.CAUTION, "hot", "Maximum")
    assert over.margin_si == pytest.approx(-0.001, abs=1e-9)
    cold = finding_of(make_case({"case.Minimum.temperature": "-20.001 °C"}), TEMPERATURE)
    assert (cold.grade, cold.variant, cold.where.case) == (Grade.CAUTION, "cold", "Minimum")


def test_the_seal_entered_counts_before_the_class():
    hot = {"case.Maximum.temperature": "250 °C", "measurement.seal_material": "FFKM"}
    assert finding_of(make_case(hot), TEMPERATURE).grade is Grade.PASS
    special = {**hot, "case.Maximum.temperature": "300 °C"}
    assert finding_of(make_case(special), TEMPERATURE).variant == "special"
    both = {**hot, "measurement.seal_material": "FFKM, FKM"}
    assert finding_of(make_case(both), TEMPERATURE).params["seal"] == "FKM"


@pytest.mark.parametrize(
    "case, missing",
    [
        (make_case({"measurement.seal_material": "own compound"}), "tables.seal_material"),
        (make_case({"case.Normal.temperature": None}), "case.temperature"),
        (make_case(sensor_class=None), "measurement.sensor_class"),
        (make_case(sensor_class=make_class(RADAR, seals=None)), "measurement.seal_material"),
    ],
)
def test_what_is_missing(case, missing):
    found = finding_of(case, TEMPERATURE)
    assert (found.grade, found.missing) == (Grade.MISSING, (missing,))
    assert "tables." not in describe(found, UNITS).sentence


@pytest.mark.parametrize(
    "hazards, sensor_class, second, grade, variant",
    [
        ("toxic", ROD, None, Grade.CAUTION, "toxic"),
        ("flammable, toxic", HORN, "no", Grade.CAUTION, "toxic"),
        ("toxic", ROD, "yes", Grade.PASS, "ok"),
        ("flammable", RADAR, None, Grade.CAUTION, "flammable"),
        ("flammable", ROD, None, Grade.NOT_APPLICABLE, "no_window"),
        ("not toxic, non-flammable", RADAR, None, Grade.NOT_APPLICABLE, "no_hazard"),
        (None, RADAR, None, Grade.NOT_APPLICABLE, "no_hazard"),
        ("flammable", None, None, Grade.MISSING, "missing"),
    ],
)
def test_second_seal(hazards, sensor_class, second, grade, variant):
    case = make_rope_case({"medium.hazards": hazards, "measurement.second_seal": second}, sensor_class=sensor_class)
    found = finding_of(case, SECOND)
    assert (found.grade, found.variant) == (grade, variant)
    assert found.grade is not Grade.STOP


def test_dust_needs_none():
    assert finding_of(make_silo_case({"medium.hazards": "flammable"}), SECOND).variant == "no_hazard"
