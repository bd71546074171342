"""Pieces of a head's meridian, cut by the plane of a liquid's surface: what the contents of a lying head come from.

A head lies with its axis along u, 0 in the plane of its rim and growing toward its deep end. The liquid's plane has the
depth c + m·u above the lowest line of the shell (measured across the axis) and its complement 2R − c − m·u below the
highest line; m is 0 where the vessel lies level. At a place u the head's section is a circle of radius ρ(u), of which a
segment is wet:

    f = c + m·u − (R − ρ)   depth of the plane in that circle,    g = 2R − c − m·u − (R − ρ)   what is left above it.

A section is partly wet where f and g are both above 0. Every head is convex, so on each arc that is one interval; the
rest of the arc is full or empty, and its volume elementary. In the interval, the areas of segments are integrated.
They have a square root of f·g in them, and roots of f·g may lie at its ends or just beyond them; each piece knows these
roots in its own parameter s, in which it is analytic. Between the roots s is written as a half circle's projection,

    s = left + (right − left)·sin²(θ/2),

in which the roots are no longer branch points, and the Gauss-Legendre rule converges fast.
Source: elementary geometry; substitution and rule as in any handbook of numerical integration.
"""

import math
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from vessels.shapes.arcs import Arc, Ellipse, Line, Parabola, Sphere, Torus
from vessels.shapes.heads import Head
from vessels.shapes.numbers import Floats

_points, _weights = np.polynomial.legendre.leggauss(24)
EVEN: Floats = (_points + 1) / 2  # places of the rule on 0 … 1
EVEN_WEIGHTS: Floats = _weights / 2
# Denser toward the deep end, because a plane near the apex turns segments from nearly empty to nearly full there.
SHARES: Floats = 1 - (1 - EVEN) ** 2
SHARE_WEIGHTS: Floats = EVEN_WEIGHTS * 2 * (1 - EVEN)
_SHALLOW = 0.01  # f/g below which the area of a segment comes from its series, because the difference loses digits
_SERIES = [(-1) ** (n + 1) * ((2 * n + 1) - 1 / (2 * n + 1)) for n in range(1, 11)]


def segment_below(wet: Floats, dry: Floats) -> Floats:
    """Area of a circle's part below a chord.

    wet, dry   depth of the chord above the lowest point of the circle, and what is left of the diameter above it

    Source: A = ρ²·(p − sin p·cos p) with tan²(p/2) = wet/dry; where that is small, by its series in wet/dry.
    """
    wet, dry = np.maximum(wet, 0.0), np.maximum(dry, 0.0)
    root_wet, root_dry = np.sqrt(wet), np.sqrt(dry)
    radius = (wet + dry) / 2
    area = 2 * radius * radius * np.arctan2(root_wet, root_dry) + (wet - dry) / 2 * root_wet * root_dry
    shallow = wet < _SHALLOW * dry
    if np.any(shallow):
        ratio = wet[shallow] / dry[shallow]
        total = np.zeros_like(ratio)
        for factor in reversed(_SERIES):
            total = (total + factor) * ratio
        area[shallow] = 2 * radius[shallow] ** 2 * np.sqrt(ratio) * total
    return np.asarray(area)


@dataclass(frozen=True, slots=True)
class Window:
    """Where on a piece sections are partly wet: low … high of its parameter, arrays, one for each plane.

    left, right   the nearest roots of f·g at or beyond low and high, infinite where there are none
    """

    low: Floats
    high: Floats
    left: Floats
    right: Floats

    def of(self, rows: NDArray[np.intp]) -> "Window":
        """The intervals of some of the planes."""
        return Window(self.low[rows], self.high[rows], self.left[rows], self.right[rows])

    def places(self, shares: Floats) -> tuple[Floats, Floats]:
        """Parameters s at shares 0 … 1 of each interval, and ds/d(share); one row for each plane."""
        length = self.high - self.low
        # A root further off than the length of the interval does no harm; one put there instead does none either.
        left, right = np.maximum(self.left, self.low - length), np.minimum(self.right, self.high + length)
        span = right - left
        first = 2 * np.arctan2(np.sqrt(self.low - left), np.sqrt(right - self.low))
        turn = 2 * np.arctan2(np.sqrt(self.high - left), np.sqrt(np.maximum(right - self.high, 0.0))) - first
        half = (first[:, None] + turn[:, None] * shares) / 2
        sine = np.sin(half)
        places = left[:, None] + span[:, None] * sine * sine
        return places, (span * turn)[:, None] * sine * np.cos(half)


class Piece(Protocol):
    """One arc as the plane of a liquid sees it. f and g are meant at the arc's outer end; m is the plane's slope."""

    @property
    def arc(self) -> Arc: ...

    @property
    def end(self) -> float:
        """The parameter at the arc's deep end; 0 is its outer end."""
        ...

    def window(self, f: Floats, g: Floats, slope: float) -> Window: ...

    def at(self, s: Floats) -> tuple[Floats, Floats, Floats]:
        """Depth beyond the arc's outer end, its derivative by s, and by how much the radius is less than there."""
        ...

    def farthest(self, outward: float, across: float) -> float:
        """Depth beyond the outer end, at which outward·depth + across·radius is greatest; across is 0 or above."""
        ...


def _clipped(low: Floats, high: Floats, end: float, left: Floats, right: Floats) -> Window:
    low = np.minimum(np.maximum(low, 0.0), end)
    high = np.maximum(np.minimum(high, end), low)
    return Window(low, high, np.minimum(left, low), np.maximum(right, high))


@dataclass(frozen=True, slots=True)
class RoundPiece:
    """Part of an ellipse, circle or parabola about the axis: ρ² = ρ₀² − fall·v − bend·v², v beyond the outer end."""

    arc: Arc
    fall: float
    bend: float

    @property
    def end(self) -> float:
        return self.arc.height_m

    def window(self, f: Floats, g: Floats, slope: float) -> Window:
        # f·g = ρ² − η² is a quadratic in v, whose roots enclose the partly wet sections; η is the plane's height above
        # the axis.
        height = (f - g) / 2
        constant = f * g
        linear = self.fall + 2 * slope * height
        square = self.bend + slope * slope
        found = linear * linear + 4 * square * constant
        root = np.sqrt(np.maximum(found, 0.0))
        sum_ = linear + np.copysign(root, linear)
        with np.errstate(divide="ignore", invalid="ignore"):
            one = np.where(sum_ != 0, 2 * constant / sum_, 0.0)
            other = np.where(sum_ != 0, -sum_ / (2 * square) if square else -np.copysign(np.inf, sum_), 0.0)
        left, right = np.minimum(one, other), np.maximum(one, other)
        left, right = np.where(found > 0, left, 0.0), np.where(found > 0, right, 0.0)
        return _clipped(left, right, self.end, left, right)

    def at(self, s: Floats) -> tuple[Floats, Floats, Floats]:
        outer = self.arc.outer_radius_m
        lost = s * (self.fall + self.bend * s)
        radius = np.sqrt(np.maximum(outer * outer - lost, 0.0))
        return s, np.ones_like(s), lost / (outer + radius)

    def farthest(self, outward: float, across: float) -> float:
        if outward <= 0:
            return 0.0
        squares = self.arc.outer_radius_m**2
        if self.bend == 0:
            touch = across * self.fall / (2 * outward)  # the radius there
            place = (squares - touch * touch) / self.fall
        else:
            centre = -self.fall / (2 * self.bend)
            radius = math.sqrt(squares + self.fall * self.fall / (4 * self.bend))
            depth = radius / math.sqrt(self.bend)
            place = centre + depth * math.sin(math.atan2(outward * depth, across * radius))
        return min(max(place, 0.0), self.end)


@dataclass(frozen=True, slots=True)
class ConePiece:
    """A straight meridian: ρ = ρ₀ − steep·v."""

    arc: Arc

    @property
    def end(self) -> float:
        return self.arc.height_m

    @property
    def steep(self) -> float:
        return (self.arc.outer_radius_m - self.arc.inner_radius_m) / self.arc.height_m

    def window(self, f: Floats, g: Floats, slope: float) -> Window:
        low, high = np.zeros_like(f), np.full_like(f, self.end)
        left, right = np.full_like(f, -np.inf), np.full_like(f, np.inf)
        for start, rate in ((f, slope - self.steep), (g, -slope - self.steep)):
            if rate == 0:  # the plane runs along the cone: wet all along, or dry
                high = np.where(start > 0, high, low)
                continue
            root = -start / rate
            if rate < 0:
                high, right = np.minimum(high, root), np.minimum(right, root)
            else:
                low, left = np.maximum(low, root), np.maximum(left, root)
        return _clipped(low, high, self.end, left, right)

    def at(self, s: Floats) -> tuple[Floats, Floats, Floats]:
        return s, np.ones_like(s), self.steep * s

    def farthest(self, outward: float, across: float) -> float:
        return self.end if outward > across * self.steep else 0.0


@dataclass(frozen=True, slots=True)
class TorusPiece:
    """A knuckle; s is the angle from the plane of the rim, seen from the circle's centre in that plane."""

    arc: Arc
    knuckle_m: float

    @property
    def end(self) -> float:
        inner, centre = self.arc.inner_radius_m, self.arc.outer_radius_m - self.knuckle_m
        return math.atan2(self.arc.inner_depth_m, inner - centre)

    def window(self, f: Floats, g: Floats, slope: float) -> Window:
        # f = f₀ − k + k·√(1 + m²)·cos(s − atan m), and g with −m: each above 0 within an angle of its own maximum.
        turn = math.atan(slope)
        stretched = self.knuckle_m * math.hypot(1.0, slope)
        excess = self.knuckle_m * slope * slope / (1 + math.hypot(1.0, slope))
        angles = [2 * np.arcsin(np.sqrt(np.clip((start + excess) / (2 * stretched), 0.0, 1.0))) for start in (f, g)]
        left = np.maximum(turn - angles[0], -turn - angles[1])
        right = np.minimum(turn + angles[0], -turn + angles[1])
        return _clipped(left, right, self.end, left, right)

    def at(self, s: Floats) -> tuple[Floats, Floats, Floats]:
        half = np.sin(s / 2)
        return self.knuckle_m * np.sin(s), self.knuckle_m * np.cos(s), 2 * self.knuckle_m * half * half

    def farthest(self, outward: float, across: float) -> float:
        angle = min(max(math.atan2(outward, across), 0.0), self.end)
        return min(self.knuckle_m * math.sin(angle), self.arc.height_m)


def pieces_of(head: Head) -> tuple[Piece, ...]:
    """The pieces of a head, from the rim to the deep end."""
    return tuple(_piece(arc) for arc in reversed(head.arcs))


def _piece(arc: Arc) -> Piece:
    outer = arc.outer_radius_m
    if isinstance(arc, Line):
        return ConePiece(arc)
    if isinstance(arc, Torus):
        return TorusPiece(arc, arc.knuckle_radius_m)
    if isinstance(arc, Ellipse):
        return RoundPiece(arc, 0.0, (outer / arc.inner_depth_m) ** 2)
    if isinstance(arc, Sphere):
        return RoundPiece(arc, 2 * (arc.ball_radius_m - arc.height_m), 1.0)
    if isinstance(arc, Parabola):
        return RoundPiece(arc, outer * outer / arc.inner_depth_m, 0.0)
    raise TypeError(f"no piece for the arc {arc!r}: accepted is Line, Ellipse, Sphere, Torus or Parabola")


def head_below(pieces: tuple[Piece, ...], radius_m: float, wet: Floats, slope: float) -> tuple[Floats, Floats]:
    """Volume of a head below a plane, and the area in which the plane cuts it.

    pieces    of the head, see `pieces_of`
    radius_m  of its rim
    wet       depth of the plane above the shell's lowest line, in the plane of the rim (m); one for each plane
    slope     by how much that depth grows for 1 m further out

    Returns the volumes (m³), and the areas (m²) as projected along the head's axis turned level.
    """
    volume, area = np.zeros_like(wet), np.zeros_like(wet)
    for piece in pieces:
        arc = piece.arc
        narrower = radius_m - arc.outer_radius_m
        f = wet + (slope * arc.outer_depth_m - narrower)
        g = 2 * radius_m - wet - (slope * arc.outer_depth_m + narrower)
        window = piece.window(f, g, slope)
        cut = np.flatnonzero(window.high > window.low)
        s, step = window.of(cut).places(SHARES)
        depth, rate, less = piece.at(s)
        wet_here = np.maximum(f[cut, None] + slope * depth - less, 0.0)
        dry_here = np.maximum(g[cut, None] - slope * depth - less, 0.0)
        weights = SHARE_WEIGHTS * step * rate
        volume[cut] += np.sum(segment_below(wet_here, dry_here) * weights, axis=1)
        area[cut] += np.sum(2 * np.sqrt(wet_here * dry_here) * weights, axis=1)
        # What is full on either side of the window; the middle of such a part tells whether it is full or empty.
        outer, inner = (arc.volume_beyond_m3(arc.outer_depth_m + piece.at(s)[0]) for s in (window.low, window.high))
        volume += np.where(_is_wet(piece, window.low / 2, f, g, slope), arc.volume_m3 - outer, 0.0)
        volume += np.where(_is_wet(piece, (window.high + piece.end) / 2, f, g, slope), inner, 0.0)
    return volume, area


def _is_wet(piece: Piece, s: Floats, f: Floats, g: Floats, slope: float) -> Floats:
    return np.asarray(f - g + 2 * slope * piece.at(s)[0] > 0)
