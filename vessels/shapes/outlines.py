"""Polygons for drawing."""

import math

Points = list[tuple[float, float]]

CURVE_POINTS = 24  # on a quarter of a curve; off a circle by 0.05 % of its radius


def ellipse_points(half_width_m: float, half_height_m: float, centre_height_m: float = 0.0) -> Points:
    """A closed polygon on an ellipse about (0, centre height), counter-clockwise from its lowest point.

    Its four vertices are points of it to the last digit, and both halves are alike.
    """
    angles = [math.pi / 2 * step / CURVE_POINTS for step in range(1, CURVE_POINTS)]
    # Heights above the lowest point, written so that they keep their digits there.
    quarter = [(half_width_m * math.sin(angle), 2 * half_height_m * math.sin(angle / 2) ** 2) for angle in angles]
    lower = [(0.0, 0.0), *quarter, (half_width_m, half_height_m)]
    right = [*lower, *((x, 2 * half_height_m - height) for x, height in reversed(lower[:-1]))]
    left = [(-x, height) for x, height in reversed(right[1:-1])]
    lowest = centre_height_m - half_height_m
    return [(x, lowest + height) for x, height in [*right, *left]]


def turned(right: Points) -> Points:
    """A closed polygon from its right half, given from the axis below to the axis above, and the same mirrored.

    It begins at its lowest point, the leftmost if there are several, and goes counter-clockwise.
    """
    points = [*right, *((-x, height) for x, height in reversed(right) if x > 0)]
    first = min(range(len(points)), key=lambda number: (points[number][1], points[number][0]))
    return [*points[first:], *points[:first]]
