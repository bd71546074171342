"""Timing for benchmarks: medians of repeated calls, compared inside one run, because machines differ and are noisy."""

import gc
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Result:
    """One line of the report. `ratio` compares with `against`, measured in the same run; None where it stands alone."""

    name: str
    median_s: float
    ratio: float | None = None
    against: str = ""
    note: str = ""


def median_s(work: Callable[[], Any], repeats: int = 30, warm_up: int = 3) -> float:
    """Median wall-clock seconds of one call."""
    for _ in range(warm_up):
        work()
    times = []
    gc.collect()
    for _ in range(repeats):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def interleaved_s(works: list[Callable[[], Any]], repeats: int = 15, warm_up: int = 2) -> list[float]:
    """Medians of several calls that take turns, so that a slow moment of the machine hits them alike."""
    for _ in range(warm_up):
        for work in works:
            work()
    times: list[list[float]] = [[] for _ in works]
    for _ in range(repeats):
        for work, found in zip(works, times, strict=True):
            start = time.perf_counter()
            work()
            found.append(time.perf_counter() - start)
    return [statistics.median(found) for found in times]
