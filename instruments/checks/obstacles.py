"""Family "mounting": what stands or falls in the way of a beam: ladders, coils, baffles, pipes, agitators, inlets."""

from dataclasses import replace
from math import cos, sqrt

from instruments.checks.beam import Beam, Way, aimed, no_beam, way_of
from instruments.checks.case import Case, Row
from instruments.checks.finding import Cure, Finding, Grade, Input, Where, Working
from instruments.checks.frame import Frame
from instruments.checks.support import (
    GEOMETRY,
    PRACTICE,
    Derived,
    all_known,
    derive,
    fields_of,
    known_or_missing,
    lacks,
    length,
    margin_of,
    missing_finding,
    not_applicable,
    small_length,
    unique,
    worked,
    worst_of,
)
from instruments.physics.beam import drop_for_m


def internals(case: Case, frame: Frame) -> Finding:
    """The half-power cone and the plant's margin clear everything that stands in the vessel, down to the lowest level.

    Each internal is taken for an upright cylinder of its width at its place. That it should not be lit is practice: its
    echo can often be blanked. A caution at most.
    """
    code = "mounting.internals"
    if not case.internals:
        return not_applicable(code, "none", ("internal.kind",))
    other = no_beam(code, case, frame) or aimed(code, case, frame)
    if other is not None:
        return other
    way = way_of(case, frame)
    if isinstance(way, Derived):
        return missing_finding(code, way, place="beam")
    found = [_against(frame, code, way, row, number) for number, row in enumerate(case.internals, start=1)]
    # Those that the beam does not come by have no margin to compare.
    return worst_of([one for one in found if one.variant != "apart"] or found)


def _of(row: Row, stem: str) -> Derived:
    return known_or_missing(row.si(stem), f"internal.{stem}")


def free_beside(frame: Frame, way: Way, row: Row, widest_m: float) -> Derived:
    """Distance in plan from the sensor's axis to the nearest point of an internal, m; below 0 inside it.

    Bearings are not asked for where one of both stands in the middle, nor where the radii alone keep it `widest_m`
    away.
    """
    own, width = _of(row, "radius"), _of(row, "width")
    known = all_known(own, width)
    if known is None:
        return lacks(own, width)
    own_m, width_m = known
    radius = Derived(way.radius_m, fields=("nozzle.radius",))
    inputs = [length("r", way.radius_m), length("r_own", own_m)]
    parts = [radius, own, width]
    apart_m, formula = abs(way.radius_m - own_m), "s_own = |r − r_own|"
    if 0.0 not in (way.radius_m, own_m) and margin_of(apart_m - width_m / 2, widest_m) < 0:
        bearing, own_bearing = frame.entered("nozzle.bearing"), _of(row, "bearing")
        angles = all_known(bearing, own_bearing)
        if angles is None:
            return lacks(bearing, own_bearing)
        inputs += [Input("β", angles[0], "angle"), Input("β_own", angles[1], "angle")]
        parts += [bearing, own_bearing]
        squared = way.radius_m**2 + own_m**2 - 2 * way.radius_m * own_m * cos(angles[0] - angles[1])
        # Of equal numbers the rounding may leave a square just below 0.
        apart_m, formula = sqrt(max(0.0, squared)), "s_own = √(r² + r_own² − 2 · r · r_own · cos(β − β_own))"
    axes = derive(Working(formula, tuple(inputs), "s_own", apart_m, "length", GEOMETRY), *parts)
    sides = (length("s_own", apart_m), small_length("w_own", width_m))
    free = Working("s_free = s_own − w_own/2", sides, "s_free", apart_m - width_m / 2, "length", GEOMETRY)
    return derive(free, axes)


def _against(frame: Frame, code: str, way: Way, row: Row, number: int) -> Finding:
    beam, place = way.beam, f"internal-{number}"
    widest_m = beam.radius_m(way.low_m) + beam.margin_m
    free, low, high = free_beside(frame, way, row, widest_m), _of(row, "elevation_low"), _of(row, "elevation_high")
    if free.value is None:
        return missing_finding(code, free, place=place)
    lowest_m, highest_m = way.low_m, way.high_m
    if margin_of(free.value, widest_m) < 0:  # elsewhere its elevations do not matter
        ends = all_known(low, high)
        if ends is None:
            return missing_finding(code, low, high, place=place)
        lowest_m, highest_m = max(way.low_m, min(ends)), min(way.high_m, max(ends))
    parts = (free, low, high)
    if lowest_m > highest_m:
        # It ends above the antenna or below the lowest level: the beam does not come by.
        return _passed_by(frame, code, way, row, number, parts)
    edge_m = beam.radius_m(lowest_m)
    margin = margin_of(free.value, edge_m + beam.margin_m)
    first_m = _first_met(beam, free.value, lowest_m, highest_m) if margin < 0 else lowest_m
    inputs = (length("s_free", free.value), length("r_beam", edge_m), small_length("c_beam", beam.margin_m))
    cone = Derived(None, working=beam.working(lowest_m))
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={
            **_named(row, number),
            "first": (first_m, "length"),
            "deep": (-margin, "length"),
            "clear": (margin, "length"),
            "at": (lowest_m, "length"),
        },
        kind="length",
        required_si=edge_m + beam.margin_m,
        available_si=free.value,
        margin_si=margin,
        where=Where(elevation_m=first_m),
        working=worked(Working("m = s_free − r_beam − c_beam", inputs, "m", margin, "length", GEOMETRY), free, cone),
        source=PRACTICE,
        fields=unique((*way.rests_on.fields, *fields_of(*parts), "internal.kind")),
        place=place,
        provisional=frame.provisional,
    )
    if margin >= 0:
        return finding
    cures = (Cure("other_place", "nozzle.bearing"), *beam.narrower(free.value - beam.margin_m, lowest_m))
    return replace(finding, grade=Grade.CAUTION, variant="met", cures=cures)


def _first_met(beam: Beam, free_m: float, lowest_m: float, highest_m: float) -> float:
    """The highest elevation at which the beam is as wide as the free distance."""
    drop_m = drop_for_m(free_m - beam.margin_m, beam.aperture_m, beam.edge_rad)
    return highest_m if drop_m is None else min(highest_m, max(lowest_m, beam.tip_m - drop_m))


def _named(row: Row, number: int) -> dict[str, str | tuple[float, str]]:
    return {"internal.kind": row.text("kind"), "name": row.text("name") or str(number)}


def _passed_by(
    frame: Frame, code: str, way: Way, row: Row, number: int, parts: tuple[Derived, ...]
) -> Finding:
    fields = unique((*way.rests_on.fields, *fields_of(*parts), "internal.kind"))
    return Finding(
        code, Grade.PASS, "apart", params=_named(row, number), source=GEOMETRY, fields=fields,
        place=f"internal-{number}", provisional=frame.provisional,
    )  # fmt: skip
