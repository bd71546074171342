"""The frame: elevations from the datum, and the media that hold in each operating case."""

import pytest

from instruments.checks.frame import Frame
from instruments.checks.support import Derived
from tests.checks.builders import ULTRASONIC, make_case, make_class


def frame_of(changes=None, **kwargs) -> Frame:
    return Frame(make_case(changes, **kwargs))


@pytest.mark.parametrize(
    "changes, bottom, roof",
    [
        ({}, 0.0, 12.6),
        ({"vessel.datum": "bottom_tangent_line"}, -0.6, 12.0),
        ({"vessel.datum": "dip_plate", "vessel.dip_plate_height": "150 mm"}, -0.15, 12.45),
        ({"vessel.datum": "dip_plate", "vessel.dip_plate_height": "0 mm"}, 0.0, 12.6),
        (
            {"vessel.datum": "bottom_tangent_line", "vessel.bottom": "flat", "vessel.bottom_depth": None},
            0.0,
            12.0,
        ),
    ],
)
def test_every_datum(changes, bottom, roof):
    frame = frame_of(changes)
    assert frame.bottom.value == pytest.approx(bottom)
    assert frame.roof.value == pytest.approx(roof)
    # From the roof the nozzle projects 250 mm whatever is called zero.
    assert frame.reference_point.value == pytest.approx(roof + 0.25)


def test_face_entered_is_the_other_way_to_say_the_same():
    by_face = frame_of({"nozzle.projection": None, "nozzle.face_elevation": "12.85 m"})
    assert by_face.reference_point.value == frame_of().reference_point.value


def test_face_entered_needs_no_shape():
    frame = frame_of({"nozzle.projection": None, "nozzle.face_elevation": "12.85 m", "vessel.diameter": None})
    assert frame.reference_point.value == 12.85
    assert frame.roof.missing == ("vessel.diameter",)


def test_projection_needs_the_shape():
    assert frame_of({"vessel.diameter": None}).reference_point.missing == ("vessel.diameter",)


def test_adapter_lifts_the_reference_point():
    assert frame_of({"measurement.adapter_length": "150 mm"}).reference_point.value == pytest.approx(13.0)


def test_an_adapter_that_is_not_readable_is_not_taken_for_none():
    frame = frame_of(unreadable={"measurement.adapter_length": "“12.” is not readable"})
    assert frame.reference_point.missing == ("measurement.adapter_length",)


def test_two_elevations_count_as_missing_even_where_they_agree():
    frame = frame_of({"nozzle.face_elevation": "12.85 m"})
    assert frame.has_two_elevations
    assert frame.reference_point.value is None
    assert frame.reference_point.missing == ("nozzle.face_elevation", "nozzle.projection")


@pytest.mark.parametrize("key", ["nozzle.face_elevation", "nozzle.projection"])
def test_an_unreadable_elevation_is_missing_though_the_other_is_there(key):
    assert frame_of(unreadable={key: "?"}).reference_point.missing == (key,)


def test_neither_elevation():
    assert frame_of({"nozzle.projection": None}).reference_point.missing == ("nozzle.face_elevation",)


def test_no_vessel_and_no_nozzle():
    assert frame_of(vessel=False).roof.missing == ("measurement.vessel",)
    assert frame_of(vessel=False).bottom.missing == ("measurement.vessel",)
    assert frame_of(nozzle=False).reference_point.missing == ("measurement.nozzle",)


@pytest.mark.parametrize(
    "changes, missing",
    [
        ({"vessel.cylinder_height": None}, ("vessel.cylinder_height",)),
        ({"vessel.diameter": None, "vessel.bottom_depth": None}, ("vessel.diameter", "vessel.bottom_depth")),
        ({"vessel.bottom": None}, ("vessel.bottom",)),
        ({"vessel.body": None, "vessel.top": None}, ("vessel.body", "vessel.top")),
    ],
)
def test_what_a_shape_lacks_is_named_at_once(changes, missing):
    frame = frame_of(changes)
    assert frame.shape is None
    assert frame.shape_missing == missing
    assert frame.shape_problem is None


def test_dimensions_that_make_no_body():
    frame = frame_of({"vessel.bottom": "flat"})
    assert frame.shape is None
    assert frame.shape_problem.field == "vessel.bottom_depth"
    assert frame.shape_missing == ("vessel.bottom_depth",)


def test_missing_datum_and_missing_dip_plate():
    assert frame_of({"vessel.datum": None}).roof.missing == ("vessel.datum",)
    assert frame_of({"vessel.datum": "dip_plate"}).roof.missing == ("vessel.dip_plate_height",)


def test_distance_is_signed():
    frame = frame_of()
    assert frame.distance(Derived(0.5)).value == pytest.approx(12.35)
    assert frame.distance(Derived(13.0)).value == pytest.approx(-0.15)


def test_dead_zone_from_the_tip_and_from_the_reference_point():
    assert frame_of().dead_zone_end.value == pytest.approx(12.85 - 0.06 - 0.1)
    assert frame_of(sensor_class=ULTRASONIC).dead_zone_end.value == pytest.approx(12.85 - 0.35)


@pytest.mark.parametrize("stem", ["dead_zone_upper", "dead_zone_origin", "antenna_reach"])
def test_dead_zone_needs_its_origin(stem):
    frame = frame_of(sensor_class=make_class(**{stem: None}))
    assert frame.dead_zone_end.missing == (f"sensor_class.{stem}",)
    assert frame.dead_zone_end.value is None


def test_bottom_on_the_axis_of_the_sensor():
    # Cone 0.6 m deep over a radius of 3 m: at 1 m from the axis the bottom is 0.2 m up.
    assert frame_of().bottom_on_axis.value == pytest.approx(0.2)
    assert frame_of({"vessel.datum": "bottom_tangent_line"}).bottom_on_axis.value == pytest.approx(-0.4)
    assert frame_of({"nozzle.radius": "0 m"}).bottom_on_axis.value == pytest.approx(0.0)
    assert frame_of({"nozzle.radius": "3.1 m"}).bottom_on_axis.missing == ("nozzle.radius",)
    assert frame_of({"nozzle.radius": None}).bottom_on_axis.missing == ("nozzle.radius",)


def test_a_working_carries_the_steps_before_it():
    working = frame_of().distance(Derived(0.5)).working
    assert working is not None
    assert [step.result_symbol for step in working.before] == ["z_roof", "z_face", "z_ref"]
    assert working.result_symbol == "d"


def test_a_slip_of_the_exponent_counts_as_missing():
    assert frame_of({"measurement.lrv": "1e200 m"}).entered("measurement.lrv").missing == ("measurement.lrv",)


# --- media ----------------------------------------------------------------------------------------


def test_an_operating_case_overrides_the_medium():
    frame = frame_of({"case.Maximum.permittivity": "2.2", "case.Maximum.density": "880 kg/m³"})
    by_name = {medium.name: medium for medium in frame.media}
    assert by_name["Maximum"].permittivity.value == 2.2
    assert by_name["Maximum"].permittivity.fields == ("case.permittivity",)
    assert by_name["Maximum"].density_kg_m3.value == 880
    assert by_name["Normal"].permittivity.value == 3


@pytest.mark.parametrize(
    "celsius, known",
    [("30 °C", True), ("30.001 °C", False), ("10 °C", True), ("9.999 °C", False), ("20 °C", True)],
)
def test_density_holds_within_ten_kelvin(celsius, known):
    frame = frame_of({"case.Normal.temperature": celsius})
    density = next(medium for medium in frame.media if medium.name == "Normal").density_kg_m3
    assert (density.value == 915) is known
    assert density.missing == (() if known else ("case.density",))


def test_density_without_a_stated_temperature_is_missing():
    frame = frame_of({"medium.density_temperature": None})
    assert {medium.density_kg_m3.missing for medium in frame.media} == {("medium.density_temperature",)}


def test_no_medium_in_a_case():
    frame = frame_of({"case.Normal.medium": None})
    normal = next(medium for medium in frame.media if medium.name == "Normal")
    assert normal.kind == ""
    assert normal.permittivity.missing == ("case.medium",)
    assert normal.density_kg_m3.missing == ("case.medium",)
