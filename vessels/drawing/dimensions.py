"""Dimension lines of each body with its ends: what a draughtsman would write on the drawing."""

import math
from dataclasses import dataclass

from vessels.drawing import words
from vessels.drawing.shells import LYING
from vessels.drawing.values import VesselValues
from vessels.sketch.scene import Dimension, Point, Shell, Slant, Tilt

TILTED_RAD = 1e-9


@dataclass(frozen=True, slots=True)
class Dimensions:
    """Dimension lines of one vessel: values as they were typed, or worked out in the plant's units."""

    values: VesselValues
    shell: Shell

    def all(self) -> tuple[list[Dimension], list[Slant], Tilt | None]:
        """Level and upright dimensions, slanted ones, and the mark of the tilt; inner ones first."""
        body = self.values.body
        if body in LYING:
            if self._tilted:
                tilt = self.values.sizes["tilt"]
                return [], self._slants(), Tilt(tilt, self.values.shown(abs(tilt), "angle"))
            return [*self._along(), *self._lying_heights()], [], None
        if body in ("sphere", "spheroid"):
            return self._ball(), [], None
        return [*self._upright_widths(), *self._upright_heights()], [], None

    # --- values ---------------------------------------------------------------------------------------------

    @property
    def _tilted(self) -> bool:
        return abs(self.values.sizes.get("tilt", 0.0)) > TILTED_RAD and self.shell.axis is not None

    def _text(self, stem: str, otherwise_m: float = 0.0) -> str:
        """A size as it was typed; one that nobody gave is worked out."""
        return self.values.entered.get(stem) or self.values.shown(otherwise_m, "length")

    def _diameter(self, stem: str = "diameter", otherwise_m: float = 0.0) -> str:
        return f"Ø\u00a0{self._text(stem, otherwise_m)}"

    def _flange_m(self, end: str) -> float:
        return self.values.sizes.get(f"{end}_straight_flange", 0.0)

    def _height(self, place: str, from_m: float, to_m: float, value: str, name: str) -> Dimension:
        return Dimension(place, "height", from_m, to_m, value, self.values.translate(name))

    def _width(self, half_m: float, value: str, name: str, at_m: float, place: str = "shell") -> Dimension:
        return Dimension(place, "width", -half_m, half_m, value, self.values.translate(name), at_m=at_m)

    # --- vessels that stand ---------------------------------------------------------------------------------

    def _upright_heights(self) -> list[Dimension]:
        shell, values = self.shell, self.values
        name = {"rectangular": words.BOX_HEIGHT, "vertical_oval": words.BOX_HEIGHT,
                "vertical_frustum": words.FRUSTUM_HEIGHT}.get(values.body, words.CYLINDER)  # fmt: skip
        low_m, high_m = shell.bottom_tangent_m, shell.top_tangent_m
        body_low_m, body_high_m = low_m + self._flange_m("bottom"), high_m - self._flange_m("top")
        height = self._text("cylinder_height", body_high_m - body_low_m)
        found = [self._height("shell", body_low_m, body_high_m, height, name)]
        if body_low_m > low_m:
            value = self._text("bottom_straight_flange", body_low_m - low_m)
            found.append(self._height("bottom", low_m, body_low_m, value, words.BOTTOM_FLANGE))
        if body_high_m < high_m:
            value = self._text("top_straight_flange", high_m - body_high_m)
            found.append(self._height("roof", body_high_m, high_m, value, words.TOP_FLANGE))
        return [*found, *self._bottom_depth(), *self._top_depth()]

    def _bottom_depth(self) -> list[Dimension]:
        shell, low_m = self.shell, self.shell.bottom_tangent_m
        name = words.HOPPER_DEPTH if self.values.bottom.endswith("_hopper") else words.BOTTOM_DEPTH
        top_m = low_m
        if shell.lowest_m == low_m and self.values.shape is not None:
            # Flat, or pushed in: then the middle stands higher than the rim.
            top_m, name = low_m + self.values.shape.bottom_elevation_m(0.0), words.BOTTOM_INWARD
        if not top_m > shell.lowest_m:
            return []
        value = self._text("bottom_depth", top_m - shell.lowest_m)
        return [self._height("bottom", shell.lowest_m, top_m, value, name)]

    def _top_depth(self) -> list[Dimension]:
        shell, high_m = self.shell, self.shell.top_tangent_m
        low_m, name = high_m, words.TOP_DEPTH
        if shell.highest_m == high_m and self.values.shape is not None:
            low_m, name = shell.lowest_m + self.values.shape.roof_elevation_m(0.0), words.TOP_INWARD
        if not low_m < shell.highest_m - 1e-9 * (shell.highest_m - shell.lowest_m):
            return []
        value = self._text("top_depth", shell.highest_m - low_m)
        return [self._height("roof", low_m, shell.highest_m, value, name)]

    def _upright_widths(self) -> list[Dimension]:
        values, shell = self.values, self.shell
        low_m, high_m = shell.bottom_tangent_m, shell.top_tangent_m
        found = self._outlet()
        if values.body in ("rectangular", "vertical_oval"):
            both = f"{self._text('box_length')} × {self._text('box_width')}"
            return [*found, self._width(shell.radius_m, both, words.LENGTH_AND_WIDTH, low_m)]
        if values.body == "vertical_frustum":
            upper_m, lower_m = (values.sizes.get(stem, 0.0) / 2 for stem in ("upper_diameter", "diameter"))
            ends = [
                self._width(lower_m, self._diameter(), words.LOWER_DIAMETER, low_m),
                self._width(upper_m, self._diameter("upper_diameter"), words.UPPER_DIAMETER, high_m),
            ]
            return [*found, *sorted(ends, key=lambda one: one.to_m)]
        return [*found, self._width(shell.radius_m, self._diameter(), words.DIAMETER, low_m)]

    def _outlet(self) -> list[Dimension]:
        values, lowest_m = self.values, self.shell.lowest_m
        if values.bottom == "truncated_cone" and "outlet_diameter" in values.sizes:
            half_m = values.sizes["outlet_diameter"] / 2
            return [self._width(half_m, self._diameter("outlet_diameter"), words.OUTLET_DIAMETER, lowest_m, "bottom")]
        if not values.bottom.endswith("_hopper") or "outlet_length" not in values.sizes:
            return []
        half_m, value, name = values.sizes["outlet_length"] / 2, self._text("outlet_length"), words.OUTLET_SLOT
        if "outlet_width" in values.sizes:
            value, name = f"{value} × {self._text('outlet_width')}", words.OUTLET_SIZE
        return [self._width(half_m, value, name, lowest_m, "bottom")]

    def _ball(self) -> list[Dimension]:
        shell = self.shell
        middle_m = shell.bottom_tangent_m
        across = self._width(shell.radius_m, self._diameter("diameter", 2 * shell.radius_m), words.DIAMETER, middle_m)
        if self.values.body == "sphere":
            return [across]
        value = self._text("section_height", shell.highest_m - shell.lowest_m)
        return [across, self._height("shell", shell.lowest_m, shell.highest_m, value, words.SECTION_HEIGHT)]

    # --- vessels that lie -----------------------------------------------------------------------------------

    @property
    def _joints(self) -> list[tuple[str, float, float, str, str]]:
        """Stretches along the axis, from the middle (m): place, from, to, value, name."""
        half_m = self.values.sizes.get("cylinder_length", 0.0) / 2
        found = [("shell", -half_m, half_m, self._text("cylinder_length"), words.CYLINDER_LENGTH)]
        (x1, _), (x2, _) = self.shell.axis or ((0.0, 0.0), (0.0, 0.0))
        slope = math.cos(self.values.sizes.get("tilt", 0.0))
        for end, way, apex_m, depth_name, flange_name in (
            ("bottom", -1, -x1 / slope, words.FIRST_DEPTH, words.FIRST_FLANGE),
            ("top", 1, x2 / slope, words.SECOND_DEPTH, words.SECOND_FLANGE),
        ):
            flange_m = self._flange_m(end)
            tangent_m = half_m + flange_m
            if flange_m > 0:
                value = self._text(f"{end}_straight_flange")
                found.append((end, way * half_m, way * tangent_m, value, flange_name))
            if abs(apex_m - tangent_m) > 1e-6 * max(tangent_m, apex_m):
                value = self._text(f"{end}_depth", abs(apex_m - tangent_m))
                found.append((end, way * tangent_m, way * apex_m, value, depth_name))
        return [(place, min(a, b), max(a, b), value, name) for place, a, b, value, name in found]

    def _along(self) -> list[Dimension]:
        """Level ones below the vessel; what belongs to an end begins at the axis, where its apex is."""
        shell, translate = self.shell, self.values.translate
        middle_m = (shell.lowest_m + shell.highest_m) / 2
        return [
            Dimension("shell", "width", from_m, to_m, value, translate(name),
                      at_m=shell.lowest_m if place == "shell" else middle_m)
            for place, from_m, to_m, value, name in self._joints
        ]  # fmt: skip

    def _lying_heights(self) -> list[Dimension]:
        low_m, high_m = self.shell.lowest_m, self.shell.highest_m
        if self.values.body == "horizontal_oval":
            value, name = self._text("section_height", high_m - low_m), words.SECTION_HEIGHT
        else:
            value, name = self._diameter("diameter", high_m - low_m), words.DIAMETER
        return [self._height("shell", low_m, high_m, value, name)]

    def _slants(self) -> list[Slant]:
        """Those of a tilted vessel: along its lowest line, and across its left end."""
        tilt, joints = self.values.sizes["tilt"], self._joints
        middle, radius_m = self._middle(), self.values.sizes.get("diameter", 0.0) / 2
        along, up = (math.cos(tilt), math.sin(tilt)), (-math.sin(tilt), math.cos(tilt))

        def at(along_m: float, up_m: float) -> Point:
            return middle[0] + along[0] * along_m + up[0] * up_m, middle[1] + along[1] * along_m + up[1] * up_m

        found = []
        for place, from_m, to_m, value, name in joints:
            # What belongs to an end begins at the axis, where its apex is.
            start_m, away_m = (-radius_m, 0.0) if place == "shell" else (0.0, radius_m)
            ends = at(from_m, start_m), at(to_m, start_m)
            found.append(Slant(place, *ends, value, self.values.translate(name), away_m))
        left_m = min(from_m for _, from_m, _, _, _ in joints)
        rim_m = -self.values.sizes.get("cylinder_length", 0.0) / 2 - self._flange_m("bottom")
        name = self.values.translate(words.DIAMETER)
        across = Slant("shell", at(rim_m, radius_m), at(rim_m, -radius_m), self._diameter(), name, rim_m - left_m)
        return [*found, across]

    def _middle(self) -> Point:
        """The middle of the axis: mid-length of the cylinder."""
        (x1, z1), (x2, z2) = self.shell.axis or ((0.0, 0.0), (1.0, 0.0))
        return 0.0, z1 + (z2 - z1) * (0.0 - x1) / (x2 - x1)
