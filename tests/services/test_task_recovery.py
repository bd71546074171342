"""Tasks that a killed worker left RUNNING are put back, and given up after the third try."""

from datetime import timedelta

import pytest
from django.utils import timezone
from django_tasks.base import TaskError, TaskResultStatus
from django_tasks_db.models import DBTaskResult, get_date_max

from project.task_recovery import LONGEST_TASK, Recovered, WorkerLost, recover_tasks, worker_name

pytestmark = pytest.mark.django_db

OURS = "serve-0123456789ab"


def make_task(status=TaskResultStatus.RUNNING, workers=(OURS,), started=timedelta(seconds=5)):
    return DBTaskResult.objects.create(
        status=status,
        worker_ids=list(workers),
        started_at=timezone.now() - started,
        args_kwargs={"args": [], "kwargs": {}},
        task_path="nowhere.task",
        backend_name="default",
        run_after=get_date_max(),
    )


def test_nothing_to_do():
    assert recover_tasks(OURS) == Recovered(queued=0, failed=0)


@pytest.mark.parametrize("attempts", [1, 2])
def test_unfinished_task_is_queued_again_and_its_attempts_stay_counted(attempts):
    task = make_task(workers=[OURS] * attempts)
    assert recover_tasks(OURS) == Recovered(queued=1, failed=0)
    task.refresh_from_db()
    assert task.status == TaskResultStatus.READY
    assert task.started_at is None
    assert len(task.worker_ids) == attempts
    assert list(DBTaskResult.objects.ready()) == [task]


def test_task_is_given_up_after_the_third_attempt_and_says_why():
    task = make_task(workers=[OURS] * 3)
    assert recover_tasks(OURS) == Recovered(queued=0, failed=1)
    task.refresh_from_db()
    assert task.status == TaskResultStatus.FAILED
    assert task.finished_at is not None
    assert task.exception_class_path == "project.task_recovery.WorkerLost"
    assert "lost 3 times" in task.traceback


def test_error_of_a_given_up_task_can_be_read_back():
    task = make_task(workers=[OURS] * 3)
    recover_tasks(OURS)
    task.refresh_from_db()
    error = TaskError(exception_class_path=task.exception_class_path, traceback=task.traceback)
    assert error.exception_class is WorkerLost


def test_claimed_killed_and_recovered_three_times_ends_as_failed():
    task = make_task(status=TaskResultStatus.READY, workers=[])
    outcomes = []
    for _ in range(3):
        task.refresh_from_db()
        task.claim(OURS)
        outcomes.append(recover_tasks(OURS))
    assert outcomes == [Recovered(1, 0), Recovered(1, 0), Recovered(0, 1)]


@pytest.mark.parametrize("status", [TaskResultStatus.READY, TaskResultStatus.SUCCESSFUL, TaskResultStatus.FAILED])
def test_task_that_is_not_running_is_left_alone(status):
    task = make_task(status=status)
    assert recover_tasks(OURS) == Recovered(0, 0)
    task.refresh_from_db()
    assert task.status == status


def test_task_that_somebody_elses_worker_is_doing_is_left_alone():
    task = make_task(workers=[OURS, "another worker"])
    assert recover_tasks(OURS) == Recovered(0, 0)
    task.refresh_from_db()
    assert task.status == TaskResultStatus.RUNNING


def test_somebody_elses_task_is_put_back_when_none_could_still_be_at_work():
    just_within = make_task(workers=["another worker"], started=LONGEST_TASK - timedelta(minutes=1))
    beyond = make_task(workers=["another worker"], started=LONGEST_TASK + timedelta(minutes=1))
    assert recover_tasks(OURS) == Recovered(1, 0)
    just_within.refresh_from_db()
    beyond.refresh_from_db()
    assert just_within.status == TaskResultStatus.RUNNING
    assert beyond.status == TaskResultStatus.READY


def test_name_of_the_worker_stays_and_depends_on_the_folder(monkeypatch, tmp_path):
    monkeypatch.setenv("LEVELWRIGHT_VAR", str(tmp_path / "one"))
    first = worker_name()
    assert first == worker_name()
    assert len(first) <= 64  # what the worker's command line takes
    monkeypatch.setenv("LEVELWRIGHT_VAR", str(tmp_path / "two"))
    assert worker_name() != first
