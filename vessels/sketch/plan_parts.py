"""Signs of a plan: nozzles, internals, points."""

import math
from collections.abc import Callable
from typing import Literal

from vessels.sketch.pen import Attributes, Pen
from vessels.sketch.plan_scene import PlanInternal
from vessels.sketch.scene import Point

STUB = 12.0  # units, from the wall to the flange


def _light(pen: Pen) -> Attributes:
    return {"stroke": pen.style.quiet, "stroke_width": pen.style.hair_px * 1.4}


def _cross(pen: Pen, at: Point, half: float) -> None:
    x, y = at
    pen.lines([((x - half, y), (x + half, y)), ((x, y - half), (x, y + half))], stroke=pen.style.quiet,
              stroke_width=pen.style.hair_px)  # fmt: skip


def draw_nozzle(pen: Pen, at: Point, half: float, *, used: bool) -> None:
    """The bore as a circle with the cross of its middle; the one that the drawing is about is heavier and filled."""
    unit, style = pen.style.text_px / 12, pen.style
    width = style.outline_px if used else style.mark_px
    pen.circle(at, half, fill=style.tint if used else "#ffffff", stroke=style.ink, stroke_width=width)
    _cross(pen, at, half + 2.5 * unit)


def draw_stub(pen: Pen, wall: Point, direction: Point, half: float) -> None:
    """A neck outwards from the wall, with its flange."""
    unit, style = pen.style.text_px / 12, pen.style
    half = min(max(half, 2.5 * unit), 30 * unit)
    dx, dy = direction[0], -direction[1]
    end = wall[0] + dx * STUB * unit, wall[1] + dy * STUB * unit

    def aside(point: Point, by: float) -> Point:
        return point[0] - dy * by, point[1] + dx * by

    ink: Attributes = {"stroke": style.ink, "stroke_width": style.mark_px}
    pen.lines([(aside(wall, way * half), aside(end, way * half)) for way in (-1, 1)], **ink)
    pen.lines([(aside(end, -half - 3 * unit), aside(end, half + 3 * unit))], stroke=style.ink,
              stroke_width=2.4 * unit)  # fmt: skip


def draw_mark(pen: Pen, at: Point, kind: Literal["feed", "draw_off"]) -> None:
    """An open triangle, point downwards, where solids fall in; an open square where they are drawn off.

    Both are larger than most nozzles, which may stand in the same place.
    """
    unit, style, (x, y) = pen.style.text_px / 12, pen.style, at
    ink: Attributes = {"stroke": style.ink, "stroke_width": style.mark_px}
    if kind == "feed":
        pen.polygon([(x - 8 * unit, y - 5 * unit), (x + 8 * unit, y - 5 * unit), (x, y + 9 * unit)], **ink)
    else:
        half = 5.5 * unit
        pen.polygon([(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)], **ink)
    pen.circle(at, 1.2 * unit, fill=style.ink)


def draw_internal(pen: Pen, at: Point, internal: PlanInternal, half: float) -> None:
    """What stands in the vessel, in light lines; half is half its width in px."""
    DRAWN[internal.kind](pen, at, (internal.outwards[0], -internal.outwards[1]), half)


def _turned(at: Point, outwards: Point, along: float, across: float) -> Point:
    """A point so far outwards from another, and so far to the side."""
    return (at[0] + outwards[0] * along - outwards[1] * across, at[1] + outwards[1] * along + outwards[0] * across)


def _rectangle(at: Point, outwards: Point, along: float, across: float) -> list[Point]:
    corners = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    return [_turned(at, outwards, one * along, other * across) for one, other in corners]


def _ladder(pen: Pen, at: Point, outwards: Point, half: float) -> None:
    """Two uprights with a rung, across the direction to the middle."""
    unit = pen.style.text_px / 12
    ends = [_turned(at, outwards, 0.0, way * half) for way in (-1, 1)]
    pen.lines([(ends[0], ends[1])], **_light(pen))
    for end in ends:
        pen.circle(end, 1.8 * unit, fill=pen.style.quiet)


def _coil(pen: Pen, at: Point, outwards: Point, half: float) -> None:
    """A ring of two circles."""
    unit = pen.style.text_px / 12
    for radius in (half, half - min(4 * unit, half / 3)):
        pen.circle(at, radius, **_light(pen))


def _baffle(pen: Pen, at: Point, outwards: Point, half: float) -> None:
    """A plate that stands along the direction to the middle."""
    unit = pen.style.text_px / 12
    pen.polygon(_rectangle(at, outwards, half, 1.3 * unit), fill=pen.style.faint, fill_opacity=0.4, **_light(pen))


def _agitator(pen: Pen, at: Point, outwards: Point, half: float) -> None:
    """The swept circle, dashed, with the shaft and three blades."""
    unit = pen.style.text_px / 12
    pen.circle(at, half, stroke_dasharray=f"{4 * unit:.1f} {2 * unit:.1f}", **_light(pen))
    for number in range(3):
        turn = math.tau * number / 3 - math.pi / 2
        way = math.cos(turn), math.sin(turn)
        middle = at[0] + way[0] * half / 2, at[1] + way[1] * half / 2
        pen.polygon(_rectangle(middle, way, half / 2, min(2.5 * unit, half / 4)), fill=pen.style.faint,
                    fill_opacity=0.3, **_light(pen))  # fmt: skip
    pen.circle(at, min(2.2 * unit, half / 2), fill="#ffffff", **_light(pen))


def _inlet_stream(pen: Pen, at: Point, outwards: Point, half: float) -> None:
    """Falling towards the reader: a dashed circle with a point."""
    unit = pen.style.text_px / 12
    pen.circle(at, half, stroke_dasharray=f"{3 * unit:.1f} {2 * unit:.1f}", **_light(pen))
    pen.circle(at, min(1.4 * unit, half / 2), fill=pen.style.quiet)


def _pipe(pen: Pen, at: Point, outwards: Point, half: float) -> None:
    pen.circle(at, half, **_light(pen))


def _well(pen: Pen, at: Point, outwards: Point, half: float) -> None:
    """A tube: two circles."""
    unit = pen.style.text_px / 12
    pen.circle(at, half, **_light(pen))
    pen.circle(at, half - min(1.6 * unit, half / 3), **_light(pen))


DRAWN: dict[str, Callable[[Pen, Point, Point, float], None]] = {
    "ladder": _ladder,
    "coil": _coil,
    "baffle": _baffle,
    "agitator": _agitator,
    "inlet_stream": _inlet_stream,
    "pipe": _pipe,
    "well": _well,
}
