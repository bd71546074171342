"""Values that are entered but cannot be: what needs them says so, and does not call them missing."""

import pytest

from instruments.checks.figures import key_figures
from instruments.checks.finding import Grade
from instruments.checks.registry import run_checks
from instruments.wording import describe, describe_figure
from tests.checks.builders import (
    GOOD_TAPS,
    UNITS,
    finding_of,
    make_case,
    make_chamber_case,
    make_class,
    make_legs_case,
    make_seals_case,
)

SPAN = "Lower range value LRV (0 %); Upper range value URV (100 %)"
CURVED = {"vessel.top": "hemisphere"}
TURNED = {"upper": GOOD_TAPS["lower"], "lower": GOOD_TAPS["upper"]}


@pytest.mark.parametrize(
    "case, code, sentence",
    [
        (make_case({"nozzle.radius": "7 m"}), "reach.bottom", "until this is put right: Radius from the axis."),
        (make_case({**CURVED, "nozzle.radius": "7 m"}), "reach.range",
         "until this is put right: Radius from the axis."),
        (make_case({"nozzle.face_elevation": "12.9 m"}), "reach.dead_zone_urv",
         "for URV until this is put right: Elevation of the face; Projection from the roof."),
        (make_case({"vessel.bottom": "flat"}), "mounting.nozzle_position",
         "until this is put right: Depth of the lower or left end."),
        (make_legs_case({"measurement.urv": "0.5 m"}), "reach.accuracy", f"until this is put right: {SPAN}."),
        (make_legs_case({"measurement.urv": "0.5 m"}), "process.dp_density", f"until this is put right: {SPAN}."),
        (make_legs_case({"measurement.urv": "5.6 m"}), "process.dp_span",
         "until this is put right: Upper range value URV (100 %); Elevation of the face."),
        (make_legs_case(taps=TURNED), "process.dp_limits",
         "until this is put right: Lower range value LRV (0 %); Elevation of the face; Upper range value URV (100 %)."),
        (make_legs_case({"medium.density": "-915 kg/m³"}), "process.dp_span", "until this is put right: Density."),
        (make_case({"medium.permittivity": "0.9"}), "reach.range",
         "until this is put right: Relative permittivity εr (operating case: Minimum, Normal, Maximum)."),
        (make_case(sensor_class=make_class(range_max="0 m")), "reach.range",
         "until this is put right: Range (sensor class)."),
        (make_case({"measurement.urv": "1e300 m"}), "signal.span_order",
         "until this is put right: Upper range value URV (100 %)."),
        (make_case({"measurement.urv": "1e300 m", "measurement.lrv": None}), "signal.span_order",
         "without: Lower range value LRV (0 %); and until this is put right: Upper range value URV (100 %)."),
    ],
)  # fmt: skip
def test_what_is_entered_is_to_be_put_right(case, code, sentence):
    finding = finding_of(case, code)
    described = describe(finding, UNITS, case.unreadable)
    assert finding.grade is Grade.MISSING
    assert described.sentence == f"Cannot be decided {sentence}"
    assert set(finding.contradictory) <= set(finding.missing)
    assert described.contradictory
    assert not set(described.contradictory) & set(described.missing)


def test_of_a_setpoint():
    case = make_case({"measurement.urv": "0.5 m"}, setpoints=[("H", "11 m")])
    described = describe(finding_of(case, "setpoints.inside_span"), UNITS)
    assert described.sentence == f"Cannot be decided for H until this is put right: {SPAN}."


def test_what_is_not_entered_is_still_called_missing():
    described = describe(finding_of(make_case({"nozzle.radius": None}), "reach.bottom"), UNITS)
    assert described.sentence == "Cannot be decided without: Radius from the axis."
    assert (described.missing, described.contradictory) == (("Radius from the axis",), ())


def test_figures_say_so_too():
    figures = {one.key: one for one in key_figures(make_case({"measurement.urv": "0.5 m"}))}
    described = describe_figure(figures["setpoint_percent"], UNITS)
    assert (described.text, described.note) == ("", f"until this is put right: {SPAN}")
    shape = {one.key: one for one in key_figures(make_case({"vessel.bottom": "flat"}))}
    assert (
        describe_figure(shape["volume_total"], UNITS).note == "until this is put right: Depth of the lower or left end"
    )
    both = {one.key: one for one in key_figures(make_case({"vessel.bottom": "flat", "measurement.urv": None}))}
    assert (
        describe_figure(both["volume_urv"], UNITS).note
        == "needs Upper range value URV (100 %); Depth of the lower or left end"
    )
    reach = {one.key: one for one in key_figures(make_case({"medium.permittivity": "0.9"}))}["effective_range"]
    assert describe_figure(reach, UNITS).note == "until this is put right: Relative permittivity εr"


@pytest.mark.parametrize("make", [make_case, make_legs_case, make_seals_case, make_chamber_case])
@pytest.mark.parametrize(
    "key", ["measurement.urv", "nozzle.radius", "vessel.diameter", "medium.density", "vessel.datum"]
)
def test_an_empty_field_never_contradicts(make, key):
    for finding in run_checks(make({key: None})):
        assert key not in finding.contradictory


@pytest.mark.parametrize(
    "key, code",
    [
        ("measurement.adapter_length", "reach.dead_zone_urv"),
        ("vessel.overflow_level", "reach.dead_zone_overflow"),
        ("measurement.accuracy", "reach.accuracy"),
    ],
)
def test_a_slip_of_the_exponent_does_not_count_as_empty(key, code):
    finding = finding_of(make_case({key: "1e300 m"}), code)
    assert (finding.grade, finding.contradictory) == (Grade.MISSING, (key,))
