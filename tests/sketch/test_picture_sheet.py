"""Every body with various ends, in elevation and plan, on screen and in print: readable, and on a sheet to look at."""

from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from project.documents.engine import Metadata, html_to_pdf
from tests.sketch.clean import assert_clean, assert_strict
from tests.sketch.vessel_samples import samples
from vessels.drawing.scenes import vessel_plan, vessel_scene_alone
from vessels.drawing.thumbnails import thumbnails
from vessels.sketch.elevation import draw_elevation
from vessels.sketch.plan import draw_plan
from vessels.sketch.scene import Filling, Scene

PICTURES = Path(__file__).parents[2] / "test-results" / "vessels"
SAMPLES = samples()
FILLED = {
    "concave-bottom": Filling(4.0),
    "concave-both": Filling(3.0),
    "drum-tilt": Filling(1.5),
    "drum-heads": Filling(1.2),
    "oval-heads": Filling(0.8),
    "hopper-cone": Filling(6.0, "solid", surface=((-2.0, 5.0), (0.2, 6.2), (2.0, 5.1))),
    "silo": Filling(20.0, "solid", surface=((-1.5, 20.0), (0.0, 18.5), (1.5, 20.0))),
    "wedge": Filling(3.0, "solid"),
    "sphere": Filling(7.0),
}
SIZES = {False: ((460.0, 600.0), (360.0, 360.0)), True: ((265.0, 340.0), (240.0, 240.0))}


def scene(name: str) -> Scene:
    return replace(vessel_scene_alone(SAMPLES[name]), filling=FILLED.get(name))


def drawn(name: str, *, for_print: bool) -> tuple[str, str]:
    """Elevation and plan."""
    elevation, plan = SIZES[for_print]
    suffix = "-print" if for_print else ""
    return (
        draw_elevation(
            scene(name),
            width_px=elevation[0],
            height_px=elevation[1],
            for_print=for_print,
            id_prefix=f"{name}{suffix}-elevation",
        ),
        draw_plan(
            vessel_plan(SAMPLES[name]),
            width_px=plan[0],
            height_px=plan[1],
            for_print=for_print,
            id_prefix=f"{name}{suffix}-plan",
        ),
    )


@pytest.mark.parametrize("for_print", [False, True])
@pytest.mark.parametrize("name", SAMPLES)
def test_every_vessel_is_drawn_cleanly(name: str, for_print: bool) -> None:
    for svg in drawn(name, for_print=for_print):
        assert_strict(svg)
        root = assert_clean(svg)
        title, description = root[0], root[1]
        assert root.get("aria-labelledby") == f"{title.get('id')} {description.get('id')}"
        assert title.text
        places = {group.get("data-place") for group in root.iter() if group.get("data-place")}
        assert "shell" in places


def test_every_dimension_that_was_given_is_written_and_told() -> None:
    """Each size but the wall's thickness, which is no inside length, and a width that is told in a note."""
    for name, values in SAMPLES.items():
        if values.shape is None or name == "no-datum":
            continue
        root = assert_clean(drawn(name, for_print=False)[0])
        shown = " ".join(element.text or "" for element in root.iter() if element.tag.endswith("text"))
        spoken = root[1].text or ""
        for stem, text in values.entered.items():
            if stem in ("wall_thickness", "axis_bearing"):
                continue
            number = text.replace("−", "")
            assert number in shown, (name, stem, text)
            if stem != "box_width":
                assert number in spoken, (name, stem, text)


def test_a_sheet_of_all_pictures_for_looking_at() -> None:
    """At least two dozen vessels, written to a folder that git ignores, as a page and as a PDF."""
    assert len(SAMPLES) >= 24
    screen: list[str] = []
    printed: list[str] = []
    for name in SAMPLES:
        for parts, for_print in ((screen, False), (printed, True)):
            elevation, plan = drawn(name, for_print=for_print)
            parts.append(f"<div><p>{name}</p>{elevation}{plan}</div>")
    small = "".join(f"<span>{picture}</span>" for picture in thumbnails().values())
    page = f"<!doctype html><title>Vessels</title>{''.join(screen)}<div>{small}</div>"
    PICTURES.mkdir(parents=True, exist_ok=True)
    (PICTURES / "vessels.html").write_text(page, encoding="utf-8")
    pdf = html_to_pdf(f"<!doctype html><title>Vessels</title>{''.join(printed)}", Metadata("Vessels"))
    (PICTURES / "vessels.pdf").write_bytes(pdf)
    text = " ".join(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)
    for name in SAMPLES:
        assert name in text.replace("\n", "")
