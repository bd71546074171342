"""The demonstration plant: loads once, through the services, and its faults are found."""

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from django.core.management import call_command
from django.db import transaction
from django.test import Client
from django.urls import reverse

from instruments.checks.registry import run_checks
from instruments.field_defs import ARRANGEMENTS
from instruments.models import Measurement, SensorClassRow, Tag
from instruments.services.cases import build_case, with_all_inputs
from instruments.services.demo import DEMO_FOLDER, load_demo
from project.accounts.demo import DEMO_LOGINS
from project.accounts.models import Membership, Role
from project.models import Action
from vessels.field_defs import BODIES, INTERNAL_KINDS, MEDIUM_KINDS
from vessels.models import Internal, Medium, Plant, Vessel

pytestmark = pytest.mark.django_db
EXPECTED = tomllib.loads((DEMO_FOLDER.parent / "expected_grades.toml").read_text(encoding="utf-8"))["measurements"]
FAULTS = {tag: row["findings"] for tag, row in EXPECTED.items() if "fault" in row}


@pytest.fixture(scope="module")
def demo(django_db_setup: None, django_db_blocker: Any) -> Iterator[Plant]:
    """Loaded once for all tests of this file, inside a transaction that is rolled back after them."""
    with django_db_blocker.unblock(), transaction.atomic():
        plant = load_demo()
        assert plant is not None
        yield plant
        transaction.set_rollback(True)


def test_the_faults_are_found_and_nothing_else(demo: Plant) -> None:
    worst = {}
    for measurement in with_all_inputs(Measurement.objects.filter(plant=demo)):
        tag, findings = measurement.tag.text, run_checks(build_case(measurement))
        found = {(one.code, one.grade.value) for one in findings}
        expected = set(FAULTS.get(tag, {}).items())
        assert expected <= found, f"{tag}: {expected - found} not found"
        stops = {code for code, grade in found if grade == "stop"}
        assert stops <= {code for code, _grade in expected}, f"{tag}: {stops}"
        worst[tag] = measurement.state.worst_grade
        assert not measurement.state.dirty, tag
    assert worst == {tag: row["worst"] for tag, row in EXPECTED.items()}
    assert len(FAULTS) >= 10
    assert set(worst.values()) == {"stop", "missing", "caution", "pass"}


def kept(rows: Any, stem: str) -> set[str]:
    return set(rows.values_list(stem, flat=True))


def test_its_size_and_its_variety(demo: Plant) -> None:
    measurements = Measurement.objects.filter(plant=demo)
    assert (Vessel.objects.count(), measurements.count()) == (20, 45)
    assert Tag.objects.filter(measurement=None).count() == 5
    assert kept(Vessel.objects, "body") == {body for body, _label in BODIES}
    assert kept(Medium.objects, "kind") == {kind for kind, _label in MEDIUM_KINDS}
    assert kept(Internal.objects, "kind") == {kind for kind, _label in INTERNAL_KINDS}
    assert kept(measurements, "arrangement") == {arrangement for arrangement, _label in ARRANGEMENTS}
    used = kept(measurements.exclude(sensor_class=None), "sensor_class__key")
    assert used == kept(SensorClassRow.objects.for_plant(demo), "key")
    assert all(2 <= vessel.operating_cases.count() <= 4 for vessel in Vessel.objects.all())
    assert sum(bool(one.details.get("holds")) for one in measurements) == 2


def test_it_is_marked_invented(demo: Plant, client: Client) -> None:
    assert demo.invented
    client.force_login(Membership.objects.get(plant=demo, role=Role.READER).user)
    assert b"Invented demonstration plant" in client.get(reverse("tag_list", args=[demo.uid])).content


def test_one_log_in_for_each_role(demo: Plant, client: Client) -> None:
    assert [role for _name, _password, role in DEMO_LOGINS] == [str(role.label) for role in Role]
    for name, password, _role in DEMO_LOGINS:
        page = client.post(reverse("log_in"), {"username": name, "password": password})
        assert page.status_code == 302
        client.logout()


def test_a_second_load_changes_nothing(demo: Plant, capsys: Any) -> None:
    before = Action.objects.count(), list(Measurement.objects.values())
    assert load_demo() is None
    call_command("load_demo")
    assert "nothing changed" in capsys.readouterr().out
    assert (Action.objects.count(), list(Measurement.objects.values())) == before


def test_it_went_through_the_services(demo: Plant) -> None:
    record = Measurement.history.latest()
    assert (record.history_action.route, record.history_action.user.username) == ("demo", "originator")
    assert len(set(Measurement.objects.values_list("documents__number", flat=True))) == 45
