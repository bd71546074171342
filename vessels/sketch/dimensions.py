"""Drawing dimension lines: thin lines, small arrows, texts readable from below or from the right."""

from collections.abc import Callable

from vessels.sketch.heights import PlacedHeight
from vessels.sketch.layout import Layout
from vessels.sketch.pen import Attributes, Pen
from vessels.sketch.scene import Dimension


def draw_height(pen: Pen, layout: Layout, placed: PlacedHeight) -> None:
    """A vertical dimension: line, arrows, text along the line, readable from the right."""
    style, x = pen.style, layout.column_px(placed.column)
    hair: Attributes = {"stroke": style.quiet, "stroke_width": style.hair_px}
    high, low = placed.high_px, placed.low_px
    outside = low - high < 2 * style.arrow_px + 3
    tail = 1.6 * style.arrow_px if outside else 0.0
    start, end = high - tail, low + tail
    if not placed.text_inside:
        start, end = min(start, placed.text_from_px), max(end, placed.text_to_px)
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


def draw_width(pen: Pen, layout: Layout, dimension: Dimension) -> None:
    """A horizontal dimension below the vessel, its text under the line."""
    style = pen.style
    left, right = sorted((layout.x(dimension.from_m), layout.x(dimension.to_m)))
    y = layout.bottom_px + layout.sizes.gap
    start_y = layout.y(layout.shell.bottom_tangent_m) + 3 * layout.sizes.unit
    hair: Attributes = {"stroke": style.quiet, "stroke_width": style.hair_px}
    outside = right - left < 2 * style.arrow_px + 3
    tail = 1.6 * style.arrow_px if outside else 0.0
    with pen.group(data_place=dimension.place, class_="elevation-dimension"):
        for x in (left, right):
            pen.path(f"M{x:.2f} {start_y:.2f}L{x:.2f} {y + 3 * layout.sizes.unit:.2f}", **hair)
        pen.path(f"M{left - tail:.2f} {y:.2f}L{right + tail:.2f} {y:.2f}", **hair)
        pen.arrow((left, y), (1, 0) if outside else (-1, 0))
        pen.arrow((right, y), (-1, 0) if outside else (1, 0))
        baseline = y + style.text_px * 1.05 + 3 * layout.sizes.unit
        pen.text((left + right) / 2, baseline, dimension.value, text_anchor="middle", font_size=style.text_px)


def draw_extensions(pen: Pen, layout: Layout, left_px: Callable[[float], float]) -> None:
    """Extension lines from the vessel to the outermost dimension that needs them; each elevation gets one.

    left_px gives where the drawing's left edge is at an elevation.
    """
    reach: dict[float, float] = {}
    for placed in layout.heights:
        for elevation_m in (placed.dimension.from_m, placed.dimension.to_m):
            x = layout.column_px(placed.column) - 3 * layout.sizes.unit
            reach[elevation_m] = min(reach.get(elevation_m, x), x)
    pairs = [
        ((left_px(elevation_m) - 2 * layout.sizes.unit, layout.y(elevation_m)), (x, layout.y(elevation_m)))
        for elevation_m, x in reach.items()
    ]
    pen.lines(pairs, stroke=pen.style.faint, stroke_width=pen.style.hair_px)
