"""A fine table of volume and free surface over level, made once for a shape and read for many levels at once.

Between two levels at which the surface touches a joint, the contents are an analytic function of the level but for
powers of the square root at both levels. So in w with

    level = low + (high − low)·sin²(w/2),   w = 0 … π,

they have no singular ends, and polynomials of w on a few pieces give them to rounding. In the lowest part the volume is
divided by w³ and the area by w, which keeps the relative accuracy down to an empty vessel: contents begin with the
power 3/2 of the level or a higher one, because the lowest place of a lying vessel is a line or a point.

Pieces are halved until the last coefficients of both polynomials are lost in rounding. Source: interpolation at
Chebyshev points, as in L. N. Trefethen, "Approximation Theory and Approximation Practice" (from memory).
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.polynomial import chebyshev
from numpy.typing import NDArray

from vessels.shapes.numbers import Floats

DEGREE = 12
PIECES = 6  # at first, in each part
MOST_HALVINGS = 10
CLOSEST = 1e-7  # parts shorter than this share of the height join their neighbour
VOLUME_NOISE, AREA_NOISE = 1e-13, 1e-12  # last coefficients, of the largest value
MOST_STEPS = 60
CLOSE_ENOUGH = 1e-13  # relative; Newton's step after it is lost in rounding

Contents = Callable[[Floats], tuple[Floats, Floats]]

Indices = NDArray[np.intp]
Flags = NDArray[np.bool_]

_knots: Floats = np.cos(math.pi * np.arange(DEGREE, -1, -1) / DEGREE)


def _powers_of_chebyshev() -> Floats:
    """Coefficients of powers, one column for each Chebyshev polynomial."""
    columns = np.zeros((DEGREE + 1, DEGREE + 1))
    for number in range(DEGREE + 1):
        columns[: number + 1, number] = chebyshev.cheb2poly(np.eye(DEGREE + 1)[number, : number + 1])
    return columns


# Values at the knots -> coefficients of Chebyshev polynomials, and of powers.
_to_chebyshev: Floats = np.asarray(np.linalg.inv(chebyshev.chebvander(_knots, DEGREE)), dtype=np.float64)
_to_powers: Floats = _powers_of_chebyshev() @ _to_chebyshev
# Values at all knots but the first -> value at the first: exact for polynomials of one degree less.
_to_end: Floats = np.array(
    [
        math.prod((_knots[0] - _knots[k]) / (_knots[j] - _knots[k]) for k in range(1, DEGREE + 1) if k != j)
        for j in range(1, DEGREE + 1)
    ]
)


class LevelTable:
    """Volume and free surface as functions of the level, and the level of a volume.

    The upper half of the levels is read from a table of what is empty above them, so that a nearly full vessel keeps
    its digits as a nearly empty one does.

    lower     from the lowest point up to half the height
    upper     of the vessel turned upside down, from its lowest point up to half the height
    total_m3  volume of the full vessel
    """

    def __init__(self, lower: "HalfTable", upper: "HalfTable", total_m3: float) -> None:
        self._lower, self._upper = lower, upper
        self._total_m3 = total_m3
        self._half_m, self._half_m3 = lower.highest_m, lower.highest_m3

    def volume_m3(self, levels: Floats) -> Floats:
        """Volume below each level, 0 … the height."""
        volumes = np.empty_like(levels)
        low = levels <= self._half_m
        # Rounding must not make a step downward where both halves meet.
        volumes[low] = np.minimum(self._lower.volume_m3(levels[low]), self._half_m3)
        rest = self._total_m3 - self._upper.volume_m3(np.maximum(2 * self._half_m - levels[~low], 0.0))
        volumes[~low] = np.maximum(rest, self._half_m3)
        return volumes

    def area_m2(self, levels: Floats) -> Floats:
        """Free surface at each level."""
        areas = np.empty_like(levels)
        low = levels <= self._half_m
        areas[low] = self._lower.area_m2(levels[low])
        areas[~low] = self._upper.area_m2(np.maximum(2 * self._half_m - levels[~low], 0.0))
        return areas

    def level_m(self, volumes: Floats) -> Floats:
        """Level that each volume reaches, 0 … the total."""
        levels = np.empty_like(volumes)
        low = volumes <= self._half_m3
        levels[low] = self._lower.level_m(volumes[low])
        levels[~low] = 2 * self._half_m - self._upper.level_m(self._total_m3 - volumes[~low])
        return levels


class HalfTable:
    """Pieces of polynomials from the lowest inside point up to a level.

    contents        levels (m) -> volumes (m³) and free surfaces (m²), one for each; called while the table is made
    turning_levels  levels (m) at which these are not analytic, in any order
    highest_m       level up to which the table goes
    """

    def __init__(self, contents: Contents, turning_levels: Sequence[float], highest_m: float) -> None:
        self.highest_m = highest_m
        edges = _apart(turning_levels, highest_m)
        fitted = _fit(contents, edges)
        parts = fitted.parts
        self._in_lowest = parts == 0
        self._bottoms, self._tops = edges[:-1][parts], edges[1:][parts]
        self._middles, self._halves = fitted.starts + fitted.widths / 2, fitted.widths / 2
        self._volumes = np.ascontiguousarray(_to_powers @ fitted.volumes.T)
        self._areas = np.ascontiguousarray(_to_powers @ fitted.areas.T)
        starts = self._bottoms + (self._tops - self._bottoms) * np.sin(fitted.starts / 2) ** 2
        self._edges = np.append(starts, highest_m)
        here = np.minimum(np.arange(len(self._edges)), len(parts) - 1)
        volumes = np.maximum(self._read(self._volumes, 3, self._edges, here), 0.0)
        self._edge_volumes = np.maximum.accumulate(volumes)
        # The volume begins with about this power of the level.
        first_area = float(self._read(self._areas, 1, self._edges[1:2], here[:1])[0])
        self._power = max(1.0, first_area * float(self._edges[1]) / float(volumes[1])) if volumes[1] > 0 else 1.0

    @property
    def highest_m3(self) -> float:
        """Volume at the highest level."""
        return float(self._edge_volumes[-1])

    @property
    def pieces(self) -> int:
        """How many polynomials it came to."""
        return len(self._bottoms)

    def volume_m3(self, levels: Floats) -> Floats:
        """Volume below each level, 0 … highest."""
        return np.maximum(self._read(self._volumes, 3, levels, _piece(self._edges, levels)), 0.0)

    def area_m2(self, levels: Floats) -> Floats:
        """Free surface at each level."""
        return np.maximum(self._read(self._areas, 1, levels, _piece(self._edges, levels)), 0.0)

    def level_m(self, volumes: Floats) -> Floats:
        """Level that each volume reaches: Newton's method, held inside the piece in which the volume lies."""
        levels = np.zeros_like(volumes)
        left = np.flatnonzero(volumes > 0)
        wanted = volumes[left]
        piece = _piece(self._edge_volumes, wanted)
        low, high = self._edges[piece], self._edges[piece + 1]
        place = self._start(wanted, piece)
        for _ in range(MOST_STEPS):
            place = np.where((place >= low) & (place <= high), place, (low + high) / 2)
            excess = self._read(self._volumes, 3, place, piece) - wanted
            area = self._read(self._areas, 1, place, piece)
            low, high = np.where(excess < 0, place, low), np.where(excess > 0, place, high)
            step = np.divide(excess, area, out=np.zeros_like(excess), where=area > 0)
            place = place - step
            # Each place stops by itself, so that it comes out the same alone and among others.
            moving = (np.abs(step) > CLOSE_ENOUGH * place) & (np.abs(excess) > np.spacing(wanted)) & (high > low)
            levels[left] = place
            left, wanted, piece, place = left[moving], wanted[moving], piece[moving], place[moving]
            low, high = low[moving], high[moving]
            if not len(left):
                break
        return np.clip(levels, 0.0, self.highest_m)

    def _read(self, powers: Floats, lowest_power: int, levels: Floats, piece: Indices) -> Floats:
        below = np.sqrt(np.maximum(levels - self._bottoms[piece], 0.0))
        above = np.sqrt(np.maximum(self._tops[piece] - levels, 0.0))
        w = 2 * np.arctan2(below, above)
        place = (w - self._middles[piece]) / self._halves[piece]
        total = powers[DEGREE][piece]
        for row in powers[DEGREE - 1 :: -1]:
            total = total * place + row[piece]
        return np.asarray(np.where(self._in_lowest[piece], total * w**lowest_power, total))

    def _start(self, wanted: Floats, piece: Indices) -> Floats:
        """A first guess: along the chord of the piece, in the lowest piece by a power of the level."""
        low, from_m3 = self._edges[piece], self._edge_volumes[piece]
        rise = self._edge_volumes[piece + 1] - from_m3
        share = np.clip(np.divide(wanted - from_m3, rise, out=np.zeros_like(rise), where=rise > 0), 0.0, 1.0)
        share = np.where(piece == 0, share ** (1 / self._power), share)
        return np.asarray(low + (self._edges[piece + 1] - low) * share)


def _piece(edges: Floats, values: Floats) -> Indices:
    """The piece in which each value lies, by levels or by volumes at the edges of pieces."""
    return np.searchsorted(edges[1:-1], values, side="right")


def _apart(levels: Sequence[float], highest_m: float) -> Floats:
    """The levels between 0 and the highest in order, with both, but without those that hardly differ."""
    kept = [0.0]
    for level in sorted(levels):
        if level - kept[-1] > CLOSEST * highest_m and highest_m - level > CLOSEST * highest_m:
            kept.append(level)
    return np.array([*kept, highest_m])


@dataclass(frozen=True, slots=True)
class _Pieces:
    """Pieces with their values at the knots, one row for each: of which part, from which w, over which width."""

    parts: Indices
    starts: Floats
    widths: Floats
    volumes: Floats
    areas: Floats

    def chosen(self, rows: Flags | Indices) -> "_Pieces":
        return _Pieces(*(getattr(self, name)[rows] for name in self.__slots__))


def _fit(contents: Contents, edges: Floats) -> _Pieces:
    """Pieces fine enough, in order of level."""
    parts = np.repeat(np.arange(len(edges) - 1), PIECES)
    starts = np.tile(np.arange(PIECES) * (math.pi / PIECES), len(edges) - 1)
    widths = np.full(len(parts), math.pi / PIECES)
    kept: list[_Pieces] = []
    largest = 0.0, 0.0
    for halving in range(MOST_HALVINGS + 1):
        w = starts[:, None] + (_knots + 1) / 2 * widths[:, None]
        levels = edges[:-1][parts][:, None] + np.diff(edges)[parts][:, None] * np.sin(w / 2) ** 2
        volumes, areas = (found.reshape(w.shape) for found in contents(np.minimum(levels, edges[-1]).reshape(-1)))
        largest = max(largest[0], float(np.max(volumes))), max(largest[1], float(np.max(areas)))
        in_lowest = parts == 0
        scale = np.where(in_lowest[:, None], w, 1.0)
        volumes, areas = _divided(volumes, scale**3), _divided(areas, scale)
        found = _Pieces(parts, starts, widths, volumes, areas)
        smooth = _is_smooth(volumes, VOLUME_NOISE, largest[0], scale[:, -1] ** 3, in_lowest)
        smooth &= _is_smooth(areas, AREA_NOISE, largest[1], scale[:, -1], in_lowest)
        if halving == MOST_HALVINGS or np.all(smooth):
            kept.append(found)
            break
        kept.append(found.chosen(smooth))
        rough = found.chosen(~smooth)
        parts, widths, starts = np.repeat(rough.parts, 2), np.repeat(rough.widths / 2, 2), np.repeat(rough.starts, 2)
        starts[1::2] += widths[1::2]
    every = _Pieces(*(np.concatenate([getattr(some, name) for some in kept]) for name in _Pieces.__slots__))
    return every.chosen(np.lexsort((every.starts, every.parts)))


def _divided(values: Floats, scale: Floats) -> Floats:
    """Values over a scale; where that is 0, at the first knot of a piece, what the other knots lead to."""
    quotients = values / np.where(scale > 0, scale, 1.0)
    at_zero = scale[:, 0] == 0
    quotients[at_zero, 0] = quotients[at_zero, 1:] @ _to_end
    return quotients


def _is_smooth(values: Floats, noise: float, largest: float, scale: Floats, in_lowest: Flags) -> Flags:
    """Whether the last coefficients of each row are lost: against the largest of all values; in the lowest part against
    those of its own piece, but for what is rounding of the whole."""
    last = np.max(np.abs(values @ _to_chebyshev[-2:].T), axis=1)
    own = np.maximum(noise * np.max(np.abs(values), axis=1), noise / 1000 * largest / scale)
    return np.asarray(last <= np.where(in_lowest, own, noise * largest))
