"""Capacity table of a lying drum with torispherical heads, and its inverse, against the fluids library's row by row."""

import tracemalloc
from collections.abc import Callable
from typing import Any

import numpy as np
from fluids.geometry import TANK

from tests.bench.measure import Result, interleaved_s
from vessels.shapes.heads import head_from
from vessels.shapes.lying import LyingVessel, _level_table, lying_cylinder

ROWS = 10_000
THEIR_ROWS = 200  # timed, and scaled up to as many as ours
THEIR_ROWS_BACK = 50
DIAMETER_M, LENGTH_M = 2.4, 6.0


def _ours() -> LyingVessel:
    head = head_from("asme_fd", DIAMETER_M / 2)
    return lying_cylinder(DIAMETER_M, LENGTH_M, head, head)


def _from_nothing(work: Callable[[LyingVessel], Any]) -> None:
    """With a new shape, the making of whose table counts."""
    _level_table.cache_clear()
    work(_ours())


def _peak_mib(work: Callable[[], Any]) -> float:
    tracemalloc.start()
    try:
        work()
        return tracemalloc.get_traced_memory()[1] / 2**20
    finally:
        tracemalloc.stop()


def results() -> list[Result]:
    head = {"f": 1.0, "k": 0.06}
    sides = {f"side{side}_{name}": value for side in "AB" for name, value in head.items()}
    theirs = TANK(D=DIAMETER_M, L=LENGTH_M, horizontal=True, sideA="torispherical", sideB="torispherical", **sides)
    ours = _ours()
    levels = np.linspace(0.0, ours.height_m, ROWS)
    volumes = ours.volume_m3(levels)
    some = levels[:: ROWS // THEIR_ROWS][1:]
    some_volumes = ours.volume_m3(levels[:: ROWS // THEIR_ROWS_BACK][1:])

    def table() -> None:
        _from_nothing(lambda shape: shape.volume_m3(levels))

    def back() -> None:
        _from_nothing(lambda shape: shape.level_m(volumes))

    table_s, again_s, back_s, their_table_s, their_back_s = interleaved_s(
        [
            table,
            lambda: ours.volume_m3(levels),
            back,
            lambda: [theirs.V_from_h(level) for level in some],
            lambda: [theirs.h_from_V(volume, method="brenth") for volume in some_volumes],
        ],
        repeats=9,
    )
    their_table_s *= ROWS / len(some)
    their_back_s *= ROWS / len(some_volumes)
    their_volumes = np.array([theirs.V_from_h(level) for level in some])
    off = float(np.max(np.abs(ours.volume_m3(some) / their_volumes - 1)))
    their_levels = np.array([theirs.h_from_V(volume, method="brenth") for volume in some_volumes])
    off_m = float(np.max(np.abs(ours.level_m(some_volumes) - their_levels)))
    against = f"fluids row by row, scaled up from {len(some)} rows"
    against_back = f"fluids h_from_V by brenth, scaled up from {len(some_volumes)} rows"
    return [
        Result(
            "lying drum, table of 10,000 rows", table_s, table_s / their_table_s, against,
            f"{their_table_s / table_s:.0f} times faster, aim 200; off by {off:.1e}; peak {_peak_mib(table):.1f} MiB",
        ),
        Result(
            "  the same once more", again_s, again_s / their_table_s, against,
            f"{their_table_s / again_s:.0f} times faster",
        ),
        Result(
            "  levels for 10,000 volumes", back_s, back_s / their_back_s, against_back,
            f"{their_back_s / back_s:.0f} times faster, aim 100; off by {off_m:.1e} m; peak {_peak_mib(back):.1f} MiB",
        ),
    ]  # fmt: skip
