"""The capacity page of a vessel: figures, tables, files, sheet, and what it says where something is missing."""

import csv
import io
import math
from typing import Any

import openpyxl  # type: ignore[import-untyped]
import pypdf
import pytest
from django.test import Client
from django.urls import reverse

from project.accounts.models import Role
from tests.factories import make_medium, make_nozzle, make_plant, make_user, make_vessel
from vessels.capacity_tables import rounded_up
from vessels.models import Vessel

pytestmark = pytest.mark.django_db


@pytest.fixture
def person(client: Client) -> Any:
    user = make_user()
    client.force_login(user)
    return user


@pytest.fixture
def tank(person: Any) -> Vessel:
    """4 m by 10 m: 125.66 m³, known by hand."""
    plant = make_plant(members={person: (Role.ORIGINATOR,)})
    return make_vessel(
        plant, overflow_level="9.5 m", outlet_elevation="200 mm", critical_level="9.8 m", dimension_uncertainty="0.2 %",
        level_uncertainty="3 mm",
    )  # fmt: skip


def page(client: Client, vessel: Vessel, **asked: str) -> str:
    response = client.get(reverse("capacity_view", args=[vessel.uid]), asked)
    assert response.status_code == 200
    return response.content.decode()


def test_figures_of_a_flat_bottomed_tank(client: Client, tank: Vessel) -> None:
    text = page(client, tank)
    area = math.pi * 4
    for value in (f"{area * 10:.2f}", f"{area * 9.5:.2f}", f"{area * 0.2:.4f}"[:5]):
        assert value in text
    assert "Between outlet and overflow" in text
    # 800 kg/m³ of the normal case.
    assert f"{area * 10 * 800:,.0f}".replace(",", "\u202f")[:3] in text
    assert "<svg" in text
    assert "plot-readings" in text


def test_the_csv_holds_every_row_at_the_step_asked_for(client: Client, tank: Vessel) -> None:
    address = reverse("capacity_file", args=[tank.uid, "table", "csv"])
    response = client.get(address, {"step": "1 m", "low": "2 m", "high": "5.5 m"})
    assert response["Content-Disposition"].startswith("attachment")
    rows = list(csv.reader(io.StringIO(response.content.decode("utf-8-sig"))))
    heading = next(number for number, row in enumerate(rows) if row and row[0].startswith("Level"))
    values = [[float(cell) for cell in row] for row in rows[heading + 1 :]]
    assert [row[0] for row in values] == [2, 3, 4, 5, 5.5]
    for level, volume, *_rest in values:
        assert volume == pytest.approx(math.pi * 4 * level, rel=1e-9)


def test_the_xlsx_is_typed_and_in_the_units_of_the_plant(client: Client, tank: Vessel) -> None:
    response = client.get(reverse("capacity_file", args=[tank.uid, "reduced", "xlsx"]), {"points": "5"})
    rows = list(openpyxl.load_workbook(io.BytesIO(response.content)).worksheets[0].iter_rows(values_only=True))
    assert rows[0] == ("Level from the datum (m)", "Volume (m³)")
    assert len(rows) == 6
    assert rows[-1][1] == pytest.approx(40 * math.pi)


def test_working_capacity_between_two_levels(client: Client, tank: Vessel) -> None:
    text = page(client, tank, work_low="1 m", work_high="9 m")
    assert f"{math.pi * 4 * 8:.2f}" in text
    assert "80\u00a0%" in text


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"step": "0 m"}, "more than zero"),
        ({"step": "0.1 mm"}, "rows"),
        ({"step": "abc"}, "abc"),
        ({"low": "-1 m"}, "Accepted is a level from"),
        ({"high": "12 m"}, "Accepted is a level from"),
        ({"low": "5 m", "high": "4 m"}, "above the lower one"),
        ({"points": "1"}, "2"),
        ({"points": "x"}, "whole number"),
        ({"work_low": "9 m", "work_high": "1 m"}, "above the lower one"),
    ],
)
def test_what_cannot_be_shown_is_said_and_the_usual_is_shown(
    client: Client, tank: Vessel, asked: dict[str, str], said: str
) -> None:
    text = page(client, tank, **asked)
    assert said in text
    assert "Capacity table" in text
    assert client.get(reverse("capacity_file", args=[tank.uid, "table", "csv"]), asked).status_code == 422


def test_a_vessel_without_dimensions_says_what_to_do(client: Client, person: Any) -> None:
    plant = make_plant(members={person: (Role.ORIGINATOR,)})
    bare = make_vessel(plant, diameter="", cylinder_height="")
    assert "There is no capacity yet" in page(client, bare)
    for name, more in (("capacity_file", ["table", "xlsx"]), ("capacity_sheet", [])):
        response = client.get(reverse(name, args=[bare.uid, *more]))
        assert response.status_code == 422
        assert "There is no capacity yet" in response.content.decode()


def test_an_impossible_dimension_is_named(client: Client, person: Any) -> None:
    plant = make_plant(members={person: (Role.ORIGINATOR,)})
    odd = make_vessel(plant, bottom="truncated_cone", bottom_depth="1 m", outlet_diameter="5 m")
    assert "Diameter of the outlet makes no vessel" in page(client, odd)


def test_the_sheet_is_one_page_with_figures_method_and_uncertainty(client: Client, tank: Vessel) -> None:
    response = client.get(reverse("capacity_sheet", args=[tank.uid]))
    assert response["Content-Type"] == "application/pdf"
    reader = pypdf.PdfReader(io.BytesIO(response.content))
    assert len(reader.pages) == 1
    text = reader.pages[0].extract_text()
    for said in (tank.number, "125.66", "Capacity table", "Uncertainty", "GUM", "not corrected for temperature"):
        assert said in text


def test_levels_count_from_the_datum(client: Client, person: Any) -> None:
    plant = make_plant(members={person: (Role.ORIGINATOR,)})
    cone = make_vessel(plant, bottom="cone", bottom_depth="600 mm", datum="bottom_tangent_line")
    response = client.get(reverse("capacity_file", args=[cone.uid, "table", "csv"]), {"step": "1 m"})
    rows = [row for row in csv.reader(io.StringIO(response.content.decode("utf-8-sig")))]
    heading = next(number for number, row in enumerate(rows) if row and row[0].startswith("Level"))
    first, second = rows[heading + 1], rows[heading + 2]
    assert (float(first[0]), float(first[1])) == (-0.6, 0.0)
    assert float(second[0]) == 0.0
    assert float(second[1]) == pytest.approx(math.pi * 4 * 0.6 / 3)


@pytest.mark.parametrize(("what", "ending"), [("other", "csv"), ("table", "exe")])
def test_no_other_file_is_offered(client: Client, tank: Vessel, what: str, ending: str) -> None:
    assert client.get(reverse("capacity_file", args=[tank.uid, what, ending])).status_code == 404


def silo(person: Any, **values: str) -> Vessel:
    """6 m by 12 m with bulk solids at an angle of repose of 35°."""
    plant = make_plant(members={person: (Role.ORIGINATOR,)})
    meal = make_medium(plant, name="Meal", kind="solid", angle_of_repose="35°", angle_of_drawdown="45°")
    return make_vessel(plant, medium=meal, **{"diameter": "6 m", "cylinder_height": "12 m", **values})


def test_a_heap_is_told_with_what_to_add_to_a_reading(client: Client, person: Any) -> None:
    """Source: mean of a cone over a circle, solid geometry: peak − 2/3·R·tan a. For R = 3 m and 35° that is −1.400 m in
    the middle, 0 at 2/3·R and +0.700 m at the wall; of a funnel at 45° +2 m, 0 and −1 m."""
    vessel = silo(person)
    make_nozzle(vessel, mark="N7", radius="2 m", face_elevation="12.3 m")
    text = page(client, vessel).replace("\u00a0", " ")
    for value in ("−1.4 m", "0.7 m", "2 m", "−1 m", "Nozzle N7", "2.101 m above the farthest wall"):
        assert value in text, value
    # Below a heap with its peak at the roof the mean level is 1.4 m lower: 10.6 of 12 m.
    assert "88.3 %" in text
    sheet = client.get(reverse("capacity_sheet", args=[vessel.uid]))
    printed = pypdf.PdfReader(io.BytesIO(sheet.content)).pages[0].extract_text()
    assert "below a heap" in printed.replace("\n", " ")


def test_solids_lack_what_they_lack(client: Client, person: Any) -> None:
    vessel = silo(person, inlet_radius="4 m")
    assert "stands outside the vessel" in page(client, vessel)
    case = vessel.operating_cases.select_related("medium").get()
    medium = case.medium
    assert medium is not None
    medium.details.pop("angle_of_repose")
    type(medium).objects.filter(pk=medium.pk).update(details=medium.details)
    assert "The angle of repose of Meal is missing." in page(client, vessel)


def test_a_heap_in_a_lying_vessel_is_not_computed(client: Client, person: Any) -> None:
    vessel = silo(person, body="horizontal_cylinder", cylinder_height="", cylinder_length="8 m")
    assert "for upright vessels only" in page(client, vessel)


def test_liquids_have_no_heap(client: Client, tank: Vessel) -> None:
    assert "Bulk solids" not in page(client, tank)


def test_levels_that_contradict_are_told(client: Client, person: Any) -> None:
    plant = make_plant(members={person: (Role.ORIGINATOR,)})
    odd = make_vessel(plant, overflow_level="1 m", outlet_elevation="1.5 m", critical_level="9 m")
    text = page(client, odd).replace("\u00a0", " ")
    assert "Overflow at 1 m lies not above Lowest outlet at 1.5 m." in text
    high = make_vessel(plant, datum="dip_plate", dip_plate_height="30 m")
    assert "outside the vessel, which is 10 m high" in page(client, high).replace("\u00a0", " ")


def test_an_interface_of_two_liquids_has_no_mass(client: Client, person: Any) -> None:
    plant = make_plant(members={person: (Role.ORIGINATOR,)})
    pair = make_medium(plant, name="Oil over water", kind="interface", density_upper="800 kg/m³")
    assert "Mass, full" not in page(client, make_vessel(plant, medium=pair))


def test_the_sheet_follows_what_was_asked_for(client: Client, tank: Vessel) -> None:
    address = reverse("capacity_sheet", args=[tank.uid])
    text = pypdf.PdfReader(io.BytesIO(client.get(address, {"low": "1 m", "high": "2 m", "step": "250 mm"}).content))
    printed = text.pages[0].extract_text()
    assert "1.2500" in printed
    assert "2.2500" not in printed
    assert client.get(address, {"step": "abc"}).status_code == 422


def test_at_most_is_never_less_than_it_is() -> None:
    assert rounded_up(0.02721) == pytest.approx(0.028)
    assert rounded_up(0.028) == pytest.approx(0.028)
    assert rounded_up(1234.0) == pytest.approx(1300)
    assert rounded_up(0.0) == 0.0


def test_limits_are_told_in_the_units_of_the_plant(client: Client, person: Any) -> None:
    plant = make_plant(members={person: (Role.ORIGINATOR,)}, unit_set="us")
    odd = make_vessel(plant, bottom="truncated_cone", bottom_depth="1 m", outlet_diameter="5 m")
    text = page(client, odd).replace("\u00a0", " ")
    assert "16.404 ft is given, accepted is less than the inside diameter, 13.123 ft" in text
