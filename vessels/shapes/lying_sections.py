"""Horizontal sections of a lying vessel: the curves in which a liquid's surface meets its wall."""

import math
from collections.abc import Callable

import numpy as np

from vessels.shapes.heads import Head
from vessels.shapes.lying_geometry import LyingGeometry
from vessels.shapes.lying_pieces import Piece
from vessels.shapes.numbers import Floats

# Shares 0 … 1 of a curve -> x along the vessel and y ≥ 0 across it, of the circular section.
Curve = Callable[[Floats], tuple[Floats, Floats]]


def section_curves(geometry: LyingGeometry, level_m: float) -> list[Curve]:
    """The half with y ≥ 0 of what bounds the section at a level, from the first end to the second.

    Parts that the surface does not meet are left out. The other half is its mirror image.
    """
    height = level_m + geometry.lowest_m

    def across(x_along: Floats) -> Floats:
        """x in the horizontal, of places of the surface at X."""
        return np.asarray(x_along / geometry.cosine - height * geometry.slope)

    first_wet = float(geometry.depth_at_rim(np.array([level_m]), geometry.first_rim_m)[0])
    second_wet = float(geometry.depth_at_rim(np.array([level_m]), geometry.second_rim_m)[0])
    first = _end_curves(
        geometry.first, geometry.first_pieces, first_wet, geometry.slope,
        lambda u: across(geometry.first_rim_m + u), -1,
    )  # fmt: skip
    second = _end_curves(
        geometry.second, geometry.second_pieces, second_wet, -geometry.slope,
        lambda u: across(geometry.second_rim_m + u), 1,
    )  # fmt: skip
    shell = _shell_curve(geometry, first_wet, across)
    return [*(_reversed(curve) for curve in reversed(first)), *shell, *second]


def _shell_curve(geometry: LyingGeometry, wet: float, across: Callable[[Floats], Floats]) -> list[Curve]:
    slope, diameter, length = geometry.slope, 2 * geometry.radius_m, geometry.shell_m
    low, high = 0.0, length
    if slope != 0:
        low, high = sorted(min(max(depth / slope, 0.0), length) for depth in (wet, wet - diameter))
    if high <= low or (slope == 0 and not 0 < wet < diameter):
        return []

    def curve(shares: Floats) -> tuple[Floats, Floats]:
        from_rim = low + (high - low) * np.sin(math.pi / 2 * shares) ** 2
        depth = np.clip(wet - slope * from_rim, 0.0, diameter)
        return across(geometry.first_rim_m + from_rim), np.sqrt(depth * (diameter - depth))

    return [curve]


def _end_curves(
    head: Head, pieces: tuple[Piece, ...], wet: float, slope: float, across: Callable[[Floats], Floats], outward: int
) -> list[Curve]:
    """Curves of an end from its rim inward to its axis; `slope` is that of the depth for 1 m outward."""
    diameter = 2 * head.radius_m
    if head.is_flat:
        return _disc(diameter, wet, lambda shares: across(0 * shares))
    side = -outward if head.inward else outward
    inclined = -slope if head.inward else slope

    def outside(depths: Floats) -> Floats:
        return across(side * depths)

    curves: list[Curve] = []
    for piece in pieces:
        arc = piece.arc
        narrower = head.radius_m - arc.outer_radius_m
        f = wet + inclined * arc.outer_depth_m - narrower
        g = diameter - wet - inclined * arc.outer_depth_m - narrower
        window = piece.window(np.array([f]), np.array([g]), inclined)
        low, high = float(window.low[0]), float(window.high[0])
        if high > low:
            curves.append(_piece_curve(piece, (low, high), (f, g), inclined, outside))
    narrower = head.radius_m - head.outlet_radius_m
    at_outlet = wet + inclined * head.depth_m - narrower
    curves += _disc(2 * head.outlet_radius_m, at_outlet, lambda shares: outside(head.depth_m + 0 * shares))
    return curves


def _piece_curve(
    piece: Piece,
    limits: tuple[float, float],
    depths: tuple[float, float],
    slope: float,
    across: Callable[[Floats], Floats],
) -> Curve:
    def curve(shares: Floats) -> tuple[Floats, Floats]:
        s = limits[0] + (limits[1] - limits[0]) * np.sin(math.pi / 2 * shares) ** 2
        depth, _, less = piece.at(s)
        wet, dry = depths[0] + slope * depth - less, depths[1] - slope * depth - less
        half = np.sqrt(np.maximum(wet, 0.0) * np.maximum(dry, 0.0))
        return across(piece.arc.outer_depth_m + depth), half

    return curve


def _disc(diameter: float, wet: float, place: Callable[[Floats], Floats]) -> list[Curve]:
    """The chord in a flat disc, from the rim to the middle."""
    if not 0 < wet < diameter:
        return []
    half = math.sqrt(wet * (diameter - wet))
    return [lambda shares: (place(shares), half * (1 - shares))]


def _reversed(curve: Curve) -> Curve:
    return lambda shares: curve(1 - shares)
