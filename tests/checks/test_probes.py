"""Probes: how far they see, how long they are, and what turns beside them."""

import math

import pytest

from instruments.checks.figures import key_figures
from instruments.checks.finding import Grade
from tests.checks.builders import ROPE, finding_of, make_case, make_chamber_case, make_class, make_rope_case
from tests.checks.variants import AGITATOR, with_agitator

HAIR_M = 1e-9

# --- range: reference point 12.85 m, LRV 0.65 m, end zone 250 mm below permittivity 10 and 150 mm from it up -----


@pytest.mark.parametrize("spare, grade", [(HAIR_M, Grade.PASS), (0.0, Grade.PASS), (-HAIR_M, Grade.STOP)])
def test_range_is_the_probe_less_its_end_zone(spare, grade):
    length = 12.85 - 0.65 + 0.25 + spare
    finding = finding_of(make_rope_case({"measurement.probe_length": f"{length!r} m"}), "reach.range")
    assert (finding.grade, finding.variant) == (grade, "ok_probe" if grade is Grade.PASS else "short_probe")
    assert finding.margin_si == pytest.approx(spare, abs=1e-12)
    assert finding.required_si == pytest.approx(12.2)
    assert finding.provisional
    if grade is Grade.STOP:
        cures = {one.code: one.value_si for one in finding.cures}
        assert cures == {"raise_level": pytest.approx(0.65 + HAIR_M), "longer_probe": pytest.approx(length + HAIR_M)}


@pytest.mark.parametrize("er, zone", [("9.999999", 0.25), ("10", 0.15), ("80", 0.15)])
def test_end_zone_by_permittivity(er, zone):
    finding = finding_of(make_rope_case({"medium.permittivity": er}), "reach.range")
    assert finding.available_si == pytest.approx(12.5 - zone)


def test_worst_case_is_not_the_normal_one():
    changes = {"medium.permittivity": "20", "case.Maximum.permittivity": "2", "measurement.probe_length": "12.4 m"}
    finding = finding_of(make_rope_case(changes), "reach.range")
    assert (finding.grade, finding.where.case) == (Grade.STOP, "Maximum")
    assert finding.margin_si == pytest.approx(-0.05)
    figure = next(one for one in key_figures(make_rope_case(changes)) if one.key == "effective_range")
    assert (figure.value_si, figure.params["case"]) == (pytest.approx(12.15), "Maximum")


@pytest.mark.parametrize(
    "changes, kwargs, missing, where",
    [
        ({"measurement.probe_length": None}, {}, "measurement.probe_length", ""),
        ({"medium.permittivity": None}, {}, "medium.permittivity", "Minimum, Normal, Maximum"),
        ({}, {"cases": ()}, "case.kind", ""),
        ({}, {"sensor_class": make_class(ROPE, end_zone_below=None)}, "sensor_class.end_zone_below", ""),
        ({}, {"sensor_class": make_class(ROPE, end_zone_permittivity=None)}, "sensor_class.end_zone_permittivity", ""),
    ],
)
def test_range_missing(changes, kwargs, missing, where):
    finding = finding_of(make_rope_case(changes, **kwargs), "reach.range")
    assert (finding.grade, finding.where.case) == (Grade.MISSING, where)
    assert missing in finding.missing


@pytest.mark.parametrize("er, grade", [("1.6", Grade.PASS), ("1.599999999", Grade.STOP)])
def test_least_permittivity_of_a_probe(er, grade):
    finding = finding_of(make_rope_case({"case.Maximum.permittivity": er}), "reach.permittivity")
    assert (finding.grade, finding.where.case) == (grade, "Maximum")


def test_the_weight_of_a_rope_passes_the_bore_or_not():
    assert finding_of(make_rope_case(), "mounting.opening").grade is Grade.PASS
    assert finding_of(make_rope_case({"nozzle.bore": "24.9 mm"}), "mounting.opening").grade is Grade.STOP


# --- length: longest 45 m; the bottom under the nozzle lies at 0.2 m, 12.65 m away --------------------------------


@pytest.mark.parametrize("length, grade", [(12.65, Grade.PASS), (12.65 + HAIR_M, Grade.STOP)])
def test_probe_ends_above_the_bottom(length, grade):
    finding = finding_of(make_rope_case({"measurement.probe_length": f"{length!r} m"}), "mounting.probe_length")
    assert (finding.grade, finding.variant) == (grade, "ok_bottom" if grade is Grade.PASS else "beyond_bottom")
    assert finding.margin_si == pytest.approx(12.65 - length, abs=1e-12)
    assert not finding.provisional
    if grade is Grade.STOP:
        assert [one.code for one in finding.cures] == ["shorter_probe"]
        assert finding.cures[0].value_si == pytest.approx(12.65)


@pytest.mark.parametrize("length, grade", [("6 m", Grade.PASS), ("6.000000001 m", Grade.STOP)])
def test_longest_probe_of_the_class(length, grade):
    finding = finding_of(make_chamber_case({"measurement.probe_length": length}), "mounting.probe_length")
    assert (finding.grade, finding.variant) == (grade, "ok_class" if grade is Grade.PASS else "beyond_class")
    assert finding.provisional


@pytest.mark.parametrize(
    "changes, kwargs, missing",
    [
        ({"measurement.probe_length": None}, {}, "measurement.probe_length"),
        ({"nozzle.radius": None}, {}, "nozzle.radius"),
        ({}, {"sensor_class": make_class(ROPE, probe_length_max=None)}, "sensor_class.probe_length_max"),
        ({}, {"sensor_class": None}, "measurement.sensor_class"),
    ],
)
def test_length_missing(changes, kwargs, missing):
    finding = finding_of(make_rope_case(changes, **kwargs), "mounting.probe_length")
    assert (finding.grade, finding.missing) == (Grade.MISSING, (missing,))


def test_a_probe_too_long_for_the_class_is_told_though_the_bottom_is_not_known():
    changes = {"measurement.probe_length": "46 m", "nozzle.radius": None}
    assert finding_of(make_rope_case(changes), "mounting.probe_length").variant == "beyond_class"


# --- agitator: swept diameter 1.2 m, from 1 m to 3 m, axis at radius 1 m and bearing 90°; rope at radius 1 m ------


def bearing_apart(distance_m: float) -> str:
    """The rope's bearing at which both axes, at radius 1 m, are so far apart (chord of a circle, Euclid III)."""
    return f"{90 + math.degrees(2 * math.asin(distance_m / 2))!r} °"


@pytest.mark.parametrize("gap, grade", [(1e-6, Grade.PASS), (-1e-6, Grade.STOP), (-0.6, Grade.STOP)])
def test_beside_the_swept_circle(gap, grade):
    finding = finding_of(with_agitator(bearing_apart(0.6 + gap)), "reach.agitator")
    assert finding.grade is grade
    assert finding.margin_si == pytest.approx(gap, abs=1e-9)


@pytest.mark.parametrize("gap, grade", [(HAIR_M, Grade.PASS), (0.0, Grade.PASS), (-HAIR_M, Grade.STOP)])
def test_a_probe_that_ends_above_it(gap, grade):
    length = f"{12.85 - 3 - gap!r} m"
    finding = finding_of(with_agitator(changes={"measurement.probe_length": length}), "reach.agitator")
    assert finding.grade is grade
    assert finding.margin_si == pytest.approx(gap, abs=1e-12)


def test_an_agitator_above_the_sensor():
    above = {**AGITATOR, "elevation_low": "12.85 m", "elevation_high": "14 m"}
    assert finding_of(with_agitator(internals=[above]), "reach.agitator").grade is Grade.PASS


def test_in_the_middle_no_bearing_is_needed():
    middle = {**AGITATOR, "radius": "0 m", "bearing": ""}
    assert finding_of(make_rope_case(internals=[middle]), "reach.agitator").margin_si == pytest.approx(1 - 0.6)
    wide = {**middle, "width": "2.2 m"}
    finding = finding_of(make_rope_case(internals=[wide]), "reach.agitator")
    assert (finding.grade, finding.margin_si) == (Grade.STOP, pytest.approx(-0.1))


def test_far_radii_decide_without_bearings():
    far = {**AGITATOR, "radius": "2.5 m", "bearing": ""}
    assert finding_of(make_rope_case(internals=[far]), "reach.agitator").margin_si == pytest.approx(1.5 - 0.6)
    near = finding_of(make_rope_case(internals=[{**far, "radius": "1.5 m"}]), "reach.agitator")
    assert near.missing == ("nozzle.bearing", "internal.bearing")


@pytest.mark.parametrize("stem", ["radius", "bearing", "elevation_high", "elevation_low", "width"])
def test_a_dimension_that_could_cure_is_missing(stem):
    finding = finding_of(with_agitator(internals=[{**AGITATOR, stem: ""}]), "reach.agitator")
    assert (finding.grade, finding.missing) == (Grade.MISSING, (f"internal.{stem}",))


def test_a_dimension_that_cannot_matter_is_not_asked_for():
    clear = with_agitator("270°", internals=[{**AGITATOR, "elevation_low": "", "elevation_high": ""}])
    assert finding_of(clear, "reach.agitator").grade is Grade.PASS


def test_the_worst_of_two_agitators():
    other = {**AGITATOR, "name": "A-2", "bearing": "0°"}
    finding = finding_of(with_agitator("0°", internals=[AGITATOR, other]), "reach.agitator")
    assert (finding.grade, finding.params["name"]) == (Grade.STOP, "A-2")


def test_nothing_to_collide_with():
    ladder = {**AGITATOR, "kind": "ladder"}
    assert finding_of(with_agitator(internals=[ladder]), "reach.agitator").variant == "none"
    assert finding_of(make_case(internals=[AGITATOR]), "reach.agitator").variant == "no_probe"
    no_class = finding_of(make_case(internals=[AGITATOR], sensor_class=None), "reach.agitator")
    assert no_class.missing == ("measurement.sensor_class",)
