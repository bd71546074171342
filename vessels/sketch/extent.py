"""What a drawing reaches over: its elevations and offsets, and which nozzles are near enough to be drawn."""

import math
from dataclasses import dataclass

from vessels.sketch.pen import Style
from vessels.sketch.scene import Dimension, LevelMark, Nozzle, Point, Scene, Shell, Slant
from vessels.sketch.text_width import shorten, text_width_em

LEVELS_BEYOND, NOZZLES_BEYOND, NOZZLES_ASIDE = 0.35, 1.0, 1.5  # shares of the vessel's height, height, half width
LONGEST_LABEL_EM = 10.0  # of a nozzle
STUB = 15.0  # units: a nozzle in the side, with its flange


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
    """The elevations and offsets that are drawn, and the nozzles among them."""

    bottom_m: float
    top_m: float
    left_m: float
    right_m: float
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
    height_m, middle_m = shell.highest_m - shell.lowest_m, (shell.left_m + shell.right_m) / 2
    nozzles = tuple(
        nozzle
        for nozzle in scene.nozzles
        if shell.lowest_m <= nozzle.face_m
        and top_of(nozzle) <= shell.highest_m + NOZZLES_BEYOND * height_m
        and abs(nozzle.offset_m - middle_m) <= NOZZLES_ASIDE * shell.radius_m
    )
    beyond_m = LEVELS_BEYOND * height_m
    marks = [
        elevation_m
        for elevation_m in (*(mark.elevation_m for mark in scene.levels), *_other_elevations(scene))
        if shell.lowest_m - beyond_m <= elevation_m <= shell.highest_m + beyond_m
    ]
    slanted = [point for slant in scene.slants for point in slant_line(slant)]
    tops = [top_of(nozzle) for nozzle in nozzles]
    aside = [nozzle.offset_m + way * half_bore(nozzle, shell) for nozzle in nozzles for way in (-1, 1)]
    aside += [offset_m for offset_m, _ in slanted]
    lows = [elevation_m for _, elevation_m in slanted]
    return Extent(
        bottom_m=min([shell.lowest_m, *marks, *lows]),
        top_m=max([shell.highest_m, *marks, *tops]),
        left_m=min([shell.left_m, *aside]),
        right_m=max([shell.right_m, *aside]),
        nozzles=nozzles,
    )


def _other_elevations(scene: Scene) -> list[float]:
    """Elevations of what is no level mark: a probe's end, what hangs on the side, columns of instruments."""
    found = [*(scene.beside.elevations if scene.beside else ()), *([scene.probe.to_m] if scene.probe else ())]
    found += [nozzle.elevation_m for nozzle in scene.side_nozzles]
    for column in scene.columns:
        found += [one for one in (column.low_m, column.high_m) if one is not None]
        found += [tick.elevation_m for tick in column.ticks]
    return found


def slant_line(slant: Slant) -> tuple[Point, Point]:
    """Both ends (m) of a slanted dimension line, clear of what bulges out."""
    (x1, y1), (x2, y2) = slant.start, slant.end
    length = math.hypot(x2 - x1, y2 - y1) or 1.0
    right_x, right_y = (y2 - y1) / length * slant.away_m, -(x2 - x1) / length * slant.away_m
    return (x1 + right_x, y1 + right_y), (x2 + right_x, y2 + right_y)


def nozzle_label(nozzle: Nozzle) -> str:
    return shorten(nozzle.label, LONGEST_LABEL_EM)


def nozzle_reach(nozzle: Nozzle, sizes: Sizes, *, alone: bool) -> float:
    """Half the width of what stands on a nozzle: the sensor, or its name, which may hang over a little.

    Names of several nozzles are spread over the width and need no room at their own.
    """
    if not alone:
        return 0.0 if nozzle.reference_m is None else sizes.symbol_half
    name = text_width_em(nozzle_label(nozzle)) * 12 * sizes.unit
    return max(sizes.symbol_half, name / 2 - sizes.gap / 2)


def is_outside(shell: Shell, elevation_m: float) -> bool:
    noise = 1e-9 * (shell.highest_m - shell.lowest_m)
    return not shell.lowest_m - noise <= elevation_m <= shell.highest_m + noise


def marked_outside(shell: Shell, mark: LevelMark) -> bool:
    """A level that cannot be, as against an elevation of a nozzle, which is outside by nature."""
    return mark.kind in ("range", "setpoint") and is_outside(shell, mark.elevation_m)


def row_height(shell: Shell, mark: LevelMark, style: Style) -> float:
    second = style.small_px * 1.2 if marked_outside(shell, mark) else 0.0
    return style.text_px * 1.3 + second


def is_drawn(dimension: Dimension, extent: Extent) -> bool:
    """True for a height within the drawing."""
    return extent.holds(dimension.from_m) and extent.holds(dimension.to_m)
