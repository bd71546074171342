"""Bulk solids: their surface is a heap below the feed point or a funnel above the draw-off point, not a level.

A sensor sees the surface at its own place. The correction is what to add to its reading for the mean level, the level
that the same volume would have if it were flat. Heap: tan(angle of repose) · (distance of the sensor from the feed
point − mean distance of the surface from it); funnel: the same with the sign turned. Valid between upright walls,
where one cone covers the whole surface, for a sensor that looks straight down.
"""

from dataclasses import dataclass, replace
from math import hypot, pi, tan

from instruments.checks.case import Case, Row
from instruments.checks.finding import Cure, Figure, Finding, Grade, Input, Where, Working
from instruments.checks.frame import Frame
from instruments.checks.principle import is_pressure, measures_distance
from instruments.checks.ranges import NO_CASE
from instruments.checks.support import (
    Derived,
    all_known,
    contradiction,
    derive,
    fields_of,
    known_or_missing,
    lacks,
    length,
    margin_of,
    missing_field,
    missing_finding,
    not_applicable,
    unique,
    worked,
    worst_of,
)
from project.registry import gettext_noop
from vessels.capacity.heap import (
    ConeKind,
    compare_reading,
    cone_height_m,
    mean_distance_m,
    reading_correction_m,
    tip_level_m,
)
from vessels.capacity.surface import Cone, SolidSurface, local_point
from vessels.shapes.shape import Shape

SOURCE = gettext_noop("Solid geometry: mean level of a cone over the plan of the vessel")
POINTS: dict[ConeKind, str] = {"heap": "inlet", "funnel": "outlet"}
# Where the sections are compared that have to be equal between upright walls, as shares of their height.
WALL_LOOKS = (0.25, 0.5, 0.75)
EQUAL_SECTIONS = 1e-9  # relative
# Of a volume that is shown with five digits, and quick enough while somebody types.
VOLUME_ACCURACY = 1e-5


@dataclass(frozen=True, slots=True)
class Plan:
    """Sensor and tip of a cone in plan, all of it known.

    tip_m, tip_at_rad    radius and bearing of the feed or draw-off point
    sensor_m, at_rad     radius and bearing of the sensor; a bearing that does not count is 0
    assumed              True where the tip was not entered and is taken to be in the middle
    rests_on             the fields that it rests on
    """

    shape: Shape
    kind: ConeKind
    tip_m: float
    tip_at_rad: float
    sensor_m: float
    at_rad: float
    assumed: bool
    rests_on: Derived

    def cone(self, angle_rad: float, level_m: float = 0.0) -> Cone:
        return Cone(level_m, angle_rad, self.tip_m, self.tip_at_rad)

    def tip_level_m(self, angle_rad: float, reading_m: float) -> float:
        """Level of the tip of a cone that the sensor reads, both above the lowest inside point."""
        return tip_level_m(self.shape, self.kind, self.cone(angle_rad), reading_m, self.sensor_m, self.at_rad)

    def correction_m(self, angle_rad: float) -> float:
        """What to add to the reading for the mean level; nothing where the solid lies level."""
        if angle_rad == 0:
            return 0.0
        return reading_correction_m(self.shape, self.kind, self.cone(angle_rad), self.sensor_m, self.at_rad)

    @property
    def mean_m(self) -> float:
        """Mean distance in plan of the surface from the tip: where the correction is zero."""
        return mean_distance_m(self.shape, self.tip_m, self.tip_at_rad)

    @property
    def apart_m(self) -> float:
        """Distance in plan of the sensor from the tip."""
        x, y = local_point(self.shape, self.sensor_m, self.at_rad)
        x_tip, y_tip = local_point(self.shape, self.tip_m, self.tip_at_rad)
        return hypot(x - x_tip, y - y_tip)


@dataclass(frozen=True, slots=True)
class DrawnHeap:
    """The heap that a reading belongs to, for a drawing: its peak's place and elevation above the datum, its slope."""

    radius_m: float
    bearing_rad: float
    peak_m: float
    slope: float


def heap_at(case: Case, frame: Frame, reading_m: float) -> DrawnHeap | None:
    """The heap on whose slope the sensor reads a level (elevation, m); None where there is none or it is not known."""
    if _no_correction(case, frame) is not None or frame.datum_height.value is None:
        return None
    medium = next((medium for row in case.operating_cases if (medium := case.medium_of(row)) is not None), None)
    plan, angle = _plan(frame, "heap"), _angle(medium, "angle_of_repose")
    if medium is None or medium.text("kind") != "solid" or not isinstance(plan, Plan) or not angle.value:
        return None
    datum_m = frame.datum_height.value
    peak_m = plan.tip_level_m(angle.value, reading_m + datum_m) - datum_m
    return DrawnHeap(plan.tip_m, plan.tip_at_rad, peak_m, tan(angle.value))


# --- what concerns a measurement ----------------------------------------------------------------------------


def _no_correction(case: Case, frame: Frame) -> tuple[str, str] | None:
    """Variant and field of what makes the correction mean nothing; None where it means something."""
    if is_pressure(case):
        return "pressure", "measurement.sensor_class"
    if not measures_distance(case):
        return "no_distance", "measurement.sensor_class"
    if frame.arrangement != "one_nozzle":
        return "arrangement", "measurement.arrangement"
    if frame.entered("nozzle.inclination").value not in (None, 0.0):
        return "inclined", "nozzle.inclination"
    if frame.shape is not None and not has_upright_walls(frame.shape):
        return "walls", "vessel.body"
    return None


def has_upright_walls(shape: Shape) -> bool:
    """True where the section is the same between the tangent lines: upright cylinders, ovals and boxes."""
    low_m, high_m = shape.tangent_height_m, shape.top_tangent_height_m
    areas = [shape.surface_area_m2(low_m + share * (high_m - low_m)) for share in WALL_LOOKS]
    return max(areas) - min(areas) <= EQUAL_SECTIONS * max(areas)


def _angle(medium: Row | None, stem: str) -> Derived:
    """An angle of a medium, below 90°."""
    if medium is None:
        return missing_field("case.medium")
    angle = known_or_missing(medium.si(stem), f"medium.{stem}")
    if angle.value is not None and not 0 <= angle.value < pi / 2:
        return contradiction(f"medium.{stem}")
    return angle


# --- places and corrections ---------------------------------------------------------------------------------


def _plan(frame: Frame, kind: ConeKind) -> Plan | Derived:
    """Sensor and tip in plan, or what is missing of them. A bearing is missing only where it counts."""
    key, bearing_key = f"vessel.{POINTS[kind]}_radius", f"vessel.{POINTS[kind]}_bearing"
    shape, (sensor, at), tip, tip_at = frame.shape, frame.place, frame.optional(key, 0.0), Derived(0.0)
    upright = frame.optional("nozzle.inclination", 0.0)
    if shape is None or all_known(sensor, at, tip, upright) is None:
        return lacks(frame.without_shape, sensor, at, tip, upright)
    beside = contradiction(key, *(() if shape.is_round else (bearing_key,)))
    if shape.is_round and not 0 <= (tip.value or 0.0) <= shape.reach_m():
        return beside
    # Around a round vessel only the angle between sensor and tip counts, and none where one is in the middle.
    if tip.value and (sensor.value or not shape.is_round):
        tip_at = frame.entered(bearing_key)
    if tip.value and sensor.value:
        at = frame.entered("nozzle.bearing")
    parts = (sensor, at, tip, tip_at)
    known = all_known(*parts)
    if known is None:
        return lacks(*parts)
    sensor_m, at_rad, tip_m, tip_at_rad = known
    if not 0 <= tip_m <= shape.reach_m(tip_at_rad):
        return beside
    assumed = frame.is_empty(frame.entered(key), key)
    rests_on = Derived(None, fields=unique((*fields_of(*parts, upright), *frame.shape_fields)))
    return Plan(shape, kind, tip_m, tip_at_rad, sensor_m, at_rad, assumed, rests_on)


def _slope(angle_rad: float) -> Input:
    return Input("α", angle_rad, "angle")


def _apart(plan: Plan) -> Working:
    """The distance in plan of the sensor from the cone's tip."""
    sensor, tip = length("r", plan.sensor_m), length("r_tip", plan.tip_m)
    formula, inputs = "s_tip = r", (sensor,)
    if plan.tip_m and plan.sensor_m:
        angles = Input("β", plan.at_rad, "angle"), Input("β_tip", plan.tip_at_rad, "angle")
        formula = "s_tip = √(r² + r_tip² − 2 · r · r_tip · cos(β − β_tip))"
        return Working(formula, (sensor, tip, *angles), "s_tip", plan.apart_m, "length", SOURCE)
    if plan.tip_m:
        formula, inputs = "s_tip = r_tip", (tip,)
    return Working(formula, inputs, "s_tip", plan.apart_m, "length", SOURCE)


def _mean(plan: Plan) -> Working | None:
    """The mean distance of the surface from the tip; None where it is integrated and no formula gives it."""
    if plan.tip_m or not plan.shape.is_round:
        return None
    inputs = (length("R", plan.shape.reach_m()),)
    return Working("s_mean = 2 · R/3", inputs, "s_mean", plan.mean_m, "length", SOURCE)


def _correction(plan: Plan | Derived, angle: Derived) -> Derived:
    """What to add to the reading for the mean level, m."""
    if isinstance(plan, Derived) or angle.value is None:
        return lacks(angle, plan if isinstance(plan, Derived) else plan.rests_on)
    formula = "Δz = tan(α) · (s_tip − s_mean)" if plan.kind == "heap" else "Δz = tan(α) · (s_mean − s_tip)"
    inputs = (_slope(angle.value), length("s_tip", plan.apart_m), length("s_mean", plan.mean_m))
    working = Working(formula, inputs, "Δz", plan.correction_m(angle.value), "length", SOURCE)
    return derive(working, angle, replace(plan.rests_on, working=_apart(plan)), Derived(None, working=_mean(plan)))


# --- the check ----------------------------------------------------------------------------------------------


def heap(case: Case, frame: Frame) -> Finding:
    """A heap of solids is read at its mean level within the accuracy asked for, in every operating case.

    The heap lies below the feed point, in the middle where none is entered. That a reading should hold without a
    correction is practice: a caution at most.
    """
    code, key = "reach.heap", "measurement.accuracy"
    if not frame.media:
        return missing_finding(code, NO_CASE)
    solids = [(one, row) for one, row in zip(frame.media, case.operating_cases, strict=True) if one.kind == "solid"]
    if not solids:
        unknown = [one.name for one in frame.media if not one.kind]
        if unknown:
            return missing_finding(code, missing_field("case.medium"), case=", ".join(unknown))
        return not_applicable(code, "no_solid", ("medium.kind",))
    nothing, asked = _no_correction(case, frame), frame.entered(key)
    if nothing is not None:
        return not_applicable(code, nothing[0], (nothing[1],))
    if frame.is_empty(asked, key):
        return not_applicable(code, "no_accuracy", (key,))
    if case.sensor_class is None:
        return missing_finding(code, missing_field("measurement.sensor_class"))
    plan = _plan(frame, "heap")
    return worst_of([_heap_finding(code, plan, asked, one.name, case.medium_of(row)) for one, row in solids])


def _heap_finding(code: str, plan: Plan | Derived, asked: Derived, name: str, medium: Row | None) -> Finding:
    angle = _angle(medium, "angle_of_repose")
    correction = _correction(plan, angle)
    if isinstance(plan, Derived) or angle.value is None or correction.value is None or asked.value is None:
        return missing_finding(code, correction, asked, place="nozzle", case=name if angle.missing else "")
    margin = margin_of(asked.value, abs(correction.value))
    feed = "_middle" if plan.assumed else ""
    finding = Finding(
        code,
        Grade.PASS,
        f"ok{feed}",
        params={
            "correction": (correction.value, "length"),
            "asked": (asked.value, "length_small"),
            "angle": (angle.value, "angle"),
            "zero": (plan.mean_m, "length"),
            "case": name,
        },
        kind="length",
        required_si=asked.value,
        available_si=correction.value,
        margin_si=margin,
        where=Where(name),
        working=correction.working,
        source=SOURCE,
        fields=fields_of(correction, asked, Derived(None, fields=("measurement.sensor_class",))),
        place="nozzle",
    )
    if margin >= 0:
        return finding
    cure = Cure("mean_level_distance", "nozzle.radius", plan.mean_m, "length")
    return replace(finding, grade=Grade.CAUTION, variant=f"off{feed}", cures=(cure,))


# --- key figures --------------------------------------------------------------------------------------------


def solid_figures(case: Case, frame: Frame) -> tuple[Figure, ...]:
    """The corrections for heap and funnel, and the volume error at URV, of the medium of the normal operating case.

    None where that is no bulk solid with an angle of repose, or where the correction means nothing (see the module).
    A funnel has the angle of drawdown, or that of repose where there is none.
    """
    row = next((row for row in case.operating_cases if row.text("kind") == "normal"), None)
    medium = case.medium_of(row) if row is not None else None
    if row is None or medium is None or medium.text("kind") != "solid" or _no_correction(case, frame) is not None:
        return ()
    repose, drawdown = _angle(medium, "angle_of_repose"), _angle(medium, "angle_of_drawdown")
    if frame.is_empty(repose, "medium.angle_of_repose"):
        return ()
    if frame.is_empty(drawdown, "medium.angle_of_drawdown"):
        drawdown = repose
    below_feed = _plan(frame, "heap")
    figures = (
        _correction_figure(frame, "correction_heap", below_feed, repose),
        _correction_figure(frame, "correction_funnel", _plan(frame, "funnel"), drawdown),
        _volume_error(frame, below_feed, repose),
    )
    name = row.text("display") or row.text("kind")
    return tuple(replace(one, params={**one.params, "case": name}) for one in figures)


def _correction_figure(frame: Frame, key: str, plan: Plan | Derived, angle: Derived) -> Figure:
    correction = _correction(plan, angle)
    if isinstance(plan, Derived) or angle.value is None or correction.value is None:
        return Figure(key, "length", None, missing=correction.missing, contradictory=correction.contradictory)
    figure = Figure(key, "length", correction.value, {}, correction.working, notes=_assumed(plan))
    readings = _readings_of_one_cone(plan, angle.value)
    lrv, urv, datum = (frame.entered("measurement.lrv"), frame.entered("measurement.urv"), frame.datum_height)
    if datum.value is None or readings is None:
        return figure
    low_m, high_m = (reading_m - datum.value for reading_m in readings)
    if low_m >= high_m:
        return replace(figure, notes=(*figure.notes, "cone_nowhere"))
    span = all_known(lrv, urv)
    if span is not None and margin_of(span[0], low_m) >= 0 and margin_of(high_m, span[1]) >= 0:
        return figure
    limits = {"low": (low_m, "length"), "high": (high_m, "length")}
    return replace(figure, params=limits, notes=(*figure.notes, "cone_between"))


def _assumed(plan: Plan) -> tuple[str, ...]:
    return (f"{POINTS[plan.kind]}_assumed",) if plan.assumed else ()


def _readings_of_one_cone(plan: Plan, angle_rad: float) -> tuple[float, float] | None:
    """The readings (m above the lowest inside point) for which one cone covers the whole surface; None for a level one.

    A heap's foot stands above the hopper, and its peak below the roof; a funnel's tip above the hopper, and its rim
    below the upper end.
    """
    if angle_rad == 0:
        return None
    shape, height_m = plan.shape, cone_height_m(plan.shape, plan.cone(angle_rad))
    lift_m = plan.tip_level_m(angle_rad, 0.0)  # every other reading lifts the tip by as much
    if plan.kind == "heap":
        peak_m = shape.roof_elevation_m(plan.tip_m, plan.tip_at_rad)
        return shape.tangent_height_m + height_m - lift_m, peak_m - lift_m
    return shape.tangent_height_m - lift_m, shape.top_tangent_height_m - height_m - lift_m


def _volume_error(frame: Frame, plan: Plan | Derived, angle: Derived) -> Figure:
    """By how much the volume comes out too large where a heap is read at URV and its reading taken for a level."""
    key, urv, datum = "heap_volume_error", frame.entered("measurement.urv"), frame.datum_height
    known = all_known(angle, urv, datum)
    if isinstance(plan, Derived) or known is None:
        lack = lacks(angle, plan if isinstance(plan, Derived) else plan.rests_on, urv, datum)
        return Figure(key, "volume", None, missing=lack.missing, contradictory=lack.contradictory)
    angle_rad, urv_m, datum_m = known
    reading_m = urv_m + datum_m
    if not plan.shape.bottom_elevation_m(plan.sensor_m, plan.at_rad) <= reading_m <= plan.shape.height_m:
        return Figure(key, "volume", None, notes=("outside",))
    surface, peak_m = SolidSurface(rest_level_m=reading_m), reading_m
    if angle_rad > 0:
        peak_m = plan.tip_level_m(angle_rad, reading_m)
        surface = SolidSurface(heap=plan.cone(angle_rad, peak_m))
    try:
        found = compare_reading(plan.shape, surface, plan.sensor_m, plan.at_rad, VOLUME_ACCURACY)
    except ValueError:  # the one reason that is left
        return Figure(key, "volume", None, notes=("above_roof",))
    slope = (length("URV", urv_m), _slope(angle_rad), length("s_tip", plan.apart_m))
    peak = Working("z_peak = URV + tan(α) · s_tip", slope, "z_peak", peak_m - datum_m, "length", SOURCE)
    volumes = (Input("V_read", found.volume_as_read_m3, "volume"), Input("V_heap", found.volume_m3, "volume"))
    error_m3 = found.volume_as_read_m3 - found.volume_m3
    working = Working("e_V = V_read − V_heap", volumes, "e_V", error_m3, "volume", SOURCE)
    peak = worked(peak, Derived(None, working=_apart(plan)))
    return Figure(key, "volume", error_m3, {}, worked(working, Derived(None, working=peak)), notes=_assumed(plan))
