"""A new plant from nothing, by hand: plant, unit, medium, vessel, nozzle, tag, measurement, datasheet."""

import io
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import expect
from pypdf import PdfReader

from project.accounts.models import User
from tests.browser.conftest import Person
from tests.factories import library_class, make_measurement, make_user


def fill(person: Person, **values: str) -> None:
    """Fill fields by their labels' field names: "vessel__diameter" is the input "vessel-diameter"."""
    for name, text in values.items():
        field = person.page.locator(f'[name="{name.replace("__", "-")}"]')
        if field.evaluate("one => one.tagName") == "SELECT":
            field.select_option(label=text)
        else:
            field.fill(text)


def save(person: Person) -> None:
    with person.page.expect_navigation():
        person.page.locator("button[name=save]").click()
    expect(person.page.get_by_text("Saved.")).to_be_visible()
    person.looks_right()


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("width", ["desktop", "tablet"])
def test_a_new_plant_from_nothing(open_browser: Callable[..., Person], width: str) -> None:
    library_class()
    user: User = make_user("founder", can_create_plants=True)
    person = open_browser(width)
    page = person.page
    page.goto(f"{person.base}/")
    person.looks_right()
    person.log_in(user)
    assert page.get_by_text("None yet. Create a plant to begin.").is_visible()
    person.looks_right()

    page.get_by_role("link", name="New plant").click()
    person.looks_right()
    fill(person, plant__code="NEW", plant__name="Plant from nothing", plant__time_zone="Europe/Berlin")
    save(person)

    page.get_by_role("link", name="Units", exact=True).click()
    person.looks_right()
    page.get_by_role("link", name="New unit").click()
    fill(person, unit__number="10", unit__name="Tank farm")
    save(person)

    page.get_by_role("link", name="Media").click()
    person.looks_right()
    page.get_by_role("link", name="New medium").click()
    fill(person, medium__name="Hexane", medium__density="659 kg/m³", medium__density_temperature="20 °C",
         medium__permittivity="1.89", medium__gas="Nitrogen", medium__hazards="flammable")  # fmt: skip
    save(person)

    page.get_by_role("link", name="Vessels").click()
    person.looks_right()
    page.get_by_role("link", name="New vessel").click()
    fill(person, vessel__number="T-101", vessel__name="Solvent tank", vessel__diameter="3", vessel__unit="10 Tank farm",
         vessel__bottom="Cone", vessel__cylinder_height="6 m", vessel__bottom_depth="500 mm",
         vessel__design_pressure_max="0.5 bar(g)", vessel__design_pressure_min="0 bar(g)",
         vessel__design_temperature_max="60 °C", vessel__design_temperature_min="-10 °C")  # fmt: skip
    fill(person, case__0__medium="Hexane", case__0__temperature="25", case__0__pressure="20 mbar(g)")
    save(person)
    assert page.get_by_text("Hexane").first.is_visible()

    page.get_by_role("link", name="New nozzle").click()
    fill(person, nozzle__mark="N1", nozzle__size="DN 80", nozzle__rating="PN 16", nozzle__bore="82.5",
         nozzle__projection="250", nozzle__radius="0.9")  # fmt: skip
    save(person)

    page.get_by_role("link", name="Index", exact=True).click()
    person.looks_right()
    page.get_by_role("link", name="New tag").click()
    page.locator("[name=tag-letters]").press_sequentially("LT")
    page.get_by_text("level transmitter").wait_for()
    fill(person, tag__number="101", tag__unit="10 Tank farm", tag__service="Solvent tank level")
    save(person)
    page.get_by_role("link", name="Specify the level measurement").click()
    person.looks_right()
    fill(person, measurement__nozzle_sensor="T-101 · N1 DN 80")
    save(person)

    fill(person, measurement__sensor_class="Radar, 80 GHz, threaded, encapsulated lens", measurement__accuracy="10",
         measurement__lrv="0.6", measurement__urv="6.2", setpoint__1__level="6.0 m")  # fmt: skip
    page.locator("#findings").get_by_text("pass", exact=True).first.wait_for()
    save(person)
    page.locator("#sketch svg [data-place=urv]").first.wait_for(state="attached")

    address = page.get_by_role("link", name="Datasheet (PDF)").get_attribute("href")
    answer = page.request.get(f"{person.base}{address}")
    assert answer.headers["content-type"] == "application/pdf"
    text = "\n".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(answer.body())).pages)
    for expected in ("LT-101", "Solvent tank level", "T-101", "6.2 m", "Hexane", "DRAFT"):
        assert expected in text.replace("\u00a0", " "), expected


@pytest.mark.django_db(transaction=True)
def test_every_page_of_a_plant_is_accessible(open_browser: Callable[..., Person], plant: Any, originator: User) -> None:
    measurement = make_measurement(plant)
    person = open_browser("tablet")
    person.log_in(originator)
    nozzle, vessel = measurement.nozzle, measurement.vessel
    medium = vessel.operating_cases.get().medium
    for address in (
        f"/plants/{plant.uid}/", f"/plants/{plant.uid}/edit/", f"/units/{vessel.unit.uid}/",
        f"/units/{vessel.unit.uid}/edit/", f"/media/{medium.uid}/", f"/media/{medium.uid}/edit/",
        f"/vessels/{vessel.uid}/edit/", f"/plants/{plant.uid}/nozzles/", f"/nozzles/{nozzle.uid}/",
        f"/nozzles/{nozzle.uid}/edit/", f"/tags/{measurement.tag.uid}/", f"/tags/{measurement.tag.uid}/edit/",
        f"/measurements/{measurement.uid}/", f"/measurements/{measurement.uid}/edit/",
        f"/measurements/{measurement.uid}/fit/", f"/plants/{plant.uid}/sensor-classes/",
        f"/plants/{plant.uid}/sensor-classes/{measurement.sensor_class.uid}/", f"/plants/{plant.uid}/index/?q=nothing",
        "/nowhere/",
    ):  # fmt: skip
        person.page.goto(f"{person.base}{address}")
        person.looks_right()
