"""Does a column of levels and a column of volumes make a strapping table? Every problem, with its row."""

import math
from collections.abc import Iterable, Sequence

import numpy as np
from numpy.typing import NDArray

from project.quantities import format_number
from project.registry import gettext_noop
from vessels.capacity.problems import Column, Grade, Param, Problem, cubic_metres, metres
from vessels.shapes.numbers import NOISE, Floats
from vessels.shapes.shape import Shape

MOST_ROWS = 20_000
# Common practice, no source: the caller may state others.
GAP_FACTOR = 5.0
SHAPE_TOLERANCE = 0.01
HEIGHT_TOLERANCE_M = 0.001

TEMPLATES = {
    "too_few_rows": gettext_noop("A table needs at least 2 rows with a level and a volume; %(count)s can be used."),
    "too_many_rows": gettext_noop("%(count)s rows are too many: at most %(most)s are read."),
    "not_finite": gettext_noop("A finite number is wanted here."),
    "negative_level": gettext_noop(
        "The level %(level)s is negative. Levels count upward from the lowest inside point, from 0."
    ),
    "negative_volume": gettext_noop("The volume %(volume)s is negative. Accepted are volumes from 0."),
    "level_repeats": gettext_noop("The level %(level)s stands in row %(before)s already. Each level may stand once."),
    "level_falls": gettext_noop(
        "The level %(level)s is lower than %(level_before)s in row %(before)s. Levels have to rise from row to row."
    ),
    "volume_falls": gettext_noop(
        "The volume %(volume)s is less than %(volume_before)s in row %(before)s. Volumes have to rise with the level."
    ),
    "volume_repeats": gettext_noop(
        "The volume %(volume)s is the same as in row %(before)s. A level found from this volume is the lower one."
    ),
    "no_volume": gettext_noop("All volumes are the same. A table has to gain volume from its first row to its last."),
    "gap": gettext_noop(
        "From row %(before)s to this row the level rises by %(step)s, more than %(factor)s times the usual step of "
        "%(median)s. Volumes in between are interpolated."
    ),
    "starts_with_volume": gettext_noop(
        "The first volume is %(volume)s, not 0. It is taken as volume that is always there below the first level."
    ),
    "columns_swapped": gettext_noop(
        "The columns may be swapped: the column read as volume rises in equal steps, as levels do, and the one read "
        "as level does not."
    ),
    "columns_swapped_for_vessel": gettext_noop(
        "The columns are probably swapped: read the other way round, every level lies within the vessel's height of "
        "%(height)s."
    ),
    "above_vessel": gettext_noop(
        "The level %(level)s is above the vessel's inside height of %(height)s. Accepted is up to %(tolerance)s more."
    ),
    "against_shape": gettext_noop(
        "The vessel's dimensions give %(computed)s at %(level)s, the table %(volume)s: a difference of %(percent)s %% "
        "of the total, where %(allowed)s %% are allowed."
    ),
}


def problem_of(
    code: str, row: int | None = None, column: Column = "", grade: Grade = "error", /, **params: Param
) -> Problem:
    """A problem with the sentence that belongs to its code."""
    return Problem(code, grade, TEMPLATES[code], params, row, column)


def validate(
    levels_m: Iterable[float],
    volumes_m3: Iterable[float],
    *,
    row_numbers: Sequence[int] | None = None,
    shape: Shape | None = None,
    shape_tolerance: float = SHAPE_TOLERANCE,
    height_m: float | None = None,
    height_tolerance_m: float = HEIGHT_TOLERANCE_M,
    gap_factor: float = GAP_FACTOR,
) -> list[Problem]:
    """Everything that is wrong or remarkable about the rows of a strapping table.

    Parameters
    ----------
    levels_m            above the lowest inside point, n rows, m
    volumes_m3          below those levels, n rows, m³
    row_numbers         numbers of the rows as pasted; 1 … n where not given
    shape               the vessel's shape, to compare volumes and height with
    shape_tolerance     largest difference from the shape's volume, as a share of its total volume
    height_m            the vessel's inside height where no shape is known, m; not used with a shape
    height_tolerance_m  how far a level may lie above the vessel's height, m
    gap_factor          a step of level above this many times the median step is called a gap

    Returns
    -------
    Problems in the order of their rows, those of the whole table last. With an error among them no table can be made:
    fewer than 2 rows, a number that is not finite or is negative, a level that repeats or falls, a volume that falls, a
    level above the vessel, columns that fit the vessel only when swapped. Cautions: a volume that repeats, a gap, a
    first volume other than 0, a contradiction to the shape, columns that look swapped.

    Raises
    ------
    ValueError  where the columns have unlike lengths, or a tolerance is negative or not finite.

    Source: what a monotone table needs; factors and tolerances are common practice, no source.
    """
    levels = np.array(list(levels_m), dtype=np.float64)
    volumes = np.array(list(volumes_m3), dtype=np.float64)
    numbers = np.arange(1, levels.size + 1) if row_numbers is None else np.array(row_numbers, dtype=np.int64)
    if not levels.shape == volumes.shape == numbers.shape:
        raise ValueError(
            f"{levels.size} levels, {volumes.size} volumes and {numbers.size} row numbers: accepted are equally many"
        )
    for name, value in (
        ("shape_tolerance", shape_tolerance), ("height_tolerance_m", height_tolerance_m), ("gap_factor", gap_factor)
    ):  # fmt: skip
        if not (math.isfinite(value) and value >= 0):
            raise ValueError(f"{name} = {value!r}: accepted is a finite number from 0")
    if levels.size > MOST_ROWS:
        return [problem_of("too_many_rows", count=levels.size, most=MOST_ROWS)]
    height = shape.height_m if shape is not None else height_m

    found = _not_numbers(levels, volumes, numbers)
    finite = np.isfinite(levels) & np.isfinite(volumes)
    rows = _Rows(levels[finite], volumes[finite], numbers[finite])
    found += rows.order()
    found += rows.gaps(gap_factor)
    if height is not None:
        found += rows.above(height, height_tolerance_m)
    if shape is not None:
        found += rows.against(shape, shape_tolerance)
    found.sort(key=lambda problem: problem.row or 0)
    if rows.count < 2:
        found.append(problem_of("too_few_rows", count=rows.count))
    elif np.ptp(rows.volumes) == 0:
        found.append(problem_of("no_volume", None, "volume"))
    return found + rows.swapped(height, height_tolerance_m)


def _not_numbers(levels: Floats, volumes: Floats, numbers: NDArray[np.int64]) -> list[Problem]:
    found = [problem_of("not_finite", int(row), "level") for row in numbers[~np.isfinite(levels)]]
    found += [problem_of("not_finite", int(row), "volume") for row in numbers[~np.isfinite(volumes)]]
    for i in np.flatnonzero(np.isfinite(levels) & (levels < 0)):
        found.append(problem_of("negative_level", int(numbers[i]), "level", "error", level=metres(levels[i])))
    for i in np.flatnonzero(np.isfinite(volumes) & (volumes < 0)):
        found.append(problem_of("negative_volume", int(numbers[i]), "volume", "error", volume=cubic_metres(volumes[i])))
    return found


class _Rows:
    """The rows whose two numbers are finite; each is compared with the one before it among these."""

    def __init__(self, levels: Floats, volumes: Floats, numbers: NDArray[np.int64]) -> None:
        self.levels, self.volumes, self.numbers = levels, volumes, numbers
        self.count = levels.size
        self.steps = np.diff(levels)

    def _places(self, mask: NDArray[np.bool_]) -> list[tuple[int, int, int]]:
        """(index, number of the row, number of the row before it) where a comparison with the row before holds."""
        return [(int(i) + 1, int(self.numbers[i + 1]), int(self.numbers[i])) for i in np.flatnonzero(mask)]

    def order(self) -> list[Problem]:
        found: list[Problem] = []
        gains = np.diff(self.volumes)
        for i, row, before in self._places(self.steps == 0):
            found.append(problem_of("level_repeats", row, "level", level=metres(self.levels[i]), before=before))
        for i, row, before in self._places(self.steps < 0):
            level, level_before = metres(self.levels[i]), metres(self.levels[i - 1])
            found.append(problem_of("level_falls", row, "level", level=level, level_before=level_before, before=before))
        for i, row, before in self._places(gains < 0):
            volume, volume_before = cubic_metres(self.volumes[i]), cubic_metres(self.volumes[i - 1])
            found.append(
                problem_of("volume_falls", row, "volume", volume=volume, volume_before=volume_before, before=before)
            )
        for i, row, before in self._places((gains == 0) & (self.steps > 0)):
            volume = cubic_metres(self.volumes[i])
            found.append(problem_of("volume_repeats", row, "volume", "caution", volume=volume, before=before))
        if self.count and self.volumes[0] > 0:
            first = cubic_metres(self.volumes[0])
            found.append(problem_of("starts_with_volume", int(self.numbers[0]), "volume", "caution", volume=first))
        return found

    def gaps(self, factor: float) -> list[Problem]:
        if self.count < 3:
            return []
        median = float(np.median(self.steps))
        if median <= 0:  # levels that mostly fall or repeat are errors already
            return []
        usual = metres(median)
        # A step that is exactly the factor is none; the noise is that of its subtraction.
        wide = self.steps > factor * median + NOISE * np.abs(self.levels).max()
        return [
            problem_of(
                "gap", row, "level", "caution", before=before, step=metres(self.steps[i - 1]), median=usual,
                factor=format_number(factor, 4),
            )
            for i, row, before in self._places(wide)
        ]  # fmt: skip

    def above(self, height: float, tolerance: float) -> list[Problem]:
        return [
            problem_of(
                "above_vessel", int(self.numbers[i]), "level", level=metres(self.levels[i]), height=metres(height),
                tolerance=metres(tolerance),
            )
            for i in np.flatnonzero(self.levels > height + tolerance)
        ]  # fmt: skip

    def against(self, shape: Shape, tolerance: float) -> list[Problem]:
        inside = np.flatnonzero((self.levels >= 0) & (self.levels <= shape.height_m))
        computed = shape.volume_m3(self.levels[inside])
        shares = np.abs(self.volumes[inside] - computed) / shape.total_volume_m3
        return [
            problem_of(
                "against_shape", int(self.numbers[i]), "volume", "caution", computed=cubic_metres(volume),
                level=metres(self.levels[i]), volume=cubic_metres(self.volumes[i]),
                percent=format_number(100 * float(share), 3), allowed=format_number(100 * tolerance, 3),
            )
            for i, volume, share in zip(inside, computed, shares, strict=True)
            if share > tolerance
        ]  # fmt: skip

    def swapped(self, height: float | None, tolerance: float) -> list[Problem]:
        if self.count < 2:
            return []
        gains = np.diff(self.volumes)
        # One level above the roof is a slip; most of them, with volumes that would all fit as levels, are no slip.
        if (
            height is not None
            and np.median(self.levels) > height + tolerance >= self.volumes.max()
            and np.all(gains > 0)
        ):
            return [problem_of("columns_swapped_for_vessel", height=metres(height))]
        # The last step is left out: it may end at the roof. Fewer than three others could be equal by chance.
        if self.count >= 5 and _equal_steps(gains[:-1]) and not _equal_steps(self.steps[:-1]):
            return [problem_of("columns_swapped", None, "", "caution")]
        return []


def _equal_steps(steps: Floats) -> bool:
    """True where all steps rise and are equal to a thousandth, which rounded numbers leave."""
    return bool(np.all(steps > 0) and np.ptp(steps) <= 1e-3 * np.median(steps))
