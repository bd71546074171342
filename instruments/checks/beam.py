"""Family "mounting": what the beam of a free-radiating sensor meets on its way to the lowest level.

The beam is the cone of half power about the sensor's axis, as wide as the aperture where it leaves the antenna. A
beam that is tilted with its nozzle may lean in any direction: its edge is taken at half the beam angle plus the tilt
all around.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from instruments.checks.case import Case
from instruments.checks.finding import Cure, Finding, Grade, Input, Where, Working
from instruments.checks.frame import Frame
from instruments.checks.ranges import lowest_wanted
from instruments.checks.support import (
    GEOMETRY,
    PRACTICE,
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
    small_length,
    unique,
    worked,
)
from instruments.physics.beam import edge_angle_for_rad, edge_radius_m, first_meeting_m
from vessels.shapes.numbers import Floats
from vessels.shapes.shape import Shape

BEAMS = ("radar_free", "ultrasonic", "laser")  # principles that send a cone through the gas
# A nozzle longer than this many times its bore disturbs, even where the cone clears it. Practice, no source.
LONGEST_TO_BORE = 5.0


@dataclass(frozen=True, slots=True)
class Beam:
    """The cone, all of it known.

    tip_m     elevation of the antenna's lowest point
    angle_rad, tilt_rad   half-power angle (full), tilt of the nozzle
    margin_m  what the plant keeps clear beside the cone
    rests_on  the fields that it rests on, with the working of `tip_m`
    """

    tip_m: float
    aperture_m: float
    angle_rad: float
    tilt_rad: float
    margin_m: float
    rests_on: Derived

    @property
    def edge_rad(self) -> float:
        return self.angle_rad / 2 + self.tilt_rad

    def radius_m(self, elevation_m: float) -> float:
        """Distance of the edge from the axis at an elevation."""
        return edge_radius_m(self.tip_m - elevation_m, self.aperture_m, self.edge_rad)

    def working(self, elevation_m: float) -> Working:
        """How the radius at an elevation came about."""
        inputs = [
            small_length("D_ap", self.aperture_m),
            length("z_tip", self.tip_m),
            length("z_at", elevation_m),
            Input("φ", self.angle_rad, "angle"),
        ]
        formula = "r_beam = D_ap/2 + (z_tip − z_at) · tan(φ/2)"
        if self.tilt_rad:
            inputs.append(Input("τ", self.tilt_rad, "angle"))
            formula = "r_beam = D_ap/2 + (z_tip − z_at) · tan(φ/2 + τ)"
        return worked(
            Working(formula, tuple(inputs), "r_beam", self.radius_m(elevation_m), "length", GEOMETRY), self.rests_on
        )

    def narrower(self, radius_m: float, elevation_m: float) -> tuple[Cure, ...]:
        """A class whose beam is no wider than a radius at an elevation, if there can be one."""
        edge_rad = edge_angle_for_rad(radius_m, self.tip_m - elevation_m, self.aperture_m)
        if edge_rad is None or edge_rad <= self.tilt_rad:
            return ()
        return (Cure("narrower_beam", "measurement.sensor_class", 2 * (edge_rad - self.tilt_rad), "angle"),)


def no_beam(code: str, case: Case, frame: Frame) -> Finding | None:
    """Why a check of the beam does not concern a measurement, or that it has no class yet; None where it does."""
    if case.sensor_class is None:
        return missing_finding(code, missing_field("measurement.sensor_class"))
    if case.sensor_class.technology not in BEAMS:
        return not_applicable(code, "no_beam", ("measurement.sensor_class",))
    if frame.arrangement != "one_nozzle":
        return not_applicable(code, "arrangement", ("measurement.arrangement",))
    if case.measurement.text("stilling_well"):
        return not_applicable(code, "well", ("measurement.stilling_well",))
    return None


def tip_of(frame: Frame) -> Derived:
    """Elevation of the antenna's lowest point, where the beam begins."""
    reference, reach = frame.reference_point, frame.entered("sensor_class.antenna_reach")
    known = all_known(reference, reach)
    if known is None:
        return lacks(reference, reach)
    inputs = (length("z_ref", known[0]), small_length("t", known[1]))
    source = frame.class_source("antenna_reach")
    return derive(
        Working("z_tip = z_ref − t", inputs, "z_tip", known[0] - known[1], "length", source), reference, reach
    )


def plant_margin(case: Case) -> Derived:
    """What the plant keeps clear beside the half-power cone; nothing where it says nothing. Practice, no source."""
    key = "plant.beam_margin"
    if case.plant.si("beam_margin") is None and key not in case.unreadable:
        return Derived(0.0, fields=(key,))
    return known_or_missing(case.plant.si("beam_margin"), key)


def beam_of(case: Case, frame: Frame) -> Beam | Derived:
    """The sensor's beam, or what is missing of it."""
    tip, angle = tip_of(frame), frame.entered("sensor_class.beam_angle")
    aperture, tilt = frame.entered("sensor_class.aperture_diameter"), frame.optional("nozzle.inclination", 0.0)
    parts = (tip, angle, aperture, tilt, plant_margin(case))
    known = all_known(*parts)
    if known is None:
        return lacks(*parts)
    tip_m, angle_rad, aperture_m, tilt_rad, margin_m = known
    if not 0.0 < angle_rad < math.pi or aperture_m <= 0.0:
        return contradiction("sensor_class.beam_angle", "sensor_class.aperture_diameter")
    if not 0.0 <= tilt_rad < math.pi / 2 - angle_rad / 2 or margin_m < 0.0:
        return contradiction("nozzle.inclination" if margin_m >= 0.0 else "plant.beam_margin")
    rests_on = Derived(None, fields=fields_of(*parts), working=tip.working)
    return Beam(tip_m, aperture_m, angle_rad, tilt_rad, margin_m, rests_on)


def aimed(code: str, case: Case, frame: Frame) -> Finding | None:
    """That a check of the upright beam does not concern one that is aimed at the draw-off point of a bulk solid."""
    kinds = {one.kind for one in frame.media}
    if kinds == {"solid"} and case.measurement.text("aiming_flange"):
        return not_applicable(code, "aimed", ("measurement.aiming_flange", "medium.kind"))
    return None


# --- the nozzle ---------------------------------------------------------------------------------------------


def nozzle_length(case: Case, frame: Frame) -> Finding:
    """The beam leaves the nozzle before it is as wide as the bore; the nozzle is not long against its bore (practice).

    A caution at most: the edge of half power is no sharp one, and near the antenna the cone is wider than the beam. An
    antenna that does not pass the bore is told by the check of the opening. Valid for a beam along the nozzle's axis.
    """
    code = "mounting.nozzle_length"
    other = no_beam(code, case, frame)
    if other is not None:
        return other
    tip, angle, aperture = tip_of(frame), frame.entered("sensor_class.beam_angle"), _aperture(frame)
    face, root, bore = frame.nozzle_face, frame.roof_on_axis, frame.entered("nozzle.bore")
    parts = (face, root, bore, tip, angle, aperture)
    known = all_known(*parts)
    if known is None:
        return missing_finding(code, *parts, place="nozzle")
    face_m, root_m, bore_m, tip_m, angle_rad, aperture_m = known
    if not 0.0 < angle_rad < math.pi:
        return missing_finding(code, contradiction("sensor_class.beam_angle"), place="nozzle")
    rests_on = Derived(None, fields=fields_of(*parts), working=tip.working)
    beam = Beam(tip_m, aperture_m, angle_rad, 0.0, 0.0, rests_on)
    radius_m, length_m = beam.radius_m(root_m), face_m - root_m
    below_m = root_m - tip_m
    margin = margin_of(bore_m / 2, radius_m)
    source = frame.class_source("beam_angle")
    inputs = (small_length("b", bore_m), small_length("r_beam", radius_m))
    cone = Derived(None, working=beam.working(root_m))
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={
            "length": (length_m, "length_small"),
            "bore": (bore_m, "length_small"),
            "wide": (2 * radius_m, "length_small"),
            "beyond": (-margin, "length_small"),
            "below": (below_m, "length_small"),
            "longest": (LONGEST_TO_BORE * bore_m, "length_small"),
        },
        kind="length_small",
        required_si=radius_m,
        available_si=bore_m / 2,
        margin_si=margin,
        where=Where(elevation_m=root_m),
        working=worked(Working("m = b/2 − r_beam", inputs, "m", margin, "length_small", source), cone),
        source=source,
        fields=fields_of(*parts),
        place="nozzle",
        provisional=frame.provisional,
    )
    if margin_of(below_m, 0.0) >= 0:
        return replace(_outside_the_nozzle(finding, face_m, tip_m, root_m, below_m), variant="outside")
    shorter = _shorter(frame, beam, bore_m, root_m)
    if margin < 0:
        cures = (*shorter, Cure("wider_nozzle", "nozzle.bore", 2 * radius_m, "length_small"))
        return replace(
            finding, grade=Grade.CAUTION, variant="met", cures=(*cures, *beam.narrower(bore_m / 2, root_m))
        )
    return _against_bore(finding, length_m, bore_m, root_m)


def _aperture(frame: Frame) -> Derived:
    aperture = frame.entered("sensor_class.aperture_diameter")
    if aperture.value is not None and aperture.value <= 0.0:
        return contradiction("sensor_class.aperture_diameter")
    return aperture


def _outside_the_nozzle(finding: Finding, face_m: float, tip_m: float, root_m: float, below_m: float) -> Finding:
    """The antenna ends below the nozzle: what it is compared with is the nozzle's end."""
    inputs = (length("z_roof", root_m), length("z_tip", tip_m))
    before = finding.working.before[:-1] if finding.working else ()
    working = Working("m = z_roof − z_tip", inputs, "m", margin_of(below_m, 0.0), "length_small", GEOMETRY, before)
    return replace(
        finding, kind="length", required_si=tip_m, available_si=root_m, margin_si=margin_of(root_m, tip_m),
        working=working,
    )  # fmt: skip


def _shorter(frame: Frame, beam: Beam, bore_m: float, root_m: float) -> tuple[Cure, ...]:
    """The projection with which the cone just clears the nozzle's end; none where even the aperture does not."""
    if bore_m <= beam.aperture_m:
        return ()
    free_m = (bore_m - beam.aperture_m) / 2 / math.tan(beam.angle_rad / 2)
    face_m = frame.nozzle_face.value
    if face_m is None:
        return ()
    projection_m = (face_m - root_m) - (beam.tip_m - root_m - free_m)
    return (Cure("shorter_nozzle", "nozzle.projection", projection_m, "length_small"),) if projection_m >= 0 else ()


def _against_bore(finding: Finding, length_m: float, bore_m: float, root_m: float) -> Finding:
    longest_m = LONGEST_TO_BORE * bore_m
    if margin_of(longest_m, length_m) >= 0:
        return finding
    inputs = (small_length("b", bore_m), small_length("h_p", length_m))
    spare_m = margin_of(longest_m, length_m)
    working = Working(
        f"m = {LONGEST_TO_BORE:g} · b − h_p", inputs, "m", spare_m, "length_small", PRACTICE
    )
    return replace(
        finding,
        grade=Grade.CAUTION,
        variant="long",
        required_si=length_m,
        available_si=longest_m,
        margin_si=spare_m,
        working=working,
        source=PRACTICE,
        cures=(
            Cure("shorter_nozzle", "nozzle.projection", longest_m, "length_small"),
            Cure("wider_nozzle", "nozzle.bore", length_m / LONGEST_TO_BORE, "length_small"),
        ),
        provisional=False,
    )


# --- the wall -----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Way:
    """The beam on its way through the vessel, above the lowest level.

    high_m, low_m  elevations between which it is looked at: from antenna or roof down to the lowest level or the bottom
    at_rad         bearing of the sensor, as in `Frame.place`
    """

    beam: Beam
    shape: Shape
    what: str
    level: Derived
    high_m: float
    low_m: float
    datum_m: float
    radius_m: float
    at_rad: float
    rests_on: Derived


def way_of(case: Case, frame: Frame) -> Way | Derived:
    """The beam's way down to the lowest level that has to be seen, or what is missing of it."""
    beam, (what, level), (radius, at) = beam_of(case, frame), lowest_wanted(case, frame), frame.place
    datum, bottom, roof = frame.datum_height, frame.bottom_on_axis, frame.roof_on_axis
    parts = (level, radius, at, datum, bottom, roof)
    known = all_known(*parts)
    if isinstance(beam, Derived):
        return lacks(beam, *parts)
    shape = frame.shape
    if known is None or shape is None:
        return lacks(*parts)
    level_m, radius_m, at_rad, datum_m, bottom_m, roof_m = known
    high_m, low_m = min(beam.tip_m, roof_m), max(level_m, bottom_m)
    if high_m <= low_m:
        return contradiction(*level.fields)  # the levels themselves are told by other checks
    rests_on = Derived(None, fields=unique((*beam.rests_on.fields, *fields_of(*parts), *frame.shape_fields)))
    return Way(beam, shape, what, level, high_m, low_m, datum_m, radius_m, at_rad, rests_on)


@dataclass(frozen=True, slots=True)
class Met:
    """Where a beam first meets something (None for nowhere), and where it comes closest or reaches deepest."""

    first_m: float | None
    gap_m: float
    at_m: float


def _free_m(shape: Shape, heights: Floats, radius_m: float, at_rad: float) -> Floats:
    """Distance of the axis from the nearest wall; 0 where the axis is not inside, as at a pointed end or an edge."""
    try:
        return shape.wall_distance_m(heights, radius_m, at_rad)
    except ValueError:
        return np.array([_free_at_m(shape, float(height), radius_m, at_rad) for height in heights])


def _free_at_m(shape: Shape, height_m: float, radius_m: float, at_rad: float) -> float:
    try:
        return shape.wall_distance_m(height_m, radius_m, at_rad)
    except ValueError:
        return 0.0


def wall_met(way: Way) -> Met:
    """Where the beam first meets the wall; elevations in m from the datum."""
    shape, beam, highest_m = way.shape, way.beam, way.shape.height_m
    tip_m, widens = beam.tip_m + way.datum_m, math.tan(beam.edge_rad)  # all at once: `edge_radius_m` takes one

    def gap(heights: Floats) -> Floats:
        free = _free_m(shape, heights, way.radius_m, way.at_rad)
        return free - (beam.aperture_m / 2 + (tip_m - heights) * widens) - beam.margin_m

    # A level by subtraction of elevations may come out a rounding error beyond the roof or the bottom.
    high_m, low_m = (min(max(0.0, one + way.datum_m), highest_m) for one in (way.high_m, way.low_m))
    roof_m = float(shape.roof_elevation_m(way.radius_m, way.at_rad))
    bottom_m = float(shape.bottom_elevation_m(way.radius_m, way.at_rad))
    high_m, low_m = min(high_m, roof_m), max(low_m, bottom_m)
    first_m, gap_m, at_m = first_meeting_m(gap, high_m, low_m, (shape.tangent_height_m, shape.top_tangent_height_m))
    return Met(None if first_m is None else first_m - way.datum_m, gap_m, at_m - way.datum_m)


def wall(case: Case, frame: Frame) -> Finding:
    """The half-power cone and the plant's margin stay clear of the walls at every elevation down to the lowest level.

    That a beam should not touch the wall is practice, for its echo can often be blanked: a caution at most.
    """
    code = "mounting.wall"
    other = no_beam(code, case, frame) or aimed(code, case, frame)
    if other is not None:
        return other
    way = way_of(case, frame)
    if isinstance(way, Derived):
        return missing_finding(code, way, place="beam")
    met = wall_met(way)
    beam, margin = way.beam, margin_of(met.gap_m, 0.0)
    edge_m = beam.radius_m(met.at_m)
    free_m = met.gap_m + edge_m + beam.margin_m
    inputs = (length("s_wall", free_m), length("r_beam", edge_m), small_length("c_beam", beam.margin_m))
    cone = Derived(None, working=beam.working(met.at_m))
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={
            "what": way.what,
            "at": (met.at_m, "length"),
            "edge": (edge_m, "length"),
            "free": (free_m, "length"),
            "deep": (-margin, "length"),
            "first": (met.at_m if met.first_m is None else met.first_m, "length"),
        },
        kind="length",
        required_si=edge_m + beam.margin_m,
        available_si=free_m,
        margin_si=margin,
        where=Where(elevation_m=met.at_m if met.first_m is None else met.first_m),
        working=worked(Working("m = s_wall − r_beam − c_beam", inputs, "m", margin, "length", GEOMETRY), cone),
        source=PRACTICE,
        fields=way.rests_on.fields,
        place="beam",
        provisional=frame.provisional,
    )
    if margin >= 0:
        return finding
    cures: list[Cure] = []
    if way.shape.is_round and way.radius_m + margin >= 0:
        cures.append(Cure("inward", "nozzle.radius", way.radius_m + margin, "length"))
    cures += beam.narrower(free_m - beam.margin_m, met.at_m)
    if met.first_m is not None and met.first_m > way.low_m:
        cures.append(Cure("raise_level", way.level.fields[0], met.first_m, "length"))
    return replace(finding, grade=Grade.CAUTION, variant="met", cures=tuple(cures), place="beam-wall")


def beam_met_m(case: Case, frame: Frame) -> float | None:
    """Elevation at which the beam first meets the wall, for a drawing; None for nowhere or not known."""
    found = wall(case, frame)
    return found.where.elevation_m if found.grade is Grade.CAUTION else None
