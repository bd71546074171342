"""Nozzles offered: those of the vessel, in the order of their marks, each with who uses it."""

import html
import re
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from tests.factories import make_measurement, make_nozzle, make_unit, make_vessel
from tests.web.pages import form_values, send
from vessels.models import Plant

pytestmark = pytest.mark.django_db


def offered(response: Any, name: str) -> list[str]:
    page = html.unescape(response.content.decode())
    select = page.partition(f'<select name="{name}"')[2].partition("</select>")[0]
    return re.findall(r"<option[^>]*>([^<]*)</option>", select)


def test_the_fit_page_offers_the_nozzles_of_the_vessel_in_order(logged_in: Client, plant: Plant) -> None:
    vessel = make_vessel(plant, number="T-1")
    measurement = make_measurement(plant, nozzle=make_nozzle(vessel, mark="N10"))
    make_nozzle(vessel, mark="N2")
    shared = make_measurement(plant, nozzle=make_nozzle(vessel, mark="N1"))
    other = make_vessel(plant, make_unit(plant, "9"), number="T-2")
    foreign = make_nozzle(other, mark="M1")
    url = reverse("measurement_fit", args=[measurement.uid])
    taken = f"N1 DN 80, taken by {shared.tag}"
    assert offered(logged_in.get(url), "measurement-nozzle_sensor") == ["—", taken, "N2 DN 80", "N10 DN 80"]
    asked = logged_in.get(url, {"measurement-vessel": str(other.uid)})
    assert offered(asked, "measurement-nozzle_sensor") == ["—", "M1 DN 80"]
    everywhere = offered(logged_in.get(url, {"measurement-vessel": ""}), "measurement-nozzle_sensor")
    assert everywhere == ["—", f"T-1 · {taken}", "T-1 · N2 DN 80", "T-1 · N10 DN 80", "T-2 · M1 DN 80"]
    assert logged_in.get(url, {"measurement-vessel": "nonsense"}).status_code == 200
    refused = send(logged_in, url, measurement__nozzle_sensor=str(foreign.uid))
    assert refused.status_code == 422
    assert "M1 is on T-2, not on T-1: choose a nozzle of T-1." in html.unescape(refused.content.decode())
    assert measurement.nozzle == type(measurement).objects.get(pk=measurement.pk).nozzle


def test_a_copy_asks_for_a_free_nozzle(logged_in: Client, plant: Plant) -> None:
    source = make_measurement(plant, nozzle=make_nozzle(make_vessel(plant), mark="N10"))
    free = make_nozzle(source.vessel, mark="N2")
    foreign = make_nozzle(make_vessel(plant), mark="M1")
    url = reverse("measurement_copy", args=[source.uid])
    page = logged_in.get(url)
    assert offered(page, "tag-nozzle_sensor") == ["—", "N2 DN 80", f"N10 DN 80, taken by {source.tag}"]
    assert form_values(logged_in, url)["tag-nozzle_sensor"] == "", "a nozzle is chosen unasked"
    for nozzle, sentence in (
        (source.nozzle, f"N10 is taken by {source.tag}: choose a free nozzle"),
        (foreign, f"M1 is on {foreign.vessel.number}, not on {source.vessel.number}"),
    ):
        refused = send(logged_in, url, tag__number="900", tag__nozzle_sensor=str(nozzle.uid))
        assert refused.status_code == 422
        assert sentence in html.unescape(refused.content.decode())
    assert send(logged_in, url, tag__number="901", tag__nozzle_sensor=str(free.uid)).status_code == 302
    assert send(logged_in, url, tag__number="902").status_code == 302
    copies = {str(one.tag): one.nozzle for one in type(source).objects.exclude(pk=source.pk)}
    assert copies == {"LT-901": free, "LT-902": None}
