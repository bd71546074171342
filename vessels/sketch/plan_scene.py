"""What a plan shows, as plain data. Lengths in metres, places as (east, north) of the vessel's middle."""

from dataclasses import dataclass
from typing import Literal

from vessels.sketch.scene import InternalKind, Point


@dataclass(frozen=True, slots=True)
class PlanNozzle:
    """A nozzle seen from above: a circle of its true bore, a small one where the bore is not known.

    is_used   True for the one that the drawing is about; it is drawn heavier
    """

    label: str
    at: Point
    bore_m: float | None = None
    place: str = "nozzle"
    is_used: bool = False


@dataclass(frozen=True, slots=True)
class PlanStub:
    """A nozzle in the side: a stub from the wall outwards, in the direction (east, north) of its bearing."""

    label: str
    wall: Point
    direction: Point
    bore_m: float | None = None
    place: str = "nozzle"


@dataclass(frozen=True, slots=True)
class PlanInternal:
    """What stands in the vessel; without a width it gets one of a few px.

    outwards   direction (east, north) away from the middle: a ladder stands across it, a baffle along it
    """

    kind: InternalKind
    name: str
    at: Point
    outwards: Point = (0.0, 1.0)
    width_m: float | None = None
    place: str = "internal"


@dataclass(frozen=True, slots=True)
class Footprint:
    """What a beam covers at the lowest level: a circle."""

    label: str
    at: Point
    radius_m: float
    place: str = "beam"


@dataclass(frozen=True, slots=True)
class PlanMark:
    """A point of the vessel: where solids fall in, or where they are drawn off."""

    kind: Literal["feed", "draw_off"]
    label: str
    at: Point
    place: str = "vessel"


@dataclass(frozen=True, slots=True)
class PlanScene:
    """All that one plan shows. Whatever is missing is not drawn.

    outline   the greatest horizontal section, closed; empty where there is no vessel
    inner     closed polygons within it: an outlet, the narrower end of a frustum
    edges     lines within it: tangent lines, edges of a hopper
    centre    centre lines, from end to end
    """

    title: str
    description: str
    outline: tuple[Point, ...] = ()
    inner: tuple[tuple[Point, ...], ...] = ()
    edges: tuple[tuple[Point, Point], ...] = ()
    centre: tuple[tuple[Point, Point], ...] = ()
    nozzles: tuple[PlanNozzle, ...] = ()
    stubs: tuple[PlanStub, ...] = ()
    internals: tuple[PlanInternal, ...] = ()
    footprint: Footprint | None = None
    marks: tuple[PlanMark, ...] = ()
    notes: tuple[str, ...] = ()
    north: str = "N"
    no_vessel: str = "No plan yet: the vessel's dimensions are missing"
