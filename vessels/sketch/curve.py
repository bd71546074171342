"""A level–volume curve as SVG: level upward, as in the vessel; volume to the right. For page and printed sheet."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

from vessels.sketch.elevation import FONTS
from vessels.sketch.pen import PRINT, SCREEN, Attributes, Pen, clean, number
from vessels.sketch.placement import spread
from vessels.sketch.text_width import shorten, text_width_em

LEAST_WIDTH_PX, LEAST_HEIGHT_PX = 240, 160
WANTED_STEPS = 5
LONGEST_MARK_EM = 12.0


@dataclass(frozen=True, slots=True)
class Axis:
    """One axis: what it shows, and the values at its ends, in the unit that the label names."""

    label: str
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class CurveMark:
    """A named level across the plot."""

    place: str
    name: str
    level: float


@dataclass(frozen=True, slots=True)
class CurveScene:
    """What the plot shows; values are in the units of the axes.

    points      (volume, level) of the curve, levels rising
    comparison  (volume, level) of a second curve, drawn dashed: the shape beside its strapping table
    dots        (volume, level) drawn as dots: the rows of a strapping table, the points of a reduced one
    """

    title: str
    description: str
    volume: Axis
    level: Axis
    points: tuple[tuple[float, float], ...]
    comparison: tuple[tuple[float, float], ...] = ()
    dots: tuple[tuple[float, float], ...] = ()
    marks: tuple[CurveMark, ...] = ()


def nice_ticks(low: float, high: float, steps: int = WANTED_STEPS) -> list[float]:
    """Round values (1, 2 or 5 times a power of ten apart) from low to high, about so many.

    Raises ValueError where the range is empty or not finite.
    """
    if not (math.isfinite(low) and math.isfinite(high) and low < high):
        raise ValueError(f"range {low!r} … {high!r}: accepted are finite values, the lower one first")
    rough = (high - low) / steps
    power = 10 ** math.floor(math.log10(rough))
    step = next(factor * power for factor in (1, 2, 5, 10) if factor * power >= rough * (1 - 1e-9))
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [count * step for count in range(first, last + 1)]


def draw_curve(
    scene: CurveScene,
    *,
    width_px: float = 460,
    height_px: float = 320,
    for_print: bool = False,
    id_prefix: str = "curve",
) -> str:
    """The plot as an SVG element, without style attributes or scripts.

    The plot's frame is a group with data-place="plot" and data-left, data-top, data-width, data-height in px, so that a
    page can follow a pointer over it.

    Raises ValueError for a size below 240 × 160 px, for fewer than two points, and for axes without a range.
    """
    if not width_px >= LEAST_WIDTH_PX or not height_px >= LEAST_HEIGHT_PX:
        raise ValueError(f"size {width_px!r} × {height_px!r}: accepted is {LEAST_WIDTH_PX} × {LEAST_HEIGHT_PX} or more")
    if len(scene.points) < 2:
        raise ValueError(f"{len(scene.points)} points: a curve has two or more")
    pen = Pen(PRINT if for_print else SCREEN)
    _Plot(pen, scene, width_px, height_px).draw()
    title, description = quoteattr(f"{id_prefix}-title"), quoteattr(f"{id_prefix}-desc")
    both = quoteattr(f"{id_prefix}-title {id_prefix}-desc")
    width, height = number(width_px), number(height_px)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" height="{height}" '
        f'role="img" aria-labelledby={both} class="curve" font-family="{FONTS}">'
        f"<title id={title}>{escape(clean(scene.title))}</title>"
        f"<desc id={description}>{escape(clean(scene.description))}</desc>{pen.svg()}</svg>"
    )


def tick_text(value: float, ticks: Sequence[float]) -> str:
    """A tick's value with as many decimals as its step needs, thousands parted by a thin space."""
    step = ticks[1] - ticks[0] if len(ticks) > 1 else abs(value) or 1.0
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    return f"{value:,.{decimals}f}".replace(",", "\u202f").replace("-", "−")


class _Plot:
    """The plot with its room for ticks and names."""

    def __init__(self, pen: Pen, scene: CurveScene, width_px: float, height_px: float) -> None:
        self.pen, self.scene = pen, scene
        style = pen.style
        self.x_ticks = nice_ticks(scene.volume.low, scene.volume.high)
        self.y_ticks = nice_ticks(scene.level.low, scene.level.high)
        ticks_em = max(text_width_em(tick_text(value, self.y_ticks)) for value in self.y_ticks)
        marks_em = max((text_width_em(self._name(mark)) for mark in scene.marks), default=0.0)
        self.left = ticks_em * style.small_px + 10
        self.right = width_px - max(marks_em * style.small_px + (10 if scene.marks else 0), style.text_px)
        self.top = style.text_px * 1.8
        self.bottom = height_px - style.small_px * 1.5 - style.text_px * 1.6

    @staticmethod
    def _name(mark: CurveMark) -> str:
        return shorten(mark.name, LONGEST_MARK_EM)

    def x(self, volume: float) -> float:
        axis = self.scene.volume
        return self.left + (volume - axis.low) / (axis.high - axis.low) * (self.right - self.left)

    def y(self, level: float) -> float:
        axis = self.scene.level
        return self.bottom - (level - axis.low) / (axis.high - axis.low) * (self.bottom - self.top)

    def draw(self) -> None:
        pen, style, scene = self.pen, self.pen.style, self.scene
        self._axes()
        frame: Attributes = {
            "data_place": "plot",
            "data_left": self.left,
            "data_top": self.top,
            "data_width": self.right - self.left,
            "data_height": self.bottom - self.top,
        }
        with pen.group(**frame):
            if scene.comparison:
                points = [(self.x(volume), self.y(level)) for volume, level in scene.comparison]
                pen.polyline(points, stroke=style.quiet, stroke_width=style.mark_px, stroke_dasharray="5 3")
            points = [(self.x(volume), self.y(level)) for volume, level in scene.points]
            pen.polyline(points, stroke=style.ink, stroke_width=style.outline_px)
            side = 2.2 * style.mark_px
            for volume, level in scene.dots:
                pen.rectangle(
                    self.x(volume) - side / 2, self.y(level) - side / 2, side, side, fill="#ffffff", stroke=style.ink,
                    stroke_width=style.hair_px,
                )  # fmt: skip
        self._marks()

    def _axes(self) -> None:
        pen, style = self.pen, self.pen.style
        grid = [((self.x(value), self.top), (self.x(value), self.bottom)) for value in self.x_ticks]
        grid += [((self.left, self.y(value)), (self.right, self.y(value))) for value in self.y_ticks]
        pen.lines(grid, stroke=style.faint, stroke_width=style.hair_px / 2)
        pen.rectangle(
            self.left, self.top, self.right - self.left, self.bottom - self.top, fill="none", stroke=style.quiet,
            stroke_width=style.hair_px,
        )  # fmt: skip
        small: Attributes = {"font_size": style.small_px, "fill": style.quiet}
        for value in self.x_ticks:
            text = tick_text(value, self.x_ticks)
            pen.text(self.x(value), self.bottom + style.small_px * 1.3, text, text_anchor="middle", **small)
        for value in self.y_ticks:
            text = tick_text(value, self.y_ticks)
            pen.text(self.left - 5, self.y(value) + style.small_px * 0.36, text, text_anchor="end", **small)
        pen.text(0.5, style.text_px, self.scene.level.label, font_size=style.text_px)
        pen.text(
            self.right, self.bottom + style.small_px * 1.5 + style.text_px * 1.2, self.scene.volume.label,
            font_size=style.text_px, text_anchor="end",
        )  # fmt: skip

    def _marks(self) -> None:
        pen, style = self.pen, self.pen.style
        marks = sorted(self.scene.marks, key=lambda mark: -mark.level)
        wanted = [self.y(mark.level) for mark in marks]
        room = [style.small_px * 1.2] * len(marks)
        for mark, y, centre in zip(marks, wanted, spread(wanted, room, self.top, self.bottom), strict=True):
            with pen.group(data_place=mark.place):
                hair: Attributes = {"stroke": style.quiet, "stroke_width": style.hair_px}
                pen.lines([((self.left, y), (self.right, y))], stroke_dasharray="2 2", **hair)
                pen.polyline([(self.right, y), (self.right + 4, centre)], **hair)
                pen.text(
                    self.right + 6, centre + style.small_px * 0.36, self._name(mark), font_size=style.small_px,
                    fill=style.ink,
                )  # fmt: skip
