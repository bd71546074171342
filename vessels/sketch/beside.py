"""What hangs on two connections in the vessel's side: a chamber, or a transmitter with legs or capillaries.

Heights are to scale; widths are those of symbols. Everything stands in a strip at the left of the shell.
"""

from vessels.sketch.layout import Layout
from vessels.sketch.nozzles import draw_sensor
from vessels.sketch.parts import draw_rod
from vessels.sketch.pen import Attributes, Pen
from vessels.sketch.scene import Beside

# Units to the left of the shell's widest point; all within `layout.BESIDE_WIDTH`.
TUBE, TUBE_HALF = 26.0, 6.0
NEAR_LEG, FAR_LEG = 20.0, 32.0
BEYOND = 9.0  # a chamber reaches so far beyond its connections


def draw_beside(pen: Pen, layout: Layout, beside: Beside) -> None:
    """The chamber or the transmitter with its connections; those outside the drawing are left out."""
    taps = {
        role: elevation_m
        for role, elevation_m in (("upper", beside.upper_m), ("lower", beside.lower_m))
        if elevation_m is not None and layout.extent.holds(elevation_m)
    }
    if not taps:
        return
    if beside.kind == "chamber":
        _draw_chamber(pen, layout, beside, taps)
    else:
        _draw_transmitter(pen, layout, beside, taps)


def _x(layout: Layout, units: float) -> float:
    return layout.x(layout.shell.left_m) - units * layout.sizes.unit


def _wall_px(layout: Layout, elevation_m: float) -> float:
    walls = layout.walls_px(elevation_m)
    return layout.x(layout.shell.left_m) if walls is None else walls[0]


def _head_px(layout: Layout, beside: Beside) -> float | None:
    """Height on the page of the sensor's reference point or the transmitter; None where it is not drawn there."""
    if beside.head_m is None or not layout.extent.holds(beside.head_m):
        return None
    return layout.y(beside.head_m)


def _draw_chamber(pen: Pen, layout: Layout, beside: Beside, taps: dict[str, float]) -> None:
    unit, style = layout.sizes.unit, pen.style
    x, half = _x(layout, TUBE), TUBE_HALF * unit
    for role, elevation_m in taps.items():
        _draw_stub(pen, layout, role, elevation_m, x + half)
    heights = [layout.y(elevation_m) for elevation_m in taps.values()]
    top, bottom = min(heights) - BEYOND * unit, max(heights) + BEYOND * unit
    head = _head_px(layout, beside)
    if head is not None:
        top = head
    with pen.group(data_place="chamber", class_="elevation-chamber"):
        if bottom > top:
            pen.rectangle(
                x - half, top, 2 * half, bottom - top, fill="none", stroke=style.ink, stroke_width=style.mark_px
            )
        if head is None:
            return
        if beside.probe_m is not None:
            end_m = max(beside.probe_m, layout.extent.bottom_m)
            draw_rod(pen, x, head, layout.y(end_m))
        pen.rectangle(x - half - 3 * unit, head, 2 * half + 6 * unit, 2.4 * unit, fill=style.ink)
        draw_sensor(pen, x, head, unit)


def _draw_stub(pen: Pen, layout: Layout, role: str, elevation_m: float, to_px: float) -> None:
    """A connection with an isolating valve, from the wall to the left."""
    unit, y, wall = layout.sizes.unit, layout.y(elevation_m), _wall_px(layout, elevation_m)
    ink: Attributes = {"stroke": pen.style.ink, "stroke_width": pen.style.mark_px}
    with pen.group(data_place=f"tap-{role}", class_="elevation-tap"):
        pen.lines([((wall, y), (to_px, y))], **ink)
        x, wide, high = _x(layout, 10), 4 * unit, 3 * unit
        valve = [(x - wide, y - high), (x + wide, y + high), (x + wide, y - high), (x - wide, y + high)]
        pen.polygon(valve, fill="#ffffff", **ink)


def _draw_seal(pen: Pen, layout: Layout, role: str, elevation_m: float) -> None:
    """A diaphragm seal on a short neck: a flange with its diaphragm towards the vessel."""
    unit, y = layout.sizes.unit, layout.y(elevation_m)
    ink: Attributes = {"stroke": pen.style.ink, "stroke_width": pen.style.mark_px}
    x, half = _x(layout, 7), 4 * unit
    walls = [(_wall_px(layout, elevation_m - way * half / layout.scale_y), y + way * half) for way in (-1, 1)]
    with pen.group(data_place=f"tap-{role}", class_="elevation-tap"):
        pen.lines([((wall, edge), (x, edge)) for wall, edge in walls], **ink)
        pen.rectangle(x - 4 * unit, y - 7.5 * unit, 4 * unit, 15 * unit, fill=pen.style.ink)


def _draw_transmitter(pen: Pen, layout: Layout, beside: Beside, taps: dict[str, float]) -> None:
    """Both lines to the transmitter: the lower one on the near leg, the upper one on the far leg."""
    unit, style = layout.sizes.unit, pen.style
    seals = beside.kind == "seals"
    head = _head_px(layout, beside)
    y = layout.y(min(taps.values())) if head is None else head
    for role, elevation_m in taps.items():
        leg, tap_y = _x(layout, FAR_LEG if role == "upper" else NEAR_LEG), layout.y(elevation_m)
        if seals:
            _draw_seal(pen, layout, role, elevation_m)
            start = _x(layout, 11)
        else:
            _draw_stub(pen, layout, role, elevation_m, leg)
            start = leg
        with pen.group(data_place=f"tap-{role}", class_="elevation-leg"):
            width = style.hair_px if seals else style.mark_px
            pen.polyline([(start, tap_y), (leg, tap_y), (leg, y)], stroke=style.ink, stroke_width=width)
    with pen.group(data_place="transmitter", class_="elevation-transmitter"):
        middle, half = _x(layout, (NEAR_LEG + FAR_LEG) / 2), 10 * unit
        ink: Attributes = {"stroke": style.ink, "stroke_width": style.mark_px, "fill": "#ffffff"}
        pen.rectangle(middle - half, y - 4 * unit, 2 * half, 8 * unit, **ink)
        pen.rectangle(middle - 7 * unit, y - 15 * unit, 14 * unit, 11 * unit, rx=3 * unit, **ink)
