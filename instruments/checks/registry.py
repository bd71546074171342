"""All checks in order, and the run of them over one Case.

To add a check: its function in the file of its family or of what it is about, a line here, its sentences in
`instruments/wording_sentences.py`, its tests.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from instruments.checks import (
    aiming,
    beam,
    connection,
    flanges,
    gas_error,
    mounting,
    obstacles,
    probes,
    process,
    process_difference,
    reach,
    records,
    seals,
    setpoints,
    signal,
    solids,
    taps,
)
from instruments.checks.case import Case
from instruments.checks.finding import Finding, Grade
from instruments.checks.frame import Frame

# Counts up whenever a check may give another result for the same Case; kept findings of a lower version are
# stale.
CHECKS_VERSION = 5

FAMILIES = ("reach", "process", "mounting", "signal", "setpoints", "records")


@dataclass(frozen=True, slots=True)
class Check:
    """A check: its code "family.name" and the pure function that gives its finding or findings."""

    code: str
    function: Callable[[Case, Frame], Finding | tuple[Finding, ...]]

    @property
    def family(self) -> str:
        return self.code.partition(".")[0]


CHECKS = (
    Check("reach.range", reach.range_),
    Check("reach.dead_zone_urv", reach.dead_zone_urv),
    Check("reach.dead_zone_setpoint", reach.dead_zone_setpoint),
    Check("reach.dead_zone_overflow", reach.dead_zone_overflow),
    Check("reach.bottom", reach.bottom),
    Check("reach.between_taps", taps.between_taps),
    Check("reach.agitator", probes.agitator),
    Check("reach.heap", solids.heap),
    Check("reach.permittivity", reach.permittivity),
    Check("reach.accuracy", reach.accuracy),
    Check("process.medium_kind", process.medium_kind),
    Check("process.temperature_high", process.temperature_high),
    Check("process.temperature_low", process.temperature_low),
    Check("process.pressure_high", process.pressure_high),
    Check("process.pressure_low", process.pressure_low),
    Check("process.flange_rating", flanges.flange_rating),
    Check("process.connection", connection.connection),
    Check("process.gas_error", gas_error.gas_error),
    Check("process.seal_temperature", seals.seal_temperature),
    Check("process.second_seal", seals.second_seal),
    Check("process.dp_span", process_difference.dp_span),
    Check("process.dp_limits", process_difference.dp_limits),
    Check("process.dp_density", process_difference.dp_density),
    Check("mounting.arrangement", mounting.arrangement),
    Check("mounting.vessel_shape", mounting.vessel_shape),
    Check("mounting.nozzle_face", mounting.nozzle_face),
    Check("mounting.nozzle_position", mounting.nozzle_position),
    Check("mounting.opening", mounting.opening),
    Check("mounting.nozzle_length", beam.nozzle_length),
    Check("mounting.wall", beam.wall),
    Check("mounting.internals", obstacles.internals),
    Check("mounting.tilt", aiming.tilt),
    Check("mounting.aiming", aiming.aiming),
    Check("mounting.centre", aiming.centre),
    Check("mounting.taps", taps.taps),
    Check("mounting.probe_length", probes.probe_length),
    Check("signal.span_order", signal.span_order),
    Check("signal.span_inside", signal.span_inside),
    Check("setpoints.order", setpoints.order),
    Check("setpoints.inside_span", setpoints.inside_span),
    Check("records.shared_connection", records.shared_connection),
)


def run_checks(case: Case, frame: Frame | None = None) -> tuple[Finding, ...]:
    """The findings of all checks: worst grade first, then in the order of families and checks.

    Code and place together identify a finding of a measurement whose setpoints have different names.

    frame  the Case's frame where the caller has one already. Raises nothing for missing or contradictory
    data.
    """
    frame = frame or Frame(case)
    findings: list[Finding] = []
    for check in sorted(CHECKS, key=lambda one: FAMILIES.index(one.family)):
        found = check.function(case, frame)
        findings += found if isinstance(found, tuple) else (found,)
    return tuple(sorted(findings, key=lambda finding: finding.grade.rank))


def worst_grade(findings: Iterable[Finding]) -> Grade:
    """The worst grade among findings; not applicable where there are none."""
    return min((finding.grade for finding in findings), key=lambda grade: grade.rank, default=Grade.NOT_APPLICABLE)


def grades_by_family(findings: Iterable[Finding]) -> dict[str, Grade]:
    """The worst grade in each family, in the order of `FAMILIES`; not applicable without finding."""
    findings = tuple(findings)
    return {family: worst_grade(finding for finding in findings if finding.family == family) for family in FAMILIES}
