"""Where everything goes: the scale, and the room at the sides for dimensions, labels and notes.

The drawing has one scale, unless the vessel is so flat or so slim that nothing could be told apart; then
heights or widths are drawn larger, and a note says by how much. Elevations far outside the vessel (a slip of
the decimal point while somebody types) do not shrink it: they are shown at the edge.
"""

import math
from dataclasses import dataclass, replace

from vessels.sketch.extent import (
    STUB,
    Extent,
    Sizes,
    extent_of,
    half_bore,
    is_drawn,
    marked_outside,
    nozzle_label,
    nozzle_reach,
    row_height,
)
from vessels.sketch.outline import walls
from vessels.sketch.pen import Style
from vessels.sketch.placement import spread
from vessels.sketch.scene import LevelMark, Nozzle, Scene, Shell
from vessels.sketch.slants import PlacedSlant, place_slants, slants_room, texts_collide
from vessels.sketch.spans import Placed, Room, outside_room, place_dimensions
from vessels.sketch.text_width import shorten, text_width_em, wrap

MARGIN_PX = 6.0
LEAST_WIDTH, LEAST_HEIGHT = 14.0, 44.0  # units; a shell smaller than this is stretched
LABELS_AT_MOST = 0.48  # share of the width
LEAST_DRAWING = 40.0  # units across, kept free of labels
SCALE_NOISE = 0.005  # two scales that differ by less are one
BESIDE_WIDTH = 46.0  # units between the shell and the dimensions, for a chamber or a transmitter


@dataclass(frozen=True, slots=True)
class LabelRoom:
    """The block of labels at the right: names to the left, values to the right."""

    name_px: float
    width_px: float


@dataclass(frozen=True, slots=True)
class NozzleName:
    """The name of one of several nozzles: where its middle stands, and in which row, counted upwards."""

    nozzle: Nozzle
    text: str
    x_px: float
    row: int


@dataclass(frozen=True)
class Layout:
    """The finished arrangement; `x` and `y` turn metres into px."""

    style: Style
    sizes: Sizes
    shell: Shell
    extent: Extent
    labels: LabelRoom
    heights: tuple[Placed, ...]
    widths: tuple[Placed, ...]
    slants: tuple[PlacedSlant, ...]
    names: tuple[NozzleName, ...]
    notes: tuple[str, ...]
    width_px: float
    height_px: float
    axis_px: float
    top_px: float
    scale_x: float
    scale_y: float
    left_half_px: float
    right_half_px: float
    widths_px: float
    labels_end_px: float
    notes_px: float

    def x(self, offset_m: float) -> float:
        return self.axis_px + offset_m * self.scale_x

    def y(self, elevation_m: float) -> float:
        return self.top_px + (self.extent.top_m - elevation_m) * self.scale_y

    def point(self, place: tuple[float, float]) -> tuple[float, float]:
        return self.x(place[0]), self.y(place[1])

    @property
    def left_edge_px(self) -> float:
        return self.axis_px - self.left_half_px

    @property
    def right_edge_px(self) -> float:
        return self.axis_px + self.right_half_px

    @property
    def needed_px(self) -> float:
        """Where drawing and labels end at the right; more than the width where slanted dimensions hang over."""
        return self.right_edge_px + (self.sizes.leader + self.labels.width_px if self.labels.width_px else 0.0)

    @property
    def bottom_px(self) -> float:
        return self.y(self.extent.bottom_m)

    @property
    def label_px(self) -> float:
        """Left edge of the labels."""
        return self.right_edge_px + self.sizes.leader

    def column_px(self, column: int) -> float:
        """The dimension line of a column, counted from the vessel outwards."""
        return self.left_edge_px - self.sizes.gap - column * self.sizes.pitch

    def row_px(self, row: int) -> float:
        """The dimension line of a row, counted from the vessel downwards."""
        return self.widths_px + row * self.sizes.pitch

    def nozzle_half_px(self, nozzle: Nozzle) -> float:
        return max(half_bore(nozzle, self.shell) * self.scale_x, 3 * self.sizes.unit)

    def walls_px(self, elevation_m: float) -> tuple[float, float] | None:
        """Where the left and the right wall stand at an elevation; None above and below the vessel."""
        found = walls(self.shell, elevation_m)
        return (self.x(found[0]), self.x(found[1])) if found is not None else None

    def moved(self, *, right_px: float, down_px: float) -> "Layout":
        """The same vessel elsewhere on the page; for drawings without dimensions at its sides."""
        return replace(
            self,
            axis_px=self.axis_px + right_px,
            top_px=self.top_px + down_px,
            widths_px=self.widths_px + down_px,
            widths=tuple(one.shifted(right_px) for one in self.widths),
        )


@dataclass(frozen=True, slots=True)
class _Rows:
    """Rows for which room is kept: columns of heights, rows of widths, rows of nozzles' names."""

    columns: int
    widths: int
    names: int
    apart: bool = False  # widths stand below everything else, because their texts are wider than the vessel's room
    told: bool = False  # slanted dimensions have no room and are told in the notes

    def at_least(self, other: "_Rows") -> "_Rows":
        return _Rows(
            max(self.columns, other.columns),
            max(self.widths, other.widths),
            max(self.names, other.names),
            self.apart or other.apart,
            self.told or other.told,
        )


def plan(scene: Scene, shell: Shell, style: Style, width_px: float, height_px: float) -> Layout:
    """The arrangement of a scene in a width, and in at most a height unless the labels alone need more."""
    axes = [one.axis for one in scene.dimensions]
    rows = _Rows(int("height" in axes), int("width" in axes), 1)
    while True:
        shown = _without_slants(scene) if rows.told else scene
        layout = _attempt(shown, shell, style, width_px, height_px, rows)
        needed = rows.at_least(_needed(layout))
        if needed == rows:
            return layout
        rows = needed


def _without_slants(scene: Scene) -> Scene:
    """A scene with its slanted dimensions in its notes."""
    told = "; ".join(f"{one.name} {one.value}".strip() for one in scene.slants)
    return replace(scene, slants=(), notes=(*scene.notes, f"{told}."))


def _needed(layout: Layout) -> _Rows:
    columns = 1 + max((placed.row for placed in layout.heights), default=-1)
    first_px = layout.column_px(columns) if columns else layout.left_edge_px
    return _Rows(
        columns=columns,
        widths=1 + max((placed.row for placed in layout.widths), default=-1),
        names=1 + max((name.row for name in layout.names), default=-1),
        apart=any(not placed.fits for placed in layout.widths),
        told=bool(layout.slants) and _slants_hinder(layout, first_px),
    )


def _slants_hinder(layout: Layout, first_px: float) -> bool:
    """True where slanted dimensions have no room: on each other, over the edge, or at the cost of the one scale."""
    outside = first_px < MARGIN_PX - 1 or layout.needed_px > layout.width_px - MARGIN_PX + 1
    return outside or texts_collide(layout.slants) or abs(layout.scale_y / layout.scale_x - 1) > SCALE_NOISE


def _attempt(scene: Scene, shell: Shell, style: Style, width_px: float, height_px: float, rows: _Rows) -> Layout:
    """The arrangement with room for so many rows; it may turn out to need more."""
    sizes, extent = Sizes.of(style), extent_of(scene, shell)
    left = MARGIN_PX + (sizes.gap + rows.columns * sizes.pitch if rows.columns else 0.0)
    stubs, slanted = _stubs(scene, sizes), slants_room(scene.slants, style, sizes)
    aside = max(beside_px(scene, sizes), stubs[0]), stubs[1]
    most_px = width_px - left - sum(aside) - 1.5 * slanted - MARGIN_PX - sizes.leader - LEAST_DRAWING * sizes.unit
    labels = label_room(scene, shell, style, min(most_px, LABELS_AT_MOST * width_px))
    right = MARGIN_PX + (sizes.leader + labels.width_px if scene.levels else 0.0)
    head, zone = _head(scene, style, sizes, extent, rows.names), _width_zone(style, sizes, rows.widths)
    most_foot = max(zone, _values_px(scene, style), slanted) + 6 * sizes.unit
    notes = [*scene.notes, *_absent_nozzles(scene, extent)]
    lines_px = len(_written(notes, style, width_px)) * style.small_px * 1.3
    room = (
        width_px - left - right - sum(aside) - 1.5 * slanted,
        height_px - max(head, slanted) - most_foot - lines_px - MARGIN_PX,
    )
    scale_x, scale_y = _scales(shell, extent, sizes, room)
    written = _written([*notes, *_scale_note(scene, scale_x, scale_y)], style, width_px)
    drawn_px = (extent.top_m - extent.bottom_m) * scale_y
    slants = place_slants(scene.slants, style, sizes, (scale_x, scale_y))
    named = style.text_px * 1.3 * rows.names + 8 * sizes.unit if extent.nozzles else 0.0
    head = max([head, *(MARGIN_PX + named + one.above_px(extent.top_m * scale_y) for one in slants)])
    heights = place_dimensions(
        [one for one in scene.dimensions if one.axis == "height" and is_drawn(one, extent)],
        lambda elevation_m: head + (extent.top_m - elevation_m) * scale_y,
        style,
        Room(MARGIN_PX, head + drawn_px + most_foot),
    )
    left_edge, right_edge = _edges(shell, extent, sizes, scale_x)
    left_edge = max(left_edge, aside[0] - shell.left_m * scale_x, *(-one.left_px for one in slants), 0.0)
    right_edge = max(right_edge, aside[1] + shell.right_m * scale_x, *(one.right_px for one in slants), 0.0)
    axis_px = left + (width_px - left - right - left_edge - right_edge) / 2 + left_edge
    label_px = axis_px + right_edge + sizes.leader if scene.levels else width_px - MARGIN_PX
    names_px = label_px - sizes.leader / 2 if scene.levels else label_px  # clear of most leaders
    widths = place_dimensions(
        [one for one in scene.dimensions if one.axis == "width"],
        lambda offset_m: axis_px + offset_m * scale_x,
        style,
        Room(MARGIN_PX, width_px - MARGIN_PX, overhang=True)
        if rows.apart
        else Room(axis_px - left_edge - sizes.gap + 3 * sizes.unit, label_px - 4 * sizes.unit, overhang=True),
    )
    lowest_px = max([head + drawn_px, *(placed.text_to_px for placed in heights)])
    slants_px = max((one.below_px(extent.bottom_m * scale_y) for one in slants), default=0.0)
    labels_px = sum(row_height(shell, mark, style) for mark in scene.levels)
    if rows.apart:
        extra = max(labels_px + 2 * MARGIN_PX - lowest_px, 0.0)
        labels_end = widths_px = lowest_px + extra
        notes_top = widths_px + zone + 6 * sizes.unit
    else:
        widths_px = head + drawn_px
        foot = max(zone, slants_px, lowest_px - widths_px) + 6 * sizes.unit
        extra = max(labels_px + 2 * MARGIN_PX - (widths_px + foot), 0.0)
        widths_px += extra / 2
        labels_end = notes_top = head + drawn_px + foot + extra
    return Layout(
        style=style,
        sizes=sizes,
        shell=shell,
        extent=extent,
        labels=labels,
        heights=tuple(placed.shifted(extra / 2) for placed in heights),
        widths=tuple(widths),
        slants=slants,
        names=_names(extent, style, (scale_x, axis_px), (axis_px - left_edge - sizes.gap + 3 * sizes.unit, names_px)),
        notes=tuple(written),
        width_px=width_px,
        height_px=notes_top + MARGIN_PX + len(written) * style.small_px * 1.3 + MARGIN_PX,
        axis_px=axis_px,
        top_px=head + extra / 2,
        scale_x=scale_x,
        scale_y=scale_y,
        left_half_px=left_edge,
        right_half_px=right_edge,
        widths_px=widths_px + sizes.gap,
        labels_end_px=labels_end,
        notes_px=notes_top,
    )


# --- room at the sides --------------------------------------------------------------------------------


def beside_px(scene: Scene, sizes: Sizes) -> float:
    """Room at the left of the shell for what hangs on its side."""
    return BESIDE_WIDTH * sizes.unit if scene.beside is not None and scene.beside.elevations else 0.0


def _stubs(scene: Scene, sizes: Sizes) -> tuple[float, float]:
    """Room (px) for nozzles in the side, left and right."""
    sides = {nozzle.right for nozzle in scene.side_nozzles}
    return (STUB * sizes.unit if False in sides else 0.0), (STUB * sizes.unit if True in sides else 0.0)


def label_room(scene: Scene, shell: Shell, style: Style, most_px: float) -> LabelRoom:
    """Room for the longest name and value; names are cut where that is more than there is."""
    if not scene.levels:
        return LabelRoom(0.0, 0.0)
    names = max(text_width_em(mark.name, bold=True) for mark in scene.levels) * style.text_px
    values = max(text_width_em(mark.value, bold=True) for mark in scene.levels) * style.text_px
    second = max((_second_line_px(scene, shell, mark, style) for mark in scene.levels), default=0.0)
    gap = style.text_px * 0.8
    names = max(min(names, most_px - values - gap), style.text_px)
    return LabelRoom(names, max(names + gap + values, min(second, most_px)))


def _second_line_px(scene: Scene, shell: Shell, mark: LevelMark, style: Style) -> float:
    if not marked_outside(shell, mark):
        return 0.0
    return max(text_width_em(scene.words.outside), text_width_em(scene.words.far_outside)) * style.small_px


def _edges(shell: Shell, extent: Extent, sizes: Sizes, scale_x: float) -> tuple[float, float]:
    """How far the drawing reaches left and right of the axis, px: nozzles widen it on their own side only."""
    flange, alone = 5 * sizes.unit, len(extent.nozzles) == 1
    aside: list[tuple[float, float]] = []
    for nozzle in extent.nozzles:
        half = max(half_bore(nozzle, shell) * scale_x, 3 * sizes.unit)
        reach = max(nozzle_reach(nozzle, sizes, alone=alone), half + flange)
        aside.append((nozzle.offset_m * scale_x, reach))
    return (
        max([-extent.left_m * scale_x, *(reach - offset for offset, reach in aside)]),
        max([extent.right_m * scale_x, *(reach + offset for offset, reach in aside)]),
    )


def _names(
    extent: Extent, style: Style, scale: tuple[float, float], limits: tuple[float, float]
) -> tuple[NozzleName, ...]:
    """Names of several nozzles, spread so that none touches another, in as many rows as that takes."""
    nozzles = sorted(extent.nozzles, key=lambda nozzle: nozzle.offset_m)
    if len(nozzles) < 2:
        return ()
    (scale_x, axis_px), (first, last) = scale, limits
    gap = style.text_px * 0.6
    texts = [shorten(nozzle_label(nozzle), (last - first - gap) / style.text_px) for nozzle in nozzles]
    widths = [text_width_em(text) * style.text_px + gap for text in texts]
    count = math.ceil(sum(widths) / (last - first))
    while any(sum(widths[row::count]) > last - first for row in range(count)):
        count += 1
    found: list[NozzleName] = []
    for row in range(count):
        wanted = [axis_px + nozzle.offset_m * scale_x for nozzle in nozzles[row::count]]
        centres = spread(wanted, widths[row::count], first, last)
        found += [
            NozzleName(nozzle, text, x, row)
            for nozzle, text, x in zip(nozzles[row::count], texts[row::count], centres, strict=True)
        ]
    return tuple(found)


# --- room above and below -----------------------------------------------------------------------------


def _written(notes: list[str], style: Style, width_px: float) -> list[str]:
    return wrap(" ".join(notes), (width_px - 2 * MARGIN_PX) / style.small_px)


def _absent_nozzles(scene: Scene, extent: Extent) -> list[str]:
    return [
        scene.words.nozzle_absent.format(label=nozzle.label) for nozzle in scene.nozzles if nozzle not in extent.nozzles
    ]


def _head(scene: Scene, style: Style, sizes: Sizes, extent: Extent, name_rows: int) -> float:
    sensors = [nozzle for nozzle in extent.nozzles if nozzle.reference_m is not None] or len(extent.nozzles) == 1
    has_symbol = bool(sensors or scene.columns) or (scene.beside is not None and scene.beside.kind == "chamber")
    named = style.text_px * 1.3 * max(name_rows, 1) + (2 * sizes.unit if name_rows > 1 else 0.0)
    symbol = sizes.symbol_height + named if has_symbol else style.text_px + (named if extent.nozzles else 0.0)
    return MARGIN_PX + max(symbol, _values_px(scene, style))


def _width_zone(style: Style, sizes: Sizes, rows: int) -> float:
    """Height of the dimension lines below the vessel."""
    return sizes.gap + (rows - 1) * sizes.pitch + style.text_px * 1.05 + 4 * sizes.unit if rows else style.text_px


def _values_px(scene: Scene, style: Style) -> float:
    """Room for the longest value of a height, which must fit above or below the vessel."""
    values = [one.value for one in scene.dimensions if one.axis == "height"]
    return max((outside_room(value, style) for value in values), default=0.0)


# --- scale --------------------------------------------------------------------------------------------


def _scales(shell: Shell, extent: Extent, sizes: Sizes, room: tuple[float, float]) -> tuple[float, float]:
    """px per metre across and up: equal, unless the shell would be too small to tell anything apart."""
    width_m, height_m = extent.right_m - extent.left_m, extent.top_m - extent.bottom_m
    # A nozzle near the wall may hang over it; on the axis it does so on both sides of a slim vessel.
    spare, alone = {-1: 0.0, 1: 0.0}, len(extent.nozzles) == 1
    for nozzle in extent.nozzles:
        aside_m = nozzle.offset_m - (shell.left_m + shell.right_m) / 2
        if abs(aside_m) + half_bore(nozzle, shell) > 0.4 * shell.radius_m:
            way = 1 if aside_m >= 0 else -1
            spare[way] = max(spare[way], nozzle_reach(nozzle, sizes, alone=alone), 8 * sizes.unit)
    least_width, least_height = LEAST_WIDTH * sizes.unit, LEAST_HEIGHT * sizes.unit
    room_x, room_y = max(room[0] - spare[-1] - spare[1], least_width), max(room[1], least_height)
    scale = min(room_x / width_m, room_y / height_m)
    # Stretched as little as makes the shell readable, and never beyond the room.
    least_x = min(least_width / (2 * shell.radius_m), room_x / width_m)
    least_y = min(least_height / (shell.highest_m - shell.lowest_m), room_y / height_m)
    return max(scale, least_x), max(scale, least_y)


def _scale_note(scene: Scene, scale_x: float, scale_y: float) -> list[str]:
    if scale_y > scale_x * (1 + SCALE_NOISE):
        return [scene.words.heights_larger.format(factor=f"{scale_y / scale_x:.2g}")]
    if scale_x > scale_y * (1 + SCALE_NOISE):
        return [scene.words.widths_larger.format(factor=f"{scale_x / scale_y:.2g}")]
    return []
