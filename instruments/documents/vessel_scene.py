"""A Case's vessel as drawings need it: its values, what its measurement adds, and the plan of both."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from instruments.checks.case import Case, Row
from instruments.checks.frame import Frame
from instruments.checks.solids import heap_at
from vessels.drawing.plan import Lit, PlanDrawing
from vessels.drawing.values import Translate, read_internal, read_nozzle, read_vessel
from vessels.drawing.vessel import VesselDrawing
from vessels.field_defs import DATUMS
from vessels.sketch.plan_scene import PlanScene
from vessels.sketch.scene import Filling

__all__ = ["Translate", "VesselScene", "plan_from_case", "scene_of"]

SOLID_KINDS = frozenset({"solid"})


@dataclass(frozen=True, slots=True)
class VesselScene:
    """The vessel of a Case with its drawing, and values as sketches show them."""

    case: Case
    frame: Frame
    drawing: VesselDrawing
    translate: Translate

    def shown(self, value_si: float, kind: str = "length") -> str:
        return self.drawing.shown(value_si, kind)

    def entered(self, row: Row, stem: str, kind: str = "length") -> str:
        """A value as it was typed, where it was typed in the plant's unit."""
        return entered_in(self.case, row)(stem, kind)

    def filling(self, level_m: float | None) -> Filling | None:
        kinds = [one.kind for one in self.frame.media if one.kind]
        if level_m is None or not kinds or not self.drawing.placed:
            return None
        if kinds[0] not in SOLID_KINDS:
            return Filling(level_m, "liquid")
        return Filling(level_m, "solid", surface=self._heap(level_m))

    def _heap(self, level_m: float) -> tuple[tuple[float, float], ...]:
        """The heap that the sensor reads at a level, cut through its peak; none where it is not known."""
        heap, shell = heap_at(self.case, self.frame, level_m), self.drawing.shell
        if heap is None or shell is None:
            return ()
        peak_x = self.drawing.offset_m(heap.radius_m, heap.bearing_rad)
        ends = min(x for x, _ in shell.outline), max(x for x, _ in shell.outline)
        return tuple((x, heap.peak_m - heap.slope * abs(x - peak_x)) for x in (ends[0], peak_x, ends[1]))


def entered_in(case: Case, row: Row) -> Callable[[str, str], str]:
    """Values of a row in the plant's units: stem and kind -> text."""

    def entered(stem: str, kind: str) -> str:
        return str(case.units.shown(row.quantity(stem), kind))

    return entered


def scene_of(case: Case, frame: Frame, translate: Translate) -> VesselScene:
    """The vessel of a Case, with its internals and the connections of the measurement."""
    vessel = case.vessel

    def shown(value_si: float, kind: str) -> str:
        return str(case.units.shown_si(value_si, kind))

    values = read_vessel(
        vessel.text,
        vessel.si,
        entered_in(case, vessel),
        shape=frame.shape,
        shown=shown,
        datum=dict(DATUMS).get(vessel.text("datum"), ""),
        datum_height_m=frame.datum_height.value,
        translate=translate,
        nozzles=tuple(
            read_nozzle(row.text, row.si, entered_in(case, row), place=place_of(row)) for row in case.connections
        ),
        internals=tuple(
            read_internal(row.text, row.si, place=f"internal-{number}")
            for number, row in enumerate(case.internals, start=1)
        ),
    )
    return VesselScene(case, frame, VesselDrawing(values), translate)


def place_of(connection: Row) -> str:
    """What the group of a connection is called in drawings: "nozzle", "tap-upper" or "tap-lower"."""
    role = connection.text("role")
    return f"tap-{role}" if role in ("upper", "lower") else "nozzle"


def plan_from_case(case: Case, *, translate: Translate = str) -> PlanScene:
    """What the plan of a measurement shows: the vessel with its internals, the connections, and what the beam covers.

    Parameters and gaps as for `scene_from_case`. The beam is drawn at LRV, or at the bottom below it where there is no
    LRV.
    """
    frame = Frame(case)
    return PlanDrawing(scene_of(case, frame, translate).drawing, used="nozzle", lit=_lit(frame)).scene()


def _lit(frame: Frame) -> Lit | None:
    """The beam at the lowest level that is measured."""
    radius_m, angle = frame.entered("nozzle.radius").value, frame.entered("sensor_class.beam_angle").value
    lrv_m, bottom_m = frame.entered("measurement.lrv").value, frame.bottom_on_axis.value
    low_m, apex_m = bottom_m if lrv_m is None else lrv_m, frame.reference_point.value
    if radius_m is None or angle is None or low_m is None or apex_m is None or frame.arrangement != "one_nozzle":
        return None
    if bottom_m is not None:
        low_m = max(low_m, bottom_m)
    if not 0 < angle < math.pi or apex_m <= low_m:
        return None
    return Lit(radius_m, frame.entered("nozzle.bearing").value, (apex_m - low_m) * math.tan(angle / 2))
