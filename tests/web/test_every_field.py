"""Every field of the registry can be filled, is kept, shows, and comes back as typed: driven by the registry."""

import io
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from pypdf import PdfReader

from instruments.field_defs import ROLES
from instruments.forms.sections import section_of
from project.quantities import PlantUnits
from project.registry import REGISTRY, FieldDef
from tests.factories import library_class, make_measurement, make_medium, make_nozzle, make_vessel
from tests.web.pages import form_values
from vessels.models import Internal, Plant

pytestmark = pytest.mark.django_db
UNITS = PlantUnits()
# Typed in a unit that is not the plant's, so that "as typed" means something.
SAMPLES = {
    "length": "41 ft 6 in", "length_small": "3/4 in", "density": "0.79 g/cm³", "temperature": "302 °F",
    "pressure": "95 psi(g)", "pressure_absolute": "7 psi(a)", "angle": "0.5 rad", "time": "1.5 min",
    "volume_flow": "200 gal(US)/min", "frequency": "26000 MHz", "conductivity": "50 mS/m", "viscosity": "1.5 cP",
    "permittivity": "2.345", "number": "0.75", "ratio": "0.5", "volume": "200 L", "area": "0.5 m²",
}  # fmt: skip
# Fields that exclude each other or contradict the shape of the test's vessel are filled one at a time.
EXCLUSIVE = {"nozzle.projection", "vessel.dip_plate_height"}


def sample(definition: FieldDef) -> str:
    if definition.is_quantity:
        return SAMPLES[definition.kind]
    if definition.kind == "choice":
        return definition.choices[-1][0]
    if definition.kind == "integer":
        return "7"
    return f"Filled {definition.stem}"[: definition.longest]


def plain(definitions: Any) -> list[FieldDef]:
    return [one for one in definitions if one.kind != "link" and one.key not in EXCLUSIVE]


def filled(values: dict[str, str], prefix: str, definitions: list[FieldDef]) -> dict[str, str]:
    found = {f"{prefix}-{one.stem}": sample(one) for one in definitions if f"{prefix}-{one.stem}" in values}
    assert found, f"no field of {prefix} on the page"
    return found


def comes_back(client: Client, url: str, typed: dict[str, str]) -> None:
    values = form_values(client, url)
    response = client.post(url, values | typed)
    assert response.status_code == 302, response.content.decode()[:3000]
    again = form_values(client, url)
    assert {name: again[name] for name in typed} == typed
    # A second save of the same values writes nothing: what came back is what is kept.
    assert client.post(url, again).status_code == 302


def test_every_field_of_the_measurement_page(logged_in: Client, plant: Plant) -> None:
    measurement = make_measurement(plant, setpoints=({"name": "LL", "level": "1 m"},))
    url = reverse("measurement_edit", args=[measurement.uid])
    values = form_values(logged_in, url)
    skip = {"tag.letters", "tag.number", "tag.suffix", "measurement.arrangement"}
    wanted = [one for one in plain(REGISTRY) if one.entity in ("tag", "measurement") and one.key not in skip]
    assert len(wanted) > 80
    typed = {f"{one.entity}-{one.stem}": sample(one) for one in wanted}
    assert not set(typed) - set(values), f"not on the page: {set(typed) - set(values)}"
    typed |= filled(values, "nozzle", plain(REGISTRY.of("nozzle")))
    typed |= filled(values, "setpoint-0", plain(REGISTRY.of("setpoint")))
    comes_back(logged_in, url, typed)
    version = type(measurement).objects.get().version
    assert logged_in.post(url, form_values(logged_in, url)).status_code == 302
    assert type(measurement).objects.get().version == version
    page = logged_in.get(reverse("measurement_view", args=[measurement.uid])).content.decode()
    for one in wanted:
        if one.kind in ("text", "long_text"):
            assert sample(one) in page, one.key


def test_every_field_of_a_vessel_with_cases_and_internals(logged_in: Client, plant: Plant) -> None:
    vessel = make_vessel(plant)
    url = reverse("vessel_edit", args=[vessel.uid])
    values = form_values(logged_in, url)
    chosen = vessel.shape_words
    foreign = {one.stem for one in REGISTRY.of("vessel") if not one.is_about(chosen) and one.concerns != ("solid",)}
    foreign |= {"body", "bottom", "top", "datum", "number"}
    typed = {f"vessel-{one.stem}": sample(one) for one in plain(REGISTRY.of("vessel")) if one.stem not in foreign}
    assert not set(typed) - set(values)
    typed["vessel-design_pressure_min"] = "1 psi(g)"
    typed["vessel-design_temperature_min"] = "50 °F"
    typed |= filled(values, "case-0", plain(REGISTRY.of("case")))
    typed |= filled(values, "internal-0", plain(REGISTRY.of("internal")))
    comes_back(logged_in, url, typed)
    assert Internal.objects.get().width_typed == "3/4 in"
    page = logged_in.get(reverse("vessel_view", args=[vessel.uid])).content.decode()
    assert "Filled design_code" in page


@pytest.mark.parametrize(
    ("body", "dimensions"),
    [
        ("horizontal_cylinder", {"diameter": "2 m", "cylinder_length": "6 m"}),
        ("rectangular", {"cylinder_height": "3 m", "box_length": "4 m", "box_width": "120 in"}),
        ("sphere", {"diameter": "41 ft"}),
    ],
)
def test_dimensions_of_the_other_bodies(logged_in: Client, plant: Plant, body: str, dimensions: dict[str, str]) -> None:
    vessel = make_vessel(plant)
    url = reverse("vessel_edit", args=[vessel.uid])
    emptied = {f"vessel-{stem}": "" for stem in ("diameter", "cylinder_height")}
    typed = {"vessel-body": body, **emptied, **{f"vessel-{stem}": text for stem, text in dimensions.items()}}
    response = logged_in.post(url, form_values(logged_in, url) | typed)
    assert response.status_code == 302, response.content.decode()[:2000]
    vessel.refresh_from_db()
    assert vessel.shape().height_m > 1
    wrong = logged_in.post(url, form_values(logged_in, url) | {"vessel-bottom_depth": "1 m"})
    assert wrong.status_code == 422


def test_every_field_of_a_medium(logged_in: Client, plant: Plant) -> None:
    medium = make_medium(plant)
    url = reverse("medium_edit", args=[medium.uid])
    values = form_values(logged_in, url)
    typed = filled(values, "medium", plain(REGISTRY.of("medium")))
    assert len(typed) > 20
    comes_back(logged_in, url, typed)


@pytest.mark.parametrize("arrangement", [key for key in ROLES if len(ROLES[key]) == 2])
def test_arrangements_with_two_connections(logged_in: Client, plant: Plant, arrangement: str) -> None:
    library_class()
    measurement = make_measurement(plant)
    vessel = measurement.vessel
    upper = make_nozzle(vessel, face_elevation="8 m")
    lower = make_nozzle(vessel, face_elevation="1 m")
    url = reverse("measurement_fit", args=[measurement.uid])
    values = form_values(logged_in, url) | {"measurement-arrangement": arrangement}
    refused = logged_in.post(url, values)
    assert refused.status_code == 422
    assert "has no such connection" in refused.content.decode()
    values |= {
        "measurement-nozzle_sensor": "",
        "measurement-nozzle_upper": str(upper.uid),
        "measurement-nozzle_lower": str(upper.uid),
    }
    twice = logged_in.post(url, values)
    assert twice.status_code == 422
    assert "chosen twice" in twice.content.decode()
    assert logged_in.post(url, values | {"measurement-nozzle_lower": str(lower.uid)}).status_code == 302
    measurement = type(measurement).objects.get()
    assert measurement.nozzles == {"upper": upper, "lower": lower}
    page = reverse("measurement_edit", args=[measurement.uid])
    comes_back(logged_in, page, {"nozzle-upper-bore": "1 in", "nozzle-lower-bore": "1 1/8 in"})
    assert logged_in.get(reverse("measurement_datasheet", args=[measurement.uid])).content.startswith(b"%PDF")


def test_every_field_has_a_section_or_a_page_of_its_own() -> None:
    sections = {section_of(one.key) for one in REGISTRY if one.entity in ("tag", "measurement", "setpoint")}
    assert "" not in sections


def test_adding_a_field_is_one_entry(logged_in: Client, plant: Plant, monkeypatch: Any) -> None:
    """One registry entry: the field is on the form, kept, on the page, in the case and on the sheet's rows."""
    added = FieldDef("measurement.painted", "Painted in", "housing", longest=40, stored="details")
    monkeypatch.setitem(REGISTRY._fields, added.key, added)
    measurement = make_measurement(plant)
    url = reverse("measurement_edit", args=[measurement.uid])
    comes_back(logged_in, url, {"measurement-painted": "Traffic grey"})
    page = logged_in.get(reverse("measurement_view", args=[measurement.uid])).content.decode()
    assert "Painted in" in page
    assert "Traffic grey" in page
    sheet = logged_in.get(reverse("measurement_datasheet", args=[measurement.uid])).content
    text = "\n".join(one.extract_text() for one in PdfReader(io.BytesIO(sheet)).pages)
    assert "Painted in" in text
    assert "Traffic grey" in text
