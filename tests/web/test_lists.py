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
from project.accounts.models import Role, User
from project.quantities import Quantity
from project.tables import Column, _cell
from tests.factories import make_measurement, make_medium, make_nozzle, make_plant, make_tag, make_unit, make_vessel
from vessels.models import Nozzle, Plant

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


def test_search_looks_in_tag_service_vessel_and_sensor_class(logged_in: Client, index: str) -> None:
    assert tags_on(logged_in.get(index, {"q": "lt-2"})) == ["LT-2"]
    assert tags_on(logged_in.get(index, {"q": "gauge"})) == ["LG-9"]
    assert tags_on(logged_in.get(index, {"q": "duty 3x"})) == ["LT-3"]
    assert tags_on(logged_in.get(index, {"q": "encapsulated lens"})) == ["LT-1", "LT-2", "LT-3"]
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


def marks_on(page: Any) -> list[str]:
    return re.findall(r'/nozzles/[0-9a-f-]+/">([^<]+)</a>', page.content.decode())


def test_nozzles_count_as_people_do(logged_in: Client, plant: Plant) -> None:
    vessel = make_vessel(plant)
    for mark in ("N10", "N2", "N1", "M1", "N1A", "n3"):
        make_nozzle(vessel, mark=mark)
    in_order = ["M1", "N1", "N1A", "N2", "n3", "N10"]
    url = reverse("nozzle_list", args=[plant.uid])
    assert marks_on(logged_in.get(url)) == in_order
    assert marks_on(logged_in.get(url, {"sort": "-mark"})) == in_order[::-1]
    assert marks_on(logged_in.get(url, {"q": "n1"})) == ["N1", "N1A", "N10"]
    assert marks_on(logged_in.get(reverse("vessel_view", args=[vessel.uid]))) == in_order


def test_natural_order_holds_over_pages(logged_in: Client, plant: Plant) -> None:
    vessel = make_vessel(plant)
    Nozzle.objects.bulk_create(Nozzle(plant=plant, vessel=vessel, mark=f"N{number}") for number in range(1, 121))
    url = reverse("nozzle_list", args=[plant.uid])
    pages = [marks_on(logged_in.get(url, {"page": str(number)})) for number in (1, 2, 3)]
    assert [mark for page in pages for mark in page] == [f"N{number}" for number in range(1, 121)]


def cells_on(page: Any) -> list[list[str]]:
    rows = re.findall(r"<tr>(<td.*?)</tr>", page.content.decode(), re.DOTALL)
    cells = [re.findall(r"<td.*?</td>", row, re.DOTALL) for row in rows]
    return [[re.sub(r"<[^>]+>", "", cell).strip() for cell in row] for row in cells]


def test_drums_and_boxes_have_a_length_in_the_list_of_vessels(logged_in: Client, plant: Plant) -> None:
    make_vessel(plant, number="T-1")
    drum = {"body": "horizontal_cylinder", "diameter": "2 m", "cylinder_height": "", "cylinder_length": "6.5 m"}
    box = {"body": "rectangular", "diameter": "", "cylinder_height": "3 m", "box_length": "120 in", "box_width": "2 m"}
    make_vessel(plant, number="D-1", **drum)
    make_vessel(plant, number="X-1", **box)
    url = reverse("vessel_list", args=[plant.uid])
    heights_and_lengths = {row[0]: (row[4], row[5]) for row in cells_on(logged_in.get(url))}
    assert heights_and_lengths == {"T-1": ("10", ""), "D-1": ("", "6.5"), "X-1": ("3", "3.048")}
    assert [row[0] for row in cells_on(logged_in.get(url, {"sort": "length"}))] == ["X-1", "D-1", "T-1"]
    assert [row[0] for row in cells_on(logged_in.get(url, {"sort": "-length"}))] == ["D-1", "X-1", "T-1"]


def test_every_cell_is_in_the_unit_of_its_header(logged_in: Client, plant: Plant) -> None:
    """Whatever unit was typed: 41 ft 6 in is 41.5 ft, and 12.6492 m, because 1 in = 25.4 mm exactly (NIST SP 811)."""
    make_vessel(plant, number="T-1", design_pressure_max="60 mbar(g)", diameter="41 ft 6 in")
    plant_us = make_plant("US", unit_set="us", members={User.objects.get(): (Role.ORIGINATOR,)})
    make_vessel(plant_us, number="T-2", diameter="41 ft 6 in", design_pressure_max="5 psi(g)")
    page = logged_in.get(reverse("vessel_list", args=[plant.uid]))
    assert (cells_on(page)[0][3], cells_on(page)[0][6]) == ("12.649", "0.06")
    assert "mbar" not in page.content.decode()
    assert cells_on(logged_in.get(reverse("vessel_list", args=[plant_us.uid])))[0][3] == "41.5"


def test_a_time_in_a_table_is_in_the_headers_unit_too(plant: Plant) -> None:
    """Elsewhere times are shown as typed, with their unit; a cell has none of its own."""
    column = Column("delay", "Delay", lambda row: Quantity("1.5 min", 90.0), kind="time")
    assert (_cell(column, None, plant.units).text, plant.units.unit("time")) == ("90", "s")


def test_vessel_page_queries_do_not_grow(logged_in: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    vessel = measurement.vessel
    assert vessel is not None
    url = reverse("vessel_view", args=[vessel.uid])
    with CaptureQueriesContext(connection) as few:
        logged_in.get(url)
    for _ in range(5):
        make_measurement(plant, nozzle=make_nozzle(vessel))
    with CaptureQueriesContext(connection) as many:
        logged_in.get(url)
    assert len(many) == len(few)
    assert len(many) <= 24
