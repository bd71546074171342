"""Vessels from nothing: different ends, a silo with hopper and heap, a tilted drum, a pasted strapping table."""

import io
import math
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from project.accounts.models import User
from tests.browser.conftest import Person
from tests.browser.test_from_nothing import fill, save
from tests.factories import make_measurement, make_medium, make_unit
from vessels.models import Plant, StrappingTable, Vessel

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def person(open_browser: Callable[..., Person], plant: Plant, originator: User) -> Iterator[Person]:
    make_unit(plant, "10")
    make_medium(plant, name="Meal", kind="solid", density="600 kg/m³", angle_of_repose="35°")
    someone = open_browser("desktop")
    someone.log_in(originator)
    yield someone
    assert someone.problems == []


def new_vessel(person: Person, plant: Plant, number: str) -> Page:
    page = person.page
    page.goto(f"{person.base}/plants/{plant.uid}/vessels/new/")
    fill(person, vessel__number=number, vessel__unit="10 Unit 10")
    return page


def press(page: Page, stem: str, kind: str) -> None:
    """Choose a body or an end by its picture."""
    page.locator(f'[data-pictures="id_vessel-{stem}"] [data-value="{kind}"]').click()
    expect(page.locator(f'[data-pictures="id_vessel-{stem}"] [data-value="{kind}"]')).to_have_attribute(
        "aria-pressed", "true"
    )


def live(page: Page, text: str) -> None:
    """What the preview says while nothing is saved."""
    expect(page.locator("#live-results")).to_contain_text(text)


def test_an_upright_vessel_with_different_ends(person: Person, plant: Plant) -> None:
    page = new_vessel(person, plant, "V-1")
    person.looks_right()
    press(page, "bottom", "din_28011")
    press(page, "top", "cone")
    expect(page.locator("#div_id_vessel-outlet_diameter")).to_be_hidden()
    fill(person, vessel__diameter="2", vessel__cylinder_height="3 m")
    live(page, "Still needed for the shape: Depth of the upper or right end")
    fill(person, vessel__top_depth="400 mm")
    # Cylinder, cone, and a torispherical end of crown D and knuckle 0.1·D: 0.0989660·D³ (computed from the definition
    # of DIN 28011 on the inside diameter).
    whole = math.pi * 3 + math.pi * 0.4 / 3 + 0.0989660 * 8
    live(page, f"{whole:.3f}")
    live(page, "crown radius 2 m, knuckle radius 200 mm")
    assert not Vessel.objects.exists()
    save(person)
    expect(page.get_by_role("heading", name="Plan")).to_be_visible()
    page.get_by_role("link", name="Capacity table and curve").click()
    person.looks_right()
    expect(page.locator("#plot-output")).to_contain_text("of the whole")
    page.locator("#plot-level").focus()
    before = page.locator("#plot-output").inner_text()
    page.keyboard.press("ArrowRight")
    expect(page.locator("#plot-output")).not_to_have_text(before)
    fill(person, step="0.5 m", points="8")
    page.get_by_role("button", name="Show").click()
    with page.expect_download() as download:
        page.get_by_role("link", name="CSV").first.click()
    rows = download.value.path().read_text(encoding="utf-8-sig").splitlines()
    assert float(rows[-1].split(",")[1]) == pytest.approx(whole, rel=1e-6)
    answer = page.request.get(f"{person.base}{page.get_by_role('link', name='Capacity sheet').get_attribute('href')}")
    sheets = PdfReader(io.BytesIO(answer.body())).pages
    assert len(sheets) == 1
    assert "knuckle radius 200" in sheets[0].extract_text().replace("\u00a0", " ").replace("\n", " ")


def test_a_silo_with_hopper_and_heap(person: Person, plant: Plant) -> None:
    page = new_vessel(person, plant, "S-1")
    press(page, "bottom", "truncated_cone")
    fill(person, vessel__diameter="6", vessel__cylinder_height="12", vessel__bottom_depth="4 m",
         vessel__outlet_diameter="600 mm", case__0__medium="Meal")  # fmt: skip
    live(page, "Bulk solids")
    live(page, "2.101")  # R·tan 35° of a heap in the middle
    expect(page.locator("#div_id_vessel-inlet_radius")).to_be_visible()
    fill(person, vessel__inlet_radius="1 m", vessel__inlet_bearing="90°")
    live(page, "2.801")  # (R + 1)·tan 35°: the farthest wall lies across the middle
    save(person)
    expect(page.get_by_text("Add below a heap")).to_be_visible()


def test_a_tilted_drum(person: Person, plant: Plant) -> None:
    page = new_vessel(person, plant, "D-1")
    press(page, "body", "horizontal_cylinder")
    expect(page.locator("#div_id_vessel-cylinder_height")).to_be_hidden()
    expect(page.locator('[data-pictures="id_vessel-bottom"] [data-value="truncated_cone"]')).to_be_hidden()
    press(page, "bottom", "ellipsoidal_2_1")
    press(page, "top", "hemisphere")
    fill(person, vessel__diameter="2", vessel__cylinder_length="6")
    live(page, f"{math.pi * 7:.3f}")  # cylinder 6π, half ball 2π/3, half ellipsoid π/3
    live(page, "Inside height")
    fill(person, vessel__tilt="2°")
    live(page, "Numerical integration")
    fill(person, vessel__tilt="50°")
    expect(page.locator("#error-id_vessel-tilt")).to_contain_text("44°")
    fill(person, vessel__tilt="2°")
    expect(page.locator("#error-id_vessel-tilt")).to_be_empty()
    save(person)


def test_what_another_shape_does_not_use_is_cleared_or_brought_back(person: Person, plant: Plant) -> None:
    page = new_vessel(person, plant, "V-2")
    press(page, "bottom", "cone")
    fill(person, vessel__diameter="2", vessel__cylinder_height="3", vessel__bottom_depth="1 m")
    press(page, "bottom", "hemisphere")
    expect(page.locator("#unused")).to_contain_text("Not used by this shape")
    person.looks_right()
    page.locator("#unused button").click()
    press(page, "bottom", "cone")
    expect(page.locator("[name=vessel-bottom_depth]")).to_have_value("1 m")
    press(page, "bottom", "hemisphere")
    page.locator("#unused button").click()
    save(person)


def _table(rows: int, area: float = math.pi) -> str:
    return "\n".join(f"{1000 * row / (rows - 1) * 3:.4f}\t{area * 3 * row / (rows - 1):.6f}" for row in range(rows))


def _spoiled(rows: int, row: int, cell: str) -> str:
    lines = _table(rows).splitlines()
    lines[row - 1] = lines[row - 1].split("\t")[0] + "\t" + cell
    return "\n".join(lines)


def paste(page: Page, text: str) -> None:
    """Paste over what stands in the field, from the clipboard as people do; typing 5,000 rows would take minutes."""
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.evaluate("text => navigator.clipboard.writeText(text)", text)
    field = page.locator("[name=strapping-points]")
    field.focus()
    page.keyboard.press("Control+A")
    page.keyboard.press("Control+V")
    expect(field).not_to_have_value("")


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ("\n".join("\t".join(reversed(line.split("\t"))) for line in _table(7).splitlines()), "columns look swapped"),
        (_table(7).replace("4.712389", "almost five"), "almost five"),
        (_table(7).replace("4.712389", "1.000000"), "1"),
        (_spoiled(5000, 2500, "four point seven"), "four point seven"),
    ],
    ids=["swapped", "text", "falling", "five thousand rows"],
)
def test_a_strapping_table_is_pasted_and_mended(person: Person, plant: Plant, wrong: str, said: str) -> None:
    page = new_vessel(person, plant, "T-1")
    fill(person, vessel__diameter="2", vessel__cylinder_height="3")
    save(person)
    page.get_by_role("link", name="Strapping table").click()
    person.looks_right()
    page.locator("[name=strapping-level_unit]").select_option("mm")
    paste(page, wrong)
    expect(page.locator("#strapping-live")).to_contain_text(said)
    expect(page.locator("#strapping-live")).to_contain_text("Not usable")
    page.locator("button[name=save]").click()
    expect(page.get_by_role("alert").first).to_be_visible()
    assert page.locator("[name=strapping-points]").input_value().strip() == wrong.strip()
    assert not StrappingTable.objects.exists()
    paste(page, _table(7))
    expect(page.locator("#strapping-live")).to_contain_text("Nothing is wrong with it")
    with page.expect_navigation():
        page.locator("button[name=save]").click()
    person.looks_right()
    assert len(StrappingTable.objects.get().si_points) == 7


def test_what_a_change_would_do_is_shown_before_saving(person: Person, plant: Plant, some_measurement: Any) -> None:
    vessel = some_measurement.vessel
    page = person.page
    page.goto(f"{person.base}/vessels/{vessel.uid}/edit/")
    fill(person, vessel__cylinder_height="9 m")
    live(page, "What saving would do")
    live(page, some_measurement.tag.text)
    expect(page.locator("#live-results .effects .grade-stop").first).to_be_visible()
    person.looks_right()
    vessel.refresh_from_db()
    assert vessel.cylinder_height_typed == "10 m"


@pytest.fixture
def some_measurement(plant: Plant) -> Any:
    return make_measurement(plant)


def test_going_back_brings_the_typing_and_the_shape_back(person: Person, plant: Plant) -> None:
    page = new_vessel(person, plant, "V-3")
    press(page, "body", "sphere")
    fill(person, vessel__diameter="2.5 m")
    live(page, "8.181")
    page.on("dialog", lambda dialog: dialog.accept())
    page.get_by_role("link", name="Units", exact=True).click()
    page.wait_for_url("**/units/")
    page.go_back()
    expect(page.locator("[name=vessel-diameter]")).to_have_value("2.5 m")
    expect(page.locator("[name=vessel-body]")).to_have_value("sphere")
    expect(page.locator("#div_id_vessel-cylinder_height")).to_be_hidden()
    live(page, "8.181")
