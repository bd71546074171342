"""The live vessel page: what is typed is drawn, computed and compared with what is saved, and nothing is written."""

from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from instruments.models import Measurement
from project.accounts.models import Role
from tests.factories import make_measurement, make_nozzle, make_plant, make_user, make_vessel
from tests.web.pages import values_of
from vessels.models import Plant, Vessel

pytestmark = pytest.mark.django_db


@pytest.fixture
def plant(client: Client) -> Plant:
    user = make_user()
    client.force_login(user)
    return make_plant(members={user: (Role.ORIGINATOR,)})


@pytest.fixture
def measurement(plant: Plant) -> Measurement:
    return make_measurement(plant)


def preview(client: Client, vessel: Vessel, **typed: str) -> str:
    """The preview with the page's own values but for what is typed."""
    page = client.get(reverse("vessel_edit", args=[vessel.uid])).content.decode()
    data = values_of(page) | {name.replace("__", "-"): value for name, value in typed.items()}
    response = client.post(reverse("vessel_preview", args=[vessel.uid]), data)
    assert response.status_code == 200
    return response.content.decode()


def vessel_of(measurement: Measurement) -> Vessel:
    assert measurement.vessel is not None
    return measurement.vessel


def test_the_page_as_saved_changes_nothing(client: Client, measurement: Measurement) -> None:
    text = preview(client, vessel_of(measurement))
    assert "No finding of the one measurement on this vessel would change its grade." in text
    assert "125.66" in text
    assert text.count("<svg xmlns") == 2


def test_a_lower_vessel_shows_which_findings_would_turn(client: Client, measurement: Measurement) -> None:
    text = preview(client, vessel_of(measurement), **{"vessel__cylinder_height": "9 m"})
    assert "What saving would do" in text
    assert str(measurement.tag.text) in text
    assert "grade-stop" in text
    assert "113.1" in text
    saved = Vessel.objects.get(pk=vessel_of(measurement).pk)
    assert saved.cylinder_height_typed == "10 m"
    assert saved.version == 1


def test_what_the_new_shape_does_not_use_counts_as_cleared(client: Client, plant: Plant) -> None:
    cone = make_vessel(plant, bottom="cone", bottom_depth="1 m")
    make_measurement(plant, nozzle=make_nozzle(cone, face_elevation="11.3 m"))
    text = preview(client, cone, **{"vessel__bottom": "hemisphere"})
    assert "142.4" in text  # 125.66 m³ and half a ball of 4 m, 16.755 m³
    assert "not accepted as typed" not in text
    assert "Not used by this shape" in text  # at its field


def test_what_cannot_be_read_is_missing_and_said_at_its_field(client: Client, measurement: Measurement) -> None:
    text = preview(client, vessel_of(measurement), **{"vessel__diameter": "12.5.3"})
    assert "Still needed for the shape: Inside diameter" in text
    assert 'id="error-id_vessel-diameter"' in text
    assert "125.66" not in text


def test_impossible_dimensions_are_named(client: Client, plant: Plant) -> None:
    text = preview(client, make_vessel(plant), **{
        "vessel__bottom": "torispherical", "vessel__bottom_crown_ratio": "1", "vessel__bottom_knuckle_ratio": "0.7"
    })  # fmt: skip
    assert "makes no vessel" in text
    assert "Knuckle radius of the lower or left end" in text


def test_a_new_vessel_is_previewed_too(client: Client, plant: Plant) -> None:
    address = reverse("vessel_new_preview", args=[plant.uid])
    data = {
        "vessel-body": "horizontal_cylinder", "vessel-bottom": "ellipsoidal_2_1", "vessel-top": "hemisphere",
        "vessel-diameter": "2 m", "vessel-cylinder_length": "6 m", "vessel-datum": "lowest_inside_point",
        "case-count": "0", "internal-count": "0",
    }  # fmt: skip
    text = client.post(address, data).content.decode()
    # π·6 + 2·π/3·(1 + 0.5) by hand: cylinder, half ball, half ellipsoid of depth D/4.
    assert "21.991" in text
    assert not Vessel.objects.exists()


def test_operating_cases_and_internals_as_typed_count(client: Client, measurement: Measurement) -> None:
    text = preview(client, vessel_of(measurement), **{"case-0-removed": "on"})
    assert "grade-missing" in text
    text = preview(client, vessel_of(measurement), **{
        "internal-0-kind": "coil", "internal-0-elevation_low": "1 m", "internal-0-elevation_high": "3 m",
        "internal-0-displaced_volume": "2 m³",
    })  # fmt: skip
    assert "123.66" in text


def test_somebody_elses_save_is_told_and_nothing_is_written(client: Client, measurement: Measurement) -> None:
    vessel = vessel_of(measurement)
    page = client.get(reverse("vessel_edit", args=[vessel.uid])).content.decode()
    Vessel.objects.filter(pk=vessel.pk).update(version=2)
    with CaptureQueriesContext(connection) as queries:
        response = client.post(reverse("vessel_preview", args=[vessel.uid]), values_of(page))
    assert "Somebody else saved this vessel" in response.content.decode()
    writes = [one["sql"] for one in queries if one["sql"].split()[0] in ("INSERT", "UPDATE", "DELETE")]
    assert not writes


def test_queries_do_not_grow_with_the_measurements(client: Client, measurement: Measurement, plant: Any) -> None:
    vessel = vessel_of(measurement)
    page = values_of(client.get(reverse("vessel_edit", args=[vessel.uid])).content.decode())
    address = reverse("vessel_preview", args=[vessel.uid])
    with CaptureQueriesContext(connection) as few:
        client.post(address, page)
    for _more in range(3):
        make_measurement(plant, nozzle=make_nozzle(vessel))
    with CaptureQueriesContext(connection) as many:
        client.post(address, page)
    assert len(many) <= len(few) + 1
