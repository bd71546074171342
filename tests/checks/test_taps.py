"""Measurements between two connections: where the measurable range ends, and which connection is which."""

import pytest

from instruments.checks.finding import Grade
from tests.checks.builders import (
    GOOD_TAPS,
    HORN,
    RADAR,
    ROD,
    finding_of,
    findings_of,
    make_case,
    make_chamber_case,
    make_class,
    make_legs_case,
    make_seals_case,
)

HAIR_M = 1e-9
MAKERS = [make_legs_case, make_seals_case, make_chamber_case]


# --- between the connections ----------------------------------------------------------------------


@pytest.mark.parametrize("make", MAKERS)
@pytest.mark.parametrize(
    "stem, level, grade, variant",
    [
        ("lrv", 0.4 + HAIR_M, Grade.PASS, "ok"),
        ("lrv", 0.4, Grade.PASS, "ok"),
        ("lrv", 0.4 - HAIR_M, Grade.STOP, "below"),
        ("urv", 5.5, Grade.PASS, "ok"),
        ("urv", 5.5 + HAIR_M, Grade.STOP, "above"),
    ],
)
def test_span_ends_at_the_connections(make, stem, level, grade, variant):
    finding = finding_of(make({f"measurement.{stem}": f"{level!r} m"}), "reach.between_taps", stem)
    assert (finding.grade, finding.variant) == (grade, variant)
    assert finding.margin_si == pytest.approx(level - 0.4 if stem == "lrv" else 5.5 - level, abs=1e-12)
    if grade is Grade.STOP:
        assert (finding.cures[0].field, finding.cures[0].value_si) == (
            f"measurement.{stem}",
            0.4 if stem == "lrv" else 5.5,
        )


def test_every_setpoint_is_looked_at():
    case = make_legs_case(setpoints=[("HH", "5.6 m"), ("H", "5 m"), ("L", "")])
    found = {one.place: one for one in findings_of(case, "reach.between_taps")}
    assert set(found) == {"lrv", "urv", "setpoint-HH", "setpoint-H", "setpoint-L"}
    assert found["setpoint-HH"].grade is Grade.STOP
    assert found["setpoint-HH"].margin_si == pytest.approx(-0.1)
    assert found["setpoint-H"].grade is Grade.PASS
    assert found["setpoint-L"].missing == ("setpoint.level",)


@pytest.mark.parametrize(
    "taps, missing",
    [
        ({}, ("measurement.nozzle_lower", "measurement.nozzle_upper")),
        ({"lower": GOOD_TAPS["lower"]}, ("measurement.nozzle_upper",)),
        ({**GOOD_TAPS, "upper": {"mark": "N5"}}, ("nozzle.face_elevation",)),
    ],
)
def test_missing(taps, missing):
    case = make_legs_case(taps=taps)
    assert finding_of(case, "reach.between_taps", "urv").missing == missing
    assert set(finding_of(case, "mounting.taps").missing) == set(missing)
    no_level = finding_of(make_legs_case({"measurement.urv": None}), "reach.between_taps", "urv")
    assert no_level.missing == ("measurement.urv",)


def test_one_nozzle_does_not_end_at_connections():
    for code in ("reach.between_taps", "mounting.taps"):
        assert finding_of(make_case(), code).grade is Grade.NOT_APPLICABLE


# --- which connection is which --------------------------------------------------------------------


@pytest.mark.parametrize(
    "upper, grade, variant",
    [(0.4 + HAIR_M, Grade.PASS, "ok"), (0.4, Grade.STOP, "reversed"), (0.2, Grade.STOP, "reversed")],
)
def test_upper_above_lower(upper, grade, variant):
    taps = {**GOOD_TAPS, "upper": {"face_elevation": f"{upper!r} m"}}
    finding = finding_of(make_seals_case(taps=taps), "mounting.taps")
    assert (finding.grade, finding.variant) == (grade, variant)
    assert finding.margin_si == pytest.approx(upper - 0.4, abs=1e-12)


@pytest.mark.parametrize("top, grade", [(5.5, Grade.PASS), (5.5 - HAIR_M, Grade.STOP)])
def test_the_top_of_a_chamber(top, grade):
    finding = finding_of(make_chamber_case({"measurement.reference_elevation": f"{top!r} m"}), "mounting.taps")
    assert finding.grade is grade
    if grade is Grade.STOP:
        assert finding.variant == "top_below"
        assert finding.margin_si == pytest.approx(-HAIR_M, abs=1e-12)
        assert finding.cures[0].value_si == 5.5
    unplaced = finding_of(make_chamber_case({"measurement.reference_elevation": None}), "mounting.taps")
    assert unplaced.missing == ("measurement.reference_elevation",)


# --- in a chamber ---------------------------------------------------------------------------------


def test_dead_zone_in_a_chamber_counts_from_its_top():
    finding = finding_of(make_chamber_case({"measurement.urv": "5.4 m"}), "reach.dead_zone_urv")
    assert finding.available_si == pytest.approx(6.0 - 0.15 - 0.003)
    low_top = {"measurement.reference_elevation": "5.5 m", "measurement.urv": "5.4 m"}
    cures = {one.code: one for one in finding_of(make_chamber_case(low_top), "reach.dead_zone_urv").cures}
    assert cures["raise_chamber_top"].field == "measurement.reference_elevation"
    assert cures["raise_chamber_top"].value_si == pytest.approx(5.5 + 5.4 - 5.347)
    assert "raise_nozzle" not in cures


@pytest.mark.parametrize(
    "bore, grade, variant",
    [("77 mm", Grade.PASS, "ok"), ("74.9 mm", Grade.STOP, "narrow"), (None, Grade.MISSING, "missing")],
)
def test_what_stands_in_a_chamber_passes_its_bore(bore, grade, variant):
    finding = finding_of(make_chamber_case({"measurement.chamber_bore": bore}, sensor_class=HORN), "mounting.opening")
    assert (finding.grade, finding.variant) == (grade, variant)
    if grade is Grade.MISSING:
        assert finding.missing == ("measurement.chamber_bore",)
    if grade is Grade.STOP:
        assert finding.cures[0].field == "measurement.chamber_bore"


# --- what the class suits -------------------------------------------------------------------------


@pytest.mark.parametrize("arrangement", ["two_taps", "remote_seals", "chamber", "none"])
def test_the_class_suits_the_arrangement_or_not(arrangement):
    finding = finding_of(make_case({"measurement.arrangement": arrangement}), "mounting.arrangement")
    assert (finding.grade, finding.variant) == (Grade.STOP, "unsuited")
    assert finding.provisional
    suited = make_class(RADAR, confirmed=True, arrangements=f"one_nozzle; {arrangement}")
    passed = finding_of(
        make_case({"measurement.arrangement": arrangement}, sensor_class=suited), "mounting.arrangement"
    )
    assert (passed.grade, passed.provisional) == (Grade.PASS, False)


def test_arrangement_missing():
    assert finding_of(make_case(sensor_class=None), "mounting.arrangement").missing == ("measurement.sensor_class",)
    unstated = finding_of(make_case(sensor_class=make_class(ROD, arrangements=None)), "mounting.arrangement")
    assert unstated.missing == ("sensor_class.arrangements",)
    unsaid = finding_of(make_case({"measurement.arrangement": None}), "mounting.arrangement")
    assert unsaid.missing == ("measurement.arrangement",)
