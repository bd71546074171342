"""Who may see and do what: every address, every role, strangers, and people who are not logged in."""

import uuid
from typing import Any

import pytest
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from project.accounts.access import allowed
from project.accounts.models import Membership, Role
from project.accounts.permissions import ANYBODY_LOGGED_IN, CREATE_PLANT, PERMISSIONS
from project.actor import Actor
from tests.factories import make_measurement, make_plant, make_user
from vessels.models import Plant
from vessels.services import attach


def patterns(resolver: URLResolver | None = None) -> list[URLPattern]:
    """Every named address of our own."""
    found: list[URLPattern] = []
    for pattern in (resolver or get_resolver()).url_patterns:
        if isinstance(pattern, URLResolver):
            if getattr(pattern, "app_name", None) != "admin":
                found += patterns(pattern)
        else:
            found.append(pattern)
    return found


OWN_GATE = {"log_in", "log_out"}
VIEWS: dict[str, Any] = {str(pattern.name): pattern.callback for pattern in patterns() if pattern.name not in OWN_GATE}
WRITING = [name for name, view in VIEWS.items() if view.permission.endswith((".change", ".accept"))]
POST_ONLY = {name for name in VIEWS if name.endswith("_preview")}


@pytest.fixture
def rows(plant: Plant) -> dict[str, Any]:
    """One row of each model, by the name that `allowed` knows."""
    measurement = make_measurement(plant)
    nozzle = measurement.nozzle
    vessel = measurement.vessel
    return {
        "Plant": plant, "Measurement": measurement, "Tag": measurement.tag, "Nozzle": nozzle, "Vessel": vessel,
        "PlantUnit": vessel.unit, "Medium": vessel.operating_cases.get().medium,
        "SensorClassRow": measurement.sensor_class,
        "Attachment": attach(Actor(None, "form"), vessel, b"%PDF-1.7", "drawing.pdf", kind="drawing"),
    }  # fmt: skip


def address(name: str, rows: dict[str, Any]) -> str:
    model = VIEWS[name].row_model
    kwargs = {} if model is None else {"uid": rows[model.__name__].uid}
    if name in ("sensor_class_view", "sensor_class_edit", "sensor_class_delete"):
        kwargs["class_uid"] = rows["SensorClassRow"].uid
    if name.startswith("finding_"):
        kwargs["code"] = "process.medium_kind"
    if name == "capacity_file":
        kwargs |= {"what": "table", "ending": "csv"}
    return reverse(name, kwargs=kwargs)


def ask(client: Client, name: str, url: str) -> Any:
    return client.post(url) if name in POST_ONLY else client.get(url)


def test_every_view_names_a_permission_that_exists() -> None:
    assert len(VIEWS) > 25
    for name, view in VIEWS.items():
        assert view.permission in {*PERMISSIONS, ANYBODY_LOGGED_IN, CREATE_PLANT}, name


def test_every_permission_is_used_by_a_view() -> None:
    assert {view.permission for view in VIEWS.values()} >= set(PERMISSIONS)


@pytest.mark.django_db
@pytest.mark.parametrize("name", VIEWS)
def test_not_logged_in_is_sent_to_the_log_in(client: Client, rows: dict[str, Any], name: str) -> None:
    response = ask(client, name, address(name, rows))
    assert response.status_code == 302
    assert response.headers["Location"].startswith(reverse("log_in"))


@pytest.mark.django_db
@pytest.mark.parametrize("name", [name for name, view in VIEWS.items() if view.row_model])
def test_another_plants_member_gets_404(client: Client, rows: dict[str, Any], name: str) -> None:
    # Every role, but in a plant of their own.
    stranger = make_user(can_create_plants=True)
    make_plant("OTHER", members={stranger: tuple(Role)})
    client.force_login(stranger)
    response = ask(client, name, address(name, rows))
    assert response.status_code == 404
    for row in rows.values():
        if row.__class__.__name__ != "SensorClassRow":
            assert str(row).encode() not in response.content


@pytest.mark.django_db
@pytest.mark.parametrize("name", [name for name, view in VIEWS.items() if view.row_model])
def test_a_guessed_uid_gets_404(logged_in: Client, rows: dict[str, Any], name: str) -> None:
    guessed = {key: type("Row", (), {"uid": uuid.uuid4()}) for key in rows}
    assert ask(logged_in, name, address(name, guessed)).status_code == 404


@pytest.mark.django_db
@pytest.mark.parametrize("role", list(Role))
def test_each_role_reaches_what_the_table_says(client: Client, rows: dict[str, Any], role: Role) -> None:
    person = make_user(f"only-{role}")
    Membership.objects.create(user=person, plant=rows["Plant"], role=role)
    client.force_login(person)
    for name, view in VIEWS.items():
        response = ask(client, name, address(name, rows))
        if view.permission == ANYBODY_LOGGED_IN:
            expected = True
        elif view.permission == CREATE_PLANT:
            expected = False
        else:
            expected = role in PERMISSIONS[view.permission]
        # What is permitted answers 200, leads on (a second measurement of a tag leads to the first), or asks for more.
        assert response.status_code in ((200, 302, 422) if expected else (403,)), (name, response.status_code)


@pytest.mark.django_db
@pytest.mark.parametrize("role", list(Role))
@pytest.mark.parametrize("name", WRITING)
def test_writing_needs_the_role_too(client: Client, rows: dict[str, Any], role: Role, name: str) -> None:
    person = make_user()
    Membership.objects.create(user=person, plant=rows["Plant"], role=role)
    client.force_login(person)
    before = {key: row.history.count() for key, row in rows.items()}
    response = client.post(address(name, rows), {})
    assert response.status_code != 500
    if role not in PERMISSIONS[VIEWS[name].permission]:
        assert response.status_code == 403
        assert {key: row.history.count() for key, row in rows.items()} == before


@pytest.mark.django_db
def test_the_403_page_says_who_may(client: Client, rows: dict[str, Any]) -> None:
    person = make_user()
    Membership.objects.create(user=person, plant=rows["Plant"], role=Role.READER)
    client.force_login(person)
    response = client.get(reverse("measurement_edit", args=[rows["Measurement"].uid]))
    assert response.status_code == 403
    assert b"Originator" in response.content


def test_a_view_that_needs_a_plant_must_name_its_model() -> None:
    with pytest.raises(AssertionError, match="needs a row"):
        allowed("vessel.change")(lambda request: None)


@pytest.mark.django_db
def test_admin_is_read_only_outside_people(client: Client, rows: dict[str, Any]) -> None:
    boss = make_user(is_staff=True, is_superuser=True)
    client.force_login(boss)
    vessel = rows["Vessel"]
    assert client.get(f"/admin/vessels/vessel/{vessel.pk}/change/").status_code == 200
    assert client.get("/admin/vessels/vessel/add/").status_code == 403
    assert client.post(f"/admin/vessels/vessel/{vessel.pk}/change/", {"number": "X"}).status_code == 403
    assert client.post(f"/admin/vessels/vessel/{vessel.pk}/delete/", {"post": "yes"}).status_code == 403
    assert client.get("/admin/accounts/user/add/").status_code == 200


@pytest.mark.django_db
def test_a_view_without_a_permission_is_denied(logged_in: Client, settings: Any) -> None:
    settings.ROOT_URLCONF = "tests.web.open_urls"
    assert logged_in.get("/forgotten/").status_code == 403
