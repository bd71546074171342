"""Puts back tasks that a worker left unfinished.

A worker that is killed leaves its task RUNNING for ever, because nothing else tells the database that it is
gone. Before `serve` starts its worker none of its own can be at work, so whatever they left RUNNING is put
back. Tasks must therefore bear being run twice.
"""

import hashlib
import platform
from dataclasses import dataclass
from datetime import timedelta

from django.utils import timezone
from django_tasks.base import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from project.var_folder import var_folder

MOST_ATTEMPTS = 3
# Workers that another program started are not ours to judge, until no task could still be at work.
LONGEST_TASK = timedelta(hours=24)


class WorkerLost(Exception):
    """The worker of a task ended before the task did, as often as we try."""


@dataclass(frozen=True)
class Recovered:
    """How many tasks were put back, and how many were given up."""

    queued: int
    failed: int


def worker_name() -> str:
    """The name of the worker that serves this var folder on this machine: the same after every restart."""
    place = f"{platform.node()}:{var_folder()}"
    return "serve-" + hashlib.sha256(place.encode()).hexdigest()[:12]


def recover_tasks(name: str) -> Recovered:
    """Puts tasks that the worker of that name left RUNNING back to READY, or FAILED after the last attempt.

    The worker must not be running. Each attempt adds a name to a task's `worker_ids`, so that their number is
    the number of attempts.
    """
    queued = failed = 0
    overdue = timezone.now() - LONGEST_TASK
    for task in DBTaskResult.objects.running():
        ours = task.worker_ids[-1:] == [name]
        if not ours and (task.started_at is None or task.started_at > overdue):
            continue
        if len(task.worker_ids) >= MOST_ATTEMPTS:
            task.set_failed(WorkerLost(f"the worker was lost {len(task.worker_ids)} times during this task"))
            failed += 1
        else:
            still_running = DBTaskResult.objects.running().filter(pk=task.pk)
            queued += still_running.update(status=TaskResultStatus.READY, started_at=None)
    return Recovered(queued, failed)
