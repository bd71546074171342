"""Pages of sensor classes: copying into a plant, editing there, refusing, comparing, deleting."""

import re
from typing import Any

import pytest
from django.core.exceptions import ValidationError
from django.test import Client
from django.urls import reverse

from instruments.models import Measurement, SensorClassRow
from instruments.services.cases import build_case, with_all_inputs
from instruments.services.sensor_classes import ClassEdit, copy_class, save_class, sync_sensor_classes
from project.actor import Actor
from project.services import StaleEdit
from tests.factories import actor_of, library_class, make_measurement, make_plant
from vessels.field_defs import MEDIUM_KINDS
from vessels.models import Plant

pytestmark = pytest.mark.django_db
TYPICAL = "typical, from memory, of no particular product"


@pytest.fixture
def own(plant: Plant) -> SensorClassRow:
    return copy_class(actor_of(), plant, library_class(), "own_radar", "Own radar")


def edit_url(plant: Plant, row: SensorClassRow) -> str:
    return reverse("sensor_class_edit", args=[plant.uid, row.uid])


def posted(client: Client, plant: Plant, row: SensorClassRow, **changes: Any) -> dict[str, Any]:
    """What the browser would send of the edit page as it was opened, with changes."""
    form = client.get(edit_url(plant, row)).context["form"]
    data = {form[name].html_name: form[name].value() for name in form.fields}
    data = {name: value for name, value in data.items() if value not in (None, False)}
    prepared = {form[name].html_name: form.fields[name].prepare_value(form[name].value()) for name in form.fields}
    data |= {name: prepared[name] for name in data}
    data |= {f"sensor_class-{stem}": value for stem, value in changes.items()}
    return {name: value for name, value in data.items() if value is not None}


def test_a_copy_carries_every_value_with_its_origin(logged_in: Client, plant: Plant) -> None:
    source = library_class()
    url = reverse("sensor_class_copy", args=[plant.uid]) + f"?of={source.uid}"
    assert logged_in.get(url).context["form"]["key"].value() == "radar_80ghz_lens_threaded_own"
    prefix = "sensor_class-"
    response = logged_in.post(
        url, {f"{prefix}source": str(source.uid), f"{prefix}key": "acid_radar", f"{prefix}name": "Acid radar"}
    )
    row = SensorClassRow.objects.get(plant=plant, key="acid_radar")
    assert response.headers["Location"] == edit_url(plant, row)
    assert row.sensor_class().values == source.sensor_class().values
    assert (row.sensor_class().key, row.sensor_class().confirmed) == ("acid_radar", False)


@pytest.mark.parametrize("key, said", [("Acid Radar", "small letters"), ("own_radar", "already"), ("", "required")])
def test_a_key_that_cannot_be_is_refused(
    logged_in: Client, plant: Plant, own: SensorClassRow, key: str, said: str
) -> None:
    data = {"sensor_class-source": str(library_class().uid), "sensor_class-key": key, "sensor_class-name": "X"}
    response = logged_in.post(reverse("sensor_class_copy", args=[plant.uid]), data)
    assert response.status_code == 422
    assert said in response.content.decode()
    assert SensorClassRow.objects.filter(plant=plant).count() == 1


def test_the_page_draws_every_field_once(logged_in: Client, plant: Plant, own: SensorClassRow) -> None:
    page = logged_in.get(edit_url(plant, own)).content.decode()
    ids = re.findall(r'<(?:input|select)[^>]* id="([^"]+)"', page)
    assert len(ids) == len(set(ids))
    assert page.count('name="sensor_class-media"') == len(MEDIUM_KINDS)
    form = logged_in.get(edit_url(plant, own)).context["form"]
    assert all(f'name="{form[name].html_name}"' in page for name in form.fields)
    assert next(field.name for field, _origin in form.unstated()) == "aiming_angle"


def test_an_item_that_is_sent_twice_is_kept_once(logged_in: Client, plant: Plant, own: SensorClassRow) -> None:
    data = posted(logged_in, plant, own, media=["liquid", "liquid"], seals="FKM; FKM ;EPDM")
    logged_in.post(edit_url(plant, own), data)
    kept = SensorClassRow.objects.get(pk=own.pk).sensor_class()
    assert (kept.items("media"), kept.items("seals")) == (("liquid",), ("FKM", "EPDM"))


def test_saving_without_a_change_writes_nothing(logged_in: Client, plant: Plant, own: SensorClassRow) -> None:
    response = logged_in.post(edit_url(plant, own), posted(logged_in, plant, own))
    assert response.status_code == 302
    kept = SensorClassRow.objects.get(pk=own.pk)
    assert (kept.version, kept.data) == (own.version, own.data)


def test_a_certificate_confirms_and_gives_changed_values_their_origin(
    logged_in: Client, plant: Plant, own: SensorClassRow
) -> None:
    data = posted(logged_in, plant, own, range_max="20 m", certificate="Certificate 17", confirmed="on")
    assert logged_in.post(edit_url(plant, own), data).status_code == 302
    kept = SensorClassRow.objects.get(pk=own.pk).sensor_class()
    assert (kept.si("range_max"), kept.provenance("range_max")) == (20.0, "Certificate 17")
    assert (kept.provenance("accuracy"), kept.confirmed) == (TYPICAL, True)
    page = logged_in.get(reverse("sensor_class_view", args=[plant.uid, own.uid])).content.decode()
    assert "confirmed from the certificate Certificate 17" in page


def test_a_value_changed_without_a_source_says_so(logged_in: Client, plant: Plant, own: SensorClassRow) -> None:
    changes = {"range_max": "20 m", "accuracy": "1 mm", "from_accuracy": "works test 5"}
    logged_in.post(edit_url(plant, own), posted(logged_in, plant, own, **changes))
    kept = SensorClassRow.objects.get(pk=own.pk).sensor_class()
    assert "no source named" in kept.provenance("range_max")
    assert kept.provenance("accuracy") == "works test 5"


def test_a_property_can_be_added_and_taken_out(logged_in: Client, plant: Plant, own: SensorClassRow) -> None:
    changes = {"aiming_angle": "10°", "purge": "yes", "range_max": "", "media": ["liquid", "solid"]}
    logged_in.post(edit_url(plant, own), posted(logged_in, plant, own, **changes))
    kept = SensorClassRow.objects.get(pk=own.pk).sensor_class()
    assert kept.si("aiming_angle") == pytest.approx(0.17453292519943295)
    assert kept.provenance("purge")
    assert "range_max" not in kept.values
    assert kept.items("media") == ("liquid", "solid")


@pytest.mark.parametrize(
    "stem, text, said",
    [
        ("range_max", "12 kg", "unit of a mass"),
        ("range_max", "0 m", "more than zero"),
        ("process_pressure_max", "16 bar(g)", "write it absolute"),
        ("confirmed", "on", "enter its reference"),
        ("name", "", "required"),
        ("media", [], "required"),
    ],
)
def test_what_is_refused(logged_in: Client, plant: Plant, own: SensorClassRow, stem: str, text: Any, said: str) -> None:
    response = logged_in.post(edit_url(plant, own), posted(logged_in, plant, own, **{stem: text}))
    assert response.status_code == 422
    assert said in response.content.decode()
    assert SensorClassRow.objects.get(pk=own.pk).data == own.data


def test_a_stale_edit_shows_both_values(logged_in: Client, plant: Plant, own: SensorClassRow) -> None:
    data = posted(logged_in, plant, own, range_max="20 m")
    theirs = posted(logged_in, plant, own, range_max="25 m")
    assert logged_in.post(edit_url(plant, own), theirs).status_code == 302
    response = logged_in.post(edit_url(plant, own), data)
    assert response.status_code == 409
    conflict = response.context["form"].conflict
    assert [(one.field.stem, one.yours, one.theirs) for one in conflict.values] == [("range_max", "20 m", "25 m")]
    assert SensorClassRow.objects.get(pk=own.pk).sensor_class().si("range_max") == 25.0


def test_the_service_refuses_stale_versions_and_the_library(plant: Plant, own: SensorClassRow) -> None:
    with pytest.raises(StaleEdit):
        save_class(actor_of(), own, ClassEdit(own.version + 1, "Other", {}, {}))
    library = library_class()
    with pytest.raises(ValidationError, match="library"):
        save_class(actor_of(), library, ClassEdit(library.version, "Other", {}, {}))


def test_measurements_that_use_it_are_checked_again(logged_in: Client, plant: Plant, own: SensorClassRow) -> None:
    measurement = make_measurement(plant)
    Measurement.objects.filter(pk=measurement.pk).update(sensor_class=own)
    data = posted(logged_in, plant, own, range_max="3 m")
    assert str(measurement) in logged_in.get(edit_url(plant, own)).content.decode()
    logged_in.post(edit_url(plant, own), data)
    state = Measurement.objects.select_related("state").get(pk=measurement.pk).state
    assert (state.worst_grade, state.dirty) == ("stop", False)
    loaded = with_all_inputs(Measurement.objects.filter(pk=measurement.pk)).get()
    assert state.input_hash == build_case(loaded).content_hash()


def test_deleting_lists_what_needs_it(logged_in: Client, plant: Plant, own: SensorClassRow) -> None:
    measurement = make_measurement(plant)
    Measurement.objects.filter(pk=measurement.pk).update(sensor_class=own)
    url = reverse("sensor_class_delete", args=[plant.uid, own.uid])
    response = logged_in.post(url, {"version": own.version})
    assert response.status_code == 409
    assert str(measurement) in response.content.decode()
    Measurement.objects.filter(pk=measurement.pk).update(sensor_class=library_class())
    assert logged_in.post(url, {"version": own.version}).status_code == 302
    assert not SensorClassRow.objects.filter(plant=plant).exists()


@pytest.mark.parametrize("name", ["sensor_class_edit", "sensor_class_delete"])
def test_the_library_is_read_only(logged_in: Client, plant: Plant, name: str) -> None:
    row = library_class()
    response = logged_in.post(reverse(name, args=[plant.uid, row.uid]), {"version": row.version}, follow=True)
    assert "copy it into the plant" in response.content.decode()
    assert SensorClassRow.objects.filter(pk=row.pk, version=row.version).exists()


def test_another_plants_copy_is_not_there(logged_in: Client, plant: Plant) -> None:
    foreign = copy_class(actor_of(), make_plant(), library_class(), "own_radar", "Foreign radar")
    assert logged_in.get(edit_url(plant, foreign)).status_code == 404
    compare = reverse("sensor_class_compare", args=[plant.uid])
    assert logged_in.get(compare, {"one": str(foreign.uid), "other": str(foreign.uid)}).status_code == 404
    assert logged_in.get(compare, {"one": "x"}).status_code == 404
    assert "Foreign radar" not in logged_in.get(reverse("sensor_class_list", args=[plant.uid])).content.decode()


def test_comparing_marks_what_differs_by_word_and_sign(logged_in: Client, plant: Plant, own: SensorClassRow) -> None:
    horn = library_class("radar_26ghz_horn")
    url = reverse("sensor_class_compare", args=[plant.uid])
    rows = logged_in.get(url, {"one": str(own.uid), "other": str(horn.uid)}).context["rows"]
    by_label = {label: (first, second, differs) for label, first, second, differs in rows}
    assert by_label["Frequency"][2]
    assert by_label["Principle"] == ("Radar, free radiating", "Radar, free radiating", False)
    page = logged_in.get(url, {"one": str(own.uid), "other": str(own.uid)})
    assert not any(differs for *_, differs in page.context["rows"])
    assert "≠ differs" in logged_in.get(url, {"one": str(own.uid), "other": str(horn.uid)}).content.decode()


def test_the_list_says_principle_media_and_contact(logged_in: Client, plant: Plant) -> None:
    sync_sensor_classes(Actor(None, "command"))
    page = logged_in.get(reverse("sensor_class_list", args=[plant.uid]), {"q": "fork"}).content.decode()
    assert "Point: vibrating fork" in page
    assert "Liquid" in page
