"""Keeping the state of measurements (grades for the index) true when something that they rest on changes."""

from collections.abc import Sequence
from typing import Any

from django.db import transaction
from django.db.models import Q, QuerySet
from django_tasks import task

from instruments.checks.finding import Finding, Grade
from instruments.checks.registry import CHECKS_VERSION, grades_by_family, run_checks, worst_grade
from instruments.models import Connection, Measurement, MeasurementState, SensorClassRow, Tag
from instruments.services.cases import build_case, with_all_inputs
from project.actor import at_end_of_action
from project.rows import KeptRow
from vessels.models import Internal, Medium, Nozzle, OperatingCase, Plant, StrappingTable, Vessel

# Up to this many are rechecked in the transaction of the change; more go to the background worker.
RECHECK_AT_ONCE = 40
BATCH = 100


def resting_on(row: KeptRow) -> "QuerySet[Measurement]":
    """Measurements that rest on a row."""
    measurements = Measurement.objects.all()
    if isinstance(row, Measurement):
        return measurements.filter(pk=row.pk)
    if isinstance(row, Tag):
        return measurements.filter(tag=row)
    if isinstance(row, Connection):
        # Whoever else uses its nozzle shares it from now on, or no longer.
        return measurements.filter(connections__nozzle=row.nozzle_id).distinct()
    if isinstance(row, Nozzle):
        return measurements.filter(connections__nozzle=row).distinct()
    if isinstance(row, Vessel):
        return measurements.filter(vessel=row)
    if isinstance(row, OperatingCase | Internal | StrappingTable):
        return measurements.filter(vessel=row.vessel_id)
    if isinstance(row, Medium):
        return measurements.filter(vessel__operating_cases__medium=row).distinct()
    if isinstance(row, Plant):
        return measurements.filter(plant=row)
    if isinstance(row, SensorClassRow):
        return measurements.filter(sensor_class=row)
    return measurements.none()


def mark_changed(row: KeptRow) -> None:
    """Mark what rests on a row as dirty, in the transaction that wrote it, and see that it is rechecked."""
    touched = resting_on(row)
    count = MeasurementState.objects.filter(measurement__in=touched.values("pk")).update(dirty=True)
    if not count:
        return
    if count <= RECHECK_AT_ONCE:
        at_end_of_action("recheck", lambda: _recheck_plant(row))
    else:
        transaction.on_commit(lambda: recheck_in_background.enqueue())


def _recheck_plant(row: KeptRow) -> None:
    """Recheck the few dirty measurements of a row's plant before the transaction ends: lists are true at once.

    An action that touched many, one at a time, leaves the rest to the background worker.
    """
    plant_id = getattr(row, "plant_id", None) or row.pk
    dirty = Measurement.objects.filter(state__dirty=True, plant=plant_id).order_by("pk")
    rows = list(with_all_inputs(dirty)[: RECHECK_AT_ONCE + 1])
    recheck(rows[:RECHECK_AT_ONCE])
    if len(rows) > RECHECK_AT_ONCE:
        transaction.on_commit(lambda: recheck_in_background.enqueue())


def state_values(findings: Sequence[Finding]) -> dict[str, Any]:
    """The columns of MeasurementState that follow from findings."""
    worst = worst_grade(findings)
    counts = {grade.value: sum(finding.grade is grade for finding in findings) for grade in Grade}
    return {
        "worst_grade": worst.value,
        "worst_rank": worst.rank,
        "grades_by_family": {family: grade.value for family, grade in grades_by_family(findings).items()},
        "counts": counts,
        "checks_version": CHECKS_VERSION,
    }


def recheck(measurements: Sequence[Measurement]) -> None:
    """Run all checks of loaded measurements and keep the result."""
    states = []
    for measurement in measurements:
        case = build_case(measurement)
        states.append(
            MeasurementState(
                measurement=measurement,
                plant_id=measurement.plant_id,
                input_hash=case.content_hash(),
                dirty=False,
                **state_values(run_checks(case)),
            )
        )
    updated = [
        field.name
        for field in MeasurementState._meta.concrete_fields
        if field.name not in ("id", "measurement", "plant")
    ]
    MeasurementState.objects.bulk_create(
        states, update_conflicts=True, unique_fields=["measurement"], update_fields=updated
    )


def recheck_dirty(limit: int | None = None) -> int:
    """Recheck dirty measurements in short transactions of `BATCH`; returns how many. Safe to be killed or run twice."""
    done = 0
    while limit is None or done < limit:
        size = BATCH if limit is None else min(BATCH, limit - done)
        with transaction.atomic():
            dirty = Measurement.objects.filter(Q(state__dirty=True) | ~Q(state__checks_version=CHECKS_VERSION))
            rows = list(with_all_inputs(dirty.order_by("pk"))[:size])
            if not rows:
                break
            recheck(rows)
        done += len(rows)
    return done


@task()
def recheck_in_background() -> int:
    """Background work: recheck all that is dirty."""
    return recheck_dirty()
