"""The home of a plant, folding fields, and the vessel's page with all its instruments on one elevation."""

import re
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from instruments.forms.measurement import MeasurementPage
from instruments.models import Measurement
from instruments.services.cases import with_all_inputs
from project.actor import Actor
from tests.factories import make_measurement, make_medium, make_nozzle, make_tag, make_vessel
from tests.web.pages import form_values
from vessels.models import Plant
from vessels.services import attach

pytestmark = pytest.mark.django_db


def test_counts_open_the_index_filtered_so(logged_in: Client, plant: Plant) -> None:
    make_measurement(plant)
    make_measurement(plant, nozzle=make_nozzle(make_vessel(plant), bore="30 mm"))
    make_measurement(plant, holds="Nozzle size awaited")
    make_tag(plant, letters="LG")
    page = logged_in.get(reverse("plant_view", args=[plant.uid])).content.decode()
    counts = re.findall(r'<a href="([^"]+)"><b>(\d+)</b>', page)
    assert len(counts) == 4
    for address, number in counts:
        listed = logged_in.get(address).content.decode()
        assert f"{number} row" in listed, address
    by_filter = {address.partition("?")[2]: number for address, number in counts}
    assert by_filter == {"grade=stop": "1", "grade=pass": "2", "specified=no": "1", "holds=yes": "1"}


def test_an_empty_plant_says_what_to_do(logged_in: Client, plant: Plant) -> None:
    page = logged_in.get(reverse("plant_view", args=[plant.uid])).content.decode()
    assert "add units, media, vessels and tags" in page


def fields_of(measurement: Measurement) -> tuple[set[str], set[str]]:
    page = MeasurementPage.of(with_all_inputs(Measurement.objects.filter(pk=measurement.pk)).get())
    shown = {field.html_name for section in page.sections() for field in section.fields}
    folded = {field.html_name for section in page.sections() for field in section.folded}
    return shown, folded


def test_fields_fold_by_technology_but_never_what_is_filled(plant: Plant) -> None:
    radar = make_measurement(plant)
    shown, folded = fields_of(radar)
    assert {"measurement-leg_density", "measurement-probe_length"} <= folded
    assert "measurement-aiming_flange" in shown
    rod = make_measurement(plant, sensor_class="guided_wave_rod", leg_density="900 kg/m³")
    shown, folded = fields_of(rod)
    assert "measurement-probe_length" in shown
    assert "measurement-leg_density" in shown  # filled: it stays in sight
    assert "measurement-aiming_flange" in folded
    assert not shown & folded


def test_a_closed_section_opens_where_something_is_wrong(logged_in: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    url = reverse("measurement_edit", args=[measurement.uid])
    closed = logged_in.get(url).content.decode()
    assert re.search(r'<details class="section" id="housing">', closed)
    values = form_values(logged_in, url) | {"measurement-ambient_max": "hot"}
    refused = logged_in.post(url, values).content.decode()
    assert re.search(r'<details class="section" id="housing" open>', refused)


def test_the_vessels_page_draws_all_its_instruments(logged_in: Client, plant: Plant) -> None:
    vessel = make_vessel(plant)
    tags = [make_measurement(plant, nozzle=make_nozzle(vessel)).tag.text for _number in range(3)]
    page = logged_in.get(reverse("vessel_view", args=[vessel.uid])).content.decode()
    drawing = page[page.index("<svg") : page.index("</svg>")]
    assert all(tag in drawing for tag in tags)


def test_values_of_a_case_that_concern_other_media_fold(logged_in: Client, plant: Plant) -> None:
    liquid = make_vessel(plant)
    page = logged_in.get(reverse("vessel_edit", args=[liquid.uid])).content.decode()
    folded = page[page.index('id="folded-case"') :]
    assert "Emulsion" in folded
    interface = make_vessel(plant, medium=make_medium(plant, kind="interface"))
    page = logged_in.get(reverse("vessel_edit", args=[interface.uid])).content.decode()
    assert "Emulsion" in page
    assert 'id="folded-case"' not in page or "Emulsion" not in page[page.index('id="folded-case"') :]


def test_pages_with_attachments_do_not_load_their_bytes(
    logged_in: Client, plant: Plant, django_assert_max_num_queries: Any
) -> None:
    measurement = make_measurement(plant)
    for number in range(5):
        attach(Actor(None, "form"), measurement, b"%PDF-1.7", f"{number}.pdf", kind="drawing")
    with django_assert_max_num_queries(22):
        page = logged_in.get(reverse("measurement_view", args=[measurement.uid]))
    assert page.content.decode().count("attachments/") >= 5
