"""The analogue signal: level, percent of span, current, and the limits of NAMUR NE 43. Pure, SI."""

import math
from dataclasses import dataclass

ZERO_CURRENT_A = 0.004  # 0 % of span, IEC 60381-1
SPAN_CURRENT_A = 0.016  # from 0 to 100 %, IEC 60381-1


@dataclass(frozen=True, slots=True)
class CurrentBand:
    """A range of currents with one meaning; `low_a` and `high_a` belong to it, None is open. All in A."""

    meaning: str
    low_a: float | None
    high_a: float | None
    source: str


NE43 = "NAMUR NE 43"
MEASURING_LOW_A = 0.0038
MEASURING_HIGH_A = 0.0205
FAILURE_LOW_A = 0.0036
FAILURE_HIGH_A = 0.021

# What lies between the bands means nothing and keeps the last state.
NE43_BANDS = (
    CurrentBand("failure_low", None, FAILURE_LOW_A, NE43),
    CurrentBand("measuring", MEASURING_LOW_A, MEASURING_HIGH_A, NE43),
    CurrentBand("failure_high", FAILURE_HIGH_A, None, NE43),
)


def meaning_of_current(current_a: float) -> str:
    """Meaning of a current (A): a band of `NE43_BANDS`, or "undefined" between them.

    Raises ValueError where the current is not finite. Source: NAMUR NE 43.
    """
    _require_finite("current_a", current_a)
    for band in NE43_BANDS:
        if (band.low_a is None or current_a >= band.low_a) and (band.high_a is None or current_a <= band.high_a):
            return band.meaning
    return "undefined"


def span_fraction(level_m: float, lrv_m: float, urv_m: float) -> float:
    """Share of the span at a level: 0 at LRV, 1 at URV, beyond them below 0 or above 1.

    All in m from one datum. Raises ValueError where one is not finite or LRV equals URV.
    Source: definition of the lower and upper range value as 0 % and 100 %.
    """
    for name, value in (("level_m", level_m), ("lrv_m", lrv_m), ("urv_m", urv_m)):
        _require_finite(name, value)
    if lrv_m == urv_m:
        raise ValueError(f"urv_m equals lrv_m ({lrv_m!r}); accepted is a span other than 0")
    return (level_m - lrv_m) / (urv_m - lrv_m)


def level_at_fraction_m(fraction: float, lrv_m: float, urv_m: float) -> float:
    """Level in m at a share of the span; inverse of `span_fraction`. ValueError unless finite."""
    for name, value in (("fraction", fraction), ("lrv_m", lrv_m), ("urv_m", urv_m)):
        _require_finite(name, value)
    return lrv_m + fraction * (urv_m - lrv_m)


def current_a(fraction: float, reverse: bool = False) -> float:
    """Current in A at a share of the span, not limited to the measuring range.

    fraction  0 at LRV, 1 at URV
    reverse   True where a rising level lowers the current (LRV gives 20 mA)

    Raises ValueError where the fraction is not finite. Source: IEC 60381-1, linear 4–20 mA.
    """
    _require_finite("fraction", fraction)
    return ZERO_CURRENT_A + SPAN_CURRENT_A * (1.0 - fraction if reverse else fraction)


def fraction_of_current(current_a: float, reverse: bool = False) -> float:
    """Share of the span for a current (A); inverse of `current_a`. ValueError unless finite."""
    _require_finite("current_a", current_a)
    rising = (current_a - ZERO_CURRENT_A) / SPAN_CURRENT_A
    return 1.0 - rising if reverse else rising


def measuring_limits(reverse: bool = False) -> tuple[float, float]:
    """Lowest and highest share of the span that the measuring currents of NE 43 can carry, lower one first.

    Direct: −0.0125 (3.8 mA) to 1.03125 (20.5 mA); reverse the other way round. Source: NAMUR NE 43.
    """
    ends = fraction_of_current(MEASURING_LOW_A, reverse), fraction_of_current(MEASURING_HIGH_A, reverse)
    return min(ends), max(ends)


def _require_finite(name: str, value: float) -> None:
    if not math.isfinite(value):
        raise ValueError(f"{name} is {value!r}; accepted is a finite number")
