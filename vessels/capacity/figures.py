"""What a vessel holds besides its internals, and the figures that are read off that: dead, overflow, working volume."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from vessels.capacity.curve import Curve, as_curve, between, level_between
from vessels.shapes.numbers import FloatOrArray, Floats, as_given
from vessels.shapes.shape import Shape

# Levels at which the net curve is looked at for a fall, between neighbouring joints.
_LOOKS = 64


class InternalTooLarge(ValueError):
    """Internals that displace more than the vessel holds at some level. `names` says which, `level_m` where."""

    def __init__(self, names: Sequence[str], level_m: float, section_m2: float, gross_m2: float) -> None:
        self.names = tuple(names)
        self.level_m = level_m
        super().__init__(
            f"{' and '.join(names)} displace {section_m2:.6g} m² at a level of {level_m:.6g} m, where the vessel has "
            f"{gross_m2:.6g} m²: accepted is less than the vessel's section at every level"
        )


@dataclass(frozen=True, slots=True)
class Internal:
    """A part inside a vessel that takes room: a coil, a draught tube, a tube bundle.

    name          for messages
    from_level_m, to_level_m  where it begins and ends above the lowest inside point, m
    volume_m3     that it displaces when covered, spread evenly over its height, m³

    Raises ValueError for levels that do not rise, a volume that is negative, numbers that are not finite.
    """

    name: str
    from_level_m: float
    to_level_m: float
    volume_m3: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.from_level_m) and math.isfinite(self.to_level_m)):
            raise ValueError(
                f"{self.name}: accepted are finite levels, not {self.from_level_m!r} … {self.to_level_m!r} m"
            )
        if not self.from_level_m < self.to_level_m:
            raise ValueError(
                f"{self.name}: to_level_m = {self.to_level_m!r} m: accepted is a level above from_level_m = "
                f"{self.from_level_m!r} m"
            )
        if not (math.isfinite(self.volume_m3) and self.volume_m3 >= 0):
            raise ValueError(f"{self.name}: volume_m3 = {self.volume_m3!r} m³: accepted is a finite volume from 0 m³")

    @classmethod
    def of_section(cls, name: str, from_level_m: float, to_level_m: float, section_m2: float) -> "Internal":
        """An upright internal from its cross-section (m²), the same over its height."""
        if not (math.isfinite(section_m2) and section_m2 >= 0):
            raise ValueError(f"{name}: section_m2 = {section_m2!r} m²: accepted is a finite area from 0 m²")
        return cls(name, from_level_m, to_level_m, section_m2 * (to_level_m - from_level_m))

    @property
    def section_m2(self) -> float:
        return self.volume_m3 / (self.to_level_m - self.from_level_m)

    def displaced_m3(self, level_m: FloatOrArray) -> FloatOrArray:
        """Volume (m³) of the part that is below a level (m): straight from 0 at its lower to all at its upper end."""
        covered = (np.asarray(level_m, dtype=np.float64) - self.from_level_m) / (self.to_level_m - self.from_level_m)
        return as_given(level_m, self.volume_m3 * np.clip(covered, 0.0, 1.0))


@dataclass(frozen=True, slots=True)
class Contents:
    """A capacity curve less internals: what the vessel holds.

    source     a shape or a strapping table. A table that was measured with the internals in place has them already.
    internals  within the curve's levels

    Raises
    ------
    InternalTooLarge  where internals displace more than the vessel's section, so that volume would fall with level
    ValueError        for an internal that reaches beyond the curve's levels
    """

    source: Shape | Curve
    internals: tuple[Internal, ...] = ()
    _curve: Curve = field(init=False, repr=False, compare=False)
    _joints: Floats = field(init=False, repr=False, compare=False)
    _held: Floats = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        curve = as_curve(self.source)
        lowest, highest = curve.lowest_level_m, curve.highest_level_m
        ends: list[float] = []
        for internal in self.internals:
            limits = np.array([internal.from_level_m, internal.to_level_m])
            ends += between(internal.name, limits, lowest, highest, "m", "the vessel").tolist()
        set_once = object.__setattr__  # the dataclass is frozen
        set_once(self, "internals", tuple(self.internals))
        set_once(self, "_curve", curve)
        set_once(self, "_joints", np.unique([*curve.joints_m, *ends]))
        self._refuse_a_fall()
        set_once(self, "_held", np.maximum.accumulate(self._net(self._joints)))

    def _refuse_a_fall(self) -> None:
        if not self.internals:
            return
        shares = np.arange(_LOOKS + 1) / _LOOKS
        looks = np.unique(self._joints[:-1, None] + np.diff(self._joints)[:, None] * shares)
        looks = np.minimum(looks, self._curve.highest_level_m)
        gains = np.diff(self._net(looks))
        noise = 1e-12 * float(self._curve.volume_m3(self._curve.highest_level_m))
        if np.all(gains >= -noise):
            return
        worst = int(np.flatnonzero(gains < -noise)[0])
        low, high = looks[worst], looks[worst + 1]
        there = [part for part in self.internals if part.from_level_m < high and part.to_level_m > low]
        gross = float(np.diff(self._curve.volume_m3(looks[worst : worst + 2]))[0] / (high - low))
        raise InternalTooLarge(
            [part.name for part in there], float((low + high) / 2), sum(part.section_m2 for part in there), gross
        )

    @property
    def lowest_level_m(self) -> float:
        return self._curve.lowest_level_m

    @property
    def highest_level_m(self) -> float:
        return self._curve.highest_level_m

    @property
    def joints_m(self) -> tuple[float, ...]:
        return tuple(self._joints.tolist())

    @property
    def total_volume_m3(self) -> float:
        """Net volume (m³) at the highest level."""
        return float(self._held[-1])

    def _net(self, levels: Floats) -> Floats:
        return self._curve.volume_m3(levels) - self._displaced(levels)

    def _displaced(self, levels: Floats) -> Floats:
        return sum((part.displaced_m3(levels) for part in self.internals), np.zeros_like(levels))

    def displaced_m3(self, level_m: FloatOrArray) -> FloatOrArray:
        """Volume (m³) of all internals below a level (m). Raises ValueError outside the curve."""
        return as_given(level_m, self._displaced(self._inside(level_m)))

    def _inside(self, level_m: float | Floats) -> Floats:
        return between("level_m", level_m, self.lowest_level_m, self.highest_level_m, "m", "the capacity curve")

    def volume_m3(self, level_m: FloatOrArray) -> FloatOrArray:
        """Net volume (m³) at a level (m). Raises ValueError outside the curve."""
        return as_given(level_m, self._net(self._inside(level_m)))

    def surface_area_m2(self, level_m: FloatOrArray) -> FloatOrArray:
        """Net free surface (m²) at a level (m); where an internal begins or ends that above it, at the top that below.

        Raises ValueError outside the curve.
        """
        levels = self._inside(level_m)
        taken = np.zeros_like(levels)
        top = self.highest_level_m
        for part in self.internals:
            up_to_top = (levels >= top) & (part.to_level_m >= top)
            beside = (levels >= part.from_level_m) & ((levels < part.to_level_m) | up_to_top)
            taken = taken + np.where(beside, part.section_m2, 0.0)
        return as_given(level_m, np.maximum(self._curve.surface_area_m2(levels) - taken, 0.0))

    def level_m(self, volume_m3: FloatOrArray) -> FloatOrArray:
        """The lowest level (m) at which the vessel holds a net volume (m³), good to 1 µm.

        Raises ValueError outside the curve.
        """
        lowest, highest = float(self._held[0]), float(self._held[-1])
        volumes = between("volume_m3", volume_m3, lowest, highest, "m³", "the capacity curve")
        upper = np.maximum(np.searchsorted(self._held, volumes, side="left"), 1)
        low, high = self._joints[upper - 1], self._joints[upper]
        # Where no internal begins, ends or stands between two joints, the gross curve has the exact answer.
        hidden = self._displaced(self._joints)
        steady = hidden[upper] == hidden[upper - 1]
        levels = np.empty_like(volumes)
        gross = volumes + hidden[upper - 1]
        gross_low = float(self._curve.volume_m3(self.lowest_level_m))
        gross_high = float(self._curve.volume_m3(self.highest_level_m))
        levels[steady] = self._curve.level_m(np.clip(gross[steady], gross_low, gross_high))
        levels[~steady] = level_between(self._net, volumes[~steady], low[~steady], high[~steady])
        return as_given(volume_m3, np.minimum(np.maximum(levels, low), high))


@dataclass(frozen=True, slots=True)
class Figure:
    """A volume at or between levels. level_m, volume_m3, and share of the vessel's net total."""

    level_m: float
    volume_m3: float
    share: float


def volume_at(contents: Contents, level_m: float) -> Figure:
    """Net volume below a level: the overflow volume at an overflow, the volume at a critical level.

    Raises ValueError for a level outside the curve, naming its limits.
    """
    volume = contents.volume_m3(level_m)
    return Figure(level_m, volume, volume / contents.total_volume_m3)


def dead_volume(contents: Contents, outlet_level_m: float) -> Figure:
    """Net volume that stays below an outlet, which runs dry when the level reaches its elevation.

    outlet_level_m  of the outlet's lowest point above the lowest inside point, m

    Raises ValueError for a level outside the curve. Validity: a level surface; what a vortex or the pump's suction
    leaves comes on top.
    """
    return volume_at(contents, outlet_level_m)


def working_capacity(contents: Contents, lower_level_m: float, upper_level_m: float) -> Figure:
    """Net volume between two levels; its `level_m` is the upper one.

    Raises ValueError for levels outside the curve or not rising.
    """
    if not lower_level_m < upper_level_m:
        raise ValueError(
            f"upper_level_m = {upper_level_m!r} m: accepted is a level above the lower one, {lower_level_m!r} m"
        )
    volume = contents.volume_m3(upper_level_m) - contents.volume_m3(lower_level_m)
    return Figure(upper_level_m, volume, volume / contents.total_volume_m3)
