"""Drawing dimension lines: thin lines, small arrows, texts readable from below or from the right."""

from collections.abc import Callable

from vessels.sketch.layout import Layout
from vessels.sketch.pen import Attributes, Pen
from vessels.sketch.spans import Placed


def draw_height(pen: Pen, layout: Layout, placed: Placed) -> None:
    """A vertical dimension: line, arrows, text along the line, readable from the right."""
    style, x = pen.style, layout.column_px(placed.row)
    hair: Attributes = {"stroke": style.quiet, "stroke_width": style.hair_px}
    high, low = placed.from_px, placed.to_px
    outside = low - high < 2 * style.arrow_px + 3
    tail = 1.6 * style.arrow_px if outside else 0.0
    reach = placed.reach
    start, end = min(high - tail, reach[0]), max(low + tail, reach[1])
    with pen.group(data_place=placed.dimension.place, class_="elevation-dimension"):
        pen.path(f"M{x:.2f} {start:.2f}L{x:.2f} {end:.2f}", **hair)
        pen.arrow((x, high), (0, 1) if outside else (0, -1))
        pen.arrow((x, low), (0, -1) if outside else (0, 1))
        middle = (placed.text_from_px + placed.text_to_px) / 2
        baseline = x - 3 * layout.sizes.unit
        pen.text(
            baseline, middle, placed.text, text_anchor="middle", font_size=style.text_px,
            transform=f"rotate(-90 {baseline:.2f} {middle:.2f})",
        )  # fmt: skip


def draw_widths(pen: Pen, layout: Layout) -> None:
    """The horizontal dimensions below the vessel, their texts under the lines."""
    style, unit = pen.style, layout.sizes.unit
    for placed in layout.widths:
        at_m = layout.shell.bottom_tangent_m if placed.dimension.at_m is None else placed.dimension.at_m
        start, end = layout.y(at_m) + 3 * unit, layout.row_px(placed.row) + 3 * unit
        ends = [((x, start), (x, end)) for x in (placed.from_px, placed.to_px)]
        pen.lines(ends, stroke=style.faint, stroke_width=style.hair_px)
    for placed in layout.widths:
        with pen.group(data_place=placed.dimension.place, class_="elevation-dimension"):
            _draw_width(pen, layout, placed)


def _draw_width(pen: Pen, layout: Layout, placed: Placed) -> None:
    style, unit = pen.style, layout.sizes.unit
    left, right, y = placed.from_px, placed.to_px, layout.row_px(placed.row)
    outside = right - left < 2 * style.arrow_px + 3
    tail = 1.6 * style.arrow_px if outside else 0.0
    reach = min(left - tail, placed.reach[0]), max(right + tail, placed.reach[1])
    pen.path(f"M{reach[0]:.2f} {y:.2f}L{reach[1]:.2f} {y:.2f}", stroke=style.quiet, stroke_width=style.hair_px)
    pen.arrow((left, y), (1, 0) if outside else (-1, 0))
    pen.arrow((right, y), (-1, 0) if outside else (1, 0))
    baseline = y + style.text_px * 1.05 + 3 * unit
    # Extension lines of dimensions further out may cross here.
    pen.rectangle(placed.text_from_px, baseline - style.text_px * 0.75, placed.text_to_px - placed.text_from_px,
                  style.text_px * 0.95, fill="#ffffff", fill_opacity=0.8)  # fmt: skip
    middle = (placed.text_from_px + placed.text_to_px) / 2
    pen.text(middle, baseline, placed.text, text_anchor="middle", font_size=style.text_px)


def draw_extensions(pen: Pen, layout: Layout, left_px: Callable[[float], float]) -> None:
    """Extension lines from the vessel to the outermost dimension that needs them; each elevation gets one.

    left_px gives where the drawing's left edge is at an elevation.
    """
    reach: dict[float, float] = {}
    for placed in layout.heights:
        for elevation_m in (placed.dimension.from_m, placed.dimension.to_m):
            x = layout.column_px(placed.row) - 3 * layout.sizes.unit
            reach[elevation_m] = min(reach.get(elevation_m, x), x)
    pairs = [
        ((left_px(elevation_m) - 2 * layout.sizes.unit, layout.y(elevation_m)), (x, layout.y(elevation_m)))
        for elevation_m, x in reach.items()
    ]
    pen.lines(pairs, stroke=pen.style.faint, stroke_width=pen.style.hair_px)
