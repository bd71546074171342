"""The vessel itself in an elevation: shell, dimensions, levels of its own, internals, notes, and all that in words."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import get_args

from vessels.drawing import words
from vessels.drawing.dimensions import Dimensions
from vessels.drawing.shells import LYING, roof_height_m, shell_of, side_offset
from vessels.drawing.values import VesselValues
from vessels.sketch.scene import Dimension, Internal, InternalKind, LevelKind, LevelMark, Shell, Slant, Tilt, Words

LEVEL_NAMES = {
    "overflow_level": ("overflow", words.OVERFLOW),
    "critical_level": ("critical", words.CRITICAL),
    "outlet_elevation": ("outlet", words.LOWEST_OUTLET),
}


@dataclass(frozen=True)
class VesselDrawing:
    """A vessel in parts that scenes are put together from."""

    values: VesselValues

    # --- texts ----------------------------------------------------------------------------------------

    def say(self, text: str) -> str:
        return self.values.translate(text)

    def shown(self, value_si: float, kind: str = "length") -> str:
        return self.values.shown(value_si, kind)

    def drawing_words(self) -> Words:
        return Words(**{key: self.say(text) for key, text in words.DRAWING_WORDS.items()})

    def number(self) -> str:
        return self.values.number or self.say(words.UNNAMED_VESSEL)

    def described(self, pairs: Sequence[tuple[str, str]]) -> list[str]:
        return [self.say(words.DESCRIBED).format(name=name, value=value).strip() for name, value in pairs]

    def described_internals(self) -> list[str]:
        return [
            self.say(words.DESCRIBED_INTERNAL).format(
                name=one.name, low=self.shown(one.low_m), high=self.shown(one.high_m)
            )
            for one in self.internals()
        ]

    def notes(self) -> list[str]:
        values, found = self.values, []
        if values.datum:
            name = self.say(values.datum)
            found.append(self.say(words.ELEVATIONS_FROM).format(datum=name[:1].lower() + name[1:]))
        if values.shape is None:
            return found
        if values.body in LYING:
            found.append(self.say(words.LIES_NOTE))
        if not values.shape.is_round and "axis_bearing" in values.sizes:
            bearing = values.entered.get("axis_bearing") or self.shown(values.sizes["axis_bearing"], "angle")
            found.append(self.say(words.ACROSS_NOTE).format(bearing=bearing))
        if values.body == "horizontal_oval" and "box_width" in values.sizes:
            found.append(self.say(words.WIDTH_NOTE).format(width=values.entered.get("box_width", "")))
        if self.tilt is not None:
            template = words.TILT_LEFT_LOW if self.tilt.angle_rad > 0 else words.TILT_RIGHT_LOW
            found.append(self.say(template).format(angle=self.tilt.value))
        return found

    def sides_note(self) -> str:
        """To which side bearings are drawn, where that is a rule of the drawing and not the vessel's own direction."""
        is_round = self.values.shape is not None and self.values.shape.is_round
        return self.say(words.SIDES_NOTE) if is_round else ""

    # --- the vessel -----------------------------------------------------------------------------------

    @property
    def lowest_m(self) -> float:
        """Elevation of the lowest inside point. Without a datum the vessel can be drawn, nothing placed in it."""
        return -(self.values.datum_height_m or 0.0)

    @cached_property
    def shell(self) -> Shell | None:
        shape = self.values.shape
        if shape is None:
            return None
        return shell_of(shape, self.values.body, self.lowest_m, self.values.sizes.get("tilt", 0.0))

    @property
    def placed(self) -> bool:
        """True where elevations can be placed in the vessel."""
        return self.values.shape is not None and self.values.datum_height_m is not None

    def offset_m(self, radius_m: float, bearing_rad: float | None, *, unknown_right: bool = True) -> float:
        """Where a place is drawn. Raises ValueError where there is no vessel."""
        if self.values.shape is None:
            raise ValueError("a place can be drawn in a vessel only: accepted is a shape")
        return side_offset(self.values.shape, radius_m, bearing_rad, unknown_right=unknown_right)

    def roof_m(self, radius_m: float | None, bearing_rad: float | None) -> float | None:
        """Elevation of the roof at a place; None for a place that is not known or outside."""
        if self.values.shape is None:
            return None
        height_m = roof_height_m(self.values.shape, radius_m, bearing_rad)
        return None if height_m is None else self.lowest_m + height_m

    def internals(self) -> tuple[Internal, ...]:
        """Internals of which radius and both elevations are known."""
        if not self.placed:
            return ()
        found = []
        for one in self.values.internals:
            if one.radius_m is None or one.low_m is None or one.high_m is None:
                continue
            for known in get_args(InternalKind):
                if known == one.kind:
                    name = one.name or self.say(words.INTERNAL_NAMES[one.kind])
                    offset_m = self.offset_m(one.radius_m, one.bearing_rad)
                    found.append(Internal(known, name, offset_m, one.low_m, one.high_m, one.width_m, one.place))
        return tuple(found)

    # --- levels and dimensions ------------------------------------------------------------------------

    def mark(self, place: str, elevation_m: float, name: str, kind: LevelKind = "elevation") -> LevelMark:
        """The mark of an elevation that was worked out."""
        return LevelMark(place, elevation_m, self.say(name), self.shown(elevation_m), kind)

    def levels(self) -> list[LevelMark]:
        """Levels of the vessel itself."""
        shell = self.shell
        if shell is None or not self.placed:
            return []
        marks = [self.mark("roof", shell.highest_m, words.ROOF), self.mark("datum", 0.0, words.DATUM, "datum")]
        if shell.lowest_m != 0:
            marks.append(self.mark("bottom", shell.lowest_m, words.BOTTOM))
        for stem, (place, name) in LEVEL_NAMES.items():
            if stem in self.values.levels:
                elevation_m, shown = self.values.levels[stem]
                marks.append(LevelMark(place, elevation_m, self.say(name), shown))
        return marks

    @cached_property
    def _dimensions(self) -> tuple[list[Dimension], list[Slant], Tilt | None]:
        return ([], [], None) if self.shell is None else Dimensions(self.values, self.shell).all()

    def dimensions(self) -> list[Dimension]:
        return list(self._dimensions[0])

    def slants(self) -> tuple[Slant, ...]:
        return tuple(self._dimensions[1])

    @property
    def tilt(self) -> Tilt | None:
        return self._dimensions[2]

    def spoken_dimensions(self, dimensions: Sequence[Dimension]) -> list[tuple[str, str]]:
        """Names and values of dimension lines, slanted ones and the tilt included."""
        found = [(one.name, one.value) for one in dimensions]
        found += [(one.name, one.value) for one in self.slants()]
        return [*found, (self.say(words.TILT), self.tilt.value)] if self.tilt is not None else found
