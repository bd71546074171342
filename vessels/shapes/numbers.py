"""Numbers in and out of the shapes: one code for floats and arrays, one rule for the limits of a range."""

import math
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from vessels.shapes.errors import ImpossibleShape

Floats = NDArray[np.float64]
FloatOrArray = TypeVar("FloatOrArray", float, NDArray[np.float64])

# Rounding noise of sums and unit conversions, relative to the upper limit. It is no tolerance in the
# engineer's sense: on a vessel of 60 m it is 0.06 nm.
NOISE = 1e-12


def as_given(given: FloatOrArray, result: Floats) -> FloatOrArray:
    """The result in the form in which the argument came: a float for a float, an array for an array."""
    if isinstance(given, np.ndarray):
        return result
    return float(result)


def within(argument: str, value: float | Floats, highest: float, unit: str) -> Floats:
    """The values as an array, once all are known to lie in 0 … highest.

    A value beyond a limit by no more than `NOISE` × highest is taken as the limit itself, because a level "at
    the roof" comes out of sums of elevations. Anything further is an error; nothing is clamped.

    Raises ValueError naming the argument, the first offending value and the limits; NaN and infinity are
    refused too.
    """
    values = np.asarray(value, dtype=np.float64)
    noise = NOISE * highest
    good = (values >= -noise) & (values <= highest + noise)
    if not np.all(good):
        worst = float(values[~good].flat[0])
        raise ValueError(f"{argument} = {worst!r} {unit} is outside the vessel: accepted is 0 … {highest!r} {unit}")
    return np.minimum(np.maximum(values, 0.0), highest)


# Beyond these, cubes of lengths leave the range in which floats keep their digits.
SHORTEST_M, LONGEST_M = 1e-6, 1e6


def positive_length(argument: str, value: float | None) -> float:
    """The length, once it is known to be there, finite and above zero. Raises ImpossibleShape otherwise."""
    if value is None or not math.isfinite(value) or not SHORTEST_M <= value <= LONGEST_M:
        raise ImpossibleShape(argument, value, "a finite length above 0 m (from 1 µm to 1000 km)")
    return float(value)


SMALLEST_RATIO, LARGEST_RATIO = 1e-6, 1e6


def positive_ratio(argument: str, value: float | None) -> float:
    """The ratio of two lengths, once it is there, finite and above zero. Raises ImpossibleShape otherwise."""
    if value is None or not math.isfinite(value) or not SMALLEST_RATIO <= value <= LARGEST_RATIO:
        raise ImpossibleShape(argument, value, "a finite ratio above 0")
    return float(value)
