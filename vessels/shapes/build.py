"""A shape from the values that a vessel holds.

To add a body, write one function and its line in `BODIES`; to add an end, see `ends`.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from vessels.shapes.box import Box
from vessels.shapes.ends import BOTTOMS, TOPS, End
from vessels.shapes.errors import ImpossibleShape
from vessels.shapes.horizontal import HorizontalCylinder
from vessels.shapes.numbers import positive_length
from vessels.shapes.segments import Frustum
from vessels.shapes.shape import Shape
from vessels.shapes.sphere import Sphere
from vessels.shapes.stack import VerticalStack

__all__ = ["ImpossibleShape", "Shape", "needed_dimensions", "shape_from_values"]

Named = TypeVar("Named")
Dimensions = Mapping[str, float | None]

FLAT_ONLY = {"flat": BOTTOMS["flat"]}


@dataclass(frozen=True, slots=True)
class Body:
    """A body with the dimensions that it needs and the ends that it can have below and above.

    make  all dimensions, bottom end, top end -> the shape
    """

    name: str
    needs: tuple[str, ...]
    make: Callable[[Dimensions, End, End], Shape]
    bottoms: Mapping[str, End]
    tops: Mapping[str, End]


def _named(argument: str, name: str, known: Mapping[str, Named], of: str = "") -> Named:
    if name not in known:
        raise ImpossibleShape(argument, name or None, " or ".join(sorted(known)) + of)
    return known[name]


def _vertical_cylinder(dimensions: Dimensions, bottom: End, top: End) -> Shape:
    radius_m = positive_length("diameter_m", dimensions["diameter_m"]) / 2
    body = Frustum(radius_m, radius_m, positive_length("cylinder_height_m", dimensions["cylinder_height_m"]))
    return VerticalStack(bottom.make(radius_m, dimensions), [body], top.make(radius_m, dimensions))


def _horizontal_cylinder(dimensions: Dimensions, bottom: End, top: End) -> Shape:
    return HorizontalCylinder(dimensions["diameter_m"], dimensions["cylinder_length_m"])


def _rectangular(dimensions: Dimensions, bottom: End, top: End) -> Shape:
    return Box(dimensions["box_length_m"], dimensions["box_width_m"], dimensions["cylinder_height_m"])


def _sphere(dimensions: Dimensions, bottom: End, top: End) -> Shape:
    return Sphere(dimensions["diameter_m"])


BODIES: dict[str, Body] = {
    "vertical_cylinder": Body(
        "vertical cylinder", ("diameter_m", "cylinder_height_m"), _vertical_cylinder, BOTTOMS, TOPS
    ),
    "horizontal_cylinder": Body(
        "horizontal cylinder", ("diameter_m", "cylinder_length_m"), _horizontal_cylinder, FLAT_ONLY, FLAT_ONLY
    ),
    "rectangular": Body(
        "rectangular vessel", ("box_length_m", "box_width_m", "cylinder_height_m"), _rectangular, FLAT_ONLY, FLAT_ONLY
    ),
    "sphere": Body("sphere", ("diameter_m",), _sphere, FLAT_ONLY, FLAT_ONLY),
}


def needed_dimensions(body: str, bottom: str = "flat", top: str = "flat") -> tuple[str, ...]:
    """Names of the dimensions that a body with these ends needs, as arguments of `shape_from_values`.

    Unknown names of a body or an end need nothing, so that this can be asked while somebody is still choosing.
    """
    chosen = BODIES.get(body)
    if chosen is None:
        return ()
    ends = [known[name] for name, known in ((bottom, chosen.bottoms), (top, chosen.tops)) if name in known]
    return (*chosen.needs, *(name for end in ends for name in end.needs))


def shape_from_values(
    *,
    body: str,
    bottom: str,
    top: str,
    diameter_m: float | None,
    cylinder_height_m: float | None,
    bottom_depth_m: float | None = None,
    cylinder_length_m: float | None = None,
    box_length_m: float | None = None,
    box_width_m: float | None = None,
    outlet_diameter_m: float | None = None,
) -> Shape:
    """The inside of a vessel from its dimensions.

    Parameters
    ----------
    body               "vertical_cylinder", "horizontal_cylinder", "rectangular" or "sphere"
    bottom             vertical cylinder: "flat", "cone" (apex pointing down), "truncated_cone" (hopper with a level
                       outlet) or "hemisphere"; other bodies: "flat", which says nothing about a sphere
    top                vertical cylinder: "flat" or "hemisphere"; other bodies: "flat"
    diameter_m         inside diameter of a cylinder or sphere, m
    cylinder_height_m  inside height of a vertical cylinder between its tangent lines, or of a rectangular vessel, m
    bottom_depth_m     depth of a cone or hopper below the tangent line, m
    cylinder_length_m  inside length of a horizontal cylinder, m
    box_length_m       inside length of a rectangular vessel, m
    box_width_m        inside width of a rectangular vessel, m
    outlet_diameter_m  inside diameter of a hopper's outlet, m

    Returns
    -------
    Shape; levels count from its lowest inside point.

    Raises
    ------
    ImpossibleShape    (a ValueError) with `argument`, `value` and a message that says what is accepted: for a missing,
                       non-finite, zero or negative dimension, for one that this body does not have, for an outlet not
                       smaller than the body, for an unknown name of a body or an end.

    Validity: inside dimensions of a rigid vessel that stands upright or lies level, not corrected for temperature or
    bulging.
    Source: elementary geometry; tested against D. Jones, "Calculating Tank Volume", and numerical integration.
    """
    dimensions: dict[str, float | None] = {
        "diameter_m": diameter_m,
        "cylinder_height_m": cylinder_height_m,
        "bottom_depth_m": bottom_depth_m,
        "cylinder_length_m": cylinder_length_m,
        "box_length_m": box_length_m,
        "box_width_m": box_width_m,
        "outlet_diameter_m": outlet_diameter_m,
    }
    chosen = _named("body", body, BODIES)
    of = f" for a {chosen.name}"
    ends = _named("bottom", bottom, chosen.bottoms, of), _named("top", top, chosen.tops, of)
    needed = needed_dimensions(body, bottom, top)
    for name, value in dimensions.items():
        if value is not None and name not in needed:
            raise ImpossibleShape(name, value, f"none: clear it, because {_owner(name, chosen, bottom)} has none")
    return chosen.make(dimensions, *ends)


def _owner(name: str, body: Body, bottom: str) -> str:
    """Whose dimension would have to be cleared: the bottom's, where the body could have a bottom that has it."""
    of_a_bottom = any(name in end.needs for end in body.bottoms.values())
    return f"a {bottom.replace('_', ' ')} bottom" if of_a_bottom else f"a {body.name}"
