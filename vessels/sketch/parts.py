"""The vessel itself: shell, medium, nozzles with sensors, beam, dead zone."""

import math

from vessels.sketch.geometry import above, below, cut, dots, hatch, mirrored, ray_end
from vessels.sketch.layout import Layout, nozzle_label
from vessels.sketch.pen import Attributes, Pen, outline
from vessels.sketch.scene import Beam, DeadZone, Filling, Nozzle, Point, Probe

LARGEST_HALF_ANGLE_RAD = math.radians(85)


def _in_px(layout: Layout, points: list[Point]) -> list[Point]:
    return [layout.point(point) for point in points]


def draw_filling(pen: Pen, layout: Layout, filling: Filling) -> None:
    """The medium up to its level (to the roof at most): a tint and the sign of a free surface, or grains."""
    if filling.level_m <= layout.shell.lowest_m:
        return
    style, unit = pen.style, layout.sizes.unit
    level_m = min(filling.level_m, layout.shell.highest_m)
    area = _in_px(layout, below(mirrored(layout.shell.profile), level_m))
    with pen.group(data_place=filling.place, class_=f"elevation-{filling.kind}"):
        if filling.kind == "solid":
            grains = dots(area, style.dot_px)
            # One path of points with round ends: some hundreds of circles would weigh ten times as much.
            marks = "".join(outline([point]) + "h.01" for point in grains)
            pen.path(marks, stroke=style.grain, stroke_width=1.3 * unit, stroke_linecap="round")
            return
        pen.polygon(area, fill=style.tint)
        half_m = layout.half_width_m(level_m) or 0.0
        if half_m * layout.scale_x > 30 * unit:
            _draw_surface(pen, layout.x(0.3 * half_m), layout.y(level_m), unit)


def _draw_surface(pen: Pen, x: float, y: float, unit: float) -> None:
    """The sign of a free surface: three lines, each shorter than the one above it."""
    sizes = ((8, 3), (5, 5.5), (2, 8))
    lines = [((x - half * unit, y + drop * unit), (x + half * unit, y + drop * unit)) for half, drop in sizes]
    pen.lines(lines, stroke=pen.style.quiet, stroke_width=pen.style.hair_px)


def draw_dead_zone(pen: Pen, layout: Layout, zone: DeadZone) -> None:
    """Hatching over every elevation in which the sensor cannot measure, in the vessel and in the nozzle."""
    style = pen.style
    inside = below(above(mirrored(layout.shell.profile), zone.to_m), max(zone.from_m, zone.to_m))
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
    inside = mirrored(layout.shell.profile)
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


def draw_shell(pen: Pen, layout: Layout) -> None:
    """The inside of the vessel in ink: bottom, walls, roof, and the vessel's own axis."""
    shell, style, unit = layout.shell, pen.style, layout.sizes.unit
    ink: Attributes = {"stroke": style.ink, "stroke_width": style.outline_px, "stroke_linecap": "round"}
    low_m, high_m = shell.bottom_tangent_m, shell.top_tangent_m
    parts = {
        "bottom": [point for point in shell.profile if point[1] <= low_m],
        "shell": [point for point in shell.profile if low_m <= point[1] <= high_m],
        "roof": [point for point in shell.profile if point[1] >= high_m],
    }
    if shell.lies:
        reach, y = shell.radius_m * layout.scale_x + 9 * unit, layout.y((shell.lowest_m + shell.highest_m) / 2)
        axis = ((layout.axis_px - reach, y), (layout.axis_px + reach, y))
    else:
        x = layout.axis_px
        axis = ((x, layout.y(shell.highest_m) - 9 * unit), (x, layout.y(shell.lowest_m) + 9 * unit))
    pen.lines(
        [axis],
        stroke=style.faint, stroke_width=style.hair_px,
        stroke_dasharray=f"{12 * unit:.1f} {2.5 * unit:.1f} {2 * unit:.1f} {2.5 * unit:.1f}",
    )  # fmt: skip
    for place, points in parts.items():
        with pen.group(data_place=place, class_=f"elevation-{place}"):
            if place == "shell":
                walls = [point for point in points if point[0] > 0]
                if walls[0][1] == walls[-1][1]:  # a sphere is all ends
                    continue
                for way in (1, -1):
                    pen.polyline(_in_px(layout, [(way * radius, height) for radius, height in walls]), **ink)
            else:
                left = [(-radius, height) for radius, height in points]
                whole = left[::-1] + points if place == "bottom" else left + points[::-1]
                pen.polyline(_in_px(layout, whole), **ink)


def draw_neck(pen: Pen, layout: Layout, nozzle: Nozzle) -> None:
    """Neck and flange of a nozzle, to scale in height and at least a few px wide."""
    unit, x, half = layout.sizes.unit, layout.x(nozzle.offset_m), layout.nozzle_half_px(nozzle)
    root, face = layout.y(nozzle.root_m), layout.y(nozzle.face_m)
    pen.lines(
        [((x - half, root), (x - half, face)), ((x + half, root), (x + half, face))],
        stroke=pen.style.ink, stroke_width=pen.style.mark_px,
    )  # fmt: skip
    pen.rectangle(x - half - 4 * unit, face, 2 * half + 8 * unit, 2.4 * unit, fill=pen.style.ink)


def draw_nozzle(pen: Pen, layout: Layout, nozzle: Nozzle) -> None:
    """Neck and flange; the sensor as a symbol; the name."""
    style, unit = pen.style, layout.sizes.unit
    x, face = layout.x(nozzle.offset_m), layout.y(nozzle.face_m)
    ink: Attributes = {"stroke": style.ink, "stroke_width": style.mark_px}
    with pen.group(data_place=nozzle.place, class_="elevation-nozzle"):
        draw_neck(pen, layout, nozzle)
        top = face
        if nozzle.reference_m is not None:
            reference = layout.y(nozzle.reference_m)
            if reference < face - 0.5:
                pen.rectangle(x - 5 * unit, reference, 10 * unit, face - reference, fill="#ffffff", **ink)
            top = draw_sensor(pen, x, reference, unit)
        pen.text(x, top - 4 * unit, nozzle_label(nozzle), text_anchor="middle", font_size=style.text_px)


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


def draw_sensor(pen: Pen, x: float, y: float, unit: float) -> float:
    """A head on a short neck; y is the reference point. Returns its top."""
    ink: Attributes = {"stroke": pen.style.ink, "stroke_width": pen.style.mark_px, "fill": "#ffffff"}
    pen.polygon([(x - 6.5 * unit, y), (x + 6.5 * unit, y), (x + 5 * unit, y - 4.5 * unit),
                 (x - 5 * unit, y - 4.5 * unit)], **ink)  # fmt: skip
    pen.rectangle(x - 3 * unit, y - 9.5 * unit, 6 * unit, 5 * unit, **ink)
    pen.rectangle(x - 10 * unit, y - 26 * unit, 20 * unit, 16.5 * unit, rx=4 * unit, **ink)
    pen.lines([((x - 10 * unit, y - 20.5 * unit), (x + 10 * unit, y - 20.5 * unit))], stroke=pen.style.ink,
              stroke_width=pen.style.hair_px)  # fmt: skip
    pen.rectangle(x + 10 * unit, y - 18 * unit, 3 * unit, 5 * unit, **ink)
    return y - 26 * unit
