"""The outline that an elevation shows of a shape, and where things are drawn in it."""

import math

from vessels.shape_values import Shape
from vessels.sketch.geometry import heights_at, ray_end
from vessels.sketch.scene import Point, Shell

LYING = ("horizontal_cylinder", "horizontal_oval")


def shell_of(shape: Shape, body: str, lowest_m: float, tilt_rad: float = 0.0) -> Shell:
    """The shell of a shape whose lowest inside point has an elevation (m)."""
    outline = tuple((x, lowest_m + height) for x, height in shape.elevation_outline())
    lines = tuple(((x1, lowest_m + z1), (x2, lowest_m + z2)) for (x1, z1), (x2, z2) in shape.elevation_lines())
    low_m, high_m = lowest_m + shape.tangent_height_m, lowest_m + shape.top_tangent_height_m
    if body in ("sphere", "spheroid"):
        # It is all ends, which meet where it is widest.
        low_m = high_m = lowest_m + shape.height_m / 2
    return Shell(outline, low_m, high_m, lines, _axis(outline, tilt_rad) if body in LYING else None)


def _axis(outline: tuple[Point, ...], tilt_rad: float) -> tuple[Point, Point]:
    """Ends of a lying vessel's axis on its walls, first end first."""
    middle = 0.0, sum(heights_at(outline, 0.0) or (0.0, 0.0)) / 2
    along = math.cos(tilt_rad), math.sin(tilt_rad)
    first = ray_end(outline, middle, (-along[0], -along[1])) or middle
    second = ray_end(outline, middle, along) or middle
    return first, second


def side_offset(shape: Shape, radius_m: float, bearing_rad: float | None, *, unknown_right: bool = True) -> float:
    """Where a place is drawn in an elevation, as an offset from the middle (m).

    Round vessels: right of the middle for bearings from 0° to below 180°, left for the others; the radius is turned
    into the plane of the drawing, so that distances from the middle are true. unknown_right says where something
    without a bearing goes. Others: where it stands along the length, without a bearing towards the second end.
    """
    if not shape.is_round:
        return radius_m if bearing_rad is None else radius_m * math.cos(bearing_rad - shape.axis_bearing_rad)
    # A full turn away by rounding is no turn: 360° is north as 0° is.
    right = unknown_right if bearing_rad is None else (bearing_rad + 1e-9) % math.tau < math.pi
    return radius_m if right else -radius_m


def roof_height_m(shape: Shape, radius_m: float | None, bearing_rad: float | None) -> float | None:
    """Height of the roof above the lowest inside point at a place; None for a place that is not known or outside."""
    if radius_m is None or not 0 <= radius_m <= shape.reach_m(bearing_rad):
        return None
    return shape.roof_elevation_m(radius_m, bearing_rad)
