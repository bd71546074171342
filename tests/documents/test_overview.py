"""All level instruments of a vessel on one elevation."""

import pytest

from instruments.documents.elevation import draw_overview, scene_from_cases
from tests.documents.sketch_samples import sample, several
from tests.documents.svg_reading import Drawing, path_points, read_svg
from vessels.sketch.scene import Scene


def drawn(scene: Scene) -> Drawing:
    return read_svg(draw_overview(scene))


def test_every_instrument_is_a_numbered_column_with_its_tag():
    scene = scene_from_cases(several())
    labels = ["60-LT-6001", "60-LZT-6001", "60-LT-6001", "60-LSHH-6001", "60-LG-6001", "60-LI-6001"]
    assert [column.label for column in scene.columns] == labels
    assert [column.number for column in scene.columns] == [1, 2, 3, 4, 5, 6]
    drawing = drawn(scene)
    assert {f"instrument-{number}" for number in range(1, 7)} <= drawing.places()
    assert {"roof", "bottom", "datum", "setpoint-HH"} <= drawing.places()
    for text in ("60-LSHH-6001", "6"):
        assert text in drawing.texts()


def test_spans_setpoints_and_gauge_glass():
    radar, rope, _, switch, glass, begun = scene_from_cases(several()).columns
    assert (radar.low_m, radar.high_m, radar.is_gauge) == (0.4, 11, False)
    assert [(tick.name, tick.elevation_m) for tick in rope.ticks] == [("HH", 11.3)]
    assert (switch.low_m, switch.high_m, len(switch.ticks)) == (None, None, 1)
    # A glass without a range shows what lies between its connections.
    assert (glass.low_m, glass.high_m, glass.is_gauge) == (0.1, 11.6, True)
    assert (begun.low_m, begun.high_m, begun.ticks) == (None, None, ())


def test_instruments_on_the_roof_are_numbered_there_and_others_are_not():
    columns = scene_from_cases(several()).columns
    assert [column.offset_m for column in columns] == [-1.2, 1.4, None, 1.5, None, None]
    assert [column.face_m for column in columns] == [12.3, 12.3, None, 12.3, None, None]


def test_bars_have_the_scale_of_the_vessel():
    drawing = drawn(scene_from_cases(several()))
    roof = path_points(drawing.of("roof", "roof")[0])[0][1]
    lowest = max(y for _, y in path_points(drawing.of("bottom", "bottom")[0]))
    bar = next(element for element in drawing.of("instrument-1", "column") if element.tag.endswith("rect"))
    scale = (lowest - roof) / 13.5
    assert float(bar.get("y", "")) == pytest.approx(roof + (12 - 11) * scale, abs=0.05)
    assert float(bar.get("height", "")) == pytest.approx((11 - 0.4) * scale, abs=0.05)


def test_the_description_tells_the_columns_in_words():
    scene = scene_from_cases(several())
    assert scene.title == "Elevation of T-6001 with all its level instruments"
    spoken = scene.description.replace("\u00a0", " ")
    for part in ("60-LT-6001 from 0.4 m to 11 m", "60-LI-6001: range not given", "HH 11.35 m", "Roof 12 m"):
        assert part in spoken
    root = drawn(scene).root
    assert root.get("aria-labelledby") == "overview-title overview-desc"
    assert root[0].text == scene.title


def test_more_columns_than_have_room_make_the_drawing_wider():
    scene = scene_from_cases([*several(), *several()])
    assert drawn(scene).size[0] > 720
    assert drawn(scene_from_cases(several()[:2])).size[0] < 720


def test_what_is_far_outside_the_vessel_is_an_arrow_at_the_edge():
    scene = scene_from_cases([sample(setpoints={"HH": "1250 m"})])
    drawing = drawn(scene)
    assert "HH 1250 m" in [text.replace("\u00a0", " ").replace("\u202f", "") for text in drawing.texts()]
    x, y = path_points(drawing.of("setpoint-HH", "level")[0])[0]
    assert 0 < y < path_points(drawing.of("roof", "roof")[0])[0][1]
    assert x > max(px for px, _ in path_points(drawing.of("roof", "roof")[0]))


def test_without_cases_vessel_or_datum():
    assert drawn(scene_from_cases([])).texts() == ["No sketch yet: the vessel's dimensions are missing"]
    assert scene_from_cases([sample(vessel={"diameter": ""})]).shell is None
    without_datum = scene_from_cases([sample(vessel={"datum": "dip_plate"})])
    assert without_datum.shell is not None
    assert (without_datum.columns, without_datum.levels) == ((), ())
    assert drawn(without_datum).places() >= {"shell"}


def test_texts_go_through_the_translation():
    scene = scene_from_cases(several(), translate=lambda text: f"«{text}»")
    assert all("«" in note for note in scene.notes)
    assert all(mark.name.startswith("«") for mark in scene.levels)
