"""Where a beam has to point."""

import math

import pytest

from instruments.checks.aiming import aiming_angle_rad
from instruments.checks.finding import Grade
from tests.checks.builders import AIMED, finding_of, make_case, make_class, make_silo_case
from tests.checks.variants_mounting import domed

HAIR = 1e-9


@pytest.mark.parametrize(
    "aside_m, below_m, angle_deg", [(1.0, 10, 5.710593), (1.5, 12, 7.125016), (2, 20, 5.710593), (3, 15, 11.309932)]
)
def test_aiming_angles(aside_m, below_m, angle_deg):
    """Geometry, atan(e/H), to the seven digits of tables of natural tangents."""
    assert math.degrees(aiming_angle_rad(aside_m, below_m)) == pytest.approx(angle_deg, abs=1e-6)


@pytest.mark.parametrize("aside_m, below_m", [(-1, 10), (1, 0), (math.nan, 1), (1, math.inf)])
def test_what_cannot_be_aimed_at(aside_m, below_m):
    with pytest.raises(ValueError, match="accepted"):
        aiming_angle_rad(aside_m, below_m)


# --- over solids: the outlet is the apex at 0 m, the reference point 12.85 m above it ------------------------------


@pytest.mark.parametrize("spare, grade", [(HAIR, Grade.PASS), (-HAIR, Grade.CAUTION)])
def test_the_outlet_within_the_class_s_aim_by_a_hair(spare, grade):
    radius = 12.85 * math.tan(math.radians(10) - spare)
    finding = finding_of(make_silo_case({"nozzle.radius": f"{radius!r} m"}), "mounting.aiming")
    assert (finding.grade, finding.variant) == (grade, "ok" if grade is Grade.PASS else "beyond")
    assert finding.margin_si == pytest.approx(spare, abs=1e-13)


def test_the_outlet_off_the_middle():
    changes = {"vessel.outlet_radius": "1 m", "vessel.outlet_bearing": "270°", "nozzle.bearing": "90°"}
    finding = finding_of(make_silo_case(changes), "mounting.aiming")
    assert finding.required_si == pytest.approx(math.atan(3 / (12.85 - 0.2)))  # 3 m apart, the cone is 0.2 m up there
    assert finding.grade is Grade.CAUTION
    assert [one.code for one in finding.cures] == ["nearer_to_outlet", "other_class_aiming"]


@pytest.mark.parametrize(
    "changes, kwargs, missing",
    [
        ({"nozzle.radius": None}, {}, "nozzle.radius"),
        ({"vessel.outlet_radius": "1 m", "nozzle.bearing": "0°"}, {}, "vessel.outlet_bearing"),
        ({}, {"sensor_class": make_class(AIMED, aiming_angle=None)}, "sensor_class.aiming_angle"),
        ({}, {"cases": ()}, "case.kind"),
        ({"medium.kind": None}, {}, "case.medium"),
    ],
)
def test_aiming_missing(changes, kwargs, missing):
    finding = finding_of(make_silo_case(changes, **kwargs), "mounting.aiming")
    assert (finding.grade, missing in finding.missing) == (Grade.MISSING, True), finding


# --- over liquids -------------------------------------------------------------------------------------------


@pytest.mark.parametrize("tilt, grade", [("4 °", Grade.PASS), ("4.000001 °", Grade.STOP)])
def test_a_liquid_mirrors_a_tilted_beam_away(tilt, grade):
    """Law of reflection: a ray that meets a level mirror at τ leaves at τ on the other side."""
    finding = finding_of(make_case({"nozzle.inclination": tilt}), "mounting.tilt")
    assert (finding.grade, finding.where.case) == (grade, "Minimum")
    if grade is Grade.STOP:
        assert finding.margin_si == pytest.approx(-math.radians(1e-6), rel=1e-3)
        assert finding.cures[0].value_si == pytest.approx(math.radians(4))


def test_the_one_case_with_a_liquid_decides():
    media = {"m1": {"kind": "solid"}, "m2": {"kind": "liquid", "permittivity": "3"}}
    case = make_case({"nozzle.inclination": "6°", "case.Maximum.medium": "m2"}, media=media)
    finding = finding_of(case, "mounting.tilt")
    assert (finding.grade, finding.where.case) == (Grade.STOP, "Maximum")


@pytest.mark.parametrize(
    "kwargs, missing",
    [
        ({"sensor_class": make_class(beam_angle=None)}, "sensor_class.beam_angle"),
        ({"cases": ()}, "case.kind"),
        ({"media": {}}, "case.medium"),
        ({"unreadable": {"nozzle.inclination": "?"}}, "nozzle.inclination"),
    ],
)
def test_tilt_missing(kwargs, missing):
    finding = finding_of(make_case(**kwargs), "mounting.tilt")
    assert (finding.grade, missing in finding.missing) == (Grade.MISSING, True)


# --- the middle of a curved roof: practice keeps 0.3 m of 3 m ---------------------------------------------------


@pytest.mark.parametrize("radius, grade", [("0.3 m", Grade.PASS), ("0.299999999 m", Grade.CAUTION)])
def test_the_middle_of_a_dome(radius, grade):
    finding = finding_of(domed({"nozzle.radius": radius}), "mounting.centre")
    assert (finding.grade, finding.source) == (grade, "Practice, no source")


def test_the_middle_of_a_level_or_conical_roof_does_not_gather():
    assert finding_of(make_case({"nozzle.radius": "0 m"}), "mounting.centre").variant == "level_roof"
    cone = {"nozzle.radius": "0 m", "vessel.top": "cone", "vessel.top_depth": "0.5 m"}
    assert finding_of(make_case(cone), "mounting.centre").variant == "level_roof"


def test_centre_missing():
    assert finding_of(domed({"nozzle.radius": None}), "mounting.centre").missing == ("nozzle.radius",)
