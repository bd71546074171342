"""Ends of a vertical vessel: what closes it below and above, as segments.

To add an end, write one function and its line in `BOTTOMS` or `TOPS`.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from vessels.shapes.errors import ImpossibleShape
from vessels.shapes.numbers import positive_length
from vessels.shapes.segments import Frustum, HalfBallAbove, HalfBallBelow, Segment


@dataclass(frozen=True, slots=True)
class End:
    """What closes a vessel below or above.

    needs   the dimensions that it takes besides the radius of the body; any other one is a contradiction
    make    inside radius (m) and those dimensions, by name -> segments from below to above
    """

    needs: tuple[str, ...]
    make: Callable[[float, Mapping[str, float | None]], list[Segment]]


def flat(radius_m: float, dimensions: Mapping[str, float | None]) -> list[Segment]:
    """A plane where the body ends: no segment."""
    return []


def cone_bottom(radius_m: float, dimensions: Mapping[str, float | None]) -> list[Segment]:
    """A cone with its apex pointing down, `bottom_depth_m` below the tangent line."""
    return [Frustum(0.0, radius_m, positive_length("bottom_depth_m", dimensions["bottom_depth_m"]))]


def truncated_cone_bottom(radius_m: float, dimensions: Mapping[str, float | None]) -> list[Segment]:
    """A hopper: a cone cut off at a level outlet, `bottom_depth_m` below the tangent line."""
    depth_m = positive_length("bottom_depth_m", dimensions["bottom_depth_m"])
    outlet_m = positive_length("outlet_diameter_m", dimensions["outlet_diameter_m"])
    if outlet_m >= 2 * radius_m:
        raise ImpossibleShape("outlet_diameter_m", outlet_m, f"less than the inside diameter, {2 * radius_m:g} m")
    return [Frustum(outlet_m / 2, radius_m, depth_m)]


def hemisphere_bottom(radius_m: float, dimensions: Mapping[str, float | None]) -> list[Segment]:
    """Half a ball of the body's diameter, below the tangent line."""
    return [HalfBallBelow(radius_m)]


def hemisphere_top(radius_m: float, dimensions: Mapping[str, float | None]) -> list[Segment]:
    """Half a ball of the body's diameter, above the top tangent line."""
    return [HalfBallAbove(radius_m)]


BOTTOMS: dict[str, End] = {
    "flat": End((), flat),
    "cone": End(("bottom_depth_m",), cone_bottom),
    "truncated_cone": End(("bottom_depth_m", "outlet_diameter_m"), truncated_cone_bottom),
    "hemisphere": End((), hemisphere_bottom),
}
TOPS: dict[str, End] = {"flat": End((), flat), "hemisphere": End((), hemisphere_top)}
