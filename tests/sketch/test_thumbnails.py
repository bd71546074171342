"""Small pictures for choosing a body or an end: one for each choice, readable in any colour."""

import pytest

from tests.sketch.clean import SVG, assert_strict, points, read
from vessels.drawing.thumbnails import BODY_MODELS, END_MODELS, ONLY_BELOW, body_thumbnail, end_thumbnail, thumbnails
from vessels.shape_values import end_kinds
from vessels.sketch.thumbnail import Figure, draw_thumbnail
from vessels.vessel_fields import BODIES, BOTTOMS, TOPS

ALL = thumbnails()
OUTWARD = {key: picture for key, picture in ALL.items() if not key[1].endswith("-inward")}


def test_every_choice_has_a_picture() -> None:
    assert {key for side, key in OUTWARD if side == "body"} == {key for key, _ in BODIES} == set(BODY_MODELS)
    assert {key for side, key in OUTWARD if side == "bottom"} == {key for key, _ in BOTTOMS}
    for side in ("top", "left", "right"):
        assert {key for of, key in OUTWARD if of == side} == {key for key, _ in TOPS}
    known = {kind for body, _ in BODIES for side in ("bottom", "top") for kind in end_kinds(body, side)}
    assert known == {key for key, _ in BOTTOMS}
    assert set(END_MODELS) <= known
    inward = {key.removesuffix("-inward") for side, key in ALL if side == "left" and key.endswith("-inward")}
    assert inward == {key for key, _ in TOPS} - {"flat", "paraboloid"}


@pytest.mark.parametrize("key", ALL, ids="-".join)
def test_a_picture_is_small_named_and_takes_the_colour_around_it(key: tuple[str, str]) -> None:
    svg = ALL[key]
    assert_strict(svg)
    root = read(svg)
    assert root.get("viewBox") == "0 0 72 56"
    assert root[0].text
    assert root.get("aria-labelledby") == root[0].get("id")
    assert {one.get("stroke") for one in root.iter(f"{SVG}path")} <= {"currentColor", None}
    for x, y in points(root):
        assert 2 <= x <= 70
        assert 2 <= y <= 54
    assert len(svg) < 6000


def test_no_two_pictures_of_a_side_are_alike() -> None:
    """By their lines alone, without names and ids."""
    for side in ("body", "bottom", "top", "left", "right"):
        drawn = {key: "".join(one.get("d", "") for one in read(svg).iter(f"{SVG}path"))
                 for (of, key), svg in ALL.items() if of == side}  # fmt: skip
        assert len(set(drawn.values())) == len(drawn)


def bulge(svg: str) -> tuple[float, float]:
    """How far the middle of the filled shape lies right of and below the middle of the picture."""
    filled = next(one for one in read(svg).iter(f"{SVG}path") if one.get("fill") == "currentColor")
    pairs = filled.get("d", "").replace("M", " ").replace("L", " ").replace("Z", "").split()
    xs, ys = [float(x) for x in pairs[::2]], [float(y) for y in pairs[1::2]]
    return sum(xs) / len(xs) - 36, sum(ys) / len(ys) - 28


def test_ends_point_to_their_side() -> None:
    """Most points of the outline of a hemisphere lie on its round side."""
    found = {side: bulge(ALL[side, "hemisphere"]) for side in ("bottom", "top", "left", "right")}
    assert found["bottom"][1] > 5
    assert found["top"][1] < -5
    assert found["left"][0] < -5
    assert found["right"][0] > 5


def test_an_inward_end_is_the_other_way_round() -> None:
    inward = end_thumbnail("hemisphere", "bottom", title="Inward", inward=True)
    assert inward != end_thumbnail("hemisphere", "bottom", title="Inward")


def test_a_side_that_an_end_cannot_close_is_refused() -> None:
    for kind in ONLY_BELOW:
        with pytest.raises(ValueError, match="accepted is bottom"):
            end_thumbnail(kind, "top", title="")
    with pytest.raises(ValueError, match="accepted is bottom, top, left, right"):
        end_thumbnail("cone", "north", title="")


def test_titles_are_translated_and_escaped() -> None:
    assert "<title" in body_thumbnail("sphere", title="<script>")
    assert "<script>" not in body_thumbnail("sphere", title="<script>")
    assert "«Sphere»" in thumbnails(translate=lambda text: f"«{text}»")["body", "sphere"]


def test_a_size_without_room_is_refused() -> None:
    figure = Figure(((0.0, 0.0), (1.0, 0.0), (1.0, 1.0)), ())
    with pytest.raises(ValueError, match="width_px = 10: accepted is 24 or more"):
        draw_thumbnail(figure, title="", width_px=10)
