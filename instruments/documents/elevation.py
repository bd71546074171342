"""The sketch of a measurement: what the elevation shows of a Case, with every text in the plant's units."""

from collections.abc import Callable
from dataclasses import dataclass

from instruments.checks.case import Case, Row
from instruments.checks.frame import Frame
from project.registry import gettext_noop
from vessels.field_defs import DATUMS
from vessels.sketch.scene import (
    Beam,
    DeadZone,
    Dimension,
    Filling,
    LevelKind,
    LevelMark,
    Nozzle,
    Scene,
    Shell,
    Words,
)

Translate = Callable[[str], str]

# Texts of the sketch. `{…}` is filled in after translation.
TITLE = gettext_noop("Elevation of {vessel} with {tag}")
TITLE_WITHOUT_TAG = gettext_noop("Elevation of {vessel}")
UNNAMED_VESSEL = gettext_noop("the vessel")
ROOF, BOTTOM, DATUM = gettext_noop("Roof"), gettext_noop("Bottom"), gettext_noop("Datum")
NOZZLE_FACE, REFERENCE = gettext_noop("Nozzle face"), gettext_noop("Reference point")
DEAD_ZONE, OVERFLOW = gettext_noop("Dead zone to"), gettext_noop("Overflow")
LRV, URV = gettext_noop("LRV"), gettext_noop("URV")
DIAMETER, CYLINDER = gettext_noop("Inside diameter"), gettext_noop("Height of the cylinder")
BOTTOM_DEPTH, STAND_OFF = gettext_noop("Depth of the bottom"), gettext_noop("Nozzle stand-off")
DISTANCE_AT = gettext_noop("Distance at {name}")
ELEVATIONS_FROM = gettext_noop("Elevations from the datum: {datum}.")
SYMBOL_NOTE = gettext_noop("Sensor not to scale.")
FILLING_NOTE = gettext_noop("Medium drawn at URV.")
RADIUS_NOTE = gettext_noop("Nozzle drawn on the axis: its radius is not known.")
BEAM_NOTE = gettext_noop("Beam at half power, {angle}.")
DESCRIBED = gettext_noop("{name} {value}")

DRAWING_WORDS = {
    "outside": gettext_noop("outside the vessel"),
    "far_outside": gettext_noop("far outside the vessel"),
    "nozzle_absent": gettext_noop("{label} is not drawn: it would be far outside the vessel."),
    "heights_larger": gettext_noop("Not to one scale: heights drawn {factor} times larger than widths."),
    "widths_larger": gettext_noop("Not to one scale: widths drawn {factor} times larger than heights."),
    "no_vessel": gettext_noop("No sketch yet: the vessel's dimensions are missing"),
}
SOLID_KINDS = frozenset({"solid"})


def scene_from_case(case: Case, *, translate: Translate = str) -> Scene:
    """What the elevation of a measurement shows.

    Parameters
    ----------
    case       the measurement; whatever it lacks is not drawn
    translate  turns an English text into the reader's language

    Returns a Scene with elevations in m from the vessel's datum and texts in the plant's units.
    """
    return _Builder(case, Frame(case), translate).scene()


@dataclass(frozen=True, slots=True)
class _Builder:
    case: Case
    frame: Frame
    translate: Translate

    def scene(self) -> Scene:
        shell = self._shell()
        levels = self._levels(shell)
        dimensions = self._dimensions(shell)
        return Scene(
            title=self._title(),
            description=self._description(levels, dimensions),
            shell=shell,
            nozzles=self._nozzles(shell),
            beam=self._beam(),
            dead_zone=self._dead_zone(),
            levels=levels,
            filling=self._filling(),
            dimensions=dimensions,
            notes=self._notes(shell),
            words=Words(**{key: self.translate(text) for key, text in DRAWING_WORDS.items()}),
        )

    # --- texts ----------------------------------------------------------------------------------------

    def _shown(self, value_m: float, kind: str = "length") -> str:
        return str(self.case.units.shown_si(value_m, kind))

    def _entered(self, row: Row, stem: str, kind: str = "length") -> str:
        """A value as it was typed, where it was typed in the plant's unit."""
        return str(self.case.units.shown(row.quantity(stem), kind))

    def _title(self) -> str:
        vessel = self.case.vessel.text("number") or self.translate(UNNAMED_VESSEL)
        tag = self.case.tag.text("text")
        template = TITLE if tag else TITLE_WITHOUT_TAG
        return self.translate(template).format(vessel=vessel, tag=tag)

    def _description(self, levels: tuple[LevelMark, ...], dimensions: tuple[Dimension, ...]) -> str:
        """The drawing in words, for those who do not see it."""
        parts = [(mark.name, mark.value) for mark in sorted(levels, key=lambda mark: -mark.elevation_m)]
        parts += [(one.name, one.value) for one in dimensions]
        words = [self.translate(DESCRIBED).format(name=name, value=value).strip() for name, value in parts]
        return "; ".join(words)

    def _notes(self, shell: Shell | None) -> tuple[str, ...]:
        datum = dict(DATUMS).get(self.case.vessel.text("datum"))
        notes = []
        if datum:
            name = self.translate(datum)
            notes.append(self.translate(ELEVATIONS_FROM).format(datum=name[:1].lower() + name[1:]))
        if self.frame.reference_point.value is not None:
            notes.append(self.translate(SYMBOL_NOTE))
        angle = self.frame.entered("sensor_class.beam_angle").value
        if self._beam() is not None and angle is not None:
            notes.append(self.translate(BEAM_NOTE).format(angle=self._shown(angle, "angle")))
        if self._nozzles(shell) and self._offset_m is None:
            notes.append(self.translate(RADIUS_NOTE))
        if shell is not None and self._filling() is not None:
            notes.append(self.translate(FILLING_NOTE))
        return tuple(notes)

    # --- the vessel -----------------------------------------------------------------------------------

    def _shell(self) -> Shell | None:
        shape = self.frame.shape
        if shape is None:
            return None
        # Without a datum the vessel can be drawn, though nothing can be placed in it.
        lowest_m = -(self.frame.datum_height.value or 0.0)
        return Shell(
            tuple((radius, lowest_m + height) for radius, height in shape.profile()),
            lowest_m + shape.tangent_height_m,
            lowest_m + shape.top_tangent_height_m,
        )

    @property
    def _placed(self) -> bool:
        """True where elevations can be placed in the vessel."""
        return self.frame.shape is not None and self.frame.datum_height.value is not None

    def _filling(self) -> Filling | None:
        urv_m = self.frame.entered("measurement.urv").value
        kinds = [one.kind for one in self.frame.media if one.kind]
        if urv_m is None or not kinds or not self._placed:
            return None
        return Filling(urv_m, "solid" if kinds[0] in SOLID_KINDS else "liquid")

    # --- the sensor -----------------------------------------------------------------------------------

    @property
    def _offset_m(self) -> float | None:
        """Where the nozzle stands: on the left, where the dimensions are."""
        radius_m = self.frame.entered("nozzle.radius").value
        return None if radius_m is None else -radius_m

    def _nozzles(self, shell: Shell | None) -> tuple[Nozzle, ...]:
        row, face_m = self.case.nozzle, self.frame.nozzle_face.value
        if shell is None or row is None or face_m is None or not self._placed:
            return ()
        label = " ".join(text for text in (row.text("mark"), row.text("size")) if text)
        return (
            Nozzle(
                label=label,
                # Without a radius it is drawn on the axis, with a note; a check says that it is missing.
                offset_m=self._offset_m or 0.0,
                root_m=shell.highest_m,
                face_m=face_m,
                bore_m=self.frame.entered("nozzle.bore").value,
                reference_m=self.frame.reference_point.value,
            ),
        )

    def _beam(self) -> Beam | None:
        apex_m, angle = self.frame.reference_point.value, self.frame.entered("sensor_class.beam_angle").value
        if apex_m is None or angle is None or self._offset_m is None or not self._placed:
            return None
        return Beam(self._offset_m, apex_m, angle / 2)

    def _dead_zone(self) -> DeadZone | None:
        from_m, to_m = self.frame.reference_point.value, self.frame.dead_zone_end.value
        if from_m is None or to_m is None or not self._placed:
            return None
        return DeadZone(self._offset_m or 0.0, from_m, to_m)

    # --- levels and dimensions ------------------------------------------------------------------------

    def _levels(self, shell: Shell | None) -> tuple[LevelMark, ...]:
        if shell is None or not self._placed:
            return ()
        marks = [*self._vessel_levels(shell), *self._ranges(), *self._setpoints()]
        face_m, dead_m = self.frame.nozzle_face.value, self.frame.dead_zone_end.value
        reference_m = self.frame.reference_point.value
        if face_m is not None:
            marks.append(self._computed("nozzle", face_m, NOZZLE_FACE))
        if reference_m is not None and reference_m != face_m:
            marks.append(self._computed("nozzle", reference_m, REFERENCE))
        if dead_m is not None:
            marks.append(self._computed("dead-zone", dead_m, DEAD_ZONE, "limit"))
        return tuple(marks)

    def _computed(
        self, place: str, elevation_m: float, name: str, kind: LevelKind = "elevation"
    ) -> LevelMark:
        return LevelMark(place, elevation_m, self.translate(name), self._shown(elevation_m), kind)

    def _vessel_levels(self, shell: Shell) -> list[LevelMark]:
        marks = [self._computed("roof", shell.highest_m, ROOF), self._computed("datum", 0.0, DATUM, "datum")]
        if shell.lowest_m != 0:
            marks.append(self._computed("bottom", shell.lowest_m, BOTTOM))
        overflow_m = self.case.vessel.si("overflow_level")
        if overflow_m is not None:
            shown = self._entered(self.case.vessel, "overflow_level")
            marks.append(LevelMark("overflow", overflow_m, self.translate(OVERFLOW), shown))
        return marks

    def _ranges(self) -> list[LevelMark]:
        marks = []
        for stem, name in (("urv", URV), ("lrv", LRV)):
            level_m = self.frame.entered(f"measurement.{stem}").value
            if level_m is not None:
                shown = self._entered(self.case.measurement, stem)
                marks.append(LevelMark(stem, level_m, self.translate(name), shown, "range"))
        return marks

    def _setpoints(self) -> list[LevelMark]:
        marks = []
        for row in self.case.setpoints:
            name, level_m = row.text("name"), row.si("level")
            if level_m is not None:
                shown = self._entered(row, "level")
                marks.append(LevelMark(f"setpoint-{name}", level_m, name, shown, "setpoint"))
        return marks

    def _dimensions(self, shell: Shell | None) -> tuple[Dimension, ...]:
        if shell is None:
            return ()
        found = [*self._vessel_dimensions(shell)]
        face_m, reference_m = self.frame.nozzle_face.value, self.frame.reference_point.value
        if self._placed and face_m is not None and face_m > shell.highest_m:
            shown = self._shown(face_m - shell.highest_m, "length_small")
            name = self.translate(STAND_OFF)
            found.append(Dimension("nozzle", "height", shell.highest_m, face_m, shown, name))
        if self._placed and reference_m is not None:
            found += self._distances(reference_m)
        return tuple(found)

    def _distances(self, reference_m: float) -> list[Dimension]:
        """Distances from the sensor down to URV and LRV; a level above the sensor has none."""
        found = []
        for mark in self._ranges():
            low_m = mark.elevation_m
            if low_m < reference_m:
                name = self.translate(DISTANCE_AT).format(name=mark.name)
                shown = self._shown(reference_m - low_m)
                found.append(Dimension(mark.place, "height", low_m, reference_m, shown, name, with_name=True))
        return found

    def _vessel_dimensions(self, shell: Shell) -> list[Dimension]:
        vessel = self.case.vessel
        diameter = f"Ø {self._entered(vessel, 'diameter')}"
        height = self._entered(vessel, "cylinder_height")
        names = self.translate(DIAMETER), self.translate(CYLINDER)
        found = [
            Dimension("shell", "width", -shell.radius_m, shell.radius_m, diameter, names[0]),
            Dimension("shell", "height", shell.bottom_tangent_m, shell.top_tangent_m, height, names[1]),
        ]
        if shell.lowest_m < shell.bottom_tangent_m:
            depth = self._entered(vessel, "bottom_depth")
            name = self.translate(BOTTOM_DEPTH)
            low_m, high_m = shell.lowest_m, shell.bottom_tangent_m
            found.append(Dimension("bottom", "height", low_m, high_m, depth, name))
        return found
