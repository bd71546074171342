"""Dimension lines at a slant, along the sides of a tilted vessel, and the mark of its tilt."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import TYPE_CHECKING

from vessels.sketch.extent import Sizes, slant_line
from vessels.sketch.geometry import contains
from vessels.sketch.pen import Attributes, Pen, Style
from vessels.sketch.scene import Point, Slant, Tilt
from vessels.sketch.text_width import text_width_em

if TYPE_CHECKING:
    from vessels.sketch.layout import Layout

READ_UP_DEG = 65.0  # a line that falls more steeply than this is read upwards, from the right
LEAST_ARC_PX = 5.0  # an angle whose arc is lower than this is left to the note


@dataclass(frozen=True, slots=True)
class PlacedSlant:
    """A slanted dimension in px from the axis and from elevation 0, down the page.

    start, end     of the dimension line
    feet           where the extension lines begin
    text_middle    middle of the baseline; turn_deg turns the text about it
    corners        of the rectangle around the text
    tails          ends of the line with its arrows, which stand outside where the dimension is short
    """

    slant: Slant
    start: Point
    end: Point
    feet: tuple[Point, Point]
    text_middle: Point
    turn_deg: float
    corners: tuple[Point, ...]
    tails: tuple[Point, Point]

    @property
    def _points(self) -> tuple[Point, ...]:
        return (*self.tails, *self.feet, *self.corners)

    @property
    def left_px(self) -> float:
        return min(x for x, _ in self._points)

    @property
    def right_px(self) -> float:
        return max(x for x, _ in self._points)

    def below_px(self, bottom_px: float) -> float:
        """How far it reaches below an elevation, given as px above elevation 0."""
        return max(y for _, y in self._points) + bottom_px

    def above_px(self, top_px: float) -> float:
        """How far it reaches above an elevation, given as px above elevation 0."""
        return -min(y for _, y in self._points) - top_px


def slants_room(slants: Sequence[Slant], style: Style, sizes: Sizes) -> float:
    """Room (px) beside the vessel for slanted dimensions, in two rows."""
    return sizes.gap + sizes.pitch + style.text_px * 1.3 + 3 * sizes.unit if slants else 0.0


def place_slants(
    slants: Sequence[Slant], style: Style, sizes: Sizes, scale: tuple[float, float]
) -> tuple[PlacedSlant, ...]:
    """Slanted dimensions; one that is too short for its text stands in a row further out."""
    found: list[PlacedSlant] = []
    taken: list[tuple[float, int, float, float]] = []  # direction, row, text from, text to
    for slant in slants:
        start, end = ((x * scale[0], -y * scale[1]) for x, y in slant_line(slant))
        length = math.hypot(end[0] - start[0], end[1] - start[1])
        along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length) if length else (1.0, 0.0)
        text_px = text_width_em(slant.value) * style.text_px + 2
        middle = (start[0] + end[0]) / 2 * along[0] + (start[1] + end[1]) / 2 * along[1]
        first, last = middle - text_px / 2, middle + text_px / 2
        direction, row = math.atan2(along[1], along[0]), int(text_px + 2 * style.arrow_px > length)
        beside = [one for one in taken if abs(direction - one[0]) < 1e-6]
        while any(row == one[1] and first < one[3] and one[2] < last for one in beside):
            row += 1
        taken.append((direction, row, first, last))
        found.append(_placed(slant, (start, end), along, sizes.gap + row * sizes.pitch, style, sizes, scale))
    return tuple(found)


def texts_collide(slants: Sequence[PlacedSlant]) -> bool:
    """True where texts of different sides meet: the vessel is too small for them."""
    return any(_overlap(one.corners, other.corners) for one, other in combinations(slants, 2))


def _overlap(first: Sequence[Point], second: Sequence[Point]) -> bool:
    """Two convex polygons meet unless one of their sides parts them."""
    for polygon in (first, second):
        for (x1, y1), (x2, y2) in pairwise([*polygon, polygon[0]]):
            one, other = ([x * (y2 - y1) - y * (x2 - x1) for x, y in points] for points in (first, second))
            if max(one) <= min(other) or max(other) <= min(one):
                return False
    return True


def _placed(
    slant: Slant,
    line: tuple[Point, Point],
    along: Point,
    away: float,
    style: Style,
    sizes: Sizes,
    scale: tuple[float, float],
) -> PlacedSlant:
    right = -along[1], along[0]  # on the page, where y counts downwards
    start, end = (_moved(point, right, away) for point in line)
    turn = math.degrees(math.atan2(along[1], along[0]))
    turn = (turn - READ_UP_DEG) % 180 + READ_UP_DEG - 180
    down = -math.sin(math.radians(turn)), math.cos(math.radians(turn))
    outwards = down[0] * right[0] + down[1] * right[1] > 0
    base = style.text_px * 0.82 + 3 * sizes.unit if outwards else 3 * sizes.unit
    middle = _moved(((start[0] + end[0]) / 2, (start[1] + end[1]) / 2), right, base)
    half = text_width_em(slant.value) * style.text_px / 2
    way = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    corners = tuple(
        _moved(_moved(middle, way, side * half), down, drop * style.text_px)
        for side, drop in ((-1, -0.8), (1, -0.8), (1, 0.25), (-1, 0.25))
    )
    feet = tuple((x * scale[0], -y * scale[1]) for x, y in (slant.start, slant.end))
    tail = _tail(math.hypot(end[0] - start[0], end[1] - start[1]), style)
    tails = _moved(start, along, -tail), _moved(end, along, tail)
    return PlacedSlant(slant, start, end, (feet[0], feet[1]), middle, turn, corners, tails)


def _tail(length: float, style: Style) -> float:
    """How far the line goes on beyond its ends: 0 where the arrows have room between them."""
    return 1.6 * style.arrow_px if length < 2 * style.arrow_px + 3 else 0.0


def _moved(point: Point, direction: Point, by: float) -> Point:
    return point[0] + direction[0] * by, point[1] + direction[1] * by


def draw_slants(pen: Pen, layout: "Layout") -> None:
    """Lines with arrows, extension lines, and texts along them."""
    style, unit = pen.style, layout.sizes.unit
    hair: Attributes = {"stroke": style.quiet, "stroke_width": style.hair_px}
    origin = layout.point((0.0, 0.0))

    def at(point: Point) -> Point:
        return origin[0] + point[0], origin[1] + point[1]

    for placed in layout.slants:
        start, end = at(placed.start), at(placed.end)
        length = math.hypot(end[0] - start[0], end[1] - start[1]) or 1.0
        along = (end[0] - start[0]) / length, (end[1] - start[1]) / length
        right, outside = (-along[1], along[0]), _tail(length, style) > 0
        with pen.group(data_place=placed.slant.place, class_="elevation-dimension"):
            feet = [(_moved(at(foot), right, 2 * unit), _moved(tip, right, 3 * unit))
                    for foot, tip in zip(placed.feet, (start, end), strict=True)]  # fmt: skip
            pen.lines(feet, stroke=style.faint, stroke_width=style.hair_px)
            pen.lines([(at(placed.tails[0]), at(placed.tails[1]))], **hair)
            way = 1.0 if outside else -1.0
            pen.arrow(start, (along[0] * way, along[1] * way))
            pen.arrow(end, (-along[0] * way, -along[1] * way))
            x, y = at(placed.text_middle)
            pen.text(x, y, placed.slant.value, text_anchor="middle", font_size=style.text_px,
                     transform=f"rotate({placed.turn_deg:.2f} {x:.2f} {y:.2f})")  # fmt: skip


def draw_tilt(pen: Pen, layout: "Layout", tilt: Tilt) -> None:
    """An arc between a level line and the vessel's axis, with the angle; nothing where it is too small to be seen."""
    axis = layout.shell.axis
    if axis is None:
        return
    style, unit = pen.style, layout.sizes.unit
    (x1, y1), (x2, y2) = (layout.point(point) for point in axis)
    middle, half = ((x1 + x2) / 2, (y1 + y2) / 2), math.hypot(x2 - x1, y2 - y1) / 2
    shown = math.atan2(y1 - y2, x2 - x1)  # of the drawing, which may be stretched
    way = 1.0 if shown >= 0 else -1.0  # towards the higher end
    radius = 0.6 * half
    width = text_width_em(tilt.value) * style.text_px
    x, y = middle[0] + way * radius / 2, middle[1] + style.text_px * 1.05
    box = [(x + side * (width / 2 + 2), y + drop * style.text_px) for side in (-1, 1) for drop in (-0.8, 0.25)]
    inside = [layout.point(point) for point in layout.shell.outline]
    if radius * abs(math.sin(shown)) < LEAST_ARC_PX or not all(contains(inside, corner) for corner in box):
        return
    arc = [(middle[0] + way * radius * math.cos(step * abs(shown) / 12),
            middle[1] - radius * math.sin(step * abs(shown) / 12)) for step in range(13)]  # fmt: skip
    hair: Attributes = {"stroke": style.quiet, "stroke_width": style.hair_px}
    with pen.group(data_place=tilt.place, class_="elevation-tilt"):
        pen.lines([(middle, (middle[0] + way * (radius + 6 * unit), middle[1]))], **hair)
        pen.lines(list(pairwise(arc)), **hair)
        # Below the level line, clear of arc and axis; lines of levels stop short of it.
        pen.rectangle(x - width / 2 - 2, y - style.text_px * 0.8, width + 4, style.text_px * 1.05, fill="#ffffff",
                      fill_opacity=0.85)  # fmt: skip
        pen.text(x, y, tilt.value, text_anchor="middle", font_size=style.text_px)
