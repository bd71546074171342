"""Two people, one row: the second is refused and sees both values; nothing is written half."""

import re

import pytest
from django.db import transaction
from django.test import Client
from django.urls import reverse

from instruments.models import Measurement, Setpoint, Tag
from project.accounts.models import Membership, Role, User
from project.actor import NoActor
from tests.factories import make_measurement, make_medium, make_user, make_vessel
from tests.web.pages import form_values, send, values_of
from vessels.models import Medium, Nozzle, Plant


@pytest.fixture
def second(plant: Plant) -> Client:
    """Another originator's browser."""
    person = make_user("second", first_name="Second", last_name="Person")
    for role in (Role.ORIGINATOR, Role.PROCESS):
        Membership.objects.create(user=person, plant=plant, role=role)
    client = Client()
    client.force_login(person)
    return client


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("field", "first_text", "second_text"),
    [
        ("measurement-urv", "9.1", "9.2"),
        ("nozzle-face_elevation", "10.4", "10.5"),
        ("tag-service", "First service", "Second service"),
    ],
)
def test_the_second_save_is_refused_with_both_values(
    logged_in: Client, second: Client, plant: Plant, field: str, first_text: str, second_text: str
) -> None:
    measurement = make_measurement(plant)
    url = reverse("measurement_edit", args=[measurement.uid])
    first_values, second_values = form_values(logged_in, url), form_values(second, url)
    assert logged_in.post(url, first_values | {field: first_text}).status_code == 302
    # The second person also changes another row of the page, which must not be written either.
    response = second.post(url, second_values | {field: second_text, "tag-location": "Platform 3"})
    page = response.content.decode()
    assert response.status_code == 409
    assert "<b>Not saved.</b>" in page
    assert "the-originator" in page
    conflict = page[page.index('class="conflict"') : page.index("</table>", page.index('class="conflict"'))]
    assert first_text in conflict
    assert second_text in conflict
    assert f'value="{second_text}"' in page, "the second person's typing is lost"
    assert Tag.objects.get().location == ""
    # Saving again is a decision: the page now carries the new version.
    again = values_of(page)
    assert second.post(url, again).status_code == 302
    assert second_text in form_values(second, url)[field]


@pytest.mark.django_db
def test_a_stale_save_of_setpoints_is_refused(logged_in: Client, second: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    url = reverse("measurement_edit", args=[measurement.uid])
    first_values, second_values = form_values(logged_in, url), form_values(second, url)
    assert logged_in.post(url, first_values | {"setpoint-0-level": "8.8"}).status_code == 302
    response = second.post(url, second_values | {"setpoint-0-level": "8.7"})
    assert response.status_code == 409
    assert {"8.7 m", "8.8 m"} <= set(re.findall(r"<td>([^<]+)</td>", response.content.decode()))
    assert Setpoint.objects.get().level_typed == "8.8 m"


@pytest.mark.django_db
def test_people_who_change_different_rows_do_not_collide(logged_in: Client, second: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    url = reverse("measurement_edit", args=[measurement.uid])
    first_values, second_values = form_values(logged_in, url), form_values(second, url)
    assert logged_in.post(url, first_values | {"nozzle-radius": "1.2"}).status_code == 302
    # The nozzle moved on meanwhile, but the second person changed the span only: the nozzle still differs in the form.
    response = second.post(url, second_values | {"measurement-urv": "9.3"})
    assert response.status_code == 409
    assert "1.2 m" in response.content.decode()
    assert Nozzle.objects.get().radius_typed == "1.2 m"


@pytest.mark.django_db
def test_stale_vessel_keeps_its_operating_cases(logged_in: Client, second: Client, plant: Plant) -> None:
    vessel = make_vessel(plant)
    url = reverse("vessel_edit", args=[vessel.uid])
    first_values, second_values = form_values(logged_in, url), form_values(second, url)
    assert logged_in.post(url, first_values | {"case-0-temperature": "50"}).status_code == 302
    response = second.post(url, second_values | {"vessel-diameter": "5", "case-0-temperature": "60"})
    assert response.status_code == 409
    assert {"50 °C", "60 °C", "5 m", "4 m"} <= set(re.findall(r"<td>([^<]+)</td>", response.content.decode()))
    vessel.refresh_from_db()
    assert vessel.diameter_typed == "4 m"
    assert vessel.operating_cases.get().temperature_typed == "50 °C"


@pytest.mark.django_db
def test_an_unchanged_save_writes_nothing(logged_in: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    url = reverse("measurement_edit", args=[measurement.uid])
    before = Measurement.history.count(), Tag.history.count(), Nozzle.history.count(), Setpoint.history.count()
    assert send(logged_in, url).status_code == 302
    after = Measurement.history.count(), Tag.history.count(), Nozzle.history.count(), Setpoint.history.count()
    assert before == after


@pytest.mark.django_db
def test_history_is_grouped_and_says_who_and_by_which_route(logged_in: Client, originator: User, plant: Plant) -> None:
    measurement = make_measurement(plant)
    url = reverse("measurement_edit", args=[measurement.uid])
    response = send(
        logged_in, url, measurement__urv="9.4 m", nozzle__radius="1.1 m", tag__service="New", setpoint__0__level="8.9"
    )
    assert response.status_code == 302
    records = [model.history.latest() for model in (Measurement, Nozzle, Tag, Setpoint)]
    assert len({record.history_action_id for record in records}) == 1
    action = records[0].history_action
    assert (action.user, action.route, action.plant) == (originator, "form", plant)
    assert records[0].urv_typed == "9.4 m"
    assert records[0].prev_record.urv_typed == "9.5 m"


@pytest.mark.django_db
def test_writing_outside_a_service_is_refused(plant: Plant) -> None:
    medium = make_medium(plant)
    medium.name = "Slipped in"
    with pytest.raises(NoActor), transaction.atomic():
        medium.save()
    assert not Medium.objects.filter(name="Slipped in").exists()
