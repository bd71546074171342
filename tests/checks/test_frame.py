"""The frame: elevations from the datum, and the media that hold in each operating case."""

import math
from dataclasses import replace

import pytest

from instruments.checks.case import Case
from instruments.checks.frame import NO_REFERENCE_POINT, Frame
from instruments.checks.support import Derived
from tests.checks.builders import ULTRASONIC, make_case, make_class, make_row


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


# --- bodies ---------------------------------------------------------------------------------------

NO_SIZES = dict.fromkeys(("vessel.diameter", "vessel.cylinder_height", "vessel.bottom_depth"))
DRUM = {**NO_SIZES, "vessel.body": "horizontal_cylinder", "vessel.bottom": "flat", "vessel.diameter": "2.4 m",
        "vessel.cylinder_length": "6 m", "nozzle.radius": "2.8 m", "nozzle.bearing": "90°"}  # fmt: skip
BOX = {**NO_SIZES, "vessel.body": "rectangular", "vessel.bottom": "flat", "vessel.box_length": "5 m",
       "vessel.box_width": "3 m", "vessel.cylinder_height": "2 m", "nozzle.bearing": "0°"}  # fmt: skip
SPHERE = {**NO_SIZES, "vessel.body": "sphere", "vessel.bottom": "flat", "vessel.diameter": "10 m",
          "nozzle.radius": "3 m"}  # fmt: skip
HOPPER = {"vessel.bottom": "truncated_cone", "vessel.outlet_diameter": "1 m"}
DOME = {"vessel.top": "hemisphere", "nozzle.radius": "1.8 m"}


@pytest.mark.parametrize(
    "body, roof, roof_on_axis, bottom_on_axis",
    [
        (DRUM, 2.4, 2.4, 0.0),
        (BOX, 2.0, 2.0, 0.0),
        (SPHERE, 10.0, 9.0, 1.0),
        (HOPPER, 12.6, 12.6, 0.6 * 0.5 / 2.5),
        (DOME, 15.6, 12.6 + 2.4, 0.6 * 1.8 / 3),
    ],
)
def test_every_body(body, roof, roof_on_axis, bottom_on_axis):
    frame = frame_of(body)
    assert frame.bottom.value == 0.0
    assert frame.roof.value == pytest.approx(roof)
    assert frame.roof_on_axis.value == pytest.approx(roof_on_axis)
    assert frame.bottom_on_axis.value == pytest.approx(bottom_on_axis)
    # The projection counts from the inside of the roof where the nozzle stands.
    assert frame.nozzle_face.value == pytest.approx(roof_on_axis + 0.25)


def test_the_bearing_counts_where_a_vessel_is_not_round():
    """A drum of 6 m by 2.4 m lies east and west by default: 1 m north of its middle its wall has risen."""
    assert frame_of({**DRUM, "nozzle.bearing": None}).bottom_on_axis.missing == ("nozzle.bearing",)
    assert frame_of({**DRUM, "nozzle.bearing": None, "nozzle.radius": "0 m"}).bottom_on_axis.value == 0.0
    aside = frame_of({**DRUM, "nozzle.bearing": "0°", "nozzle.radius": "1 m"}).bottom_on_axis
    assert aside.value == pytest.approx(1.2 - math.sqrt(1.2**2 - 1))
    beside = frame_of({**DRUM, "nozzle.bearing": "0°", "nozzle.radius": "2.8 m"}).bottom_on_axis
    assert beside.contradictory == ("nozzle.radius", "nozzle.bearing")
    turned = frame_of({**DRUM, "nozzle.bearing": "0°", "vessel.axis_bearing": "0°"}).bottom_on_axis
    assert turned.value == 0.0
    assert frame_of({**SPHERE, "nozzle.bearing": None}).bottom_on_axis.value == pytest.approx(1.0)


@pytest.mark.parametrize("body", [DRUM, BOX, SPHERE])
def test_without_a_bottom_tangent_line_the_lowest_inside_point_takes_its_place(body):
    frame = frame_of({**body, "vessel.datum": "bottom_tangent_line"})
    assert frame.datum_height.value == 0.0
    assert frame.roof.value == frame_of(body).roof.value
    assert frame_of({**body, "vessel.datum": "dip_plate", "vessel.dip_plate_height": "50 mm"}).bottom.value == -0.05


def test_a_curved_roof_needs_the_radius_of_the_nozzle_and_a_level_one_does_not():
    assert frame_of({**SPHERE, "nozzle.radius": None}).nozzle_face.missing == ("nozzle.radius",)
    assert frame_of({**SPHERE, "nozzle.radius": "5.1 m"}).roof_on_axis.missing == ("nozzle.radius",)
    assert frame_of({**DRUM, "nozzle.radius": None}).nozzle_face.value == pytest.approx(2.65)


@pytest.mark.parametrize(
    "body, missing",
    [
        ({**DRUM, "vessel.cylinder_length": None}, ("vessel.cylinder_length",)),
        ({**BOX, "vessel.box_width": None, "vessel.cylinder_height": None},
         ("vessel.box_width", "vessel.cylinder_height")),
        ({**SPHERE, "vessel.diameter": None}, ("vessel.diameter",)),
        ({**HOPPER, "vessel.outlet_diameter": None}, ("vessel.outlet_diameter",)),
    ],
)  # fmt: skip
def test_each_body_names_what_it_lacks(body, missing):
    assert frame_of(body).shape_missing == missing


def test_ends_are_asked_for_only_where_there_is_a_choice():
    assert frame_of({**SPHERE, "vessel.bottom": None, "vessel.top": None}).shape is not None


def test_a_dimension_of_another_body_is_a_problem():
    frame = frame_of({**DRUM, "vessel.cylinder_height": "12 m"})
    assert frame.shape_problem.field == "vessel.cylinder_height"
    assert "clear it" in frame.shape_problem.accepted


# --- arrangements ---------------------------------------------------------------------------------


def on_side(arrangement, upper="11 m", lower="0.5 m", **changes):
    case = make_case({"measurement.arrangement": arrangement, **changes}, nozzle=False)
    taps = (("upper", upper), ("lower", lower))
    rows = [make_row("nozzle", {"role": role, "face_elevation": text}) for role, text in taps if text is not None]
    return Frame(replace(case, connections=tuple(rows)))


def test_taps_have_the_elevation_of_their_faces():
    frame = on_side("two_taps")
    assert (frame.tap("upper").value, frame.tap("lower").value) == (11, 0.5)
    assert frame.tap("upper").fields == ("nozzle.face_elevation",)


def test_taps_that_are_not_there_or_have_no_elevation():
    assert on_side("two_taps", upper=None).tap("upper").missing == ("measurement.nozzle_upper",)
    assert on_side("two_taps", lower="").tap("lower").missing == ("nozzle.face_elevation",)


@pytest.mark.parametrize("arrangement", ["two_taps", "remote_seals", "none"])
def test_without_a_sensor_above_the_contents_there_is_no_reference_point(arrangement):
    frame = on_side(arrangement)
    assert not frame.has_reference_point
    assert frame.reference_point is NO_REFERENCE_POINT
    assert frame.reference_point.missing == frame.distance(Derived(1.0)).missing == ("measurement.arrangement",)


def test_the_reference_point_of_a_chamber_is_entered():
    frame = on_side("chamber", **{"measurement.reference_elevation": "11.6 m", "measurement.probe_length": "11.4 m"})
    assert frame.has_reference_point
    assert frame.reference_point.value == 11.6
    assert frame.distance(Derived(0.6)).value == pytest.approx(11)
    assert frame.probe_end.value == pytest.approx(0.2)
    assert on_side("chamber").reference_point.missing == ("measurement.reference_elevation",)


def test_the_end_of_a_probe_below_a_nozzle():
    assert frame_of({"measurement.probe_length": "12.5 m"}).probe_end.value == pytest.approx(0.35)
    assert frame_of().probe_end.missing == ("measurement.probe_length",)


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


# --- internals in the data ------------------------------------------------------------------------


def test_internals_go_to_data_and_back_and_leave_no_trace_where_there_are_none():
    case = make_case()
    assert "internals" not in case.to_data()
    full = replace(case, internals=(make_row("internal", {"kind": "ladder", "radius": "2 m"}, uid="i1"),))
    assert Case.from_data(full.to_data()) == full
    assert full.content_hash() != case.content_hash()
