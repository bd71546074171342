"""The elevation: well formed, to scale, nothing cut off, no text over another one, whatever the scene."""

import math
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.documents.svg_reading import Drawing, path_points, read_svg
from tests.shapes.shape_samples import drum, sphere, upright
from vessels.shapes.build import Shape, shape_from_values
from vessels.sketch.elevation import draw_elevation
from vessels.sketch.geometry import mirrored
from vessels.sketch.overview import draw_overview
from vessels.sketch.scene import (
    Beam,
    Beside,
    Column,
    DeadZone,
    Dimension,
    Filling,
    Internal,
    LevelKind,
    LevelMark,
    Nozzle,
    Probe,
    Scene,
    Shell,
    Tick,
)

FONTS = Path(__file__).parents[2] / "project" / "static" / "fonts"


def shell(diameter_m: float = 4, height_m: float = 12, depth_m: float | None = 1.5) -> Shell:
    shape = shape_from_values(
        body="vertical_cylinder",
        bottom="flat" if depth_m is None else "cone",
        top="flat",
        diameter_m=diameter_m,
        cylinder_height_m=height_m,
        bottom_depth_m=depth_m,
    )
    return Shell(tuple(mirrored(shape.profile())), shape.tangent_height_m, shape.top_tangent_height_m)


def scene(vessel: Shell, levels: dict[str, float], *, stand_off_m: float = 0.3, offset_m: float = -1) -> Scene:
    """A scene with everything, LRV and URV and setpoints at the given elevations."""
    face_m = vessel.highest_m + stand_off_m
    marks = [
        LevelMark("roof", vessel.highest_m, "Roof", f"{vessel.highest_m:g} m"),
        LevelMark("datum", vessel.lowest_m, "Datum", "0 m", "datum"),
        LevelMark("dead-zone", face_m - 0.2, "Dead zone to", f"{face_m - 0.2:g} m", "limit"),
    ]
    for name, level_m in levels.items():
        is_range = name in ("LRV", "URV")
        place = name.lower() if is_range else f"setpoint-{name}"
        kind: LevelKind = "range" if is_range else "setpoint"
        marks.append(LevelMark(place, level_m, name, f"{level_m:g} m", kind))
    heights = [
        Dimension("shell", "height", vessel.bottom_tangent_m, vessel.highest_m, "12 m"),
        Dimension("nozzle", "height", vessel.highest_m, face_m, "300 mm"),
    ]
    if vessel.lowest_m < vessel.bottom_tangent_m:
        heights.append(Dimension("bottom", "height", vessel.lowest_m, vessel.bottom_tangent_m, "1.5 m"))
    for name in ("URV", "LRV"):
        if levels.get(name, math.inf) < face_m:
            name_text = f"Distance at {name}"
            heights.append(Dimension(name.lower(), "height", levels[name], face_m, "9.99 m", name_text, True))
    return Scene(
        title="Elevation of T-1",
        description="A tank",
        shell=vessel,
        nozzles=(Nozzle("N1 DN 80", offset_m, vessel.highest_m, face_m, 0.08, face_m),),
        beam=Beam(offset_m, face_m, math.radians(4)),
        dead_zone=DeadZone(offset_m, face_m, face_m - 0.2),
        levels=tuple(marks),
        filling=Filling(levels["URV"]) if "URV" in levels else None,
        dimensions=(Dimension("shell", "width", -vessel.radius_m, vessel.radius_m, "Ø 4 m"), *heights),
        notes=("Elevations from the lowest inside point.",),
    )


LEVELS = {"URV": 12.5, "HH": 12.8, "H": 12.2, "L": 2.0, "LL": 1.8, "LRV": 1.6}
ORDINARY = scene(shell(), LEVELS)


def drawn(what: Scene, **how: object) -> Drawing:
    return read_svg(draw_elevation(what, **how))


# --- what a page and a sheet rely on ------------------------------------------------------------------


def test_every_place_is_a_group_that_the_page_can_highlight():
    wanted = {
        "urv", "lrv", "setpoint-HH", "setpoint-H", "setpoint-L", "setpoint-LL", "dead-zone", "nozzle", "roof",
        "bottom", "shell", "beam", "datum", "medium",
    }  # fmt: skip
    assert wanted <= drawn(ORDINARY).places()


def test_readers_get_title_and_description_with_ids_that_do_not_clash():
    root = drawn(ORDINARY, id_prefix="first").root
    title, description = root[0], root[1]
    assert root.get("role") == "img"
    assert root.get("aria-labelledby") == "first-title first-desc"
    assert (title.get("id"), title.text) == ("first-title", "Elevation of T-1")
    assert (description.get("id"), description.text) == ("first-desc", "A tank")
    ids = [{element.get("id") for element in drawn(ORDINARY, id_prefix=prefix).root.iter()} for prefix in "ab"]
    assert ids[0] & ids[1] == {None}


@pytest.mark.parametrize("for_print", [False, True])
def test_a_strict_content_security_policy_has_nothing_to_complain_of(for_print: bool):
    svg = draw_elevation(ORDINARY, for_print=for_print)
    for forbidden in ("style=", "<style", "<script", "onload", "href", "url(", "<image", "<foreignObject"):
        assert forbidden not in svg


def test_texts_are_escaped_wherever_they_come_in():
    evil = "<script>alert(1)</script>\"'&\x00\x1b"
    marks = tuple(replace(mark, name=evil, value=evil, place=evil) for mark in ORDINARY.levels)
    nozzles = tuple(replace(nozzle, label=evil) for nozzle in ORDINARY.nozzles)
    dimensions = tuple(replace(one, value=evil, name=evil) for one in ORDINARY.dimensions)
    hostile = replace(
        ORDINARY,
        title=evil,
        description=evil,
        levels=marks,
        nozzles=nozzles,
        dimensions=dimensions,
        notes=(evil,),
    )
    svg = draw_elevation(hostile, id_prefix='"><script>')
    assert "<script" not in svg
    assert read_svg(svg).root[0].text == "<script>alert(1)</script>\"'&"


# --- to scale ---------------------------------------------------------------------------------------


def level_y(drawing: Drawing, place: str) -> float:
    """Where the mark of a level stands: its tick or leader comes first in its group."""
    return path_points(drawing.of(place, "level")[0])[0][1]


def walls(drawing: Drawing) -> tuple[float, float]:
    xs = [x for path in drawing.of("shell", "shell") for x, _ in path_points(path)]
    return min(xs), max(xs)


@pytest.mark.parametrize("for_print", [False, True])
@pytest.mark.parametrize("vessel", [shell(), shell(12, 10, None), shell(3, 50, 4)], ids=["tank", "wide tank", "silo"])
def test_px_are_metres_by_one_scale_across_and_up(vessel: Shell, for_print: bool):
    low_m, high_m = vessel.bottom_tangent_m, vessel.highest_m
    levels = {"LRV": low_m + 0.1 * (high_m - low_m), "URV": low_m + 0.8 * (high_m - low_m)}
    drawing = drawn(scene(vessel, levels), for_print=for_print)
    roof = path_points(drawing.of("roof", "roof")[0])
    left, right = walls(drawing)
    scale = (right - left) / (2 * vessel.radius_m)
    # Coordinates have two decimals; on a slim silo their rounding grows with height over diameter.
    close = 0.02 + 0.02 * vessel.highest_m / vessel.radius_m
    assert roof[0][0] == pytest.approx(left, abs=0.02)
    for name, level_m in levels.items():
        expected = roof[0][1] + (high_m - level_m) * scale
        assert level_y(drawing, name.lower()) == pytest.approx(expected, abs=close)
    bottom = path_points(drawing.of("bottom", "bottom")[0])
    lowest = max(y for _, y in bottom)
    assert lowest == pytest.approx(roof[0][1] + (high_m - vessel.lowest_m) * scale, abs=close)
    assert not any("Not to one scale" in text for text in drawing.texts())


def test_a_very_flat_tank_is_stretched_and_says_by_how_much():
    drawing = drawn(scene(shell(40, 2, None), {"LRV": 0.2, "URV": 1.8}))
    left, right = walls(drawing)
    height = level_y(drawing, "lrv") - level_y(drawing, "urv")
    factor = (height / 1.6) / ((right - left) / 40)
    notes = " ".join(drawing.texts())
    assert f"heights drawn {factor:.2g} times larger than widths" in notes
    assert factor > 2


def test_a_silo_of_60_m_by_3_m_is_drawn_to_scale_on_the_screen():
    drawing = drawn(scene(shell(3, 56, 4), {"LRV": 5, "URV": 50}))
    assert not any("Not to one scale" in text for text in drawing.texts())


def test_the_beam_ends_at_wall_and_bottom():
    vessel = shell(4, 12, None)
    drawing = drawn(scene(vessel, LEVELS, offset_m=-1.5))
    edges = path_points(drawing.of("beam")[1])
    left, right = walls(drawing)
    scale = (right - left) / 4
    roof_y = path_points(drawing.of("roof", "roof")[0])[0][1]
    apex, left_end, _, right_end = edges
    assert apex == pytest.approx((left + 0.5 * scale, roof_y - 0.3 * scale), abs=0.05)
    # To the left the wall is 0.5 m away, so the edge meets it 0.5/tan(4°) below the sensor.
    met_m = 0.5 / math.tan(math.radians(4))
    assert left_end == pytest.approx((left, apex[1] + met_m * scale), abs=0.05)
    assert right_end == pytest.approx(
        (apex[0] + 12.3 * math.tan(math.radians(4)) * scale, roof_y + 12 * scale), abs=0.05
    )


# --- nothing cut off, nothing over another ------------------------------------------------------------


def assert_clean(drawing: Drawing) -> None:
    width, height = drawing.size
    for x, y in drawing.points():
        assert 0 <= x <= width, (x, width)
        assert 0 <= y <= height, (y, height)
    boxes = drawing.boxes()
    for number, box in enumerate(boxes):
        assert box.left >= 0, box
        assert box.top >= 0, box
        assert box.right <= width, (box, width)
        assert box.bottom <= height, (box, height)
        for other in boxes[number + 1 :]:
            assert not box.overlaps(other), (box, other)


names = st.text(alphabet="ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz äöµ-", min_size=1, max_size=30)


def shell_of(what: Shape) -> Shell:
    """The shell of any shape, its datum at the lowest inside point."""
    profile = what.profile()
    joints = [height for radius, height in profile if radius == what.largest_radius_m]
    lies, middle_m = what.has_level_roof and what.half_width_m(0.0) == 0, what.height_m / 2
    axis = ((-what.largest_radius_m, middle_m), (what.largest_radius_m, middle_m)) if lies else None
    return Shell(tuple(mirrored(profile)), min(joints), max(joints), axis=axis)


vessels = st.one_of(
    st.builds(shell, st.floats(0.3, 60), st.floats(0.3, 60), st.one_of(st.none(), st.floats(0.1, 20))),
    st.builds(drum, st.floats(0.3, 10), st.floats(0.3, 60)).map(shell_of),
    st.builds(sphere, st.floats(0.3, 30)).map(shell_of),
    st.builds(
        upright, st.just("hemisphere"), st.just("hemisphere"), st.floats(0.3, 10), st.floats(0.1, 40), st.just(0),
        st.just(0),
    ).map(shell_of),
)  # fmt: skip
besides = st.one_of(
    st.none(),
    st.builds(Beside, st.sampled_from(["chamber", "legs", "seals"]), *[st.one_of(st.none(), st.floats(-5, 70))] * 4),
)
places = st.floats(-5, 70)
internals = st.lists(
    st.builds(
        Internal, st.sampled_from(["ladder", "coil", "baffle", "agitator", "inlet_stream", "pipe", "well"]), names,
        st.floats(-40, 40), places, places, st.one_of(st.none(), st.floats(0.001, 100)),
    ),
    max_size=4,
).map(tuple)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(
    vessel=vessels,
    shares=st.lists(st.floats(-1.5, 3), max_size=14),
    span=st.tuples(st.floats(-0.5, 1.5), st.floats(-0.5, 1.5)),
    stand_off=st.floats(0, 1.2),
    aside=st.floats(-1.6, 1.6),
    other_name=names,
    for_print=st.booleans(),
    size=st.sampled_from([(460, 600), (460, 480), (265, 416), (240, 240)]),
    beside=besides,
    inside=internals,
    probe_to=places,
)
def test_no_text_overlaps_and_nothing_leaves_the_drawing(
    vessel: Shell,
    shares: list[float],
    span: tuple[float, float],
    stand_off: float,
    aside: float,
    other_name: str,
    for_print: bool,
    size: tuple[float, float],
    beside: Beside | None,
    inside: tuple[Internal, ...],
    probe_to: float,
):
    height_m = vessel.highest_m - vessel.lowest_m
    levels = {f"S{number}": round(share * height_m, 3) for number, share in enumerate(shares)}
    levels |= {
        "LRV": round(span[0] * height_m, 3),
        "URV": round(span[1] * height_m, 3),
        other_name: height_m / 2,
    }
    what = scene(vessel, levels, stand_off_m=stand_off * height_m, offset_m=aside * vessel.radius_m)
    probe = Probe(what.nozzles[0].offset_m, what.nozzles[0].face_m, probe_to, "rope")
    what = replace(what, beside=beside, internals=inside, probe=probe)
    width_px, height_px = size
    width_px = width_px if for_print else max(width_px, 320)
    assert_clean(drawn(what, width_px=width_px, height_px=height_px, for_print=for_print))


ticks = st.lists(st.builds(Tick, names, st.sampled_from(["11.2 m", "36 ft 8 in"]), places, st.just("setpoint-H")),
                 max_size=8).map(tuple)  # fmt: skip
some_places = st.one_of(st.none(), places)
columns = st.lists(
    st.builds(
        Column, st.integers(1, 20), names, st.just("instrument"), some_places, some_places, st.just("0.4 m"),
        st.just("11 m"), ticks, st.booleans(), st.one_of(st.none(), st.floats(-40, 40)), st.one_of(st.none(), places),
    ),
    max_size=9,
).map(tuple)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(
    vessel=vessels,
    shares=st.lists(st.floats(-1.5, 3), max_size=8),
    many=columns,
    for_print=st.booleans(),
    size=st.sampled_from([(720, 480), (460, 480), (1000, 300), (330, 240)]),
    inside=internals,
)
def test_columns_of_an_overview_do_not_overlap_and_stay_inside(
    vessel: Shell,
    shares: list[float],
    many: tuple[Column, ...],
    for_print: bool,
    size: tuple[float, float],
    inside: tuple[Internal, ...],
):
    height_m = vessel.highest_m - vessel.lowest_m
    levels = {f"S{number}": round(share * height_m, 3) for number, share in enumerate(shares)}
    what = replace(scene(vessel, levels), columns=many, internals=inside, nozzles=())
    assert_clean(read_svg(draw_overview(what, width_px=size[0], height_px=size[1], for_print=for_print)))


def test_crowded_labels_make_the_drawing_higher_rather_than_overlap():
    levels = {f"S{number}": 12 + number / 100 for number in range(40)}
    drawing = drawn(scene(shell(), levels), height_px=300)
    assert_clean(drawing)
    assert drawing.size[1] > 300
    assert drawn(ORDINARY, height_px=300).size[1] <= 300


# --- gaps and faults --------------------------------------------------------------------------------


def test_without_a_vessel_the_sketch_is_small_and_says_so():
    drawing = drawn(Scene(title="T", description="D"))
    assert drawing.texts() == ["No sketch yet: the vessel's dimensions are missing"]
    assert drawing.size[1] < 100
    assert_clean(drawing)


def test_whatever_is_missing_is_left_out():
    bare = Scene(title="T", description="D", shell=shell())
    drawing = drawn(bare)
    assert drawing.places() == {"bottom", "shell", "roof"}
    assert drawing.texts() == []
    assert_clean(drawing)


def test_levels_outside_are_drawn_at_their_true_elevation_and_said_to_be_outside():
    drawing = drawn(scene(shell(), {"URV": 14.5, "LRV": -1.0, "H": 7}))
    left, right = walls(drawing)
    roof_y, scale = path_points(drawing.of("roof", "roof")[0])[0][1], (right - left) / 4
    assert level_y(drawing, "urv") == pytest.approx(roof_y - 1.0 * scale, abs=0.05)
    assert level_y(drawing, "lrv") == pytest.approx(roof_y + 14.5 * scale, abs=0.05)
    assert drawing.texts().count("outside the vessel") == 2


def test_a_level_far_outside_does_not_shrink_the_vessel():
    drawing = drawn(scene(shell(), {"URV": 12500, "LRV": 2}))
    usual = drawn(scene(shell(), {"URV": 12.5, "LRV": 2}))
    assert walls(drawing)[1] - walls(drawing)[0] > 0.8 * (walls(usual)[1] - walls(usual)[0])
    assert "far outside the vessel" in drawing.texts()
    assert_clean(drawing)


def test_a_nozzle_far_away_is_not_drawn_and_a_note_says_so():
    drawing = drawn(scene(shell(), LEVELS, offset_m=-40))
    assert any("N1 DN 80 is not drawn" in text for text in drawing.texts())
    assert "beam" not in drawing.places()
    assert_clean(drawing)


def test_solids_are_grains_and_liquids_a_tint():
    liquid, solid = (drawn(replace(ORDINARY, filling=Filling(12.5, kind))) for kind in ("liquid", "solid"))
    assert liquid.of("medium")[0].get("fill") == "#d9e6e8"
    grains = path_points(solid.of("medium")[0])
    assert 200 < len(grains) <= 700
    left, right = walls(solid)
    assert all(left < x < right and level_y(solid, "urv") < y for x, y in grains)


def test_the_dead_zone_is_hatched_down_to_its_end_and_no_further():
    long = replace(ORDINARY, dead_zone=DeadZone(-1, 13.8, 12.0))
    drawing = drawn(long)
    points = path_points(drawing.of("dead-zone", "dead-zone")[0])
    left, right = walls(drawing)
    limit = path_points(drawing.of("roof", "roof")[0])[0][1] + 1.5 * (right - left) / 4
    assert max(y for _, y in points) == pytest.approx(limit, abs=6)
    assert all(y <= limit + 0.02 for _, y in points)
    assert len(points) > 40


@pytest.mark.parametrize("argument", ["width_px", "height_px"])
@pytest.mark.parametrize("value", [0, -460, 100, math.nan])
def test_a_size_too_small_for_a_drawing_is_refused(argument: str, value: float):
    with pytest.raises(ValueError, match=rf"{argument} = .* accepted is \d+ or more"):
        draw_elevation(ORDINARY, **{argument: value})
