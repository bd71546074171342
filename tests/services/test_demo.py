"""The demonstration plant: loads once, through the services; its faults are found, and its vessels make sense."""

import math
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.db import transaction
from django.test import Client
from django.urls import reverse

from instruments.checks.registry import run_checks
from instruments.field_defs import ARRANGEMENTS
from instruments.models import Measurement, SensorClassRow, Tag
from instruments.services.cases import build_case, with_all_inputs
from instruments.services.demo import DEMO_FOLDER, load_demo, read_demo
from project.accounts.demo import DEMO_LOGINS
from project.accounts.models import Membership, Role
from project.models import Action
from vessels.capacity.problems import ImpossibleTable
from vessels.capacity_report import capacity_of
from vessels.contents import contents_of, saved_table, shape_of_vessel
from vessels.field_defs import BODIES, INTERNAL_KINDS, MEDIUM_KINDS
from vessels.models import Internal, Medium, Nozzle, Plant, StrappingTable, Vessel
from vessels.shapes.shape import Shape

pytestmark = pytest.mark.django_db
EXPECTED = tomllib.loads((DEMO_FOLDER.parent / "expected_grades.toml").read_text(encoding="utf-8"))["measurements"]
FAULTS = {tag: row["findings"] for tag, row in EXPECTED.items() if "fault" in row}
ENDS = {
    "flat", "cone", "truncated_cone", "wedge_hopper", "pyramid_hopper", "hemisphere", "ellipsoidal_2_1", "ellipsoidal",
    "asme_fd", "din_28011", "din_28013", "cap",
}  # fmt: skip
# A nozzle in a curved wall is placed to a centimetre, or on the chord that its row of nozzles has.
NEAR_THE_WALL_M = 0.1


@pytest.fixture(scope="module")
def demo(django_db_setup: None, django_db_blocker: Any) -> Iterator[Plant]:
    """Loaded once for all tests of this file, inside a transaction that is rolled back after them."""
    with django_db_blocker.unblock(), transaction.atomic():
        plant = load_demo()
        assert plant is not None
        yield plant
        transaction.set_rollback(True)


def test_the_faults_are_found_and_nothing_else(demo: Plant) -> None:
    worst = {}
    for measurement in with_all_inputs(Measurement.objects.filter(plant=demo)):
        tag, findings = measurement.tag.text, run_checks(build_case(measurement))
        found = {(one.code, one.grade.value) for one in findings}
        expected = set(FAULTS.get(tag, {}).items())
        assert expected <= found, f"{tag}: {expected - found} not found"
        stops = {code for code, grade in found if grade == "stop"}
        assert stops <= {code for code, _grade in expected}, f"{tag}: {stops}"
        worst[tag] = measurement.state.worst_grade
        assert not measurement.state.dirty, tag
    assert worst == {tag: row["worst"] for tag, row in EXPECTED.items()}
    assert len(FAULTS) >= 10
    assert set(worst.values()) == {"stop", "missing", "caution", "pass"}


def kept(rows: Any, stem: str) -> set[str]:
    return set(rows.values_list(stem, flat=True))


def test_its_size_and_its_variety(demo: Plant) -> None:
    measurements = Measurement.objects.filter(plant=demo)
    assert (Vessel.objects.count(), measurements.count()) == (26, 51)
    assert Tag.objects.filter(measurement=None).count() == 5
    assert kept(Vessel.objects, "body") == {body for body, _label in BODIES}
    assert kept(Medium.objects, "kind") == {kind for kind, _label in MEDIUM_KINDS}
    assert kept(Internal.objects, "kind") == {kind for kind, _label in INTERNAL_KINDS}
    assert kept(measurements, "arrangement") == {arrangement for arrangement, _label in ARRANGEMENTS}
    used = kept(measurements.exclude(sensor_class=None), "sensor_class__key")
    assert used <= kept(SensorClassRow.objects.for_plant(demo), "key")
    assert {"radar_free", "guided_wave", "ultrasonic", "differential_pressure"} <= {
        SensorClassRow.objects.get(key=key, plant=None, current=True).technology for key in used
    }
    assert len(used) >= 9
    assert all(2 <= vessel.operating_cases.count() <= 4 for vessel in Vessel.objects.all())
    assert sum(bool(one.details.get("holds")) for one in measurements) == 2


def test_it_is_marked_invented(demo: Plant, client: Client) -> None:
    assert demo.invented
    client.force_login(Membership.objects.get(plant=demo, role=Role.READER).user)
    assert b"Invented demonstration plant" in client.get(reverse("tag_list", args=[demo.uid])).content


def test_one_log_in_for_each_role(demo: Plant, client: Client) -> None:
    assert [role for _name, _password, role in DEMO_LOGINS] == [str(role.label) for role in Role]
    for name, password, _role in DEMO_LOGINS:
        page = client.post(reverse("log_in"), {"username": name, "password": password})
        assert page.status_code == 302
        client.logout()


def test_a_second_load_changes_nothing(demo: Plant, capsys: Any) -> None:
    before = Action.objects.count(), list(Measurement.objects.values())
    assert load_demo() is None
    call_command("load_demo")
    assert "nothing changed" in capsys.readouterr().out
    assert (Action.objects.count(), list(Measurement.objects.values())) == before


def test_it_went_through_the_services(demo: Plant) -> None:
    record = Measurement.history.latest()
    assert (record.history_action.route, record.history_action.user.username) == ("demo", "originator")
    assert len(set(Measurement.objects.values_list("documents__number", flat=True))) == 51


# --- its vessels ----------------------------------------------------------------------------------------------


def shape_and_datum(vessel: Vessel) -> tuple[Shape, float]:
    known = shape_of_vessel(vessel)
    assert known.shape is not None, (vessel, known)
    assert known.datum_m is not None, vessel
    return known.shape, known.datum_m


def place_of(row: Nozzle | Internal) -> tuple[float, float | None]:
    radius_m, bearing_rad = row.quantity("radius").si, row.quantity("bearing").si
    assert radius_m is not None, row
    return radius_m, bearing_rad


def named(number: str) -> Vessel:
    return Vessel.objects.get(number=number)


def test_the_ends_are_of_many_kinds(demo: Plant) -> None:
    vessels = list(Vessel.objects.all())
    assert {vessel.text_of(side) for vessel in vessels for side in ("bottom", "top")} >= ENDS
    inward = [vessel.number for vessel in vessels if vessel.text_of("bottom_direction") == "inward"]
    tilted = [vessel.number for vessel in vessels if vessel.quantity("tilt").si]
    assert (inward, tilted) == (["T-6002"], ["D-5006"])
    real = [one for one in vessels if one.body == "horizontal_cylinder"]
    assert real
    assert not [one.number for one in real if "flat" in (one.bottom, one.top)]


def test_every_nozzle_and_internal_stands_inside(demo: Plant) -> None:
    for vessel in Vessel.objects.all():
        shape, datum_m = shape_and_datum(vessel)
        for nozzle in vessel.nozzles.all():
            radius_m, bearing_rad = place_of(nozzle)
            roof_m = shape.roof_elevation_m(radius_m, bearing_rad)  # raises outside the vessel
            if nozzle.quantity("inclination").si is None:
                assert nozzle.face_elevation_si is None or nozzle.face_elevation_si + datum_m >= roof_m, nozzle
                continue
            assert nozzle.quantity("inclination").si == pytest.approx(math.pi / 2)
            level_m = nozzle.quantity("face_elevation").si
            assert level_m is not None
            assert shape.wall_distance_m(level_m + datum_m, radius_m, bearing_rad) < NEAR_THE_WALL_M, nozzle
        for internal in vessel.internals.all():
            place = place_of(internal)
            low, high = internal.elevation_low_si, internal.elevation_high_si
            assert low is not None
            assert high is not None
            floor_m, roof_m = shape.bottom_elevation_m(*place), shape.roof_elevation_m(*place)
            assert floor_m - 1e-9 <= low + datum_m < high + datum_m <= roof_m + 1e-9, (vessel, internal)


def test_its_own_levels_are_inside_and_in_order(demo: Plant) -> None:
    for vessel in Vessel.objects.all():
        shape, datum_m = shape_and_datum(vessel)
        stems = ("outlet_elevation", "overflow_level", "critical_level")
        known = [one.si for one in map(vessel.quantity, stems) if one.si is not None]
        assert known == sorted(known), vessel
        assert all(0 <= level + datum_m <= shape.height_m for level in known), vessel


def test_a_solid_has_its_angles_and_its_vessel_a_feed_and_a_draw_off_point(demo: Plant) -> None:
    for medium in Medium.objects.filter(kind="solid"):
        repose, drawdown = medium.quantity("angle_of_repose").si, medium.quantity("angle_of_drawdown").si
        assert repose is not None, medium
        assert drawdown is not None, medium
        assert 0 < repose < drawdown < math.pi / 2, medium
    silos = Vessel.objects.filter(operating_cases__medium__kind="solid").distinct()
    assert len(silos) == 6
    for vessel in silos:
        shape, _datum_m = shape_and_datum(vessel)
        for point in ("inlet", "outlet"):
            radius_m = vessel.quantity(f"{point}_radius").si
            assert radius_m is not None, vessel
            shape.bottom_elevation_m(radius_m, vessel.quantity(f"{point}_bearing").si)  # raises outside the vessel


def test_every_capacity_is_known_without_a_warning_of_its_rows(demo: Plant) -> None:
    stated = 0
    for vessel in Vessel.objects.all():
        holds = contents_of(vessel, vessel.internals.all(), saved_table(vessel), demo.units)
        assert holds.contents is not None, vessel
        assert not holds.warnings, (vessel, holds.warnings)
        stated += bool(capacity_of(vessel, holds, None, "").uncertainty)
    assert stated == 4


def test_drums_and_spheres_against_handbook_volumes(demo: Plant) -> None:
    """Volumes of ball, spheroid and ellipsoid heads: I. N. Bronstein et al., Handbook of Mathematics, solids."""
    bullet, drum = named("D-6003"), named("D-5002")
    assert bullet.shape().total_volume_m3 == pytest.approx(math.pi * 1.5**2 * 14 + math.pi / 6 * 3.0**3, rel=1e-9)
    # Two heads 2:1 make a spheroid with axes 1.4 m and 0.7 m; their straight flanges are 50 mm each.
    heads = math.pi / 6 * 1.4**2 * 0.7
    assert drum.shape().total_volume_m3 == pytest.approx(math.pi * 0.7**2 * 6.1 + heads, rel=1e-9)
    assert named("V-2003").shape().total_volume_m3 == pytest.approx(math.pi / 6 * 5.0**2 * 3.6, rel=1e-9)
    # A tilt moves the contents, it does not change how much there is: two heads of 1.6 m, shell of 4.05 m.
    tilted = math.pi * 0.8**2 * 4.05 + math.pi / 6 * 1.6**2 * 0.8
    assert named("D-5006").shape().total_volume_m3 == pytest.approx(tilted, rel=1e-6)


def test_the_strapping_table_is_a_survey_of_its_tank(demo: Plant) -> None:
    [row] = StrappingTable.objects.filter(plant=demo)
    vessel = row.vessel
    assert (vessel.number, vessel.text_of("capacity_from"), row.interpolation) == ("T-6002", "table", "linear")
    assert "(invented)" in row.source
    assert len(row.points.splitlines()) == len(row.si_points) > 20
    assert row.points.splitlines()[1] == "100 mm\t19.2 m³"
    assert row.si_points[1] == pytest.approx([0.1, 19.2])
    shape, datum_m = shape_and_datum(vessel)
    levels_m = [level + datum_m for level in row.levels_m]
    total_m3 = shape.total_volume_m3
    off = [volume - shape.volume_m3(level) for level, volume in zip(levels_m, row.volumes_m3, strict=True)]
    assert max(map(abs, off)) < 0.01 * total_m3
    # No copy of the shape: the courses are not quite as drawn, and the coil was in place.
    assert max(map(abs, off)) > 0.0005 * total_m3
    holds = contents_of(vessel, vessel.internals.all(), row, demo.units)
    assert holds.by_table
    assert holds.contents is not None
    assert holds.contents.volume_m3(levels_m[5]) == pytest.approx(row.volumes_m3[5])


# --- a plant of one vessel: what is wrong in a file is refused ---------------------------------------------------

SMALL = """
media = []
measurements = []
tags = []
[plant]
code = "SMALL"
name = "Small plant (invented)"
unit_set = "metric"
[[units]]
number = "1"
name = "One"
[[vessels]]
unit = "1"
number = "T-1"
body = "rectangular"
box_length = "2 m"
box_width = "2 m"
cylinder_height = "3 m"
nozzles = []
[vessels.strapping]
source = "Invented"
points = '''
POINTS
'''
"""


def small_plant(folder: Path, points: str) -> Path:
    (folder / "plant.toml").write_text(SMALL.replace("POINTS", points), encoding="utf-8")
    return folder


def test_bare_numbers_of_a_table_take_the_heading_s_units(db: None, tmp_path: Path) -> None:
    plant = load_demo(small_plant(tmp_path, "Level (mm)  Volume (L)\n0  0\n1500  6000\n3 m  12 m³"))
    row = StrappingTable.objects.get(plant=plant)
    assert row.points == "0 mm\t0 L\n1500 mm\t6000 L\n3 m\t12 m³"
    assert row.si_points == [[0.0, 0.0], [1.5, pytest.approx(6.0)], [3.0, 12.0]]
    assert row.interpolation == "linear"


def test_a_table_that_falls_is_refused_and_nothing_is_loaded(db: None, tmp_path: Path) -> None:
    folder = small_plant(tmp_path, "Level (mm)  Volume (L)\n0  0\n1500  6000\n2000  5000")
    with pytest.raises(ImpossibleTable, match="5"):
        load_demo(folder)
    assert not Plant.objects.filter(code=read_demo(folder)["plant"]["code"]).exists()
