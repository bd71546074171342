"""A shape from the values that a vessel holds."""

from collections.abc import Callable, Mapping
from typing import TypeVar

from vessels.shapes.ends import BOTTOMS, TOPS
from vessels.shapes.errors import ImpossibleShape
from vessels.shapes.numbers import positive_length
from vessels.shapes.segments import Frustum
from vessels.shapes.shape import Shape
from vessels.shapes.stack import VerticalStack

__all__ = ["ImpossibleShape", "Shape", "shape_from_values"]

Named = TypeVar("Named")


def _named(argument: str, name: str, known: Mapping[str, Named]) -> Named:
    if name not in known:
        raise ImpossibleShape(argument, name or None, " or ".join(sorted(known)))
    return known[name]


def _vertical_cylinder(
    bottom: str,
    top: str,
    diameter_m: float | None,
    cylinder_height_m: float | None,
    bottom_depth_m: float | None,
) -> Shape:
    bottom_end = _named("bottom", bottom, BOTTOMS)
    top_end = _named("top", top, TOPS)
    radius_m = positive_length("diameter_m", diameter_m) / 2
    body = Frustum(radius_m, radius_m, positive_length("cylinder_height_m", cylinder_height_m))
    return VerticalStack(bottom_end(radius_m, bottom_depth_m), [body], top_end(radius_m, None))


BODIES: dict[str, Callable[[str, str, float | None, float | None, float | None], Shape]] = {
    "vertical_cylinder": _vertical_cylinder
}


def shape_from_values(
    *,
    body: str,
    bottom: str,
    top: str,
    diameter_m: float | None,
    cylinder_height_m: float | None,
    bottom_depth_m: float | None = None,
) -> Shape:
    """The inside of a vessel from its dimensions.

    Parameters
    ----------
    body               "vertical_cylinder"
    bottom             "flat" or "cone" (apex pointing down)
    top                "flat"
    diameter_m         inside diameter, m
    cylinder_height_m  inside height from the bottom tangent line to the roof, m
    bottom_depth_m     depth of a conical bottom below the tangent line, m; None for a flat one

    Returns
    -------
    Shape; levels count from its lowest inside point.

    Raises
    ------
    ImpossibleShape    (a ValueError) with `argument`, `value` and a message that says what is accepted: for a
    missing,
                       non-finite, zero or negative dimension, a cone without depth, a flat bottom with one,
                       an unknown name of a body or an end.

    Validity: inside dimensions of a rigid, upright, round vessel, not corrected for temperature or bulging.
    Source: elementary geometry of cylinder and cone; tested against D. Jones, "Calculating Tank Volume".
    """
    return _named("body", body, BODIES)(bottom, top, diameter_m, cylinder_height_m, bottom_depth_m)
