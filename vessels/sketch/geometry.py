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


def half_width(profile: Sequence[Point], height: float) -> float | None:
    """Radius of a profile at a height; the larger one on a horizontal step; None outside its heights."""
    found: list[float] = []
    for (radius_1, height_1), (radius_2, height_2) in pairwise(profile):
        low, high = min(height_1, height_2), max(height_1, height_2)
        if low <= height <= high:
            if high == low:
                found += [radius_1, radius_2]
            else:
                found.append(radius_1 + (radius_2 - radius_1) * (height - height_1) / (height_2 - height_1))
    return max(found) if found else None


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
    inside = _contains(polygon, (x0 + dx * 1e-9 * size, y0 + dy * 1e-9 * size))
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


def _contains(polygon: Sequence[Point], point: Point) -> bool:
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
        shift = spacing * (0.75 if row % 2 else 0.25)
        for column in range(int(width / spacing) + 1):
            point = (min(xs) + shift + column * spacing, y)
            if _contains(polygon, point):
                found.append(point)
    return found
