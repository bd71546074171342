"""Writing SVG: escaped texts, short numbers, and only what browsers and PDF engines draw alike.

A strict content-security policy forbids style attributes, so there are presentation attributes only; no
markers, patterns, clip paths or baselines other than the alphabetic one.
"""

import math
import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

from vessels.sketch.scene import Point

# Characters that no XML 1.0 document may hold.
_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")

Value = str | float | int
Attributes = dict[str, Value]


@dataclass(frozen=True, slots=True)
class Style:
    """Sizes (px) and colours of one medium."""

    text_px: float
    small_px: float
    outline_px: float
    mark_px: float
    hair_px: float
    arrow_px: float
    hatch_px: float
    dot_px: float
    ink: str = "#1d2a35"
    quiet: str = "#5b6470"
    faint: str = "#9aa3ab"
    tint: str = "#d9e6e8"
    grain: str = "#5b6470"
    hatch: str = "#5b6470"


SCREEN = Style(text_px=12, small_px=11, outline_px=1.8, mark_px=1.2, hair_px=0.7, arrow_px=6.5, hatch_px=5.5, dot_px=9)
# Hairlines are drawn in ink on paper: grey ones come out as dots, or not at all, on a copier.
PRINT = Style(
    text_px=8.8, small_px=8, outline_px=1.2, mark_px=0.8, hair_px=0.4, arrow_px=4.6, hatch_px=4, dot_px=6.5,
    quiet="#37424d", faint="#7b858e", tint="#dfe8ea", hatch="#37424d", grain="#37424d",
)  # fmt: skip


def number(value: float) -> str:
    """A coordinate with at most two decimals. Raises ValueError where it is not finite."""
    if not math.isfinite(value):
        raise ValueError(f"coordinate = {value!r}: accepted is a finite number")
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def clean(text: str) -> str:
    return _NOT_XML.sub("", text)


def _attributes(values: Attributes) -> str:
    parts = []
    for name, value in values.items():
        shown = number(value) if isinstance(value, (int, float)) else clean(value)
        parts.append(f" {name.rstrip('_').replace('_', '-')}={quoteattr(shown)}")
    return "".join(parts)


class Pen:
    """Collects elements in drawing order. Attribute names are written with underscores: `stroke_width=1`."""

    def __init__(self, style: Style) -> None:
        self.style = style
        self._parts: list[str] = []

    def svg(self) -> str:
        return "".join(self._parts)

    @contextmanager
    def group(self, **attributes: Value) -> Iterator[None]:
        self._parts.append(f"<g{_attributes(attributes)}>")
        yield
        self._parts.append("</g>")

    def title(self, text: str) -> None:
        """What the group is, for readers and for whoever points at it."""
        self._parts.append(f"<title>{escape(clean(text))}</title>")

    def path(self, d: str, **attributes: Value) -> None:
        self._parts.append(f"<path d={quoteattr(d)}{_attributes({'fill': 'none', **attributes})}/>")

    def polyline(self, points: Sequence[Point], **attributes: Value) -> None:
        self.path(outline(points), **{"stroke_linejoin": "round", **attributes})

    def polygon(self, points: Sequence[Point], **attributes: Value) -> None:
        if len(points) > 2:
            self.path(outline(points) + "Z", **{"stroke_linejoin": "round", **attributes})

    def lines(self, pairs: Sequence[tuple[Point, Point]], **attributes: Value) -> None:
        """Many separate lines as one element."""
        if pairs:
            self.path("".join(outline(pair) for pair in pairs), **attributes)

    def rectangle(self, x: float, y: float, width: float, height: float, **attributes: Value) -> None:
        self._parts.append(f"<rect{_attributes({'x': x, 'y': y, 'width': width, 'height': height, **attributes})}/>")

    def circle(self, middle: Point, radius: float, **attributes: Value) -> None:
        place: Attributes = {"cx": middle[0], "cy": middle[1], "r": radius, "fill": "none"}
        self._parts.append(f"<circle{_attributes({**place, **attributes})}/>")

    def text(self, x: float, y: float, content: str, **attributes: Value) -> None:
        """A one-line text; y is its baseline."""
        body = escape(clean(content))
        place = _attributes({"x": x, "y": y, "fill": self.style.ink, **attributes})
        self._parts.append(f"<text{place}>{body}</text>")

    def arrow(self, tip: Point, direction: Point, **attributes: Value) -> None:
        """A slim filled arrowhead whose point lies at `tip`; `direction` is a unit vector towards the tip."""
        (x, y), (dx, dy) = tip, direction
        length = self.style.arrow_px
        back_x, back_y, wide = x - dx * length, y - dy * length, length * 0.24
        corners = [(x, y), (back_x - dy * wide, back_y + dx * wide), (back_x + dy * wide, back_y - dx * wide)]
        self.path(outline(corners) + "Z", **{"fill": self.style.quiet, **attributes})


def outline(points: Sequence[Point]) -> str:
    return "".join(f"{'L' if place else 'M'}{number(x)} {number(y)}" for place, (x, y) in enumerate(points))
