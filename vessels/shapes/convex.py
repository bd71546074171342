"""Where a rising function reaches a value: what the inverses of the shapes come down to."""

from collections.abc import Callable

import numpy as np

from vessels.shapes.numbers import Floats

MOST_STEPS = 100
CLOSE_ENOUGH = 1e-14  # relative; the step after it would be lost in rounding


def convex_root(
    value: Callable[[Floats], Floats],
    slope: Callable[[Floats], Floats],
    wanted: Floats,
    start: Floats,
    most: float,
) -> Floats:
    """Where a function reaches the wanted values, by Newton's method, for all of them at once.

    On a rising, convex function the first step, from wherever the slope is above 0, ends at or above the root, and from
    there every step comes down without passing it; so no bracket is needed beyond `most`, which holds the first step
    back.

    Parameters
    ----------
    value, slope  the function and its derivative, on 0 … most; value(0) is 0
    wanted        values to reach, 0 … value(most)
    start         for each a place near its root, 0 only where the root is 0

    Returns the places, 0 … most, good to rounding.
    """
    places = np.array(start, dtype=np.float64)
    moving = np.ones_like(places, dtype=np.bool_)
    for _ in range(MOST_STEPS):
        slopes = slope(places)
        steps = np.divide(value(places) - wanted, slopes, out=np.zeros_like(places), where=slopes > 0)
        # Each place stops by itself, so that it comes out the same alone and among others.
        places = np.where(moving, np.clip(places - steps, 0.0, most), places)
        moving &= np.abs(steps) > CLOSE_ENOUGH * places
        if not np.any(moving):
            break
    return places


def rising_root(
    value: Callable[[Floats], Floats],
    slope: Callable[[Floats], Floats],
    wanted: Floats,
    low: Floats,
    high: Floats,
) -> Floats:
    """Where a rising function reaches the wanted values, between a lower and an upper bound for each of them.

    Newton's method, held inside its bracket: a step that would leave it, or that gains less than halving would, is
    replaced by halving it. For functions that are neither convex nor concave all along.

    Parameters
    ----------
    value, slope  the function and its derivative, of a flat array of places
    wanted        values to reach, value(low) … value(high) but for rounding; a flat array
    low, high     bounds of each place, flat arrays

    Returns the places, low … high, good to rounding.
    """
    low, high = np.array(low, dtype=np.float64), np.array(high, dtype=np.float64)
    from_low, to_high = wanted - value(low), value(high) - wanted
    moving = (from_low > 0) & (to_high > 0)
    # A first guess as if it rose evenly; at a bound at once where the wanted value is that of the bound.
    share = np.divide(from_low, from_low + to_high, out=np.zeros_like(low), where=moving)
    places = np.where(moving, low + share * (high - low), np.where(from_low <= 0, low, high))
    last_steps = high - low
    # Each place stops by itself, so that it comes out the same alone and among others.
    open_ones = np.flatnonzero(moving)
    for _ in range(2 * MOST_STEPS):
        if open_ones.size == 0:
            break
        here, least, most, last = places[open_ones], low[open_ones], high[open_ones], last_steps[open_ones]
        rest, slopes = value(here) - wanted[open_ones], slope(here)
        least, most = np.where(rest <= 0, here, least), np.where(rest >= 0, here, most)
        steps = np.divide(rest, slopes, out=np.full_like(here, np.inf), where=slopes > 0)
        following = here - steps
        halve = ~((following >= least) & (following <= most)) | (np.abs(steps) > last / 2)
        following = np.where(halve, (least + most) / 2, following)
        last = np.abs(following - here)
        places[open_ones], low[open_ones], high[open_ones], last_steps[open_ones] = following, least, most, last
        open_ones = open_ones[last > CLOSE_ENOUGH * np.abs(following)]
    return places
