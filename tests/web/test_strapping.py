"""The page of a strapping table: good pastes are kept as typed, bad ones are explained row by row, none is lost."""

import math
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from project.accounts.models import Role
from tests.factories import make_plant, make_user, make_vessel
from vessels.models import StrappingTable, Vessel

pytestmark = pytest.mark.django_db
AREA = math.pi * 4


@pytest.fixture
def tank(client: Client) -> Vessel:
    """4 m by 10 m, flat."""
    user = make_user()
    client.force_login(user)
    return make_vessel(make_plant(members={user: (Role.ORIGINATOR,)}))


def data(text: str, **more: str) -> dict[str, str]:
    return {
        "strapping-points": text, "strapping-interpolation": "linear", "strapping-source": "Survey 12",
        "strapping-tolerance": "1 %", "strapping-level_unit": "mm", "strapping-volume_unit": "m³",
        "strapping-order": "level_volume", "strapping-version": "1", **more,
    }  # fmt: skip


def post(client: Client, vessel: Vessel, text: str, **more: str) -> Any:
    return client.post(reverse("strapping_edit", args=[vessel.uid]), data(text, **more))


def good(rows: int = 11) -> str:
    return "\n".join(f"{1000 * row}\t{AREA * row:.6f}" for row in range(rows))


def test_a_paste_is_kept_as_typed_with_its_units(client: Client, tank: Vessel) -> None:
    assert post(client, tank, "Level\tVolume\n" + good()).status_code == 302
    table = StrappingTable.objects.get(vessel=tank)
    assert table.points.splitlines()[1] == f"1000 mm\t{AREA:.6f} m³"
    assert table.si_points[1] == [1.0, pytest.approx(AREA, abs=1e-6)]
    assert table.source == "Survey 12"
    page = client.get(reverse("strapping_edit", args=[tank.uid])).content.decode()
    assert f"1000 mm\t{AREA:.6f} m³" in page
    # What the page offers back is accepted unchanged.
    assert post(client, tank, table.points).status_code == 302
    table.refresh_from_db()
    assert table.version == 1


def test_units_of_the_heading_count_for_their_column(client: Client, tank: Vessel) -> None:
    text = "Level (cm);Volume (L)\n0;0\n500;62831.85\n1000;125663.7"
    assert post(client, tank, text).status_code == 302
    points = StrappingTable.objects.get().si_points
    assert points == [[0, 0], [5, pytest.approx(62.83185)], [10, pytest.approx(125.6637)]]


def _five_thousand() -> str:
    rows = [f"{2 * row}\t{AREA * 0.002 * row:.6f}" for row in range(5000)]
    rows[123] = "246\ttwelve"
    rows[4000] = "8000\t1.0"
    return "\n".join(rows)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("\n".join(f"{AREA * row:.6f}\t{1000 * row}" for row in range(11)), ["The columns look swapped"]),
        ("0\t0\n1000\ttwelve\n2000\t25.1", ["twelve", ">2<"]),
        ("0\t0\n1000\t12.5\n2000\t11\n3000\t37.6", [">3<", "11"]),
        (_five_thousand(), ["twelve", ">124<", ">4001<"]),
        ("0\t0\n1000\t12.5\n1000\t13\n2000\t25", [">3<"]),
        ("0\t0\n1000\t1,500\n2000\t3,000", ["1,500"]),
        ("0 0 0\n1 2 3", ["olumns"]),
        ("", ["has to be filled"]),
        ("0\t0", ["2"]),
        ("0\t0\n12000\t150", ["12"]),
    ],
)
def test_a_bad_paste_is_explained_by_row_and_nothing_is_lost(
    client: Client, tank: Vessel, text: str, said: list[str]
) -> None:
    response = post(client, tank, text)
    assert response.status_code == 422
    page = response.content.decode()
    for part in said:
        assert part in page or part == "has to be filled"
    assert not StrappingTable.objects.exists()
    # The text stands in the page as it was pasted.
    for line in text.splitlines()[:3]:
        assert line in page


def test_a_contradiction_to_the_shape_is_a_caution_that_can_be_saved(client: Client, tank: Vessel) -> None:
    text = "\n".join(f"{1000 * row}\t{12 * row}" for row in range(11))
    preview = client.post(reverse("strapping_preview", args=[tank.uid]), data(text)).content.decode()
    assert "Look at it:" in preview
    assert "<svg" in preview
    assert not StrappingTable.objects.exists()
    assert post(client, tank, text).status_code == 302


def test_the_table_counts_where_the_vessel_says_so(client: Client, tank: Vessel) -> None:
    text = "\n".join(f"{1000 * row}\t{12 * row}" for row in range(11))
    post(client, tank, text)
    page = client.get(reverse("capacity_view", args=[tank.uid])).content.decode()
    assert "125.66" in page
    tank.details["capacity_from"] = "table"
    Vessel.objects.filter(pk=tank.pk).update(details=tank.details)
    page = client.get(reverse("capacity_view", args=[tank.uid])).content.decode()
    assert "by the strapping table" in page
    assert "Strapping table of 11 rows, linear" in page


def test_a_table_that_is_to_count_but_is_not_there_is_told(client: Client, tank: Vessel) -> None:
    tank.details["capacity_from"] = "table"
    Vessel.objects.filter(pk=tank.pk).update(details=tank.details)
    assert "there is none yet" in client.get(reverse("capacity_view", args=[tank.uid])).content.decode()


def test_a_stale_save_shows_both_and_keeps_the_paste(client: Client, tank: Vessel) -> None:
    post(client, tank, good())
    post(client, tank, good(6), **{"strapping-source": "Second survey"})
    response = post(client, tank, good(9), **{"strapping-source": "Mine"})
    assert response.status_code == 409
    page = response.content.decode()
    assert "Second survey" in page
    assert "Mine" in page
    assert StrappingTable.objects.get().source == "Second survey"


def test_levels_of_the_table_count_from_the_datum(client: Client) -> None:
    user = make_user()
    client.force_login(user)
    plant = make_plant(members={user: (Role.ORIGINATOR,)})
    cone = make_vessel(plant, bottom="cone", bottom_depth="600 mm", datum="bottom_tangent_line")
    dead = AREA * 0.6 / 3
    text = "\n".join([f"-600\t0\n0\t{dead:.6f}", *(f"{1000 * row}\t{dead + AREA * row:.6f}" for row in range(1, 11))])
    assert post(client, cone, text).status_code == 302
    # 600 mm lower than the datum the same numbers reach below the vessel.
    low = "\n".join(line.replace("-600", "-900") for line in text.splitlines())
    assert post(client, cone, low, **{"strapping-version": "1"}).status_code == 422


def test_it_can_be_deleted(client: Client, tank: Vessel) -> None:
    post(client, tank, good())
    address = reverse("strapping_delete", args=[tank.uid])
    assert client.get(address).status_code == 200
    assert client.post(address, {"version": "1"}).status_code == 302
    assert not StrappingTable.objects.exists()
    assert client.get(address).status_code == 302


def test_history_keeps_every_version(client: Client, tank: Vessel) -> None:
    post(client, tank, good())
    post(client, tank, good(6))
    table = StrappingTable.objects.get()
    assert [len(record.si_points) for record in table.history.order_by("history_id")] == [11, 6]


def test_problems_tell_levels_from_the_datum(client: Client) -> None:
    user = make_user()
    client.force_login(user)
    cone = make_vessel(
        make_plant(members={user: (Role.ORIGINATOR,)}), bottom="cone", bottom_depth="1 m", datum="bottom_tangent_line"
    )
    page = post(client, cone, "-1500\t0\n0\t4.18879\n2000\t29.3").content.decode().replace("\u00a0", " ")
    assert "The level −1.5 m lies below the lowest inside point, which is at −1 m." in page
    page = post(client, cone, "-1000\t0\n0\t4.18879\n15000\t129").content.decode().replace("\u00a0", " ")
    assert "The level 15 m is above the vessel&#x27;s top, which is at 10 m." in page


def test_a_vessel_that_changed_under_its_table_says_so(client: Client, tank: Vessel) -> None:
    post(client, tank, good())
    tank.diameter_typed, tank.diameter_si = "5 m", 5.0
    Vessel.objects.filter(pk=tank.pk).update(diameter_typed="5 m", diameter_si=5.0)
    page = client.get(reverse("capacity_view", args=[tank.uid])).content.decode()
    assert "rows of the strapping table contradict" in page
    page = client.get(reverse("strapping_edit", args=[tank.uid])).content.decode()
    assert "11 rows read." in page
    assert "Look at it:" in page


def test_a_saved_table_is_shown_as_it_was_read(client: Client, tank: Vessel) -> None:
    post(client, tank, good())
    page = client.get(reverse("strapping_edit", args=[tank.uid])).content.decode()
    assert "11 rows read." in page
    assert "Nothing is wrong with it." in page
    assert "<svg" in page


def test_a_table_without_uncertainty_shows_none(client: Client, tank: Vessel) -> None:
    post(client, tank, good())
    tank.details |= {"capacity_from": "table", "level_uncertainty": {"typed": "3 mm", "si": 0.003}}
    Vessel.objects.filter(pk=tank.pk).update(details=tank.details)
    page = client.get(reverse("capacity_view", args=[tank.uid])).content.decode()
    assert "The uncertainty of the strapping table is not stated" in page
    assert "Expanded, k = 2" not in page
    post(client, tank, good(), **{"strapping-uncertainty": "0.5 %"})
    page = client.get(reverse("capacity_view", args=[tank.uid])).content.decode()
    assert "Expanded, k = 2" in page
    # At the top 0.5 % of 125.66 m³, with the reading's 3 mm of 12.566 m²: 2·√(0.6283² + 0.0377²) = 1.26 m³.
    assert "1.26\u00a0m³" in page


def test_as_many_rows_as_are_read_can_be_saved_again_and_again(client: Client, tank: Vessel) -> None:
    rows = 20_000
    text = "\n".join(f"{10000 * row / (rows - 1):.9f}\t{AREA * 10 * row / (rows - 1):.12f}" for row in range(rows))
    assert post(client, tank, text).status_code == 302
    saved = StrappingTable.objects.get()
    assert post(client, tank, saved.points, **{"strapping-interpolation": "monotone_cubic"}).status_code == 302
    saved.refresh_from_db()
    assert saved.interpolation == "monotone_cubic"
    assert len(saved.si_points) == rows


def test_a_copy_carries_the_table(client: Client, tank: Vessel) -> None:
    post(client, tank, good())
    copied = client.post(reverse("vessel_copy", args=[tank.uid]), {"vessel-number": "T-COPY"})
    assert copied.status_code == 302
    tables = StrappingTable.objects.values_list("si_points", flat=True)
    assert len(tables) == 2
    assert tables[0] == tables[1]
