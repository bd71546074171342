"""Integrals over the plan of a vessel: rays from its middle, Gauss-Legendre in pieces, doubled until it settles."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.optimize import elementwise

from vessels.shapes.numbers import Floats
from vessels.shapes.shape import Point, Shape

ORDER = 6
MOST_DOUBLINGS = 5
_ANGLE_PANELS, _RADIUS_PANELS = 8, 2
_MANY_CORNERS = 12  # a plan with more is a curve, whose points in the outline are no corners
_LOOKS_ON_A_RAY = 65
_SHORE_WITHIN = 1e-9  # of the reach
_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(ORDER)


@dataclass(frozen=True, slots=True)
class Rays:
    """Places on rays from the middle, with the weights that make a sum over them an integral over the plan.

    x_m, y_m  in the vessel's own axes, rays × places     weights_m2  the same form
    bottom_m, roof_m  heights of bottom and roof there
    """

    x_m: Floats
    y_m: Floats
    weights_m2: Floats
    bottom_m: Floats
    roof_m: Floats


@dataclass(frozen=True, slots=True)
class Integral:
    """values       of each integrand
    relative_error  estimated, of the worst: the last doubling still changed it by so much
    """

    values: tuple[float, ...]
    relative_error: float


def integrate(
    shape: Shape,
    integrands: Callable[[Rays], Sequence[Floats]],
    accuracy: float,
    centres: Sequence[Point] = (),
    circles: Sequence[tuple[Point, float]] = (),
    surface: Callable[[Floats, Floats], Floats] | None = None,
) -> Integral:
    """Integrals over the plan of a shape.

    Parameters
    ----------
    integrands  rays -> values of each integrand at their places, per area
    accuracy    relative, of each integral
    centres     points (m) where integrands have a tip
    circles     centre and radius (m) of circles on which they have a kink
    surface     (x, y) -> level (m); where it meets the bottom they have a kink too

    Returns the integrals with an estimate of their error, which is above `accuracy` only where the most doublings did
    not suffice.
    """
    before: Floats | None = None
    settled = 0
    error = math.inf
    for doubling in range(MOST_DOUBLINGS + 1):
        rays = _rays(shape, 2**doubling, centres, circles, surface)
        values = np.array([float(np.sum(rays.weights_m2 * values)) for values in integrands(rays)])
        if before is not None:
            scale = np.maximum(np.abs(values), np.finfo(np.float64).tiny)
            error = float(np.max(np.abs(values - before) / scale))
            # Kinks make the changes uneven: one small one may be chance, two are not.
            settled = settled + 1 if error <= accuracy else 0
            if settled == 2:
                break
        before = values
    return Integral(tuple(values.tolist()), error)


def _panels(breaks: Floats, panels: int) -> tuple[Floats, Floats]:
    """Nodes and weights between neighbouring breaks (last axis), each piece divided into panels."""
    shares = (np.arange(panels)[:, None] + (_NODES + 1) / 2).ravel() / panels
    lengths = np.diff(breaks, axis=-1)[..., None]
    nodes = breaks[..., :-1, None] + lengths * shares
    weights = lengths * np.tile(_WEIGHTS / 2 / panels, panels)
    form = (*breaks.shape[:-1], -1)
    return nodes.reshape(form), weights.reshape(form)


def _angles(shape: Shape, fineness: int, centres: Sequence[Point]) -> tuple[Floats, Floats]:
    outline = shape.plan_outline()
    corners = outline if not shape.is_round and len(outline) <= _MANY_CORNERS else []
    own = [math.atan2(y, x) % (2 * math.pi) for x, y in (*corners, *centres) if math.hypot(x, y) > 0]
    # A quarter is the longest piece; the breaks at the quarters also part the halves of what is symmetrical.
    breaks = np.unique(np.concatenate([np.arange(5) * math.pi / 2, own]))
    return _panels(breaks, max(1, fineness * _ANGLE_PANELS // (breaks.size - 1)))


def _rays(
    shape: Shape,
    fineness: int,
    centres: Sequence[Point],
    circles: Sequence[tuple[Point, float]],
    surface: Callable[[Floats, Floats], Floats] | None,
) -> Rays:
    angles, angle_weights = _angles(shape, fineness, centres)
    along, across = np.cos(angles), np.sin(angles)
    if shape.is_round:
        reaches = np.full_like(angles, shape.reach_m())
    else:
        reaches = np.array([shape.reach_m(float(bearing)) for bearing in angles + shape.axis_bearing_rad])
    breaks = [np.zeros_like(reaches), reaches]
    for x, y in centres:  # where each ray passes the tip most closely
        breaks.append(x * along + y * across)
    for (x, y), radius in (*circles, *_edges(shape)):
        middle = x * along + y * across
        half_square = radius * radius - (x * x + y * y - middle * middle)
        half = np.sqrt(np.maximum(half_square, 0.0))
        breaks += [middle - half, middle + half]
    if surface is not None:
        breaks += _shores(shape, surface, angles, reaches)
    limits = np.sort(np.clip(np.stack(breaks, axis=1), 0.0, reaches[:, None]), axis=1)
    radii, radius_weights = _panels(limits, fineness * _RADIUS_PANELS)
    return Rays(
        radii * along[:, None],
        radii * across[:, None],
        radii * radius_weights * angle_weights[:, None],
        _bottom(shape, radii, angles),
        _roof(shape, radii, angles),
    )


def _edges(shape: Shape) -> list[tuple[Point, float]]:
    """Circles about the middle on which the walls of a round vessel made of straight lines have an edge."""
    outline = shape.elevation_outline()
    if not shape.is_round or len(outline) > _MANY_CORNERS:
        return []
    radii = {abs(x) for x, _ in outline} - {0.0, shape.reach_m()}
    return [((0.0, 0.0), radius) for radius in sorted(radii)]


def _shores(shape: Shape, surface: Callable[[Floats, Floats], Floats], angles: Floats, reaches: Floats) -> list[Floats]:
    """Radii at which the surface meets the bottom on each ray, as many arrays as the ray with most of them needs."""

    def depth(radii: Floats, at_angles: Floats) -> Floats:
        return surface(radii * np.cos(at_angles), radii * np.sin(at_angles)) - _bottom(shape, radii, at_angles)

    radii = reaches[:, None] * np.linspace(0.0, 1.0, _LOOKS_ON_A_RAY)
    depths = surface(radii * np.cos(angles)[:, None], radii * np.sin(angles)[:, None]) - _bottom(shape, radii, angles)
    turns = (depths[:, :-1] > 0) != (depths[:, 1:] > 0)
    found: list[Floats] = []
    for number in range(int(turns.sum(axis=1).max(initial=0))):
        # The ray's turn of this number, in its order from the middle; rays that have fewer get its end.
        nth = turns & (np.cumsum(turns, axis=1) == number + 1)
        has = np.flatnonzero(nth.any(axis=1))
        which = nth[has].argmax(axis=1)
        root = elementwise.find_root(
            depth,
            (radii[has, which], radii[has, which + 1]),
            args=(angles[has],),
            tolerances={"xatol": _SHORE_WITHIN * float(reaches.max())},
        )
        shores = reaches.copy()
        shores[has] = root.x
        found.append(shores)
    return found


def _bottom(shape: Shape, radii: Floats, angles: Floats) -> Floats:
    """Heights of the bottom at radii on rays, one or a row of radii for each angle."""
    if shape.is_round:
        return shape.bottom_elevation_m(radii)
    bearings = angles + shape.axis_bearing_rad
    return np.array(
        [shape.bottom_elevation_m(row, float(bearing)) for row, bearing in zip(radii, bearings, strict=True)]
    )


def _roof(shape: Shape, radii: Floats, angles: Floats) -> Floats:
    if shape.has_level_roof:
        return np.full_like(radii, shape.height_m)
    if shape.is_round:
        return shape.roof_elevation_m(radii)
    bearings = angles + shape.axis_bearing_rad
    return np.array([shape.roof_elevation_m(row, float(bearing)) for row, bearing in zip(radii, bearings, strict=True)])
