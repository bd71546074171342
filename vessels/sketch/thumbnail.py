"""Small pictures of a body or of an end, for choosing: lines of one weight in the colour of the text around them."""

from collections.abc import Sequence
from dataclasses import dataclass
from xml.sax.saxutils import escape, quoteattr

from vessels.sketch.pen import SCREEN, Attributes, Pen, clean, number
from vessels.sketch.scene import Point

MARGIN_PX = 4.0
LINE_PX, THIN_PX = 1.6, 0.9


@dataclass(frozen=True, slots=True)
class Figure:
    """What a small picture shows, in any unit of length.

    inside     a closed polygon, filled with a breath of the colour
    lines      heavy lines, among them those that bound the inside
    thin       thin lines: tangent lines, edges
    dashed     dashed lines: a section through the body, what is cut off
    """

    inside: tuple[Point, ...]
    lines: tuple[tuple[Point, ...], ...]
    thin: tuple[tuple[Point, ...], ...] = ()
    dashed: tuple[tuple[Point, ...], ...] = ()


def draw_thumbnail(
    figure: Figure, *, title: str, width_px: float = 72, height_px: float = 56, id_prefix: str = "thumbnail"
) -> str:
    """A figure as large as fits, in the middle of a small SVG element.

    Parameters
    ----------
    figure     what to draw; y counts upwards
    title      what it is, for those who do not see it
    width_px, height_px   size of the element; each at least 24
    id_prefix  begins the id of the title

    Returns an `<svg>` whose strokes are `currentColor`: it takes the colour of its surroundings, chosen or not.

    Raises ValueError for a size below the least.
    """
    for argument, value in (("width_px", width_px), ("height_px", height_px)):
        if not value >= 24:
            raise ValueError(f"{argument} = {value!r}: accepted is 24 or more")
    points = [point for line in (figure.inside, *figure.lines, *figure.thin, *figure.dashed) for point in line]
    left, right = min(x for x, _ in points), max(x for x, _ in points)
    low, high = min(y for _, y in points), max(y for _, y in points)
    scale = min((width_px - 2 * MARGIN_PX) / (right - left or 1.0), (height_px - 2 * MARGIN_PX) / (high - low or 1.0))

    def placed(line: Sequence[Point]) -> list[Point]:
        x0, y0 = (width_px - (right - left) * scale) / 2, (height_px + (high - low) * scale) / 2
        return [(x0 + (x - left) * scale, y0 - (y - low) * scale) for x, y in line]

    pen = Pen(SCREEN)
    colour: Attributes = {"stroke": "currentColor", "stroke_linecap": "round", "stroke_linejoin": "round"}
    pen.polygon(placed(figure.inside), fill="currentColor", fill_opacity=0.08)
    for line in figure.thin:
        pen.polyline(placed(line), stroke_width=THIN_PX, **colour)
    for line in figure.dashed:
        pen.polyline(placed(line), stroke_width=THIN_PX, stroke_dasharray="2.5 2.2", **colour)
    for line in figure.lines:
        pen.polyline(placed(line), stroke_width=LINE_PX, **colour)
    name = quoteattr(f"{id_prefix}-title")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {number(width_px)} {number(height_px)}" '
        f'width="{number(width_px)}" height="{number(height_px)}" role="img" aria-labelledby={name} '
        f'class="thumbnail"><title id={name}>{escape(clean(title))}</title>{pen.svg()}</svg>'
    )
