"""Names in a plan: each beside what it names, none over another one or over a nozzle."""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from vessels.sketch.scene import Point

Box = tuple[float, float, float, float]  # left, top, right, bottom

AROUND = 16  # directions in which a name is tried
STEPS = 7  # distances
NEAR = 4 * AROUND  # so many places are tried for one clear of lines, before lines count no more


@dataclass(frozen=True, slots=True)
class Wanted:
    """A name, the circle (px) beside which it is wanted, and the size of its text.

    is_area   the name may stand inside the circle too: it is a swept circle or a beam, no body
    """

    text: str
    at: Point
    radius_px: float
    width_px: float
    height_px: float
    is_area: bool = False


@dataclass(frozen=True, slots=True)
class Label:
    """Where a name stands: its box, and the point on its circle to which a line leads where it stands apart."""

    wanted: Wanted
    box: Box
    leader: tuple[Point, Point] | None


def place_labels(
    wanted: Sequence[Wanted],
    obstacles: Sequence[tuple[Point, float]],
    frame: Box,
    taken: Sequence[Box] = (),
    lines: Sequence[tuple[Point, Point]] = (),
) -> tuple[list[Label], float]:
    """A place for every name.

    Parameters
    ----------
    wanted     names, those that come first get the better places
    obstacles  circles (middle, radius in px) that no name covers
    frame      where names may stand
    taken      boxes that are taken already
    lines      that names keep clear of where there is room nearby

    Returns the labels, and the lowest edge (px) that they reach: below the frame only where it is full.
    """
    boxes, labels = list(taken), []
    bottom = frame[3]
    for one in wanted:
        box = _best(one, lambda box: _is_free(box, boxes, obstacles, frame), frame, lines)
        if box is None:
            box = (frame[0], bottom, frame[0] + one.width_px, bottom + one.height_px)
            bottom = box[3]
        boxes.append(box)
        labels.append(Label(one, box, _leader(one, box)))
    return labels, bottom


def _best(one: Wanted, is_free: Callable[[Box], bool], frame: Box, lines: Sequence[tuple[Point, Point]]) -> Box | None:
    """The nearest free box that no line runs through; else the nearest free one; None where the frame is full."""
    for box in islice(_candidates(one, frame), NEAR):
        if is_free(box) and not any(_crosses(box, line) for line in lines):
            return box
    return next((box for box in _candidates(one, frame) if is_free(box)), None)


def _candidates(one: Wanted, frame: Box) -> Iterator[Box]:
    """Boxes near the circle, then farther and farther away, then anywhere in the frame."""
    (x, y), gap = one.at, 0.25 * one.height_px
    order = sorted(range(AROUND), key=lambda turn: abs(math.sin(math.tau * turn / AROUND)) > 0.9)
    for step in range(STEPS):
        away = one.radius_px + gap + step * one.height_px
        for turn in order:
            dx, dy = math.cos(math.tau * turn / AROUND), -math.sin(math.tau * turn / AROUND)
            middle_x = x + dx * away + _sign(dx) * one.width_px / 2
            middle_y = y + dy * away + _sign(dy) * one.height_px / 2
            yield _box(middle_x, middle_y, one)
        if one.is_area and step == 0:
            for inward in (0.7, 0.4):
                for way in (-1, 1):
                    yield _box(x, y + way * inward * one.radius_px, one)
    rows = int((frame[3] - frame[1]) / one.height_px)
    columns = int((frame[2] - frame[0]) / max(one.width_px / 2, 1))
    grid = [
        _box(frame[0] + one.width_px * (0.5 + column / 2), frame[1] + one.height_px * (0.5 + row), one)
        for row in range(rows)
        for column in range(columns)
    ]
    yield from sorted(grid, key=lambda box: math.hypot((box[0] + box[2]) / 2 - x, (box[1] + box[3]) / 2 - y))


def _sign(value: float) -> float:
    return 0.0 if abs(value) < 0.2 else math.copysign(1.0, value)


def _box(x: float, y: float, one: Wanted) -> Box:
    return x - one.width_px / 2, y - one.height_px / 2, x + one.width_px / 2, y + one.height_px / 2


def _is_free(box: Box, boxes: Sequence[Box], obstacles: Sequence[tuple[Point, float]], frame: Box) -> bool:
    left, top, right, bottom = box
    if left < frame[0] or top < frame[1] or right > frame[2] or bottom > frame[3]:
        return False
    if any(left < other[2] and other[0] < right and top < other[3] and other[1] < bottom for other in boxes):
        return False
    for (x, y), radius in obstacles:
        near = min(max(x, left), right), min(max(y, top), bottom)
        if math.hypot(near[0] - x, near[1] - y) < radius:
            return False
    return True


def _crosses(box: Box, line: tuple[Point, Point]) -> bool:
    """True where a line runs through a box (Liang and Barsky's clipping, both axes)."""
    (x1, y1), (x2, y2) = line
    first, last = 0.0, 1.0
    for start, way, low, high in ((x1, x2 - x1, box[0], box[2]), (y1, y2 - y1, box[1], box[3])):
        if way == 0:
            if not low < start < high:
                return False
            continue
        enter, leave = sorted(((low - start) / way, (high - start) / way))
        first, last = max(first, enter), min(last, leave)
    return first < last


def _leader(one: Wanted, box: Box) -> tuple[Point, Point] | None:
    """A line from the circle to the nearest point of its name; none where the name stands beside or inside it."""
    (x, y), (left, top, right, bottom) = one.at, box
    near = min(max(x, left), right), min(max(y, top), bottom)
    distance = math.hypot(near[0] - x, near[1] - y)
    if distance <= one.radius_px + 0.6 * one.height_px:
        return None
    share = one.radius_px / distance
    return (x + (near[0] - x) * share, y + (near[1] - y) * share), near
