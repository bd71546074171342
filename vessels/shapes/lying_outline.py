"""Outlines of a lying vessel for drawing: from its side, and a horizontal section from above."""

import math

import numpy as np

from vessels.shapes.heads import Head
from vessels.shapes.lying_geometry import LyingGeometry
from vessels.shapes.lying_sections import section_curves
from vessels.shapes.outlines import CURVE_POINTS
from vessels.shapes.shape import Point

MERGED = 1e-9  # of the vessel's size: points closer than this are one


def elevation_outline(geometry: LyingGeometry) -> list[Point]:
    """A closed polygon from the side, counter-clockwise from the lowest point, the leftmost if there are several.

    The lowest and the highest point of the vessel are points of it, to the last digit.
    """
    first = _end(geometry.first, geometry.first_rim_m, -1, geometry)
    second = _end(geometry.second, geometry.second_rim_m, 1, geometry)
    # Along the bottom, round the second end, along the top, round the first end.
    lower_second, upper_second = [(x, -rho) for x, rho in second], [(x, rho) for x, rho in reversed(second)]
    upper_first, lower_first = [(x, rho) for x, rho in first], [(x, -rho) for x, rho in reversed(first)]
    places = [*lower_second, *upper_second, *upper_first, *lower_first]
    points = _merged([_seen(geometry, x, up) for x, up in places])
    start = min(range(len(points)), key=lambda number: (points[number][1], points[number][0]))
    return [*points[start:], *points[:start]]


def elevation_lines(geometry: LyingGeometry) -> list[tuple[Point, Point]]:
    """Tangent lines of heads that bulge outward, and the welds of their straight flanges."""
    lines = []
    for head, rim_m, weld_m in (
        (geometry.first, geometry.first_rim_m, -geometry.length_m / 2),
        (geometry.second, geometry.second_rim_m, geometry.length_m / 2),
    ):
        if head.is_flat or head.inward:
            continue
        for x in sorted({rim_m, weld_m}):
            lines.append((_seen(geometry, x, -geometry.radius_m), _seen(geometry, x, geometry.radius_m)))
    return lines


def section_outline(geometry: LyingGeometry, width_ratio: float, level_m: float) -> list[Point]:
    """A closed polygon of the horizontal section at a level, (x along, y across), counter-clockwise."""
    half: list[Point] = []
    curves = section_curves(geometry, level_m)
    for curve in curves:
        # A quarter of a round end is the most that one curve bends; what is straight keeps its two ends.
        x, y = curve(np.linspace(0.0, 1.0, CURVE_POINTS + 1))
        half += [(float(along), float(width_ratio * across)) for along, across in zip(x, y, strict=True)]
    half = _merged(half)
    return _without_straight(_merged([*((x, 0.0 - y) for x, y in half), *reversed(half)]))


def _end(head: Head, rim_m: float, outward: int, geometry: LyingGeometry) -> list[Point]:
    """(X, ρ) of an end from its rim to its deep end."""
    side = -outward if head.inward else outward
    places = {depth: radius for radius, depth in head.outline(CURVE_POINTS)}
    if not head.inward:
        for along in (-geometry.sine, geometry.sine):
            x, rho = geometry.farthest(along, geometry.cosine)
            depth = side * (x - rim_m)
            if 0 < depth < head.depth_m:
                places[depth] = rho
    return [(rim_m + side * depth, places[depth]) for depth in sorted(places)]


def _seen(geometry: LyingGeometry, x: float, up: float) -> Point:
    if geometry.is_level:
        return x, geometry.radius_m + up
    height = x * geometry.sine + up * geometry.cosine - geometry.lowest_m
    return x * geometry.cosine - up * geometry.sine, height


def _merged(points: list[Point]) -> list[Point]:
    """The points without those that repeat the one before, the last one being before the first."""
    size = max(abs(value) for point in points for value in point)
    kept: list[Point] = []
    for point in points:
        if not kept or max(abs(point[0] - kept[-1][0]), abs(point[1] - kept[-1][1])) > MERGED * size:
            kept.append(point)
    while len(kept) > 1 and max(abs(kept[0][0] - kept[-1][0]), abs(kept[0][1] - kept[-1][1])) <= MERGED * size:
        kept.pop()
    return kept


def _without_straight(points: list[Point]) -> list[Point]:
    """The points of a closed polygon without those on the straight line between their neighbours."""
    size = max(abs(value) for point in points for value in point)
    kept: list[Point] = []
    for number, (x1, y1) in enumerate(points):
        (x0, y0), (x2, y2) = kept[-1] if kept else points[-1], points[(number + 1) % len(points)]
        across = abs((x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0))
        if across > MERGED * size * math.hypot(x2 - x0, y2 - y0):
            kept.append((x1, y1))
    return kept
