"""The vessel itself: shell, medium, beam, dead zone, probe."""

import math
from collections.abc import Sequence
from itertools import pairwise

from vessels.sketch.geometry import above, below, clipped, contains, cut, dots, hatch, ray_end, under
from vessels.sketch.layout import Layout
from vessels.sketch.outline import parts
from vessels.sketch.pen import Attributes, Pen, outline
from vessels.sketch.scene import Beam, DeadZone, Filling, Point, Probe

LARGEST_HALF_ANGLE_RAD = math.radians(85)


def _in_px(layout: Layout, points: Sequence[Point]) -> list[Point]:
    return [layout.point(point) for point in points]


def draw_filling(pen: Pen, layout: Layout, filling: Filling) -> None:
    """The medium up to its level or surface (to the roof at most): a tint and the sign of a free surface, or grains."""
    surface = filling.surface
    if max([filling.level_m] if not surface else [elevation for _, elevation in surface]) <= layout.shell.lowest_m:
        return
    style, unit = pen.style, layout.sizes.unit
    level_m = min(filling.level_m, layout.shell.highest_m)
    areas = under(layout.shell.outline, surface) if surface else [below(layout.shell.outline, level_m)]
    with pen.group(data_place=filling.place, class_=f"elevation-{filling.kind}"):
        if filling.kind == "solid":
            _draw_grains(pen, layout, areas)
        else:
            for area in areas:
                pen.polygon(_in_px(layout, area), fill=style.tint)
        lines = [part for pair in pairwise(surface) for part in clipped(layout.shell.outline, *pair)]
        pen.lines([(layout.point(start), layout.point(end)) for start, end in lines], stroke=style.ink,
                  stroke_width=style.mark_px)  # fmt: skip
        walls = layout.walls_px(level_m)
        if filling.kind == "liquid" and not surface and walls is not None and walls[1] - walls[0] > 60 * unit:
            _draw_surface(pen, walls[0] + 0.65 * (walls[1] - walls[0]), layout.y(level_m), unit)


def _draw_grains(pen: Pen, layout: Layout, areas: Sequence[Sequence[Point]]) -> None:
    """Grains in rows over the whole of the vessel, drawn where there is bulk."""
    inside = [_in_px(layout, area) for area in areas]
    points = [point for area in inside for point in area]
    if not points:
        return
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    top, bottom = min(y for _, y in points), max(y for _, y in points)
    box = [(left, top), (right, top), (right, bottom), (left, bottom)]
    if len(inside) == 1:
        grains = dots(inside[0], pen.style.dot_px)
    else:
        grains = [point for point in dots(box, pen.style.dot_px) if any(contains(area, point) for area in inside)]
    # One path of points with round ends: some hundreds of circles would weigh ten times as much.
    marks = "".join(outline([point]) + "h.01" for point in grains)
    pen.path(marks, stroke=pen.style.grain, stroke_width=1.3 * layout.sizes.unit, stroke_linecap="round")


def _draw_surface(pen: Pen, x: float, y: float, unit: float) -> None:
    """The sign of a free surface: three lines, each shorter than the one above it."""
    sizes = ((8, 3), (5, 5.5), (2, 8))
    lines = [((x - half * unit, y + drop * unit), (x + half * unit, y + drop * unit)) for half, drop in sizes]
    pen.lines(lines, stroke=pen.style.quiet, stroke_width=pen.style.hair_px)


def draw_dead_zone(pen: Pen, layout: Layout, zone: DeadZone) -> None:
    """Hatching over every elevation in which the sensor cannot measure, in the vessel and in the nozzle."""
    style = pen.style
    inside = below(above(layout.shell.outline, zone.to_m), max(zone.from_m, zone.to_m))
    lines = hatch(_in_px(layout, inside), style.hatch_px)
    for nozzle in layout.extent.nozzles:
        low_m, high_m = max(nozzle.root_m, zone.to_m), min(zone.from_m, nozzle.face_m)
        if nozzle.offset_m == zone.offset_m and high_m > low_m:
            x, half = layout.x(nozzle.offset_m), layout.nozzle_half_px(nozzle)
            low, high = layout.y(low_m), layout.y(high_m)
            bore = [(x - half, low), (x + half, low), (x + half, high), (x - half, high)]
            lines += hatch(bore, style.hatch_px)
    with pen.group(data_place=zone.place, class_="elevation-dead-zone"):
        pen.lines(lines, stroke=style.hatch, stroke_width=style.hair_px * 0.8)


def draw_beam(pen: Pen, layout: Layout, beam: Beam) -> None:
    """Both edges of the cone and its axis, each to where it first meets wall or bottom."""
    if not 0 < beam.half_angle_rad < LARGEST_HALF_ANGLE_RAD:
        return
    style, unit = pen.style, layout.sizes.unit
    inside = layout.shell.outline
    slope, apex = math.tan(beam.half_angle_rad), (beam.offset_m, beam.apex_m)
    lit = cut(inside, 1.0, slope, beam.offset_m + slope * beam.apex_m)
    lit = cut(lit, -1.0, slope, -beam.offset_m + slope * beam.apex_m)
    edges = [ray_end(inside, apex, (way * slope, -1.0)) for way in (-1, 1)]
    axis_end = ray_end(inside, apex, (0.0, -1.0))
    with pen.group(data_place=beam.place, class_="elevation-beam"):
        pen.polygon(_in_px(layout, below(lit, beam.apex_m)), fill=style.ink, fill_opacity=0.05)
        drawn = [(layout.point(apex), layout.point(end)) for end in edges if end is not None]
        pen.lines(drawn, stroke=style.ink, stroke_width=style.hair_px)
        if axis_end is not None:
            dashes = f"{9 * unit:.1f} {2 * unit:.1f} {1.5 * unit:.1f} {2 * unit:.1f}"
            pen.lines([(layout.point(apex), layout.point(axis_end))], stroke=style.quiet,
                      stroke_width=style.hair_px, stroke_dasharray=dashes)  # fmt: skip
    if beam.met_m is not None and layout.shell.lowest_m <= beam.met_m <= beam.apex_m:
        half_m = slope * (beam.apex_m - beam.met_m)
        ends = [layout.point((beam.offset_m + way * half_m, beam.met_m)) for way in (-1, 1)]
        ticks = [((x, y - 4 * unit), (x, y + 4 * unit)) for x, y in ends]
        with pen.group(data_place="beam-wall", class_="elevation-beam-wall"):
            pen.lines([(ends[0], ends[1]), *ticks], stroke=style.ink, stroke_width=style.mark_px)


def draw_shell(pen: Pen, layout: Layout) -> None:
    """The inside of the vessel in ink: bottom, walls, roof; the lines within it; and the vessel's own axis."""
    shell, style, unit = layout.shell, pen.style, layout.sizes.unit
    ink: Attributes = {"stroke": style.ink, "stroke_width": style.outline_px, "stroke_linecap": "round"}
    pen.lines(
        [_axis(layout)],
        stroke=style.faint, stroke_width=style.hair_px,
        stroke_dasharray=f"{12 * unit:.1f} {2.5 * unit:.1f} {2 * unit:.1f} {2.5 * unit:.1f}",
    )  # fmt: skip
    inner = [(layout.point(start), layout.point(end)) for start, end in shell.lines]
    with pen.group(data_place="shell", class_="elevation-edges"):
        pen.lines(inner, stroke=style.quiet, stroke_width=style.hair_px)
    for place, lines in parts(shell).items():
        with pen.group(data_place=place, class_=f"elevation-{place}"):
            for line in lines:
                pen.polyline(_in_px(layout, line), **ink)


def _axis(layout: Layout) -> tuple[Point, Point]:
    """The vessel's axis in px, a little longer than the vessel."""
    shell, unit = layout.shell, layout.sizes.unit
    if shell.axis is None:
        x = layout.axis_px
        return (x, layout.y(shell.highest_m) - 9 * unit), (x, layout.y(shell.lowest_m) + 9 * unit)
    (x1, y1), (x2, y2) = (layout.point(point) for point in shell.axis)
    length = math.hypot(x2 - x1, y2 - y1) or 1.0
    dx, dy = (x2 - x1) / length, (y2 - y1) / length
    # The ends bulge out beyond the axis between the tangent lines.
    along = [(x - x1) * dx + (y - y1) * dy for x, y in (layout.point(point) for point in shell.outline)]
    first, last = min(along) - 5 * unit, max(along) + 5 * unit  # within the margin
    return (x1 + dx * first, y1 + dy * first), (x1 + dx * last, y1 + dy * last)


def draw_probe(pen: Pen, layout: Layout, probe: Probe) -> None:
    """A probe from the reference point to its end, or to the edge of the drawing; a rope carries a weight."""
    to_m = max(probe.to_m, layout.extent.bottom_m)
    with pen.group(data_place=probe.place, class_="elevation-probe"):
        draw_rod(pen, layout.x(probe.offset_m), layout.y(probe.from_m), layout.y(to_m), probe.kind == "rope")


def draw_rod(pen: Pen, x: float, top: float, bottom: float, is_rope: bool = False) -> None:
    """A probe between two heights on the page; nothing where its end is not below its start."""
    unit = pen.style.text_px / 12
    if bottom <= top:
        return
    pen.lines([((x, top), (x, bottom))], stroke=pen.style.ink, stroke_width=pen.style.outline_px)
    if is_rope:
        weight = min(13 * unit, bottom - top)
        pen.rectangle(x - 2.5 * unit, bottom - weight, 5 * unit, weight, fill=pen.style.ink)
