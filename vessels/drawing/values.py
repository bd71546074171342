"""What a drawing of a vessel is made from: plain values, read from whatever holds the vessel's fields.

SI throughout; elevations count from the vessel's datum. A place is a radius from the middle and a bearing, clockwise
from plant north (see `vessels.shapes.shape`). None stands for a value that is missing.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from vessels.shape_values import ANGLES, LENGTHS, Shape

Translate = Callable[[str], str]
Text = Callable[[str], str]  # stem of a choice or text -> its value, '' where it is empty
Si = Callable[[str], float | None]  # stem of a quantity -> its SI value, None where it is missing
Entered = Callable[[str, str], str]  # stem and kind -> the value as a reader sees it, as typed where that can be
Shown = Callable[[float, str], str]  # SI value and kind -> text with its unit

SIDE_INCLINATION_RAD = math.radians(45)


@dataclass(frozen=True, slots=True)
class NozzleValues:
    """A nozzle. Of face_m and projection_m at most one is given.

    place  what its group is called in the drawing
    """

    mark: str
    place: str
    size: str = ""
    bore_m: float | None = None
    radius_m: float | None = None
    bearing_rad: float | None = None
    face_m: float | None = None
    projection_m: float | None = None
    inclination_rad: float | None = None
    face_shown: str = ""


@dataclass(frozen=True, slots=True)
class InternalValues:
    """Something that stands in the vessel; name is empty where nobody has given one."""

    kind: str
    place: str
    name: str = ""
    radius_m: float | None = None
    bearing_rad: float | None = None
    low_m: float | None = None
    high_m: float | None = None
    width_m: float | None = None


@dataclass(frozen=True, slots=True)
class Point:
    """A place in plan."""

    radius_m: float
    bearing_rad: float | None = None


@dataclass(frozen=True, slots=True)
class VesselValues:
    """A vessel as a drawing needs it.

    shape           its inside; None where dimensions are missing or impossible
    datum           what the datum is, in English, '' where nothing is chosen
    datum_height_m  the datum above the lowest inside point; None where that is not known: nothing can be placed then
    sizes           stems of `vessels.shape_values` (lengths and angles) -> SI, only what was given
    entered         the same stems -> what was typed, for a reader
    shown           an SI value and its kind ("length", "length_small", "angle") -> a text in the plant's units
    levels          overflow, critical level and lowest outlet: stem -> (elevation, text)
    feed, draw_off  where solids fall in and are drawn off
    """

    shape: Shape | None
    shown: Shown
    translate: Translate = str
    number: str = ""
    body: str = ""
    bottom: str = ""
    top: str = ""
    datum: str = ""
    datum_height_m: float | None = None
    sizes: Mapping[str, float] = field(default_factory=dict)
    entered: Mapping[str, str] = field(default_factory=dict)
    levels: Mapping[str, tuple[float, str]] = field(default_factory=dict)
    nozzles: tuple[NozzleValues, ...] = ()
    internals: tuple[InternalValues, ...] = ()
    feed: Point | None = None
    draw_off: Point | None = None


LEVELS = ("overflow_level", "critical_level", "outlet_elevation")


def read_vessel(
    text: Text,
    si: Si,
    entered: Entered,
    *,
    shape: Shape | None,
    shown: Shown,
    datum: str = "",
    datum_height_m: float | None = None,
    translate: Translate = str,
    nozzles: tuple[NozzleValues, ...] = (),
    internals: tuple[InternalValues, ...] = (),
) -> VesselValues:
    """The values of a vessel, read through functions from stems of its fields, and what belongs to it."""
    given = {stem: value for stem in (*LENGTHS, *ANGLES) if (value := si(stem)) is not None}
    kinds = {stem: "angle" if stem in ANGLES else "length" for stem in given}
    levels = {stem: (value, entered(stem, "length")) for stem in LEVELS if (value := si(stem)) is not None}
    return VesselValues(
        shape=shape,
        shown=shown,
        translate=translate,
        number=text("number"),
        body=text("body"),
        bottom=text("bottom"),
        top=text("top"),
        datum=datum,
        datum_height_m=datum_height_m,
        sizes=given,
        entered={stem: entered(stem, kind) for stem, kind in kinds.items()},
        levels=levels,
        nozzles=nozzles,
        internals=internals,
        feed=_point(si, "inlet"),
        draw_off=_point(si, "outlet"),
    )


def _point(si: Si, stem: str) -> Point | None:
    radius_m = si(f"{stem}_radius")
    return None if radius_m is None else Point(radius_m, si(f"{stem}_bearing"))


def read_nozzle(text: Text, si: Si, entered: Entered, *, place: str) -> NozzleValues:
    """A nozzle, read through functions from stems of its fields."""
    face_m = si("face_elevation")
    return NozzleValues(
        mark=text("mark"),
        place=place,
        size=text("size"),
        bore_m=si("bore"),
        radius_m=si("radius"),
        bearing_rad=si("bearing"),
        face_m=face_m,
        projection_m=si("projection"),
        inclination_rad=si("inclination"),
        face_shown="" if face_m is None else entered("face_elevation", "length"),
    )


def read_internal(text: Text, si: Si, *, place: str) -> InternalValues:
    """Something that stands in the vessel, read through functions from stems of its fields."""
    return InternalValues(
        kind=text("kind"),
        place=place,
        name=text("name"),
        radius_m=si("radius"),
        bearing_rad=si("bearing"),
        low_m=si("elevation_low"),
        high_m=si("elevation_high"),
        width_m=si("width"),
    )
