"""Where everything goes: the scale, and the room at the sides for dimensions, labels and notes.

The drawing has one scale, unless the vessel is so flat or so slim that nothing could be told apart; then
heights or widths are drawn larger, and a note says by how much. Elevations far outside the vessel (a slip of
the decimal point while somebody types) do not shrink it: they are shown at the edge.
"""

from dataclasses import dataclass

from vessels.sketch.geometry import half_width
from vessels.sketch.heights import PlacedHeight, outside_room, place_heights
from vessels.sketch.pen import Style
from vessels.sketch.scene import Dimension, LevelMark, Nozzle, Scene, Shell
from vessels.sketch.text_width import shorten, text_width_em, wrap

MARGIN_PX = 6.0
LEAST_WIDTH, LEAST_HEIGHT = 14.0, 44.0  # units; a shell smaller than this is stretched
LEVELS_BEYOND, NOZZLES_BEYOND, NOZZLES_ASIDE = 0.35, 1.0, 1.5  # shares of the vessel's height, radius
LONGEST_LABEL_EM = 10.0  # of a nozzle
LABELS_AT_MOST = 0.48  # share of the width
LEAST_DRAWING = 40.0  # units across, kept free of labels
BESIDE_WIDTH = 46.0  # units between the shell and the dimensions, for a chamber or a transmitter


@dataclass(frozen=True, slots=True)
class Sizes:
    """Lengths in px that follow from the style: what is a symbol and not to scale."""

    unit: float
    symbol_half: float
    symbol_height: float
    gap: float
    pitch: float
    leader: float

    @classmethod
    def of(cls, style: Style) -> "Sizes":
        unit = style.text_px / 12
        return cls(unit, 13 * unit, 37 * unit, 14 * unit, style.text_px + 6 * unit, 34 * unit)


@dataclass(frozen=True, slots=True)
class Extent:
    """The elevations that are drawn, and the nozzles among them."""

    bottom_m: float
    top_m: float
    nozzles: tuple[Nozzle, ...]

    def holds(self, elevation_m: float) -> bool:
        noise = 1e-9 * (self.top_m - self.bottom_m)
        return self.bottom_m - noise <= elevation_m <= self.top_m + noise


def top_of(nozzle: Nozzle) -> float:
    reference_m = nozzle.face_m if nozzle.reference_m is None else nozzle.reference_m
    return max(nozzle.face_m, reference_m)


def half_bore(nozzle: Nozzle, shell: Shell) -> float:
    """Half the bore (m) as drawn: a bore wider than the vessel is a slip, which a check tells."""
    return min((nozzle.bore_m or 0.0) / 2, shell.radius_m)


def extent_of(scene: Scene, shell: Shell) -> Extent:
    height_m = shell.highest_m - shell.lowest_m
    nozzles = tuple(
        nozzle
        for nozzle in scene.nozzles
        if shell.lowest_m <= nozzle.face_m
        and top_of(nozzle) <= shell.highest_m + NOZZLES_BEYOND * height_m
        and abs(nozzle.offset_m) <= NOZZLES_ASIDE * shell.radius_m
    )
    beyond_m = LEVELS_BEYOND * height_m
    marks = [
        mark.elevation_m
        for mark in scene.levels
        if shell.lowest_m - beyond_m <= mark.elevation_m <= shell.highest_m + beyond_m
    ]
    marks += [one for one in _other_elevations(scene) if shell.lowest_m - beyond_m <= one <= shell.highest_m + beyond_m]
    tops = [top_of(nozzle) for nozzle in nozzles]
    return Extent(min([shell.lowest_m, *marks]), max([shell.highest_m, *marks, *tops]), nozzles)


def _other_elevations(scene: Scene) -> list[float]:
    """Elevations of what is no level mark: a probe's end, what hangs on the side, columns of instruments."""
    found = [*(scene.beside.elevations if scene.beside else ()), *([scene.probe.to_m] if scene.probe else ())]
    for column in scene.columns:
        found += [one for one in (column.low_m, column.high_m) if one is not None]
        found += [tick.elevation_m for tick in column.ticks]
    return found


def beside_px(scene: Scene, sizes: Sizes) -> float:
    """Room at the left of the shell for what hangs on its side."""
    return BESIDE_WIDTH * sizes.unit if scene.beside is not None and scene.beside.elevations else 0.0


@dataclass(frozen=True, slots=True)
class LabelRoom:
    """The block of labels at the right: names to the left, values to the right."""

    name_px: float
    width_px: float


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


@dataclass(frozen=True)
class Layout:
    """The finished arrangement; `x` and `y` turn metres into px."""

    style: Style
    sizes: Sizes
    shell: Shell
    extent: Extent
    labels: LabelRoom
    heights: tuple[PlacedHeight, ...]
    notes: tuple[str, ...]
    width_px: float
    height_px: float
    axis_px: float
    top_px: float
    scale_x: float
    scale_y: float
    left_half_px: float
    right_half_px: float
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
    def bottom_px(self) -> float:
        return self.y(self.extent.bottom_m)

    @property
    def label_px(self) -> float:
        """Left edge of the labels."""
        return self.right_edge_px + self.sizes.leader

    def column_px(self, column: int) -> float:
        """The dimension line of a column, counted from the vessel outwards."""
        return self.left_edge_px - self.sizes.gap - column * self.sizes.pitch

    def nozzle_half_px(self, nozzle: Nozzle) -> float:
        return max(half_bore(nozzle, self.shell) * self.scale_x, 3 * self.sizes.unit)

    def half_width_m(self, elevation_m: float) -> float | None:
        return half_width(self.shell.profile, elevation_m)


def is_outside(shell: Shell, elevation_m: float) -> bool:
    noise = 1e-9 * (shell.highest_m - shell.lowest_m)
    return not shell.lowest_m - noise <= elevation_m <= shell.highest_m + noise


def marked_outside(shell: Shell, mark: LevelMark) -> bool:
    """A level that cannot be, as against an elevation of a nozzle, which is outside by nature."""
    return mark.kind in ("range", "setpoint") and is_outside(shell, mark.elevation_m)


def row_height(shell: Shell, mark: LevelMark, style: Style) -> float:
    second = style.small_px * 1.2 if marked_outside(shell, mark) else 0.0
    return style.text_px * 1.3 + second


def plan(scene: Scene, shell: Shell, style: Style, width_px: float, height_px: float) -> Layout:
    """The arrangement of a scene in a width, and in at most a height unless the labels alone need more."""
    heights = [one for one in scene.dimensions if one.axis == "height"]
    columns = 1 if heights else 0
    while True:
        layout = _attempt(scene, shell, style, width_px, height_px, columns)
        needed = 1 + max((placed.column for placed in layout.heights), default=-1)
        if needed <= columns:
            return layout
        columns = needed


def _attempt(scene: Scene, shell: Shell, style: Style, width_px: float, height_px: float, columns: int) -> Layout:
    """The arrangement with room for so many columns of vertical dimensions; it may turn out to need more."""
    sizes, extent = Sizes.of(style), extent_of(scene, shell)
    left = MARGIN_PX + (sizes.gap + columns * sizes.pitch if columns else 0.0)
    beside = beside_px(scene, sizes)
    most_px = width_px - left - beside - MARGIN_PX - sizes.leader - LEAST_DRAWING * sizes.unit
    labels = label_room(scene, shell, style, min(most_px, LABELS_AT_MOST * width_px))
    right = MARGIN_PX + (sizes.leader + labels.width_px if scene.levels else 0.0)
    head, most_foot = _head(scene, style, sizes, extent), _most_foot(scene, style, sizes)
    notes = [*scene.notes, *_absent_nozzles(scene, extent)]
    lines_px = len(_written(notes, style, width_px)) * style.small_px * 1.3
    room = (width_px - left - beside - right, height_px - head - most_foot - lines_px - MARGIN_PX)
    scale_x, scale_y = _scales(shell, extent, sizes, room)
    written = _written([*notes, *_scale_note(scene, scale_x, scale_y)], style, width_px)
    drawn_px = (extent.top_m - extent.bottom_m) * scale_y
    heights = place_heights(
        [one for one in scene.dimensions if one.axis == "height" and _drawn(one, extent)],
        lambda elevation_m: head + (extent.top_m - elevation_m) * scale_y,
        style,
        MARGIN_PX,
        head + drawn_px + most_foot,
    )
    lowest_px = max((placed.text_to_px for placed in heights), default=0.0)
    foot = max(_width_zone(scene, style, sizes), lowest_px - head - drawn_px) + 6 * sizes.unit
    labels_px = sum(row_height(shell, mark, style) for mark in scene.levels)
    extra = max(labels_px + 2 * MARGIN_PX - (head + drawn_px + foot), 0.0)
    left_edge, right_edge = _edges(shell, extent, sizes, scale_x)
    left_edge = max(left_edge, shell.radius_m * scale_x + beside)
    notes_top = head + drawn_px + foot + extra
    return Layout(
        style=style,
        sizes=sizes,
        shell=shell,
        extent=extent,
        labels=labels,
        heights=tuple(placed.lowered(extra / 2) for placed in heights),
        notes=tuple(written),
        width_px=width_px,
        height_px=notes_top + MARGIN_PX + len(written) * style.small_px * 1.3 + MARGIN_PX,
        axis_px=left + (width_px - left - right - left_edge - right_edge) / 2 + left_edge,
        top_px=head + extra / 2,
        scale_x=scale_x,
        scale_y=scale_y,
        left_half_px=left_edge,
        right_half_px=right_edge,
        notes_px=notes_top,
    )


def _written(notes: list[str], style: Style, width_px: float) -> list[str]:
    return wrap(" ".join(notes), (width_px - 2 * MARGIN_PX) / style.small_px)


def _edges(shell: Shell, extent: Extent, sizes: Sizes, scale_x: float) -> tuple[float, float]:
    """How far the drawing reaches left and right of the axis, px: nozzles widen it on their own side only."""
    half, flange = shell.radius_m * scale_x, 5 * sizes.unit
    aside: list[tuple[float, float]] = []
    for nozzle in extent.nozzles:
        reach = max(nozzle_reach(nozzle, sizes), half_bore(nozzle, shell) * scale_x + flange)
        aside.append((nozzle.offset_m * scale_x, reach))
    return (
        max([half, *(reach - offset for offset, reach in aside)]),
        max([half, *(reach + offset for offset, reach in aside)]),
    )


def nozzle_reach(nozzle: Nozzle, sizes: Sizes) -> float:
    """Half the width of what stands on a nozzle: the sensor, or its name, which may hang over a little."""
    name = text_width_em(nozzle_label(nozzle)) * 12 * sizes.unit
    return max(sizes.symbol_half, name / 2 - sizes.gap / 2)


def nozzle_label(nozzle: Nozzle) -> str:
    return shorten(nozzle.label, LONGEST_LABEL_EM)


def _absent_nozzles(scene: Scene, extent: Extent) -> list[str]:
    return [
        scene.words.nozzle_absent.format(label=nozzle.label) for nozzle in scene.nozzles if nozzle not in extent.nozzles
    ]


def _drawn(dimension: Dimension, extent: Extent) -> bool:
    return extent.holds(dimension.from_m) and extent.holds(dimension.to_m)


def _head(scene: Scene, style: Style, sizes: Sizes, extent: Extent) -> float:
    has_symbol = bool(extent.nozzles or scene.columns) or (scene.beside is not None and scene.beside.kind == "chamber")
    symbol = sizes.symbol_height + style.text_px * 1.3 if has_symbol else style.text_px
    return MARGIN_PX + max(symbol, _values_px(scene, style))


def _most_foot(scene: Scene, style: Style, sizes: Sizes) -> float:
    return max(_width_zone(scene, style, sizes), _values_px(scene, style)) + 6 * sizes.unit


def _width_zone(scene: Scene, style: Style, sizes: Sizes) -> float:
    """Height of the dimension lines below the vessel."""
    widths = any(one.axis == "width" for one in scene.dimensions)
    return sizes.gap + style.text_px * 1.05 + 4 * sizes.unit if widths else style.text_px


def _values_px(scene: Scene, style: Style) -> float:
    """Room for the longest value of a height, which must fit above or below the vessel."""
    values = [one.value for one in scene.dimensions if one.axis == "height"]
    return max((outside_room(value, style) for value in values), default=0.0)


def _scales(shell: Shell, extent: Extent, sizes: Sizes, room: tuple[float, float]) -> tuple[float, float]:
    """px per metre across and up: equal, unless the shell would be too small to tell anything apart."""
    aside = [abs(nozzle.offset_m) + half_bore(nozzle, shell) for nozzle in extent.nozzles]
    width_m, height_m = 2 * max([shell.radius_m, *aside]), extent.top_m - extent.bottom_m
    # A nozzle near the wall may hang over it; on the axis it does so on both sides of a slim vessel.
    reach = max((nozzle_reach(nozzle, sizes) for nozzle in extent.nozzles), default=0.0)
    spare = reach if any(offset > 0.4 * shell.radius_m for offset in aside) else 0.0
    least_width, least_height = LEAST_WIDTH * sizes.unit, LEAST_HEIGHT * sizes.unit
    room_x, room_y = max(room[0] - spare, least_width), max(room[1], least_height)
    scale = min(room_x / width_m, room_y / height_m)
    # Stretched as little as makes the shell readable, and never beyond the room.
    least_x = min(least_width / (2 * shell.radius_m), room_x / width_m)
    least_y = min(least_height / (shell.highest_m - shell.lowest_m), room_y / height_m)
    return max(scale, least_x), max(scale, least_y)


def _scale_note(scene: Scene, scale_x: float, scale_y: float) -> list[str]:
    if scale_y > scale_x * 1.005:
        return [scene.words.heights_larger.format(factor=f"{scale_y / scale_x:.2g}")]
    if scale_x > scale_y * 1.005:
        return [scene.words.widths_larger.format(factor=f"{scale_x / scale_y:.2g}")]
    return []
