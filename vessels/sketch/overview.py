"""All level instruments of a vessel on one elevation: the vessel, and a numbered column for each beside it.

Heights are to scale and the same in vessel and columns. The vessel's own levels are named at its left, the values of
an instrument beside its column.
"""

from dataclasses import dataclass, replace

from vessels.sketch.dimensions import draw_widths
from vessels.sketch.elevation import draw_notes, draw_nothing, refuse_small, svg_element
from vessels.sketch.internals import draw_internals
from vessels.sketch.layout import MARGIN_PX, Layout, plan
from vessels.sketch.nozzles import draw_neck
from vessels.sketch.parts import draw_filling, draw_shell
from vessels.sketch.pen import PRINT, SCREEN, Attributes, Pen, Style
from vessels.sketch.placement import spread
from vessels.sketch.scene import Column, LevelMark, Nozzle, Scene, Shell
from vessels.sketch.text_width import shorten, text_width_em, wrap

LEAST_VESSEL = 150.0  # units across, for the vessel with its nozzles
AROUND_VESSEL = 40.0  # units kept free beside the vessel, both sides together
MOST_LABEL_EM = 14.0  # of a level's or setpoint's name with its value
BAR_HALF, LABEL_AT, COLUMN_GAP = 4.0, 18.0, 16.0  # units


def draw_overview(
    scene: Scene,
    *,
    width_px: float = 720,
    height_px: float = 480,
    for_print: bool = False,
    id_prefix: str = "overview",
) -> str:
    """The elevation of a vessel with the columns of its instruments, as an SVG element.

    Parameters and returns are those of `draw_elevation`; the drawing is wider than `width_px` where the columns need
    more, narrower where there is little to show, and higher than `height_px` only where labels would otherwise
    overlap. Each column is a group with
    `data-place` as given, each setpoint in it too.

    Raises ValueError for a width or height below the least.
    """
    refuse_small(width_px, height_px, for_print)
    pen = Pen(PRINT if for_print else SCREEN)
    if scene.shell is None:
        height = draw_nothing(pen, scene.words.no_vessel, width_px)
        return svg_element(pen.svg(), scene, width_px, height, id_prefix)
    board = _arrange(scene, scene.shell, pen.style, width_px, height_px)
    layout = board.layout
    if scene.filling is not None:
        draw_filling(pen, layout, scene.filling)
    draw_internals(pen, layout, scene.internals)
    draw_shell(pen, layout)
    draw_widths(pen, layout)
    _draw_nozzles(pen, board, scene)
    _draw_levels(pen, board, scene)
    for place, column in enumerate(scene.columns):
        _draw_column(pen, board, column, board.column_px[place])
    draw_notes(pen, board.notes, board.notes_px)
    height = board.notes_px + 2 * MARGIN_PX + len(board.notes) * pen.style.small_px * 1.3
    return svg_element(pen.svg(), scene, board.width_px, height, id_prefix)


@dataclass(frozen=True, slots=True)
class _Label:
    """A value beside a column: a setpoint, or an end of the span."""

    text: str
    elevation_m: float
    place: str
    bold: bool = False


@dataclass(frozen=True, slots=True)
class _Board:
    """The finished arrangement: the vessel's own layout, and where the columns stand."""

    layout: Layout
    label_px: float
    column_px: tuple[float, ...]
    vessel_left_px: float
    vessel_right_px: float
    head_px: float
    foot_px: float
    notes: tuple[str, ...]
    notes_px: float
    width_px: float


def _labels(column: Column) -> list[_Label]:
    """Labels of a column, highest first."""
    found = [_Label(f"{tick.name} {tick.value}".strip(), tick.elevation_m, tick.place) for tick in column.ticks]
    for text, elevation_m in ((column.high, column.high_m), (column.low, column.low_m)):
        if text and elevation_m is not None:
            found.append(_Label(text, elevation_m, column.place, bold=True))
    return sorted(found, key=lambda label: -label.elevation_m)


def _head(column: Column) -> str:
    return shorten(column.label, MOST_LABEL_EM, bold=True)


def _column_width(column: Column, style: Style) -> float:
    unit = style.text_px / 12
    texts = [text_width_em(shorten(one.text, MOST_LABEL_EM), bold=one.bold) for one in _labels(column)]
    beside = LABEL_AT * unit + max(texts, default=0.0) * style.small_px
    head = text_width_em(_head(column), bold=True) * style.text_px
    return max(beside, head) + COLUMN_GAP * unit


def _level_text(mark: LevelMark) -> str:
    return shorten(f"{mark.name} {mark.value}", MOST_LABEL_EM)


def _arrange(scene: Scene, shell: Shell, style: Style, width_px: float, height_px: float) -> _Board:
    unit = style.text_px / 12
    texts = [text_width_em(_level_text(mark)) * style.text_px for mark in scene.levels]
    left = MARGIN_PX + (max(texts) + 24 * unit if texts else 0.0)
    widths = [_column_width(column, style) for column in scene.columns]
    columns_px = sum(widths) + 10 * unit
    vessel_px = max(width_px - left - columns_px - MARGIN_PX, LEAST_VESSEL * unit)
    layout = plan(_vessel_only(scene), shell, style, vessel_px, height_px)
    drawn_px = layout.left_half_px + layout.right_half_px
    if drawn_px + AROUND_VESSEL * unit < vessel_px and vessel_px > LEAST_VESSEL * unit:
        # Height binds: what is left of the width would only part the vessel from its columns.
        vessel_px = max(drawn_px + AROUND_VESSEL * unit, LEAST_VESSEL * unit)
        layout = plan(_vessel_only(scene), shell, style, vessel_px, height_px)
    whole = left + vessel_px + columns_px + MARGIN_PX
    heads_px = MARGIN_PX + 3.3 * style.text_px
    notes = tuple(wrap(" ".join([*scene.notes, *layout.notes]), (whole - 2 * MARGIN_PX) / style.small_px))
    rows = max([len(_labels(column)) for column in scene.columns], default=0) * style.small_px * 1.25
    rows = max(rows, len(scene.levels) * style.text_px * 1.25)
    more_head = max(heads_px - layout.top_px, 0.0)
    free = layout.notes_px + more_head - heads_px
    extra = max(rows + MARGIN_PX - free, 0.0)
    layout = layout.moved(right_px=left, down_px=more_head + extra / 2)
    foot = layout.notes_px + more_head + extra
    starts = [left + vessel_px + 10 * unit + sum(widths[:place]) for place in range(len(widths))]
    return _Board(
        layout=layout,
        label_px=left - 24 * unit,
        column_px=tuple(starts),
        vessel_left_px=left,
        vessel_right_px=left + vessel_px,
        head_px=heads_px,
        foot_px=foot,
        notes=notes,
        notes_px=foot,
        width_px=whole,
    )


def _vessel_only(scene: Scene) -> Scene:
    """The vessel with the nozzles of the columns, without words at its sides."""
    roof_m = scene.shell.highest_m if scene.shell is not None else 0.0
    nozzles = tuple(
        Nozzle(
            label=str(column.number),
            offset_m=column.offset_m,
            root_m=roof_m if column.root_m is None else column.root_m,
            face_m=column.face_m,
            place=column.place,
        )
        for column in scene.columns
        if column.offset_m is not None and column.face_m is not None
    )
    dimensions = tuple(one for one in scene.dimensions if one.axis == "width")
    return replace(scene, nozzles=nozzles, side_nozzles=(), levels=(), dimensions=dimensions, slants=(), notes=(),
                   beside=None, probe=None)  # fmt: skip


def _draw_nozzles(pen: Pen, board: _Board, scene: Scene) -> None:
    """Necks on the roof with the numbers of their columns above them, none over another."""
    layout, size = board.layout, pen.style.small_px
    nozzles = sorted(layout.extent.nozzles, key=lambda nozzle: nozzle.offset_m)
    for nozzle in nozzles:
        with pen.group(data_place=nozzle.place, class_="elevation-nozzle"):
            draw_neck(pen, layout, nozzle)
    widths = [text_width_em(nozzle.label, bold=True) * size + 4 for nozzle in nozzles]
    wanted = [layout.x(nozzle.offset_m) for nozzle in nozzles]
    room = max(board.vessel_right_px, board.vessel_left_px + sum(widths))
    y = min((layout.y(nozzle.face_m) for nozzle in nozzles), default=0.0) - 5 * layout.sizes.unit
    for nozzle, x in zip(nozzles, spread(wanted, widths, board.vessel_left_px, room), strict=True):
        pen.text(x, y, nozzle.label, font_size=size, font_weight=600, text_anchor="middle")


def _edge_y(layout: Layout, elevation_m: float) -> float:
    """Height on the page; at the edge of the drawing for what is too far away."""
    return layout.y(min(max(elevation_m, layout.extent.bottom_m), layout.extent.top_m))


def _draw_levels(pen: Pen, board: _Board, scene: Scene) -> None:
    """The vessel's own levels, named at its left."""
    layout, style, unit = board.layout, pen.style, board.layout.sizes.unit
    marks = sorted(scene.levels, key=lambda mark: -mark.elevation_m)
    heights = [style.text_px * 1.25] * len(marks)
    centres = spread([_edge_y(layout, mark.elevation_m) for mark in marks], heights, MARGIN_PX, board.foot_px)
    for mark, centre in zip(marks, centres, strict=True):
        y = _edge_y(layout, mark.elevation_m)
        walls = layout.walls_px(mark.elevation_m)
        wall = (layout.x(layout.shell.left_m) if walls is None else walls[0]) - 3 * unit
        with pen.group(data_place=mark.place, class_=f"elevation-level elevation-{mark.kind}"):
            start = board.label_px + 4 * unit
            points = [(start, centre), (start + 5 * unit, centre), (start + 15 * unit, y), (wall, y)]
            pen.polyline(points, stroke=style.quiet, stroke_width=style.hair_px)
            pen.text(board.label_px, centre + style.text_px * 0.36, _level_text(mark), font_size=style.text_px,
                     fill=style.quiet, text_anchor="end")  # fmt: skip


def _draw_column(pen: Pen, board: _Board, column: Column, left: float) -> None:
    """Number and tag on top; a rule from bottom to roof; the span as a bar; setpoints as ticks with their values."""
    layout, style, unit = board.layout, pen.style, board.layout.sizes.unit
    x = left + BAR_HALF * unit + 2 * unit
    with pen.group(data_place=column.place, class_="elevation-column"):
        pen.title(column.label)
        pen.text(left, MARGIN_PX + style.text_px, str(column.number), font_size=style.text_px, fill=style.quiet)
        pen.text(left, MARGIN_PX + 2.2 * style.text_px, _head(column), font_size=style.text_px, font_weight=600)
        top, bottom = layout.y(layout.shell.highest_m), layout.y(layout.shell.lowest_m)
        ends = [((x - 3 * unit, y), (x + 3 * unit, y)) for y in (top, bottom)]
        pen.lines([((x, top), (x, bottom)), *ends], stroke=style.faint, stroke_width=style.hair_px)
        _draw_bar(pen, layout, column, x)
    labels = _labels(column)
    heights = [style.small_px * 1.25] * len(labels)
    wanted = [_edge_y(layout, label.elevation_m) for label in labels]
    centres = spread(wanted, heights, board.head_px, max(board.foot_px, board.head_px + sum(heights)))
    for label, y, centre in zip(labels, wanted, centres, strict=True):
        _draw_label(pen, layout, label, x, y, centre)


def _draw_bar(pen: Pen, layout: Layout, column: Column, x: float) -> None:
    style, half = pen.style, BAR_HALF * layout.sizes.unit
    if column.low_m is None or column.high_m is None:
        return
    top, bottom = sorted((_edge_y(layout, column.high_m), _edge_y(layout, column.low_m)))
    ink: Attributes = {"stroke": style.ink, "stroke_width": style.mark_px}
    fill = "#ffffff" if column.is_gauge else style.tint
    pen.rectangle(x - half, top, 2 * half, bottom - top, fill=fill, **ink)
    if column.is_gauge:
        # Two lines like the edges of a glass; readable in grey beside the filled bars of transmitters.
        inner = half * 0.4
        pen.lines([((x - inner, top), (x - inner, bottom)), ((x + inner, top), (x + inner, bottom))],
                  stroke=style.quiet, stroke_width=style.hair_px)  # fmt: skip


def _draw_label(pen: Pen, layout: Layout, label: _Label, x: float, y: float, centre: float) -> None:
    style, unit = pen.style, layout.sizes.unit
    half, at = BAR_HALF * unit, x + (LABEL_AT - BAR_HALF - 2) * unit
    weight: Attributes = {"font_weight": 600} if label.bold else {}
    with pen.group(data_place=label.place, class_="elevation-level elevation-setpoint"):
        if not layout.extent.holds(label.elevation_m):
            way = -1.0 if label.elevation_m > layout.extent.top_m else 1.0
            pen.arrow((x, y + way * style.arrow_px), (0.0, way), fill=style.ink)
        elif not label.bold:
            pen.lines([((x - half, y), (x + half + 1.5 * unit, y))], stroke=style.ink, stroke_width=style.mark_px)
        points = [(x + half + 1.5 * unit, y), (at - 2 * unit, centre)]
        pen.polyline(points, stroke=style.quiet, stroke_width=style.hair_px)
        text = shorten(label.text, MOST_LABEL_EM, bold=label.bold)
        pen.text(at, centre + style.small_px * 0.36, text, font_size=style.small_px, **weight)
