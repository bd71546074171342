"""Solving for a root of a rising, convex function: what the inverses of round shapes come down to."""

from collections.abc import Callable

import numpy as np

from vessels.shapes.numbers import Floats

MOST_STEPS = 60
CLOSE_ENOUGH = 1e-14  # relative; the step after it would be lost in rounding


def convex_root(
    value: Callable[[Floats], Floats],
    slope: Callable[[Floats], Floats],
    wanted: Floats,
    start: Floats,
    most: float,
) -> Floats:
    """Where a function reaches the wanted values, by Newton's method, for all of them at once.

    On a rising, convex function the first step from a start at or below the root ends at or above it, and from there
    every step comes down without passing it; so no bracket is needed beyond `most`, which holds the first step back.

    Parameters
    ----------
    value, slope  the function and its derivative, on 0 … most; value(0) is 0
    wanted        values to reach, 0 … value(most)
    start         for each a place at or below its root, 0 only where the root is 0

    Returns the places, 0 … most, good to rounding.
    """
    places = np.array(start, dtype=np.float64)
    moving = np.ones_like(places, dtype=np.bool_)
    for _ in range(MOST_STEPS):
        slopes = slope(places)
        steps = np.divide(value(places) - wanted, slopes, out=np.zeros_like(places), where=slopes > 0)
        # Each place stops by itself, so that it comes out the same alone and among others.
        places = np.where(moving, np.minimum(places - steps, most), places)
        moving &= np.abs(steps) > CLOSE_ENOUGH * places
        if not np.any(moving):
            break
    return places
