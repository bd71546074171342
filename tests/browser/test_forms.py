"""Forms in a browser: a refusal is read first, what a shape does not use is cleared with one press, tables fit."""

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from instruments.models import Measurement
from project.accounts.models import User
from tests.browser.conftest import Person
from tests.factories import make_measurement, make_nozzle, make_plant, make_vessel
from vessels.models import Plant, Vessel

pytestmark = pytest.mark.django_db(transaction=True)
Open = Callable[..., Person]


@pytest.fixture
def measurement(plant: Plant) -> Measurement:
    levels = (("HH", "9.4 m"), ("H", "9 m"), ("L", "2 m"), ("LL", "1 m"))
    return make_measurement(plant, setpoints=tuple({"name": name, "level": level} for name, level in levels))


def at_work(person: Person, user: User, path: str) -> Page:
    person.log_in(user)
    person.page.goto(f"{person.base}{path}")
    return person.page


def refuse(page: Page) -> None:
    with page.expect_response(lambda answer: answer.request.method == "POST" and answer.status == 422):
        page.locator("button[name=save]").click()
    page.wait_for_load_state("load")


@pytest.mark.parametrize("width", ["desktop", "tablet"])
def test_a_refusal_has_the_focus_and_leads_to_each_field(
    open_browser: Open, originator: User, measurement: Measurement, width: str
) -> None:
    person = open_browser(width)
    page = at_work(person, originator, f"/measurements/{measurement.uid}/edit/")
    page.locator("#commercial > summary").click()
    page.locator("[name=measurement-order]").evaluate("one => one.removeAttribute('maxlength')")
    page.locator("[name=measurement-order]").fill("x" * 41)
    page.locator("[name=setpoint-2-level]").fill("seven")
    refuse(page)
    expect(page.locator("#problems")).to_be_focused()
    expect(page.locator("#problems li")).to_have_count(2)
    person.looks_right()
    page.locator("#commercial > summary").click()  # folded again by hand
    expect(page.locator("[name=measurement-order]")).not_to_be_visible()
    page.get_by_role("link", name="Order", exact=True).click()
    expect(page.locator("[name=measurement-order]")).to_be_focused()
    expect(page.locator("[name=measurement-order]")).to_be_in_viewport()
    page.get_by_role("link", name="Setpoint 3 (L): Level from datum").press("Enter")
    expect(page.locator("[name=setpoint-2-level]")).to_be_focused()
    expect(page.locator("#section-list a[href='#setpoints'] .faults")).to_have_text("one not accepted")


@pytest.mark.parametrize("width", ["desktop", "tablet"])
def test_the_setpoints_fit_and_their_errors_have_room(
    open_browser: Open, originator: User, measurement: Measurement, width: str
) -> None:
    page = at_work(open_browser(width), originator, f"/measurements/{measurement.uid}/edit/")
    area = page.get_by_role("region", name="Setpoints")
    assert area.evaluate("one => one.scrollWidth - one.clientWidth") == 0, "columns are cut off"
    for name in ("action", "consequence", "response_time", "removed"):
        expect(area.locator(f"[name=setpoint-0-{name}]")).to_be_visible()
    page.locator("[name=setpoint-0-response_time]").fill("soon")
    error = page.locator('[id="error-id_setpoint-0-response_time"] p')
    expect(error).to_contain_text("Response time asked for: “soon” is not readable")
    expect(page.locator("[name=setpoint-0-response_time]")).to_have_attribute("aria-invalid", "true")
    line_px = 24
    assert error.evaluate("one => one.clientHeight") <= 2 * line_px, "the error stands word by word"
    assert area.evaluate("one => one.scrollWidth - one.clientWidth") == 0


def test_what_a_new_shape_does_not_use_is_cleared_with_one_press_and_brought_back(
    open_browser: Open, originator: User, plant: Plant
) -> None:
    vessel = make_vessel(plant)
    person = open_browser()
    page = at_work(person, originator, f"/vessels/{vessel.uid}/edit/")
    body, unused = page.locator("[name=vessel-body]"), page.locator("#unused")
    height = page.locator("[name=vessel-cylinder_height]")
    expect(unused).not_to_be_visible()
    body.select_option("sphere")
    expect(unused.get_by_role("status")).to_have_text(
        "One value is not used by this shape. Clear it, or choose a shape that has it."
    )
    expect(unused.locator("[name=vessel-cylinder_height]")).to_have_value("10")
    expect(page.locator("[name=vessel-box_length]")).not_to_be_visible()
    person.looks_right()

    body.focus()
    for _press in range(20):  # pictures of bodies may stand between
        page.keyboard.press("Tab")
        if height.evaluate("one => one === document.activeElement"):
            break
    expect(height).to_be_focused()
    page.keyboard.press("Tab")
    expect(unused.get_by_role("button", name="Clear it")).to_be_focused()
    page.keyboard.press("Enter")
    expect(height).to_have_value("")
    expect(unused.get_by_role("status")).to_contain_text("Cleared.")
    page.keyboard.press("Escape")
    expect(height).to_have_value("10")
    page.keyboard.press("Enter")
    expect(height).to_have_value("")
    page.keyboard.press("Enter")  # the same button brings it back
    expect(height).to_have_value("10")
    page.keyboard.press("Enter")
    body.select_option("vertical_cylinder")
    expect(height).to_have_value("10")
    expect(unused).not_to_be_visible()

    body.select_option("sphere")
    unused.get_by_role("button", name="Clear it").click()
    with page.expect_navigation():
        page.locator("button[name=save]").click()
    expect(page.get_by_text("Saved.")).to_be_visible()
    kept = Vessel.objects.get()
    assert (kept.body, kept.cylinder_height_typed, kept.diameter_typed) == ("sphere", "", "4 m")


def test_ends_that_a_body_cannot_have_are_set_apart(open_browser: Open, originator: User, plant: Plant) -> None:
    vessel = make_vessel(plant, bottom="cone", bottom_depth="1 m")
    page = at_work(open_browser(), originator, f"/vessels/{vessel.uid}/edit/")
    unused = page.locator("#unused")
    expect(page.locator("[name=vessel-bottom] option[value=pyramid_hopper]")).to_have_attribute("disabled", "")
    page.locator("[name=vessel-body]").select_option("rectangular")
    expect(unused.locator("[name=vessel-bottom]")).to_have_value("cone")
    expect(unused.locator("[name=vessel-bottom_depth]")).to_have_value("1")
    refuse(page)
    expect(page.locator("#problems")).to_contain_text("This body has no such end; accepted: Flat")
    expect(unused.locator("[name=vessel-bottom]")).to_be_visible()
    unused.get_by_role("button", name="Clear them").click()
    expect(page.locator("[name=vessel-bottom]")).to_have_value("flat")
    expect(page.locator("[name=vessel-bottom_depth]")).to_have_value("")


def test_the_nozzles_offered_follow_the_vessel(
    open_browser: Open, originator: User, plant: Plant, measurement: Measurement
) -> None:
    other = make_vessel(plant, number="T-OTHER")
    make_nozzle(other, mark="M10")
    make_nozzle(other, mark="M2")
    person = open_browser()
    page = at_work(person, originator, f"/measurements/{measurement.uid}/fit/")
    page.locator("[name=measurement-vessel]").select_option(label="T-OTHER Test tank")
    nozzles = page.locator("[name=measurement-nozzle_sensor] option")
    expect(nozzles).to_have_text(["—", "M2 DN 80", "M10 DN 80"])
    expect(page.locator("[name=measurement-nozzle_upper]")).not_to_be_visible()
    page.locator("[name=measurement-nozzle_sensor]").select_option(label="M2 DN 80")
    person.looks_right()
    with page.expect_navigation():
        page.locator("button[name=save]").click()
    nozzle = Measurement.objects.get().nozzle
    assert nozzle is not None
    assert (nozzle.vessel, nozzle.mark) == (other, "M2")


@pytest.mark.parametrize("width", ["desktop", "tablet"])
def test_long_names_and_choices_are_read_in_full(open_browser: Open, originator: User, width: str) -> None:
    name = "Long name of a plant by the river, second site, with everything in it that fits 80"
    plant = make_plant("LNG", name=name[:80], members={originator: ("originator",)})  # type: ignore[dict-item]
    vessel = make_vessel(plant, body="horizontal_cylinder", cylinder_height="", cylinder_length="6 m")
    person = open_browser(width)
    page = at_work(person, originator, f"/vessels/{vessel.uid}/edit/")
    shown = page.locator(".plant-name")
    assert shown.evaluate("one => one.scrollWidth <= one.clientWidth || getComputedStyle(one).display === 'inline'")
    expect(shown).to_contain_text(name[:80])
    room = page.locator("[name=vessel-body]").evaluate(
        "one => { const probe = document.createElement('span'); probe.style.position = 'absolute';"
        " probe.style.font = getComputedStyle(one).font;"
        " probe.textContent = one.selectedOptions[0].textContent; document.body.append(probe);"
        " const wanted = probe.getBoundingClientRect().width; probe.remove(); return one.clientWidth - 40 - wanted; }"
    )
    assert room >= 0, f"the chosen body lacks {-room} px"
    person.looks_right()
