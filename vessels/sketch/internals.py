"""What stands in the vessel, in light lines: enough to see where it is, no more."""

from collections.abc import Callable

from vessels.sketch.layout import Layout
from vessels.sketch.pen import Attributes, Pen
from vessels.sketch.scene import Internal, Point

LEAST_HALF = 4.0  # units: half the width of what is not known or would be too thin to see
Lines = list[tuple[Point, Point]]


def draw_internals(pen: Pen, layout: Layout, internals: tuple[Internal, ...]) -> None:
    """Those that have a place in the vessel, cut off at its walls, roof and bottom."""
    shell, unit = layout.shell, layout.sizes.unit
    for internal in internals:
        low_m, high_m = max(internal.low_m, shell.lowest_m), min(internal.high_m, shell.highest_m)
        if low_m >= high_m or not shell.left_m <= internal.offset_m <= shell.right_m:
            continue
        x = layout.x(internal.offset_m)
        half = max((internal.width_m or 0.0) / 2 * layout.scale_x, LEAST_HALF * unit)
        left = max(x - half, layout.x(shell.left_m))
        right = min(x + half, layout.x(shell.right_m))
        with pen.group(data_place=internal.place, class_=f"elevation-internal elevation-{internal.kind}"):
            pen.title(internal.name)
            DRAWN[internal.kind](pen, (left, layout.y(high_m), right, layout.y(low_m)), unit)


Corners = tuple[float, float, float, float]  # left, top, right, bottom in px


def _light(pen: Pen) -> Attributes:
    return {"stroke": pen.style.quiet, "stroke_width": pen.style.hair_px * 1.4}


def _uprights(corners: Corners) -> Lines:
    left, top, right, bottom = corners
    return [((left, top), (left, bottom)), ((right, top), (right, bottom))]


def _steps(corners: Corners, pitch: float) -> list[float]:
    """Heights on the page from top to bottom, at least a pitch apart; at most 200."""
    _, top, _, bottom = corners
    count = min(int((bottom - top) / pitch), 200)
    return [top + (bottom - top) * (step + 0.5) / count for step in range(count)] if count else []


def _ladder(pen: Pen, corners: Corners, unit: float) -> None:
    left, _, right, _ = corners
    rungs: Lines = [((left, y), (right, y)) for y in _steps(corners, 7 * unit)]
    pen.lines(_uprights(corners) + rungs, **_light(pen))


def _coil(pen: Pen, corners: Corners, unit: float) -> None:
    """Turns seen from the side: to and fro between both sides."""
    left, _, right, _ = corners
    turns = _steps(corners, 6 * unit) or [(corners[1] + corners[3]) / 2]
    points = [(x, y) for row, y in enumerate(turns) for x in ((left, right) if row % 2 == 0 else (right, left))]
    pen.polyline(points, **_light(pen))


def _baffle(pen: Pen, corners: Corners, unit: float) -> None:
    left, top, right, bottom = corners
    pen.rectangle(left, top, right - left, bottom - top, fill=pen.style.faint, fill_opacity=0.25, **_light(pen))


def _agitator(pen: Pen, corners: Corners, unit: float) -> None:
    """The swept volume outlined, with shaft and blades."""
    left, top, right, bottom = corners
    middle, y = (left + right) / 2, (top + bottom) / 2
    pen.rectangle(
        left, top, right - left, bottom - top, fill="none", stroke_dasharray=f"{4 * unit:.1f} {2 * unit:.1f}",
        **_light(pen),
    )  # fmt: skip
    blade = min(3 * unit, (bottom - top) / 4)
    pen.lines([((middle, top), (middle, y))], **_light(pen))
    for way in (-1, 1):
        tip = middle + way * (right - left) / 2
        pen.polygon([(middle, y), (tip, y - blade), (tip, y + blade)], fill=pen.style.faint, fill_opacity=0.35,
                    **_light(pen))  # fmt: skip


def _inlet_stream(pen: Pen, corners: Corners, unit: float) -> None:
    """Falling liquid or bulk: dashes that end in an arrow."""
    left, top, right, bottom = corners
    dashes = f"{5 * unit:.1f} {2.5 * unit:.1f}"
    pen.lines(_uprights(corners), stroke_dasharray=dashes, **_light(pen))
    if bottom - top > 2 * pen.style.arrow_px:
        pen.arrow(((left + right) / 2, bottom), (0.0, 1.0))


def _pipe(pen: Pen, corners: Corners, unit: float) -> None:
    pen.lines(_uprights(corners), **_light(pen))


def _well(pen: Pen, corners: Corners, unit: float) -> None:
    """A tube with holes."""
    pen.lines(_uprights(corners), stroke_dasharray=f"{9 * unit:.1f} {2.5 * unit:.1f}", **_light(pen))


DRAWN: dict[str, Callable[[Pen, Corners, float], None]] = {
    "ladder": _ladder,
    "coil": _coil,
    "baffle": _baffle,
    "agitator": _agitator,
    "inlet_stream": _inlet_stream,
    "pipe": _pipe,
    "well": _well,
}
