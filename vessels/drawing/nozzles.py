"""The nozzles of a vessel in its elevation: on the roof with their stand-off, and in the side."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from vessels.drawing import words
from vessels.drawing.values import SIDE_INCLINATION_RAD, NozzleValues
from vessels.drawing.vessel import VesselDrawing
from vessels.sketch.scene import Dimension, LevelMark, Nozzle, SideNozzle

STAND_OFFS_DRAWN = 3  # more of them would be lines upon lines; they are told in a note


@dataclass(frozen=True, slots=True)
class _OnRoof:
    """A nozzle on the roof: its own values, and where roof and face are."""

    values: NozzleValues
    root_m: float
    face_m: float


@dataclass(frozen=True)
class NozzleDrawing:
    """All nozzles of a vessel that can be placed."""

    vessel: VesselDrawing

    def in_side(self, nozzle: NozzleValues) -> bool:
        """True for a nozzle in the vessel's side: steeply inclined, or with its face below the roof."""
        if nozzle.inclination_rad is not None:
            return nozzle.inclination_rad >= SIDE_INCLINATION_RAD
        shell = self.vessel.shell
        if nozzle.face_m is None or shell is None:
            return False
        roof_m = self.vessel.roof_m(nozzle.radius_m, nozzle.bearing_rad)
        if roof_m is None:
            roof_m = shell.top_tangent_m if nozzle.radius_m is None else shell.highest_m
        return nozzle.face_m < roof_m

    @cached_property
    def _on_roof(self) -> list[_OnRoof]:
        shell, found = self.vessel.shell, []
        if shell is None or not self.vessel.placed:
            return []
        for nozzle in self.vessel.values.nozzles:
            if self.in_side(nozzle):
                continue
            root_m = self.vessel.roof_m(nozzle.radius_m, nozzle.bearing_rad)
            root_m = shell.highest_m if root_m is None else root_m
            face_m = nozzle.face_m
            if face_m is None and nozzle.projection_m is not None:
                face_m = root_m + nozzle.projection_m
            if face_m is not None:
                found.append(_OnRoof(nozzle, root_m, face_m))
        return found

    def roof(self) -> tuple[Nozzle, ...]:
        return tuple(
            Nozzle(
                label=one.values.mark,
                offset_m=self._offset_m(one.values),
                root_m=one.root_m,
                face_m=one.face_m,
                bore_m=one.values.bore_m,
                place=one.values.place,
            )
            for one in self._on_roof
        )

    def _offset_m(self, nozzle: NozzleValues) -> float:
        if nozzle.radius_m is None:
            return 0.0
        return self.vessel.offset_m(nozzle.radius_m, nozzle.bearing_rad, unknown_right=False)

    def side(self) -> tuple[SideNozzle, ...]:
        """Nozzles in the side, at the left or the right wall by their bearing; at the right without one."""
        if not self.vessel.placed:
            return ()
        return tuple(
            SideNozzle(nozzle.face_m, self._at_right(nozzle), nozzle.bore_m, nozzle.place)
            for nozzle in self.vessel.values.nozzles
            if self.in_side(nozzle) and nozzle.face_m is not None
        )

    def _at_right(self, nozzle: NozzleValues) -> bool:
        # A nozzle across the length of a vessel that is not round has no side of its own there.
        return self.vessel.offset_m(1.0, nozzle.bearing_rad) >= -1e-9

    def marks(self) -> list[LevelMark]:
        """Elevations of faces: nozzles of one elevation share a mark, each in the side has its own."""
        if not self.vessel.placed:
            return []
        found = []
        together: dict[str, list[_OnRoof]] = {}
        for one in self._on_roof:
            together.setdefault(self.vessel.shown(one.face_m), []).append(one)
        for shown, group in together.items():
            name = self.vessel.say(words.NOZZLE_FACES).format(marks=_marks([one.values for one in group]))
            found.append(LevelMark(group[0].values.place, group[0].face_m, name, shown))
        for nozzle in self.vessel.values.nozzles:
            if self.in_side(nozzle) and nozzle.face_m is not None:
                name = f"{nozzle.mark} {nozzle.size}".strip()
                found.append(LevelMark(nozzle.place, nozzle.face_m, name, nozzle.face_shown, "limit"))
        return found

    def _stand_offs(self) -> list[tuple[str, list[_OnRoof]]]:
        """Nozzles by stand-off: those that rise as far are told once, even where the roof under them slopes."""
        together: dict[str, list[_OnRoof]] = {}
        for one in self._on_roof:
            if one.face_m > one.root_m:
                together.setdefault(self.vessel.shown(one.face_m - one.root_m, "length_small"), []).append(one)
        return list(together.items())

    def stand_offs(self) -> list[Dimension]:
        found = []
        for shown, group in self._stand_offs()[:STAND_OFFS_DRAWN]:
            name = self.vessel.say(words.STAND_OFF_OF).format(marks=_marks([one.values for one in group]))
            one = group[0]
            found.append(Dimension(one.values.place, "height", one.root_m, one.face_m, shown, name, with_name=True))
        return found

    def notes(self) -> list[str]:
        """What could not be drawn or placed, and the stand-offs that have no line of their own."""
        if not self.vessel.placed:
            return []
        drawn = {one.values.place for one in self._on_roof} | {one.place for one in self.side()}
        nozzles = self.vessel.values.nozzles
        absent = [nozzle for nozzle in nozzles if nozzle.place not in drawn]
        on_axis = [one.values for one in self._on_roof if one.values.radius_m is None]
        more = [
            f"{_marks([one.values for one in group])} {shown}" for shown, group in self._stand_offs()[STAND_OFFS_DRAWN:]
        ]
        found = []
        if absent:
            found.append(self.vessel.say(words.FACE_UNKNOWN).format(marks=_marks(absent)))
        if on_axis:
            found.append(self.vessel.say(words.RADIUS_UNKNOWN).format(marks=_marks(on_axis)))
        if more:
            found.append(self.vessel.say(words.MORE_STAND_OFFS).format(stand_offs="; ".join(more)))
        return found


def _marks(nozzles: Sequence[NozzleValues]) -> str:
    return ", ".join(nozzle.mark for nozzle in nozzles)


def east_north(radius_m: float, bearing_rad: float) -> tuple[float, float]:
    """A place as distances to the east and to the north of the middle (m)."""
    return radius_m * math.sin(bearing_rad), radius_m * math.cos(bearing_rad)
