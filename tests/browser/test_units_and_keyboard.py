"""Switching a plant's units changes views only; a measurement can be made with the keyboard alone."""

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from instruments.models import Measurement
from project.accounts.models import User
from project.recompute import kept_models
from tests.browser.conftest import Person
from tests.factories import library_class, make_measurement, make_nozzle, make_unit, make_vessel
from vessels.models import Plant

pytestmark = pytest.mark.django_db(transaction=True)


def everything_kept() -> dict[str, list[dict[str, Any]]]:
    return {model.__name__: list(model._default_manager.order_by("pk").values()) for model in kept_models()}


def choose_units(person: Person, plant: Plant, label: str) -> None:
    person.page.goto(f"{person.base}/plants/{plant.uid}/edit/")
    person.page.locator("[name=plant-unit_set]").select_option(label=label)
    with person.page.expect_navigation():
        person.page.locator("button[name=save]").click()


def test_switching_to_us_units_and_back_changes_nothing_that_is_kept(
    open_browser: Callable[..., Person], originator: User, plant: Plant
) -> None:
    measurement = make_measurement(plant)
    person = open_browser()
    person.log_in(originator)
    page = person.page
    before, plant_before = everything_kept(), Plant.objects.values().get()
    edit = f"{person.base}/measurements/{measurement.uid}/edit/"

    choose_units(person, plant, "US customary (ft, psi, °F)")
    page.goto(edit)
    # Typed texts come back with their own unit; figures show the plant's.
    expect(page.locator("[name=measurement-urv]")).to_have_value("9.5 m")
    expect(page.locator(".figures tr", has_text="Distance at URV")).to_contain_text("ft")
    person.looks_right()
    page.goto(f"{person.base}/plants/{plant.uid}/index/")
    expect(page.locator("table.list thead")).to_contain_text("ft")
    assert everything_kept() == before

    choose_units(person, plant, "Metric (m, bar, °C)")
    page.goto(edit)
    expect(page.locator("[name=measurement-urv]")).to_have_value("9.5")
    assert everything_kept() == before
    after = Plant.objects.values().get()
    assert after.pop("version") == plant_before.pop("version") + 2
    assert after == plant_before


def tab_to(page: Page, wanted: str) -> None:
    """Press Tab until the element that `wanted` selects has the focus, as somebody without a mouse would."""
    target = page.locator(wanted).first
    for _press in range(150):
        if target.evaluate("one => one === document.activeElement"):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{wanted} cannot be reached with the Tab key")


def enter(page: Page, name: str, text: str) -> None:
    tab_to(page, f'[name="{name}"]')
    page.keyboard.type(text)


def press(page: Page, wanted: str) -> None:
    tab_to(page, wanted)
    with page.expect_navigation():
        page.keyboard.press("Enter")


def test_a_measurement_with_the_keyboard_alone(
    open_browser: Callable[..., Person], originator: User, plant: Plant
) -> None:
    library_class()
    make_nozzle(make_vessel(plant, make_unit(plant), number="T-77"), mark="N1")
    person = open_browser()
    page = person.page
    page.goto(f"{person.base}/log-in/")
    enter(page, "username", originator.username)
    enter(page, "password", "a-long-test-password")
    page.keyboard.press("Enter")
    page.wait_for_url(lambda url: "/log-in/" not in url)

    press(page, "main a:has-text('Index')")
    press(page, "a:has-text('New tag')")
    enter(page, "tag-unit", "4")
    enter(page, "tag-letters", "LIT")
    enter(page, "tag-number", "770")
    enter(page, "tag-service", "Made without a mouse")
    press(page, "button[name=save]")
    press(page, "a:has-text('Specify the level measurement')")
    enter(page, "measurement-nozzle_sensor", "T-77")
    press(page, "button[name=save]")

    enter(page, "measurement-sensor_class", "Radar, 80 GHz, threaded")
    enter(page, "measurement-accuracy", "10")
    enter(page, "measurement-lrv", "0.5")
    enter(page, "measurement-urv", "9.5")
    expect(page.locator(".figures tr", has_text="Distance at URV")).to_contain_text("0.8")
    tab_to(page, "#settled > summary")
    page.keyboard.press("Enter")
    expect(page.locator("#settled")).to_have_attribute("open", "")
    # Back up the page to the form's button.
    for _press in range(60):
        if page.locator("button[name=save]").evaluate("one => one === document.activeElement"):
            break
        page.keyboard.press("Shift+Tab")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    expect(page.get_by_text("Saved.")).to_be_visible()
    measurement = Measurement.objects.get()
    assert (measurement.tag.text, measurement.urv_typed) == ("LIT-770", "9.5 m")
    assert measurement.sensor_class is not None
    person.looks_right()
