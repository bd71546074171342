"""The demonstration plant: loads once, through the services, and its faults are found."""

import tomllib
from typing import Any

import pytest
from django.core.management import call_command
from django.test import Client
from django.urls import reverse

from instruments.checks.registry import run_checks
from instruments.models import Measurement
from instruments.services.cases import build_case, with_all_inputs
from instruments.services.demo import DEMO_FILE, load_demo
from project.accounts.demo import DEMO_LOGINS
from project.accounts.models import Membership, Role
from project.models import Action
from vessels.models import Plant, Vessel

pytestmark = pytest.mark.django_db
EXPECTED = tomllib.loads((DEMO_FILE.parent / "expected_grades.toml").read_text(encoding="utf-8"))["measurements"]


@pytest.fixture
def demo() -> Plant:
    plant = load_demo()
    assert plant is not None
    return plant


def test_the_faults_are_found_and_nothing_else(demo: Plant) -> None:
    found = {}
    for measurement in with_all_inputs(Measurement.objects.filter(plant=demo)):
        findings = run_checks(build_case(measurement))
        found[measurement.tag.text] = measurement.state.worst_grade
        for code, grade in EXPECTED[measurement.tag.text].get("findings", {}).items():
            assert grade in {one.grade for one in findings if one.code == code}, (measurement, code)
            others = {one.code for one in findings if one.grade == "stop"} - {code}
            assert others == set(), f"{measurement}: also {others}"
        assert not measurement.state.dirty
    assert found == {tag: row["worst"] for tag, row in EXPECTED.items()}


def test_its_size_and_that_it_is_marked_invented(demo: Plant, client: Client) -> None:
    assert (Vessel.objects.count(), Measurement.objects.count()) == (4, 8)
    assert demo.invented
    assert sum("fault" in row for row in EXPECTED.values()) == 2
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
    assert len(set(Measurement.objects.values_list("documents__number", flat=True))) == 8
