"""Probes that stand in the vessel: families "reach" and "mounting"."""

import math
from dataclasses import replace

from instruments.checks.case import Case, Row
from instruments.checks.finding import Cure, Finding, Grade, Input, Where, Working
from instruments.checks.frame import Frame
from instruments.checks.principle import is_probe
from instruments.checks.support import (
    GEOMETRY,
    Derived,
    all_known,
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
    worst_of,
)


def probe_length(case: Case, frame: Frame) -> Finding:
    """The probe is not longer than the class offers, and ends at or above the bottom below its nozzle."""
    code = "mounting.probe_length"
    other = _other_principle(code, case)
    if other is not None:
        return other
    probe, longest = frame.entered("measurement.probe_length"), frame.entered("sensor_class.probe_length_max")
    found = [_against(frame, code, probe, longest, "class")]
    if frame.arrangement == "one_nozzle":
        found.append(_against(frame, code, probe, frame.distance(frame.bottom_on_axis), "bottom"))
    return worst_of(found)


def _other_principle(code: str, case: Case) -> Finding | None:
    """Why there is no probe to check, or that nobody said yet whether there is one; None where there is."""
    if case.sensor_class is None:
        return missing_finding(code, missing_field("measurement.sensor_class"))
    return None if is_probe(case) else not_applicable(code, "no_probe", ("measurement.sensor_class",))


def _against(frame: Frame, code: str, probe: Derived, limit: Derived, what: str) -> Finding:
    known = all_known(probe, limit)
    if known is None:
        return missing_finding(code, probe, limit, place="bottom")
    probe_m, limit_m = known
    margin = margin_of(limit_m, probe_m)
    by_class = what == "class"
    symbol = "L_max" if by_class else "d"
    inputs = (length(symbol, limit_m), length("L", probe_m))
    source = frame.class_source("probe_length_max") if by_class else GEOMETRY
    finding = Finding(
        code,
        Grade.PASS,
        f"ok_{what}",
        params={"length": (probe_m, "length"), "limit": (limit_m, "length"), "beyond": (-margin, "length")},
        kind="length",
        required_si=probe_m,
        available_si=limit_m,
        margin_si=margin,
        working=worked(Working(f"m = {symbol} − L", inputs, "m", margin, "length", source), limit),
        source=source,
        fields=fields_of(probe, limit),
        place="bottom",
        provisional=by_class and frame.provisional,
    )
    if margin >= 0:
        return finding
    cures = [Cure("shorter_probe", "measurement.probe_length", limit_m, "length")] if limit_m > 0 else []
    if by_class:
        cures.append(Cure("other_class_probe", "measurement.sensor_class", probe_m, "length"))
    return replace(finding, grade=Grade.STOP, variant=f"beyond_{what}", cures=tuple(cures))


# --- agitator -----------------------------------------------------------------------------------------------


def agitator(case: Case, frame: Frame) -> Finding:
    """A probe does not stand in the volume that an agitator sweeps; a chamber or a well keeps it apart."""
    code, rows = "reach.agitator", [row for row in case.internals if row.text("kind") == "agitator"]
    if not rows:
        return not_applicable(code, "none", ("internal.kind",))
    other = _other_principle(code, case)
    if other is not None:
        return other
    if frame.arrangement != "one_nozzle":
        return not_applicable(code, "apart", ("measurement.arrangement",))
    if case.measurement.text("stilling_well"):
        return not_applicable(code, "well", ("measurement.stilling_well",))
    return worst_of([_beside(frame, code, row) for row in rows])


def _beside(frame: Frame, code: str, row: Row) -> Finding:
    """One agitator: the probe clears it sideways, or ends above it, or hangs from below it."""
    gaps = (_gap_beside(frame, row), _gap_above(frame, row), _gap_below(frame, row))
    known = [gap for gap in gaps if gap.value is not None]
    best = max(known, key=lambda gap: gap.value or 0.0, default=None)
    if best is None or ((best.value or 0.0) < 0 and len(known) < len(gaps)):
        return missing_finding(code, *gaps)
    margin = best.value or 0.0
    fields = unique((*fields_of(*gaps), "internal.kind"))
    finding = Finding(
        code,
        Grade.PASS,
        "ok",
        params={"name": row.text("name"), "gap": (margin, "length"), "inside": (-margin, "length")},
        kind="length",
        required_si=0.0,
        available_si=margin,
        margin_si=margin,
        where=Where(elevation_m=row.si("elevation_high")),
        working=best.working,
        source=GEOMETRY,
        fields=fields_of(best) if margin >= 0 else fields,
    )
    if margin >= 0:
        return finding
    return replace(finding, grade=Grade.STOP, variant="swept", cures=(Cure("away_from_agitator", "nozzle.radius"),))


def _of(row: Row, stem: str) -> Derived:
    return known_or_missing(row.si(stem), f"internal.{stem}")


def _gap_beside(frame: Frame, row: Row) -> Derived:
    """Distance in plan between the axes less half the swept diameter."""
    apart, swept = _apart(frame, row), _of(row, "width")
    known = all_known(apart, swept)
    if known is None:
        return lacks(apart, swept)
    apart_m, swept_m = known
    inputs = (length("s_axes", apart_m), small_length("D_swept", swept_m))
    gap_m = margin_of(apart_m, swept_m / 2)
    return derive(Working("m = s_axes − D_swept/2", inputs, "m", gap_m, "length", GEOMETRY), apart, swept)


def _apart(frame: Frame, row: Row) -> Derived:
    """Distance in plan between the axes of nozzle and agitator; exact without bearings where one is in the middle.

    Where a bearing is not known, the difference of the radii decides if it is enough, because they are nowhere nearer.
    """
    radius, own, swept = frame.entered("nozzle.radius"), _of(row, "radius"), _of(row, "width")
    bearing, own_bearing = frame.entered("nozzle.bearing"), _of(row, "bearing")
    radii = all_known(radius, own)
    if radii is None:
        return lacks(radius, own)
    radius_m, own_m = radii
    inputs = [length("r", radius_m), length("r_int", own_m)]
    least_m = max(radius_m - own_m, own_m - radius_m)
    enough = swept.value is not None and margin_of(least_m, swept.value / 2) >= 0
    if 0.0 in radii or enough:
        working = Working("s_axes = |r − r_int|", tuple(inputs), "s_axes", least_m, "length", GEOMETRY)
        return derive(working, radius, own)
    angles = all_known(bearing, own_bearing)
    if angles is None:
        return lacks(bearing, own_bearing)
    inputs += [Input("β", angles[0], "angle"), Input("β_int", angles[1], "angle")]
    between = math.cos(angles[0] - angles[1])
    # Of equal numbers the rounding may leave a square just below 0.
    apart_m = math.sqrt(max(0.0, radius_m**2 + own_m**2 - 2 * radius_m * own_m * between))
    formula = "s_axes = √(r² + r_int² − 2 · r · r_int · cos(β − β_int))"
    working = Working(formula, tuple(inputs), "s_axes", apart_m, "length", GEOMETRY)
    return derive(working, radius, own, bearing, own_bearing)


def _gap_above(frame: Frame, row: Row) -> Derived:
    """How far the probe ends above the agitator."""
    end, high = frame.probe_end, _of(row, "elevation_high")
    known = all_known(end, high)
    if known is None:
        return lacks(end, high)
    inputs = (length("z_end", known[0]), length("z_int", known[1]))
    margin = margin_of(known[0], known[1])
    return derive(Working("m = z_end − z_int", inputs, "m", margin, "length", GEOMETRY), end, high)


def _gap_below(frame: Frame, row: Row) -> Derived:
    """How far the agitator begins above the probe's reference point."""
    reference, low = frame.reference_point, _of(row, "elevation_low")
    known = all_known(reference, low)
    if known is None:
        return lacks(reference, low)
    inputs = (length("z_int", known[1]), length("z_ref", known[0]))
    margin = margin_of(known[1], known[0])
    return derive(Working("m = z_int − z_ref", inputs, "m", margin, "length", GEOMETRY), reference, low)
