"""Level marks: ticks at the wall, leaders, and names and values in one column at the side."""

from vessels.sketch.extent import STUB, is_outside, marked_outside, row_height
from vessels.sketch.geometry import spans_at
from vessels.sketch.layout import MARGIN_PX, Layout
from vessels.sketch.pen import Attributes, Pen
from vessels.sketch.placement import spread
from vessels.sketch.scene import LevelMark, Scene
from vessels.sketch.text_width import shorten


def draw_levels(pen: Pen, layout: Layout, scene: Scene) -> None:
    """All level marks of a scene, highest first."""
    marks = sorted(scene.levels, key=lambda mark: -mark.elevation_m)
    heights = [row_height(layout.shell, mark, pen.style) for mark in marks]
    wanted = [_edge_y(layout, mark.elevation_m) for mark in marks]
    bottom = max(layout.labels_end_px, MARGIN_PX + sum(heights))
    stubs = {nozzle.place for nozzle in scene.side_nozzles if nozzle.right}
    centres = spread(wanted, heights, MARGIN_PX, bottom)
    for mark, wanted_y, centre, height in zip(marks, wanted, centres, heights, strict=True):
        with pen.group(data_place=mark.place, class_=f"elevation-level elevation-{mark.kind}"):
            start = _draw_tick(pen, layout, mark, wanted_y, on_stub=mark.place in stubs)
            _draw_leader(pen, layout, start, wanted_y, centre)
            _draw_label(pen, layout, scene, mark, centre, height)


def _edge_y(layout: Layout, elevation_m: float) -> float:
    """Where a mark stands; at the edge of the drawing for one that is too far away."""
    if layout.extent.holds(elevation_m):
        return layout.y(elevation_m)
    if elevation_m > layout.extent.top_m:
        return layout.top_px - layout.style.text_px * 0.8
    return layout.bottom_px + layout.style.text_px * 0.8


def _draw_tick(pen: Pen, layout: Layout, mark: LevelMark, y: float, *, on_stub: bool) -> float:
    """The mark itself; returns where its leader starts."""
    style, unit = pen.style, layout.sizes.unit
    if not layout.extent.holds(mark.elevation_m):
        return _draw_beyond(pen, layout, mark, y)
    walls = None if is_outside(layout.shell, mark.elevation_m) else layout.walls_px(mark.elevation_m)
    if walls is None:
        return _draw_aside(pen, layout, mark, y)
    if on_stub:
        return walls[1] + STUB * unit
    right = walls[1]
    # Interrupted where a head bulges into the vessel.
    spans = spans_at(layout.shell.outline, mark.elevation_m)
    across = [((layout.x(one), y), (layout.x(other), y)) for one, other in spans]
    if mark.kind == "range":
        pen.lines(across, stroke=style.ink, stroke_width=style.mark_px)
    elif mark.kind == "setpoint":
        inward = max(right - 26 * unit, (walls[0] + right) / 2, across[-1][0][0])
        pen.lines([((inward, y), (right, y))], stroke=style.ink, stroke_width=style.mark_px,
                  stroke_dasharray=f"{5 * unit:.1f} {2.5 * unit:.1f}")  # fmt: skip
    elif mark.kind == "limit":
        pen.lines(across, stroke=style.quiet, stroke_width=style.hair_px,
                  stroke_dasharray=f"{2.5 * unit:.1f} {2 * unit:.1f}")  # fmt: skip
    elif mark.kind == "datum":
        _draw_datum(pen, layout, right, y)
    return right + (0.0 if mark.kind in ("range", "setpoint", "limit") else 3 * unit)


def _draw_datum(pen: Pen, layout: Layout, right: float, y: float) -> None:
    """A filled triangle that stands on the elevation called zero."""
    unit = layout.sizes.unit
    x = max(right + 6 * unit, layout.right_edge_px + 2 * unit)
    corners = [(x, y), (x + 3.6 * unit, y - 6.2 * unit), (x - 3.6 * unit, y - 6.2 * unit)]
    pen.polygon(corners, fill=pen.style.ink)


def _draw_aside(pen: Pen, layout: Layout, mark: LevelMark, y: float) -> float:
    """A mark above the roof or below the bottom: on a nozzle by nature, or an impossible level."""
    style, unit = pen.style, layout.sizes.unit
    if not marked_outside(layout.shell, mark):
        nozzles = layout.extent.nozzles
        sides = [layout.x(nozzle.offset_m) + layout.nozzle_half_px(nozzle) + 7 * unit for nozzle in nozzles]
        return max(sides, default=layout.right_edge_px)
    right = layout.x(layout.shell.right_m)
    left = max(right - 40 * unit, layout.x((layout.shell.left_m + layout.shell.right_m) / 2))
    pen.lines([((left, y), (right, y))], stroke=style.ink, stroke_width=style.mark_px,
              stroke_dasharray=f"{1.5 * unit:.1f} {3 * unit:.1f}")  # fmt: skip
    cross, x = 3.2 * unit, right + 3 * unit
    pen.lines(
        [((x - cross, y - cross), (x + cross, y + cross)), ((x - cross, y + cross), (x + cross, y - cross))],
        stroke=style.ink, stroke_width=style.mark_px,
    )  # fmt: skip
    return x + cross


def _draw_beyond(pen: Pen, layout: Layout, mark: LevelMark, y: float) -> float:
    """An arrow at the edge for an elevation that is too far away to be drawn."""
    up = mark.elevation_m > layout.extent.top_m
    x = layout.right_edge_px + 4 * layout.sizes.unit
    half, way = pen.style.arrow_px * 0.8, -1.0 if up else 1.0
    tip, tail = (x, y + way * half), (x, y - way * half)
    direction = (0.0, way)
    pen.lines([(tail, tip)], stroke=pen.style.ink, stroke_width=pen.style.mark_px)
    pen.arrow(tip, direction, fill=pen.style.ink)
    return x + 2 * layout.sizes.unit


def _draw_leader(pen: Pen, layout: Layout, start: float, y: float, centre: float) -> None:
    unit = layout.sizes.unit
    bend, end = layout.right_edge_px + 10 * unit, layout.label_px - 4 * unit
    level_until, straight_from = max(bend, start), end - 5 * unit
    points = [(start, y), (level_until, y), (straight_from, centre), (end, centre)]
    pen.polyline(points, stroke=pen.style.quiet, stroke_width=pen.style.hair_px)


def _draw_label(pen: Pen, layout: Layout, scene: Scene, mark: LevelMark, centre: float, height: float) -> None:
    style, room = pen.style, layout.labels
    bold = mark.kind == "range"
    weight: Attributes = {"font_weight": 600} if bold else {}
    fill = style.quiet if mark.kind in ("elevation", "limit", "datum") else style.ink
    baseline = centre - height / 2 + style.text_px * 1.01
    name = shorten(mark.name, room.name_px / style.text_px, bold=bold)
    pen.text(layout.label_px, baseline, name, font_size=style.text_px, fill=fill, **weight)
    pen.text(
        layout.label_px + room.width_px, baseline, mark.value, font_size=style.text_px, fill=fill,
        text_anchor="end", **weight,
    )  # fmt: skip
    if marked_outside(layout.shell, mark):
        words = scene.words.outside if layout.extent.holds(mark.elevation_m) else scene.words.far_outside
        words = shorten(words, room.width_px / style.small_px)
        pen.text(layout.label_px, baseline + style.small_px * 1.15, words, font_size=style.small_px)
