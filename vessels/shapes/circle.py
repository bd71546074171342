"""The segment of a circle: the wetted cross-section of a horizontal cylinder."""

import math

import numpy as np

from vessels.shapes.convex import convex_root
from vessels.shapes.numbers import Floats

_SERIES_BELOW = 0.5  # rad; above it x − sin x has lost less than two of its digits


def segment_area(depth: Floats, radius: float) -> Floats:
    """Area of the part of a circle below a chord.

    depth   of the chord above the lowest point, 0 … 2·radius (any unit)
    radius  of the circle, same unit

    Returns the area in that unit squared, exact near empty and near full alike.
    Source: A = r²/2·(x − sin x) with the angle x of the segment, sin²(x/4) = depth/(2·r); elementary geometry.
    """
    shallow = np.minimum(depth, 2 * radius - depth)
    area = radius * radius / 2 * _less_its_sine(4 * np.arcsin(np.sqrt(np.maximum(shallow, 0.0) / (2 * radius))))
    return np.where(depth <= radius, area, math.pi * radius * radius - area)


def segment_depth(area: Floats, radius: float) -> Floats:
    """Depth of the segment that has an area: inverse of `segment_area`, good to rounding of the area."""
    whole = math.pi * radius * radius
    small = np.maximum(np.minimum(area, whole - area), 0.0)
    wanted = 2 * small / (radius * radius)
    # x − sin x is at most x³/6, so this start lies at or below the root.
    angle = convex_root(_less_its_sine, lambda x: 2 * np.sin(x / 2) ** 2, wanted, np.cbrt(6 * wanted), math.pi)
    depth = 2 * radius * np.sin(angle / 4) ** 2
    return np.where(area <= whole / 2, depth, 2 * radius - depth)


def half_chord(depth: Floats, radius: float) -> Floats:
    """Half the length of the chord at a depth above the lowest point, 0 … 2·radius."""
    return np.sqrt(np.maximum(depth * (2 * radius - depth), 0.0))


def _less_its_sine(angle: Floats) -> Floats:
    """x − sin x for 0 … 2π; by its series for small x, where the difference would lose its digits."""
    square = angle * angle
    series = np.ones_like(angle)
    for number in range(14, 2, -2):  # 1 − x²/(4·5)·(1 − x²/(6·7)·(1 − …)), up to x¹⁵/15!
        series = 1 - square / (number * (number + 1)) * series
    small: Floats = angle * square / 6 * series
    return np.where(angle < _SERIES_BELOW, small, angle - np.sin(angle))
