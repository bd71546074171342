"""Family "mounting": vessel, nozzle and antenna as bodies."""

import pytest

from instruments.checks.finding import Grade
from tests.checks.builders import ULTRASONIC, finding_of, make_case, make_class

FACE = {"nozzle.projection": None}


def test_shape_passes():
    finding = finding_of(make_case(), "mounting.vessel_shape")
    assert finding.grade is Grade.PASS
    volume, kind = finding.params["volume"]
    # Cylinder and cone: π r² (h + a/3), Euclid, Elements XII.10.
    assert (volume, kind) == (pytest.approx(3.141592653589793 * 9 * (12 + 0.6 / 3)), "volume")


@pytest.mark.parametrize(
    "changes, field",
    [
        ({"vessel.bottom": "flat"}, "vessel.bottom_depth"),
        ({"vessel.diameter": "-6 m"}, "vessel.diameter"),
        ({"vessel.cylinder_height": "0 m"}, "vessel.cylinder_height"),
        ({"vessel.bottom": "spiral"}, "vessel.bottom"),
    ],
)
def test_impossible_shape_is_a_stop_that_names_the_field(changes, field):
    finding = finding_of(make_case(changes), "mounting.vessel_shape")
    assert (finding.grade, finding.variant) == (Grade.STOP, "impossible")
    assert finding.params["field"] == field
    assert finding.params["accepted"]


def test_shape_missing():
    finding = finding_of(make_case({"vessel.diameter": None}), "mounting.vessel_shape")
    assert (finding.grade, finding.missing) == (Grade.MISSING, ("vessel.diameter",))
    assert finding_of(make_case(vessel=False), "mounting.vessel_shape").missing == ("measurement.vessel",)


@pytest.mark.parametrize(
    "face, grade", [("12.600000001 m", Grade.PASS), ("12.6 m", Grade.PASS), ("12.599999999 m", Grade.STOP)]
)
def test_face_against_the_roof(face, grade):
    finding = finding_of(make_case({**FACE, "nozzle.face_elevation": face}), "mounting.nozzle_face")
    assert (finding.grade, finding.place) == (grade, "nozzle")
    assert finding.margin_si == pytest.approx(float(face.split()[0]) - 12.6, abs=1e-12)


def test_face_below_the_roof_says_which_field_to_raise():
    low = finding_of(make_case({**FACE, "nozzle.face_elevation": "2 m"}), "mounting.nozzle_face")
    assert (low.cures[0].field, low.cures[0].value_si) == ("nozzle.face_elevation", pytest.approx(12.6))
    negative = finding_of(make_case({"nozzle.projection": "-10 mm"}), "mounting.nozzle_face")
    assert negative.grade is Grade.STOP
    assert (negative.cures[0].field, negative.cures[0].value_si) == ("nozzle.projection", 0.0)


def test_two_elevations_are_a_stop():
    finding = finding_of(make_case({"nozzle.face_elevation": "12.85 m"}), "mounting.nozzle_face")
    assert (finding.grade, finding.variant) == (Grade.STOP, "two_elevations")
    assert finding_of(make_case({"nozzle.face_elevation": "12.85 m"}), "reach.range").grade is Grade.MISSING


@pytest.mark.parametrize(
    "changes, missing",
    [
        ({"nozzle.projection": None}, "nozzle.face_elevation"),
        (
            {**FACE, "nozzle.face_elevation": "12.85 m", "vessel.cylinder_height": None},
            "vessel.cylinder_height",
        ),
    ],
)
def test_face_missing(changes, missing):
    finding = finding_of(make_case(changes), "mounting.nozzle_face")
    assert finding.grade is Grade.MISSING
    assert missing in finding.missing


@pytest.mark.parametrize(
    "radius, grade",
    [("2.96 m", Grade.PASS), ("2.960000001 m", Grade.STOP), ("0 m", Grade.PASS), ("4 m", Grade.STOP)],
)
def test_place_of_the_nozzle(radius, grade):
    finding = finding_of(make_case({"nozzle.radius": radius}), "mounting.nozzle_position")
    assert finding.grade is grade
    assert finding.margin_si == pytest.approx(2.96 - float(radius.split()[0]), abs=1e-12)
    if grade is Grade.STOP:
        assert finding.cures[0].value_si == pytest.approx(2.96)


@pytest.mark.parametrize("key", ["nozzle.radius", "nozzle.bore", "vessel.diameter"])
def test_place_missing(key):
    finding = finding_of(make_case({key: None}), "mounting.nozzle_position")
    assert (finding.grade, finding.missing) == (Grade.MISSING, (key,))


@pytest.mark.parametrize(
    "bore, grade, variant",
    [
        ("45.000001 mm", Grade.PASS, "ok"),
        ("45 mm", Grade.PASS, "ok"),
        ("44.999999 mm", Grade.CAUTION, "tight"),
        ("43 mm", Grade.CAUTION, "tight"),
        ("42.999999 mm", Grade.STOP, "narrow"),
        ("1 mm", Grade.STOP, "narrow"),
    ],
)
def test_opening(bore, grade, variant):
    finding = finding_of(make_case({"nozzle.bore": bore}), "mounting.opening")
    assert (finding.grade, finding.variant, finding.kind) == (grade, variant, "length_small")
    assert finding.margin_si == pytest.approx((float(bore.split()[0]) - 43) / 1000, abs=1e-12)
    assert ("Practice" in finding.source) is (variant == "tight")


def test_opening_cures():
    finding = finding_of(make_case({"nozzle.bore": "49 mm"}, sensor_class=ULTRASONIC), "mounting.opening")
    assert finding.grade is Grade.STOP
    cures = {cure.code: cure.value_si for cure in finding.cures}
    assert cures == {"wider_nozzle": pytest.approx(0.052), "other_class_antenna": pytest.approx(0.047)}


@pytest.mark.parametrize(
    "changes, kwargs, missing",
    [
        ({"nozzle.bore": None}, {}, "nozzle.bore"),
        ({}, {"sensor_class": None}, "measurement.sensor_class"),
        ({}, {"sensor_class": make_class(antenna_diameter=None)}, "sensor_class.antenna_diameter"),
        ({}, {"nozzle": False}, "measurement.nozzle"),
    ],
)
def test_opening_missing(changes, kwargs, missing):
    finding = finding_of(make_case(changes, **kwargs), "mounting.opening")
    assert (finding.grade, finding.missing) == (Grade.MISSING, (missing,))
