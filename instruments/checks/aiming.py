"""Family "mounting": where a beam has to point, and where its sensor should not stand."""

from dataclasses import replace
from math import atan2, hypot

from instruments.checks.beam import no_beam
from instruments.checks.case import Case
from instruments.checks.finding import Cure, Finding, Grade, Input, Where, Working
from instruments.checks.frame import Frame
from instruments.checks.ranges import NO_CASE
from instruments.checks.support import (
    GEOMETRY,
    PRACTICE,
    Derived,
    all_known,
    contradiction,
    derive,
    fields_of,
    lacks,
    length,
    margin_of,
    missing_field,
    missing_finding,
    not_applicable,
    worked,
)
from project.registry import gettext_noop
from vessels.capacity.surface import local_point

MIRROR = gettext_noop("Law of reflection: a level surface returns what meets it upright")
# From the middle of a curved roof, as a share of its inside radius. Practice, no source.
CENTRE_SHARE = 0.1
NOT_DOMED = ("", "flat", "cone")


def aiming_angle_rad(offset_m: float, height_m: float) -> float:
    """Angle from the vertical at which a point is seen that lies so far aside and so far below.

    offset_m, height_m   m, finite; the offset not below 0, the height above 0

    Returns rad. Raises ValueError outside these. Source: geometry, atan(e/H).
    """
    if not 0.0 <= offset_m < float("inf") or not 0.0 < height_m < float("inf"):
        raise ValueError(f"offset_m, height_m are {offset_m!r}, {height_m!r}; accepted are 0 or more and above 0")
    return atan2(offset_m, height_m)


def _solids(frame: Frame) -> tuple[list[str], list[str], list[str]]:
    """Names of the operating cases with a bulk solid, with something else, and of those that do not say."""
    kinds = [(one.name, one.kind) for one in frame.media]
    return (
        [name for name, kind in kinds if kind == "solid"],
        [name for name, kind in kinds if kind and kind != "solid"],
        [name for name, kind in kinds if not kind],
    )


# --- tilt over liquids --------------------------------------------------------------------------------------


def tilt(case: Case, frame: Frame) -> Finding:
    """Over a liquid the beam is tilted by no more than half its angle: a level surface mirrors it away beyond that."""
    code = "mounting.tilt"
    other = no_beam(code, case, frame)
    if other is not None:
        return other
    if not frame.media:
        return missing_finding(code, NO_CASE)
    _, liquid, unknown = _solids(frame)
    if not liquid:
        if unknown:
            return missing_finding(code, missing_field("case.medium"), case=", ".join(unknown))
        return not_applicable(code, "solid", ("medium.kind",))
    leaning, angle = frame.optional("nozzle.inclination", 0.0), frame.entered("sensor_class.beam_angle")
    known = all_known(leaning, angle)
    if known is None:
        return missing_finding(code, leaning, angle, place="nozzle")
    tilt_rad, angle_rad = known
    if angle_rad <= 0.0 or tilt_rad < 0.0:
        key = "sensor_class.beam_angle" if angle_rad <= 0.0 else "nozzle.inclination"
        return missing_finding(code, contradiction(key), place="nozzle")
    margin = margin_of(angle_rad / 2, tilt_rad)
    inputs = (Input("φ", angle_rad, "angle"), Input("τ", tilt_rad, "angle"))
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={"tilt": (tilt_rad, "angle"), "half": (angle_rad / 2, "angle"), "case": liquid[0]},
        kind="angle",
        required_si=tilt_rad,
        available_si=angle_rad / 2,
        margin_si=margin,
        where=Where(liquid[0]),
        working=Working("m = φ/2 − τ", inputs, "m", margin, "angle", MIRROR),
        source=MIRROR,
        fields=(*fields_of(leaning, angle), "medium.kind"),
        place="nozzle",
        provisional=frame.provisional,
    )
    if margin >= 0:
        return finding
    cure = Cure("upright", "nozzle.inclination", angle_rad / 2, "angle")
    return replace(finding, grade=Grade.STOP, variant="tilted", cures=(cure,))


# --- aiming over solids -------------------------------------------------------------------------------------


def aiming(case: Case, frame: Frame) -> Finding:
    """Over a bulk solid the class can be aimed at the draw-off point, so that an almost empty vessel is still read.

    The draw-off point lies on the bottom, in the middle where none is entered. That the sensor should see it is
    practice: a caution at most.
    """
    code = "mounting.aiming"
    other = no_beam(code, case, frame)
    if other is not None:
        return other
    if not frame.media:
        return missing_finding(code, NO_CASE)
    solid, _, unknown = _solids(frame)
    if not solid:
        if unknown:
            return missing_finding(code, missing_field("case.medium"), case=", ".join(unknown))
        return not_applicable(code, "no_solid", ("medium.kind",))
    asked, limit = _to_outlet(frame), frame.entered("sensor_class.aiming_angle")
    known = all_known(asked, limit)
    if known is None:
        return missing_finding(code, asked, limit, place="bottom")
    asked_rad, limit_rad = known
    margin = margin_of(limit_rad, asked_rad)
    assumed = "_middle" if frame.is_empty(frame.entered("vessel.outlet_radius"), "vessel.outlet_radius") else ""
    inputs = (Input("θ_max", limit_rad, "angle"), Input("θ", asked_rad, "angle"))
    source = frame.class_source("aiming_angle")
    finding = Finding(
        code,
        Grade.PASS,
        f"ok{assumed}",
        params={"asked": (asked_rad, "angle"), "limit": (limit_rad, "angle")},
        kind="angle",
        required_si=asked_rad,
        available_si=limit_rad,
        margin_si=margin,
        where=Where(solid[0]),
        working=worked(Working("m = θ_max − θ", inputs, "m", margin, "angle", source), asked),
        source=source,
        fields=(*fields_of(asked, limit), "medium.kind"),
        place="bottom",
        provisional=frame.provisional,
    )
    if margin >= 0:
        return finding
    cures = (
        Cure("nearer_to_outlet", "nozzle.radius"),
        Cure("other_class_aiming", "measurement.sensor_class", asked_rad, "angle"),
    )
    return replace(finding, grade=Grade.CAUTION, variant=f"beyond{assumed}", cures=cures)


def _to_outlet(frame: Frame) -> Derived:
    """Angle from the vertical at which the sensor's reference point sees the draw-off point on the bottom."""
    shape, (radius, at), reference = frame.shape, frame.place, frame.reference_point
    out, out_at, datum = frame.optional("vessel.outlet_radius", 0.0), Derived(0.0), frame.datum_height
    # Around a round vessel only the angle between both counts, and none where one is in the middle.
    if out.value and shape is not None and (radius.value or not shape.is_round):
        out_at = frame.entered("vessel.outlet_bearing")
        if radius.value:
            at = frame.entered("nozzle.bearing")
    parts = (radius, at, reference, out, out_at, datum)
    known = all_known(*parts)
    if known is None or shape is None:
        return lacks(frame.without_shape if shape is None else datum, *parts)
    radius_m, at_rad, reference_m, out_m, out_at_rad, datum_m = known
    if not 0.0 <= out_m <= shape.reach_m(out_at_rad):
        return contradiction("vessel.outlet_radius")
    own_x, own_y = local_point(shape, radius_m, at_rad)
    out_x, out_y = local_point(shape, out_m, out_at_rad)
    aside_m = hypot(own_x - out_x, own_y - out_y)
    bottom_m = float(shape.bottom_elevation_m(out_m, out_at_rad)) - datum_m
    if reference_m <= bottom_m:
        return contradiction(*reference.fields)  # told by the check of the nozzle's elevation
    angle_rad = aiming_angle_rad(aside_m, reference_m - bottom_m)
    inputs = (length("s_out", aside_m), length("z_ref", reference_m), length("z_out", bottom_m))
    working = Working("θ = arctan(s_out / (z_ref − z_out))", inputs, "θ", angle_rad, "angle", GEOMETRY)
    return derive(working, *parts)


# --- the middle of a curved roof ----------------------------------------------------------------------------


def _is_domed(case: Case) -> bool:
    """Whether the roof is a dome rather than a cone: by its top, or because the whole vessel is one."""
    return case.vessel.text("top") not in NOT_DOMED or case.vessel.text("body") in ("sphere", "spheroid")


def centre(case: Case, frame: Frame) -> Finding:
    """The sensor does not stand in the middle of a round, curved roof, which gathers echoes (practice)."""
    code = "mounting.centre"
    other = no_beam(code, case, frame)
    if other is not None:
        return other
    shape, radius = frame.shape, frame.entered("nozzle.radius")
    if shape is None:
        return missing_finding(code, frame.without_shape, radius, place="nozzle")
    if not shape.is_round or shape.has_level_roof or not _is_domed(case):
        return not_applicable(code, "level_roof", ("vessel.top",))
    if radius.value is None:
        return missing_finding(code, radius, place="nozzle")
    least_m = CENTRE_SHARE * shape.largest_radius_m
    margin = margin_of(radius.value, least_m)
    inputs = (length("r", radius.value), length("R", shape.largest_radius_m))
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={"radius": (radius.value, "length"), "least": (least_m, "length")},
        kind="length",
        required_si=least_m,
        available_si=radius.value,
        margin_si=margin,
        working=Working(f"m = r − {CENTRE_SHARE:g} · R", inputs, "m", margin, "length", PRACTICE),
        source=PRACTICE,
        fields=("nozzle.radius", *frame.shape_fields),
        place="nozzle",
    )
    if margin >= 0:
        return finding
    return replace(
        finding, grade=Grade.CAUTION, variant="centre", cures=(Cure("outward", "nozzle.radius", least_m, "length"),)
    )
