"""The live preview: shows what the typing would give, writes nothing, refuses nothing."""

import html
import re
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from instruments.models import Measurement
from instruments.wording_sentences import TITLES
from tests.factories import make_measurement
from tests.web.pages import form_values, send
from vessels.models import Plant

HTMX = {"HX-Request": "true"}
WRITES = re.compile(r"^\s*(INSERT|UPDATE|DELETE|REPLACE|CREATE|ALTER|DROP)", re.IGNORECASE)


@pytest.fixture
def measurement(plant: Plant) -> Measurement:
    return make_measurement(plant)


def preview(client: Client, measurement: Measurement, **changes: str) -> Any:
    values = form_values(client, reverse("measurement_edit", args=[measurement.uid]))
    values |= {name.replace("__", "-"): text for name, text in changes.items()}
    return client.post(reverse("measurement_preview", args=[measurement.uid]), values, headers=HTMX)


@pytest.mark.django_db
def test_it_follows_the_typing(logged_in: Client, measurement: Measurement) -> None:
    good = preview(logged_in, measurement).content.decode()
    assert "grade-stop" not in good
    narrow = html.unescape(preview(logged_in, measurement, nozzle__bore="30").content.decode())
    assert "grade-stop" in narrow
    assert "30\u00a0mm" in narrow
    lower = preview(logged_in, measurement, nozzle__face_elevation="9.6").content.decode()
    assert lower[lower.index("<svg") : lower.index("</svg>")] != good[good.index("<svg") : good.index("</svg>")]


@pytest.mark.django_db
def test_it_writes_nothing(logged_in: Client, measurement: Measurement) -> None:
    values = form_values(logged_in, reverse("measurement_edit", args=[measurement.uid]))
    for changes in ({"measurement-urv": "9.2"}, {"measurement-urv": "abc"}, {"tag-letters": "??"}, {"nozzle-bore": ""}):
        with CaptureQueriesContext(connection) as queries:
            response = logged_in.post(
                reverse("measurement_preview", args=[measurement.uid]), values | changes, headers=HTMX
            )
        assert response.status_code == 200
        written = [query["sql"] for query in queries if WRITES.match(query["sql"])]
        assert written == []
    measurement.refresh_from_db()
    assert measurement.urv_typed == "9.5 m"


@pytest.mark.django_db
def test_an_unreadable_value_is_missing_not_its_last_value(logged_in: Client, measurement: Measurement) -> None:
    page = html.unescape(preview(logged_in, measurement, measurement__urv="12.x").content.decode())
    assert "not accepted as typed" in page
    assert "grade-missing" in page
    assert "URV 9.5" not in page
    slot = page[page.index('id="error-id_measurement-urv"') :]
    assert "12.x" in slot[: slot.index("</div>")]


@pytest.mark.django_db
def test_a_value_that_can_be_read_but_is_not_accepted_says_so(logged_in: Client, measurement: Measurement) -> None:
    page = html.unescape(preview(logged_in, measurement, nozzle__bore="-50 mm").content.decode())
    findings = page[page.index('id="findings"') : page.index("Key figures")]
    assert "Bore after lining (not accepted" in findings
    assert "not readable" not in page
    slot = page[page.index('id="error-id_nozzle-bore"') :]
    assert "“-50 mm”: this has to be more than zero." in slot[: slot.index("</div>")]


@pytest.mark.django_db
def test_sections_count_what_is_not_accepted_while_typing(logged_in: Client, measurement: Measurement) -> None:
    page = preview(logged_in, measurement, nozzle__bore="-50 mm", setpoint__0__level="x", setpoint__0__delay="y")
    sections = page.content.decode().partition('id="section-list"')[2].partition("</nav>")[0]
    counted = {
        re.findall(r'href="#(\w+)"', item)[0]: re.sub(r"<[^>]+>", "", item.partition('class="faults">')[2]).strip()
        for item in re.findall(r"<li>.*?</li>", sections, re.DOTALL)
        if "faults" in item
    }
    assert counted == {"connection": "one not accepted", "setpoints": "2 not accepted"}


@pytest.mark.django_db
def test_a_finding_begins_with_the_name_of_its_check(logged_in: Client, measurement: Measurement) -> None:
    page = html.unescape(preview(logged_in, measurement, nozzle__bore="").content.decode())
    findings = page[page.index('id="findings"') : page.index("Key figures")]
    lines = re.findall(r"</span>\s*<span>([^<]*)</span></summary>", findings)
    titles = [str(title) for title in TITLES.values()]
    assert len(lines) > 10
    for line in lines:
        assert any(line.startswith(f"{title}: ") for title in titles), line


@pytest.mark.django_db
def test_a_stale_page_gets_a_banner_only(logged_in: Client, measurement: Measurement) -> None:
    url = reverse("measurement_edit", args=[measurement.uid])
    values = form_values(logged_in, url)
    assert send(logged_in, url, measurement__urv="9.3").status_code == 302
    response = logged_in.post(reverse("measurement_preview", args=[measurement.uid]), values, headers=HTMX)
    assert response.status_code == 200
    assert "was saved by somebody else" in response.content.decode()
    fresh = preview(logged_in, measurement).content.decode()
    assert "was saved by somebody else" not in fresh


@pytest.mark.django_db
def test_it_swaps_results_and_error_slots_never_inputs(logged_in: Client, measurement: Measurement) -> None:
    page = preview(logged_in, measurement, sequence="7").content.decode()
    assert 'data-sequence="7"' in page
    assert not re.search(r"<(input|select|textarea|form)\b", page)
    outside = re.findall(r'<(\w+)[^>]*id="([^"]+)"[^>]*hx-swap-oob', page)
    assert {name for _tag, name in outside} >= {"section-list", "error-id_measurement-urv", "error-id_nozzle-bore"}


@pytest.mark.django_db
def test_an_ended_log_in_answers_401_without_a_redirect(client: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    address = reverse("measurement_preview", args=[measurement.uid])
    assert client.post(address, {}, headers=HTMX).status_code == 401
    assert client.post(address, {}).status_code == 302


@pytest.mark.django_db
def test_an_empty_post_is_answered(logged_in: Client, measurement: Measurement) -> None:
    assert logged_in.post(reverse("measurement_preview", args=[measurement.uid]), {}, headers=HTMX).status_code == 200


@pytest.mark.django_db
def test_the_number_of_queries_does_not_grow_with_rows(
    logged_in: Client, plant: Plant, django_assert_max_num_queries: Any
) -> None:
    measurement = make_measurement(
        plant, setpoints=tuple({"name": name, "level": f"{level} m"} for name, level in
                               (("HH", 9.4), ("H", 9), ("L", 2), ("LL", 1)))
    )  # fmt: skip
    values = form_values(logged_in, reverse("measurement_edit", args=[measurement.uid]))
    with django_assert_max_num_queries(16):
        logged_in.post(reverse("measurement_preview", args=[measurement.uid]), values, headers=HTMX)
