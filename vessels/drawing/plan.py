"""A vessel in plan: its outline turned to where it stands, and everything of which radius and bearing are known."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import get_args

from vessels.drawing import words
from vessels.drawing.nozzles import NozzleDrawing, east_north
from vessels.drawing.shells import LYING
from vessels.drawing.values import InternalValues, NozzleValues
from vessels.drawing.vessel import VesselDrawing
from vessels.shape_values import Shape
from vessels.sketch.geometry import heights_at, ray_end, walls_at
from vessels.sketch.plan_scene import Footprint, PlanInternal, PlanMark, PlanNozzle, PlanScene, PlanStub
from vessels.sketch.scene import InternalKind, Point

FAR = 1.6  # times the vessel's largest radius: what is farther away is a slip and would shrink the drawing
CIRCLE_POINTS = 96


@dataclass(frozen=True, slots=True)
class Lit:
    """A beam at the lowest level: where its axis stands, and the radius of what it covers there."""

    radius_m: float
    bearing_rad: float | None
    footprint_m: float


@dataclass(frozen=True)
class PlanDrawing:
    """The plan of a vessel; `used` names the nozzle that it is about."""

    vessel: VesselDrawing
    used: str = ""
    lit: Lit | None = None

    def scene(self) -> PlanScene:
        title = self.vessel.say(words.PLAN_TITLE).format(vessel=self.vessel.number())
        shape = self.vessel.values.shape
        if shape is None:
            return PlanScene(title, "", no_vessel=self.vessel.say(words.NO_PLAN))
        edges = () if abs(self.vessel.values.sizes.get("tilt", 0.0)) > 0 else self._edges(shape)
        return PlanScene(
            title=title,
            description="; ".join(self._described()),
            outline=tuple(self._turned(shape, shape.plan_outline())),
            inner=tuple(tuple(self._turned(shape, polygon)) for polygon in self._inner()),
            edges=tuple((self._turned(shape, edge)[0], self._turned(shape, edge)[1]) for edge in edges),
            centre=self._centre(shape),
            nozzles=self._nozzles(),
            stubs=self._stubs(shape),
            internals=self._internals(),
            footprint=self._footprint(),
            marks=self._marks(),
            notes=tuple(self._notes()),
            north=self.vessel.say(words.NORTH),
            no_vessel=self.vessel.say(words.NO_PLAN),
        )

    # --- the vessel -----------------------------------------------------------------------------------

    def _turned(self, shape: Shape, points: Sequence[Point]) -> list[Point]:
        """Points along and across the vessel as (east, north)."""
        sin, cos = math.sin(shape.axis_bearing_rad), math.cos(shape.axis_bearing_rad)
        return [(x * sin + y * cos, x * cos - y * sin) for x, y in points]

    def _inner(self) -> list[list[Point]]:
        values = self.vessel.values
        sizes, circles = values.sizes, []
        if values.bottom == "truncated_cone":
            circles.append(sizes.get("outlet_diameter", 0.0) / 2)
        if values.body == "vertical_frustum":
            circles.append(min(sizes.get("diameter", 0.0), sizes.get("upper_diameter", 0.0)) / 2)
        found = [_circle(radius_m) for radius_m in circles if radius_m > 0]
        outlet = self._hopper_outlet()
        return [*found, outlet] if outlet else found

    def _hopper_outlet(self) -> list[Point]:
        """Corners of a hopper's outlet below a box, counter-clockwise; a wedge's slot has the box's full width."""
        values = self.vessel.values
        if not values.bottom.endswith("_hopper"):
            return []
        along = values.sizes.get("outlet_length", 0.0) / 2
        across = values.sizes.get("outlet_width", values.sizes.get("box_width", 0.0)) / 2
        return [(-along, -across), (along, -across), (along, across), (-along, across)]

    def _edges(self, shape: Shape) -> tuple[tuple[Point, Point], ...]:
        values = self.vessel.values
        if values.bottom == "pyramid_hopper":
            return tuple(zip(shape.plan_outline(), self._hopper_outlet(), strict=True))
        if values.body not in LYING:
            return ()
        half_m = values.sizes.get("cylinder_length", 0.0) / 2
        across_m = max(y for _, y in shape.plan_outline())
        places = {way * half_m for way in (-1, 1)}
        places |= {-half_m - values.sizes.get("bottom_straight_flange", 0.0)}
        places |= {half_m + values.sizes.get("top_straight_flange", 0.0)}
        return tuple(((x, -across_m), (x, across_m)) for x in sorted(places))

    def _centre(self, shape: Shape) -> tuple[tuple[Point, Point], ...]:
        """Centre lines from wall to wall: along the vessel and across its middle."""
        outline = shape.plan_outline()
        along, across = walls_at(outline, 0.0), heights_at(outline, 0.0)
        found = [((along[0], 0.0), (along[1], 0.0))] if along is not None else []
        found += [((0.0, across[0]), (0.0, across[1]))] if across is not None else []
        ends = [self._turned(shape, line) for line in found]
        return tuple((start, end) for start, end in ends)

    # --- what stands in it and on it ------------------------------------------------------------------

    def _at(self, radius_m: float | None, bearing_rad: float | None) -> Point | None:
        """A place that is known and not far outside; in the middle there is no bearing to know."""
        shape = self.vessel.values.shape
        if shape is None or radius_m is None or (bearing_rad is None and radius_m != 0):
            return None
        largest_m = max(math.hypot(x, y) for x, y in shape.plan_outline())
        if not 0 <= radius_m <= FAR * largest_m:
            return None
        return east_north(radius_m, bearing_rad or 0.0)

    @property
    def _in_side(self) -> list[NozzleValues]:
        nozzles = NozzleDrawing(self.vessel)
        return [one for one in self.vessel.values.nozzles if nozzles.in_side(one)]

    def _nozzles(self) -> tuple[PlanNozzle, ...]:
        in_side = self._in_side
        return tuple(
            PlanNozzle(one.mark, at, one.bore_m, one.place, one.place == self.used)
            for one in self.vessel.values.nozzles
            if one not in in_side and (at := self._at(one.radius_m, one.bearing_rad)) is not None
        )

    def _stubs(self, shape: Shape) -> tuple[PlanStub, ...]:
        found, outline = [], self._turned(shape, shape.plan_outline())
        for one in self._in_side:
            if one.bearing_rad is None:
                continue
            direction = east_north(1.0, one.bearing_rad)
            wall = ray_end(outline, (0.0, 0.0), direction)
            if wall is not None:
                found.append(PlanStub(one.mark, wall, direction, one.bore_m, one.place))
        return tuple(found)

    def _internals(self) -> tuple[PlanInternal, ...]:
        found = []
        for one in self.vessel.values.internals:
            at, kind = self._at(one.radius_m, one.bearing_rad), _kind(one)
            if at is not None and kind is not None:
                outwards = east_north(1.0, one.bearing_rad or 0.0)
                found.append(PlanInternal(kind, self._name(one), at, outwards, one.width_m, one.place))
        return tuple(found)

    def _name(self, internal: InternalValues) -> str:
        return internal.name or self.vessel.say(words.INTERNAL_NAMES[internal.kind])

    def _footprint(self) -> Footprint | None:
        at = self._at(self.lit.radius_m, self.lit.bearing_rad) if self.lit is not None else None
        if self.lit is None or at is None or not self.lit.footprint_m > 0:
            return None
        return Footprint(self.vessel.say(words.FOOTPRINT), at, self.lit.footprint_m)

    def _marks(self) -> tuple[PlanMark, ...]:
        values, found = self.vessel.values, []
        if values.feed is not None and (at := self._at(values.feed.radius_m, values.feed.bearing_rad)) is not None:
            found.append(PlanMark("feed", self.vessel.say(words.FEED), at, "feed"))
        out = values.draw_off
        if out is not None and (at := self._at(out.radius_m, out.bearing_rad)) is not None:
            found.append(PlanMark("draw_off", self.vessel.say(words.DRAW_OFF), at, "draw-off"))
        return tuple(found)

    # --- texts ----------------------------------------------------------------------------------------

    def _placed(self) -> list[tuple[str, float | None, float | None]]:
        """All that has a place of its own: name, radius, bearing."""
        values, in_side = self.vessel.values, self._in_side
        found = [(one.mark, one.radius_m, one.bearing_rad) for one in values.nozzles if one not in in_side]
        found += [(self._name(one), one.radius_m, one.bearing_rad) for one in values.internals if _kind(one)]
        for name, point in ((words.FEED, values.feed), (words.DRAW_OFF, values.draw_off)):
            if point is not None:
                found.append((self.vessel.say(name), point.radius_m, point.bearing_rad))
        return found

    def _notes(self) -> list[str]:
        unknown = [one.mark for one in self._in_side if one.bearing_rad is None]
        outside = []
        for name, radius_m, bearing_rad in self._placed():
            if radius_m is None or (bearing_rad is None and radius_m != 0):
                unknown.append(name)
            elif self._at(radius_m, bearing_rad) is None:
                outside.append(name)
        found = [self.vessel.say(words.PLAN_NOTE)]
        for template, names in ((words.PLACE_UNKNOWN, unknown), (words.PLACE_OUTSIDE, outside)):
            if names:
                found.append(self.vessel.say(template).format(names=", ".join(names)))
        return found

    def _described(self) -> list[str]:
        """The plan in words: what stands where."""
        found = []
        for one in self._in_side:
            if one.bearing_rad is not None:
                bearing = self.vessel.shown(one.bearing_rad, "angle")
                found.append(self.vessel.say(words.DESCRIBED_IN_SIDE).format(name=one.mark, bearing=bearing))
        for name, radius_m, bearing_rad in self._placed():
            if radius_m is None or self._at(radius_m, bearing_rad) is None:
                continue
            if radius_m == 0:
                found.append(self.vessel.say(words.DESCRIBED_MIDDLE).format(name=name))
            else:
                radius, bearing = self.vessel.shown(radius_m), self.vessel.shown(bearing_rad or 0.0, "angle")
                template = self.vessel.say(words.DESCRIBED_PLACE)
                found.append(template.format(name=name, radius=radius, bearing=bearing))
        footprint = self._footprint()
        if footprint is not None:
            radius = self.vessel.shown(footprint.radius_m)
            found.append(self.vessel.say(words.DESCRIBED_FOOTPRINT).format(name=footprint.label, radius=radius))
        return found


def _kind(internal: InternalValues) -> InternalKind | None:
    return next((known for known in get_args(InternalKind) if known == internal.kind), None)


def _circle(radius_m: float) -> list[Point]:
    turns = [math.tau * number / CIRCLE_POINTS for number in range(CIRCLE_POINTS)]
    return [(radius_m * math.cos(turn), radius_m * math.sin(turn)) for turn in turns]
