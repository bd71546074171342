"""Dimension lines side by side: in which row each stands, and where along it its text has room.

The same for upright lines, which stand in columns at the left, and for level ones, which stand in rows below.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from vessels.sketch.pen import Style
from vessels.sketch.scene import Dimension
from vessels.sketch.text_width import shorten, text_width_em


@dataclass(frozen=True, slots=True)
class Placed:
    """A dimension with its row, its ends (px along the line, the lesser one first), its text and the text's stretch.

    fits   False for a text that has no room and was cut
    """

    dimension: Dimension
    row: int
    from_px: float
    to_px: float
    text: str
    text_from_px: float
    text_to_px: float
    fits: bool = True

    def shifted(self, by_px: float) -> "Placed":
        return replace(
            self,
            from_px=self.from_px + by_px,
            to_px=self.to_px + by_px,
            text_from_px=self.text_from_px + by_px,
            text_to_px=self.text_to_px + by_px,
        )

    @property
    def reach(self) -> tuple[float, float]:
        """Ends of the line, drawn on to where its text stands; a text over the middle needs no longer line."""
        if self.text_from_px < self.from_px and self.text_to_px > self.to_px:
            return self.from_px, self.to_px
        return min(self.from_px, self.text_from_px), max(self.to_px, self.text_to_px)


@dataclass(frozen=True, slots=True)
class Room:
    """What texts along a line keep to: limits (px), and whether one may hang over both ends of its dimension."""

    first_px: float
    last_px: float
    overhang: bool = False


@dataclass(frozen=True, slots=True)
class _Span:
    """A dimension that looks for its place: its ends, and the lines that its text keeps clear of."""

    dimension: Dimension
    from_px: float
    to_px: float
    lines_px: tuple[float, ...]


def place_dimensions(
    dimensions: Sequence[Dimension], along: Callable[[float], float], style: Style, room: Room
) -> list[Placed]:
    """Dimensions with texts, each in the first row in which it touches no other one.

    Rows count from the vessel outwards, in the order of the dimensions; extension lines of later ones cross the rows
    of earlier ones, whose texts keep clear of them where they can.

    along turns an elevation or offset (m) into px along the line. A text that has no room at all comes shortened, in a
    row of its own, with `fits` False.
    """
    ends = [sorted((along(one.from_m), along(one.to_m))) for one in dimensions]
    placed: list[Placed] = []
    for place, dimension in enumerate(dimensions):
        later = tuple(end for pair in ends[place + 1 :] for end in pair)
        span = _Span(dimension, ends[place][0], ends[place][1], later)
        placed.append(_first_row(span, placed, style, room))
    return placed


def _first_row(span: _Span, placed: Sequence[Placed], style: Style, room: Room) -> Placed:
    stretches = _stretches(span, style, room)
    for row in range(len(placed) + 1):
        others = [one for one in placed if one.row == row]
        if any(_touches(span.from_px, span.to_px, one) for one in others):
            continue
        for text, start, end in stretches:
            within = room.first_px - 1e-6 <= start and end <= room.last_px + 1e-6
            if within and not any(_touches(start, end, one) for one in others):
                return Placed(span.dimension, row, span.from_px, span.to_px, text, start, end)
    text = shorten(span.dimension.value, (room.last_px - room.first_px - 2) / style.text_px)
    length = _length(text, style)
    start = min(max((span.from_px + span.to_px - length) / 2, room.first_px), room.last_px - length)
    row = max((one.row for one in placed), default=-1) + 1
    return Placed(span.dimension, row, span.from_px, span.to_px, text, start, start + length, fits=False)


def _touches(start: float, end: float, other: Placed) -> bool:
    on_line = _overlap(start, end, other.from_px, other.to_px)
    return on_line or _overlap(start, end, other.text_from_px, other.text_to_px)


def _stretches(span: _Span, style: Style, room: Room) -> list[tuple[str, float, float]]:
    """Texts with the stretches that they could take, best first: clear of lines, then the longest text."""
    found: list[tuple[str, float, float]] = []
    for text in _texts(span.dimension):
        length, gap = _length(text, style), _gap(style)
        found += [(text, start, start + length) for start in _starts_inside(span, length, style.arrow_px + 2)]
        middle = (span.from_px + span.to_px - length) / 2
        if room.overhang:
            found.append((text, middle, middle + length))
        found.append((text, span.to_px + gap, span.to_px + gap + length))
        found.append((text, span.from_px - gap - length, span.from_px - gap))
    return sorted(found, key=lambda one: any(one[1] - 2 < line < one[2] + 2 for line in span.lines_px))


def _starts_inside(span: _Span, length: float, gap: float) -> list[float]:
    """Where a text can start within its dimension: between two lines, as near to the middle as can be."""
    first, last = span.from_px + gap, span.to_px - gap - length
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
