"""The sketch of a Case: the right things at the right elevations, in the plant's units."""

import math
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from instruments.checks.case import Case
from instruments.checks.frame import Frame
from instruments.documents.elevation import draw_overview, scene_from_case, scene_from_cases
from project.documents.engine import Metadata, html_to_pdf
from tests.checks.builders import ULTRASONIC
from tests.documents.sketch_samples import FLAT, SAMPLES, on_side, sample, several, without_nozzle
from tests.documents.svg_reading import read_svg
from vessels.sketch.elevation import draw_elevation
from vessels.sketch.scene import Beside, LevelMark, Scene

PICTURES = Path(__file__).parents[2] / "test-results" / "sketches"


def mark(scene: Scene, place: str) -> LevelMark:
    found = [one for one in scene.levels if one.place == place]
    assert len(found) == 1, (place, found)
    return found[0]


def values(scene: Scene) -> dict[str, str]:
    """Dimension values by what they are."""
    return {one.name: str(one.value).replace("\u00a0", " ") for one in scene.dimensions}


def test_elevations_count_from_the_bottom_tangent_line():
    scene = scene_from_case(SAMPLES["tank-with-cone"])
    assert scene.shell is not None
    assert scene.shell.outline == ((0, -1.5), (2, 0), (2, 12), (-2, 12), (-2, 0))
    assert (scene.shell.bottom_tangent_m, scene.shell.top_tangent_m) == (0, 12)
    assert (mark(scene, "datum").elevation_m, mark(scene, "roof").elevation_m) == (0, 12)
    assert mark(scene, "bottom").elevation_m == -1.5
    assert mark(scene, "urv").elevation_m == 11
    nozzle = scene.nozzles[0]
    assert (nozzle.offset_m, nozzle.root_m, nozzle.bore_m) == (-1.2, 12, 0.082)
    assert (nozzle.face_m, nozzle.reference_m) == (12.3, 12.3)


@pytest.mark.parametrize(
    "datum, lowest_m",
    [
        ({"datum": "lowest_inside_point"}, 0.0),
        ({"datum": "bottom_tangent_line"}, -1.5),
        ({"datum": "dip_plate", "dip_plate_height": "200 mm"}, -0.2),
    ],
)
def test_every_datum_moves_the_vessel_and_not_the_levels(datum: dict[str, str], lowest_m: float):
    scene = scene_from_case(sample(vessel=datum))
    assert scene.shell is not None
    assert scene.shell.lowest_m == pytest.approx(lowest_m)
    assert scene.shell.highest_m == pytest.approx(lowest_m + 13.5)
    assert mark(scene, "urv").elevation_m == 11
    assert scene.nozzles[0].face_m == pytest.approx(lowest_m + 13.8)


def test_the_sketch_shows_what_the_checks_compute():
    case = SAMPLES["solid-hopper"]
    scene, frame = scene_from_case(case), Frame(case)
    assert scene.beam is not None
    assert scene.beam.apex_m == frame.reference_point.value == 6.75
    assert scene.beam.half_angle_rad == pytest.approx(math.radians(4))
    assert scene.dead_zone is not None
    assert scene.dead_zone.to_m == frame.dead_zone_end.value == mark(scene, "dead-zone").elevation_m
    names = {one.name: one.elevation_m for one in scene.levels if one.place == "nozzle"}
    assert names == {"Nozzle face": 6.5, "Reference point": 6.75}


def test_dimensions_are_given_with_their_units():
    scene = scene_from_case(SAMPLES["tank-with-cone"])
    assert values(scene) == {
        "Inside diameter": "Ø 4 m",
        "Height of the cylinder": "12 m",
        "Depth of the bottom": "1.5 m",
        "Nozzle stand-off": "300 mm",
        "Distance at URV": "1.3 m",
        "Distance at LRV": "11.9 m",
    }


def test_a_plant_in_us_units_reads_feet_and_inches():
    scene = scene_from_case(SAMPLES["tank-with-cone-us"])
    shown = values(scene)
    assert shown["Inside diameter"].endswith("ft")
    assert shown["Nozzle stand-off"] == "11.81 in"
    assert mark(scene, "urv").value.endswith("ft")


def test_a_value_in_the_plants_unit_stays_as_typed():
    scene = scene_from_case(sample(measurement={"urv": "11.00 m"}, vessel={"diameter": "4000 mm"}))
    assert mark(scene, "urv").value == "11.00\u00a0m"
    assert values(scene)["Inside diameter"] == "Ø 4 m"


def test_setpoints_keep_their_names_and_places():
    scene = scene_from_case(SAMPLES["tank-with-cone"])
    shown = {one.place: (one.name, one.elevation_m) for one in scene.levels if one.kind == "setpoint"}
    assert shown["setpoint-HH"] == ("HH", 11.2)
    assert set(shown) == {"setpoint-HH", "setpoint-H", "setpoint-L", "setpoint-LL"}


def test_the_description_tells_the_drawing_in_words():
    scene = scene_from_case(SAMPLES["tank-with-cone"])
    assert scene.title == "Elevation of T-6001 with 60-LT-6001"
    spoken = scene.description.replace("\u00a0", " ")
    for part in ("URV 11 m", "HH 11.2 m", "Datum 0 m", "Inside diameter Ø 4 m", "Distance at LRV 11.9 m"):
        assert part in spoken


def test_texts_go_through_the_translation():
    scene = scene_from_case(SAMPLES["tank-with-cone"], translate=lambda text: f"«{text}»")
    assert mark(scene, "roof").name == "«Roof»"
    assert scene.words.outside == "«outside the vessel»"
    assert all("«" in note for note in scene.notes)


def test_solids_are_drawn_as_grains():
    solid, liquid = scene_from_case(SAMPLES["solid-hopper"]), scene_from_case(SAMPLES["tank-with-cone"])
    assert solid.filling is not None
    assert liquid.filling is not None
    assert (solid.filling.kind, liquid.filling.kind) == ("solid", "liquid")


# --- bodies, arrangements, internals ----------------------------------------------------------------


def test_each_body_is_dimensioned_as_its_drawing_would_be():
    drum, pit, ball = (values(scene_from_case(SAMPLES[name])) for name in ("drum", "pit", "sphere"))
    assert (drum["Length of the cylinder"], drum["Inside diameter"]) == ("6 m", "Ø 2.4 m")
    assert (pit["Inside length and width"], pit["Inside height"]) == ("5 m × 3 m", "3 m")
    assert ball["Inside diameter"] == "Ø 10 m"
    assert "Height of the cylinder" not in ball
    ends = values(scene_from_case(SAMPLES["round-ends"]))
    assert (ends["Depth of the bottom"], ends["Height of the top end"]) == ("1 m", "1 m")
    hopper = values(scene_from_case(SAMPLES["hopper"]))
    assert (hopper["Diameter of the outlet"], hopper["Depth of the bottom"]) == ("Ø 0.5 m", "3 m")


def test_a_horizontal_cylinder_is_seen_from_its_side():
    scene = scene_from_case(SAMPLES["drum"])
    assert scene.shell is not None
    assert scene.shell.lies
    assert scene.shell.outline == ((-3, 0), (3, 0), (3, 2.4), (-3, 2.4))
    assert scene.shell.axis == ((-3, pytest.approx(1.2)), (3, pytest.approx(1.2)))
    assert "Seen from the side, along its length." in scene.notes
    drawing = read_svg(draw_elevation(scene))
    assert drawing.places() >= {"shell", "roof", "bottom"}


def test_a_nozzle_on_a_curved_roof_stands_on_the_roof():
    scene = scene_from_case(SAMPLES["sphere"])
    assert scene.nozzles[0].root_m == pytest.approx(5 + math.sqrt(24))
    assert scene.nozzles[0].face_m == pytest.approx(5 + math.sqrt(24) + 0.3)
    assert values(scene)["Nozzle stand-off"] == "300 mm"
    assert read_svg(draw_elevation(scene)).places() >= {"roof", "bottom"}


@pytest.mark.parametrize(
    "bearing, right",
    [("", False), ("0 deg", True), ("90 deg", True), ("179.9 deg", True), ("180 deg", False), ("270 deg", False),
     ("360 deg", True), ("-90 deg", False)],
)  # fmt: skip
def test_bearings_below_half_a_turn_are_drawn_at_the_right(bearing: str, right: bool):
    scene = scene_from_case(sample(nozzle={"bearing": bearing}, sensor_class=ULTRASONIC))
    assert scene.nozzles[0].offset_m == (1.2 if right else -1.2)
    assert scene.beam is not None
    assert scene.beam.offset_m == scene.nozzles[0].offset_m


def test_a_chamber_stands_beside_the_vessel_with_its_probe():
    scene = scene_from_case(SAMPLES["drum-chamber"])
    assert scene.beside == Beside("chamber", 2.25, 0.2, 2.7, pytest.approx(0.2))
    assert (scene.nozzles, scene.beam, scene.probe) == ((), None, None)
    assert (mark(scene, "tap-upper").name, mark(scene, "tap-lower").name) == ("Upper tap N5", "Lower tap N6")
    assert mark(scene, "probe").elevation_m == pytest.approx(0.2)
    assert values(scene)["Distance at LRV"] == "2.4 m"
    assert read_svg(draw_elevation(scene)).places() >= {"chamber", "tap-upper", "tap-lower"}


@pytest.mark.parametrize("name, kind", [("drum-legs", "legs"), ("tank-seals", "seals")])
def test_a_transmitter_hangs_on_its_taps_and_has_no_distances(name: str, kind: str):
    scene = scene_from_case(SAMPLES[name])
    assert scene.beside is not None
    assert (scene.beside.kind, scene.beside.head_m) == (kind, mark(scene, "transmitter").elevation_m)
    assert (scene.nozzles, scene.dead_zone) == ((), None)
    assert not any("Distance" in one for one in values(scene))
    assert read_svg(draw_elevation(scene)).places() >= {"transmitter", "tap-upper", "tap-lower"}


def test_a_transmitter_of_unknown_elevation_says_so():
    notes = scene_from_case(SAMPLES["tank-legs-unknown"]).notes
    assert any("its elevation is not known" in note for note in notes)


def test_taps_without_elevation_are_left_out():
    scene = scene_from_case(on_side(sample(measurement={"arrangement": "two_taps"}), "11 m"))
    assert scene.beside == Beside("legs", 11, None)
    assert "tap-lower" not in {one.place for one in scene.levels}
    assert scene_from_case(on_side(sample(measurement={"arrangement": "two_taps"}))).beside is None


@pytest.mark.parametrize("name, kind, end_m", [("hopper", "rope", -1.7), ("round-ends", "rod", -0.2)])
def test_a_probe_hangs_from_the_reference_point(name: str, kind: str, end_m: float):
    scene = scene_from_case(SAMPLES[name])
    assert scene.probe is not None
    assert (scene.probe.kind, scene.probe.from_m) == (kind, scene.nozzles[0].reference_m)
    assert scene.probe.to_m == mark(scene, "probe").elevation_m == pytest.approx(end_m)
    assert scene.beam is None
    assert read_svg(draw_elevation(scene)).of("probe")


def test_internals_stand_at_their_radius_and_are_described():
    scene = scene_from_case(SAMPLES["internals"])
    shown = {one.name: (one.offset_m, one.place) for one in scene.internals}
    assert len(scene.internals) == 7  # one has no elevations
    assert shown["Ladder"] == (1.8, "internal-1")
    assert shown["Baffle"] == (-1.9, "internal-4")
    assert "Agitator from 2 m to 3.2 m" in scene.description.replace("\u00a0", " ")
    drawing = read_svg(draw_elevation(scene))
    assert {f"internal-{number}" for number in range(1, 8)} <= drawing.places()
    titles = [element.text for element in drawing.root.iter() if element.tag.endswith("title")]
    assert "Stilling well" in titles


# --- gaps -------------------------------------------------------------------------------------------


def test_without_vessel_there_is_no_shell_and_no_level():
    scene = scene_from_case(SAMPLES["no-vessel"])
    assert (scene.shell, scene.levels, scene.dimensions, scene.nozzles) == (None, (), (), ())
    assert (scene.beam, scene.dead_zone, scene.filling) == (None, None, None)


def test_without_datum_the_vessel_is_drawn_and_nothing_is_placed_in_it():
    scene = scene_from_case(SAMPLES["no-datum"])
    assert scene.shell is not None
    assert (scene.levels, scene.nozzles, scene.beam, scene.filling) == ((), (), None, None)
    assert set(values(scene)) == {"Inside diameter", "Height of the cylinder", "Depth of the bottom"}


def test_without_nozzle_levels_remain():
    scene = scene_from_case(SAMPLES["no-nozzle"])
    assert (scene.nozzles, scene.beam, scene.dead_zone) == ((), None, None)
    assert mark(scene, "urv").elevation_m == 11
    assert "Distance at URV" not in values(scene)


def test_without_radius_the_nozzle_stands_on_the_axis_with_a_note_and_no_beam():
    scene = scene_from_case(SAMPLES["small-sump"])
    assert scene.nozzles[0].offset_m == 0
    assert scene.beam is None
    assert "Nozzle drawn on the axis: its radius is not known." in scene.notes


def test_without_class_there_is_neither_beam_nor_dead_zone():
    scene = scene_from_case(replace(sample(), sensor_class=None))
    assert (scene.beam, scene.dead_zone) == (None, None)
    assert len(scene.nozzles) == 1


def test_face_and_projection_both_entered_leave_the_nozzle_out():
    scene = scene_from_case(sample(nozzle={"face_elevation": "12.4 m"}))
    assert scene.nozzles == ()


def test_impossible_dimensions_leave_the_shell_out():
    assert scene_from_case(sample(vessel={"bottom": "flat"})).shell is None
    assert scene_from_case(sample(vessel={"diameter": "-4 m"})).shell is None


def test_a_level_above_the_sensor_has_no_distance():
    scene = scene_from_case(sample(measurement={"urv": "12.5 m"}))
    assert "Distance at URV" not in values(scene)
    assert "Distance at LRV" in values(scene)


def test_zero_is_a_value_and_not_missing():
    scene = scene_from_case(
        sample(vessel=FLAT, measurement={"lrv": "0 m"}, nozzle={"radius": "0 m"}, sensor_class=ULTRASONIC)
    )
    assert mark(scene, "lrv").elevation_m == 0
    assert scene.beam is not None
    assert scene.beam.offset_m == 0
    assert not any("radius is not known" in note for note in scene.notes)


def test_an_empty_case_gives_a_sketch_all_the_same():
    case = Case(
        plant=sample().plant,
        unit=sample().unit,
        tag=sample().tag,
        vessel=sample().unit,
        measurement=sample().unit,
    )
    svg = draw_elevation(scene_from_case(without_nozzle(case)))
    assert "No sketch yet" in svg


@pytest.mark.parametrize("text", ["0 m", "-3 m", "1e-6 m", "1e6 m", "1e12 m", "-1e300 m", "1e300 m"])
@pytest.mark.parametrize(
    "part, stem",
    [
        ("vessel", "diameter"),
        ("vessel", "cylinder_height"),
        ("vessel", "bottom_depth"),
        ("vessel", "overflow_level"),
        ("nozzle", "projection"),
        ("nozzle", "radius"),
        ("nozzle", "bore"),
        ("measurement", "urv"),
    ],
)
def test_absurd_values_while_somebody_types_still_give_a_drawing(part: str, stem: str, text: str) -> None:
    parts: dict[str, Any] = {part: {stem: text}}
    drawing = read_svg(draw_elevation(scene_from_case(sample(**parts))))
    width, height = drawing.size
    assert all(0 <= x <= width and 0 <= y <= height for x, y in drawing.points())


# --- pictures ---------------------------------------------------------------------------------------


def test_pictures_of_all_samples_for_looking_at() -> None:
    """Writes every sample as SVG, and all as one PDF, to a folder that git ignores."""
    pictures: dict[str, bytes] = {}
    parts = []
    for name, case in SAMPLES.items():
        scene = scene_from_case(case)
        screen = draw_elevation(scene, id_prefix=name)
        assert read_svg(screen).texts()
        pictures[f"{name}.svg"] = screen.encode()
        printed = draw_elevation(scene, width_px=265, height_px=416, for_print=True, id_prefix=name)
        parts.append(f"<div><p>{name}</p>{printed}</div>")
    overview = scene_from_cases(several())
    pictures["overview.svg"] = draw_overview(overview).encode()
    parts.append(draw_overview(overview, width_px=600, for_print=True))
    pdf = html_to_pdf(f"<!doctype html><title>Sketches</title>{''.join(parts)}", Metadata("Sketches"))
    pictures["sketches.pdf"] = pdf
    PICTURES.mkdir(parents=True, exist_ok=True)
    for name, content in pictures.items():
        (PICTURES / name).write_bytes(content)
    text = "".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages).replace("\u00a0", " ")
    for wanted in ("Distance at URV", "Nozzle face", "far outside the vessel", "−1.5", "Ø 40"):
        assert wanted in text
