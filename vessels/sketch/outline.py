"""What can be read off a shell's outline: its walls at an elevation, its parts, the slope of its roof."""

from collections.abc import Sequence

from vessels.sketch.geometry import heights_at, walls_at
from vessels.sketch.scene import Point, Shell

Parts = dict[str, list[list[Point]]]


def walls(shell: Shell, elevation_m: float) -> tuple[float, float] | None:
    """Offsets of the left and the right wall at an elevation; None above and below the vessel."""
    return walls_at(shell.outline, elevation_m)


def roof_at(shell: Shell, offset_m: float) -> float | None:
    """Elevation of the roof in the plane of the drawing; None beside the vessel."""
    heights = heights_at(shell.outline, offset_m)
    return heights[1] if heights is not None else None


def parts(shell: Shell) -> Parts:
    """The outline as lines of "bottom", "shell" and "roof", the first and the last from left to right.

    Of a vessel that stands the shell is what lies between the tangent lines; a sphere has none. Of one that lies it is
    the ends: bottom and roof are the lowest and the highest line along the cylinder.
    """
    points = list(shell.outline)
    if shell.axis is None:
        low_left, low_right = _joints(points, shell.bottom_tangent_m)
        high_left, high_right = _joints(points, shell.top_tangent_m)
    else:
        low_left, low_right, high_left, high_right = _corners(points, shell.axis)
    return {
        "bottom": [_walk(points, low_left, low_right)],
        "shell": [
            line for line in (_walk(points, low_right, high_right), _walk(points, high_left, low_left)) if len(line) > 1
        ],
        "roof": [_walk(points, high_right, high_left)[::-1]],
    }


def _joints(points: Sequence[Point], elevation_m: float) -> tuple[int, int]:
    """The outermost points at the elevation of a tangent line (or nearest to it), left and right."""
    size = max(y for _, y in points) - min(y for _, y in points)
    nearest = min(abs(y - elevation_m) for _, y in points)
    level = [place for place, (_, y) in enumerate(points) if abs(y - elevation_m) <= nearest + 1e-9 * size]
    return min(level, key=lambda place: points[place][0]), max(level, key=lambda place: points[place][0])


def _corners(points: Sequence[Point], axis: tuple[Point, Point]) -> tuple[int, int, int, int]:
    """Where the lowest and the highest line along a lying vessel begin and end: low left, low right, high left, right.

    They are the outline's only edges along the axis.
    """
    (x1, y1), (x2, y2) = axis
    dx, dy = x2 - x1, y2 - y1

    def along(place: int) -> float:
        return (points[place][0] - x1) * dx + (points[place][1] - y1) * dy

    sides: dict[bool, list[int]] = {False: [], True: []}
    for place, (x, y) in enumerate(points):
        after = (place + 1) % len(points)
        ex, ey = points[after][0] - x, points[after][1] - y
        if abs(dx * ey - dy * ex) <= 1e-7 * abs(dx * ex + dy * ey):
            sides[dx * ex + dy * ey < 0] += [place, after]
    low, high = (side or [0] for side in (sides[False], sides[True]))
    return min(low, key=along), max(low, key=along), min(high, key=along), max(high, key=along)


def _walk(points: Sequence[Point], start: int, end: int) -> list[Point]:
    """The points from one to another, in the order of the outline."""
    count = (end - start) % len(points)
    return [points[(start + step) % len(points)] for step in range(count + 1)]
