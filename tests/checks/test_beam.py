"""What a beam meets: the nozzle's end, the walls, what stands in the vessel.

Of the good tank: reference point 12.85 m, antenna 60 mm below it, aperture 33 mm, beam angle 8°, nozzle at radius 1 m
with a bore of 80 mm, roof at 12.6 m; LRV 0.5 m, where the conical bottom (0.6 m deep, 6 m wide) has a radius of 2.5 m.
"""

import math

import pytest

from instruments.checks.finding import Grade
from instruments.physics.beam import drop_for_m, edge_angle_for_rad, edge_radius_m
from instruments.physics.radar import footprint_diameter_m
from tests.checks.builders import HORN, RADAR, finding_of, make_case, make_class, make_silo_case
from tests.checks.variants_mounting import LADDER, with_internal

HAIR_M = 1e-8
TAN = math.tan(math.radians(4))
EDGE_AT_LRV = 0.0165 + (12.79 - 0.5) * TAN


# --- the cone -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("angle_deg, at_10_m", [(17.488, 3.0760), (8.496, 1.4856), (6.558, 1.1458), (3.498, 0.6106)])
def test_footprints(angle_deg, at_10_m):
    """Geometry, 2·d·tan(b/2), by trigonometric tables; a point as aperture, angles rounded."""
    assert 2 * edge_radius_m(10, 0.0, math.radians(angle_deg / 2)) == pytest.approx(at_10_m, rel=1e-3)
    assert footprint_diameter_m(10, math.radians(angle_deg)) == pytest.approx(at_10_m, rel=1e-3)


def test_the_aperture_s_own_width_and_its_inverses():
    assert edge_radius_m(-1, 0.08, 0.1) == edge_radius_m(0, 0.08, 0.1) == 0.04
    radius_m = edge_radius_m(3, 0.08, 0.1)
    assert edge_angle_for_rad(radius_m, 3, 0.08) == pytest.approx(0.1)
    assert drop_for_m(radius_m, 0.08, 0.1) == pytest.approx(3)
    assert edge_angle_for_rad(0.03, 3, 0.08) is None
    assert drop_for_m(0.03, 0.08, 0.1) is None


@pytest.mark.parametrize("bad", [(math.nan, 0.1, 0.1), (1, -0.1, 0.1), (1, 0.1, math.pi / 2), (1, 0.1, -0.1)])
def test_what_is_no_cone(bad):
    with pytest.raises(ValueError, match="accepted"):
        edge_radius_m(*bad)


# --- the nozzle's end ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("spare, grade", [(HAIR_M, Grade.PASS), (-HAIR_M, Grade.CAUTION)])
def test_the_cone_clears_the_nozzle_by_a_hair(spare, grade):
    bore = 2 * (0.0165 + 0.19 * TAN + spare)
    finding = finding_of(make_case({"nozzle.bore": f"{bore!r} m"}), "mounting.nozzle_length")
    assert (finding.grade, finding.variant) == (grade, "ok" if grade is Grade.PASS else "met")
    assert finding.margin_si == pytest.approx(spare, abs=1e-12)
    assert finding.provisional
    if grade is Grade.CAUTION:
        cures = {one.code: one.value_si for one in finding.cures}
        assert cures["wider_nozzle"] == pytest.approx(bore + 2 * HAIR_M)
        assert cures["narrower_beam"] == pytest.approx(math.radians(8), rel=1e-5)
        cured = make_case({"nozzle.bore": f"{bore!r} m", "nozzle.projection": f"{cures['shorter_nozzle'] - 1e-9!r} m"})
        assert finding_of(cured, "mounting.nozzle_length").grade is Grade.PASS


@pytest.mark.parametrize("length, grade", [(0.4, Grade.PASS), (0.4 + HAIR_M, Grade.CAUTION)])
def test_a_nozzle_long_for_its_bore_is_practice(length, grade):
    case = make_case({"nozzle.projection": f"{length!r} m"}, sensor_class=make_class(beam_angle="4°"))
    finding = finding_of(case, "mounting.nozzle_length")
    assert (finding.grade, finding.variant) == (grade, "ok" if grade is Grade.PASS else "long")
    if grade is Grade.CAUTION:
        assert finding.source == "Practice, no source"
        assert finding.margin_si == pytest.approx(-HAIR_M, abs=1e-12)


def test_an_antenna_below_the_nozzle_s_end():
    finding = finding_of(make_case({"nozzle.projection": "50 mm"}), "mounting.nozzle_length")
    assert (finding.grade, finding.variant, finding.margin_si) == (Grade.PASS, "outside", pytest.approx(0.01))


@pytest.mark.parametrize(
    "changes, kwargs, missing",
    [
        ({"nozzle.bore": None}, {}, "nozzle.bore"),
        ({"nozzle.projection": None}, {}, "nozzle.face_elevation"),
        ({}, {"sensor_class": make_class(antenna_reach=None)}, "sensor_class.antenna_reach"),
        ({}, {"sensor_class": make_class(beam_angle=None)}, "sensor_class.beam_angle"),
        ({}, {"sensor_class": make_class(aperture_diameter=None)}, "sensor_class.aperture_diameter"),
        ({}, {"sensor_class": None}, "measurement.sensor_class"),
    ],
)
def test_nozzle_length_missing(changes, kwargs, missing):
    finding = finding_of(make_case(changes, **kwargs), "mounting.nozzle_length")
    assert (finding.grade, missing in finding.missing) == (Grade.MISSING, True)


# --- the wall -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("spare, grade", [(HAIR_M, Grade.PASS), (-HAIR_M, Grade.CAUTION)])
def test_the_cone_clears_the_wall_by_a_hair(spare, grade):
    radius = 2.5 - EDGE_AT_LRV - spare
    finding = finding_of(make_case({"nozzle.radius": f"{radius!r} m"}), "mounting.wall")
    assert finding.grade is grade
    assert finding.margin_si == pytest.approx(spare, abs=1e-11)
    assert finding.where.elevation_m == pytest.approx(0.5, abs=1e-5)
    if grade is Grade.CAUTION:
        assert finding.cures[0].value_si == pytest.approx(2.5 - EDGE_AT_LRV)


def test_where_the_wall_is_first_met_and_how_deep():
    """Upright wall 0.5 m away: 0.0165 + h · tan 4° = 0.5, by trigonometry."""
    finding = finding_of(make_case({"nozzle.radius": "2.5 m"}), "mounting.wall")
    first_m = 12.79 - (0.5 - 0.0165) / TAN
    assert finding.where.elevation_m == pytest.approx(first_m, abs=1e-6)
    assert finding.margin_si == pytest.approx(-EDGE_AT_LRV)  # at LRV the axis itself meets the cone
    assert finding.grade is Grade.CAUTION


def test_the_margin_of_the_plant_counts():
    case = make_case({"nozzle.radius": f"{2.5 - EDGE_AT_LRV - 0.05!r} m"})
    assert finding_of(case, "mounting.wall").grade is Grade.PASS
    asked = make_case({"nozzle.radius": f"{2.5 - EDGE_AT_LRV - 0.05!r} m", "plant.beam_margin": "51 mm"})
    assert finding_of(asked, "mounting.wall").margin_si == pytest.approx(-0.001)
    assert finding_of(asked, "mounting.wall").grade is Grade.CAUTION


def test_a_tilted_beam_may_lean_towards_the_wall():
    changes = {"nozzle.inclination": "3°", "nozzle.radius": "0.8 m"}
    finding = finding_of(make_case(changes), "mounting.wall")
    assert finding.required_si == pytest.approx(0.0165 + 12.29 * math.tan(math.radians(7)))


@pytest.mark.parametrize("body", ["sphere", "horizontal_cylinder"])
def test_a_curved_roof_beside_the_nozzle_is_no_wall(body):
    """Sphere and drum of 6 m: straight down from the top the wall is met only near the bottom, if at all."""
    sizes = {"vessel.body": body, "vessel.bottom": "flat", "vessel.top": "flat", "vessel.bottom_depth": None,
             "vessel.cylinder_height": None,
             "vessel.cylinder_length": "12 m" if body == "horizontal_cylinder" else None,
             "nozzle.bearing": "0°", "measurement.urv": "5 m", "measurement.lrv": "1 m"}  # fmt: skip
    case = make_case({**sizes, "nozzle.radius": "0.5 m"}, setpoints=())
    finding = finding_of(case, "mounting.wall")
    assert finding.grade is Grade.PASS, finding
    across = finding_of(make_case({**sizes, "nozzle.radius": "2.3 m"}, setpoints=()), "mounting.wall")
    assert across.grade is Grade.CAUTION
    assert across.where.elevation_m is not None
    assert across.where.elevation_m < 3


@pytest.mark.parametrize(
    "changes, missing",
    [
        ({"nozzle.radius": None}, "nozzle.radius"),
        ({"measurement.lrv": None}, "measurement.lrv"),
        ({"vessel.diameter": None}, "vessel.diameter"),
    ],
)
def test_wall_missing(changes, missing):
    finding = finding_of(make_case(changes, setpoints=()), "mounting.wall")
    assert (finding.grade, missing in finding.missing) == (Grade.MISSING, True)


def test_a_wider_beam_meets_what_a_narrow_one_clears():
    changes = {"nozzle.radius": "1.4 m"}
    assert finding_of(make_case(changes), "mounting.wall").grade is Grade.PASS
    assert finding_of(make_case(changes, sensor_class=HORN), "mounting.wall").grade is Grade.CAUTION


# --- internals: a ladder 0.4 m wide at radius 2.5 m, from 0.5 m to 12 m; the sensor at radius 1 m, bearing 90° -----


@pytest.mark.parametrize("spare, grade", [(HAIR_M, Grade.PASS), (-HAIR_M, Grade.CAUTION)])
def test_the_cone_clears_a_ladder_by_a_hair(spare, grade):
    radius = 1 + 0.2 + EDGE_AT_LRV + spare
    finding = finding_of(with_internal(row={"radius": f"{radius!r} m"}), "mounting.internals")
    assert finding.grade is grade
    assert finding.margin_si == pytest.approx(spare, abs=1e-11)
    assert finding.place == "internal-1"


def test_where_a_ladder_is_first_met():
    finding = finding_of(with_internal(row={"radius": "1.7 m"}), "mounting.internals")
    assert finding.where.elevation_m == pytest.approx(12.79 - (0.5 - 0.0165) / TAN)
    assert finding.margin_si == pytest.approx(0.5 - EDGE_AT_LRV)
    assert (finding.grade, finding.params["name"]) == (Grade.CAUTION, "L-1")


def test_a_short_ladder_high_up_stays_clear():
    row = {"radius": "1.7 m", "elevation_low": "6 m"}
    finding = finding_of(with_internal(row=row), "mounting.internals")
    assert (finding.grade, finding.margin_si) == (Grade.PASS, pytest.approx(0.5 - 0.0165 - 6.79 * TAN))


def test_the_bearing_decides_and_is_missing_only_where_it_does():
    behind = finding_of(with_internal(row={"radius": "1.5 m", "bearing": "270°"}), "mounting.internals")
    assert (behind.grade, behind.margin_si) == (Grade.PASS, pytest.approx(2.5 - 0.2 - EDGE_AT_LRV))
    unknown = finding_of(with_internal(row={"radius": "1.5 m", "bearing": ""}), "mounting.internals")
    assert (unknown.grade, unknown.missing) == (Grade.MISSING, ("internal.bearing",))
    assert finding_of(with_internal(row={"bearing": ""}), "mounting.internals").grade is Grade.PASS


@pytest.mark.parametrize("stem", ["radius", "width"])
def test_a_place_that_is_not_known_is_missing(stem):
    finding = finding_of(with_internal(row={stem: ""}), "mounting.internals")
    assert (finding.grade, finding.missing) == (Grade.MISSING, (f"internal.{stem}",))


def test_elevations_are_missing_only_where_the_cone_may_reach():
    none = {"elevation_low": "", "elevation_high": ""}
    assert finding_of(with_internal(row=none), "mounting.internals").grade is Grade.PASS
    near = finding_of(with_internal(row={**none, "radius": "1.7 m"}), "mounting.internals")
    assert near.missing == ("internal.elevation_low", "internal.elevation_high")


def test_the_worst_of_two_internals():
    case = make_case({"nozzle.bearing": "90°"}, internals=[LADDER, {**LADDER, "name": "L-2", "radius": "1.6 m"}])
    finding = finding_of(case, "mounting.internals")
    assert (finding.grade, finding.params["name"], finding.place) == (Grade.CAUTION, "L-2", "internal-2")


def test_an_agitator_in_the_beam_is_a_caution():
    agitator = {**LADDER, "kind": "agitator", "radius": "0 m", "width": "2.4 m", "elevation_high": "2 m"}
    finding = finding_of(make_case(internals=[agitator]), "mounting.internals")
    assert (finding.grade, finding.where.elevation_m) == (Grade.CAUTION, pytest.approx(2.0))


def test_an_aimed_beam_is_not_followed():
    case = make_silo_case({"measurement.aiming_flange": "Swivelling"}, internals=[LADDER])
    for code in ("mounting.wall", "mounting.internals"):
        assert finding_of(case, code).variant == "aimed"
    assert RADAR.technology == "radar_free"
