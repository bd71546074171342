"""Nozzles on the roof and in the side, their names, and the sensor on them."""

from vessels.sketch.extent import STUB, nozzle_label
from vessels.sketch.layout import Layout
from vessels.sketch.outline import roof_at
from vessels.sketch.pen import Attributes, Pen
from vessels.sketch.scene import Nozzle, SideNozzle
from vessels.sketch.text_width import text_width_em

NAME_GAP = 9.0  # units between several names and the roof: a nozzle in the side may reach above it


def draw_nozzles(pen: Pen, layout: Layout) -> None:
    """Every nozzle on the roof; the name of a single one above it, names of several in rows above all of them."""
    nozzles, style, unit = layout.extent.nozzles, pen.style, layout.sizes.unit
    tops: dict[Nozzle, float] = {}
    for nozzle in nozzles:
        with pen.group(data_place=nozzle.place, class_="elevation-nozzle"):
            tops[nozzle] = _draw_nozzle(pen, layout, nozzle)
            if len(nozzles) == 1:
                _draw_single_name(pen, layout, nozzle, tops[nozzle])
    if not layout.names:
        return
    roofs = [_roof_px(layout, name.x_px, text_width_em(name.text) * style.text_px) for name in layout.names]
    lowest = min(*tops.values(), *roofs) - NAME_GAP * unit
    for name in layout.names:
        baseline = lowest - name.row * style.text_px * 1.3
        x, top = layout.x(name.nozzle.offset_m), tops[name.nozzle]
        with pen.group(data_place=name.nozzle.place, class_="elevation-nozzle"):
            if abs(x - name.x_px) > 2 or top - baseline > 10 * unit:
                start, end = (x, top - 2 * unit), (name.x_px, baseline + 3 * unit)
                pen.lines([(start, end)], stroke=style.faint, stroke_width=style.hair_px)
            pen.text(name.x_px, baseline, name.text, text_anchor="middle", font_size=style.text_px)


def _draw_single_name(pen: Pen, layout: Layout, nozzle: Nozzle, top: float) -> None:
    """A name above its nozzle, or above a roof that rises beside it, with a line down to the nozzle."""
    style, unit, x, text = pen.style, layout.sizes.unit, layout.x(nozzle.offset_m), nozzle_label(nozzle)
    roof = _roof_px(layout, x, text_width_em(text) * style.text_px)
    clear = NAME_GAP if nozzle.reference_m is None else 4.0
    baseline = min(top, roof) - clear * unit
    if roof < top:
        pen.lines([((x, top - 2 * unit), (x, baseline + 3 * unit))], stroke=style.faint, stroke_width=style.hair_px)
    pen.text(x, baseline, text, text_anchor="middle", font_size=style.text_px)


def _roof_px(layout: Layout, x_px: float, width_px: float) -> float:
    """The highest point (px) under a text: of the roof, or of a dimension of a tilted vessel that rises above it."""
    offsets = [(x_px + way * width_px / 2 - layout.axis_px) / layout.scale_x for way in (-1, 0, 1)]
    offsets += [x for x, _ in layout.shell.outline if offsets[0] < x < offsets[2]]
    roofs = [layout.y(roof_m) for offset_m in offsets if (roof_m := roof_at(layout.shell, offset_m)) is not None]
    x0, y0 = layout.point((0.0, 0.0))
    for slant in layout.slants:
        if x0 + slant.left_px < x_px + width_px / 2 and x_px - width_px / 2 < x0 + slant.right_px:
            roofs.append(y0 - slant.above_px(0.0))
    return min(roofs, default=layout.bottom_px)


def _draw_nozzle(pen: Pen, layout: Layout, nozzle: Nozzle) -> float:
    """Neck, flange and sensor; returns the top (px)."""
    unit, x, face = layout.sizes.unit, layout.x(nozzle.offset_m), layout.y(nozzle.face_m)
    draw_neck(pen, layout, nozzle)
    if nozzle.reference_m is None:
        return face
    reference = layout.y(nozzle.reference_m)
    if reference < face - 0.5:
        pen.rectangle(x - 5 * unit, reference, 10 * unit, face - reference, fill="#ffffff", stroke=pen.style.ink,
                      stroke_width=pen.style.mark_px)  # fmt: skip
    return draw_sensor(pen, x, reference, unit)


def _root_px(layout: Layout, nozzle: Nozzle, edge_px: float) -> float:
    """Where a side of the neck meets the roof: at the nozzle's own root, lower or higher as the roof slopes there."""
    roof_m = roof_at(layout.shell, nozzle.offset_m)
    edge_m = roof_at(layout.shell, (edge_px - layout.axis_px) / layout.scale_x)
    slope_m = 0.0 if roof_m is None or edge_m is None else edge_m - roof_m
    return max(layout.y(nozzle.root_m + slope_m), layout.y(nozzle.face_m))


def draw_neck(pen: Pen, layout: Layout, nozzle: Nozzle) -> None:
    """Neck and flange of a nozzle, to scale in height and at least a few px wide."""
    unit, x, half = layout.sizes.unit, layout.x(nozzle.offset_m), layout.nozzle_half_px(nozzle)
    face = layout.y(nozzle.face_m)
    pen.lines(
        [((edge, _root_px(layout, nozzle, edge)), (edge, face)) for edge in (x - half, x + half)],
        stroke=pen.style.ink, stroke_width=pen.style.mark_px,
    )  # fmt: skip
    pen.rectangle(x - half - 4 * unit, face, 2 * half + 8 * unit, 2.4 * unit, fill=pen.style.ink)


def draw_side_nozzle(pen: Pen, layout: Layout, nozzle: SideNozzle) -> None:
    """A stub with a flange at the left or the right wall; nothing outside the drawing."""
    walls, unit, style = layout.walls_px(nozzle.elevation_m), layout.sizes.unit, pen.style
    if walls is None:
        return
    way, y = (1.0 if nozzle.right else -1.0), layout.y(nozzle.elevation_m)
    # A bore as high as the vessel is a slip, which a check tells; it must not leave the drawing.
    room = min(layout.bottom_px - y + 6 * unit, y - layout.y(layout.shell.highest_m))
    half = max(min((nozzle.bore_m or 0.0) / 2 * layout.scale_y, 40 * unit, room), 2.5 * unit)
    flange = walls[int(nozzle.right)] + way * STUB * unit
    edges = []
    for edge in (y - half, y + half):
        at = layout.walls_px(nozzle.elevation_m - (edge - y) / layout.scale_y) or walls
        edges.append(((at[int(nozzle.right)], edge), (flange, edge)))
    with pen.group(data_place=nozzle.place, class_="elevation-nozzle"):
        pen.lines(edges, stroke=style.ink, stroke_width=style.mark_px)
        left = flange - 2.4 * unit if nozzle.right else flange
        pen.rectangle(left, y - half - 3 * unit, 2.4 * unit, 2 * half + 6 * unit, fill=style.ink)


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
