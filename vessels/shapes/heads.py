"""Heads: what closes a shell at its ends, upright or lying, bulging outward or pushed in.

One description serves all: a meridian of arcs from the axis to the rim. To add a kind, write one function that gives
the arcs and its line in `KINDS`.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import numpy as np

from vessels.shapes.arcs import Arc, Ellipse, Line, Parabola, Sphere, Torus
from vessels.shapes.errors import ImpossibleShape
from vessels.shapes.numbers import Floats, positive_length, positive_ratio
from vessels.shapes.outlines import CURVE_POINTS

OUTWARD, INWARD = "outward", "inward"
FLATTEST_CROWN = 1000.0  # crown radius over diameter; flatter than that it is a plane


@dataclass(frozen=True, slots=True)
class Head:
    """A head as a surface of revolution about its axis.

    radius_m           inside radius of its rim (m)
    depth_m            from the plane of the rim (the tangent line) to the apex, or to the outlet (m), straight flange
                       excluded; above 0 also for an inward head, 0 for a flat one
    arcs               its meridian from the axis outward to the rim; none for a flat head
    outlet_radius_m    radius of the flat disc at its deep end (truncated cone), m
    straight_flange_m  length of the cylinder that belongs to the head (m); it lengthens the shell
    inward             True where the head is pushed into the shell

    The functions take arrays and give arrays of the same form: radii 0 … radius_m, depths 0 … depth_m.
    Source of the volumes: see `arcs`.
    """

    radius_m: float
    depth_m: float
    arcs: tuple[Arc, ...]
    outlet_radius_m: float = 0.0
    straight_flange_m: float = 0.0
    inward: bool = False
    _beyond_m3: tuple[float, ...] = field(init=False, repr=False, compare=False)  # volume beyond each arc's deep end

    def __post_init__(self) -> None:
        beyond = [0.0]
        for arc in self.arcs:
            beyond.append(beyond[-1] + arc.volume_m3)
        object.__setattr__(self, "_beyond_m3", tuple(beyond))

    @property
    def is_flat(self) -> bool:
        """True where the head is the plane in which the shell ends."""
        return not self.arcs

    @property
    def volume_m3(self) -> float:
        """Volume between the plane of the rim and the head (m³), straight flange excluded."""
        return self._beyond_m3[-1]

    def depth_at_m(self, radius_m: Floats) -> Floats:
        """Depth of the wall below the plane of the rim at each radius; that of the outlet where it is open."""
        depths = np.full_like(radius_m, self.depth_m)
        for arc in self.arcs:
            here = radius_m >= arc.inner_radius_m
            depths[here] = arc.depth_at_m(radius_m[here])
        return depths

    def radius_at_m(self, depth_m: Floats) -> Floats:
        """Radius of the wall at each depth: inverse of `depth_at_m`."""
        radii = np.full_like(depth_m, self.radius_m)
        for arc in reversed(self.arcs):
            here = depth_m >= arc.outer_depth_m
            radii[here] = arc.radius_at_m(depth_m[here])
        return radii

    def volume_beyond_m3(self, depth_m: Floats) -> Floats:
        """Volume between the plane at each depth and the deep end of the head."""
        volumes = np.zeros_like(depth_m)
        for number in range(len(self.arcs) - 1, -1, -1):
            arc = self.arcs[number]
            here = depth_m >= arc.outer_depth_m
            volumes[here] = self._beyond_m3[number] + arc.volume_beyond_m3(depth_m[here])
        return volumes

    def joints_m(self) -> tuple[float, ...]:
        """Depths at which one arc ends and the next begins, deepest first; the rim is the last."""
        return tuple(arc.outer_depth_m for arc in self.arcs)

    def outline(self, points: int = CURVE_POINTS) -> list[tuple[float, float]]:
        """(radius, depth) from the deep end to the rim, for drawing: straight arcs by their ends, others by so many
        points an arc. A flat head is its rim alone."""
        if self.is_flat:
            return [(self.radius_m, 0.0)]
        places = [(self.arcs[0].inner_radius_m, self.depth_m)]
        for arc in self.arcs:
            places += arc_points(arc, 1 if arc.is_straight else points)
        return places


def arc_points(arc: Arc, count: int) -> list[tuple[float, float]]:
    """(radius, depth) at so many places along an arc, without its deep end, denser where it turns upright."""
    angles = math.pi / 2 * np.arange(1, count) / count
    # Half of them evenly turned about the rim's centre: even in the angle on an ellipse, and good enough on any arc.
    rises = arc.height_m * 2 * np.sin(angles / 2) ** 2
    radii = arc.radius_up_m(rises)
    depths = arc.inner_depth_m - rises
    between = [(float(radius), float(depth)) for radius, depth in zip(radii, depths, strict=True)]
    return [*between, (arc.outer_radius_m, arc.outer_depth_m)]


# --- kinds ------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a kind is made from: the rim's radius (m) and the values given, each under its argument's full name."""

    radius_m: float
    values: Mapping[str, float | None]
    prefix: str

    def length(self, stem: str) -> float:
        """A dimension of this end itself, such as "depth_m". Raises ImpossibleShape where it is none."""
        return self.shared_length(self.prefix + stem)

    def shared_length(self, name: str) -> float:
        """A dimension whose name has no prefix, such as "outlet_diameter_m"."""
        return positive_length(name, self.values.get(name))

    def ratio(self, stem: str) -> float:
        return positive_ratio(self.prefix + stem, self.values.get(self.prefix + stem))


Arcs = tuple[Arc, ...]


def _flat(wanted: Wanted) -> Arcs:
    return ()


def _cone(wanted: Wanted) -> Arcs:
    return (Line(outer_radius_m=wanted.radius_m, inner_depth_m=wanted.length("depth_m")),)


def _truncated_cone(wanted: Wanted) -> Arcs:
    depth_m, outlet_m = wanted.length("depth_m"), wanted.shared_length("outlet_diameter_m")
    if outlet_m >= 2 * wanted.radius_m:
        raise ImpossibleShape(
            "outlet_diameter_m", outlet_m, f"less than the inside diameter, {2 * wanted.radius_m:g} m"
        )
    return (Line(inner_radius_m=outlet_m / 2, outer_radius_m=wanted.radius_m, inner_depth_m=depth_m),)


def _hemisphere(wanted: Wanted) -> Arcs:
    return (Ellipse(outer_radius_m=wanted.radius_m, inner_depth_m=wanted.radius_m),)


def _ellipsoidal_2_1(wanted: Wanted) -> Arcs:
    return (Ellipse(outer_radius_m=wanted.radius_m, inner_depth_m=wanted.radius_m / 2),)


def _ellipsoidal(wanted: Wanted) -> Arcs:
    return (Ellipse(outer_radius_m=wanted.radius_m, inner_depth_m=wanted.length("depth_m")),)


def _cap(wanted: Wanted) -> Arcs:
    depth_m, radius_m = wanted.length("depth_m"), wanted.radius_m
    if depth_m > radius_m:
        limit = f"at most half the inside diameter, {radius_m:g} m: the cap of a ball is deepest as a hemisphere"
        raise ImpossibleShape(wanted.prefix + "depth_m", depth_m, limit)
    ball_m = (radius_m * (radius_m / depth_m) + depth_m) / 2
    return (Sphere(ball_radius_m=ball_m, outer_radius_m=radius_m, inner_depth_m=depth_m),)


def _paraboloid(wanted: Wanted) -> Arcs:
    return (Parabola(outer_radius_m=wanted.radius_m, inner_depth_m=wanted.length("depth_m")),)


def _torispherical(wanted: Wanted) -> Arcs:
    crown, knuckle = wanted.ratio("crown_ratio"), wanted.ratio("knuckle_ratio")
    names = wanted.prefix + "crown_ratio", wanted.prefix + "knuckle_ratio"
    if not 0.5 <= crown <= FLATTEST_CROWN:
        limit = f"crown radius over inside diameter from 0.5 (a hemisphere) to {FLATTEST_CROWN:g}"
        raise ImpossibleShape(names[0], crown, limit)
    if knuckle > 0.5:
        raise ImpossibleShape(names[1], knuckle, "knuckle radius over inside diameter above 0, at most 0.5")
    return torisphere(wanted.radius_m, crown, knuckle)


def torisphere(radius_m: float, crown_ratio: float, knuckle_ratio: float) -> Arcs:
    """Crown and knuckle of a torispherical head; a hemisphere where one of them leaves nothing to the other.

    radius_m       inside radius of the rim (m)
    crown_ratio    crown radius over inside diameter, f, at least 0.5
    knuckle_ratio  knuckle radius over inside diameter, k, above 0, at most 0.5

    Source: depth a = D·[f − √((f − k)² − (½ − k)²)], elementary geometry of two circles that touch; D. Jones,
    "Calculating Tank Volume", uses the same. Written as a sum over a sum, so that a flat crown keeps its digits.
    """
    diameter_m = 2 * radius_m
    crown_m, knuckle_m = crown_ratio * diameter_m, knuckle_ratio * diameter_m
    rest, across = crown_ratio - knuckle_ratio, 0.5 - knuckle_ratio
    along = math.sqrt(max((rest - across) * (rest + across), 0.0))
    if not (along > 0 and across > 0):
        return (Ellipse(outer_radius_m=radius_m, inner_depth_m=radius_m),)
    depth_m = diameter_m * (2 * crown_ratio * knuckle_ratio + 0.25 - knuckle_ratio) / (crown_ratio + along)
    joint_m, joint_depth_m = crown_m * across / rest, knuckle_m * along / rest
    return (
        Sphere(ball_radius_m=crown_m, outer_radius_m=joint_m, inner_depth_m=depth_m, outer_depth_m=joint_depth_m),
        Torus(knuckle_radius_m=knuckle_m, inner_radius_m=joint_m, outer_radius_m=radius_m, inner_depth_m=joint_depth_m),
    )


def _fixed(crown_ratio: float, knuckle_ratio: float) -> Callable[[Wanted], Arcs]:
    """A torispherical head of ratios that a standard or custom fixes on the inside diameter."""

    def make(wanted: Wanted) -> Arcs:
        return torisphere(wanted.radius_m, crown_ratio, knuckle_ratio)

    return make


def _din(crown_ratio: float, knuckle_ratio: float) -> Callable[[Wanted], Arcs]:
    """A torispherical head whose ratios refer to the outside diameter, while its radii are inside ones.

    Without a wall thickness the ratios are taken on the inside diameter, which changes the volume by about 0.1 %.
    """

    def make(wanted: Wanted) -> Arcs:
        scale = 1.0
        if wanted.values.get("wall_thickness_m") is not None:
            thickness_m = wanted.shared_length("wall_thickness_m")
            scale = 1 + thickness_m / wanted.radius_m
            if knuckle_ratio * scale > 0.5:
                most_m = wanted.radius_m * (0.5 / knuckle_ratio - 1)
                limit = f"at most {most_m:g} m: a thicker wall leaves no room between the knuckles"
                raise ImpossibleShape("wall_thickness_m", thickness_m, limit)
        return torisphere(wanted.radius_m, crown_ratio * scale, knuckle_ratio * scale)

    return make


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of head.

    make       its arcs
    needs      what has to be given for it; names with a prefix of the end ("bottom_", "top_") unless in `SHARED`
    optional   what may be given for it, beside `straight_flange_m` and `direction`
    can_be_inward   whether it can be pushed into the shell
    """

    make: Callable[[Wanted], Arcs]
    needs: tuple[str, ...] = ()
    optional: tuple[str, ...] = ()
    can_be_inward: bool = True

    def needed_names(self, prefix: str) -> tuple[str, ...]:
        """Full names of what has to be given for an end with this prefix."""
        return _full_names(prefix, self.needs)

    def optional_names(self, prefix: str) -> tuple[str, ...]:
        """Full names of what may be given beside it."""
        own = () if self.make is _flat else ("straight_flange_m", *(("direction",) if self.can_be_inward else ()))
        return _full_names(prefix, (*self.optional, *own))


SHARED = ("outlet_diameter_m", "wall_thickness_m")  # one of the vessel, not one of each end


def _full_names(prefix: str, stems: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(stem if stem in SHARED else prefix + stem for stem in stems)


KINDS: dict[str, Kind] = {
    "flat": Kind(_flat, can_be_inward=False),
    "cone": Kind(_cone, ("depth_m",)),
    "truncated_cone": Kind(_truncated_cone, ("depth_m", "outlet_diameter_m"), can_be_inward=False),
    "hemisphere": Kind(_hemisphere),
    "ellipsoidal_2_1": Kind(_ellipsoidal_2_1),
    "ellipsoidal": Kind(_ellipsoidal, ("depth_m",)),
    "cap": Kind(_cap, ("depth_m",)),
    "paraboloid": Kind(_paraboloid, ("depth_m",), can_be_inward=False),
    "torispherical": Kind(_torispherical, ("crown_ratio", "knuckle_ratio")),
    "asme_fd": Kind(_fixed(1.0, 0.06)),
    "asme_80_6": Kind(_fixed(0.8, 0.06)),
    "asme_80_10": Kind(_fixed(0.8, 0.10)),
    "din_28011": Kind(_din(1.0, 0.1), optional=("wall_thickness_m",)),
    "din_28013": Kind(_din(0.8, 0.154), optional=("wall_thickness_m",)),
}


def head_from(
    kind: str,
    radius_m: float,
    *,
    depth_m: float | None = None,
    crown_ratio: float | None = None,
    knuckle_ratio: float | None = None,
    straight_flange_m: float | None = None,
    direction: str | None = None,
    outlet_diameter_m: float | None = None,
    wall_thickness_m: float | None = None,
    prefix: str = "",
) -> Head:
    """A head for a shell of an inside radius.

    Parameters
    ----------
    kind               one of `KINDS`
    radius_m           inside radius of the shell (m), known to be positive
    depth_m            of a cone, an ellipsoid, a cap, a paraboloid or down to an outlet (m)
    crown_ratio        crown radius over inside diameter, f, of a torispherical head
    knuckle_ratio      knuckle radius over inside diameter, k, of a torispherical head
    straight_flange_m  of any head that is not flat (m); None or 0 where it has none
    direction          "outward" (also None and "") or "inward"
    outlet_diameter_m  of a truncated cone (m)
    wall_thickness_m   of a head after DIN 28011 or DIN 28013 (m), whose ratios refer to the outside diameter
    prefix             put before the names in messages: "bottom_", "top_"

    Returns
    -------
    Head

    Raises
    ------
    ImpossibleShape for an unknown kind, for what is missing, not finite, zero or negative, for a cap deeper than the
    radius, for ratios that make no head, for an outlet not smaller than the shell, for a kind that cannot be inward.

    Source: DIN 28011 and DIN 28013 for those two (crown radius 1.0 and 0.8, knuckle radius 0.1 and 0.154 of the outside
    diameter); ASME flanged and dished 1.0 and 0.06, common practice; both ratios from memory.
    """
    values: dict[str, float | None] = {
        prefix + "depth_m": depth_m,
        prefix + "crown_ratio": crown_ratio,
        prefix + "knuckle_ratio": knuckle_ratio,
        "outlet_diameter_m": outlet_diameter_m,
        "wall_thickness_m": wall_thickness_m,
    }
    if kind not in KINDS:
        raise ImpossibleShape(prefix.rstrip("_") or "kind", kind or None, " or ".join(sorted(KINDS)))
    chosen = KINDS[kind]
    inward = _is_inward(prefix + "direction", direction, kind)
    flange_m = 0.0
    if straight_flange_m is not None and straight_flange_m != 0:
        flange_m = positive_length(prefix + "straight_flange_m", straight_flange_m)
    arcs = chosen.make(Wanted(radius_m, values, prefix))
    depth = arcs[0].inner_depth_m if arcs else 0.0
    outlet = arcs[0].inner_radius_m if arcs else 0.0
    return Head(radius_m, depth, arcs, outlet, flange_m, inward)


def _is_inward(name: str, direction: str | None, kind: str) -> bool:
    if direction not in (None, "", OUTWARD, INWARD):
        raise ImpossibleShape(name, direction, f"{OUTWARD} or {INWARD}")
    if direction == INWARD and not KINDS[kind].can_be_inward:
        raise ImpossibleShape(name, direction, f"{OUTWARD} for a {kind.replace('_', ' ')} end")
    return direction == INWARD
