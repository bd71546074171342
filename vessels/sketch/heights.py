"""Vertical dimensions: in which column each stands, and where along it its text has room."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from vessels.sketch.pen import Style
from vessels.sketch.scene import Dimension
from vessels.sketch.text_width import text_width_em


@dataclass(frozen=True, slots=True)
class PlacedHeight:
    """A vertical dimension with its column, its text, and the stretch (px, down the page) of that text."""

    dimension: Dimension
    column: int
    high_px: float
    low_px: float
    text: str
    text_from_px: float
    text_to_px: float

    def lowered(self, by_px: float) -> "PlacedHeight":
        return replace(
            self,
            high_px=self.high_px + by_px,
            low_px=self.low_px + by_px,
            text_from_px=self.text_from_px + by_px,
            text_to_px=self.text_to_px + by_px,
        )

    @property
    def text_inside(self) -> bool:
        return self.high_px <= self.text_from_px and self.text_to_px <= self.low_px


@dataclass(frozen=True, slots=True)
class _Span:
    """A vertical dimension that looks for its place: its ends, and the lines that its text keeps clear of."""

    dimension: Dimension
    high_px: float
    low_px: float
    lines_px: tuple[float, ...]


def place_heights(
    dimensions: Sequence[Dimension],
    y: Callable[[float], float],
    style: Style,
    top_px: float,
    bottom_px: float,
) -> list[PlacedHeight]:
    """Vertical dimensions with texts, each in the first column in which it touches no other one.

    Columns count from the vessel outwards, in the order of the dimensions; extension lines of later ones
    cross the columns of earlier ones, whose texts keep clear of them where they can.

    y turns an elevation (m) into px; top_px and bottom_px limit the texts.
    """
    ends = [sorted((y(one.from_m), y(one.to_m))) for one in dimensions]
    placed: list[PlacedHeight] = []
    for place, dimension in enumerate(dimensions):
        later = tuple(end for pair in ends[place + 1 :] for end in pair)
        span = _Span(dimension, ends[place][0], ends[place][1], later)
        placed.append(_first_column(span, placed, style, top_px, bottom_px))
    return placed


def _first_column(
    span: _Span, placed: Sequence[PlacedHeight], style: Style, top_px: float, bottom_px: float
) -> PlacedHeight:
    stretches = _stretches(span, style)
    for column in range(len(placed) + 1):
        others = [one for one in placed if one.column == column]
        if any(_touches(span.high_px, span.low_px, one) for one in others):
            continue
        for text, start, end in stretches:
            within = top_px - 1e-6 <= start and end <= bottom_px + 1e-6
            if within and not any(_touches(start, end, one) for one in others):
                return PlacedHeight(span.dimension, column, span.high_px, span.low_px, text, start, end)
    # Not reached as long as the layout keeps room for every value above the vessel.
    text, start, end = stretches[-1]
    return PlacedHeight(span.dimension, len(placed), span.high_px, span.low_px, text, start, end)


def _touches(start: float, end: float, other: PlacedHeight) -> bool:
    on_line = _overlap(start, end, other.high_px, other.low_px)
    return on_line or _overlap(start, end, other.text_from_px, other.text_to_px)


def _stretches(span: _Span, style: Style) -> list[tuple[str, float, float]]:
    """Texts with the stretches that they could take, best first: clear of lines, then the longest text."""
    found: list[tuple[str, float, float]] = []
    for text in _texts(span.dimension):
        length, gap = _length(text, style), _gap(style)
        found += [(text, start, start + length) for start in _starts_inside(span, length, style.arrow_px + 2)]
        found.append((text, span.low_px + gap, span.low_px + gap + length))
        found.append((text, span.high_px - gap - length, span.high_px - gap))
    return sorted(found, key=lambda one: any(one[1] - 2 < line < one[2] + 2 for line in span.lines_px))


def _starts_inside(span: _Span, length: float, gap: float) -> list[float]:
    """Where a text can start within its dimension: between two lines, as near to the middle as can be."""
    first, last = span.high_px + gap, span.low_px - gap - length
    if last < first:
        return []
    middle = (first + last) / 2
    starts = [middle, first, last]
    for line in span.lines_px:
        starts += [line + gap, line - gap - length]
    inside = [start for start in starts if first <= start <= last]
    return sorted(inside, key=lambda start: abs(start - middle))


def _gap(style: Style) -> float:
    """Between an end of a dimension and a text beyond it: an arrow has room there."""
    return 2 * style.arrow_px


def _length(text: str, style: Style) -> float:
    return text_width_em(text) * style.text_px + 2


def outside_room(text: str, style: Style) -> float:
    """Room (px) that a text needs beyond the end of its dimension."""
    return _gap(style) + _length(text, style)


def _texts(dimension: Dimension) -> list[str]:
    full = [f"{dimension.name} {dimension.value}"] if dimension.with_name else []
    return [*full, dimension.value]


def _overlap(start_1: float, end_1: float, start_2: float, end_2: float) -> bool:
    return start_1 < end_2 - 1e-6 and start_2 < end_1 - 1e-6
