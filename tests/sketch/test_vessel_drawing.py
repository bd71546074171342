"""From the values of a vessel to what its elevation shows: outlines, dimensions, nozzles, tilts."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest

from tests.sketch.vessel_samples import DEGREE, nozzle, samples, values
from vessels.drawing.scenes import vessel_plan, vessel_scene_alone
from vessels.drawing.shells import side_offset
from vessels.drawing.values import VesselValues, read_internal, read_nozzle, read_vessel
from vessels.sketch.outline import parts, roof_at, walls
from vessels.sketch.scene import Scene, Shell

SAMPLES = samples()


def shell(name: str) -> Shell:
    found = vessel_scene_alone(SAMPLES[name]).shell
    assert found is not None
    return found


def dimensions(scene: Scene) -> dict[str, str]:
    return {one.name: one.value.replace("\u00a0", " ") for one in (*scene.dimensions, *scene.slants)}


# --- outlines ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [name for name in SAMPLES if name != "no-datum"])
def test_bottom_shell_and_roof_are_the_whole_outline(name: str) -> None:
    """Their lengths add up to that of the outline, and each begins where the one before ends."""
    one = shell(name)
    closed = (*one.outline, one.outline[0])
    whole = sum(math.dist(start, end) for start, end in pairwise(closed))
    lines = [line for group in parts(one).values() for line in group]
    length = sum(math.dist(a, b) for line in lines for a, b in pairwise(line))
    assert length == pytest.approx(whole, rel=1e-9)


def test_walls_of_a_concave_bottom_are_the_outer_ones() -> None:
    one = shell("concave-bottom")
    assert walls(one, 0.2) == pytest.approx((-2, 2), abs=0.01)
    assert one.bottom_tangent_m == 0
    (bottom,) = parts(one)["bottom"]
    assert max(elevation for _, elevation in bottom) == pytest.approx(1.0)  # 2:1 ellipse of 4 m


def test_a_tilted_drum_has_its_ends_at_different_heights() -> None:
    one = shell("drum-steep")
    # 30° down to the right, 6 m long, 2.4 m across: corners by hand.
    half, radius = 3 * math.cos(30 * DEGREE), 1.2
    assert one.left_m == pytest.approx(-half - radius * math.sin(30 * DEGREE))
    assert one.highest_m == pytest.approx(6 * math.sin(30 * DEGREE) + 2 * radius * math.cos(30 * DEGREE))
    assert one.axis is not None
    (x1, z1), (x2, z2) = one.axis
    assert math.atan2(z2 - z1, x2 - x1) == pytest.approx(-30 * DEGREE, abs=1e-9)
    assert math.dist((x1, z1), (x2, z2)) == pytest.approx(6)
    assert {place: len(lines) for place, lines in parts(one).items()} == {"bottom": 1, "shell": 2, "roof": 1}


def test_the_roof_in_the_plane_of_the_drawing() -> None:
    assert roof_at(shell("sphere"), 3.0) == pytest.approx(5 + 4, abs=0.02)  # 3-4-5 triangle
    assert roof_at(shell("sphere"), 7.0) is None


# --- dimensions -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "name, expected",
    [
        ("hopper-cone", {
            "Inside diameter": "Ø 4 m", "Height of the cylinder": "6 m", "Depth of the bottom": "2.6 m",
            "Height of the top end": "0.8 m", "Diameter of the outlet": "Ø 0.4 m",
        }),
        ("ellipsoidal-flanges", {
            "Inside diameter": "Ø 4 m", "Height of the cylinder": "6 m", "Depth of the bottom": "1 m",
            "Straight flange of the bottom": "0.3 m", "Height of the top end": "1 m",
            "Straight flange of the top end": "0.04 m",
        }),
        ("concave-both", {
            "Inside diameter": "Ø 4 m", "Height of the cylinder": "6 m",
            "Rise of the bottom into the vessel": "2 m", "Drop of the top end into the vessel": "0.9 m",
        }),
        ("frustum", {
            "Inside diameter at the lower end": "Ø 3 m", "Inside diameter at the upper end": "Ø 5 m",
            "Height of the cone-shaped body": "4 m",
        }),
        ("pyramid", {
            "Inside length and width": "4 m × 3 m", "Inside height": "3 m", "Depth of the hopper": "2 m",
            "Size of the outlet": "0.5 m × 0.4 m",
        }),
        ("wedge", {
            "Inside length and width": "5 m × 3 m", "Inside height": "3 m", "Depth of the hopper": "2 m",
            "Width of the outlet slot": "0.5 m",
        }),
        ("spheroid", {"Inside diameter": "Ø 8 m", "Height of the section": "5 m"}),
        ("drum-heads", {
            "Inside diameter": "Ø 2.4 m", "Length of the cylinder": "6 m", "Depth of the left end": "0.6 m",
            "Depth of the right end": "1.2 m",
        }),
        ("drum-concave", {
            "Inside diameter": "Ø 2.4 m", "Length of the cylinder": "6 m", "Depth of the left end": "0.6 m",
            "Depth of the right end": "0.8 m",
        }),
        ("drum-tilt", {
            "Inside diameter": "Ø 2.4 m", "Length of the cylinder": "6 m", "Depth of the left end": "0.6 m",
            "Depth of the right end": "0.3 m",
        }),
        ("oval-flat", {"Length of the cylinder": "6 m", "Height of the section": "1.6 m"}),
    ],
)  # fmt: skip
def test_each_body_and_end_is_dimensioned(name: str, expected: dict[str, str]) -> None:
    """Depths of ellipsoidal 2:1 ends are a quarter of the diameter, of a hemisphere half of it, by definition."""
    without_nozzles = replace(SAMPLES[name], nozzles=())
    assert dimensions(vessel_scene_alone(without_nozzles)) == expected


def test_depths_that_nobody_gave_are_worked_out() -> None:
    """Torispherical depths: D·(f − √((f−k)² − (½−k)²)), elementary geometry of two tangent arcs, by hand."""
    found = dimensions(vessel_scene_alone(replace(SAMPLES["torispherical"], nozzles=())))
    for name, crown, knuckle in (("Depth of the bottom", 1.0, 0.06), ("Height of the top end", 0.8, 0.06)):
        depth_m = 4 * (crown - math.sqrt((crown - knuckle) ** 2 - (0.5 - knuckle) ** 2))
        assert found[name] == f"{depth_m:.4g} m"


def test_dimension_lines_span_what_they_name() -> None:
    scene = vessel_scene_alone(SAMPLES["cone-flat"])
    spans = {one.name: (one.from_m, one.to_m) for one in scene.dimensions}
    assert spans["Depth of the bottom"] == (-1.5, 0)
    assert spans["Height of the cylinder"] == (0, 6)
    assert spans["Inside diameter"] == (-2, 2)
    tilted = vessel_scene_alone(SAMPLES["drum-tilt"])
    lengths = {one.name: math.dist(one.start, one.end) for one in tilted.slants}
    assert lengths["Length of the cylinder"] == pytest.approx(6)
    assert lengths["Inside diameter"] == pytest.approx(2.4)
    assert lengths["Depth of the left end"] == pytest.approx(0.6, abs=2e-3)  # on a polygon of 24 points a quarter


def test_a_tilt_is_told_with_its_lower_end() -> None:
    left = vessel_scene_alone(SAMPLES["drum-tilt"])
    assert left.tilt is not None
    assert left.tilt.angle_rad == pytest.approx(8 * DEGREE)
    assert "Tilted by 8°; the left end is the lower one." in left.notes
    assert "Tilt 8°" in left.description
    assert "Tilted by 30°; the right end is the lower one." in vessel_scene_alone(SAMPLES["drum-steep"]).notes
    assert vessel_scene_alone(SAMPLES["drum-flat"]).tilt is None


# --- places -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "bearing_deg, axis_deg, expected", [(90, 90, 2), (270, 90, -2), (0, 90, 0), (60, 0, 1), (30, 30, 2), (None, 30, 2)]
)
def test_things_stand_along_a_vessel_that_is_not_round(
    bearing_deg: float | None, axis_deg: float, expected: float
) -> None:
    """x = r·cos(bearing − axis bearing), 2 m from the middle."""
    box = values(
        "rectangular", box_length_m=5.0, box_width_m=3.0, cylinder_height_m=3.0, axis_bearing_rad=axis_deg * DEGREE
    )
    assert box.shape is not None
    bearing_rad = None if bearing_deg is None else bearing_deg * DEGREE
    assert side_offset(box.shape, 2.0, bearing_rad) == pytest.approx(expected, abs=1e-9)


def test_nozzles_stand_on_the_roof_under_them() -> None:
    """On a lying drum off its crown line the roof is lower: √(1.2² − 0.6²) above the axis (Pythagoras)."""
    found = {one.label: one for one in vessel_scene_alone(SAMPLES["drum-flat"]).nozzles}
    assert found["N1"].root_m == pytest.approx(2.4)
    assert found["N4"].root_m == pytest.approx(1.2 + math.sqrt(1.2**2 - 0.6**2))
    assert found["N4"].face_m == pytest.approx(found["N4"].root_m + 0.2)
    assert (found["N2"].offset_m, found["N3"].offset_m) == (pytest.approx(2), pytest.approx(-2))


def test_nozzles_in_the_side_are_stubs_with_a_level() -> None:
    scene = vessel_scene_alone(SAMPLES["flat-flat"])
    assert [(one.elevation_m, one.right, one.place) for one in scene.side_nozzles] == [
        (1.2, True, "nozzle-N8"),
        (3.0, False, "nozzle-N9"),
    ]
    marks = {mark.place: (mark.name, mark.value.replace("\u00a0", " ")) for mark in scene.levels}
    assert marks["nozzle-N8"] == ("N8 DN 80", "1.2 m")
    assert marks["nozzle-N1"] == ("Face of N1, N2, N3, N5", "6.2 m")


def test_a_steep_inclination_says_that_a_nozzle_is_in_the_side() -> None:
    flat = nozzle("N1", 2.0, 90, face_m=7.0, inclination_rad=math.pi / 2)
    scene = vessel_scene_alone(values("vertical_cylinder", nozzles=(flat,), diameter_m=4.0, cylinder_height_m=8.0))
    assert (len(scene.nozzles), len(scene.side_nozzles)) == (0, 1)


def test_stand_offs_are_told_once_and_the_rest_in_a_note() -> None:
    nozzles = tuple(nozzle(f"N{number}", 1.0, 30 * number, projection_m=number / 10) for number in range(1, 6))
    twice = (*nozzles, nozzle("N9", 0.5, 10, projection_m=0.1))
    scene = vessel_scene_alone(values("vertical_cylinder", nozzles=twice, diameter_m=4.0, cylinder_height_m=6.0))
    lines = {one.name: one.value.replace("\u00a0", " ") for one in scene.dimensions if one.name.startswith("Stand-off")}
    assert lines == {"Stand-off N1, N9": "100 mm", "Stand-off N2": "200 mm", "Stand-off N3": "300 mm"}
    assert "More stand-offs: N4 400\u00a0mm; N5 500\u00a0mm." in scene.notes


def test_what_is_missing_is_said_and_not_drawn() -> None:
    scene = vessel_scene_alone(SAMPLES["flat-flat"])
    assert "N6" not in {one.label for one in scene.nozzles}
    assert "Not drawn, because neither face nor projection is known: N6." in scene.notes
    axis = vessel_scene_alone(
        values("vertical_cylinder", nozzles=(nozzle("N1", None),), diameter_m=4.0, cylinder_height_m=6.0)
    )
    assert axis.nozzles[0].offset_m == 0
    assert "Drawn on the axis, because the radius is not known: N1." in axis.notes
    nothing = vessel_scene_alone(SAMPLES["no-datum"])
    assert (nothing.nozzles, nothing.levels, nothing.internals) == ((), (), ())
    assert nothing.shell is not None
    empty = VesselValues(shape=None, shown=lambda value, kind: f"{value} {kind}")
    assert vessel_scene_alone(empty).shell is None
    assert vessel_plan(empty).outline == ()


def test_levels_of_the_vessel() -> None:
    scene = vessel_scene_alone(SAMPLES["hemispheres"])
    shown = {mark.name: mark.elevation_m for mark in scene.levels}
    assert (shown["Overflow"], shown["Critical level"], shown["Lowest outlet"]) == (5.4, 5.7, 0.3)
    assert (shown["Roof"], shown["Datum"]) == (10, 0)


def test_texts_go_through_the_translation() -> None:
    scene = vessel_scene_alone(replace(SAMPLES["drum-tilt"], translate=lambda text: f"«{text}»"))
    assert all(one.name.startswith("«") for one in (*scene.dimensions, *scene.slants))
    assert all("«" in note for note in scene.notes)
    assert scene.words.outside == "«outside the vessel»"


def test_values_are_read_by_stem() -> None:
    texts = {"number": "T-1", "body": "vertical_cylinder", "bottom": "flat", "top": "flat", "mark": "N1",
             "size": "DN 50", "kind": "ladder"}  # fmt: skip
    numbers = {"diameter": 4.0, "cylinder_height": 6.0, "overflow_level": 5.0, "inlet_radius": 1.0, "bearing": 0.5,
               "face_elevation": 6.2, "radius": 1.1, "elevation_low": 0.2, "width": 0.4}  # fmt: skip
    read = read_vessel(
        lambda stem: texts.get(stem, ""),
        numbers.get,
        lambda stem, kind: f"{numbers[stem]:g} {kind}",
        shape=None,
        shown=lambda value, kind: f"{value:g} {kind}",
    )
    assert dict(read.sizes) == {"diameter": 4.0, "cylinder_height": 6.0}
    assert read.entered["diameter"] == "4 length"
    assert read.levels["overflow_level"] == (5.0, "5 length")
    assert read.feed is not None
    assert (read.feed.radius_m, read.draw_off) == (1.0, None)
    one = read_nozzle(texts.__getitem__, numbers.get, lambda stem, kind: f"{numbers[stem]:g} {kind}", place="n")
    assert (one.mark, one.face_m, one.face_shown, one.bore_m) == ("N1", 6.2, "6.2 length", None)
    inside = read_internal(lambda stem: texts.get(stem, ""), numbers.get, place="i")
    assert (inside.kind, inside.low_m, inside.high_m, inside.width_m) == ("ladder", 0.2, None, 0.4)
