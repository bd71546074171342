"""A shape from the values that a vessel holds.

To add a body, write one function and its line in `BODIES`; to add a kind of head, see `heads.KINDS`.
"""

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from vessels.shapes.box import Box, Hopper
from vessels.shapes.errors import ImpossibleShape
from vessels.shapes.heads import KINDS, Head, Kind, head_from
from vessels.shapes.lying import lying_cylinder, lying_oval
from vessels.shapes.numbers import positive_length
from vessels.shapes.oval import VerticalOval
from vessels.shapes.shape import Shape
from vessels.shapes.spheroid import Spheroid
from vessels.shapes.upright import Upright

__all__ = [
    "BODIES", "DIMENSIONS", "ImpossibleShape", "Shape", "needed_dimensions", "possible_dimensions", "shape_from_values",
]  # fmt: skip

Named = TypeVar("Named")

# Every dimension that a vessel can have, as an argument of `shape_from_values`. All in m but the ratios and the angles.
DIMENSIONS = (
    "diameter_m", "upper_diameter_m", "cylinder_height_m", "cylinder_length_m", "box_length_m", "box_width_m",
    "section_height_m", "bottom_depth_m", "bottom_crown_ratio", "bottom_knuckle_ratio", "bottom_straight_flange_m",
    "top_depth_m", "top_crown_ratio", "top_knuckle_ratio", "top_straight_flange_m", "outlet_diameter_m",
    "outlet_length_m", "outlet_width_m", "wall_thickness_m", "tilt_rad", "axis_bearing_rad",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Given:
    """What was given: the kinds of both ends, their directions, and all dimensions."""

    bottom: str
    top: str
    directions: Mapping[str, str | None]
    dimensions: Mapping[str, float | None]

    def length(self, name: str) -> float:
        return positive_length(name, self.dimensions[name])

    def head(self, end: str, radius_m: float) -> Head:
        """The head at "bottom" or "top" (of a lying vessel: at its first or second end)."""
        prefix, dimensions = end + "_", self.dimensions
        return head_from(
            self.bottom if end == "bottom" else self.top,
            radius_m,
            depth_m=dimensions[prefix + "depth_m"],
            crown_ratio=dimensions[prefix + "crown_ratio"],
            knuckle_ratio=dimensions[prefix + "knuckle_ratio"],
            straight_flange_m=dimensions[prefix + "straight_flange_m"],
            direction=self.directions[end],
            outlet_diameter_m=dimensions["outlet_diameter_m"],
            wall_thickness_m=dimensions["wall_thickness_m"],
            prefix=prefix,
        )


# --- ends -------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class End:
    """Names of the dimensions that an end needs, and of those that it can have beside them."""

    needs: tuple[str, ...] = ()
    optional: tuple[str, ...] = ()


def _ends(prefix: str, kinds: Mapping[str, Kind], without: Iterable[str] = ()) -> dict[str, End]:
    chosen = {name: kind for name, kind in kinds.items() if name not in without}
    return {name: End(kind.needed_names(prefix), kind.optional_names(prefix)) for name, kind in chosen.items()}


BOTTOMS = _ends("bottom_", KINDS)
TOPS = _ends("top_", KINDS, without=("truncated_cone",))
FIRST_ENDS = _ends("bottom_", KINDS, without=("truncated_cone",))
BOX_BOTTOMS = {
    "flat": End(),
    "wedge_hopper": End(("bottom_depth_m", "outlet_length_m")),
    "pyramid_hopper": End(("bottom_depth_m", "outlet_length_m", "outlet_width_m")),
}
FLAT_ONLY = {"flat": End()}


# --- bodies -----------------------------------------------------------------------------------------------


def _vertical_cylinder(given: Given) -> Shape:
    radius_m = given.length("diameter_m") / 2
    height_m = given.length("cylinder_height_m")
    return Upright(given.head("bottom", radius_m), height_m, given.head("top", radius_m))


def _vertical_frustum(given: Given) -> Shape:
    lower_m, upper_m = given.length("diameter_m") / 2, given.length("upper_diameter_m") / 2
    height_m = given.length("cylinder_height_m")
    return Upright(given.head("bottom", lower_m), height_m, given.head("top", upper_m))


def _vertical_oval(given: Given) -> Shape:
    dimensions = given.dimensions
    return VerticalOval(dimensions["box_length_m"], dimensions["box_width_m"], dimensions["cylinder_height_m"])


def _horizontal_cylinder(given: Given) -> Shape:
    radius_m = given.length("diameter_m") / 2
    first, second = given.head("bottom", radius_m), given.head("top", radius_m)
    return lying_cylinder(2 * radius_m, given.length("cylinder_length_m"), first, second, given.dimensions["tilt_rad"])


def _horizontal_oval(given: Given) -> Shape:
    """Its heads are those of a circle as high as the section, stretched as the section is."""
    width_m, height_m = given.length("box_width_m"), given.length("section_height_m")
    first, second = given.head("bottom", height_m / 2), given.head("top", height_m / 2)
    return lying_oval(width_m, height_m, given.length("cylinder_length_m"), first, second)


def _rectangular(given: Given) -> Shape:
    dimensions = given.dimensions
    hopper = None
    if given.bottom != "flat":
        depth_m, length_m = dimensions["bottom_depth_m"], dimensions["outlet_length_m"]
        if given.bottom == "wedge_hopper":
            hopper = Hopper(depth_m, length_m)
        else:
            hopper = Hopper(depth_m, length_m, given.length("outlet_width_m"))
    return Box(dimensions["box_length_m"], dimensions["box_width_m"], dimensions["cylinder_height_m"], hopper)


def _sphere(given: Given) -> Shape:
    return Spheroid(given.dimensions["diameter_m"])


def _spheroid(given: Given) -> Shape:
    return Spheroid(given.length("diameter_m"), given.length("section_height_m"))


@dataclass(frozen=True, slots=True)
class Body:
    """A body with the dimensions that it needs and can have, and the ends that it can have.

    make  what was given -> the shape
    ends  what its two ends are called
    """

    name: str
    needs: tuple[str, ...]
    make: Callable[[Given], Shape]
    bottoms: Mapping[str, End]
    tops: Mapping[str, End]
    optional: tuple[str, ...] = ()
    ends: tuple[str, str] = ("bottom", "top")


DIRECTED = ("axis_bearing_rad",)  # of a body that is not round in plan
BODIES: dict[str, Body] = {
    "vertical_cylinder": Body(
        "vertical cylinder", ("diameter_m", "cylinder_height_m"), _vertical_cylinder, BOTTOMS, TOPS
    ),
    "vertical_frustum": Body(
        "vertical frustum", ("diameter_m", "upper_diameter_m", "cylinder_height_m"), _vertical_frustum, BOTTOMS, TOPS
    ),
    "vertical_oval": Body(
        "vertical oval", ("box_length_m", "box_width_m", "cylinder_height_m"), _vertical_oval, FLAT_ONLY, FLAT_ONLY,
        DIRECTED,
    ),
    "horizontal_cylinder": Body(
        "horizontal cylinder", ("diameter_m", "cylinder_length_m"), _horizontal_cylinder, FIRST_ENDS, TOPS,
        ("tilt_rad", *DIRECTED), ends=("first end", "second end"),
    ),
    "horizontal_oval": Body(
        "horizontal oval", ("box_width_m", "section_height_m", "cylinder_length_m"), _horizontal_oval, FIRST_ENDS, TOPS,
        DIRECTED, ends=("first end", "second end"),
    ),
    "rectangular": Body(
        "rectangular vessel", ("box_length_m", "box_width_m", "cylinder_height_m"), _rectangular, BOX_BOTTOMS,
        FLAT_ONLY, DIRECTED,
    ),
    "sphere": Body("sphere", ("diameter_m",), _sphere, FLAT_ONLY, FLAT_ONLY),
    "spheroid": Body("spheroid", ("diameter_m", "section_height_m"), _spheroid, FLAT_ONLY, FLAT_ONLY),
}  # fmt: skip


# --- what is asked of this module -------------------------------------------------------------------------


def _chosen_ends(body: Body, bottom: str, top: str) -> list[End]:
    return [known[name] for name, known in ((bottom, body.bottoms), (top, body.tops)) if name in known]


def needed_dimensions(body: str, bottom: str = "flat", top: str = "flat") -> tuple[str, ...]:
    """Names of the dimensions that a body with these ends needs, as arguments of `shape_from_values`.

    Unknown names of a body or an end need nothing, so that this can be asked while somebody is still choosing.
    """
    chosen = BODIES.get(body)
    if chosen is None:
        return ()
    of_ends = (name for end in _chosen_ends(chosen, bottom, top) for name in end.needs)
    return tuple(dict.fromkeys((*chosen.needs, *of_ends)))


def possible_dimensions(body: str, bottom: str = "flat", top: str = "flat") -> tuple[str, ...]:
    """Names of all that a body with these ends can be given: what it needs first, then what it can do without.

    Beside dimensions these are "bottom_direction" and "top_direction". Unknown names of a body or an end add nothing.
    """
    chosen = BODIES.get(body)
    if chosen is None:
        return ()
    of_ends = (name for end in _chosen_ends(chosen, bottom, top) for name in end.optional)
    return tuple(dict.fromkeys((*needed_dimensions(body, bottom, top), *chosen.optional, *of_ends)))


def shape_from_values(
    *,
    body: str,
    bottom: str | None = "flat",
    top: str | None = "flat",
    bottom_direction: str | None = None,
    top_direction: str | None = None,
    **dimensions: float | None,
) -> Shape:
    """The inside of a vessel from its dimensions.

    Parameters
    ----------
    body               one of `BODIES`: "vertical_cylinder", "vertical_frustum", "vertical_oval", "horizontal_cylinder",
                       "horizontal_oval", "rectangular", "sphere" or "spheroid"
    bottom, top        the kinds of both ends, of `heads.KINDS` or, below a box, "wedge_hopper" or "pyramid_hopper"; of
                       a lying vessel the first and the second end along its axis; empty where a body has no choice
    bottom_direction, top_direction   "outward" (also None and "") or "inward"
    dimensions         those of `DIMENSIONS`, None where not given; `needed_dimensions` and `possible_dimensions` tell
                       which ones belong to which body and ends. Inside lengths in m:
                       diameter (the lower one of a frustum), upper_diameter; cylinder_height between the tangent lines
                       or of the part above a hopper; cylinder_length between the tangent lines; box_length, box_width
                       (of an oval: its two axes in plan); section_height (upright axis of a spheroid or a lying oval);
                       for each end depth, crown_ratio and knuckle_ratio (over the inside diameter), straight_flange;
                       outlet_diameter (truncated cone), outlet_length, outlet_width (hoppers below a box);
                       wall_thickness (DIN heads, whose ratios refer to the outside diameter);
                       tilt_rad (rise of the second end over the first); axis_bearing_rad (direction of the length,
                       clockwise from plant north; east without it)

    Returns
    -------
    Shape; levels count from its lowest inside point.

    Raises
    ------
    ImpossibleShape    (a ValueError) with `argument`, `value` and a message that says what is accepted: for a missing,
                       non-finite, zero or negative dimension, for one that this body does not have, for an unknown name
                       of a body or an end, and for what makes no vessel: see `heads.head_from` and the bodies' classes.
    TypeError          for a name that is no dimension of any vessel

    Validity: inside dimensions of a rigid vessel, not corrected for temperature, bulging or what is built into it.
    Source: elementary geometry; tested against D. Jones, "Calculating Tank Volume", and numerical integration.
    """
    unknown = [name for name in dimensions if name not in DIMENSIONS]
    if unknown:
        raise TypeError(f"{unknown[0]} is no dimension of a vessel: accepted are {', '.join(DIMENSIONS)}")
    chosen = _named("body", body, BODIES)
    of = f" for a {chosen.name}"
    bottom_kind = _end("bottom", bottom, chosen.bottoms, of)
    top_kind = _end("top", top, chosen.tops, of)
    possible = possible_dimensions(body, bottom_kind, top_kind)
    for name, value in dimensions.items():
        if value is not None and name not in possible:
            owner = _owner(name, chosen, bottom_kind, top_kind)
            raise ImpossibleShape(name, value, f"none: clear it, because {owner} has none")
    directions = {"bottom": bottom_direction, "top": top_direction}
    for end, direction in directions.items():
        if direction not in (None, "", "outward") and f"{end}_direction" not in possible:
            raise ImpossibleShape(f"{end}_direction", direction, "outward, for such an end")
    given = Given(bottom_kind, top_kind, directions, {**dict.fromkeys(DIMENSIONS), **dimensions})
    shape = chosen.make(given)
    bearing_rad = given.dimensions["axis_bearing_rad"]
    if bearing_rad is not None:
        if not math.isfinite(bearing_rad):
            raise ImpossibleShape("axis_bearing_rad", bearing_rad, "a finite angle, clockwise from plant north")
        shape.axis_bearing_rad = bearing_rad
    return shape


def _named(argument: str, name: str | None, known: Mapping[str, Named], of: str = "") -> Named:
    if name is None or name not in known:
        raise ImpossibleShape(argument, name or None, " or ".join(sorted(known)) + of)
    return known[name]


def _end(argument: str, name: str | None, known: Mapping[str, End], of: str) -> str:
    """The kind of an end; the only one that there is, where nobody has chosen."""
    if not name and len(known) == 1:
        return next(iter(known))
    _named(argument, name, known, of)
    return str(name)


def _owner(name: str, body: Body, bottom: str, top: str) -> str:
    """Whose dimension would have to be cleared: an end's, where the body could have an end that has it."""
    for kind, known, word in ((bottom, body.bottoms, body.ends[0]), (top, body.tops, body.ends[1])):
        if any(name in (*end.needs, *end.optional) for end in known.values()):
            return f"a {kind.replace('_', ' ')} {word}"
    return f"a {body.name}"
