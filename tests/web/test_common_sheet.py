"""One sheet for many equal tags, from the pages."""

import io

import pytest
from django.test import Client
from django.urls import reverse
from pypdf import PdfReader

from tests.factories import make_measurement, make_nozzle, make_plant, make_tag, make_vessel
from vessels.models import Plant

pytestmark = pytest.mark.django_db


def test_chosen_tags_print_on_one_sheet(logged_in: Client, plant: Plant) -> None:
    vessel = make_vessel(plant)
    measurements = [
        make_measurement(
            plant,
            nozzle=make_nozzle(vessel),
            tag=make_tag(plant, number=f"70{number}"),
            urv=f"9.{number} m",
            supply="24 V",
        )
        for number in range(4)
    ]
    other = make_measurement(plant, tag=make_tag(plant, number="800"), sensor_class="ultrasonic_liquids")
    page = logged_in.get(reverse("common_sheet_choose", args=[measurements[0].uid])).content.decode()
    assert page.count('name="with"') == 4
    assert "LT-800" not in page
    chosen = [str(one.uid) for one in (*measurements[:3], other)]
    answer = logged_in.get(reverse("common_sheet", args=[measurements[0].uid]), {"with": chosen})
    assert answer.headers["Content-Type"] == "application/pdf"
    text = "\n".join(one.extract_text() for one in PdfReader(io.BytesIO(answer.content)).pages)
    text = text.replace("\u00a0", " ")
    for expected in ("LT-700", "LT-701", "LT-702", "9.1 m", "9.2 m", "24 V"):
        assert expected in text, expected
    assert "LT-703" not in text
    assert "LT-800" not in text, "another class slipped in by its uid"
    assert text.count("24 V") == 1, "what is common prints once"


@pytest.mark.parametrize("chosen", [[], ["not-a-uid"], ["00000000-0000-0000-0000-000000000000"], "itself"])
def test_fewer_than_two_tags_are_refused_in_words(logged_in: Client, plant: Plant, chosen: list[str] | str) -> None:
    measurement = make_measurement(plant)
    uids = [str(measurement.uid)] if chosen == "itself" else chosen
    answer = logged_in.get(reverse("common_sheet", args=[measurement.uid]), {"with": uids})
    assert answer.status_code == 422
    assert "Choose at least two tags." in answer.content.decode()


def test_tags_of_another_plant_never_get_on_a_sheet(logged_in: Client, plant: Plant) -> None:
    measurement, foreign = make_measurement(plant), make_measurement(make_plant("FAR"))
    uids = [str(measurement.uid), str(foreign.uid)]
    assert logged_in.get(reverse("common_sheet", args=[measurement.uid]), {"with": uids}).status_code == 422
