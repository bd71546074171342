"""Accepting a caution: who may be told what, when it lapses, and what two people at once do to each other.

Common practice, no source: a judgement is given for a reason, by name, and for what was judged.
"""

import pytest
from django.core.exceptions import ValidationError

from instruments.models import Acceptance, Measurement, MeasurementState
from instruments.results import Results, results_of
from instruments.services.acceptances import (
    Judgement,
    NoSuchFinding,
    acceptances_of,
    deeds_of,
    withdraw_acceptance,
)
from instruments.services.cases import build_case, with_all_inputs
from instruments.services.measurements import copy_measurement
from project.actor import Actor
from project.services import StaleEdit, delete_row
from tests.accepting import CODE, PLACE, REASON, accept, change, digest, make_cautioned
from tests.factories import actor_of, make_measurement, make_user
from vessels.models import Plant

pytestmark = pytest.mark.django_db


@pytest.fixture
def measurement(plant: Plant) -> Measurement:
    return make_cautioned(plant)


def results(measurement: Measurement) -> Results:
    loaded = with_all_inputs(Measurement.objects.filter(pk=measurement.pk)).get()
    return results_of(build_case(loaded), acceptances_of([loaded]))


def judgement(measurement: Measurement) -> Judgement:
    return results(measurement).judgements[CODE, PLACE]


def test_a_caution_is_accepted_by_name(measurement: Measurement) -> None:
    person = make_user("ada", first_name="Ada", last_name="Example")
    row = accept(measurement, actor_of(person))
    assert (row.reason, row.accepted_by, row.version, row.plant) == (REASON, person, 1, measurement.plant)
    now = judgement(measurement)
    assert now.holds
    assert now.text == f"{REASON} (Ada Example, {row.accepted_at:%Y-%m-%d})"
    assert results(measurement).accepted == {(CODE, PLACE): now.text}
    record = row.history.get()
    assert (record.history_action.user, record.history_action.what) == (person, "accept finding")


def test_the_grade_stays_and_the_measurement_does_not_count_up(measurement: Measurement) -> None:
    version = measurement.version
    accept(measurement)
    measurement.refresh_from_db()
    assert measurement.version == version
    assert MeasurementState.objects.get().grades_by_family["setpoints"] == "caution"
    family = next(one for one in results(measurement).open_families if one.key == "setpoints")
    assert (family.worst, results(measurement).counts["caution"] >= 1) == ("caution", True)


@pytest.mark.parametrize(
    ("values", "code", "place", "says"),
    [
        ({"urv": "10.2 m"}, "signal.span_inside", "urv", "A stop cannot be accepted"),
        ({"urv": ""}, "signal.span_order", "urv", "What is missing cannot be accepted"),
        ({}, "signal.span_order", "urv", "the check passes"),
        ({}, "mounting.taps", "", "the check does not apply"),
    ],
)
def test_nothing_but_a_caution_is_accepted(
    plant: Plant, values: dict[str, str], code: str, place: str, says: str
) -> None:
    measurement = make_measurement(plant, **values)
    with pytest.raises(ValidationError, match=says):
        accept(measurement, code=code, place=place)
    assert not Acceptance.objects.exists()


@pytest.mark.parametrize("reason", ["", "too short", " " * 40, "x" * 301])
def test_a_reason_is_ten_to_three_hundred_characters(measurement: Measurement, reason: str) -> None:
    with pytest.raises(ValidationError, match="10 to 300 characters"):
        accept(measurement, reason=reason)
    assert not Acceptance.objects.exists()


@pytest.mark.parametrize("reason", ["x" * 10, "x" * 300])
def test_reasons_at_the_limits_are_taken(measurement: Measurement, reason: str) -> None:
    assert accept(measurement, reason=reason).reason == reason


@pytest.mark.parametrize(("code", "place"), [("no.such_check", PLACE), (CODE, "setpoint-LL"), ("", "")])
def test_what_no_check_says_cannot_be_accepted(measurement: Measurement, code: str, place: str) -> None:
    with pytest.raises(NoSuchFinding):
        accept(measurement, code=code, place=place, digest=digest(measurement))


def test_what_changed_since_it_was_read_is_refused(measurement: Measurement) -> None:
    read = digest(measurement)
    change(measurement, urv="9.45 m")
    with pytest.raises(ValidationError, match="was changed since you opened the page"):
        accept(measurement, digest=read)
    assert not Acceptance.objects.exists()


def test_it_lapses_when_an_input_changes_and_says_which(measurement: Measurement) -> None:
    accept(measurement)
    change(measurement, urv="9.45 m")
    now = judgement(measurement)
    assert (now.holds, now.changed, now.reason) == (False, ("measurement.urv",), REASON)
    assert results(measurement).accepted == {}


def test_it_lapses_when_the_grade_gets_worse(measurement: Measurement) -> None:
    accept(measurement)
    change(measurement, urv="9.2 m")
    assert results(measurement).worst == "stop"
    assert not judgement(measurement).holds


@pytest.mark.parametrize("texts", [{"note": "Seen on site."}, {"damping": "5 s"}, {"urv": "9500 mm"}])
def test_it_holds_when_something_else_changes(measurement: Measurement, texts: dict[str, str]) -> None:
    accept(measurement)
    change(measurement, **texts)
    assert judgement(measurement).holds


def test_it_holds_again_when_the_inputs_are_what_was_judged(measurement: Measurement) -> None:
    accept(measurement)
    change(measurement, urv="9.45 m")
    change(measurement, urv="9.5 m")
    assert judgement(measurement).holds


def test_a_lapsed_one_is_renewed_in_place(measurement: Measurement) -> None:
    row = accept(measurement)
    change(measurement, urv="9.45 m")
    later = accept(measurement, reason="Looked at again with the new span.", expected_version=row.version)
    assert (later.pk, later.version) == (row.pk, 2)
    assert judgement(measurement).holds
    assert [deed.what for deed in deeds_of(later)] == ["Renewed", "Accepted"]
    assert [deed.reason for deed in deeds_of(later)] == ["Looked at again with the new span.", REASON]


def test_withdrawing_keeps_the_history_and_can_be_renewed(measurement: Measurement) -> None:
    first, second = make_user("first"), make_user("second")
    row = accept(measurement, actor_of(first))
    withdraw_acceptance(actor_of(second), row, row.version)
    assert results(measurement).judgements == {}
    accept(measurement, actor_of(first), expected_version=2)
    assert judgement(measurement).holds
    assert [(deed.what, deed.name) for deed in deeds_of(row)] == [
        ("Renewed", "first"), ("Withdrawn", "second"), ("Accepted", "first"),
    ]  # fmt: skip


def test_two_people_accept_at_once_and_the_second_is_told(measurement: Measurement) -> None:
    first = make_user("first")
    accept(measurement, actor_of(first))
    with pytest.raises(StaleEdit) as refused:
        accept(measurement, actor_of(make_user("second")), reason="Another reason altogether.")
    assert (refused.value.conflict.saved_by, refused.value.conflict.row.reason) == ("first", REASON)
    assert Acceptance.objects.get().reason == REASON


def test_a_stale_withdrawal_is_refused(measurement: Measurement) -> None:
    row = accept(measurement)
    accept(measurement, reason="Judged once more by others.", expected_version=1)
    with pytest.raises(StaleEdit):
        withdraw_acceptance(actor_of(), Acceptance.objects.get(pk=row.pk), 1)
    assert not Acceptance.objects.get().withdrawn


def test_a_copy_has_to_be_judged_anew(measurement: Measurement) -> None:
    accept(measurement)
    copy = copy_measurement(actor_of(), measurement, "LT", "7777", "")
    assert not copy.acceptances.exists()


def test_it_goes_with_its_measurement_and_its_history_stays(measurement: Measurement) -> None:
    accept(measurement)
    measurement.refresh_from_db()
    delete_row(Actor(None, "form"), measurement, measurement.version)
    assert not Acceptance.objects.exists()
    assert Acceptance.history.filter(history_type="-").count() == 1


def test_families_are_worst_first_and_accepted_ones_last(plant: Plant) -> None:
    setpoints = ({"name": "H", "level": "9.6 m"}, {"name": "HH", "level": "9.65 m"})
    measurement = make_measurement(plant, setpoints=setpoints)
    accept(measurement)
    family = next(one for one in results(measurement).open_families if one.key == "setpoints")
    assert (family.worst, family.accepted_count) == ("caution", 1)
    assert [one.accepted for one in family.findings] == [False, True]
    change(measurement, urv="10.2 m")
    worst = [one.worst.rank for one in results(measurement).open_families]
    assert worst == sorted(worst)
    assert results(measurement).open_families[0].worst == "stop"
    settled = [one for family in results(measurement).settled_families for one in family.findings]
    assert len(settled) == results(measurement).settled_count > 0
