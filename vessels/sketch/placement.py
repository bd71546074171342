"""Where labels go, so that they never overlap."""

from collections.abc import Sequence
from itertools import pairwise


def spread(wanted: Sequence[float], heights: Sequence[float], lowest: float, highest: float) -> list[float]:
    """Centres of labels that stand one below the other, as near as can be to where they are wanted.

    Labels keep their order and do not overlap; among all such places these have the least sum of squared
    shifts (isotonic regression by pooling adjacent violators; then the limits, which keep order).

    Parameters
    ----------
    wanted          wanted centres, ascending
    heights         height of each label
    lowest, highest limits for the outer edges of the first and the last label

    Returns the centres. Raises ValueError where labels do not fit between the limits or are not ascending.
    """
    if len(wanted) != len(heights):
        raise ValueError(f"heights: {len(heights)} given for {len(wanted)} labels")
    if any(later < earlier for earlier, later in pairwise(wanted)):
        raise ValueError(f"wanted = {list(wanted)!r}: accepted is an ascending order")
    if sum(heights) > highest - lowest + 1e-9:
        raise ValueError(f"heights: {sum(heights)} in all do not fit between {lowest} and {highest}")
    # With the least distances taken away, "no overlap" becomes "never descending".
    offsets = _least_offsets(heights)
    pooled = _isotonic([place - offset for place, offset in zip(wanted, offsets, strict=True)])
    if not pooled:
        return []
    first, last = lowest + heights[0] / 2, highest - heights[-1] / 2 - offsets[-1]
    last = max(first, last)
    return [min(max(place, first), last) + offset for place, offset in zip(pooled, offsets, strict=True)]


def _least_offsets(heights: Sequence[float]) -> list[float]:
    """Distance of each label's centre from the first one's when they stand edge to edge."""
    offsets: list[float] = []
    for number, height in enumerate(heights):
        offsets.append(offsets[-1] + (heights[number - 1] + height) / 2 if offsets else 0.0)
    return offsets


def _isotonic(values: Sequence[float]) -> list[float]:
    """The never-descending sequence with the least sum of squared distances to the values."""
    blocks: list[tuple[float, int]] = []  # mean, count
    for value in values:
        blocks.append((value, 1))
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            mean, count = blocks.pop()
            mean_before, count_before = blocks.pop()
            total = count + count_before
            blocks.append(((mean * count + mean_before * count_before) / total, total))
    return [mean for mean, count in blocks for _ in range(count)]
