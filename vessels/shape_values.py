"""Between a vessel's fields and its shape: which field is which argument, and which field concerns which body or end.

Pure. What a body or an end needs is read off `vessels.shapes.build`, so that a new end is described once, there.
"""

from collections.abc import Callable
from typing import Any

from vessels.shapes.build import BODIES, ImpossibleShape, Shape, possible_dimensions, shape_from_values

__all__ = [
    "ANGLES", "ARGUMENTS", "CHOICES", "DIRECTIONS", "LENGTHS", "QUANTITIES", "RATIOS", "SIDES", "ImpossibleShape",
    "Shape", "chosen_words", "concerned_by", "datum_height_m", "end_kinds", "shape_of", "stem_of",
]  # fmt: skip

SIDES = ("bottom", "top")

# Stem of a field -> argument of `shape_from_values`; the same name with its unit, as everywhere.
LENGTHS = (
    "diameter", "upper_diameter", "cylinder_height", "section_height", "cylinder_length", "box_length", "box_width",
    "bottom_depth", "top_depth", "bottom_straight_flange", "top_straight_flange", "outlet_diameter", "outlet_length",
    "outlet_width", "wall_thickness",
)  # fmt: skip
RATIOS = ("bottom_crown_ratio", "bottom_knuckle_ratio", "top_crown_ratio", "top_knuckle_ratio")
ANGLES = ("tilt", "axis_bearing")
DIRECTIONS = ("bottom_direction", "top_direction")
CHOICES = ("body", "bottom", "top")

ARGUMENTS: dict[str, str] = {
    **{stem: f"{stem}_m" for stem in LENGTHS},
    **{stem: stem for stem in RATIOS},
    **{stem: f"{stem}_rad" for stem in ANGLES},
    **{stem: stem for stem in DIRECTIONS},
}
QUANTITIES = (*LENGTHS, *RATIOS, *ANGLES)
_STEMS = {argument: stem for stem, argument in ARGUMENTS.items()}


def stem_of(argument: str) -> str:
    """The field behind an argument of `shape_from_values`, as ImpossibleShape names it."""
    return _STEMS.get(argument, argument)


def end_kinds(body: str, side: str) -> tuple[str, ...]:
    """The ends that a body can have at "bottom" or "top"; none for an unknown body."""
    chosen = BODIES.get(body)
    if chosen is None:
        return ()
    return tuple(chosen.bottoms if side == "bottom" else chosen.tops)


def shape_of(text: Callable[[str], str], si: Callable[[str], float | None]) -> Shape:
    """The inside of a vessel from its fields.

    text  stem of a choice -> its value, '' where nothing is chosen
    si    stem of a quantity -> its SI value, None where it is missing

    Raises ImpossibleShape (see `shape_from_values`).
    """
    body = text("body")
    # A body without a choice of ends is closed in its own way, whatever was left chosen before.
    ends = {side: (text(side) or "flat") if len(end_kinds(body, side)) > 1 else "flat" for side in SIDES}
    given = {ARGUMENTS[stem]: si(stem) for stem in QUANTITIES}
    directions = {stem: text(stem) or None for stem in DIRECTIONS}
    values: dict[str, Any] = {**ends, **given, **directions}
    return shape_from_values(body=body, **values)


def chosen_words(body: str, bottom: str, top: str) -> set[str]:
    """What fields may concern, as `FieldDef.concerns` names it: the body and the ends that this body can have."""
    words = {body} if body else set()
    for side, kind in (("bottom", bottom), ("top", top)):
        if kind in end_kinds(body, side):
            words.add(f"{side}:{kind}")
    return words


def concerned_by(stem: str) -> tuple[str, ...]:
    """The bodies ("sphere") and ends ("bottom:cone") that a field of the shape concerns."""
    if stem in SIDES:
        return tuple(body for body in BODIES if len(end_kinds(body, stem)) > 1)
    argument = ARGUMENTS[stem]
    words: list[str] = []
    for body in BODIES:
        if argument in possible_dimensions(body, "flat", "flat"):
            words.append(body)
            continue
        for side in SIDES:
            for kind in end_kinds(body, side):
                ends = {"bottom": "flat", "top": "flat", side: kind}
                if argument in possible_dimensions(body, ends["bottom"], ends["top"]):
                    words.append(f"{side}:{kind}")
    return tuple(dict.fromkeys(words))


def datum_height_m(datum: str, shape: Shape | None, dip_plate_height_m: float | None) -> float | None:
    """Height of a vessel's datum above its lowest inside point; None where that is not known.

    datum  "lowest_inside_point", "bottom_tangent_line" (0 where a shape has no such line) or "dip_plate"
    """
    if datum == "lowest_inside_point":
        return 0.0
    if datum == "dip_plate":
        return dip_plate_height_m
    return shape.tangent_height_m if datum == "bottom_tangent_line" and shape is not None else None
