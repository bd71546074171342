"""A refused save says at the top of the page what has to be put right, and leads to each faulty field."""

import html
import re
from dataclasses import dataclass
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from project.accounts.models import User
from tests.factories import make_measurement, make_medium, make_tag, make_vessel
from tests.web.pages import form_values, send
from vessels.models import Plant, Vessel

pytestmark = pytest.mark.django_db


@dataclass(frozen=True)
class Summary:
    """What the top of a page says: its heading, and (anchor, label, message) of each item."""

    heading: str
    items: list[tuple[str, str, str]]


def summary_of(response: Any) -> Summary:
    """The summary, once it is known to be announced and to lead to inputs that are on the page."""
    page = html.unescape(response.content.decode())
    found = re.search(r'<div class="refusal problems"([^>]*)>(.*?)</div>', page, re.DOTALL)
    assert found, "no summary at the top"
    assert 'role="alert"' in found.group(1)
    assert 'tabindex="-1"' in found.group(1)
    assert found.start() < page.index("<label"), "the summary does not come first"
    items = []
    for text in re.findall(r"<li>(.*?)</li>", found.group(2), re.DOTALL):
        link = re.match(r'<a href="#([^"]+)">(.*?)</a>: (.*)', text, re.DOTALL)
        if link is None:
            items.append(("", "", text))
            continue
        anchor = link.group(1)
        assert re.search(rf'<(input|select|textarea)[^>]*\bid="{re.escape(anchor)}"', page), f"#{anchor} leads nowhere"
        items.append((anchor, link.group(2), link.group(3)))
    heading = re.sub(r"<[^>]+>", "", found.group(2).partition("</p>")[0])
    return Summary(" ".join(heading.split()), items)


def test_every_faulty_field_of_a_measurement_is_listed_in_the_pages_order(logged_in: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    url = reverse("measurement_edit", args=[measurement.uid])
    response = send(
        logged_in, url, nozzle__bore="-50 mm", measurement__urv="abc", measurement__supply="x" * 41,
        setpoint__0__level="seven", measurement__note="kept",
    )  # fmt: skip
    assert response.status_code == 422
    summary = summary_of(response)
    labels = [label for _anchor, label, _message in summary.items]
    assert labels == [
        "Nozzle: Bore after lining",
        "Supply",
        "Upper range value URV (100 %)",
        "Setpoint 1 (H): Level from datum",
    ]
    assert summary.heading == "Not saved. 4 things have to be put right:"
    page = response.content.decode()
    assert re.search(r'<details class="section" id="electrical"\s+open>', page), "the section with the error is folded"
    assert ">kept</textarea>" in page.replace("\n", "")
    assert 'value="-50 mm"' in page


def test_sections_tell_which_of_them_hold_errors(logged_in: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    url = reverse("measurement_edit", args=[measurement.uid])
    page = send(logged_in, url, measurement__supply="x" * 41, measurement__urv="abc").content.decode()
    sections = page.partition('id="section-list"')[2].partition("</nav>")[0]
    faulty = [item for item in re.findall(r"<li>.*?</li>", sections, re.DOTALL) if "not accepted" in item]
    assert [re.findall(r'href="#(\w+)"', item)[0] for item in faulty] == ["electrical", "signal"]
    untouched = logged_in.get(url).content.decode()
    assert "not accepted" not in untouched.partition('id="section-list"')[2].partition("</nav>")[0]


def test_a_folded_field_with_an_error_unfolds(logged_in: Client, plant: Plant) -> None:
    """A probe's length does not concern a radar: it is folded away until something is wrong with it."""
    measurement = make_measurement(plant)
    url = reverse("measurement_edit", args=[measurement.uid])
    folded = logged_in.get(url).content.decode().partition('id="folded-sensor"')[2].partition("</details>")[0]
    assert 'name="measurement-probe_length"' in folded
    response = send(logged_in, url, measurement__probe_length="-1")
    assert response.status_code == 422
    assert [anchor for anchor, _label, _message in summary_of(response).items] == ["id_measurement-probe_length"]
    page = response.content.decode()
    assert 'name="measurement-probe_length"' in page
    assert 'name="measurement-probe_length"' not in page.partition('id="folded-sensor"')[2].partition("</details>")[0]


def test_errors_of_a_row_stand_below_it_with_the_fields_name(logged_in: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    url = reverse("measurement_edit", args=[measurement.uid])
    page = html.unescape(send(logged_in, url, setpoint__0__level="seven").content.decode())
    below = re.findall(r'<tr class="row-errors"><td colspan="6">(.*?)</td></tr>', page, re.DOTALL)
    assert len(below) == 4
    assert "Level from datum: “seven” is not readable" in below[0]
    assert "not readable" not in "".join(below[1:])


def test_a_row_that_is_removed_keeps_nobody_from_saving(logged_in: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    url = reverse("measurement_edit", args=[measurement.uid])
    response = send(logged_in, url, setpoint__0__level="seven", setpoint__0__removed="on", measurement__urv="abc")
    assert [label for _anchor, label, _message in summary_of(response).items] == ["Upper range value URV (100 %)"]


def test_cases_and_internals_of_a_vessel_are_in_the_summary(logged_in: Client, plant: Plant) -> None:
    vessel = make_vessel(plant)
    url = reverse("vessel_edit", args=[vessel.uid])
    response = send(
        logged_in, url, vessel__diameter="-4", case__0__temperature="warm", internal__1__name="ladder",
        internal__1__radius="far",
    )  # fmt: skip
    assert [(anchor, label) for anchor, label, _message in summary_of(response).items] == [
        ("id_vessel-diameter", "Inside diameter"),
        ("id_case-0-temperature", "Operating case 1 (Normal): Temperature"),
        ("id_internal-1-radius", "Internal 2 (Ladder): Radius from the axis"),
    ]


def test_what_concerns_no_single_field_is_listed_without_a_link(logged_in: Client, plant: Plant) -> None:
    vessel = make_vessel(plant, number="T-1")
    url = reverse("vessel_new", args=[plant.uid])
    response = send(logged_in, url, vessel__number="T-1", vessel__unit=str(vessel.unit.uid))
    summary = summary_of(response)
    assert summary.heading == "Not saved. One thing has to be put right:"
    assert "already" in summary.items[0][2]


def test_every_page_with_a_form_has_the_summary(logged_in: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    vessel, nozzle = measurement.vessel, measurement.nozzle
    medium, unit = vessel.operating_cases.get().medium, vessel.unit
    for name, row, changes, label in (
        ("plant_edit", plant, {"plant-atmosphere": "abc"}, "Atmospheric pressure"),
        ("unit_new", plant, {"unit-name": "x"}, "Unit number"),
        ("unit_edit", unit, {"unit-number": ""}, "Unit number"),
        ("medium_new", plant, {"medium-density": "x"}, "Density"),
        ("medium_edit", medium, {"medium-density": "-1"}, "Density"),
        ("vessel_new", plant, {"vessel-diameter": "x"}, "Inside diameter"),
        ("vessel_copy", vessel, {"vessel-number": ""}, "Vessel number"),
        ("nozzle_new", vessel, {"nozzle-bore": "x"}, "Bore after lining"),
        ("nozzle_edit", nozzle, {"nozzle-bore": "x"}, "Bore after lining"),
        ("tag_new", plant, {"tag-letters": ""}, "Letters"),
        ("tag_edit", measurement.tag, {"tag-letters": "??"}, "Letters"),
        ("measurement_new", make_tag(plant), {"measurement-arrangement": "x"}, "Arrangement"),
        ("measurement_fit", measurement, {"measurement-arrangement": "x"}, "Arrangement"),
        ("measurement_copy", measurement, {"tag-number": ""}, "Number"),
        ("vessel_attach", vessel, {}, "File"),
    ):
        url = reverse(name, args=[row.uid])
        before = logged_in.get(url).content.decode()
        assert 'id="problems"' not in before, name
        response = logged_in.post(url, form_values(logged_in, url) | changes)
        assert response.status_code == 422, name
        assert label in [one[1] for one in summary_of(response).items], name


def test_a_refused_log_in_has_it_too(client: Client, originator: User) -> None:
    response = client.post(reverse("log_in"), {"username": originator.username, "password": "wrong"})
    summary = summary_of(response)
    assert summary.heading.startswith("Not logged in.")
    assert len(summary.items) == 1


def test_a_dimension_of_another_shape_is_set_apart_and_refused(logged_in: Client, plant: Plant) -> None:
    vessel = make_vessel(plant)
    url = reverse("vessel_edit", args=[vessel.uid])
    apart = '<div class="unused filled"'
    assert apart not in logged_in.get(url).content.decode()
    response = send(logged_in, url, vessel__body="sphere", vessel__top="hemisphere", vessel__tilt="5°")
    assert response.status_code == 422
    assert [anchor for anchor, _label, _message in summary_of(response).items] == [
        "id_vessel-top", "id_vessel-cylinder_height", "id_vessel-tilt",
    ]  # fmt: skip
    page = html.unescape(response.content.decode())
    group = page.partition(apart)[2].partition("<button")[0]
    assert "3 values are not used by this shape. Clear them" in group
    for name in ("vessel-top", "vessel-cylinder_height", "vessel-tilt"):
        assert f'name="{name}"' in group
        assert page.count(f'name="{name}"') == 1
    assert 'name="vessel-diameter"' not in group
    emptied = {"vessel-top": "flat", "vessel-cylinder_height": "", "vessel-tilt": ""}
    assert logged_in.post(url, form_values(logged_in, url) | {"vessel-body": "sphere", **emptied}).status_code == 302
    assert Vessel.objects.get().shape().height_m == pytest.approx(4)


def test_what_a_kind_of_medium_does_not_have_is_never_refused(logged_in: Client, plant: Plant) -> None:
    """The feed point concerns bulk solids, and no shape: a vessel keeps it whatever it holds."""
    vessel = make_vessel(plant, medium=make_medium(plant, kind="liquid"))
    url = reverse("vessel_edit", args=[vessel.uid])
    assert send(logged_in, url, vessel__inlet_radius="1 m").status_code == 302


def test_what_blocks_a_deletion_is_named_and_linked(logged_in: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    vessel, nozzle = measurement.vessel, measurement.nozzle
    medium, unit = vessel.operating_cases.get().medium, vessel.unit

    def link(kind: str, name: str, row: Any) -> str:
        return f'{kind} <a href="{reverse(name, args=[row.uid])}">{row}</a>'

    to_measurement = link("Level measurement", "measurement_view", measurement)
    to_vessel = link("Vessel", "vessel_view", vessel)
    to_tag = link("Tag", "tag_view", measurement.tag)
    for row, name, expected in (
        (nozzle, "nozzle_delete", [to_measurement]),
        (vessel, "vessel_delete", [f"{to_measurement}: nozzle {nozzle}"]),
        (medium, "medium_delete", [f"{to_vessel}: operating case Normal"]),
        (unit, "unit_delete", [to_tag, to_vessel]),
    ):
        page = logged_in.get(reverse(name, args=[row.uid])).content.decode()
        listed = re.findall(r"<li>(.*?)</li>", page.partition('role="alert"')[2].partition("</div>")[0])
        assert listed == expected, name
        assert "sensor:" not in page
