"""Family "mounting": do vessel, nozzle and sensor fit together as bodies."""

from dataclasses import replace

from instruments.checks.case import Case
from instruments.checks.finding import Cure, Finding, Grade, Where, Working
from instruments.checks.frame import Frame
from instruments.checks.principle import is_outside, is_pressure, may_stand_aside
from instruments.checks.support import (
    GEOMETRY,
    PRACTICE,
    Derived,
    all_known,
    fields_of,
    lacks,
    length,
    margin_of,
    missing_finding,
    not_applicable,
    small_length,
    worked,
)

# On the diameter. Less than this and tolerances of lining, weld root and alignment decide. Practice, no
# source.
CLEARANCE_M = 0.002


def vessel_shape(case: Case, frame: Frame) -> Finding:
    """The vessel's dimensions make a body."""
    code, fields = "mounting.vessel_shape", frame.shape_fields
    problem = frame.shape_problem
    if problem is not None:
        given: str | tuple[float, str] = "" if problem.value_m is None else (problem.value_m, "length")
        return Finding(
            code,
            Grade.STOP,
            "impossible",
            params={"field": problem.field, "value": given, "accepted": problem.accepted},
            source=GEOMETRY,
            fields=(problem.field,),
            place="bottom",
        )
    if frame.shape is None:
        return missing_finding(code, frame.without_shape)
    volume_m3 = frame.shape.total_volume_m3
    return Finding(code, Grade.PASS, "ok", params={"volume": (volume_m3, "volume")}, source=GEOMETRY, fields=fields)


def nozzle_face(case: Case, frame: Frame) -> Finding:
    """The nozzle's face has one elevation, at or above the inside of the roof where it stands."""
    code = "mounting.nozzle_face"
    if frame.arrangement != "one_nozzle":
        return not_applicable(code, "arrangement", ("measurement.arrangement",))
    if may_stand_aside(case):
        return not_applicable(code, "side", ("measurement.sensor_class",))
    if frame.has_two_elevations:
        return _two_elevations(frame, code)
    face, roof = frame.nozzle_face, frame.roof_on_axis
    known = all_known(face, roof)
    if known is None:
        return missing_finding(code, face, roof, place="nozzle")
    face_m, roof_m = known
    margin = margin_of(face_m, roof_m)
    inputs = (length("z_face", face_m), length("z_roof", roof_m))
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={"face": (face_m, "length"), "roof": (roof_m, "length"), "below": (-margin, "length")},
        kind="length",
        required_si=roof_m,
        available_si=face_m,
        margin_si=margin,
        where=Where(elevation_m=face_m),
        working=worked(Working("h_p = z_face − z_roof", inputs, "h_p", margin, "length_small", GEOMETRY), face, roof),
        source=GEOMETRY,
        fields=fields_of(face, roof),
        place="nozzle",
    )
    if margin >= 0:
        return finding
    if frame.entered("nozzle.projection").value is not None:
        cure = Cure("raise_nozzle", "nozzle.projection", 0.0, "length_small")
    else:
        cure = Cure("raise_nozzle", "nozzle.face_elevation", roof_m, "length")
    return replace(finding, grade=Grade.STOP, variant="below_roof", cures=(cure,))


def _two_elevations(frame: Frame, code: str) -> Finding:
    """Both were entered. One is derived from the other, so one has to go, even where they agree."""
    face, projection = frame.entered("nozzle.face_elevation"), frame.entered("nozzle.projection")
    return Finding(
        code,
        Grade.STOP,
        "two_elevations",
        params={
            "face": (face.value or 0.0, "length"),
            "projection": (projection.value or 0.0, "length_small"),
        },
        source=GEOMETRY,
        cures=(Cure("keep_one", "nozzle.projection"),),
        fields=fields_of(face, projection),
        place="nozzle",
    )


def nozzle_position(case: Case, frame: Frame) -> Finding:
    """The nozzle's bore lies within the shell: radius and half the bore within the largest radius of its inside."""
    code = "mounting.nozzle_position"
    if frame.arrangement != "one_nozzle":
        return not_applicable(code, "arrangement", ("measurement.arrangement",))
    if may_stand_aside(case):
        return not_applicable(code, "side", ("measurement.sensor_class",))
    radius, bore = frame.entered("nozzle.radius"), frame.entered("nozzle.bore")
    shell = _reach(frame)
    known = all_known(radius, bore, shell)
    if known is None:
        return missing_finding(code, radius, bore, shell, place="nozzle")
    radius_m, bore_m, half_m = known
    outermost_m = radius_m + bore_m / 2
    margin = margin_of(half_m, outermost_m)
    inputs = (length("r", radius_m), small_length("b", bore_m))
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={
            "radius": (radius_m, "length"),
            "half": (half_m, "length"),
            "beyond": (-margin, "length_small"),
        },
        kind="length",
        required_si=outermost_m,
        available_si=half_m,
        margin_si=margin,
        working=Working("r_out = r + b/2", inputs, "r_out", outermost_m, "length", GEOMETRY),
        source=GEOMETRY,
        fields=fields_of(radius, bore, shell),
        place="nozzle",
    )
    if margin >= 0:
        return finding
    cure = Cure("inward", "nozzle.radius", half_m - bore_m / 2, "length")
    return replace(finding, grade=Grade.STOP, variant="outside", cures=(cure,))


def _reach(frame: Frame) -> Derived:
    """How far out a vertical line can stand in the nozzle's direction, which counts where the shape is not round."""
    shape = frame.shape
    if shape is None:
        return frame.without_shape
    if shape.is_round:
        return Derived(shape.largest_radius_m, fields=frame.shape_fields)
    bearing = frame.entered("nozzle.bearing") if frame.entered("nozzle.radius").value else Derived(0.0)
    if bearing.value is None:
        return lacks(bearing)
    return Derived(shape.reach_m(bearing.value), fields=(*frame.shape_fields, "nozzle.bearing"))


def opening(case: Case, frame: Frame) -> Finding:
    """The antenna or probe passes the free bore of nozzle or chamber, with some clearance."""
    code = "mounting.opening"
    if is_pressure(case):
        return not_applicable(code, "pressure", ("measurement.sensor_class",))
    if is_outside(case):
        return not_applicable(code, "outside", ("measurement.sensor_class",))
    if not frame.has_reference_point:
        return not_applicable(code, "arrangement", ("measurement.arrangement",))
    bore_key = "measurement.chamber_bore" if frame.arrangement == "chamber" else "nozzle.bore"
    bore, antenna = frame.entered(bore_key), frame.entered("sensor_class.antenna_diameter")
    known = all_known(bore, antenna)
    if known is None:
        return missing_finding(code, bore, antenna, place="nozzle")
    bore_m, antenna_m = known
    margin = margin_of(bore_m, antenna_m)
    inputs = (
        small_length("b", bore_m),
        small_length("D_antenna", antenna_m),
    )
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={
            "bore": (bore_m, "length_small"),
            "antenna": (antenna_m, "length_small"),
            "short": (-margin, "length_small"),
            "clearance": (margin, "length_small"),
            "least": (CLEARANCE_M, "length_small"),
        },
        kind="length_small",
        required_si=antenna_m,
        available_si=bore_m,
        margin_si=margin,
        working=Working("c = b − D_antenna", inputs, "c", margin, "length_small", GEOMETRY),
        source=frame.class_source("antenna_diameter"),
        fields=fields_of(bore, antenna),
        place="nozzle",
        provisional=frame.provisional,
    )
    if margin_of(margin, CLEARANCE_M) >= 0:
        return finding
    cures = [Cure("wider_nozzle", bore_key, antenna_m + CLEARANCE_M, "length_small")]
    if bore_m > CLEARANCE_M:
        cures.append(Cure("other_class_antenna", "measurement.sensor_class", bore_m - CLEARANCE_M, "length_small"))
    if margin >= 0:
        return replace(finding, grade=Grade.CAUTION, variant="tight", source=PRACTICE, cures=tuple(cures))
    return replace(finding, grade=Grade.STOP, variant="narrow", cures=tuple(cures))


def arrangement(case: Case, frame: Frame) -> Finding:
    """The class suits the arrangement: one nozzle, two taps, remote seals, a chamber, or no connection."""
    code = "mounting.arrangement"
    lacks = [] if case.measurement.text("arrangement") else ["measurement.arrangement"]
    suited = case.sensor_class.items("arrangements") if case.sensor_class else ()
    if not suited:
        lacks.append("sensor_class.arrangements" if case.sensor_class else "measurement.sensor_class")
    if lacks:
        return missing_finding(code, Derived(None, missing=tuple(lacks)))
    fits = frame.arrangement in suited
    return Finding(
        code,
        Grade.PASS if fits else Grade.STOP,
        "ok" if fits else "unsuited",
        params={"measurement.arrangement": frame.arrangement},
        source=frame.class_source("arrangements"),
        cures=() if fits else (Cure("other_class_arrangement", "measurement.sensor_class"),),
        fields=("measurement.arrangement", "measurement.sensor_class"),
        place="nozzle",
        provisional=frame.provisional,
    )
