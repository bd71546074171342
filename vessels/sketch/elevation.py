"""The elevation of a vessel with its instruments as one SVG element, for page and printed sheet."""

from collections.abc import Sequence
from typing import Protocol
from xml.sax.saxutils import escape, quoteattr

from vessels.sketch.beside import draw_beside
from vessels.sketch.dimensions import draw_extensions, draw_height, draw_widths
from vessels.sketch.internals import draw_internals
from vessels.sketch.layout import MARGIN_PX, Layout, plan
from vessels.sketch.levels import draw_levels
from vessels.sketch.nozzles import draw_nozzles, draw_side_nozzle
from vessels.sketch.parts import draw_beam, draw_dead_zone, draw_filling, draw_probe, draw_shell
from vessels.sketch.pen import PRINT, SCREEN, Pen, clean, number
from vessels.sketch.scene import Scene, Shell
from vessels.sketch.slants import draw_slants, draw_tilt
from vessels.sketch.text_width import shorten

FONTS = "IBM Plex Sans Condensed, IBM Plex Sans, sans-serif"
LEAST_WIDTH_PX, LEAST_WIDTH_IN_PRINT_PX, LEAST_HEIGHT_PX = 320, 240, 160


class Titled(Protocol):
    """What a drawing is called, and what it shows in words."""

    @property
    def title(self) -> str: ...

    @property
    def description(self) -> str: ...


def draw_elevation(
    scene: Scene,
    *,
    width_px: float = 460,
    height_px: float = 600,
    for_print: bool = False,
    id_prefix: str = "sketch",
) -> str:
    """The elevation of a scene, to scale, as an SVG element.

    Parameters
    ----------
    scene      what to draw; what is missing is left out, and without a shell the sketch is a short text
    width_px   width of the drawing; at least 320, in print 240
    height_px  greatest height, at least 160: the drawing is lower where the vessel is flat, and higher only
               where labels would otherwise overlap
    for_print  finer lines and smaller letters (6.6 pt where one px of the drawing is 1/96 in on paper)
    id_prefix  begins the ids of title and description; differs between two sketches on one page

    Returns
    -------
    An `<svg>` with `viewBox`, `width` and `height`, without style attributes or scripts. Each thing drawn is
    a group with `data-place`: "urv", "lrv", "setpoint-HH", "dead-zone", "nozzle", "roof", "bottom", "beam" …

    Raises
    ------
    ValueError for a width or height below the least.
    """
    refuse_small(width_px, height_px, for_print)
    pen = Pen(PRINT if for_print else SCREEN)
    if scene.shell is None:
        height = draw_nothing(pen, scene.words.no_vessel, width_px)
    else:
        height = _draw(pen, scene, scene.shell, width_px, height_px)
    return svg_element(pen.svg(), scene, width_px, height, id_prefix)


def refuse_small(width_px: float, height_px: float, for_print: bool) -> None:
    """Raises ValueError for a size in which no drawing has room."""
    for argument, value, least in (
        ("width_px", width_px, LEAST_WIDTH_IN_PRINT_PX if for_print else LEAST_WIDTH_PX),
        ("height_px", height_px, LEAST_HEIGHT_PX),
    ):
        if not value >= least:
            raise ValueError(f"{argument} = {value!r}: accepted is {least} or more")


def svg_element(
    body: str, scene: Titled, width_px: float, height_px: float, id_prefix: str, kind: str = "elevation"
) -> str:
    """The drawing as one element with its title and description."""
    title, description = quoteattr(f"{id_prefix}-title"), quoteattr(f"{id_prefix}-desc")
    both = quoteattr(f"{id_prefix}-title {id_prefix}-desc")
    width, height = number(width_px), number(height_px)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}" width="{width}" '
        f'height="{height}" role="img" aria-labelledby={both} class="{kind}" font-family="{FONTS}">'
        f"<title id={title}>{escape(clean(scene.title))}</title>"
        f"<desc id={description}>{escape(clean(scene.description))}</desc>{body}</svg>"
    )


def _draw(pen: Pen, scene: Scene, shell: Shell, width_px: float, height_px: float) -> float:
    layout = plan(scene, shell, pen.style, width_px, height_px)
    if scene.filling is not None:
        draw_filling(pen, layout, scene.filling)
    draw_internals(pen, layout, scene.internals)
    if scene.dead_zone is not None:
        draw_dead_zone(pen, layout, scene.dead_zone)
    if scene.beam is not None and _shown(layout, scene.beam.offset_m, scene.beam.apex_m):
        draw_beam(pen, layout, scene.beam)
    draw_extensions(pen, layout, lambda elevation_m: _left_px(layout, scene, elevation_m))
    draw_shell(pen, layout)
    if scene.probe is not None and _shown(layout, scene.probe.offset_m, scene.probe.from_m):
        draw_probe(pen, layout, scene.probe)
    if scene.beside is not None:
        draw_beside(pen, layout, scene.beside)
    for side in scene.side_nozzles:
        draw_side_nozzle(pen, layout, side)
    draw_nozzles(pen, layout)
    for placed in layout.heights:
        draw_height(pen, layout, placed)
    draw_widths(pen, layout)
    draw_slants(pen, layout)
    draw_levels(pen, layout, scene)
    if scene.tilt is not None:
        draw_tilt(pen, layout, scene.tilt)
    draw_notes(pen, layout.notes, layout.notes_px)
    return layout.height_px


def _shown(layout: Layout, offset_m: float, apex_m: float) -> bool:
    """A beam from a nozzle that is not drawn would come from nowhere."""
    offsets = [nozzle.offset_m for nozzle in layout.extent.nozzles]
    return layout.extent.holds(apex_m) and offset_m in offsets


def _left_px(layout: Layout, scene: Scene, elevation_m: float) -> float:
    """The left edge of what is drawn at an elevation, where extension lines begin."""
    around = scene.beside.elevations if scene.beside is not None else ()
    if around and min(around) <= elevation_m <= max(around):
        return layout.left_edge_px + 4 * layout.sizes.unit
    stubs = [nozzle for nozzle in scene.side_nozzles if not nozzle.right]
    if any(abs(layout.y(one.elevation_m) - layout.y(elevation_m)) < 8 * layout.sizes.unit for one in stubs):
        return layout.left_edge_px
    walls = layout.walls_px(elevation_m)
    if walls is not None:
        return walls[0]
    sides = [layout.x(nozzle.offset_m) - layout.nozzle_half_px(nozzle) for nozzle in layout.extent.nozzles]
    if elevation_m > layout.shell.highest_m and sides:
        return min(sides) - 5 * layout.sizes.unit
    return layout.x(layout.shell.left_m)


def draw_notes(pen: Pen, notes: Sequence[str], top_px: float) -> None:
    """Lines of notes below the drawing."""
    size = pen.style.small_px
    for row, line in enumerate(notes):
        baseline = top_px + MARGIN_PX + size * (1 + 1.3 * row)
        pen.text(MARGIN_PX, baseline, line, font_size=size, fill=pen.style.quiet)


def draw_nothing(pen: Pen, no_vessel: str, width_px: float) -> float:
    """A small frame with a sentence, where there is no vessel to draw."""
    style, height = pen.style, pen.style.text_px * 6
    pen.rectangle(
        MARGIN_PX, MARGIN_PX, width_px - 2 * MARGIN_PX, height - 2 * MARGIN_PX, fill="none",
        stroke=style.faint, stroke_width=style.hair_px, stroke_dasharray="4 3",
    )  # fmt: skip
    words = shorten(no_vessel, (width_px - 4 * MARGIN_PX) / style.text_px)
    pen.text(
        width_px / 2, height / 2 + style.text_px * 0.35, words, text_anchor="middle", font_size=style.text_px,
        fill=style.quiet,
    )  # fmt: skip
    return height
