"""Ends of a vertical vessel: what closes it below and above, as segments.

To add an end, write one function and its line in `BOTTOMS` or `TOPS`.
"""

from collections.abc import Callable

from vessels.shapes.errors import ImpossibleShape
from vessels.shapes.numbers import positive_length
from vessels.shapes.segments import Frustum, Segment

# (inside radius in m, depth in m or None where it was not given) -> segments from below to above
End = Callable[[float, float | None], list[Segment]]


def flat_bottom(radius_m: float, depth_m: float | None) -> list[Segment]:
    """A plane at the bottom tangent line: no segment. Raises ImpossibleShape for a depth, even 0."""
    if depth_m is not None:
        raise ImpossibleShape("bottom_depth_m", depth_m, "none, because a flat bottom has no depth")
    return []


def cone_bottom(radius_m: float, depth_m: float | None) -> list[Segment]:
    """A cone with its apex pointing down, `depth_m` below the tangent line."""
    return [Frustum(0.0, radius_m, positive_length("bottom_depth_m", depth_m))]


def flat_top(radius_m: float, depth_m: float | None) -> list[Segment]:
    """A plane at the upper edge of the body: no segment."""
    return []


BOTTOMS: dict[str, End] = {"flat": flat_bottom, "cone": cone_bottom}
TOPS: dict[str, End] = {"flat": flat_top}
