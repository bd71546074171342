"""Bulk solids: what a heap or a funnel does to the reading, judged and as figures.

Check values: R = 3 m, 35°: mean − reading = tan a · (r − 2R/3) under a heap below the middle, the sign turned over a
funnel (volume of a cone; digits by hand).
"""

import math

import pytest

from instruments.checks.figures import key_figures
from instruments.checks.finding import Finding, Grade
from instruments.checks.frame import Frame
from instruments.checks.solids import has_upright_walls
from instruments.wording import describe, describe_figure
from tests.checks.builders import (
    GOOD_CASES,
    LEGS,
    SOLID_MEDIUM,
    UNITS,
    finding_of,
    make_case,
    make_silo_case,
)
from vessels.shapes.build import shape_from_values

CODE = "reach.heap"
PUBLISHED = [("0 m", -1.400415), ("1 m", -0.700208), ("2 m", 0.0), ("2.5 m", 0.350104), ("3 m", 0.700208)]
SPACE = "\u00a0"
TAN = math.tan(math.radians(35))
FLAT = {"vessel.bottom": "flat", "vessel.bottom_depth": None}
BALL = {**FLAT, "vessel.body": "sphere", "vessel.cylinder_height": None}


def found(case) -> Finding:
    return finding_of(case, CODE)


def figures_of(case):
    return {one.key: one for one in key_figures(case)}


def note_of(figure) -> str:
    return describe_figure(figure, UNITS).note.replace(SPACE, " ")


# --- the check ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("radius, correction", PUBLISHED)
def test_the_correction_that_is_judged(radius, correction):
    finding = found(make_silo_case({"nozzle.radius": radius}))
    assert finding.available_si == pytest.approx(correction, abs=5e-7)
    assert finding.grade is (Grade.PASS if radius == "2 m" else Grade.CAUTION)
    assert finding.margin_si == pytest.approx(0.005 - abs(correction), abs=5e-7)


@pytest.mark.parametrize("offset_m, grade", [(0.00999, Grade.PASS), (0.01001, Grade.CAUTION)])
@pytest.mark.parametrize("side", [-1, 1])
def test_by_a_hair(side, offset_m, grade):
    """Slope ½: 10 mm beside two thirds of the radius the reading is off by 5 mm, which is what is asked for."""
    half = f"{math.degrees(math.atan(0.5))!r} °"
    case = make_silo_case({"medium.angle_of_repose": half, "nozzle.radius": f"{2 + side * offset_m!r} m"})
    assert found(case).grade is grade


def test_it_says_where_the_correction_is_zero():
    finding = found(make_silo_case({"nozzle.radius": "0 m"}))
    described = describe(finding, UNITS)
    assert described.sentence.replace(SPACE, " ") == (
        "At the sensor's place the reading of a heap of 35° in the case “Minimum” needs a correction of −1.4 m, more "
        "than the ±5 mm asked for; it needs none at 2 m from the feed point."
    )
    assert described.cures[0].replace(SPACE, " ").startswith("Place the sensor 2 m in plan from the feed point")
    assert described.working[-1].replace(SPACE, " ") == (
        "Δz = tan(α) · (s_tip − s_mean) = tan(35°) · (0 m − 2 m) = −1.4 m"
    )
    assert finding.cures[0].value_si == pytest.approx(2.0, abs=1e-9)
    assert found(make_silo_case({"nozzle.radius": f"{finding.cures[0].value_si!r} m"})).grade is Grade.PASS
    assert finding.source.startswith("Solid geometry")
    assert not finding.provisional


def test_a_feed_point_that_nobody_entered_is_taken_in_the_middle_and_told():
    finding = found(make_silo_case({"nozzle.radius": "0 m", "vessel.inlet_radius": None}))
    assert finding.available_si == pytest.approx(-1.400415, abs=5e-7)
    sentence = describe(finding, UNITS).sentence.replace(SPACE, " ")
    assert "at a radius of 2 m, the feed point being taken in the middle" in sentence


@pytest.mark.parametrize("inlet, mean", [("1 m", 0.72183), ("2 m", 0.88246), ("3 m", 1.13177)])
def test_a_feed_point_beside_the_middle(inlet, mean):
    """Mean distance in radii, R = 3 m: integrals of geometric probability; 1.13177 is 32/(9π)."""
    case = make_silo_case({"vessel.inlet_radius": inlet, "nozzle.radius": "0 m"})
    assert found(case).available_si == pytest.approx(TAN * (float(inlet[0]) - 3 * mean), abs=2e-5)
    # A quarter turn apart, by Pythagoras.
    turned = make_silo_case(
        {"vessel.inlet_radius": inlet, "vessel.inlet_bearing": "90°", "nozzle.radius": "2 m", "nozzle.bearing": "180°"}
    )
    assert found(turned).available_si == pytest.approx(TAN * (math.hypot(float(inlet[0]), 2) - 3 * mean), abs=2e-5)


def test_a_bearing_is_missing_only_where_it_counts():
    beside = {"vessel.inlet_radius": "1 m", "nozzle.radius": "2 m"}
    assert found(make_silo_case(beside)).missing == ("nozzle.bearing", "vessel.inlet_bearing")
    assert found(make_silo_case({**beside, "nozzle.bearing": "0°"})).missing == ("vessel.inlet_bearing",)
    for middle in ("vessel.inlet_radius", "nozzle.radius"):
        assert found(make_silo_case({**beside, middle: "0 m"})).grade is not Grade.MISSING


@pytest.mark.parametrize(
    "changes, kwargs, missing",
    [
        ({"medium.angle_of_repose": None}, {}, "medium.angle_of_repose"),
        ({"nozzle.radius": None}, {}, "nozzle.radius"),
        ({"vessel.diameter": None}, {}, "vessel.diameter"),
        ({}, {"nozzle": False}, "measurement.nozzle"),
        ({}, {"sensor_class": None}, "measurement.sensor_class"),
        ({}, {"cases": ()}, "case.kind"),
        ({"vessel.inlet_radius": None}, {"unreadable": {"vessel.inlet_radius": "?"}}, "vessel.inlet_radius"),
        ({}, {"unreadable": {"nozzle.inclination": "?"}}, "nozzle.inclination"),
    ],
)
def test_what_it_cannot_do_without(changes, kwargs, missing):
    finding = found(make_silo_case(changes, **kwargs))
    assert finding.grade is Grade.MISSING
    assert missing in finding.missing
    assert missing not in finding.contradictory


@pytest.mark.parametrize(
    "changes, wrong",
    [
        ({"medium.angle_of_repose": "90°"}, "medium.angle_of_repose"),
        ({"medium.angle_of_repose": "-1 °"}, "medium.angle_of_repose"),
        ({"vessel.inlet_radius": "3.001 m"}, "vessel.inlet_radius"),
        ({"nozzle.radius": "3.001 m"}, "nozzle.radius"),
    ],
)
def test_what_cannot_be(changes, wrong):
    assert found(make_silo_case(changes)).contradictory == (wrong,)


def test_what_lies_level_needs_no_correction():
    finding = found(make_silo_case({"nozzle.radius": "0 m", "medium.angle_of_repose": "0°"}))
    assert (finding.grade, finding.available_si) == (Grade.PASS, 0.0)


def test_the_worst_case_need_not_be_the_normal_one():
    steep = {**SOLID_MEDIUM, "name": "Meal, moist (invented)", "angle_of_repose": "45°"}
    cases = [dict(row) for row in GOOD_CASES]
    cases[2]["medium"] = "m2"
    case = make_silo_case({"nozzle.radius": "1.99 m"}, media={"m1": SOLID_MEDIUM, "m2": steep}, cases=cases)
    # 10 mm inside: 7 mm at 35°, 10 mm at 45°.
    finding = found(case)
    assert (finding.where.case, finding.grade) == ("Maximum", Grade.CAUTION)
    assert finding.available_si == pytest.approx(-0.01)


def test_a_case_with_a_liquid_does_not_hide_the_solid():
    water = {"name": "Wash water (invented)", "kind": "liquid", "density": "1000 kg/m³"}
    cases = [dict(row) for row in GOOD_CASES]
    cases[0]["medium"] = cases[1]["medium"] = "m2"
    case = make_silo_case({"nozzle.radius": "0 m"}, media={"m1": SOLID_MEDIUM, "m2": water}, cases=cases)
    assert (found(case).grade, found(case).where.case) == (Grade.CAUTION, "Maximum")
    # The key figures are those of the normal case, in which it is a liquid.
    assert "correction_heap" not in figures_of(case)


def test_a_case_without_medium_is_not_taken_for_a_liquid():
    finding = found(make_case({"case.Normal.medium": None}))
    assert (finding.grade, finding.missing, finding.where.case) == (Grade.MISSING, ("case.medium",), "Normal")


def test_it_never_stops():
    """That a reading should hold without a correction is common practice, no source."""
    for radius in ("0 m", "3 m"):
        assert found(make_silo_case({"nozzle.radius": radius, "medium.angle_of_repose": "80°"})).grade is Grade.CAUTION


# --- where it means something -------------------------------------------------------------------------------


def shape(body: str, **given: float):
    return shape_from_values(body=body, bottom="flat", top="flat", **given)


def test_upright_walls():
    assert has_upright_walls(shape("vertical_cylinder", diameter_m=6.0, cylinder_height_m=12.0))
    assert has_upright_walls(shape("rectangular", box_length_m=6.0, box_width_m=4.0, cylinder_height_m=12.0))
    assert has_upright_walls(shape("vertical_oval", box_length_m=6.0, box_width_m=4.0, cylinder_height_m=12.0))
    assert not has_upright_walls(shape("sphere", diameter_m=6.0))
    assert not has_upright_walls(shape("horizontal_cylinder", diameter_m=6.0, cylinder_length_m=9.0))
    assert not has_upright_walls(
        shape("vertical_frustum", diameter_m=6.0, upper_diameter_m=5.9, cylinder_height_m=12.0)
    )


def test_a_square_silo():
    """Mean distance from the middle of a square: 0.382598 of its side ((√2 + ln(1 + √2))/6)."""
    sides = {"vessel.diameter": None, "vessel.box_length": "6 m", "vessel.box_width": "6 m"}
    square = {**FLAT, **sides, "vessel.body": "rectangular", "nozzle.bearing": "30°", "nozzle.radius": "1 m"}
    case = make_silo_case(square)
    assert found(case).available_si == pytest.approx(TAN * (1 - 6 * 0.382598), abs=5e-6)
    assert figures_of(case)["correction_funnel"].value_si == pytest.approx(-found(case).available_si)


# --- key figures --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("radius, correction", PUBLISHED)
def test_corrections_as_figures(radius, correction):
    figures = figures_of(make_silo_case({"nozzle.radius": radius}))
    assert figures["correction_heap"].value_si == pytest.approx(correction, abs=5e-7)
    assert figures["correction_funnel"].value_si == pytest.approx(-correction, abs=5e-7)
    assert note_of(figures["correction_heap"]).startswith("case Normal")


def test_the_funnel_has_its_own_angle_and_place():
    own = {"nozzle.radius": "0 m", "medium.angle_of_drawdown": "45°", "vessel.outlet_radius": "3 m"}
    figures = figures_of(make_silo_case(own))
    assert figures["correction_heap"].value_si == pytest.approx(-1.400415, abs=5e-7)
    # From a point on the wall the mean distance is 32R/(9π), the middle is R away, and tan 45° = 1.
    assert figures["correction_funnel"].value_si == pytest.approx(3 * (32 / (9 * math.pi) - 1))
    wrong = figures_of(make_silo_case({**own, "medium.angle_of_drawdown": "90°"}))["correction_funnel"]
    assert wrong.contradictory == ("medium.angle_of_drawdown",)


def test_the_volume_error_of_a_peak_taken_for_the_level():
    """Wall at 5 m in a flat-bottomed silo, R = 3 m, 35°: the peak is at 7.100623 m, and 24.57 % too much is told."""
    case = make_silo_case({**FLAT, "nozzle.radius": "0 m", "measurement.urv": "7.100623 m"})
    figure = figures_of(case)["heap_volume_error"]
    true_m3 = math.pi * 9 * (5 + 3 * TAN / 3)
    assert figure.value_si / true_m3 == pytest.approx(0.2457, abs=5e-5)
    assert figure.value_si == pytest.approx(math.pi * 9 * 1.400415, rel=2e-5)
    working = figure.working
    assert working.inputs[0].value_si - working.inputs[1].value_si == pytest.approx(figure.value_si)
    assert working.source.startswith("Solid geometry")


def test_the_volume_error_in_a_hopper():
    """Peak at 0.6 m in the cone of 0.6 m and 3 m radius, slope 1: the heap meets the cone where 0.2·r = 0.6 − r, at
    r = 0.5 m; both cones together hold π·r²·0.6/3, the level hopper π·9·0.6/3 (volume of a cone)."""
    case = make_silo_case({"nozzle.radius": "0 m", "measurement.urv": "0.6 m", "medium.angle_of_repose": "45°"})
    expected = math.pi * 9 * 0.6 / 3 - math.pi * 0.25 * 0.6 / 3
    assert figures_of(case)["heap_volume_error"].value_si == pytest.approx(expected, rel=2e-5)


def test_the_volume_error_does_not_depend_on_what_is_called_zero():
    by_line = {"vessel.datum": "bottom_tangent_line", "measurement.lrv": "0 m", "measurement.urv": "8.4 m"}
    plain = make_silo_case({"nozzle.radius": "0 m", "measurement.urv": "9 m"})
    found_there = figures_of(make_silo_case({**by_line, "nozzle.radius": "0 m"}))["heap_volume_error"]
    assert found_there.value_si == pytest.approx(figures_of(plain)["heap_volume_error"].value_si)


def test_a_heap_that_does_not_fit_has_no_volume():
    """Sensor at the wall, URV 12 m: the peak would stand at 14.1 m, the roof is at 12.6 m."""
    figure = figures_of(make_silo_case({"nozzle.radius": "3 m"}))["heap_volume_error"]
    assert (figure.value_si, figure.missing, figure.notes) == (None, (), ("above_roof",))
    assert note_of(figure) == "case Normal; such a heap would stand above the roof"
    outside = figures_of(make_silo_case({"measurement.urv": "12.7 m"}))["heap_volume_error"]
    assert (outside.value_si, outside.notes) == (None, ("outside",))


@pytest.mark.parametrize(
    "changes, note",
    [
        # Foot of the heap at the hopper's edge, 0.6 m: peak 2.1 m higher. Peak at the roof, 12.6 m.
        ({"nozzle.radius": "0 m"}, "one cone from wall to wall only for readings from 2.701 m to 12.6 m"),
        ({"nozzle.radius": "3 m"}, "one cone from wall to wall only for readings from 0.6 m to 10.499 m"),
        ({"nozzle.radius": "0 m", "measurement.lrv": "2.71 m"}, ""),
        ({"vessel.cylinder_height": "2 m"}, "an estimate: at no reading one cone from wall to wall"),
    ],
)
def test_where_one_cone_does_not_cover_the_surface_the_figure_says_so(changes, note):
    shown = note_of(figures_of(make_silo_case(changes))["correction_heap"])
    assert note in shown
    assert (shown == "case Normal") == (note == "")


def test_no_figures_where_they_mean_nothing():
    for case in (
        make_case(),
        make_silo_case({"medium.angle_of_repose": None}),
        make_silo_case({"nozzle.inclination": "5°"}),
        make_silo_case(BALL),
        make_silo_case({"measurement.arrangement": "none"}),
        make_silo_case(sensor_class=LEGS),
        make_silo_case(cases=GOOD_CASES[2:]),
    ):
        assert not {"correction_heap", "correction_funnel", "heap_volume_error"} & set(figures_of(case))


def test_figures_name_what_they_lack():
    figures = figures_of(make_silo_case({"nozzle.radius": None, "measurement.urv": None}))
    assert figures["correction_heap"].missing == ("nozzle.radius",)
    assert set(figures["heap_volume_error"].missing) == {"nozzle.radius", "measurement.urv"}


def test_one_frame_serves_findings_and_figures():
    case = make_silo_case()
    assert key_figures(case, Frame(case)) == key_figures(case)
