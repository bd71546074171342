"""A capacity curve brought down to few points, for a device that interpolates straight between them.

Method: on a fine grid of levels, for a bound on the error, each straight piece is drawn as far as the bound allows (for
all ends at once, from the steepest and the flattest line that stay within it); the least bound with which the pieces
suffice is found by bisection. Where the curve bends one way only no choice of as many points of the grid is better;
where it bends both ways the pieces are compared with points at equal distances, and the better ones are kept.
"""

import math
from dataclasses import dataclass

import numpy as np

from project.registry import gettext_noop
from vessels.capacity.curve import Curve, as_curve, between
from vessels.shapes.numbers import Floats
from vessels.shapes.shape import Shape

USUAL_POINTS = 32  # common practice, no source
MOST_POINTS = 1000
GRID_STEPS = 10_000
METHOD = gettext_noop(
    "Points on the curve, placed so that the largest error of straight lines between them is as small as possible."
)
# Bisection ends where the bound is known to this share of itself, or where it is rounding of the volume.
_CLOSE = 1e-4
_ROUNDING = 1e-12
_LOOKS_PER_PIECE = 257


@dataclass(frozen=True, slots=True)
class Reduction:
    """Few points that stand for a capacity curve.

    levels_m, volumes_m3     the points, from the lower to the upper end of the span, levels strictly rising
    largest_error_m3         of straight lines between them against the curve, m³
    largest_error_share      the same as a share of the volume over the span
    at_level_m               where it is
    equidistant_error_m3     what as many points at equal distances of level would give, for comparison
    """

    levels_m: tuple[float, ...]
    volumes_m3: tuple[float, ...]
    largest_error_m3: float
    largest_error_share: float
    at_level_m: float
    equidistant_error_m3: float


def reduce_curve(
    source: Shape | Curve,
    points: int = USUAL_POINTS,
    lower_level_m: float | None = None,
    upper_level_m: float | None = None,
) -> Reduction:
    """The points of a curve between which straight lines differ least from it.

    Parameters
    ----------
    source         a shape, a strapping table, or either less internals
    points         how many, both ends included, 2 … 1000
    lower_level_m  lower end of the span, m; the curve's own where not given
    upper_level_m  upper end of the span, m; the curve's own where not given

    Returns
    -------
    Reduction; never worse than as many points at equal distances.

    Raises
    ------
    ValueError  for a number of points or a span outside the limits (named), or a span without volume.

    Source: least largest error of a polygon, by bisection on the bound; see the module.
    """
    curve = as_curve(source)
    if not (isinstance(points, int) and 2 <= points <= MOST_POINTS):
        raise ValueError(f"points = {points!r}: accepted is a whole number from 2 to {MOST_POINTS}")
    limits = curve.lowest_level_m, curve.highest_level_m
    wanted = [
        limits[0] if lower_level_m is None else lower_level_m,
        limits[1] if upper_level_m is None else upper_level_m,
    ]
    lower, upper = (float(level) for level in between("span", np.array(wanted), *limits, "m", "the capacity curve"))
    if not lower < upper:
        raise ValueError(f"upper_level_m = {upper!r} m: accepted is a level above the lower one, {lower!r} m")
    equal = np.linspace(lower, upper, points)
    grid = _grid(curve, lower, upper, equal)
    volumes = curve.volume_m3(grid)
    over_span = float(volumes[-1] - volumes[0])
    if not over_span > 0:
        raise ValueError(f"there is no volume between {lower!r} m and {upper!r} m: accepted is a span that holds some")
    # Levels and volumes as shares of the span, so that bounds and rounding have one scale.
    x, y = (grid - lower) / (upper - lower), (volumes - volumes[0]) / over_span
    chosen = _fill_up(_least_bound(x, y, points - 1), x, y, points)
    error, where = _largest_error(curve, grid[chosen])
    equal_error, equal_where = _largest_error(curve, equal)
    levels = grid[chosen]
    if equal_error < error:
        levels, error, where = equal, equal_error, equal_where
    return Reduction(
        tuple(levels.tolist()),
        tuple(curve.volume_m3(levels).tolist()),
        error,
        error / over_span,
        where,
        equal_error,
    )


def _grid(curve: Curve, lower: float, upper: float, equal: Floats) -> Floats:
    """Fine levels of the span with the curve's own joints, strictly rising."""
    joints = np.array([level for level in curve.joints_m if lower < level < upper])
    levels = np.unique(np.concatenate([np.linspace(lower, upper, GRID_STEPS + 1), joints, equal]))
    # Levels that differ by rounding alone would make lines without a slope.
    apart = np.concatenate([[True], np.diff(levels) > _ROUNDING * (upper - lower)])
    levels = levels[apart]
    levels[0], levels[-1] = lower, upper
    return levels


def _pieces(x: Floats, y: Floats, bound: float, most: int) -> list[int] | None:
    """Ends of straight pieces that each stay within a bound, or None where more than `most` would be needed."""
    ends = [0]
    last = x.size - 1
    window = max(8, 2 * x.size // most)
    while ends[-1] < last:
        if len(ends) > most:
            return None
        ends.append(_farthest(x, y, ends[-1], bound, window))
    return ends


def _farthest(x: Floats, y: Floats, start: int, bound: float, window: int) -> int:
    """The farthest index to which a straight line from `start` stays within the bound at all indices between."""
    last = x.size - 1
    while True:
        stop = min(start + window, last)
        run, rise = x[start + 1 : stop + 1] - x[start], y[start + 1 : stop + 1] - y[start]
        steepest = np.minimum.accumulate((rise + bound) / run)
        flattest = np.maximum.accumulate((rise - bound) / run)
        if stop < last and flattest[-1] <= steepest[-1]:
            window *= 2  # a line might still go farther
            continue
        slopes = rise / run
        fits = np.ones_like(slopes, dtype=np.bool_)  # the next index is always within reach: nothing lies between
        fits[1:] = (slopes[1:] <= steepest[:-1]) & (slopes[1:] >= flattest[:-1])
        return start + 1 + int(np.flatnonzero(fits)[-1])


def _least_bound(x: Floats, y: Floats, most: int) -> list[int]:
    """Ends of at most `most` pieces with the least bound on their error."""
    low = _ROUNDING
    best = _pieces(x, y, low, most)
    if best is not None:
        return best
    high = 1.0  # one line across the span is never farther off, because the curve never falls
    best = [0, x.size - 1]
    while high > low * (1 + _CLOSE):
        middle = math.sqrt(low * high)
        found = _pieces(x, y, middle, most)
        if found is None:
            low = middle
        else:
            high, best = middle, found
    return best


def _fill_up(ends: list[int], x: Floats, y: Floats, points: int) -> Floats:
    """As many points as were asked for: the widest pieces are halved, which can only be done between grid levels."""
    chosen = list(ends)
    while len(chosen) < points:
        widths = np.diff(x[chosen])
        for piece in np.argsort(-widths, kind="stable"):
            first, second = chosen[piece], chosen[piece + 1]
            if second - first > 1:
                middle = int(np.searchsorted(x, (x[first] + x[second]) / 2))
                chosen.insert(int(piece) + 1, min(max(middle, first + 1), second - 1))
                break
    return np.array(chosen)


def _largest_error(curve: Curve, levels: Floats) -> tuple[float, float]:
    """Largest difference (m³) of straight lines between levels from the curve, and the level (m) where it is.

    Looked for at many levels of each piece, once more around the worst of each piece, and at the curve's own joints and
    half-way between them.
    """
    volumes = curve.volume_m3(levels)

    def errors_at(looks: Floats) -> Floats:
        return np.abs(np.interp(looks, levels, volumes) - curve.volume_m3(looks))

    shares = np.linspace(0, 1, _LOOKS_PER_PIECE)
    low, high = levels[:-1], levels[1:]
    candidates = []
    for _ in range(2):
        looks = np.clip(low[:, None] + (high - low)[:, None] * shares, levels[0], levels[-1])
        worst = errors_at(looks).argmax(axis=1)
        pieces = np.arange(worst.size)
        candidates.append(looks[pieces, worst])
        low, high = looks[pieces, np.maximum(worst - 1, 0)], looks[pieces, np.minimum(worst + 1, shares.size - 1)]
    joints = np.array([joint for joint in curve.joints_m if levels[0] < joint < levels[-1]])
    candidates += [joints, (joints[:-1] + joints[1:]) / 2]
    places = np.concatenate(candidates)
    errors = errors_at(places)
    return float(errors.max()), float(places[errors.argmax()])
