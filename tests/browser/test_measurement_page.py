"""The page where the work happens, in a browser: live, patient with slow answers, careful with typing."""

import re
import time
from collections.abc import Callable

import pytest
from playwright.sync_api import Route, expect

from instruments.models import Measurement
from project.accounts.models import Role, User
from tests.browser.conftest import Person
from tests.factories import make_measurement, make_user
from vessels.models import Plant

pytestmark = pytest.mark.django_db(transaction=True)
Open = Callable[..., Person]


@pytest.fixture
def measurement(plant: Plant) -> Measurement:
    return make_measurement(plant)


def at_work(person: Person, user: User, measurement: Measurement) -> Person:
    person.log_in(user)
    person.page.goto(f"{person.base}/measurements/{measurement.uid}/edit/")
    return person


def test_finding_and_sketch_change_before_saving(
    open_browser: Open, originator: User, measurement: Measurement
) -> None:
    person = at_work(open_browser(), originator, measurement)
    page = person.page
    sketch_before = page.locator("#sketch").inner_html()
    expect(page.locator("#findings .grade-stop")).to_have_count(0)
    page.locator("[name=nozzle-face_elevation]").fill("9.55")
    expect(page.locator("#findings .grade-stop").first).to_be_visible()
    assert page.locator("#sketch").inner_html() != sketch_before
    measurement.refresh_from_db()
    assert measurement.version == Measurement.objects.get().version
    person.looks_right()
    page.locator("button[name=save]").click()
    expect(page.get_by_text("Saved.")).to_be_visible()
    expect(page.locator("[name=nozzle-face_elevation]")).to_have_value("9.55")


def test_open_details_and_focus_survive_an_answer(
    open_browser: Open, originator: User, measurement: Measurement
) -> None:
    person = at_work(open_browser(), originator, measurement)
    page = person.page
    page.locator("#settled > summary").click()
    first = page.locator("#settled details").first
    first.locator("summary").click()
    name = first.get_attribute("id")
    urv = page.locator("[name=measurement-urv]")
    urv.fill("9.21")
    expect(page.locator(".figures tr", has_text="Distance at URV")).to_contain_text("1.09")
    expect(page.locator("#settled")).to_have_attribute("open", "")
    expect(page.locator(f'[id="{name}"]')).to_have_attribute("open", "")
    expect(urv).to_be_focused()
    expect(urv).to_have_value("9.21")


def test_the_newest_answer_wins(open_browser: Open, originator: User, measurement: Measurement) -> None:
    person = at_work(open_browser(), originator, measurement)
    page = person.page
    seen: list[str] = []

    def slow_first(route: Route) -> None:
        seen.append(route.request.post_data or "")
        if len(seen) == 1:
            time.sleep(1.0)
        route.continue_()

    page.route("**/preview/", slow_first)
    urv = page.locator("[name=measurement-urv]")
    urv.fill("9.0")
    page.wait_for_timeout(400)
    urv.fill("8.0")
    expect(page.locator(".figures tr", has_text="Distance at URV")).to_contain_text("2.3")
    page.wait_for_timeout(1200)
    expect(page.locator(".figures tr", has_text="Distance at URV")).to_contain_text("2.3")


def test_an_ended_log_in_shows_a_bar_and_keeps_the_typing(
    open_browser: Open, originator: User, measurement: Measurement
) -> None:
    person = at_work(open_browser(), originator, measurement)
    page = person.page
    page.context.clear_cookies(name="sessionid")
    urv = page.locator("[name=measurement-urv]")
    urv.fill("9.33")
    expect(page.get_by_text("Your log-in has ended")).to_be_visible()
    expect(urv).to_have_value("9.33")
    assert page.url.endswith("/edit/")


def test_two_browsers_save_the_same_measurement(
    open_browser: Open, originator: User, plant: Plant, measurement: Measurement
) -> None:
    colleague = make_user("colleague")
    plant.memberships.create(user=colleague, role=Role.ORIGINATOR)
    first = at_work(open_browser(), originator, measurement)
    second = at_work(open_browser(), colleague, measurement)
    first.page.locator("[name=measurement-urv]").fill("9.1")
    first.page.locator("button[name=save]").click()
    expect(first.page.get_by_text("Saved.")).to_be_visible()
    second.page.locator("[name=measurement-urv]").fill("9.2")
    # The preview tells of it before the save does.
    expect(second.page.get_by_text("was saved by somebody else")).to_be_visible()
    second.page.locator("button[name=save]").click()
    conflict = second.page.locator("table.conflict")
    expect(conflict).to_contain_text("9.1 m")
    expect(conflict).to_contain_text("9.2 m")
    expect(second.page.locator("[name=measurement-urv]")).to_have_value("9.2")
    second.looks_right()
    assert Measurement.objects.get().urv_typed == "9.1 m"


def test_touching_a_finding_marks_its_place(open_browser: Open, originator: User, measurement: Measurement) -> None:
    person = at_work(open_browser(), originator, measurement)
    page = person.page
    page.locator("#settled > summary").click()
    finding = page.locator('#findings li[data-marks="urv"]').first
    finding.hover()
    expect(page.locator("#sketch [data-place=urv]").first).to_have_class(re.compile(r"\btouched\b"))
