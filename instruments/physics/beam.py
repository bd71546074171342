"""The cone that a free-radiating sensor lights, as widths at distances. Pure functions in SI."""

import math
from collections.abc import Callable

import numpy as np
from scipy.optimize import brentq

from vessels.shapes.numbers import Floats

LOOKS = 65  # elevations at which a beam is compared with the wall before the first meeting is found exactly
ACCURACY_M = 1e-9


def edge_radius_m(drop_m: float, aperture_m: float, edge_angle_rad: float) -> float:
    """How far the edge of the beam is from its axis at a height below the antenna.

    drop_m          height below the aperture, m; above it the beam has the width of the aperture
    aperture_m      diameter that radiates, m; not negative
    edge_angle_rad  angle of the edge from the vertical, rad: half the beam angle, more where the beam is tilted

    Returns m. Raises ValueError unless 0 ≤ edge_angle_rad < π/2 and all are finite. Valid for the half-power edge in
    the far field; the aperture's own width is added, because nearer than that no beam is narrower than its antenna.
    Source: geometry, r = D/2 + h · tan(b/2).
    """
    if not 0.0 <= edge_angle_rad < math.pi / 2:
        raise ValueError(f"edge_angle_rad is {edge_angle_rad!r}; accepted is at least 0 and below π/2")
    if not math.isfinite(drop_m) or not math.isfinite(aperture_m) or aperture_m < 0.0:
        given = f"drop_m, aperture_m are {drop_m!r}, {aperture_m!r}"
        raise ValueError(f"{given}; accepted are finite numbers, an aperture of at least 0")
    return aperture_m / 2 + max(0.0, drop_m) * math.tan(edge_angle_rad)


def edge_angle_for_rad(radius_m: float, drop_m: float, aperture_m: float) -> float | None:
    """Angle of the edge with which the beam is no wider than a radius at a drop; None where none is narrow enough.

    Source: geometry, the inverse of `edge_radius_m`.
    """
    if drop_m <= 0.0 or radius_m <= aperture_m / 2:
        return None
    return math.atan((radius_m - aperture_m / 2) / drop_m)


def drop_for_m(radius_m: float, aperture_m: float, edge_angle_rad: float) -> float | None:
    """Height below the antenna at which the beam's edge is a radius from its axis; None where it is wider from the
    start or never grows. Source: geometry, the inverse of `edge_radius_m`."""
    if radius_m < aperture_m / 2 or edge_angle_rad <= 0.0:
        return None
    return (radius_m - aperture_m / 2) / math.tan(edge_angle_rad)


def first_meeting_m(
    gap_m: Callable[[Floats], Floats], high_m: float, low_m: float, knots_m: tuple[float, ...] = ()
) -> tuple[float | None, float, float]:
    """Where a beam that goes down first meets a wall.

    gap_m          distance of the edge from the wall at elevations, m; below 0 where it is beyond
    high_m, low_m  elevations between which to look, m
    knots_m        elevations at which the wall has an edge

    Returns the elevation of the first meeting (None for none), the smallest gap and its elevation. A beam that comes
    out of a nozzle in a curved roof is beside that roof, not beyond it: as long as the gap grows downwards from a
    negative start, nothing is met. Where there is no elevation without that, the lowest one counts.
    """
    inside = [knot for knot in knots_m if low_m < knot < high_m]
    levels = np.unique(np.concatenate([np.linspace(low_m, high_m, LOOKS), np.array(inside, dtype=float)]))[::-1]
    gaps = gap_m(levels)
    start = 0
    while start + 1 < len(gaps) and gaps[start] < 0 and gaps[start + 1] > gaps[start]:
        start += 1
    smallest = start + int(np.argmin(gaps[start:]))
    least_gap_m, at_m = float(gaps[smallest]), float(levels[smallest])
    beyond = [index for index in range(start, len(gaps)) if gaps[index] < 0]
    if not beyond:
        return None, least_gap_m, at_m
    first = beyond[0]
    if first == start:
        return float(levels[first]), least_gap_m, at_m
    upper_m, lower_m = float(levels[first - 1]), float(levels[first])
    if gaps[first - 1] == 0:
        return upper_m, least_gap_m, at_m
    met_m = brentq(lambda level_m: float(gap_m(np.array([level_m]))[0]), lower_m, upper_m, xtol=ACCURACY_M)
    return float(met_m), least_gap_m, at_m
