"""The frame of a measurement: elevations from the vessel's datum and effective media, derived from a Case.

Everything here is a `Derived`: a value with its working, or the keys of the fields that it lacks. Nothing
raises for missing or contradictory data; contradictions are told by the checks of the family "mounting" and
count as missing for all others.
"""

from dataclasses import dataclass, replace
from functools import cached_property

from instruments.checks.case import Case, Row
from instruments.checks.finding import Working
from instruments.checks.support import (
    GEOMETRY,
    Derived,
    all_known,
    derive,
    known_or_missing,
    lacks,
    length,
    margin_of,
    missing_field,
    small_length,
    unique,
)
from vessels.shapes.build import ImpossibleShape, Shape, shape_from_values

DENSITY_HOLDS_WITHIN_K = 10.0  # a stated density is not used further from its temperature

_SHAPE_CHOICES = ("body", "bottom", "top")


@dataclass(frozen=True, slots=True)
class ShapeProblem:
    """Why the dimensions make no body: field at fault, value given (if any), what is accepted."""

    field: str
    value_m: float | None
    accepted: str


@dataclass(frozen=True, slots=True)
class CaseMedium:
    """One operating case with the medium's values that hold in it.

    name  the case's display name;  kind  the kind of medium, '' where no medium is chosen
    """

    name: str
    kind: str
    temperature_k: Derived
    pressure_pa_abs: Derived
    permittivity: Derived
    density_kg_m3: Derived


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
        if entered.missing == (key,) and key not in self.case.unreadable:
            return Derived(default, fields=(key,))
        return entered

    # --- the vessel -----------------------------------------------------------------------------------------

    @cached_property
    def _shape(self) -> Shape | ShapeProblem | tuple[str, ...]:
        vessel = self.case.vessel
        if not vessel.values:
            return ("measurement.vessel",)
        needed = ["diameter", "cylinder_height"]
        if vessel.text("bottom") not in ("", "flat"):
            needed.append("bottom_depth")
        missing = [stem for stem in _SHAPE_CHOICES if not vessel.text(stem)]
        missing += [stem for stem in needed if vessel.si(stem) is None]
        missing += [stem for stem in ("bottom_depth",) if f"vessel.{stem}" in self.case.unreadable]
        if missing:
            return unique(f"vessel.{stem}" for stem in missing)
        try:
            return shape_from_values(
                body=vessel.text("body"),
                bottom=vessel.text("bottom"),
                top=vessel.text("top"),
                diameter_m=vessel.si("diameter"),
                cylinder_height_m=vessel.si("cylinder_height"),
                bottom_depth_m=vessel.si("bottom_depth"),
            )
        except ImpossibleShape as error:
            value_m = error.value if isinstance(error.value, float) else None
            return ShapeProblem(f"vessel.{error.argument.removesuffix('_m')}", value_m, error.accepted)

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
    def _no_shape(self) -> Derived:
        return Derived(None, missing=self.shape_missing)

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
                return self._no_shape
            return Derived(self.shape.tangent_height_m, fields=("vessel.datum", "vessel.bottom_depth"))
        return missing_field("vessel.datum")

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
            return self._no_shape
        if datum.value is None:
            return datum
        inputs = (
            length("H", self.shape.height_m),
            length("h_datum", datum.value),
        )
        result = self.shape.height_m - datum.value
        height = Derived(None, fields=("vessel.cylinder_height", "vessel.bottom_depth"))
        return derive(Working("z_roof = H − h_datum", inputs, "z_roof", result, "length", GEOMETRY), height, datum)

    @cached_property
    def bottom_on_axis(self) -> Derived:
        """Elevation at which the sensor's vertical axis meets the bottom."""
        radius, datum = self.entered("nozzle.radius"), self.datum_height
        if self.shape is None:
            return lacks(self._no_shape, radius)
        if radius.value is None or datum.value is None:
            return lacks(radius, datum)
        if not 0.0 <= radius.value <= self.shape.largest_half_width_m:
            return Derived(None, missing=("nozzle.radius",))
        height = self.shape.bottom_elevation_m(radius.value)
        inputs = (
            length("h(r)", height),
            length("h_datum", datum.value),
        )
        working = Working("z_axis = h(r) − h_datum", inputs, "z_axis", height - datum.value, "length", GEOMETRY)
        return derive(working, radius, datum)

    # --- the connection -------------------------------------------------------------------------------------

    @property
    def has_two_elevations(self) -> bool:
        """True where both the face's elevation and its projection were entered: one of them has to go."""
        nozzle = self.case.nozzle
        return nozzle is not None and None not in (nozzle.si("face_elevation"), nozzle.si("projection"))

    @cached_property
    def nozzle_face(self) -> Derived:
        """Elevation of the nozzle's face: entered, or the inside of the roof plus the projection."""
        face, projection = self.entered("nozzle.face_elevation"), self.entered("nozzle.projection")
        for key in ("nozzle.face_elevation", "nozzle.projection"):
            if key in self.case.unreadable:
                return missing_field(key)
        if self.has_two_elevations:
            return Derived(None, missing=("nozzle.face_elevation", "nozzle.projection"))
        if face.value is not None or projection.value is None:
            return face
        if self.roof.value is None:
            return lacks(self.roof)
        inputs = (length("z_roof", self.roof.value), small_length("h_p", projection.value))
        result = self.roof.value + projection.value
        return derive(
            Working("z_face = z_roof + h_p", inputs, "z_face", result, "length", GEOMETRY),
            self.roof,
            projection,
        )

    @cached_property
    def reference_point(self) -> Derived:
        """Elevation of the sensor's reference point: the nozzle's face plus an adapter, if there is one."""
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
        return tuple(self._case_medium(row) for row in self.case.operating_cases)

    def _case_medium(self, row: Row) -> CaseMedium:
        medium = self.case.medium_of(row)
        return CaseMedium(
            name=row.text("display") or row.text("name") or row.text("kind"),
            kind=medium.text("kind") if medium else "",
            temperature_k=known_or_missing(row.si("temperature"), "case.temperature"),
            pressure_pa_abs=known_or_missing(row.si("pressure"), "case.pressure"),
            permittivity=self._property(row, medium, "permittivity"),
            density_kg_m3=self._density(row, medium),
        )

    def _property(self, row: Row, medium: Row | None, stem: str) -> Derived:
        """A property of the medium, which the operating case may override."""
        if row.si(stem) is not None or f"case.{stem}" in self.case.unreadable:
            return known_or_missing(row.si(stem), f"case.{stem}")
        if medium is None:
            return missing_field("case.medium")
        return known_or_missing(medium.si(stem), f"medium.{stem}")

    def _density(self, row: Row, medium: Row | None) -> Derived:
        """The density in an operating case; missing beyond 10 K from where it is stated."""
        density = self._property(row, medium, "density")
        if density.value is None or density.fields == ("case.density",) or medium is None:
            return density
        stated = known_or_missing(medium.si("density_temperature"), "medium.density_temperature")
        actual = known_or_missing(row.si("temperature"), "case.temperature")
        known = all_known(stated, actual)
        if known is None:
            return lacks(stated, actual)
        if margin_of(DENSITY_HOLDS_WITHIN_K, abs(known[0] - known[1])) < 0:
            return missing_field("case.density")
        return Derived(density.value, fields=(*density.fields, *stated.fields, *actual.fields))
