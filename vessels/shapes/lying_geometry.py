"""Where things lie in a cylinder on its side with a head at each end, level or tilted, and its contents at a level.

Places inside are counted along the axis, X, from mid-length toward the second end, and across it, η, in the upright
plane through the axis. Where the axis rises by the tilt t from the first end to the second, a place is at the height
X·sin t + η·cos t above mid-length and x = X·cos t − η·sin t from it in the horizontal. An oval section is a circular
one stretched across, so that everything here is of circles.
"""

import math
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from vessels.shapes.heads import Head
from vessels.shapes.lying_pieces import EVEN, EVEN_WEIGHTS, Piece, head_below, pieces_of, segment_below
from vessels.shapes.numbers import Floats


@dataclass(frozen=True)
class LyingGeometry:
    """The inside of a lying cylinder with its heads.

    radius_m         inside radius (m)
    length_m         between the tangent lines (m), straight flanges excluded
    first, second    heads at the left (X < 0) and at the right end
    tilt_rad         rise of the axis from the first end to the second
    """

    radius_m: float
    length_m: float
    first: Head
    second: Head
    tilt_rad: float = 0.0

    @cached_property
    def sine(self) -> float:
        return math.sin(self.tilt_rad)

    @cached_property
    def cosine(self) -> float:
        return math.cos(self.tilt_rad)

    @cached_property
    def slope(self) -> float:
        return math.tan(self.tilt_rad)

    @property
    def first_rim_m(self) -> float:
        """X of the plane in which the first head begins."""
        return -self.length_m / 2 - self.first.straight_flange_m

    @property
    def second_rim_m(self) -> float:
        return self.length_m / 2 + self.second.straight_flange_m

    @property
    def shell_m(self) -> float:
        """Length of the shell with the straight flanges (m)."""
        return self.length_m + self.first.straight_flange_m + self.second.straight_flange_m

    @cached_property
    def first_pieces(self) -> tuple[Piece, ...]:
        return pieces_of(self.first)

    @cached_property
    def second_pieces(self) -> tuple[Piece, ...]:
        return pieces_of(self.second)

    @cached_property
    def hull_from_m(self) -> float:
        """Least X of the inside; an inward head ends at its rim."""
        return self.first_rim_m - (0.0 if self.first.inward else self.first.depth_m)

    @cached_property
    def hull_to_m(self) -> float:
        return self.second_rim_m + (0.0 if self.second.inward else self.second.depth_m)

    @property
    def is_level(self) -> bool:
        return self.tilt_rad == 0

    @property
    def total_volume_m3(self) -> float:
        total = math.pi * self.radius_m * self.radius_m * self.shell_m
        for head in (self.first, self.second):
            total += -head.volume_m3 if head.inward else head.volume_m3
        return total

    # --- extremes -------------------------------------------------------------------------------------------

    def farthest(self, along: float, across: float) -> tuple[float, float]:
        """The place (X, ρ) of the meridian, at which along·X + across·ρ is greatest; across is 0 or above."""
        places = [(self.first_rim_m, self.radius_m), (self.second_rim_m, self.radius_m)]
        for head, pieces, rim_m, side in (
            (self.first, self.first_pieces, self.first_rim_m, -1),
            (self.second, self.second_pieces, self.second_rim_m, 1),
        ):
            if not head.inward:
                places += [(rim_m + side * u, rho) for u, rho in _candidates(pieces, side * along, across)]
        return max(places, key=lambda place: along * place[0] + across * place[1])

    @cached_property
    def lowest_m(self) -> float:
        """Height of the lowest inside point above mid-length (m), below 0."""
        x, rho = self.farthest(-self.sine, self.cosine)
        return x * self.sine - rho * self.cosine

    @cached_property
    def highest_m(self) -> float:
        x, rho = self.farthest(self.sine, self.cosine)
        return x * self.sine + rho * self.cosine

    @cached_property
    def height_m(self) -> float:
        return 2 * self.radius_m if self.is_level else self.highest_m - self.lowest_m

    @property
    def upside_down(self) -> "LyingGeometry":
        """The same vessel turned over about a level line across its axis: below in it is above in this one."""
        return replace(self, tilt_rad=-self.tilt_rad)

    def hull_radius_m(self, x_m: Floats) -> Floats:
        """Radius of the section at each X inside; an inward head counts as a flat one."""
        radii = np.full_like(x_m, self.radius_m)
        for head, beyond in ((self.first, self.first_rim_m - x_m), (self.second, x_m - self.second_rim_m)):
            mask = beyond > 0
            if not head.inward and np.any(mask):
                radii[mask] = head.radius_at_m(np.minimum(beyond[mask], head.depth_m))
        return radii

    def turning_levels(self) -> list[float]:
        """Levels at which the surface begins or ceases to touch a rim, a joint, an apex or a head: between them the
        contents are an analytic function of the level."""
        levels = [0.0, self.height_m]
        for head, pieces, rim_m, side in (
            (self.first, self.first_pieces, self.first_rim_m, -1 if not self.first.inward else 1),
            (self.second, self.second_pieces, self.second_rim_m, 1 if not self.second.inward else -1),
        ):
            circles = [(0.0, self.radius_m), *((arc.inner_depth_m, arc.inner_radius_m) for arc in head.arcs)]
            for u, rho in circles:
                height = (rim_m + side * u) * self.sine
                levels += [height - rho * self.cosine - self.lowest_m, height + rho * self.cosine - self.lowest_m]
            for upward in (-1, 1):
                for u, rho in _candidates(pieces, side * upward * self.sine, self.cosine):
                    levels.append((rim_m + side * u) * self.sine + upward * rho * self.cosine - self.lowest_m)
        return levels

    # --- contents -------------------------------------------------------------------------------------------

    def depth_at_rim(self, levels: Floats, rim_m: float) -> Floats:
        """Depth of the surface above the shell's lowest line at X = rim, measured across the axis."""
        if self.is_level:
            return levels
        # Of the lowest inside point above the lowest place of that rim: 0 for a flat end at the lower side.
        below_m = (rim_m * self.sine - self.radius_m * self.cosine) - self.lowest_m
        return (levels - below_m) / self.cosine

    def below(self, levels: Floats) -> tuple[Floats, Floats]:
        """Volume (m³) below each level, and the area of the free surface there (m²).

        Above half the height it is the total less what is empty, so that a nearly full vessel keeps its digits.
        """
        volume, area = np.empty_like(levels), np.empty_like(levels)
        low = levels <= self.height_m / 2
        volume[low], area[low] = self._integrated(levels[low])
        if not np.all(low):
            empty, area[~low] = self.upside_down._integrated(np.maximum(self.height_m - levels[~low], 0.0))
            volume[~low] = self.total_volume_m3 - empty
        return volume, area

    def _integrated(self, levels: Floats) -> tuple[Floats, Floats]:
        """Volumes and free surfaces by integration along the axis."""
        wet_first = self.depth_at_rim(levels, self.first_rim_m)
        wet_second = self.depth_at_rim(levels, self.second_rim_m)
        volume, area = shell_below(self.radius_m, self.shell_m, wet_first, self.slope)
        sides = [
            (self.first, self.first_pieces, wet_first, self.slope),
            (self.second, self.second_pieces, wet_second, -self.slope),
        ]
        alike = (self.first.arcs, self.first.inward) == (self.second.arcs, self.second.inward)
        times = 2 if self.is_level and alike else 1
        for head, pieces, wet, slope in sides[times - 1 :]:
            sign = -times if head.inward else times
            more_volume, more_area = head_below(pieces, self.radius_m, wet, -slope if head.inward else slope)
            volume, area = volume + sign * more_volume, area + sign * more_area
        return np.maximum(volume, 0.0), np.maximum(area, 0.0) / self.cosine


def _candidates(pieces: tuple[Piece, ...], outward: float, across: float) -> list[tuple[float, float]]:
    """The place (depth, ρ) of each piece that is farthest in a direction."""
    places = []
    for piece in pieces:
        arc = piece.arc
        depth = arc.outer_depth_m + piece.farthest(outward, across)
        places += [(depth, float(arc.radius_at_m(np.asarray(depth)))), (arc.inner_depth_m, arc.inner_radius_m)]
    return places


def shell_below(radius_m: float, length_m: float, wet: Floats, slope: float) -> tuple[Floats, Floats]:
    """Volume of a cylinder below a plane, and the area in which the plane cuts it, as projected along its axis.

    wet    depth of the plane above the lowest line at one end (m); one for each plane
    slope  by how much that depth falls for 1 m toward the other end

    Over the angle p of the segment, depth = R·(1 − cos p), the integrand is a polynomial of sines and cosines, on which
    the rule is exact to rounding; the length for a step of p comes from the difference of both depths without loss, so
    that a small tilt goes over into none.
    """
    diameter = 2 * radius_m
    if slope == 0:
        chord = 2 * np.sqrt(np.maximum(wet * (diameter - wet), 0.0))
        return segment_below(wet, diameter - wet) * length_m, chord * length_m
    edges = [np.clip(wet / slope, 0.0, length_m), np.clip((wet - diameter) / slope, 0.0, length_m)]
    start, stop = np.minimum(*edges), np.maximum(*edges)
    full_m = start if slope > 0 else length_m - stop
    depths = [np.clip(wet - slope * edge, 0.0, diameter) for edge in (start, stop)]
    angles = [2 * np.arctan2(np.sqrt(depth), np.sqrt(diameter - depth)) for depth in depths]
    middle = (angles[0] + angles[1]) / 2
    sine = np.sin(middle)
    # Length for a step of p, but for sin p; where the plane hardly tilts, asin(z)/z goes to 1.
    reach = np.divide(stop - start, radius_m * sine, out=np.zeros_like(sine), where=sine > 0)
    half = np.clip(abs(slope) * reach / 2, 0.0, 1.0)
    reach = reach * np.divide(np.arcsin(half), half, out=np.ones_like(half), where=half > 0)
    p = middle[:, None] + 2 * np.arcsin(half)[:, None] * (EVEN - 0.5)
    wet_here, dry_here = diameter * np.sin(p / 2) ** 2, diameter * np.cos(p / 2) ** 2
    chord = diameter * np.sin(p)
    step = EVEN_WEIGHTS * chord / 2 * reach[:, None]
    volume = np.sum(segment_below(wet_here, dry_here) * step, axis=1) + math.pi * radius_m * radius_m * full_m
    return volume, np.sum(chord * step, axis=1)
