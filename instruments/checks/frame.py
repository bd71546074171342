"""The frame of a measurement: elevations from the vessel's datum and effective media, derived from a Case.

Everything here is a `Derived`: a value with its working, or the keys of the fields that it lacks. Nothing
raises for missing or contradictory data; contradictions are told by the checks of the family "mounting" and
count as missing for all others.

The datum is the lowest inside point (of a horizontal cylinder: the invert), the dip plate, or the bottom tangent line;
on a sphere and a horizontal cylinder, which have no such line, the lowest inside point takes its place.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property

from instruments.checks.capacity import Capacity, capacity_of
from instruments.checks.case import Case, Row
from instruments.checks.finding import Working
from instruments.checks.media import CaseMedium, case_medium
from instruments.checks.support import (
    GEOMETRY,
    Derived,
    all_known,
    contradiction,
    derive,
    known_or_missing,
    lacks,
    length,
    missing_field,
    small_length,
    unique,
)
from vessels.shape_values import QUANTITIES, SIDES, end_kinds, shape_of, stem_of
from vessels.shapes.build import ImpossibleShape, Shape, needed_dimensions

# The reference point of a measurement that has none (see `Frame.has_reference_point`).
NO_REFERENCE_POINT = contradiction("measurement.arrangement")


@dataclass(frozen=True, slots=True)
class ShapeProblem:
    """Why the dimensions make no body: field at fault, value given (if any), what is accepted."""

    field: str
    value_m: float | None
    accepted: str


def _above_datum(symbol: str, height: tuple[str, float], datum_m: float, *rests_on: Derived) -> Derived:
    """Elevation of a height (symbol, m) above the lowest inside point, from that of the datum."""
    inputs = (length(*height), length("h_datum", datum_m))
    formula = f"{symbol} = {height[0]} − h_datum"
    return derive(Working(formula, inputs, symbol, height[1] - datum_m, "length", GEOMETRY), *rests_on)


@dataclass(frozen=True)
class Frame:
    """Elevations in m from the vessel's datum, positive up, each worked out once."""

    case: Case

    def entered(self, key: str) -> Derived:
        """The SI value of a field of vessel, measurement, nozzle or sensor class, or what it lacks."""
        entity, _, stem = key.partition(".")
        if entity == "sensor_class":
            if self.case.sensor_class is None:
                return missing_field("measurement.sensor_class")
            value = known_or_missing(self.case.sensor_class.si(stem), key)
            # A person changes the class, not its value: the finding rests on the choice of the class.
            return replace(value, fields=("measurement.sensor_class", key))
        if entity == "vessel" and not self.case.vessel.values:
            return missing_field("measurement.vessel")
        if entity == "nozzle" and self.case.nozzle is None:
            return missing_field("measurement.nozzle")
        rows = {"vessel": self.case.vessel, "measurement": self.case.measurement, "nozzle": self.case.nozzle}
        row = rows[entity]
        return known_or_missing(row.si(stem) if row else None, key)

    def optional(self, key: str, default: float) -> Derived:
        """Like `entered`, but an empty field stands for the default. An unreadable text is still missing."""
        entered = self.entered(key)
        return Derived(default, fields=(key,)) if self.is_empty(entered, key) else entered

    def is_empty(self, entered: Derived, key: str) -> bool:
        """True where nothing at all stands in a field: no value, no text that cannot be read, no slip."""
        return entered.missing == (key,) and not entered.contradictory and key not in self.case.unreadable

    # --- the vessel -----------------------------------------------------------------------------------------

    @cached_property
    def _shape(self) -> Shape | ShapeProblem | tuple[str, ...]:
        vessel = self.case.vessel
        if not vessel.values:
            return ("measurement.vessel",)
        missing = [key for key in self._shape_choices if not vessel.text(key.removeprefix("vessel."))]
        missing += [key for key in self._shape_dimensions if vessel.si(key.removeprefix("vessel.")) is None]
        missing += [f"vessel.{stem}" for stem in QUANTITIES if f"vessel.{stem}" in self.case.unreadable]
        if missing:
            return unique(missing)
        try:
            return shape_of(vessel.text, vessel.si)
        except ImpossibleShape as error:
            value_m = error.value if isinstance(error.value, float) else None
            return ShapeProblem(f"vessel.{stem_of(error.argument)}", value_m, error.accepted)

    @property
    def _shape_choices(self) -> tuple[str, ...]:
        """Keys of the choices that a shape needs: the body, and the ends where it has a choice of them."""
        body = self.case.vessel.text("body")
        ends = [side for side in SIDES if not body or len(end_kinds(body, side)) > 1]
        return ("vessel.body", *(f"vessel.{side}" for side in ends))

    @property
    def _shape_dimensions(self) -> tuple[str, ...]:
        """Keys of the dimensions that the chosen body and ends need."""
        vessel = self.case.vessel
        names = needed_dimensions(vessel.text("body"), vessel.text("bottom"), vessel.text("top"))
        return tuple(f"vessel.{stem_of(name)}" for name in names)

    @property
    def shape_fields(self) -> tuple[str, ...]:
        """Keys of the fields that the shape rests on."""
        return self._shape_choices + self._shape_dimensions

    @property
    def shape(self) -> Shape | None:
        """The inside of the vessel, or None: see `shape_missing` and `shape_problem`."""
        return self._shape if isinstance(self._shape, Shape) else None

    @property
    def shape_problem(self) -> ShapeProblem | None:
        return self._shape if isinstance(self._shape, ShapeProblem) else None

    @property
    def shape_missing(self) -> tuple[str, ...]:
        """Keys to fill or to correct before there is a shape."""
        if isinstance(self._shape, ShapeProblem):
            return (self._shape.field,)
        return self._shape if isinstance(self._shape, tuple) else ()

    @property
    def without_shape(self) -> Derived:
        """What is missing where there is no shape: dimensions to fill, or the one that makes no body."""
        missing = self.shape_missing
        return Derived(None, missing=missing, contradictory=missing if self.shape_problem else ())

    @cached_property
    def datum_height(self) -> Derived:
        """Height of the datum above the lowest inside point, m."""
        datum = self.case.vessel.text("datum")
        if not self.case.vessel.values:
            return missing_field("measurement.vessel")
        if datum == "lowest_inside_point":
            return Derived(0.0, fields=("vessel.datum",))
        if datum == "dip_plate":
            return self.entered("vessel.dip_plate_height")
        if datum == "bottom_tangent_line":
            if self.shape is None:
                return self.without_shape
            return Derived(self.shape.tangent_height_m, fields=("vessel.datum", *self.shape_fields))
        return missing_field("vessel.datum")

    @cached_property
    def capacity(self) -> Capacity:
        """What the vessel holds, by its shape or strapping table as the vessel says."""
        return capacity_of(self.case, self.shape or self.without_shape, self.datum_height)

    @cached_property
    def bottom(self) -> Derived:
        """Elevation of the lowest inside point."""
        datum = self.datum_height
        if datum.value is None:
            return datum
        inputs = (length("h_datum", datum.value),)
        return derive(
            Working("z_bottom = 0 − h_datum", inputs, "z_bottom", 0.0 - datum.value, "length", GEOMETRY),
            datum,
        )

    @cached_property
    def roof(self) -> Derived:
        """Elevation of the highest inside point."""
        datum = self.datum_height
        if self.shape is None:
            return self.without_shape
        if datum.value is None:
            return datum
        rests_on = Derived(None, fields=self.shape_fields), datum
        return _above_datum("z_roof", ("H", self.shape.height_m), datum.value, *rests_on)

    @cached_property
    def roof_on_axis(self) -> Derived:
        """Elevation at which the sensor's vertical axis meets the roof: where its nozzle stands.

        That of the highest inside point, wherever the nozzle stands, unless the roof is curved.
        """
        if self.shape is None or self.shape.has_level_crown:
            return self.roof
        return self._on_axis(self.shape.roof_elevation_m, "z_roof", "H(r)")

    @cached_property
    def bottom_on_axis(self) -> Derived:
        """Elevation at which the sensor's vertical axis meets the bottom."""
        if self.shape is None:
            return lacks(self.without_shape, self.entered("nozzle.radius"))
        return self._on_axis(self.shape.bottom_elevation_m, "z_axis", "h(r)")

    @cached_property
    def place(self) -> tuple[Derived, Derived]:
        """Radius and bearing of the sensor's axis, both known or neither; missing where it stands beside the vessel.

        The bearing counts where the vessel is not the same all around, but for a sensor in its middle; elsewhere it is
        0, whatever was entered.
        """
        shape, radius = self.shape, self.entered("nozzle.radius")
        if shape is None or radius.value is None:
            none = lacks(self.without_shape, radius)
            return none, none
        bearing = Derived(0.0)
        if not shape.is_round and radius.value != 0:
            bearing = self.entered("nozzle.bearing")
        if bearing.value is None:
            return lacks(bearing), lacks(bearing)
        reach_m = shape.reach_m(bearing.value) if not shape.is_round else shape.largest_radius_m
        if not 0.0 <= radius.value <= reach_m:
            beside = contradiction("nozzle.radius", *(() if shape.is_round else ("nozzle.bearing",)))
            return beside, beside
        return radius, bearing

    def _on_axis(self, height_at: Callable[[float, float], float], symbol: str, height_symbol: str) -> Derived:
        """Elevation of what has a height above the lowest inside point at each place, at the sensor's place."""
        (radius, bearing), datum = self.place, self.datum_height
        if radius.value is None or bearing.value is None or datum.value is None:
            return lacks(radius, bearing, datum)
        height_m = height_at(radius.value, bearing.value)
        return _above_datum(symbol, (height_symbol, height_m), datum.value, radius, bearing, datum)

    # --- the connection -------------------------------------------------------------------------------------

    @property
    def has_two_elevations(self) -> bool:
        """True where both the face's elevation and its projection were entered: one of them has to go."""
        nozzle = self.case.nozzle
        return nozzle is not None and None not in (nozzle.si("face_elevation"), nozzle.si("projection"))

    @cached_property
    def nozzle_face(self) -> Derived:
        """Elevation of the sensor's nozzle's face: entered, or the projection above the inside of the roof there."""
        face, projection = self.entered("nozzle.face_elevation"), self.entered("nozzle.projection")
        for key in ("nozzle.face_elevation", "nozzle.projection"):
            if key in self.case.unreadable:
                return missing_field(key)
        if self.has_two_elevations:
            return contradiction("nozzle.face_elevation", "nozzle.projection")
        if face.value is not None or projection.value is None:
            return face
        roof = self.roof_on_axis
        if roof.value is None:
            return lacks(roof)
        inputs = (length("z_roof", roof.value), small_length("h_p", projection.value))
        working = Working("z_face = z_roof + h_p", inputs, "z_face", roof.value + projection.value, "length", GEOMETRY)
        return derive(working, roof, projection)

    def connection(self, role: str) -> Row | None:
        """The connection with a role: "sensor", "upper" or "lower"."""
        return next((row for row in self.case.connections if row.text("role") == role), None)

    def tap(self, role: str) -> Derived:
        """Elevation of the face of a connection on the vessel's side, by its role ("upper", "lower").

        Missing names "measurement.nozzle_upper" (or lower) where there is no such connection. A projection says nothing
        about the elevation of a side connection.
        """
        row = self.connection(role)
        if row is None:
            return missing_field(f"measurement.nozzle_{role}")
        return known_or_missing(row.si("face_elevation"), "nozzle.face_elevation")

    @property
    def arrangement(self) -> str:
        """How the measurement is fitted: "one_nozzle" where nothing else is said."""
        return self.case.measurement.text("arrangement") or "one_nozzle"

    @property
    def has_reference_point(self) -> bool:
        """False where distance and dead zone mean nothing: two taps, remote seals, no connection.

        `reference_point` and what follows from it is then missing for want of another arrangement; checks say "not
        applicable" instead.
        """
        return self.arrangement in ("one_nozzle", "chamber")

    @cached_property
    def reference_point(self) -> Derived:
        """Elevation of the sensor's reference point.

        One nozzle: its face plus an adapter, if there is one. Chamber: the entered elevation of its top.
        """
        if self.arrangement == "chamber":
            return self.entered("measurement.reference_elevation")
        if not self.has_reference_point:
            return NO_REFERENCE_POINT
        face, adapter = self.nozzle_face, self.optional("measurement.adapter_length", 0.0)
        known = all_known(face, adapter)
        if known is None:
            return lacks(face, adapter)
        inputs = (length("z_face", known[0]), small_length("a", known[1]))
        return derive(
            Working("z_ref = z_face + a", inputs, "z_ref", known[0] + known[1], "length", GEOMETRY),
            face,
            adapter,
        )

    def distance(self, level: Derived) -> Derived:
        """Distance from the reference point down to a level, negative above it."""
        known = all_known(self.reference_point, level)
        if known is None:
            return lacks(self.reference_point, level)
        inputs = (length("z_ref", known[0]), length("z", known[1]))
        working = Working("d = z_ref − z", inputs, "d", known[0] - known[1], "length", GEOMETRY)
        return derive(working, self.reference_point, level)

    @cached_property
    def probe_end(self) -> Derived:
        """Elevation of the end of a probe: its length below the reference point."""
        reference, probe = self.reference_point, self.entered("measurement.probe_length")
        known = all_known(reference, probe)
        if known is None:
            return lacks(reference, probe)
        inputs = (length("z_ref", known[0]), length("L", known[1]))
        working = Working("z_end = z_ref − L", inputs, "z_end", known[0] - known[1], "length", GEOMETRY)
        return derive(working, reference, probe)

    @cached_property
    def dead_zone_end(self) -> Derived:
        """Elevation at which the upper dead zone ends; levels above it cannot be measured."""
        reference, zone = self.reference_point, self.entered("sensor_class.dead_zone_upper")
        from_tip = self.class_text("dead_zone_origin") == "antenna_tip"
        reach = self.entered("sensor_class.antenna_reach") if from_tip else Derived(0.0)
        known = all_known(reference, zone, reach)
        if known is None:
            return lacks(reference, zone, reach)
        if not self.class_text("dead_zone_origin"):
            return missing_field("sensor_class.dead_zone_origin")
        inputs = [length("z_ref", known[0]), small_length("D", known[1])]
        formula = "z_dead = z_ref − D"
        if from_tip:
            inputs.insert(1, small_length("t", known[2]))
            formula = "z_dead = z_ref − t − D"
        result = known[0] - known[2] - known[1]
        working = Working(formula, tuple(inputs), "z_dead", result, "length", self.class_source("dead_zone_upper"))
        return derive(working, reference, zone, reach)

    # --- the sensor class -----------------------------------------------------------------------------------

    def class_text(self, stem: str) -> str:
        """A text or choice of the sensor class, '' where there is none."""
        return self.case.sensor_class.text(stem) if self.case.sensor_class else ""

    def class_source(self, stem: str) -> str:
        """Who says so, for a limit of the class."""
        provenance = self.case.sensor_class.provenance(stem) if self.case.sensor_class else ""
        return f"Class limit ({provenance})"

    @property
    def provisional(self) -> bool:
        """True where the class's values were not confirmed from a certificate."""
        return self.case.sensor_class is not None and not self.case.sensor_class.confirmed

    # --- operating cases ------------------------------------------------------------------------------------

    @cached_property
    def media(self) -> tuple[CaseMedium, ...]:
        """The operating cases with the values that hold in them, in the order of the Case."""
        return tuple(case_medium(self.case, row) for row in self.case.operating_cases)
