"""Lists: searched, sorted and paged by the server; queries do not grow with rows."""

import re
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from instruments.columns import INDEX
from instruments.models import Tag
from tests.factories import make_measurement, make_medium, make_nozzle, make_tag, make_unit, make_vessel
from vessels.models import Plant

pytestmark = pytest.mark.django_db


def tags_on(page: Any) -> list[str]:
    return re.findall(r">(L[A-Z]+-\d+)</a>", page.content.decode())


@pytest.fixture
def index(plant: Plant) -> str:
    unit = make_unit(plant)
    vessel = make_vessel(plant, unit)
    for number, urv in (("3", "9 m"), ("1", "950 cm"), ("2", "8 m")):
        make_measurement(
            plant,
            nozzle=make_nozzle(vessel),
            tag=make_tag(plant, unit, number=number, service=f"Duty {number}x"),
            urv=urv,
        )
    make_tag(plant, unit, number="9", letters="LG", service="Gauge glass")
    return reverse("tag_list", args=[plant.uid])


def test_sorting_is_by_si_and_empty_values_come_last(logged_in: Client, index: str) -> None:
    assert tags_on(logged_in.get(index)) == ["LG-9", "LT-1", "LT-2", "LT-3"]
    assert tags_on(logged_in.get(index, {"sort": "urv"})) == ["LT-2", "LT-3", "LT-1", "LG-9"]
    assert tags_on(logged_in.get(index, {"sort": "-urv"})) == ["LT-1", "LT-3", "LT-2", "LG-9"]


@pytest.mark.parametrize("column", [column.key for column in INDEX.columns if column.sort])
def test_every_sortable_column_sorts(logged_in: Client, index: str, column: str) -> None:
    page = logged_in.get(index, {"sort": column})
    assert page.status_code == 200
    assert 'aria-sort="ascending"' in page.content.decode()


def test_search_looks_in_tag_service_and_vessel(logged_in: Client, index: str) -> None:
    assert tags_on(logged_in.get(index, {"q": "lt-2"})) == ["LT-2"]
    assert tags_on(logged_in.get(index, {"q": "gauge"})) == ["LG-9"]
    assert tags_on(logged_in.get(index, {"q": "duty 3x"})) == ["LT-3"]
    nothing = logged_in.get(index, {"q": "no such thing"}).content.decode()
    assert "Nothing matches." in nothing


def test_empty_differs_from_nothing_matching(logged_in: Client, plant: Plant) -> None:
    page = logged_in.get(reverse("tag_list", args=[plant.uid])).content.decode()
    assert "None yet. Add the tags of the level instruments." in page
    assert "Nothing matches" not in page


def test_filter_by_worst_finding_is_kept_while_paging_and_sorting(logged_in: Client, index: str) -> None:
    page = logged_in.get(index, {"grade": "pass", "sort": "service"})
    assert tags_on(page) == ["LT-1", "LT-3"]  # the setpoint of LT-2 lies above its span
    assert "grade=pass" in page.content.decode()
    assert tags_on(logged_in.get(index, {"grade": "stop"})) == ["LT-2"]
    assert tags_on(logged_in.get(index, {"grade": "caution"})) == []


def test_pages(logged_in: Client, plant: Plant) -> None:
    unit = make_unit(plant)
    Tag.objects.bulk_create(
        Tag(plant=plant, unit=unit, letters="LT", number=str(n), near_key=f"LT-{n}-", text=f"LT-{n:04d}")
        for n in range(1, 121)
    )
    url = reverse("tag_list", args=[plant.uid])
    first, last = logged_in.get(url), logged_in.get(url, {"page": "3"})
    assert "120 rows" in first.content.decode()
    assert "page 1 of 3" in first.content.decode()
    assert (len(tags_on(first)), len(tags_on(last))) == (50, 20)
    assert "Next page" not in last.content.decode()


@pytest.mark.parametrize(
    "name", ["tag_list", "vessel_list", "nozzle_list", "medium_list", "unit_list", "sensor_class_list"]
)
def test_queries_do_not_grow_with_rows(logged_in: Client, plant: Plant, name: str) -> None:
    url = reverse(name, args=[plant.uid])
    make_measurement(plant)
    with CaptureQueriesContext(connection) as few:
        logged_in.get(url)
    for number in range(4):
        make_unit(plant, f"8{number}")
        make_medium(plant)
        make_measurement(plant)
    with CaptureQueriesContext(connection) as many:
        logged_in.get(url)
    assert len(many) == len(few)
    assert len(many) <= 10


def test_vessel_page_queries_do_not_grow(logged_in: Client, plant: Plant, django_assert_max_num_queries: Any) -> None:
    measurement = make_measurement(plant)
    vessel = measurement.vessel
    assert vessel is not None
    for _ in range(5):
        make_nozzle(vessel)
    with django_assert_max_num_queries(20):
        logged_in.get(reverse("vessel_view", args=[vessel.uid]))
