"""Accepting a caution by keyboard alone, and the panel of findings under a live answer."""

from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from instruments.models import Acceptance, Measurement
from project.accounts.models import User
from tests.accepting import CODE, PLACE, REASON, make_cautioned
from tests.browser.conftest import Person
from vessels.models import Plant

pytestmark = pytest.mark.django_db(transaction=True)
Open = Callable[..., Person]
FINDING = f'[id="finding-{CODE}-{PLACE}"]'


@pytest.fixture
def measurement(plant: Plant) -> Measurement:
    return make_cautioned(plant)


@pytest.mark.parametrize("width", ["desktop", "tablet"])
def test_a_caution_is_accepted_by_keyboard(
    open_browser: Open, originator: User, measurement: Measurement, width: str
) -> None:
    person = open_browser(width)
    person.log_in(originator)
    page = person.page
    page.goto(f"{person.base}/measurements/{measurement.uid}/edit/")
    page.locator(f"{FINDING} > summary").focus()
    page.keyboard.press("Enter")
    person.looks_right()
    page.keyboard.press("Tab")
    expect(page.get_by_role("link", name="Accept with a reason (Setpoint inside the span")).to_be_focused()
    page.keyboard.press("Enter")
    page.wait_for_url("**/findings/**")
    person.looks_right()
    page.get_by_label("Reason").focus()
    page.keyboard.type("too short")
    page.keyboard.press("Tab")
    expect(page.get_by_role("button", name="Accept")).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.get_by_role("alert")).to_be_focused()
    person.looks_right()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.get_by_label("Reason")).to_be_focused()
    page.keyboard.press("Control+A")
    page.keyboard.type(REASON)
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_url("**/edit/#finding-*")
    expect(page.locator(FINDING)).to_have_attribute("open", "")
    expect(page.locator(FINDING)).to_contain_text(REASON)
    person.looks_right()
    assert Acceptance.objects.get().accepted_by == originator


def test_an_open_finding_stays_open_while_somebody_types(
    open_browser: Open, originator: User, measurement: Measurement
) -> None:
    person = open_browser()
    person.log_in(originator)
    page = person.page
    page.goto(f"{person.base}/measurements/{measurement.uid}/edit/")
    page.locator(f"{FINDING} > summary").click()
    page.locator("[name=measurement-urv]").fill("9.45")
    expect(page.locator(FINDING)).to_contain_text("Save first")
    expect(page.locator(FINDING)).to_have_attribute("open", "")
    expect(page.get_by_role("heading", name="Setpoints caution", level=3)).to_be_visible()
    page.locator(f"{FINDING} > summary").hover()
    expect(page.locator(f'#sketch [data-place="{PLACE}"].touched').first).to_be_attached()
