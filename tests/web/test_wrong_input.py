"""Wrong input: a sentence that says what would be accepted, the typing kept, nothing written, never a 500."""

import html
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from instruments.models import Measurement, Setpoint, Tag
from tests.factories import make_measurement, make_nozzle, make_plant, make_tag, make_unit, make_vessel
from tests.web.pages import form_values, send
from vessels.models import Plant, Vessel


@pytest.fixture
def measurement(plant: Plant) -> Measurement:
    return make_measurement(plant)


def edit_url(measurement: Measurement) -> str:
    return reverse("measurement_edit", args=[measurement.uid])


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("name", "text", "sentence"),
    [
        ("measurement-lrv", "abc", "not readable as a number"),
        ("measurement-lrv", "1,500", "Write 1500 or 1.5"),
        ("measurement-lrv", "12 kg", "is a unit of a mass, but a length is wanted"),
        ("measurement-lrv", "9**9**9", "is not known"),
        ("measurement-lrv", "nan", "not readable as a number"),
        ("measurement-lrv", "1e999 m", "not a finite number"),
        ("measurement-lrv", "1/0 in", "not a finite number"),
        ("measurement-lrv", "5 m 5 m", "is not known"),
        ("measurement-accuracy", "-5", "more than zero"),
        ("measurement-accuracy", "0", "more than zero"),
        ("measurement-damping", "-1", "cannot be negative"),
        ("nozzle-bore", "-82.5", "more than zero"),
        ("nozzle-mark", "", "required"),
        ("tag-letters", "LHS", "ANSI/ISA-5.1"),
        ("tag-letters", "lt", "capital letters"),
        ("tag-service", "x" * 201, "at most 200 characters"),
        ("measurement-direction", "sideways", "not one of the available choices"),
        ("measurement-sensor_class", "00000000-0000-0000-0000-000000000000", "not one of the available choices"),
        ("measurement-sensor_class", "no-uid", "valid"),
        ("setpoint-0-level", "seven", "not readable as a number"),
        ("measurement-lrv", "x" * 5000, "longer than 60 characters"),
    ],
)
def test_a_wrong_value_is_explained_and_kept(
    logged_in: Client, measurement: Measurement, name: str, text: str, sentence: str
) -> None:
    url = edit_url(measurement)
    before = measurement.history.count()
    values = form_values(logged_in, url) | {name: text, "tag-location": "Roof of the tank"}
    response = logged_in.post(url, values)
    page = html.unescape(response.content.decode())
    assert response.status_code == 422
    assert sentence in page
    if text and not name.endswith(("direction", "sensor_class")):
        assert f'value="{text}"' in page, "the typing is lost"
    assert 'value="Roof of the tank"' in page, "the typing of another field is lost"
    measurement.refresh_from_db()
    assert measurement.history.count() == before
    assert Tag.objects.get(pk=measurement.tag_id).location == ""


@pytest.mark.django_db
def test_bare_pressure_and_negative_diameter_on_a_vessel(logged_in: Client, plant: Plant) -> None:
    vessel = make_vessel(plant)
    url = reverse("vessel_edit", args=[vessel.uid])
    response = send(logged_in, url, vessel__design_pressure_max="6 bar", vessel__diameter="-4")
    page = response.content.decode()
    assert response.status_code == 422
    assert "gauge or absolute? Write for example 6.5 bar(g) or 6.5 bar(a)" in page
    assert "this has to be more than zero" in page
    assert 'value="6 bar"' in page
    assert Vessel.objects.get().diameter_typed == "4 m"


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"vessel-bottom_depth": "1 m"}, "Not used by this shape: clear it, or choose a shape that has it."),
        ({"vessel-dip_plate_height": "10 mm"}, "Only for a vessel whose datum is the dip plate"),
        ({"vessel-design_pressure_min": "2 bar(g)"}, "is above the highest"),
        ({"vessel-design_temperature_min": "300 °C"}, "is above the highest"),
        ({"vessel-design_pressure_min": "-2 bar(g)"}, "below perfect vacuum"),
        ({"vessel-design_temperature_max": "-300 °C"}, "below absolute zero"),
        ({"case-count": "9999"}, "at most 100 rows"),
        ({"case-count": "many"}, "at most 100 rows"),
        ({"case-0-temperature": "warm"}, "not readable as a number"),
    ],
)
def test_contradictions_on_a_vessel_are_named(
    logged_in: Client, plant: Plant, changes: dict[str, str], sentence: str
) -> None:
    vessel = make_vessel(plant)
    url = reverse("vessel_edit", args=[vessel.uid])
    response = logged_in.post(url, form_values(logged_in, url) | changes)
    assert response.status_code in (400, 422)
    assert sentence in html.unescape(response.content.decode())
    vessel.refresh_from_db()
    assert vessel.version == 1


@pytest.mark.django_db
def test_lrv_above_urv_is_saved_and_found(logged_in: Client, measurement: Measurement) -> None:
    """A contradiction that a person may be in the middle of mending is a finding, not a refusal."""
    url = edit_url(measurement)
    assert send(logged_in, url, measurement__lrv="9.6", measurement__urv="1").status_code == 302
    measurement.state.refresh_from_db()
    assert measurement.state.worst_grade == "stop"
    assert measurement.state.grades_by_family["signal"] == "stop"


@pytest.mark.django_db
def test_ten_megabytes_get_a_sentence(logged_in: Client, measurement: Measurement) -> None:
    url = edit_url(measurement)
    values = form_values(logged_in, url) | {"measurement-note": "x" * 10_000_000}
    response = logged_in.post(url, values)
    assert response.status_code == 413
    assert "too much text" in response.content.decode()
    measurement.refresh_from_db()
    assert measurement.note == ""


@pytest.mark.django_db
def test_script_in_a_service_is_text(logged_in: Client, plant: Plant, measurement: Measurement) -> None:
    url = edit_url(measurement)
    text = "<script>alert('x')</script> & \"Öl\""
    assert send(logged_in, url, tag__service=text).status_code == 302
    for address in (url, reverse("tag_list", args=[plant.uid]), reverse("measurement_view", args=[measurement.uid])):
        page = logged_in.get(address).content.decode()
        assert "<script>alert" not in page
        assert "&lt;script&gt;alert" in page
    assert logged_in.get(reverse("measurement_datasheet", args=[measurement.uid])).status_code == 200
    assert Tag.objects.get(pk=measurement.tag_id).service == text


@pytest.mark.django_db
def test_every_optional_field_empty(logged_in: Client, plant: Plant, measurement: Measurement) -> None:
    url = edit_url(measurement)
    required = ("tag-letters", "tag-number", "tag-unit", "nozzle-mark", "nozzle-standard", "measurement-arrangement")
    values = form_values(logged_in, url)
    emptied = {
        name: text if name in required or name.endswith(("version", "-count", "-uid", "-name")) else ""
        for name, text in values.items()
    }
    assert logged_in.post(url, emptied).status_code == 302
    measurement.refresh_from_db()
    assert (measurement.lrv_typed, measurement.lrv_si, measurement.sensor_class) == ("", None, None)
    assert measurement.state.worst_grade == "missing"
    for address in (url, reverse("measurement_view", args=[measurement.uid])):
        assert logged_in.get(address).status_code == 200
    sheet = logged_in.get(reverse("measurement_datasheet", args=[measurement.uid]))
    assert sheet.content.startswith(b"%PDF")


@pytest.mark.django_db
def test_a_measurement_without_vessel_and_nozzle(logged_in: Client, plant: Plant) -> None:
    tag = make_tag(plant)
    url = reverse("measurement_new", args=[tag.uid])
    response = logged_in.post(url, form_values(logged_in, url))
    assert response.status_code == 302
    page = logged_in.get(response.headers["Location"])
    assert page.status_code == 200
    assert "No nozzle yet" in page.content.decode()
    measurement = Measurement.objects.get(tag=tag)
    assert logged_in.get(reverse("measurement_datasheet", args=[measurement.uid])).content.startswith(b"%PDF")
    assert measurement.state.worst_grade == "missing"


@pytest.mark.django_db
@pytest.mark.parametrize("number", ["0101", "1-01", "101"])
def test_near_duplicates_are_refused_by_name(logged_in: Client, plant: Plant, number: str) -> None:
    make_tag(plant, number="101")
    url = reverse("tag_new", args=[plant.uid])
    response = send(logged_in, url, tag__letters="LT", tag__number=number, tag__unit=str(make_unit(plant, "9").uid))
    assert response.status_code == 422
    assert "is the same as the existing tag LT-101" in html.unescape(response.content.decode())
    assert Tag.objects.count() == 1


@pytest.mark.django_db
def test_the_same_number_twice(logged_in: Client, plant: Plant) -> None:
    vessel = make_vessel(plant, number="T-1")
    url = reverse("vessel_new", args=[plant.uid])
    response = send(logged_in, url, vessel__number="T-1", vessel__unit=str(vessel.unit.uid))
    assert response.status_code == 422
    assert "T-1" in response.content.decode()
    assert "already" in response.content.decode()
    assert Vessel.objects.count() == 1


@pytest.mark.django_db
def test_face_elevation_and_projection_together(logged_in: Client, plant: Plant) -> None:
    nozzle = make_nozzle(make_vessel(plant))
    response = send(logged_in, reverse("nozzle_edit", args=[nozzle.uid]), nozzle__projection="300 mm")
    assert response.status_code == 422
    assert "not both" in response.content.decode()


@pytest.mark.django_db
def test_a_row_of_another_plant_cannot_be_chosen(logged_in: Client, plant: Plant, measurement: Measurement) -> None:
    foreign = make_nozzle(make_vessel(make_plant("FAR")))
    url = reverse("measurement_fit", args=[measurement.uid])
    response = send(logged_in, url, measurement__nozzle_sensor=str(foreign.uid), measurement__vessel="")
    assert response.status_code == 422
    assert "not one of the available choices" in response.content.decode()


@pytest.mark.django_db
def test_a_setpoint_name_twice(logged_in: Client, measurement: Measurement) -> None:
    url = edit_url(measurement)
    values = form_values(logged_in, url) | {"setpoint-1-name": "H", "setpoint-1-level": "8 m"}
    response = logged_in.post(url, values)
    assert response.status_code == 422
    assert "stands twice" in response.content.decode()
    assert Setpoint.objects.count() == 1


@pytest.mark.django_db
@pytest.mark.parametrize("query", ["page=0", "page=2", "page=x", "page=-1", "sort=nonsense", "sort=-", "page=%00"])
def test_pages_and_columns_that_do_not_exist(logged_in: Client, plant: Plant, query: str) -> None:
    response = logged_in.get(f"{reverse('tag_list', args=[plant.uid])}?{query}")
    assert response.status_code == 404
    assert "There is no" in response.content.decode()


@pytest.mark.django_db
def test_odd_searches_are_only_searches(logged_in: Client, plant: Plant, measurement: Measurement) -> None:
    for text in ("%", "_", "\x00", "'; drop table", "é" * 300, "\\"):
        response: Any = logged_in.get(reverse("tag_list", args=[plant.uid]), {"q": text})
        assert response.status_code == 200
