"""Small pictures of every body and every end, drawn from real shapes of model dimensions."""

import math
from collections.abc import Callable, Mapping
from typing import Any

from vessels.drawing import words
from vessels.drawing.shells import shell_of
from vessels.drawing.values import Translate
from vessels.shapes.build import shape_from_values
from vessels.shapes.heads import KINDS
from vessels.sketch.outline import parts
from vessels.sketch.scene import Point, Shell
from vessels.sketch.thumbnail import Figure, draw_thumbnail
from vessels.vessel_fields import BODIES, BOTTOMS, TOPS

SIDES = ("bottom", "top", "left", "right")
INWARD_KEY = "-inward"
ONLY_BELOW = frozenset({"truncated_cone", "wedge_hopper", "pyramid_hopper"})  # ends that close a vessel at its bottom
STUB_M, HOPPER_STUB_M = 0.55, 0.95  # of the shell of 2 m that is shown beside an end

Model = Mapping[str, Any]

# Dimensions that make each body look like what it is (m).
BODY_MODELS: dict[str, Model] = {
    "vertical_cylinder": {"diameter_m": 2.0, "cylinder_height_m": 2.8},
    "vertical_frustum": {"diameter_m": 1.3, "upper_diameter_m": 2.6, "cylinder_height_m": 2.4},
    "vertical_oval": {"box_length_m": 3.0, "box_width_m": 1.5, "cylinder_height_m": 2.6},
    "horizontal_cylinder": {
        "diameter_m": 1.8, "cylinder_length_m": 3.6, "bottom": "ellipsoidal_2_1", "top": "ellipsoidal_2_1",
    },
    "horizontal_oval": {"box_width_m": 2.4, "section_height_m": 1.5, "cylinder_length_m": 4.0},
    "rectangular": {"box_length_m": 3.4, "box_width_m": 1.6, "cylinder_height_m": 2.2},
    "sphere": {"diameter_m": 2.6},
    "spheroid": {"diameter_m": 3.6, "section_height_m": 2.0},
}  # fmt: skip
# What an end of a shell of 2 m inside diameter needs; `{}` is filled with "bottom".
END_MODELS: dict[str, Model] = {
    "cone": {"bottom_depth_m": 1.0},
    "truncated_cone": {"bottom_depth_m": 1.1, "outlet_diameter_m": 0.6},
    "ellipsoidal": {"bottom_depth_m": 0.7},
    "cap": {"bottom_depth_m": 0.4},
    "paraboloid": {"bottom_depth_m": 0.9},
    "torispherical": {"bottom_crown_ratio": 0.9, "bottom_knuckle_ratio": 0.12},
    "wedge_hopper": {"bottom_depth_m": 1.1, "outlet_length_m": 0.5},
    "pyramid_hopper": {"bottom_depth_m": 1.1, "outlet_length_m": 0.7, "outlet_width_m": 0.5},
}


def thumbnails(*, translate: Translate = str, id_prefix: str = "choice") -> dict[tuple[str, str], str]:
    """A small picture for every choice of body and end.

    Keys are ("body", key of the body) and (side, key of the end), with the sides "bottom", "top", "left" and "right";
    an end that points inward has the key with "-inward" appended. Values are SVG elements whose titles are the choices'
    names, translated.
    """
    found = {
        ("body", body): body_thumbnail(body, title=translate(name), id_prefix=f"{id_prefix}-body-{body}")
        for body, name in BODIES
    }
    for side in SIDES:
        for kind, name in BOTTOMS if side == "bottom" else TOPS:
            title = translate(name)
            prefix = f"{id_prefix}-{side}-{kind}"
            found[side, kind] = end_thumbnail(kind, side, title=title, id_prefix=prefix)
            if kind in KINDS and KINDS[kind].can_be_inward:
                name_inward = translate(words.INWARD).format(name=title)
                found[side, kind + INWARD_KEY] = end_thumbnail(
                    kind, side, title=name_inward, inward=True, id_prefix=prefix + INWARD_KEY
                )
    return found


def body_thumbnail(body: str, *, title: str, id_prefix: str = "thumbnail") -> str:
    """A body seen from the side, with its section turned into the plane of the drawing (dashed)."""
    model = BODY_MODELS[body]
    shell = shell_of(shape_from_values(body=body, **model), body, 0.0)
    lines = tuple(tuple(line) for group in parts(shell).values() for line in group)
    section = _section(body, model, shell)
    return draw_thumbnail(
        Figure(shell.outline, lines, shell.lines, (section,) if section else ()), title=title, id_prefix=id_prefix
    )


def _section(body: str, model: Model, shell: Shell) -> tuple[Point, ...]:
    """The section across the axis, turned into the drawing, in the middle of the body."""
    middle = (shell.lowest_m + shell.highest_m) / 2
    if body == "rectangular":
        half_x, half_y = model["box_length_m"] * 0.3, model["box_width_m"] * 0.3
        corners = ((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1))
        return tuple((x * half_x, middle + y * half_y) for x, y in corners)
    halves: dict[str, tuple[float, float]] = {
        "vertical_cylinder": (0.6, 0.6),
        "vertical_oval": (1.0, 0.5),
        "horizontal_cylinder": (0.55, 0.55),
        "horizontal_oval": (0.8, 0.5),
    }
    if body in ("sphere", "spheroid"):
        return (shell.left_m, middle), (shell.right_m, middle)
    if body not in halves:
        return ()
    half_x, half_y = halves[body]
    turns = [math.tau * number / 48 for number in range(49)]
    return tuple((half_x * math.cos(turn), middle + half_y * math.sin(turn)) for turn in turns)


def end_thumbnail(kind: str, side: str, *, title: str, inward: bool = False, id_prefix: str = "thumbnail") -> str:
    """An end with a piece of the shell that it closes, at the bottom, top, left or right.

    Raises ValueError for an unknown side, and for one that this end cannot close.
    """
    if side not in SIDES or (kind in ONLY_BELOW and side != "bottom"):
        raise ValueError(f"side = {side!r}: accepted is {'bottom' if kind in ONLY_BELOW else ', '.join(SIDES)}")
    figure = _end_figure(kind, inward=inward)
    turn = TURNS[side]

    def turned(lines: tuple[tuple[Point, ...], ...]) -> tuple[tuple[Point, ...], ...]:
        return tuple(tuple(turn(point) for point in line) for line in lines)

    (inside,) = turned((figure.inside,))
    whole = Figure(inside, turned(figure.lines), turned(figure.thin), turned(figure.dashed))
    return draw_thumbnail(whole, title=title, id_prefix=id_prefix)


TURNS: dict[str, Callable[[Point], Point]] = {
    "bottom": lambda point: point,
    "top": lambda point: (point[0], -point[1]),
    "left": lambda point: (point[1], point[0]),
    "right": lambda point: (-point[1], point[0]),
}


def _end_figure(kind: str, *, inward: bool) -> Figure:
    """An end at the bottom of a vessel of 2 m, cut off above it."""
    model = dict(END_MODELS.get(kind, {}))
    if kind.endswith("_hopper"):
        shape = shape_from_values(
            body="rectangular", bottom=kind, box_length_m=2.0, box_width_m=1.4, cylinder_height_m=2.0, **model
        )
        shell = shell_of(shape, "rectangular", 0.0)
    else:
        shape = shape_from_values(
            body="vertical_cylinder", bottom=kind, diameter_m=2.0, cylinder_height_m=2.0,
            bottom_direction="inward" if inward else None, **model,
        )  # fmt: skip
        shell = shell_of(shape, "vertical_cylinder", 0.0)
    (bottom,) = parts(shell)["bottom"]
    (left, low), (right, _) = bottom[0], bottom[-1]
    stub_m = HOPPER_STUB_M if kind in ONLY_BELOW else STUB_M
    top = max(low, max(y for _, y in bottom) if inward else low) + stub_m
    walls = ((left, top), *bottom, (right, top))
    edges: list[tuple[Point, ...]] = [] if kind == "flat" or inward else [((left, low), (right, low))]
    edges += [tuple((x, low + stub_m / 2 + y) for x, y in line) for line in HOPPER_PLANS.get(kind, ())]
    return Figure(walls, (walls,), tuple(edges), (((left, top), (right, top)),))


def _box(half_x: float, half_y: float) -> tuple[Point, ...]:
    return tuple((x * half_x, y * half_y) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1)))


def _ring(radius: float) -> tuple[Point, ...]:
    turns = [math.tau * number / 32 for number in range(33)]
    return tuple((radius * math.cos(turn), radius * math.sin(turn)) for turn in turns)


# From the side hoppers look alike: each has its plan in the shell above it, body and outlet.
HOPPER_PLANS: dict[str, tuple[tuple[Point, ...], ...]] = {
    "truncated_cone": (_ring(0.34), _ring(0.13)),
    "wedge_hopper": (_box(0.5, 0.34), ((-0.12, -0.34), (-0.12, 0.34)), ((0.12, -0.34), (0.12, 0.34))),
    "pyramid_hopper": (_box(0.5, 0.34), _box(0.16, 0.12)),
}
