"""A strapping table: levels and volumes as measured, interpolated between its rows and never beyond them."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, Literal

import numpy as np
from scipy.interpolate import PchipInterpolator, make_interp_spline

from project.registry import gettext_noop
from vessels.capacity.curve import between, level_between
from vessels.capacity.problems import ImpossibleTable, errors_in
from vessels.capacity.validation import validate
from vessels.shapes.numbers import FloatOrArray, Floats, as_given

Interpolation = Literal["linear", "monotone_cubic"]
INTERPOLATIONS: tuple[Interpolation, ...] = ("linear", "monotone_cubic")

METHODS = {
    "linear": gettext_noop(
        "Largest difference between straight lines and a monotone cubic through the same rows, interval by interval."
    ),
    "monotone_cubic": gettext_noop(
        "Each inner row is left out with every second other one and found again from the rest; the largest difference. "
        "The doubled step makes this an estimate on the safe side."
    ),
}
# Where the estimate looks inside each interval, as shares of it.
_WITHIN = np.arange(1, 16) / 16


@dataclass(frozen=True, slots=True)
class InterpolationError:
    """Estimate of how far the interpolation is from the vessel, where the rows themselves are right.

    method        an English sentence, marked for translation
    intervals_m3  one value for each interval between neighbouring rows, m³
    largest_m3    the largest of them, m³
    interval      number of that interval, from 1: it lies between the rows of this number and the next
    from_level_m, to_level_m  where that interval begins and ends, m
    """

    method: str
    intervals_m3: tuple[float, ...]
    largest_m3: float
    interval: int
    from_level_m: float
    to_level_m: float


@dataclass(frozen=True, slots=True)
class StrappingTable:
    """Rows of level and volume with their interpolation.

    Parameters
    ----------
    levels_m       above the lowest inside point, rising, at least 2, m
    volumes_m3     below those levels, never falling, m³
    interpolation  "linear": straight between rows. "monotone_cubic": a cubic in each interval that never overshoots
                   (F. N. Fritsch, J. Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300, as scipy has it)

    Raises
    ------
    ImpossibleTable  (a ValueError) with every error that `validation.validate` finds; ValueError for an unknown
                     interpolation.

    Validity: from the first to the last row; nothing is extrapolated. Where volumes repeat, a volume has no one level:
    the lowest is given.
    """

    levels_m: tuple[float, ...]
    volumes_m3: tuple[float, ...]
    interpolation: Interpolation = "linear"
    _volume: Any = field(init=False, repr=False, compare=False)
    _area: Any = field(init=False, repr=False, compare=False)
    _rows: tuple[Floats, Floats] = field(init=False, repr=False, compare=False)

    def __init__(
        self, levels_m: Iterable[float], volumes_m3: Iterable[float], interpolation: Interpolation = "linear"
    ) -> None:
        levels = np.array(list(levels_m), dtype=np.float64)
        volumes = np.array(list(volumes_m3), dtype=np.float64)
        if interpolation not in INTERPOLATIONS:
            raise ValueError(f"interpolation = {interpolation!r}: accepted is {' or '.join(INTERPOLATIONS)}")
        errors = errors_in(validate(levels, volumes))
        if errors:
            raise ImpossibleTable(errors)
        curve = _linear(levels, volumes) if interpolation == "linear" else PchipInterpolator(levels, volumes)
        set_once = object.__setattr__  # the dataclass is frozen
        set_once(self, "levels_m", tuple(levels.tolist()))
        set_once(self, "volumes_m3", tuple(volumes.tolist()))
        set_once(self, "interpolation", interpolation)
        set_once(self, "_volume", curve)
        set_once(self, "_area", curve.derivative())
        set_once(self, "_rows", (levels, volumes))

    @property
    def lowest_level_m(self) -> float:
        return self.levels_m[0]

    @property
    def highest_level_m(self) -> float:
        return self.levels_m[-1]

    @property
    def lowest_volume_m3(self) -> float:
        return self.volumes_m3[0]

    @property
    def highest_volume_m3(self) -> float:
        return self.volumes_m3[-1]

    @property
    def joints_m(self) -> tuple[float, ...]:
        return self.levels_m

    def _inside(self, level_m: float | Floats) -> Floats:
        return between("level_m", level_m, self.lowest_level_m, self.highest_level_m, "m", "the table")

    def volume_m3(self, level_m: FloatOrArray) -> FloatOrArray:
        """Volume (m³) at a level (m). Raises ValueError outside the table, naming its limits."""
        volumes = self._volume(self._inside(level_m))
        # Rounding of the interpolation may pass the first or last volume in its last digit.
        return as_given(level_m, np.minimum(np.maximum(volumes, self.lowest_volume_m3), self.highest_volume_m3))

    def surface_area_m2(self, level_m: FloatOrArray) -> FloatOrArray:
        """Slope dV/dh (m²) at a level (m); of linear rows that of the interval above, of the last row that below.

        Raises ValueError outside the table, naming its limits.
        """
        return as_given(level_m, np.maximum(self._area(self._inside(level_m)), 0.0))

    def level_m(self, volume_m3: FloatOrArray) -> FloatOrArray:
        """The lowest level (m) at which the table holds a volume (m³), good to 1 µm.

        Raises ValueError outside the table, naming its limits.
        """
        volumes = between("volume_m3", volume_m3, self.lowest_volume_m3, self.highest_volume_m3, "m³", "the table")
        rows, held = self._rows
        # The first row that holds at least this volume ends the interval in which it is reached.
        upper = np.maximum(np.searchsorted(held, volumes, side="left"), 1)
        low, high = rows[upper - 1], rows[upper]
        if self.interpolation == "linear":
            gained, gains = volumes - held[upper - 1], held[upper] - held[upper - 1]
            # No gain is possible in the first interval only, whose lowest level is the answer there.
            shares = np.divide(gained, gains, out=np.zeros_like(volumes), where=gains > 0)
            return as_given(volume_m3, low + shares * (high - low))
        return as_given(volume_m3, level_between(self._volume, volumes, low, high))

    def interpolation_error(self) -> InterpolationError | None:
        """Estimate of the largest error of interpolation and where it is.

        Returns None for fewer than 3 rows, from which nothing can be estimated. Volumes of interpolation alone: an
        error of the rows themselves is not in it.
        Source: comparison with another interpolation, or with rows left out; common practice of numerical work.
        """
        levels, volumes = self._rows
        if levels.size < 3:
            return None
        if self.interpolation == "linear":
            errors = self._against_cubic(levels, volumes)
        else:
            errors = _left_out(levels, volumes)
        worst = int(np.argmax(errors))
        return InterpolationError(
            METHODS[self.interpolation],
            tuple(errors.tolist()),
            float(errors[worst]),
            worst + 1,
            float(levels[worst]),
            float(levels[worst + 1]),
        )

    @staticmethod
    def _against_cubic(levels: Floats, volumes: Floats) -> Floats:
        places = levels[:-1, None] + np.diff(levels)[:, None] * _WITHIN
        lines = volumes[:-1, None] + np.diff(volumes)[:, None] * _WITHIN
        return np.asarray(np.abs(PchipInterpolator(levels, volumes)(places) - lines).max(axis=1), dtype=np.float64)


def _linear(levels: Floats, volumes: Floats) -> Any:
    """Straight lines through the rows, as a function that can be differentiated."""
    return make_interp_spline(levels, volumes, k=1)


def _left_out(levels: Floats, volumes: Floats) -> Floats:
    """For each interval the larger error of its two rows, each found again without every second row."""
    errors = np.zeros_like(levels)
    last = levels.size - 1
    for first in (1, 2):
        out = np.arange(first, last, 2)
        kept = np.setdiff1d(np.arange(levels.size), out)
        errors[out] = np.abs(PchipInterpolator(levels[kept], volumes[kept])(levels[out]) - volumes[out])
    return np.maximum(errors[:-1], errors[1:])
