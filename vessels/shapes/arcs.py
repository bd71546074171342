"""Arcs: what the wall of an end is made of, from its deepest point outward to its rim.

An end is a surface of revolution. Its meridian is one arc or several, each given by the radius from the end's axis and
the depth below the plane of the rim. Radii grow and depths fall from the inner end of an arc to its outer end. Beside
the depth each arc knows the rise: the distance from the plane through its inner (deep) end toward the rim, so that
nothing loses its digits near the apex, where rises are small, nor near the rim, where depths are.

Arrays in, arrays of the same form out; the head sees to limits. Volumes are those enclosed by the turned arc, πρ²
integrated over the rise; all are elementary integrals.
"""

import math
from abc import ABC, abstractmethod
from dataclasses import dataclass

import numpy as np

from vessels.shapes.numbers import Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class Arc(ABC):
    """One arc of a meridian.

    inner_radius_m  radius of the deep end (m); 0 at an apex
    outer_radius_m  radius of the shallow end (m)
    inner_depth_m   depth of the deep end below the plane of the rim (m)
    outer_depth_m   depth of the shallow end (m); 0 at the rim
    """

    inner_radius_m: float = 0.0
    outer_radius_m: float
    inner_depth_m: float
    outer_depth_m: float = 0.0

    @property
    def height_m(self) -> float:
        """Difference of the two depths (m)."""
        return self.inner_depth_m - self.outer_depth_m

    @abstractmethod
    def rise_at_m(self, radius_m: Floats) -> Floats:
        """Rise at which the arc has a radius; keeps its digits near the deep end."""

    @abstractmethod
    def radius_up_m(self, rise_m: Floats) -> Floats:
        """Radius at a rise; keeps its digits near the deep end."""

    @abstractmethod
    def volume_up_m3(self, rise_m: Floats) -> Floats:
        """Volume between the deep end and a rise; keeps its digits near the deep end."""

    @abstractmethod
    def depth_at_m(self, radius_m: Floats) -> Floats:
        """Depth at which the arc has a radius; keeps its digits near the rim."""

    @abstractmethod
    def radius_at_m(self, depth_m: Floats) -> Floats:
        """Radius at a depth: inverse of `depth_at_m`."""

    def volume_beyond_m3(self, depth_m: Floats) -> Floats:
        """Volume between the plane at a depth and the deep end."""
        return self.volume_up_m3(np.maximum(self.inner_depth_m - depth_m, 0.0))

    @property
    def volume_m3(self) -> float:
        """Volume between the two planes through the ends of the arc (m³)."""
        return float(self.volume_up_m3(np.asarray(self.height_m)))

    @property
    def is_straight(self) -> bool:
        """Whether two points are enough to draw it."""
        return False


@dataclass(frozen=True, slots=True, kw_only=True)
class Line(Arc):
    """The straight meridian of a cone, or of a cone cut off at an outlet.

    Source: volume of a frustum, π·h/3·(r₀² + r₀·r + r²), elementary geometry.
    """

    @property
    def is_straight(self) -> bool:
        return True

    def rise_at_m(self, radius_m: Floats) -> Floats:
        share = (radius_m - self.inner_radius_m) / (self.outer_radius_m - self.inner_radius_m)
        return np.asarray(share * self.inner_depth_m)

    def radius_up_m(self, rise_m: Floats) -> Floats:
        share = rise_m / self.inner_depth_m
        # This form gives both end radii exactly, so that joints have no step.
        return np.asarray(self.inner_radius_m * (1 - share) + self.outer_radius_m * share)

    def volume_up_m3(self, rise_m: Floats) -> Floats:
        inner, here = self.inner_radius_m, self.radius_up_m(rise_m)
        return np.asarray(math.pi * rise_m / 3 * (inner * inner + inner * here + here * here))

    def depth_at_m(self, radius_m: Floats) -> Floats:
        share = (self.outer_radius_m - radius_m) / (self.outer_radius_m - self.inner_radius_m)
        return np.asarray(share * self.inner_depth_m)

    def radius_at_m(self, depth_m: Floats) -> Floats:
        share = depth_m / self.inner_depth_m
        return np.asarray(self.outer_radius_m * (1 - share) + self.inner_radius_m * share)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ellipse(Arc):
    """A quarter of an ellipse: ellipsoidal ends; a hemisphere where both half axes are equal.

    Source: r²/R² + depth²/a² = 1; V = π·R²·t²·(3a − t)/(3a²) up to the rise t, elementary geometry.
    """

    def rise_at_m(self, radius_m: Floats) -> Floats:
        # a − depth = a·(r/R)²/(1 + √(1 − (r/R)²))
        share = radius_m / self.outer_radius_m
        return np.asarray(self.inner_depth_m * share * share / (1 + _leg(1.0, share)))

    def radius_up_m(self, rise_m: Floats) -> Floats:
        deep = self.inner_depth_m
        return np.asarray(self.outer_radius_m * np.sqrt(np.maximum(rise_m * (2 * deep - rise_m), 0.0)) / deep)

    def volume_up_m3(self, rise_m: Floats) -> Floats:
        # Of the rise as a share of the depth, so that a full hemisphere is 2π/3·R³ to the last digit.
        share = rise_m / self.inner_depth_m
        whole = math.pi * self.outer_radius_m * self.outer_radius_m * self.inner_depth_m / 3
        return np.asarray(whole * (share * share * (3 - share)))

    def depth_at_m(self, radius_m: Floats) -> Floats:
        return np.asarray(self.inner_depth_m * _leg(self.outer_radius_m, radius_m) / self.outer_radius_m)

    def radius_at_m(self, depth_m: Floats) -> Floats:
        return np.asarray(self.outer_radius_m * _leg(self.inner_depth_m, depth_m) / self.inner_depth_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sphere(Arc):
    """The cap of a ball: a dished end without a knuckle, or the crown of a torispherical end.

    ball_radius_m   radius of the ball (m)
    Source: V = π·t²·(C − t/3) up to the rise t, with the radius C of the ball; elementary geometry.
    """

    ball_radius_m: float

    def rise_at_m(self, radius_m: Floats) -> Floats:
        return np.asarray(radius_m * radius_m / (self.ball_radius_m + _leg(self.ball_radius_m, radius_m)))

    def radius_up_m(self, rise_m: Floats) -> Floats:
        return np.sqrt(np.maximum(rise_m * (2 * self.ball_radius_m - rise_m), 0.0))

    def volume_up_m3(self, rise_m: Floats) -> Floats:
        return np.asarray(math.pi * rise_m * rise_m * (self.ball_radius_m - rise_m / 3))

    def depth_at_m(self, radius_m: Floats) -> Floats:
        # Near the rim as the difference of two legs, (R² − r²)/(√(C² − r²) + √(C² − R²)).
        ball, rim = self.ball_radius_m, self.outer_radius_m
        legs = _leg(ball, radius_m) + _leg(ball, np.asarray(rim))
        gap = (rim - radius_m) * (rim + radius_m)
        above_rim = np.divide(gap, legs, out=np.zeros_like(gap), where=legs > 0)
        near_rim = radius_m > rim / 2
        return np.where(near_rim, self.outer_depth_m + above_rim, self.inner_depth_m - self.rise_at_m(radius_m))

    def radius_at_m(self, depth_m: Floats) -> Floats:
        return self.radius_up_m(self.inner_depth_m - depth_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class Torus(Arc):
    """The knuckle of a torispherical end: a piece of a circle that meets the rim upright.

    knuckle_radius_m   radius of that circle (m), whose centre lies in the plane of the rim
    Source: radius ρ(d) = c + √(k² − d²) at the depth d, with the centre's radius c. The volume between two depths is
    π·[(c² + k²)·d − d³/3 + c·(d·√(k² − d²) + k²·asin(d/k))] between them; written with the angle between both ends of
    the piece, so that a thin slice keeps its digits.
    """

    knuckle_radius_m: float

    @property
    def _centre_m(self) -> float:
        return self.outer_radius_m - self.knuckle_radius_m

    def rise_at_m(self, radius_m: Floats) -> Floats:
        # d₁ − d with d² = k² − (r − c)²: (r² − r₁²)-like difference over the sum of both depths.
        inner, outer = self.inner_radius_m - self._centre_m, radius_m - self._centre_m
        sums = self.inner_depth_m + self.depth_at_m(radius_m)
        return np.asarray((outer - inner) * (outer + inner) / sums)

    def radius_up_m(self, rise_m: Floats) -> Floats:
        return self.radius_at_m(self.inner_depth_m - rise_m)

    def volume_up_m3(self, rise_m: Floats) -> Floats:
        knuckle, centre = self.knuckle_radius_m, self._centre_m
        rise = rise_m / knuckle
        # Sines and cosines of the angles of both ends above the plane of the rim, as seen from the circle's centre.
        deep_sin = self.inner_depth_m / knuckle
        deep_cos = _leg(1.0, np.asarray(deep_sin))
        sin = np.maximum(deep_sin - rise, 0.0)
        cos = _leg(1.0, sin)
        crossed = np.asarray(deep_sin * cos + deep_cos * sin)
        # 0 only where the knuckle begins on the axis and the slice there is thinner than rounding.
        turn_sin = np.divide(rise * (deep_sin + sin), crossed, out=np.zeros_like(crossed), where=crossed > 0)
        turn_cos = cos * deep_cos + sin * deep_sin
        turn = np.arctan2(turn_sin, turn_cos)
        # (sin 2φ₁ − sin 2φ)/2 = cos(φ₁ + φ)·sin(φ₁ − φ)
        both = turn + (deep_cos * cos - deep_sin * sin) * turn_sin
        cubes = (deep_sin * deep_sin + deep_sin * sin + sin * sin) / 3
        squares = (centre * centre + knuckle * knuckle * (1 - cubes)) * rise_m
        return np.asarray(math.pi * (squares + centre * knuckle * knuckle * both))

    def depth_at_m(self, radius_m: Floats) -> Floats:
        return _leg(self.knuckle_radius_m, radius_m - self._centre_m)

    def radius_at_m(self, depth_m: Floats) -> Floats:
        return np.asarray(self._centre_m + _leg(self.knuckle_radius_m, depth_m))


@dataclass(frozen=True, slots=True, kw_only=True)
class Parabola(Arc):
    """Half a parabola with its vertex on the axis. Source: V = π·R²·t²/(2a) up to the rise t, elementary geometry."""

    def rise_at_m(self, radius_m: Floats) -> Floats:
        share = radius_m / self.outer_radius_m
        return np.asarray(self.inner_depth_m * share * share)

    def radius_up_m(self, rise_m: Floats) -> Floats:
        return np.asarray(self.outer_radius_m * np.sqrt(np.maximum(rise_m, 0.0) / self.inner_depth_m))

    def volume_up_m3(self, rise_m: Floats) -> Floats:
        share = rise_m / self.inner_depth_m
        return np.asarray(math.pi * self.outer_radius_m * self.outer_radius_m * rise_m * share / 2)

    def depth_at_m(self, radius_m: Floats) -> Floats:
        gap = (self.outer_radius_m - radius_m) * (self.outer_radius_m + radius_m)
        return np.asarray(self.inner_depth_m * gap / (self.outer_radius_m * self.outer_radius_m))

    def radius_at_m(self, depth_m: Floats) -> Floats:
        return self.radius_up_m(self.inner_depth_m - depth_m)


def _leg(hypotenuse: float, other: Floats) -> Floats:
    """√(c² − b²), written so that it keeps its digits where both are nearly equal."""
    return np.sqrt(np.maximum((hypotenuse - other) * (hypotenuse + other), 0.0))
