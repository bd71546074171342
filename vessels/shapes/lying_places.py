"""Places in a lying vessel: how far a vertical line can stand from the middle, where it meets bottom and roof, and how
far it stands from the wall at a level.

Places are (x, y) in the vessel's own axes, along and across it, from mid-length; y is that of the circular section,
which an oval one stretches by `width_ratio`. Of an inward head the outside of the shell counts for bottom and roof: the
shell goes on beside it, below and above.
"""

import math
from collections.abc import Callable
from functools import lru_cache

import numpy as np

from vessels.shapes.lying_geometry import LyingGeometry
from vessels.shapes.lying_sections import Curve, section_curves
from vessels.shapes.numbers import NOISE, Floats

GOLDEN = (math.sqrt(5) - 1) / 2
GOLDEN_STEPS = 80  # after that nothing is left of the bracket
HALVINGS = 55
SHARES: Floats = np.linspace(0.0, 1.0, 49)  # at which a curve is looked at first

Function = Callable[[Floats], Floats]


def least_at(function: Function, low: Floats, high: Floats, enough: float = -math.inf) -> Floats:
    """Where functions of one valley each are least between two limits, by the golden section; arrays in, arrays out.

    enough  a value that will do: a search ends once it has come down to it. Each ends by itself, so that it comes out
            the same alone and among others.
    """
    left, right = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    at_left, at_right = function(left), function(right)
    for _ in range(GOLDEN_STEPS):
        moving = np.minimum(at_left, at_right) > enough
        if not np.any(moving):
            break
        keep_left = at_left < at_right
        low, high = np.where(moving & ~keep_left, left, low), np.where(moving & keep_left, right, high)
        new = np.where(keep_left, high - GOLDEN * (high - low), low + GOLDEN * (high - low))
        at_new = function(new)
        next_left, next_right = np.where(keep_left, new, right), np.where(keep_left, left, new)
        at_next_left, at_next_right = np.where(keep_left, at_new, at_right), np.where(keep_left, at_left, at_new)
        left, right = np.where(moving, next_left, left), np.where(moving, next_right, right)
        at_left, at_right = np.where(moving, at_next_left, at_left), np.where(moving, at_next_right, at_right)
    return np.where(at_left < at_right, left, right)


@lru_cache(maxsize=512)
def reach_m(geometry: LyingGeometry, width_ratio: float, along: float, across: float) -> float:
    """How far a vertical line can stand from mid-length in a direction, and still pass through the inside.

    The shadow of the vessel is convex. In no direction ψ it goes further than its support h(ψ), so that the reach in
    the direction β is the least of h(ψ)/cos(ψ − β). Source: convex geometry (gauge and support function).
    """
    on_axis = abs(across) <= NOISE
    direction = math.atan2(across, along) if not on_axis else 0.0 if along > 0 else math.pi

    def limit(turn: float) -> float:
        cosine = math.cos(direction + turn)
        n_across = math.hypot(width_ratio * math.sin(direction + turn), cosine * geometry.sine)
        x, rho = geometry.farthest(cosine * geometry.cosine, n_across)
        return (cosine * geometry.cosine * x + n_across * rho) / math.cos(turn)

    if on_axis:
        return limit(0.0)
    nearly = math.pi / 2 * (1 - 1e-12)
    turn = least_at(np.vectorize(limit, otypes=[float]), np.array([-nearly]), np.array([nearly]))
    return min(limit(float(turn[0])), limit(0.0))


def vertical_extent_m(geometry: LyingGeometry, x_m: Floats, y_m: Floats) -> tuple[Floats, Floats]:
    """Heights above the lowest inside point at which vertical lines at these places enter and leave the inside."""
    if geometry.is_level:
        radii = geometry.hull_radius_m(x_m)
        half = np.sqrt(np.maximum((radii - y_m) * (radii + y_m), 0.0))
        # R − half, written so that it keeps its digits on the lowest line.
        sums = np.maximum(radii + half, np.finfo(np.float64).tiny)
        bottom = (geometry.radius_m - radii) + y_m * y_m / sums
        return np.minimum(bottom, geometry.radius_m + half), geometry.radius_m + half
    sine, cosine, steep = geometry.sine, geometry.cosine, 1 + 2 / abs(geometry.slope)

    def outside(heights: Floats) -> Floats:
        """0 or less inside; on each vertical line a function of one valley, because the hull is convex."""
        along, up = x_m * cosine + heights * sine, heights * cosine - x_m * sine
        beyond = np.maximum(np.maximum(geometry.hull_from_m - along, along - geometry.hull_to_m), 0.0)
        radii = np.where(beyond > 0, -steep * beyond, geometry.hull_radius_m(along))
        return np.asarray(np.hypot(up, y_m) - radii)

    low, high = np.full_like(x_m, geometry.lowest_m), np.full_like(x_m, geometry.highest_m)
    inside = least_at(outside, low, high, enough=0.0)
    # At the reach itself the line only touches the vessel, and rounding decides.
    touching = outside(inside) > 0
    within, beyond = np.array([inside, inside]), np.where(touching, inside, np.array([low, high]))
    for _ in range(HALVINGS):
        middle = (within + beyond) / 2
        is_in = outside(middle) <= 0
        within, beyond = np.where(is_in, middle, within), np.where(is_in, beyond, middle)
    bottom, roof = np.clip(within - geometry.lowest_m, 0.0, geometry.height_m)
    return bottom, roof


def is_inside(geometry: LyingGeometry, level_m: float, x_m: float, y_m: float) -> bool:
    """Whether a place at a level is in the vessel, on its wall included."""
    height = level_m + geometry.lowest_m
    along = x_m * geometry.cosine + height * geometry.sine
    off_axis = math.hypot(height * geometry.cosine - x_m * geometry.sine, y_m)
    noise = NOISE * max(geometry.height_m, geometry.hull_to_m - geometry.hull_from_m)
    if not geometry.hull_from_m - noise <= along <= geometry.hull_to_m + noise:
        return False
    within_hull = np.clip(np.array([along]), geometry.hull_from_m, geometry.hull_to_m)
    if off_axis > float(geometry.hull_radius_m(within_hull)[0]) + noise:
        return False
    for head, from_rim in (
        (geometry.first, along - geometry.first_rim_m),
        (geometry.second, geometry.second_rim_m - along),
    ):
        depth = np.array([max(from_rim, 0.0)])
        if head.inward and from_rim < head.depth_m and off_axis < float(head.radius_at_m(depth)[0]) - noise:
            return False
    return True


@lru_cache(maxsize=20_000)  # a beam is followed down the same vessel whenever one of its inputs is typed
def wall_distance_m(geometry: LyingGeometry, width_ratio: float, level_m: float, x_m: float, y_m: float) -> float:
    """Horizontal distance from a place to the nearest wall at a level; NaN where the place is not inside there.

    x_m, y_m  the place, y of the true section, an oval one included

    The nearest point of each curve of the section is found by golden section between points looked at first.
    """
    if not is_inside(geometry, level_m, x_m, y_m / width_ratio):
        return math.nan
    curves = section_curves(geometry, level_m)
    place = x_m, abs(y_m)
    nearest = min((float(np.min(_distances(curve, width_ratio, place, SHARES))) for curve in curves), default=0.0)
    for curve in curves:
        nearest = min(nearest, _least(curve, width_ratio, place, nearest))
    return nearest


def _distances(curve: Curve, width_ratio: float, place: tuple[float, float], shares: Floats) -> Floats:
    x, y = curve(shares)
    return np.hypot(x - place[0], width_ratio * y - place[1])


def _least(curve: Curve, width_ratio: float, place: tuple[float, float], known: float) -> float:
    """The least distance from a place to a curve, or what is known, where that is less."""
    first = _distances(curve, width_ratio, place, SHARES)
    x, y = curve(SHARES)
    # Between two points the curve comes nearer than they are by no more than about their distance.
    gaps = np.concatenate(([0.0], np.hypot(np.diff(x), width_ratio * np.diff(y)), [0.0]))
    padded = np.concatenate(([np.inf], first, [np.inf]))
    valleys = np.flatnonzero(
        (first <= padded[:-2]) & (first <= padded[2:]) & (first - np.maximum(gaps[:-1], gaps[1:]) <= known)
    )
    if not len(valleys):
        return known
    low, high = SHARES[np.maximum(valleys - 1, 0)], SHARES[np.minimum(valleys + 1, len(SHARES) - 1)]
    shares = least_at(lambda some: _distances(curve, width_ratio, place, some), low, high)
    return float(np.min(_distances(curve, width_ratio, place, shares)))
