"""The plan of a vessel as one SVG element: seen from above, to scale, plant north up."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from vessels.sketch.elevation import draw_notes, draw_nothing, refuse_small, svg_element
from vessels.sketch.geometry import cut
from vessels.sketch.layout import MARGIN_PX
from vessels.sketch.pen import PRINT, SCREEN, Attributes, Pen, Style
from vessels.sketch.plan_labels import Box, Wanted, place_labels
from vessels.sketch.plan_parts import draw_internal, draw_mark, draw_nozzle, draw_stub
from vessels.sketch.plan_scene import PlanScene
from vessels.sketch.scene import Point
from vessels.sketch.text_width import shorten, text_width_em, wrap

AROUND = 36.0  # units kept free at each side for names and stubs
NORTH_WIDTH, NORTH_HEIGHT = 18.0, 34.0  # units
LONGEST_NAME_EM = 12.0
LEAST_BORE = 2.5  # units: radius of a nozzle whose bore is not known or too small to be seen
LEAST_INTERNAL = 3.0
AREAS = ("agitator", "coil")  # their circles surround what else stands there


def draw_plan(
    scene: PlanScene,
    *,
    width_px: float = 360,
    height_px: float = 360,
    for_print: bool = False,
    id_prefix: str = "plan",
) -> str:
    """The plan of a scene, to scale, as an SVG element.

    Parameters
    ----------
    scene      what to draw; what is missing is left out, and without an outline the plan is a short text
    width_px   width of the drawing; at least 320, in print 240
    height_px  greatest height, at least 160: the drawing is lower where the vessel is long and lies across, and higher
               only where names or notes have no other room
    for_print  finer lines and smaller letters
    id_prefix  begins the ids of title and description; differs between two drawings on one page

    Returns
    -------
    An `<svg>` like that of `draw_elevation`, with a group with `data-place` for each thing drawn.

    Raises
    ------
    ValueError for a width or height below the least.
    """
    refuse_small(width_px, height_px, for_print)
    pen = Pen(PRINT if for_print else SCREEN)
    if not scene.outline:
        height = draw_nothing(pen, scene.no_vessel, width_px)
    else:
        height = _draw(pen, scene, _board(scene, pen.style, width_px, height_px))
    return svg_element(pen.svg(), scene, width_px, height, id_prefix, "plan")


@dataclass(frozen=True, slots=True)
class Board:
    """Where the plan stands: px of its middle, px per metre, and the frame in which names may stand."""

    style: Style
    unit: float
    middle: Point
    scale: float
    frame: Box
    width_px: float

    def point(self, place: Point) -> Point:
        return self.middle[0] + place[0] * self.scale, self.middle[1] - place[1] * self.scale

    def points(self, places: Sequence[Point]) -> list[Point]:
        return [self.point(place) for place in places]


def _largest_m(scene: PlanScene) -> float:
    """More than the vessel's own radius; what is wider is a slip, which a check tells."""
    return max(abs(x) + abs(y) for x, y in scene.outline)


def _reach(scene: PlanScene) -> tuple[float, float, float, float]:
    """West, south, east and north ends (m) of all that is drawn."""
    points = list(scene.outline)
    for at, width_m in [
        *((one.at, one.bore_m) for one in scene.nozzles),
        *((one.at, one.width_m) for one in scene.internals),
        *((one.at, None) for one in scene.marks),
        *([(scene.footprint.at, None)] if scene.footprint is not None else []),
    ]:
        half = min((width_m or 0.0) / 2, _largest_m(scene))
        points += [(at[0] - half, at[1] - half), (at[0] + half, at[1] + half)]
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def _board(scene: PlanScene, style: Style, width_px: float, height_px: float) -> Board:
    unit = style.text_px / 12
    around = AROUND * unit + MARGIN_PX
    notes_px = len(_written(scene, style, width_px)) * style.small_px * 1.3 + 2 * MARGIN_PX
    west, south, east, north = _reach(scene)
    room = width_px - 2 * around, max(height_px - notes_px - around - MARGIN_PX - 24 * unit, 60 * unit)
    scale = min(room[0] / (east - west), room[1] / (north - south))
    top = MARGIN_PX + 24 * unit
    middle = width_px / 2 - (east + west) / 2 * scale, top + north * scale
    bottom = top + (north - south) * scale + 24 * unit
    return Board(style, unit, middle, scale, (MARGIN_PX, MARGIN_PX, width_px - MARGIN_PX, bottom), width_px)


def _written(scene: PlanScene, style: Style, width_px: float) -> list[str]:
    return wrap(" ".join(scene.notes), (width_px - 2 * MARGIN_PX) / style.small_px)


def _draw(pen: Pen, scene: PlanScene, board: Board) -> float:
    """Draws everything; returns the height of the drawing."""
    style = pen.style
    if scene.footprint is not None:
        _draw_footprint(pen, scene, board)
    _draw_centre(pen, scene, board)
    for one in scene.internals:
        with pen.group(data_place=one.place, class_=f"plan-internal plan-{one.kind}"):
            pen.title(one.name)
            draw_internal(pen, board.point(one.at), one, _half(one.width_m, scene, board, LEAST_INTERNAL))
    with pen.group(data_place="shell", class_="plan-shell"):
        thin: Attributes = {"stroke": style.quiet, "stroke_width": style.hair_px * 1.2}
        pen.lines([(board.point(start), board.point(end)) for start, end in scene.edges], **thin)
        for polygon in scene.inner:
            pen.polygon(board.points(polygon), **thin)
        pen.polygon(board.points(scene.outline), stroke=style.ink, stroke_width=style.outline_px)
    for mark in scene.marks:
        with pen.group(data_place=mark.place, class_="plan-mark"):
            draw_mark(pen, board.point(mark.at), mark.kind)
    for stub in scene.stubs:
        with pen.group(data_place=stub.place, class_="plan-nozzle"):
            draw_stub(pen, board.point(stub.wall), stub.direction, (stub.bore_m or 0.0) / 2 * board.scale)
    for nozzle in scene.nozzles:
        with pen.group(data_place=nozzle.place, class_="plan-nozzle"):
            draw_nozzle(
                pen, board.point(nozzle.at), _half(nozzle.bore_m, scene, board, LEAST_BORE), used=nozzle.is_used
            )
    bottom = _draw_names(pen, scene, board, _draw_north(pen, scene, board))
    draw_notes(pen, _written(scene, style, board.width_px), bottom)
    return bottom + 2 * MARGIN_PX + len(_written(scene, style, board.width_px)) * style.small_px * 1.3


def _half(width_m: float | None, scene: PlanScene, board: Board, least: float) -> float:
    """Half a width or bore (px), at least so many units."""
    return max(min((width_m or 0.0) / 2, _largest_m(scene)) * board.scale, least * board.unit)


def _draw_centre(pen: Pen, scene: PlanScene, board: Board) -> None:
    beyond = 7 * board.unit
    lines = []
    for start, end in scene.centre:
        (x1, y1), (x2, y2) = board.point(start), board.point(end)
        length = math.hypot(x2 - x1, y2 - y1) or 1.0
        dx, dy = (x2 - x1) / length * beyond, (y2 - y1) / length * beyond
        lines.append(((x1 - dx, y1 - dy), (x2 + dx, y2 + dy)))
    dashes = " ".join(f"{part * board.unit:.1f}" for part in (12, 2.5, 2, 2.5))
    pen.lines(lines, stroke=pen.style.faint, stroke_width=pen.style.hair_px, stroke_dasharray=dashes)


def _draw_footprint(pen: Pen, scene: PlanScene, board: Board) -> None:
    """The circle that a beam covers; what of it lies outside the drawing is left out."""
    if scene.footprint is None or not _covers_a_part(scene):
        return
    (x, y), radius = board.point(scene.footprint.at), scene.footprint.radius_m * board.scale
    left, top, right, bottom = board.frame
    turns = [math.tau * number / 120 for number in range(121)]
    circle = [(x + radius * math.cos(turn), y + radius * math.sin(turn)) for turn in turns]
    parts: list[list[Point]] = [[]]
    for px, py in circle:
        if left <= px <= right and top <= py <= bottom:
            parts[-1].append((px, py))
        elif parts[-1]:
            parts.append([])
    style = pen.style
    with pen.group(data_place=scene.footprint.place, class_="plan-beam"):
        pen.polygon(_within(circle, board.frame), fill=style.ink, fill_opacity=0.05)
        for part in parts:
            if len(part) > 1:
                pen.polyline(part, stroke=style.ink, stroke_width=style.hair_px,
                             stroke_dasharray=f"{9 * board.unit:.1f} {2 * board.unit:.1f} {2 * board.unit:.1f} "
                                              f"{2 * board.unit:.1f}")  # fmt: skip


def _within(polygon: Sequence[Point], frame: Box) -> list[Point]:
    """The part of a polygon in a frame."""
    left, top, right, bottom = frame
    return cut(cut(cut(cut(polygon, 1, 0, right), -1, 0, -left), 0, 1, bottom), 0, -1, -top)


def _covers_a_part(scene: PlanScene) -> bool:
    """False for a beam that is wider than anything drawn: its circle would lie outside the drawing."""
    return scene.footprint is not None and scene.footprint.radius_m < 8 * _largest_m(scene)


def _draw_north(pen: Pen, scene: PlanScene, board: Board) -> Box:
    """A small arrow at the top right with its letter; returns its box."""
    unit, style = board.unit, pen.style
    right, top = board.frame[2], board.frame[1]
    x, foot = right - NORTH_WIDTH / 2 * unit, top + NORTH_HEIGHT * unit
    tip = top + style.small_px * 1.1
    with pen.group(data_place="north", class_="plan-north"):
        pen.text(x, top + style.small_px * 0.8, shorten(scene.north, 3.0), text_anchor="middle",
                 font_size=style.small_px, font_weight=600)  # fmt: skip
        pen.lines([((x, tip), (x, foot))], stroke=style.ink, stroke_width=style.mark_px)
        pen.polygon([(x, tip), (x - 4 * unit, tip + 10 * unit), (x, tip + 7.5 * unit)], fill=style.ink)
        pen.polygon([(x, tip), (x + 4 * unit, tip + 10 * unit), (x, tip + 7.5 * unit)], fill="#ffffff",
                    stroke=style.ink, stroke_width=style.hair_px)  # fmt: skip
    half = max(NORTH_WIDTH / 2 * unit, text_width_em(shorten(scene.north, 3.0), bold=True) * style.small_px / 2)
    return x - half, top, right, foot


def _lines(scene: PlanScene, board: Board) -> list[tuple[Point, Point]]:
    """Lines that names keep clear of where they can: outlines, and the circles of what sweeps or covers an area."""
    polygons = [board.points(polygon) for polygon in (scene.outline, *scene.inner)]
    circles = [
        (one.at, _half(one.width_m, scene, board, LEAST_INTERNAL)) for one in scene.internals if one.kind in AREAS
    ]
    if scene.footprint is not None and _covers_a_part(scene):
        circles.append((scene.footprint.at, scene.footprint.radius_m * board.scale))
    for at, radius in circles:
        x, y = board.point(at)
        turns = [math.tau * number / 36 for number in range(36)]
        polygons.append([(x + radius * math.cos(turn), y + radius * math.sin(turn)) for turn in turns])
    lines = [board.points(edge) for edge in scene.edges]
    closed = [pairwise([*polygon, polygon[0]]) for polygon in polygons]
    return [(start, end) for start, end in lines] + [pair for pairs in closed for pair in pairs]


def _draw_names(pen: Pen, scene: PlanScene, board: Board, north: Box) -> float:
    """Names beside what they name; returns the lower edge of the drawing."""
    style, unit = pen.style, board.unit
    wanted: list[Wanted] = []
    obstacles: list[tuple[Point, float]] = []

    def want(text: str, at: Point, radius: float, *, is_area: bool = False) -> None:
        shown = shorten(text, LONGEST_NAME_EM)
        if shown:
            width = text_width_em(shown) * style.text_px + 3 * unit
            wanted.append(Wanted(shown, at, radius, width, style.text_px * 1.15, is_area))
        if not is_area:
            obstacles.append((at, radius))

    for nozzle in scene.nozzles:
        want(nozzle.label, board.point(nozzle.at), _half(nozzle.bore_m, scene, board, LEAST_BORE) + 2.5 * unit)
    for stub in scene.stubs:
        (x, y), (dx, dy) = board.point(stub.wall), stub.direction
        want(stub.label, (x + 9 * unit * dx, y - 9 * unit * dy), 7 * unit)
    for mark in scene.marks:
        want(mark.label, board.point(mark.at), 9 * unit)
    for one in scene.internals:
        is_area = one.kind in AREAS
        want(one.name, board.point(one.at), _half(one.width_m, scene, board, LEAST_INTERNAL) + unit, is_area=is_area)
    if scene.footprint is not None and _covers_a_part(scene):
        want(scene.footprint.label, board.point(scene.footprint.at), scene.footprint.radius_m * board.scale,
             is_area=True)  # fmt: skip
    labels, bottom = place_labels(wanted, obstacles, board.frame, [north], _lines(scene, board))
    for label in labels:
        if label.leader is not None:
            pen.lines([label.leader], stroke=style.faint, stroke_width=style.hair_px)
    for label in labels:
        left, top, right, bottom_px = label.box
        pen.rectangle(left, top, right - left, bottom_px - top, fill="#ffffff", fill_opacity=0.7)
        pen.text((left + right) / 2, top + style.text_px * 0.88, label.wanted.text, text_anchor="middle",
                 font_size=style.text_px)  # fmt: skip
    return bottom
