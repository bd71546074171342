"""Plane geometry of a sketch: cutting polygons, hatching them, following a ray to the wall.

Works in any units, as long as one call uses the same. Polygons are lists of points without the first one
repeated.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

from vessels.sketch.scene import Point

Polygon = list[Point]


def mirrored(profile: Sequence[Point]) -> Polygon:
    """The closed outline of a body of revolution from its half profile: up on the right, down on the left."""
    right = list(profile)
    left = [(-radius, height) for radius, height in reversed(right) if radius > 0]
    return right + left


def spans_at(polygon: Sequence[Point], height: float) -> list[tuple[float, float]]:
    """The stretches (left, right) in which a level line runs inside a polygon, from left to right.

    At a height at which edges lie level, both sides of the edge count. Empty outside the polygon's heights.
    """
    heights = [y for _, y in polygon]
    noise = 1e-9 * (max(heights) - min(heights))
    if not min(heights) - noise <= height <= max(heights) + noise:
        return []
    found = sorted(span for side in (-noise, noise) for span in _spans(polygon, height + side))
    merged: list[tuple[float, float]] = []
    for left, right in found:
        if merged and left <= merged[-1][1]:
            merged[-1] = merged[-1][0], max(merged[-1][1], right)
        else:
            merged.append((left, right))
    if merged:
        return merged
    # An apex: the line only touches.
    nearest = min(polygon, key=lambda point: abs(point[1] - height))
    return [(nearest[0], nearest[0])]


def _spans(polygon: Sequence[Point], height: float) -> list[tuple[float, float]]:
    crossings: list[float] = []
    for (x1, y1), (x2, y2) in zip(polygon, [*polygon[1:], *polygon[:1]], strict=True):
        if (y1 > height) != (y2 > height):
            crossings.append(x1 + (x2 - x1) * (height - y1) / (y2 - y1))
    crossings.sort()
    return list(zip(crossings[::2], crossings[1::2], strict=False))


def walls_at(polygon: Sequence[Point], height: float) -> Point | None:
    """The outermost left and right wall of a polygon at a height; None outside its heights."""
    spans = spans_at(polygon, height)
    return (spans[0][0], spans[-1][1]) if spans else None


def heights_at(polygon: Sequence[Point], x: float) -> Point | None:
    """The lowest and the highest point of a polygon on an upright line; None beside it."""
    spans = spans_at([(y, x_1) for x_1, y in polygon], x)
    return (spans[0][0], spans[-1][1]) if spans else None


def clipped(polygon: Sequence[Point], start: Point, end: Point) -> list[tuple[Point, Point]]:
    """The parts of a line that run inside a polygon, from its start on."""
    direction = end[0] - start[0], end[1] - start[1]
    if direction == (0, 0):
        return []
    hits = [hit for hit in _hits(polygon, start, direction) if 0 < hit < 1]
    places = [0.0, *sorted(hits), 1.0]
    parts = []
    for first, last in pairwise(places):
        middle = (first + last) / 2
        if last - first > 1e-9 and contains(polygon, _along(start, direction, middle)):
            parts.append((_along(start, direction, first), _along(start, direction, last)))
    return parts


def _along(start: Point, direction: Point, share: float) -> Point:
    return start[0] + direction[0] * share, start[1] + direction[1] * share


def under(polygon: Sequence[Point], surface: Sequence[Point]) -> list[Polygon]:
    """The parts of a polygon under a line from left to right, which goes on level beyond its ends."""
    if not surface:
        return []
    (first_x, first_y), (last_x, last_y) = surface[0], surface[-1]
    parts = [
        cut(below(polygon, first_y), 1.0, 0.0, first_x),
        cut(below(polygon, last_y), -1.0, 0.0, -last_x),
    ]
    for (x1, y1), (x2, y2) in pairwise(surface):
        if x2 > x1:
            strip = cut(cut(polygon, -1.0, 0.0, -x1), 1.0, 0.0, x2)
            slope = (y2 - y1) / (x2 - x1)
            parts.append(cut(strip, -slope, 1.0, y1 - slope * x1))
    return [part for part in parts if len(part) > 2]


def cut(polygon: Sequence[Point], a: float, b: float, c: float) -> Polygon:
    """The part of a polygon in which a·x + b·y ≤ c (Sutherland and Hodgman, one plane)."""
    kept: Polygon = []
    for (x1, y1), (x2, y2) in zip(polygon, [*polygon[1:], *polygon[:1]], strict=True):
        side_1, side_2 = a * x1 + b * y1 - c, a * x2 + b * y2 - c
        if side_1 <= 0:
            kept.append((x1, y1))
        if side_1 * side_2 < 0:
            share = side_1 / (side_1 - side_2)
            kept.append((x1 + (x2 - x1) * share, y1 + (y2 - y1) * share))
    return kept


def below(polygon: Sequence[Point], height: float) -> Polygon:
    return cut(polygon, 0.0, 1.0, height)


def above(polygon: Sequence[Point], height: float) -> Polygon:
    return cut(polygon, 0.0, -1.0, -height)


def ray_end(polygon: Sequence[Point], start: Point, direction: Point) -> Point | None:
    """Where a ray leaves the polygon for the first time; None where it never is inside."""
    (x0, y0), (dx, dy) = start, direction
    size = max(abs(x) + abs(y) for x, y in polygon) / math.hypot(dx, dy)
    hits = sorted(along for along in _hits(polygon, start, direction) if along > 1e-9 * size)
    # A corner gives the same distance twice; it is one hit.
    distinct = [hit for place, hit in enumerate(hits) if place == 0 or hit - hits[place - 1] > 1e-9 * size]
    # A start on the edge itself counts by where the ray goes from there.
    inside = contains(polygon, (x0 + dx * 1e-9 * size, y0 + dy * 1e-9 * size))
    wanted = 0 if inside else 1
    if len(distinct) <= wanted:
        return None
    return x0 + dx * distinct[wanted], y0 + dy * distinct[wanted]


def _hits(polygon: Sequence[Point], start: Point, direction: Point) -> list[float]:
    """Distances along a ray, in lengths of its direction, at which it meets the edges of a polygon."""
    (x0, y0), (dx, dy) = start, direction
    found: list[float] = []
    for (x1, y1), (x2, y2) in zip(polygon, [*polygon[1:], *polygon[:1]], strict=True):
        ex, ey = x2 - x1, y2 - y1
        cross = dx * ey - dy * ex
        if cross == 0:
            continue
        on_edge = ((x1 - x0) * dy - (y1 - y0) * dx) / cross
        if -1e-12 <= on_edge <= 1 + 1e-12:
            found.append(((x1 - x0) * ey - (y1 - y0) * ex) / cross)
    return found


def contains(polygon: Sequence[Point], point: Point) -> bool:
    """True for a point inside a polygon."""
    x, y = point
    inside = False
    for (x1, y1), (x2, y2) in zip(polygon, [*polygon[1:], *polygon[:1]], strict=True):
        if (y1 > y) != (y2 > y) and x < x1 + (x2 - x1) * (y - y1) / (y2 - y1):
            inside = not inside
    return inside


def hatch(polygon: Sequence[Point], spacing: float) -> list[tuple[Point, Point]]:
    """Lines at 45° that fill a polygon, `spacing` apart; always the same for the same polygon."""
    if len(polygon) < 3:
        return []
    step = spacing * math.sqrt(2)
    sums = [x + y for x, y in polygon]
    lines: list[tuple[Point, Point]] = []
    for number in range(math.ceil(min(sums) / step), math.floor(max(sums) / step) + 1):
        crossings = sorted(_crossings(polygon, number * step))
        for (x1, y1), (x2, y2) in zip(crossings[::2], crossings[1::2], strict=False):
            if x2 - x1 > 0.3:
                lines.append(((x1, y1), (x2, y2)))
    return lines


def _crossings(polygon: Sequence[Point], total: float) -> list[Point]:
    """Points of a polygon's edges on the line x + y = total; an edge owns its start, not its end."""
    points: list[Point] = []
    for (x1, y1), (x2, y2) in zip(polygon, [*polygon[1:], *polygon[:1]], strict=True):
        side_1, side_2 = x1 + y1 - total, x2 + y2 - total
        if (side_1 < 0) != (side_2 < 0):
            share = side_1 / (side_1 - side_2)
            points.append((x1 + (x2 - x1) * share, y1 + (y2 - y1) * share))
    return points


def dots(polygon: Sequence[Point], spacing: float, most: int = 700) -> list[Point]:
    """Points in staggered rows inside a polygon, further apart where there would be more than `most`."""
    if len(polygon) < 3:
        return []
    xs, ys = [x for x, _ in polygon], [y for _, y in polygon]
    width, height = max(xs) - min(xs), max(ys) - min(ys)
    spacing = max(spacing, math.sqrt(width * height / most))
    found: list[Point] = []
    for row in range(1, int(height / spacing) + 1):
        y = min(ys) + row * spacing
        first = min(xs) + spacing * (0.75 if row % 2 else 0.25)
        for left, right in _spans(polygon, y):
            column = math.ceil((left - first) / spacing)
            found += [(first + number * spacing, y) for number in range(column, math.ceil((right - first) / spacing))]
    return found
