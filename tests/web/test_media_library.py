"""The page of the media library, and copies of it in a plant."""

import re
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.test import Client
from django.urls import reverse

from project.accounts.models import Membership, Role
from project.actor import Actor
from tests.factories import make_medium, make_plant, make_user
from tests.web.pages import form_values
from vessels.media_library import LIBRARY, find_medium
from vessels.models import Medium, Plant
from vessels.services import copy_from_library

pytestmark = pytest.mark.django_db
ACTOR = Actor(None, "form")


def library(plant: Plant) -> str:
    return reverse("media_library", args=[plant.uid])


def copying(plant: Plant) -> str:
    return reverse("media_library_copy", args=[plant.uid])


def names_on(page: Any) -> list[str]:
    return re.findall(r'type="checkbox" name="medium" id="copy-\d+" value="([^"]+)"', page.content.decode())


def copied(plant: Plant, name: str) -> Medium:
    medium = find_medium(name)
    assert medium is not None
    return copy_from_library(ACTOR, plant, [medium])[0]


def test_the_page_shows_every_medium_with_its_source(logged_in: Client, plant: Plant) -> None:
    page = logged_in.get(library(plant))
    assert len(names_on(page)) == len(LIBRARY)
    text = page.content.decode()
    assert "107 of 107 media" in text
    assert text.count("Source:</span>") == len(LIBRARY)
    assert "εr CRC Hdbk 2014 via chemicals 1.5.2" in text
    assert "the safety data sheet of the supplier" in text
    assert "1600–2900" in text  # a range shows as one
    for name in names_on(page)[:3]:
        anchor = re.search(rf'id="(copy-\d+)" value="{re.escape(name)}"', text)
        assert anchor is not None
        assert f'<label for="{anchor[1]}">{name}</label>' in text


def test_it_is_searched_and_sorted(logged_in: Client, plant: Plant) -> None:
    assert names_on(logged_in.get(library(plant), {"q": "IIC flammable"})) == ["Carbon disulfide", "Hydrogen"]
    by_density = names_on(logged_in.get(library(plant), {"sort": "density", "q": "liquefied"}))
    assert by_density[0] == "Hydrogen"
    assert names_on(logged_in.get(library(plant), {"sort": "-density", "q": "liquefied"}))[0] == by_density[-1]
    down = logged_in.get(library(plant), {"sort": "-permittivity"})
    assert names_on(down)[0] == "Water"
    assert 'aria-sort="descending"' in down.content.decode()
    nothing = logged_in.get(library(plant), {"q": "unheard-of"}).content.decode()
    assert "Nothing matches." in nothing
    assert "Copy the ticked" not in nothing
    assert logged_in.get(library(plant), {"sort": "colour"}).status_code == 404
    assert logged_in.get(library(plant), {"sort": "name", "q": "a\x00b" * 200}).status_code == 200


def test_it_is_in_the_units_of_the_plant(client: Client) -> None:
    person = make_user()
    plant = make_plant("US", unit_set="us", members={person: (Role.PROCESS,)})
    client.force_login(person)
    page = client.get(library(plant), {"q": "methanol 67-56-1"}).content.decode()
    assert "lb/ft³" in page
    assert ">49.38<" in page  # 791 kg/m³
    client.post(copying(plant), {"medium": "Methanol"})
    assert Medium.objects.get().density_typed == "791.0 kg/m³"  # typed texts are kept as the library has them


def test_a_copy_carries_values_and_where_they_come_from(logged_in: Client, plant: Plant) -> None:
    response = logged_in.post(copying(plant), {"medium": "Methanol"}, follow=True)
    medium = Medium.objects.get()
    assert (medium.name, medium.kind, medium.hazards) == ("Methanol", "liquid", "flammable, toxic")
    assert (medium.density_typed, medium.density_si) == ("791.0 kg/m³", 791.0)
    assert (medium.permittivity_typed, medium.permittivity_temperature_typed) == ("33.000", "20.1 °C")
    assert medium.details["chemistry"] == "alcohols"
    assert medium.details["flash_point"] == {"typed": "9 °C", "si": pytest.approx(282.15)}
    assert (medium.details["explosion_group"], medium.details["temperature_class"]) == ("IIA", "T2")
    assert medium.provenance.startswith("Media library, confidence high; εr CRC Hdbk 2014")
    page = response.content.decode()
    assert "Copied: Methanol. Confirm the values for this plant." in page
    assert "Where the values come from:" in page
    assert medium.history.get().history_action.user is not None
    assert form_values(logged_in, reverse("medium_edit", args=[medium.uid]))["medium-explosion_group"] == "IIA"


def test_several_at_once_lead_to_the_list(logged_in: Client, plant: Plant) -> None:
    response = logged_in.post(copying(plant), {"medium": ["Methanol", "Wheat", "Propane", "Wheat"]})
    assert response.status_code == 302
    assert response["Location"] == reverse("medium_list", args=[plant.uid])
    kinds = dict(Medium.objects.values_list("name", "kind"))
    assert kinds == {"Methanol": "liquid", "Wheat": "solid", "Propane": "liquefied_gas"}


@pytest.mark.parametrize("medium", LIBRARY, ids=lambda medium: medium.name)
def test_every_medium_can_be_copied(plant: Plant, medium: Any) -> None:
    copy = copy_from_library(ACTOR, plant, [medium])[0]
    copy.refresh_from_db()
    for stem, value in medium.entered().items():
        held = copy.quantity(stem) if not isinstance(value, str) else copy.details.get(stem) or getattr(copy, stem)
        assert held == value, stem
    assert copy.permittivity_si == medium.permittivity.lowest.si


def test_a_second_copy_is_refused_with_a_sentence_and_nothing_is_copied(logged_in: Client, plant: Plant) -> None:
    make_medium(plant, name="METHANOL")
    response = logged_in.post(copying(plant), {"medium": ["Methanol", "Ethanol"]})
    assert response.status_code == 422
    page = response.content.decode()
    assert "Nothing copied." in page
    assert "“Methanol” is in this plant already. Edit that one; or give it another name, then copy again." in page
    assert re.search(r'value="Ethanol" checked', page)  # the other tick is kept
    assert list(Medium.objects.values_list("name", flat=True)) == ["METHANOL"]
    with pytest.raises(ValidationError):
        copied(plant, "Methanol")
    # The list leads to the plant's own instead of offering another copy; other plants' media do not count.
    assert "Methanol" not in names_on(logged_in.get(library(plant)))
    assert reverse("medium_view", args=[Medium.objects.get().uid]) in logged_in.get(library(plant)).content.decode()
    assert copied(make_plant(), "Methanol").name == "Methanol"


@pytest.mark.parametrize(
    ("posted", "said"),
    [
        ({}, "Tick at least one medium, then copy."),
        ({"medium": "Unheard-of"}, "The library has no medium “Unheard-of”. Tick what it has."),
        ({"medium": ["Ethanol", "x" * 500]}, "Tick what it has."),
    ],
)
def test_a_wrong_choice_is_told(logged_in: Client, plant: Plant, posted: dict[str, Any], said: str) -> None:
    response = logged_in.post(copying(plant), posted)
    assert response.status_code == 422
    assert said in response.content.decode()
    assert not Medium.objects.exists()


def test_readers_look_but_do_not_copy(client: Client, plant: Plant) -> None:
    reader = make_user()
    Membership.objects.create(user=reader, plant=plant, role=Role.READER)
    client.force_login(reader)
    page = client.get(library(plant))
    assert page.status_code == 200
    assert names_on(page) == []
    assert "Copy the ticked" not in page.content.decode()
    assert client.post(copying(plant), {"medium": "Methanol"}).status_code == 403
    assert not Medium.objects.exists()


def test_the_list_of_media_leads_to_the_library(logged_in: Client, plant: Plant) -> None:
    page = logged_in.get(reverse("medium_list", args=[plant.uid])).content.decode()
    assert f'href="{library(plant)}"' in page
    assert "None yet. Copy common media from the media library" in page
    assert logged_in.get(copying(plant)).status_code == 302
