"""What to draw, as plain data: the only thing that a sketch knows of a vessel and its instruments.

Lengths are in metres. Elevations count from the vessel's datum, positive up; offsets count from the vessel's
axis, positive to the right. All texts arrive translated and formatted with their units; the sketch measures
and places them, and never looks into them.
"""

from dataclasses import dataclass, field
from typing import Literal

Point = tuple[float, float]
LevelKind = Literal["range", "setpoint", "limit", "elevation", "datum"]


@dataclass(frozen=True, slots=True)
class Shell:
    """The vessel's inside as it is cut open for the drawing.

    outline           (offset, elevation) of the inside all round, counter-clockwise, the first point not repeated
    bottom_tangent_m  elevation where the bottom end meets the body
    top_tangent_m     elevation where the body meets the top end
    lines             tangent lines and edges to draw within the outline
    axis              the axis of a vessel that lies, from its first end to its second; None for one that stands
    """

    outline: tuple[Point, ...]
    bottom_tangent_m: float
    top_tangent_m: float
    lines: tuple[tuple[Point, Point], ...] = ()
    axis: tuple[Point, Point] | None = None

    @property
    def lies(self) -> bool:
        return self.axis is not None

    @property
    def lowest_m(self) -> float:
        return min(elevation for _, elevation in self.outline)

    @property
    def highest_m(self) -> float:
        return max(elevation for _, elevation in self.outline)

    @property
    def left_m(self) -> float:
        """The leftmost offset."""
        return min(offset for offset, _ in self.outline)

    @property
    def right_m(self) -> float:
        """The rightmost offset."""
        return max(offset for offset, _ in self.outline)

    @property
    def radius_m(self) -> float:
        """Half the width."""
        return (self.right_m - self.left_m) / 2


@dataclass(frozen=True, slots=True)
class Nozzle:
    """A nozzle on the roof, with or without a sensor on it.

    label         text above it, e.g. "N3"
    root_m        elevation where it leaves the vessel (inside of the roof)
    face_m        elevation of its face
    bore_m        free bore; None where it is not known
    reference_m   elevation of the sensor's reference point; None for no sensor
    """

    label: str
    offset_m: float
    root_m: float
    face_m: float
    bore_m: float | None = None
    reference_m: float | None = None
    place: str = "nozzle"


@dataclass(frozen=True, slots=True)
class SideNozzle:
    """A nozzle in the vessel's side: a stub at the left or the right wall. Its name stands at its level mark."""

    elevation_m: float
    right: bool
    bore_m: float | None = None
    place: str = "nozzle"


@dataclass(frozen=True, slots=True)
class Beam:
    """A cone of half-power beam angle, straight down from the sensor's reference point.

    met_m   elevation at which it first meets the wall, whose mark has the place "beam-wall"; None for nowhere
    """

    offset_m: float
    apex_m: float
    half_angle_rad: float
    place: str = "beam"
    met_m: float | None = None


@dataclass(frozen=True, slots=True)
class DeadZone:
    """Elevations near the sensor in which it cannot measure: from its origin down to its limit."""

    offset_m: float
    from_m: float
    to_m: float
    place: str = "dead-zone"


@dataclass(frozen=True, slots=True)
class Probe:
    """A probe straight down from the sensor's reference point; a rope has a weight at its end."""

    offset_m: float
    from_m: float
    to_m: float
    kind: Literal["rod", "rope"] = "rod"
    place: str = "probe"


@dataclass(frozen=True, slots=True)
class Beside:
    """What hangs on two connections in the vessel's side; drawn at the left, whatever their bearing.

    kind      "chamber" (a tube with the sensor on top), "legs" (a transmitter with impulse lines), "seals" (a
              transmitter with capillaries)
    upper_m   elevations of the connections; one that is not known is not drawn
    lower_m
    head_m    elevation of the sensor's reference point on a chamber, of the transmitter otherwise
    probe_m   elevation of the end of a probe in the chamber
    """

    kind: Literal["chamber", "legs", "seals"]
    upper_m: float | None = None
    lower_m: float | None = None
    head_m: float | None = None
    probe_m: float | None = None

    @property
    def elevations(self) -> tuple[float, ...]:
        return tuple(one for one in (self.upper_m, self.lower_m, self.head_m) if one is not None)


InternalKind = Literal["ladder", "coil", "baffle", "agitator", "inlet_stream", "pipe", "well"]


@dataclass(frozen=True, slots=True)
class Internal:
    """What stands in the vessel, between two elevations; without a width it gets one of a few px."""

    kind: InternalKind
    name: str
    offset_m: float
    low_m: float
    high_m: float
    width_m: float | None = None
    place: str = "internal"


@dataclass(frozen=True, slots=True)
class Tick:
    """A setpoint in an instrument's column."""

    name: str
    value: str
    elevation_m: float
    place: str


@dataclass(frozen=True, slots=True)
class Column:
    """One of several level instruments of a vessel, as a column beside it.

    number     shown over the column and over its nozzle
    label      its tag
    low_m      ends of its span, or of what a gauge glass shows; None where they are not known
    high_m
    low        their values in words, under and over the bar
    high
    is_gauge   a gauge glass: an open bar; a transmitter's span is a filled one
    offset_m   where it stands on the roof and how high its face is; None for one without a nozzle there
    face_m
    root_m     elevation of the roof there; None for the highest inside point
    """

    number: int
    label: str
    place: str
    low_m: float | None = None
    high_m: float | None = None
    low: str = ""
    high: str = ""
    ticks: tuple[Tick, ...] = ()
    is_gauge: bool = False
    offset_m: float | None = None
    face_m: float | None = None
    root_m: float | None = None


@dataclass(frozen=True, slots=True)
class LevelMark:
    """An elevation with its name and value at the side of the drawing.

    kind   "range" for LRV and URV (a line across the vessel), "setpoint", "limit" (end of a dead zone),
           "elevation" (of the vessel or a nozzle), "datum"
    """

    place: str
    elevation_m: float
    name: str
    value: str
    kind: LevelKind = "elevation"


@dataclass(frozen=True, slots=True)
class Filling:
    """The medium, drawn up to a level: a pale tint for what flows, dots for a bulk solid.

    surface   (offset, elevation) from left to right, where the surface is not level; drawn instead of the level
    """

    level_m: float
    kind: Literal["liquid", "solid"] = "liquid"
    place: str = "medium"
    surface: tuple[Point, ...] = ()


@dataclass(frozen=True, slots=True)
class Dimension:
    """A dimension line with its value, upright at the left of the vessel or level below it.

    axis       "height": from_m and to_m are elevations; "width": they are offsets from the axis
    name       what is dimensioned, written before the value where it is wanted (`with_name`) and has room
    at_m       of a width: the elevation of what is dimensioned, where extension lines begin; None for the bottom
               tangent line
    """

    place: str
    axis: Literal["height", "width"]
    from_m: float
    to_m: float
    value: str
    name: str = ""
    with_name: bool = False
    at_m: float | None = None


@dataclass(frozen=True, slots=True)
class Slant:
    """A dimension line at a slant, along a side of a tilted vessel: it stands at the right of who walks along it.

    start, end   (offset, elevation) of what is dimensioned
    away_m       how far what bulges out there keeps the line away
    """

    place: str
    start: Point
    end: Point
    value: str
    name: str = ""
    away_m: float = 0.0


@dataclass(frozen=True, slots=True)
class Tilt:
    """A vessel's tilt, marked on its axis: positive where the second end (the right one) is the higher one."""

    angle_rad: float
    value: str
    place: str = "shell"


@dataclass(frozen=True, slots=True)
class Words:
    """Texts that only the drawing knows it needs; `{…}` are filled in by the drawing."""

    outside: str = "outside the vessel"
    far_outside: str = "far outside the vessel"
    nozzle_absent: str = "{label} is not drawn: it would be far outside the vessel."
    heights_larger: str = "Not to one scale: heights drawn {factor} times larger than widths."
    widths_larger: str = "Not to one scale: widths drawn {factor} times larger than heights."
    no_vessel: str = "No sketch yet: the vessel's dimensions are missing"


@dataclass(frozen=True, slots=True)
class Scene:
    """All that one elevation shows. Whatever is missing is not drawn.

    `draw_elevation` shows one measurement and leaves columns out; `draw_overview` shows the vessel, its levels and the
    columns of its instruments.
    """

    title: str
    description: str
    shell: Shell | None = None
    nozzles: tuple[Nozzle, ...] = ()
    side_nozzles: tuple[SideNozzle, ...] = ()
    beam: Beam | None = None
    dead_zone: DeadZone | None = None
    probe: Probe | None = None
    beside: Beside | None = None
    internals: tuple[Internal, ...] = ()
    columns: tuple[Column, ...] = ()
    levels: tuple[LevelMark, ...] = ()
    filling: Filling | None = None
    dimensions: tuple[Dimension, ...] = ()
    slants: tuple[Slant, ...] = ()
    tilt: Tilt | None = None
    notes: tuple[str, ...] = ()
    words: Words = field(default_factory=Words)
