"""The sketch of a measurement: what the elevation shows of a Case, with every text in the plant's units.

The sketch of all measurements of a vessel comes from `scene_from_cases` and `draw_overview`, given here too.
"""

from dataclasses import dataclass
from typing import Literal

from instruments.checks.beam import beam_met_m
from instruments.checks.case import Case
from instruments.checks.frame import Frame
from instruments.documents.overview import scene_from_cases
from instruments.documents.vessel_scene import Translate, VesselScene, scene_of
from project.registry import gettext_noop
from vessels.drawing.vessel import VesselDrawing
from vessels.drawing.words import STAND_OFF
from vessels.sketch.overview import draw_overview
from vessels.sketch.scene import (
    Beam,
    Beside,
    DeadZone,
    Dimension,
    LevelMark,
    Nozzle,
    Probe,
    Scene,
    Shell,
)

__all__ = ["draw_overview", "scene_from_case", "scene_from_cases"]

# Texts of the sketch. `{…}` is filled in after translation.
TITLE = gettext_noop("Elevation of {vessel} with {tag}")
TITLE_WITHOUT_TAG = gettext_noop("Elevation of {vessel}")
NOZZLE_FACE, REFERENCE = gettext_noop("Nozzle face"), gettext_noop("Reference point")
DEAD_ZONE, PROBE_END = gettext_noop("Dead zone to"), gettext_noop("Probe end")
TRANSMITTER = gettext_noop("Transmitter")
LRV, URV = gettext_noop("LRV"), gettext_noop("URV")
TAPS = {
    ("chamber", "upper"): gettext_noop("Upper tap"),
    ("chamber", "lower"): gettext_noop("Lower tap"),
    ("legs", "upper"): gettext_noop("Upper tap"),
    ("legs", "lower"): gettext_noop("Lower tap"),
    ("seals", "upper"): gettext_noop("Upper seal"),
    ("seals", "lower"): gettext_noop("Lower seal"),
}
DISTANCE_AT = gettext_noop("Distance at {name}")
SYMBOL_NOTE = gettext_noop("Sensor not to scale.")
BESIDE_NOTE = gettext_noop("What hangs on the side is drawn at the left; its heights are to scale.")
FILLING_NOTE = gettext_noop("Medium drawn at URV.")
RADIUS_NOTE = gettext_noop("Nozzle drawn on the axis: its radius is not known.")
TRANSMITTER_NOTE = gettext_noop("Transmitter drawn at the lowest connection: its elevation is not known.")
BEAM_NOTE = gettext_noop("Beam at half power, {angle}.")

BesideKind = Literal["chamber", "legs", "seals"]
BESIDE: dict[str, BesideKind] = {"chamber": "chamber", "two_taps": "legs", "remote_seals": "seals"}


def scene_from_case(case: Case, *, translate: Translate = str) -> Scene:
    """What the elevation of a measurement shows.

    Parameters
    ----------
    case       the measurement; whatever it lacks is not drawn
    translate  turns an English text into the reader's language

    Returns a Scene with elevations in m from the vessel's datum and texts in the plant's units.
    """
    frame = Frame(case)
    return _Builder(case, frame, translate, scene_of(case, frame, translate)).scene()


@dataclass(frozen=True, slots=True)
class _Builder:
    case: Case
    frame: Frame
    translate: Translate
    vessel: VesselScene

    @property
    def drawing(self) -> VesselDrawing:
        return self.vessel.drawing

    def scene(self) -> Scene:
        shell = self.drawing.shell
        levels = self._levels(shell)
        dimensions = self._dimensions(shell)
        return Scene(
            title=self._title(),
            description=self._description(levels, dimensions),
            shell=shell,
            nozzles=self._nozzles(shell),
            beam=self._beam(),
            dead_zone=self._dead_zone(),
            probe=self._probe(),
            beside=self._beside(),
            internals=self.drawing.internals(),
            levels=levels,
            filling=self.vessel.filling(self.frame.entered("measurement.urv").value),
            dimensions=dimensions,
            slants=self.drawing.slants(),
            tilt=self.drawing.tilt,
            notes=self._notes(shell),
            words=self.drawing.drawing_words(),
        )

    # --- texts ----------------------------------------------------------------------------------------

    def _title(self) -> str:
        tag = self.case.tag.text("text")
        template = TITLE if tag else TITLE_WITHOUT_TAG
        return self.translate(template).format(vessel=self.drawing.number(), tag=tag)

    def _description(self, levels: tuple[LevelMark, ...], dimensions: tuple[Dimension, ...]) -> str:
        """The drawing in words, for those who do not see it."""
        parts = [(mark.name, mark.value) for mark in sorted(levels, key=lambda mark: -mark.elevation_m)]
        parts += self.drawing.spoken_dimensions(dimensions)
        return "; ".join([*self.drawing.described(parts), *self.drawing.described_internals()])

    def _notes(self, shell: Shell | None) -> tuple[str, ...]:
        notes = self.drawing.notes()
        beside, on_nozzle = self._beside(), bool(self._nozzles(shell))
        if self.frame.reference_point.value is not None or beside is not None:
            notes.append(self.translate(SYMBOL_NOTE))
        angle = self.frame.entered("sensor_class.beam_angle").value
        if self._beam() is not None and angle is not None:
            notes.append(self.translate(BEAM_NOTE).format(angle=self.vessel.shown(angle, "angle")))
        if on_nozzle and self._offset_m is None:
            notes.append(self.translate(RADIUS_NOTE))
        if beside is not None:
            notes.append(self.translate(BESIDE_NOTE))
        if beside is not None and beside.kind != "chamber" and beside.head_m is None:
            notes.append(self.translate(TRANSMITTER_NOTE))
        if self.drawing.internals() and self.drawing.sides_note():
            notes.append(self.drawing.sides_note())
        if shell is not None and self.vessel.filling(self.frame.entered("measurement.urv").value) is not None:
            notes.append(self.translate(FILLING_NOTE))
        return tuple(notes)

    # --- the sensor -----------------------------------------------------------------------------------

    @property
    def _offset_m(self) -> float | None:
        """Where the nozzle stands; without a bearing on the left, where the dimensions are."""
        radius_m = self.frame.entered("nozzle.radius").value
        if radius_m is None or self.frame.shape is None:
            return None
        return self.drawing.offset_m(radius_m, self.frame.entered("nozzle.bearing").value, unknown_right=False)

    @property
    def _on_roof(self) -> bool:
        return self.drawing.placed and self.frame.arrangement == "one_nozzle"

    def _nozzles(self, shell: Shell | None) -> tuple[Nozzle, ...]:
        row, face_m = self.case.nozzle, self.frame.nozzle_face.value
        if shell is None or row is None or face_m is None or not self._on_roof:
            return ()
        label = " ".join(text for text in (row.text("mark"), row.text("size")) if text)
        root_m = self.frame.roof_on_axis.value
        return (
            Nozzle(
                label=label,
                # Without a radius it is drawn on the axis, with a note; a check says that it is missing.
                offset_m=self._offset_m or 0.0,
                root_m=shell.highest_m if root_m is None else root_m,
                face_m=face_m,
                bore_m=self.frame.entered("nozzle.bore").value,
                reference_m=self.frame.reference_point.value,
            ),
        )

    def _beam(self) -> Beam | None:
        apex_m, angle = self.frame.reference_point.value, self.frame.entered("sensor_class.beam_angle").value
        if apex_m is None or angle is None or self._offset_m is None or not self._on_roof:
            return None
        return Beam(self._offset_m, apex_m, angle / 2, met_m=beam_met_m(self.case, self.frame))

    def _dead_zone(self) -> DeadZone | None:
        from_m, to_m = self.frame.reference_point.value, self.frame.dead_zone_end.value
        if from_m is None or to_m is None or not self.drawing.placed:
            return None
        return DeadZone(self._offset_m or 0.0, from_m, to_m)

    @property
    def _probe_end_m(self) -> float | None:
        guided = self.case.sensor_class is not None and self.case.sensor_class.technology == "guided_wave"
        return self.frame.probe_end.value if guided and self.drawing.placed else None

    def _probe(self) -> Probe | None:
        from_m, to_m = self.frame.reference_point.value, self._probe_end_m
        if from_m is None or to_m is None or not self._on_roof:
            return None
        is_rope = "rope" in self.frame.class_text("antenna").casefold()
        return Probe(self._offset_m or 0.0, from_m, to_m, "rope" if is_rope else "rod")

    def _beside(self) -> Beside | None:
        kind = BESIDE.get(self.frame.arrangement)
        upper_m, lower_m = self.frame.tap("upper").value, self.frame.tap("lower").value
        if kind is None or not self.drawing.placed or (upper_m is None and lower_m is None):
            return None
        if kind == "chamber":
            return Beside(kind, upper_m, lower_m, self.frame.reference_point.value, self._probe_end_m)
        return Beside(kind, upper_m, lower_m, self.frame.entered("measurement.transmitter_elevation").value)

    # --- levels and dimensions ------------------------------------------------------------------------

    def _levels(self, shell: Shell | None) -> tuple[LevelMark, ...]:
        if shell is None or not self.drawing.placed:
            return ()
        marks = [*self.drawing.levels(), *self._ranges(), *self._setpoints(), *self._taps()]
        face_m, dead_m = self.frame.nozzle_face.value, self.frame.dead_zone_end.value
        reference_m, probe_m = self.frame.reference_point.value, self._probe_end_m
        if face_m is not None:
            marks.append(self.drawing.mark("nozzle", face_m, NOZZLE_FACE))
        if reference_m is not None and reference_m != face_m:
            marks.append(self.drawing.mark("nozzle", reference_m, REFERENCE))
        if dead_m is not None:
            marks.append(self.drawing.mark("dead-zone", dead_m, DEAD_ZONE, "limit"))
        if probe_m is not None:
            marks.append(self.drawing.mark("probe", probe_m, PROBE_END))
        return tuple(marks)

    def _taps(self) -> list[LevelMark]:
        """The connections in the side, with their marks, and the transmitter."""
        beside, marks = self._beside(), []
        if beside is None:
            return []
        for role, elevation_m in (("upper", beside.upper_m), ("lower", beside.lower_m)):
            row = self.frame.connection(role)
            if elevation_m is not None and row is not None:
                name = f"{self.translate(TAPS[beside.kind, role])} {row.text('mark')}".strip()
                shown = self.vessel.entered(row, "face_elevation")
                marks.append(LevelMark(f"tap-{role}", elevation_m, name, shown, "limit"))
        if beside.kind != "chamber" and beside.head_m is not None:
            shown = self.vessel.entered(self.case.measurement, "transmitter_elevation")
            marks.append(LevelMark("transmitter", beside.head_m, self.translate(TRANSMITTER), shown))
        return marks

    def _ranges(self) -> list[LevelMark]:
        marks = []
        for stem, name in (("urv", URV), ("lrv", LRV)):
            level_m = self.frame.entered(f"measurement.{stem}").value
            if level_m is not None:
                shown = self.vessel.entered(self.case.measurement, stem)
                marks.append(LevelMark(stem, level_m, self.translate(name), shown, "range"))
        return marks

    def _setpoints(self) -> list[LevelMark]:
        marks = []
        for row in self.case.setpoints:
            name, level_m = row.text("name"), row.si("level")
            if level_m is not None:
                shown = self.vessel.entered(row, "level")
                marks.append(LevelMark(f"setpoint-{name}", level_m, name, shown, "setpoint"))
        return marks

    def _dimensions(self, shell: Shell | None) -> tuple[Dimension, ...]:
        if shell is None:
            return ()
        found = self.drawing.dimensions()
        face_m, reference_m = self.frame.nozzle_face.value, self.frame.reference_point.value
        root_m = self.frame.roof_on_axis.value
        if self._on_roof and root_m is not None and face_m is not None and face_m > root_m:
            shown = self.vessel.shown(face_m - root_m, "length_small")
            found.append(Dimension("nozzle", "height", root_m, face_m, shown, self.translate(STAND_OFF)))
        if self.drawing.placed and reference_m is not None:
            found += self._distances(reference_m)
        return tuple(found)

    def _distances(self, reference_m: float) -> list[Dimension]:
        """Distances from the sensor down to URV and LRV; a level above the sensor has none."""
        found = []
        for mark in self._ranges():
            low_m = mark.elevation_m
            if low_m < reference_m:
                name = self.translate(DISTANCE_AT).format(name=mark.name)
                shown = self.vessel.shown(reference_m - low_m)
                found.append(Dimension(mark.place, "height", low_m, reference_m, shown, name, with_name=True))
        return found
