"""What every sketch shows of the vessel itself: shell, dimensions, levels of its own, internals, notes."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import get_args

from instruments.checks.case import Case, Row
from instruments.checks.frame import Frame
from project.registry import gettext_noop
from vessels.field_defs import DATUMS
from vessels.sketch.scene import Dimension, Filling, Internal, InternalKind, LevelKind, LevelMark, Shell, Words

Translate = Callable[[str], str]

# Texts of the sketch. `{…}` is filled in after translation.
UNNAMED_VESSEL = gettext_noop("the vessel")
ROOF, BOTTOM, DATUM = gettext_noop("Roof"), gettext_noop("Bottom"), gettext_noop("Datum")
OVERFLOW = gettext_noop("Overflow")
DIAMETER, CYLINDER = gettext_noop("Inside diameter"), gettext_noop("Height of the cylinder")
CYLINDER_LENGTH, BOX_HEIGHT = gettext_noop("Length of the cylinder"), gettext_noop("Inside height")
LENGTH_AND_WIDTH = gettext_noop("Inside length and width")
BOTTOM_DEPTH, TOP_DEPTH = gettext_noop("Depth of the bottom"), gettext_noop("Height of the top end")
ELEVATIONS_FROM = gettext_noop("Elevations from the datum: {datum}.")
OUTLET_NOTE = gettext_noop("Outlet Ø {diameter}.")
LIES_NOTE = gettext_noop("Seen from the side, along its length.")
SIDES_NOTE = gettext_noop("Right of the middle: bearings from 0° to below 180°; left of it: the others.")
DESCRIBED = gettext_noop("{name} {value}")
DESCRIBED_INTERNAL = gettext_noop("{name} from {low} to {high}")
INTERNAL_NAMES = {
    "ladder": gettext_noop("Ladder"),
    "coil": gettext_noop("Coil"),
    "baffle": gettext_noop("Baffle"),
    "agitator": gettext_noop("Agitator"),
    "inlet_stream": gettext_noop("Inlet stream"),
    "pipe": gettext_noop("Pipe"),
    "well": gettext_noop("Stilling well"),
}

DRAWING_WORDS = {
    "outside": gettext_noop("outside the vessel"),
    "far_outside": gettext_noop("far outside the vessel"),
    "nozzle_absent": gettext_noop("{label} is not drawn: it would be far outside the vessel."),
    "heights_larger": gettext_noop("Not to one scale: heights drawn {factor} times larger than widths."),
    "widths_larger": gettext_noop("Not to one scale: widths drawn {factor} times larger than heights."),
    "no_vessel": gettext_noop("No sketch yet: the vessel's dimensions are missing"),
}
SOLID_KINDS = frozenset({"solid"})
LYING, BOX, SPHERE = "horizontal_cylinder", "rectangular", "sphere"


def side_offset(radius_m: float, bearing_rad: float | None, *, unknown_right: bool) -> float:
    """Where a radius is drawn: right of the middle for bearings from 0° to below 180°, left for the others.

    The radius is turned into the plane of the drawing, so that distances from the middle are true. unknown_right says
    where something without a bearing goes.
    """
    # A full turn away by rounding is no turn: 360° is north as 0° is.
    right = unknown_right if bearing_rad is None else (bearing_rad + 1e-9) % math.tau < math.pi
    return radius_m if right else -radius_m


@dataclass(frozen=True, slots=True)
class VesselScene:
    """The vessel of a Case, in parts that a scene is put together from."""

    case: Case
    frame: Frame
    translate: Translate

    # --- texts ----------------------------------------------------------------------------------------

    def shown(self, value_m: float, kind: str = "length") -> str:
        return str(self.case.units.shown_si(value_m, kind))

    def entered(self, row: Row, stem: str, kind: str = "length") -> str:
        """A value as it was typed, where it was typed in the plant's unit."""
        return str(self.case.units.shown(row.quantity(stem), kind))

    def words(self) -> Words:
        return Words(**{key: self.translate(text) for key, text in DRAWING_WORDS.items()})

    def number(self) -> str:
        return self.case.vessel.text("number") or self.translate(UNNAMED_VESSEL)

    def described(self, pairs: list[tuple[str, str]]) -> list[str]:
        return [self.translate(DESCRIBED).format(name=name, value=value).strip() for name, value in pairs]

    def described_internals(self) -> list[str]:
        return [
            self.translate(DESCRIBED_INTERNAL).format(
                name=one.name, low=self.shown(one.low_m), high=self.shown(one.high_m)
            )
            for one in self.internals()
        ]

    def notes(self) -> list[str]:
        datum = dict(DATUMS).get(self.case.vessel.text("datum"))
        notes = []
        if datum:
            name = self.translate(datum)
            notes.append(self.translate(ELEVATIONS_FROM).format(datum=name[:1].lower() + name[1:]))
        if self.frame.shape is None:
            return notes
        if self.case.vessel.text("body") == LYING:
            notes.append(self.translate(LIES_NOTE))
        if self.case.vessel.si("outlet_diameter") is not None:
            diameter = self.entered(self.case.vessel, "outlet_diameter")
            notes.append(self.translate(OUTLET_NOTE).format(diameter=diameter))
        return notes

    # --- the vessel -----------------------------------------------------------------------------------

    def shell(self) -> Shell | None:
        shape = self.frame.shape
        if shape is None:
            return None
        # Without a datum the vessel can be drawn, though nothing can be placed in it.
        lowest_m = -(self.frame.datum_height.value or 0.0)
        profile = tuple((radius, lowest_m + height) for radius, height in shape.profile())
        widest_m = max(radius for radius, _ in profile)
        joints = [height for radius, height in profile if radius == widest_m]
        return Shell(profile, min(joints), max(joints), lies=self.case.vessel.text("body") == LYING)

    @property
    def placed(self) -> bool:
        """True where elevations can be placed in the vessel."""
        return self.frame.shape is not None and self.frame.datum_height.value is not None

    def filling(self, level_m: float | None) -> Filling | None:
        kinds = [one.kind for one in self.frame.media if one.kind]
        if level_m is None or not kinds or not self.placed:
            return None
        return Filling(level_m, "solid" if kinds[0] in SOLID_KINDS else "liquid")

    def internals(self) -> tuple[Internal, ...]:
        """Internals of which radius and both elevations are known."""
        if not self.placed:
            return ()
        found = []
        for number, row in enumerate(self.case.internals, start=1):
            kind, radius_m = row.text("kind"), row.si("radius")
            low_m, high_m = row.si("elevation_low"), row.si("elevation_high")
            if radius_m is None or low_m is None or high_m is None:
                continue
            for known in get_args(InternalKind):
                if known == kind:
                    name = row.text("name") or self.translate(INTERNAL_NAMES[kind])
                    offset_m = side_offset(radius_m, row.si("bearing"), unknown_right=True)
                    found.append(Internal(known, name, offset_m, low_m, high_m, row.si("width"), f"internal-{number}"))
        return tuple(found)

    # --- levels and dimensions ------------------------------------------------------------------------

    def mark(self, place: str, elevation_m: float, name: str, kind: LevelKind = "elevation") -> LevelMark:
        """The mark of an elevation that was worked out."""
        return LevelMark(place, elevation_m, self.translate(name), self.shown(elevation_m), kind)

    def levels(self, shell: Shell | None) -> list[LevelMark]:
        """Levels of the vessel itself."""
        if shell is None or not self.placed:
            return []
        marks = [self.mark("roof", shell.highest_m, ROOF), self.mark("datum", 0.0, DATUM, "datum")]
        if shell.lowest_m != 0:
            marks.append(self.mark("bottom", shell.lowest_m, BOTTOM))
        overflow_m = self.case.vessel.si("overflow_level")
        if overflow_m is not None:
            shown = self.entered(self.case.vessel, "overflow_level")
            marks.append(LevelMark("overflow", overflow_m, self.translate(OVERFLOW), shown))
        return marks

    def dimensions(self, shell: Shell) -> list[Dimension]:
        vessel, body = self.case.vessel, self.case.vessel.text("body")
        across, upright = self._main_dimensions(body)
        found = [Dimension("shell", "width", -shell.radius_m, shell.radius_m, across[0], self.translate(across[1]))]
        low_m, high_m = shell.bottom_tangent_m, shell.top_tangent_m
        if upright is not None:
            found.append(Dimension("shell", "height", low_m, high_m, upright[0], self.translate(upright[1])))
            if shell.lowest_m < low_m:
                typed = vessel.si("bottom_depth") is not None
                depth = self.entered(vessel, "bottom_depth") if typed else self.shown(low_m - shell.lowest_m)
                name = self.translate(BOTTOM_DEPTH)
                found.append(Dimension("bottom", "height", shell.lowest_m, low_m, depth, name))
            if high_m < shell.highest_m:
                depth, name = self.shown(shell.highest_m - high_m), self.translate(TOP_DEPTH)
                found.append(Dimension("roof", "height", high_m, shell.highest_m, depth, name))
        return found

    def _main_dimensions(self, body: str) -> tuple[tuple[str, str], tuple[str, str] | None]:
        """(value, name) of what is written across the vessel, and of what is written along its height."""
        vessel = self.case.vessel
        if body == BOX:
            both = f"{self.entered(vessel, 'box_length')} × {self.entered(vessel, 'box_width')}"
            return (both, LENGTH_AND_WIDTH), (self.entered(vessel, "cylinder_height"), BOX_HEIGHT)
        diameter = f"Ø {self.entered(vessel, 'diameter')}", DIAMETER
        if body == LYING:
            return (self.entered(vessel, "cylinder_length"), CYLINDER_LENGTH), diameter
        if body == SPHERE:
            return diameter, None
        return diameter, (self.entered(vessel, "cylinder_height"), CYLINDER)
