"""Family "reach": for every check a pass, a failure by a hair, missing data, and the worst case."""

import pytest

from instruments.checks.finding import Grade
from instruments.physics.radar import derated_range_m, echo_level_db
from tests.checks.builders import RADAR, ULTRASONIC, finding_of, findings_of, make_case, make_class

HAIR_M = 1e-9

# --- range ----------------------------------------------------------------------------------------


def test_range_passes_with_margin_and_working():
    finding = finding_of(make_case(), "reach.range")
    assert (finding.grade, finding.variant, finding.place) == (Grade.PASS, "ok", "lrv")
    effective = derated_range_m(30.0, -9.54, echo_level_db(3.0))
    assert finding.required_si == pytest.approx(12.35)
    assert finding.available_si == pytest.approx(effective)
    assert finding.margin_si == pytest.approx(effective - 12.35)
    assert finding.kind == finding.margin_kind == "length"
    assert finding.provisional
    assert "Fresnel" in finding.source
    assert finding.working.result_si == pytest.approx(finding.margin_si)


def test_range_by_a_hair():
    effective = derated_range_m(30.0, -9.54, echo_level_db(3.0))
    # The class's range is scaled so that the effective range is the distance, 12.35 m, give or take a hair.
    for spare, grade in ((HAIR_M, Grade.PASS), (0.0, Grade.PASS), (-HAIR_M, Grade.STOP)):
        scaled = 30.0 * (12.35 + spare) / effective
        finding = finding_of(make_case(sensor_class=make_class(range_max=f"{scaled!r} m")), "reach.range")
        assert finding.grade is grade
        assert finding.margin_si == pytest.approx(spare, abs=1e-12)


def test_range_worst_case_is_not_the_normal_one():
    finding = finding_of(make_case({"case.Maximum.permittivity": "1.7"}), "reach.range")
    assert finding.grade is Grade.STOP
    assert finding.where.case == "Maximum"
    assert finding.margin_si == pytest.approx(derated_range_m(30.0, -9.54, echo_level_db(1.7)) - 12.35)
    assert finding.margin_si < 0


def test_range_cures_are_the_nearest_sufficient():
    case = make_case({"case.Maximum.permittivity": "1.7"})
    cures = {cure.code: cure for cure in finding_of(case, "reach.range").cures}
    lrv = f"{cures['raise_level'].value_si!r} m"
    changes = {"case.Maximum.permittivity": "1.7", "measurement.lrv": lrv}
    raised = make_case(changes, setpoints=())
    assert finding_of(raised, "reach.range").grade is Grade.PASS
    assert finding_of(raised, "reach.range").margin_si == pytest.approx(0.0, abs=1e-9)
    longer = make_class(range_max=f"{cures['other_class_range'].value_si!r} m")
    cured = make_case({"case.Maximum.permittivity": "1.7"}, sensor_class=longer)
    assert finding_of(cured, "reach.range").margin_si == pytest.approx(0.0, abs=1e-9)


def test_range_to_a_setpoint_below_lrv():
    finding = finding_of(make_case(setpoints=[("LL", "0.45 m")]), "reach.range")
    assert (finding.place, finding.params["what"]) == ("setpoint-LL", "LL")
    assert finding.required_si == pytest.approx(12.4)


@pytest.mark.parametrize(
    "changes, kwargs, missing",
    [
        ({"measurement.lrv": None}, {}, "measurement.lrv"),
        ({"nozzle.projection": None}, {}, "nozzle.face_elevation"),
        ({"medium.permittivity": None}, {}, "medium.permittivity"),
        ({"case.Normal.medium": None}, {}, "case.medium"),
        ({"medium.permittivity": "0.9"}, {}, "medium.permittivity"),
        ({}, {"cases": ()}, "case.kind"),
        ({}, {"sensor_class": None}, "measurement.sensor_class"),
        ({}, {"sensor_class": make_class(range_max=None)}, "sensor_class.range_max"),
        ({}, {"sensor_class": make_class(reference_echo=None)}, "sensor_class.reference_echo"),
        ({}, {"sensor_class": make_class(ULTRASONIC, range_max=None)}, "sensor_class.range_max"),
    ],
)
def test_range_missing(changes, kwargs, missing):
    finding = finding_of(make_case(changes, **kwargs), "reach.range")
    assert (finding.grade, finding.variant) == (Grade.MISSING, "missing")
    assert missing in finding.missing


def test_range_names_every_case_that_lacks_data():
    finding = finding_of(make_case({"case.Normal.medium": None, "case.Maximum.medium": None}), "reach.range")
    assert finding.grade is Grade.MISSING
    assert finding.where.case == "Normal, Maximum"


def test_a_range_that_fails_in_one_case_is_a_stop_though_another_lacks_data():
    case = make_case({"case.Maximum.permittivity": "1.7", "case.Normal.medium": None})
    assert finding_of(case, "reach.range").grade is Grade.STOP


@pytest.mark.parametrize("spare, grade", [(HAIR_M, Grade.PASS), (-HAIR_M, Grade.STOP)])
def test_ultrasonic_range_is_the_class_s(spare, grade):
    lrv = f"{12.85 - 8 + spare!r} m"
    finding = finding_of(make_case({"measurement.lrv": lrv}, sensor_class=ULTRASONIC, setpoints=()), "reach.range")
    assert finding.grade is grade
    assert finding.where.case == ""
    assert finding.available_si == 8.0
    assert finding.variant == ("ok_class" if grade is Grade.PASS else "short_class")


# --- upper dead zone ------------------------------------------------------------------------------

END_M = 12.69  # 12.85 m − 60 mm − 100 mm
HIGHEST_M = END_M - 0.002  # less the accuracy of the class


@pytest.mark.parametrize(
    "urv, grade, variant",
    [
        (HIGHEST_M - HAIR_M, Grade.PASS, "ok"),
        (HIGHEST_M, Grade.PASS, "ok"),
        (HIGHEST_M + HAIR_M, Grade.STOP, "close"),
        (END_M, Grade.STOP, "close"),
        (END_M + HAIR_M, Grade.STOP, "inside"),
        (13.5, Grade.STOP, "inside"),
    ],
)
def test_dead_zone_urv(urv, grade, variant):
    finding = finding_of(make_case({"measurement.urv": f"{urv!r} m"}), "reach.dead_zone_urv")
    assert (finding.grade, finding.variant, finding.place) == (grade, variant, "urv")
    assert finding.margin_si == pytest.approx(HIGHEST_M - urv, abs=1e-12)
    assert finding.available_si == pytest.approx(HIGHEST_M)


def test_dead_zone_of_ultrasonic_counts_from_the_reference_point():
    finding = finding_of(make_case(sensor_class=ULTRASONIC), "reach.dead_zone_urv")
    assert finding.available_si == pytest.approx(12.85 - 0.35 - 0.015)


@pytest.mark.parametrize(
    "changes, kwargs, missing",
    [
        ({"measurement.urv": None}, {}, "measurement.urv"),
        ({}, {"nozzle": False}, "measurement.nozzle"),
        ({}, {"sensor_class": None}, "measurement.sensor_class"),
        ({}, {"sensor_class": make_class(accuracy=None)}, "sensor_class.accuracy"),
        ({}, {"sensor_class": make_class(dead_zone_upper=None)}, "sensor_class.dead_zone_upper"),
    ],
)
def test_dead_zone_urv_missing(changes, kwargs, missing):
    finding = finding_of(make_case(changes, **kwargs), "reach.dead_zone_urv")
    assert finding.grade is Grade.MISSING
    assert missing in finding.missing


def test_dead_zone_cures_are_enough_and_no_more():
    case = make_case({"measurement.urv": "12.8 m"})
    cures = {cure.code: cure.value_si for cure in finding_of(case, "reach.dead_zone_urv").cures}
    assert cures["lower_level"] == pytest.approx(12.688)
    assert cures["raise_nozzle"] == pytest.approx(0.25 + 0.112)
    assert cures["longer_adapter"] == pytest.approx(0.112)
    assert "other_class_dead_zone" not in cures  # the dead zone of 100 mm cannot be shortened by 112 mm
    lifted = make_case({"measurement.urv": "12.8 m", "nozzle.projection": f"{cures['raise_nozzle']!r} m"})
    assert finding_of(lifted, "reach.dead_zone_urv").margin_si == pytest.approx(0.0, abs=1e-12)


def test_a_face_that_was_entered_is_what_the_cure_raises():
    changes = {"measurement.urv": "12.75 m", "nozzle.projection": None, "nozzle.face_elevation": "12.85 m"}
    cures = {cure.code: cure for cure in finding_of(make_case(changes), "reach.dead_zone_urv").cures}
    assert cures["raise_nozzle"].field == "nozzle.face_elevation"
    assert cures["raise_nozzle"].value_si == pytest.approx(12.85 + 0.062)
    assert cures["other_class_dead_zone"].value_si == pytest.approx(0.1 - 0.062)


def test_each_setpoint_against_the_dead_zone():
    case = make_case(setpoints=[("HH", "12.7 m"), ("H", "12.5 m"), ("L", "")])
    found = {one.place: one for one in findings_of(case, "reach.dead_zone_setpoint")}
    assert found["setpoint-HH"].grade is Grade.STOP
    assert found["setpoint-HH"].margin_si == pytest.approx(HIGHEST_M - 12.7)
    assert found["setpoint-H"].grade is Grade.PASS
    assert found["setpoint-L"].missing == ("setpoint.level",)
    assert found["setpoint-HH"].cures[0].field == "setpoint.level"


@pytest.mark.parametrize("level, grade", [(HIGHEST_M, Grade.PASS), (HIGHEST_M + HAIR_M, Grade.STOP)])
def test_setpoint_by_a_hair(level, grade):
    finding = finding_of(make_case(setpoints=[("HH", f"{level!r} m")]), "reach.dead_zone_setpoint")
    assert finding.grade is grade


def test_no_setpoints_is_not_applicable():
    finding = finding_of(make_case(setpoints=()), "reach.dead_zone_setpoint")
    assert (finding.grade, finding.variant) == (Grade.NOT_APPLICABLE, "none")


@pytest.mark.parametrize(
    "level, grade", [(END_M - HAIR_M, Grade.PASS), (END_M, Grade.PASS), (END_M + HAIR_M, Grade.CAUTION)]
)
def test_overflow_in_the_dead_zone_is_a_caution(level, grade):
    finding = finding_of(make_case({"vessel.overflow_level": f"{level!r} m"}), "reach.dead_zone_overflow")
    assert finding.grade is grade
    assert finding.margin_si == pytest.approx(END_M - level, abs=1e-12)


def test_overflow_not_given_not_readable_or_without_sensor():
    empty = {"vessel.overflow_level": None}
    assert finding_of(make_case(empty), "reach.dead_zone_overflow").grade is Grade.NOT_APPLICABLE
    unreadable = make_case(empty, unreadable={"vessel.overflow_level": "?"})
    assert finding_of(unreadable, "reach.dead_zone_overflow").missing == ("vessel.overflow_level",)
    assert finding_of(make_case(sensor_class=None), "reach.dead_zone_overflow").grade is Grade.MISSING
    no_vessel = finding_of(make_case(vessel=False), "reach.dead_zone_overflow")
    assert "measurement.vessel" in no_vessel.missing


# --- bottom ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "lrv, grade",
    [(0.2 + HAIR_M, Grade.PASS), (0.2, Grade.PASS), (0.2 - HAIR_M, Grade.STOP), (0.0, Grade.STOP)],
)
def test_lrv_against_the_bottom_under_the_sensor(lrv, grade):
    finding = finding_of(make_case({"measurement.lrv": f"{lrv!r} m"}), "reach.bottom")
    assert (finding.grade, finding.place) == (grade, "bottom")
    assert finding.margin_si == pytest.approx(lrv - 0.2, abs=1e-12)


def test_a_lower_dead_zone_raises_the_lowest_level():
    case = make_case(sensor_class=make_class(dead_zone_lower="310 mm"))
    finding = finding_of(case, "reach.bottom")
    assert finding.grade is Grade.STOP
    assert finding.margin_si == pytest.approx(-0.01)
    assert finding.cures[0].value_si == pytest.approx(0.51)


@pytest.mark.parametrize(
    "changes, kwargs, missing",
    [
        ({"nozzle.radius": None}, {}, "nozzle.radius"),
        ({"measurement.lrv": None}, {}, "measurement.lrv"),
        ({"vessel.diameter": None}, {}, "vessel.diameter"),
        ({}, {"sensor_class": make_class(dead_zone_lower=None)}, "sensor_class.dead_zone_lower"),
    ],
)
def test_bottom_missing(changes, kwargs, missing):
    finding = finding_of(make_case(changes, **kwargs), "reach.bottom")
    assert finding.grade is Grade.MISSING
    assert missing in finding.missing


# --- permittivity and accuracy --------------------------------------------------------------------


@pytest.mark.parametrize("er, grade", [("1.600000001", Grade.PASS), ("1.6", Grade.PASS), ("1.599999999", Grade.STOP)])
def test_permittivity_by_a_hair(er, grade):
    finding = finding_of(make_case({"medium.permittivity": er}), "reach.permittivity")
    assert finding.grade is grade
    assert finding.margin_si == pytest.approx(float(er) - 1.6, abs=1e-12)


def test_permittivity_worst_case_is_not_the_normal_one():
    finding = finding_of(make_case({"case.Maximum.permittivity": "1.5"}), "reach.permittivity")
    assert (finding.grade, finding.where.case) == (Grade.STOP, "Maximum")
    assert finding.cures[0].value_si == 1.5


@pytest.mark.parametrize("er", ["1", "0.5", "-2", "0"])
def test_a_permittivity_that_cannot_be(er):
    finding = finding_of(make_case({"medium.permittivity": er}), "reach.permittivity")
    assert (finding.grade, finding.variant) == (Grade.STOP, "impossible")


@pytest.mark.parametrize(
    "changes, kwargs, missing",
    [
        ({"medium.permittivity": None}, {}, "medium.permittivity"),
        ({}, {"cases": ()}, "case.kind"),
        ({}, {"sensor_class": None}, "measurement.sensor_class"),
        ({}, {"sensor_class": make_class(permittivity_min=None)}, "sensor_class.permittivity_min"),
    ],
)
def test_permittivity_missing(changes, kwargs, missing):
    finding = finding_of(make_case(changes, **kwargs), "reach.permittivity")
    assert finding.grade is Grade.MISSING
    assert missing in finding.missing


def test_sound_does_not_ask_for_a_permittivity():
    case = make_case({"medium.permittivity": None}, sensor_class=ULTRASONIC)
    assert finding_of(case, "reach.permittivity").grade is Grade.NOT_APPLICABLE


@pytest.mark.parametrize(
    "asked, grade", [("2.0000001 mm", Grade.PASS), ("2 mm", Grade.PASS), ("1.9999999 mm", Grade.STOP)]
)
def test_accuracy_by_a_hair(asked, grade):
    finding = finding_of(make_case({"measurement.accuracy": asked}), "reach.accuracy")
    assert finding.grade is grade
    assert finding.kind == "length_small"


def test_accuracy_not_asked_for_not_readable_or_not_stated():
    assert finding_of(make_case({"measurement.accuracy": None}), "reach.accuracy").grade is Grade.NOT_APPLICABLE
    unreadable = make_case({"measurement.accuracy": None}, unreadable={"measurement.accuracy": "?"})
    assert finding_of(unreadable, "reach.accuracy").missing == ("measurement.accuracy",)
    unstated = make_case(sensor_class=make_class(accuracy=None))
    assert finding_of(unstated, "reach.accuracy").missing == ("sensor_class.accuracy",)


def test_a_confirmed_class_gives_findings_that_are_not_provisional():
    confirmed = make_case(sensor_class=make_class(RADAR, confirmed=True))
    assert finding_of(make_case(), "reach.dead_zone_urv").provisional
    assert not finding_of(confirmed, "reach.dead_zone_urv").provisional
