"""Level–volume plots of vessels in the plant's units, with the points that the page follows a pointer by."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from django.utils.translation import gettext as _

from project.quantities import PlantUnits, from_si
from vessels.capacity.curve import Curve, as_curve
from vessels.shapes.shape import Shape
from vessels.sketch.curve import Axis, CurveMark, CurveScene, draw_curve

SAMPLES = 201
# A strapping table of thousands of rows is a line by itself; its rows are drawn as dots up to this many.
MOST_DOTS = 120


@dataclass(frozen=True, slots=True)
class Plot:
    """A plot and what a pointer over it reads: rows of (level, volume, share of the whole), with their units."""

    svg: str
    readings: dict[str, Any]


def _converted(values: Any, unit: str, kind: str) -> list[float]:
    """SI values in a unit; both kinds here have no offset."""
    factor = from_si(1.0, unit, kind)
    return [float(value) * factor for value in values]


def sample(curve: Curve) -> tuple[Any, Any]:
    """Levels (m above the lowest inside point) and volumes (m³), evenly, with the curve's own joints among them."""
    even = np.linspace(curve.lowest_level_m, curve.highest_level_m, SAMPLES)
    joints = [joint for joint in curve.joints_m[:500] if curve.lowest_level_m < joint < curve.highest_level_m]
    levels = np.unique(np.concatenate([even, np.array(joints, dtype=np.float64)]))
    return levels, curve.volume_m3(levels)


def curve_plot(
    source: Shape | Curve,
    units: PlantUnits,
    datum_m: float,
    title: str,
    *,
    comparison: Shape | Curve | None = None,
    dots: tuple[Any, Any] | None = None,
    marks: tuple[tuple[str, str, float], ...] = (),
    width_px: float = 520,
    height_px: float = 340,
    for_print: bool = False,
) -> Plot:
    """The level–volume curve of a shape or table.

    datum_m     height of the vessel's datum above the lowest inside point, m: levels are shown from the datum
    comparison  a second curve, drawn dashed
    dots        (levels, volumes) in m above the lowest inside point and m³, drawn as dots
    marks       (place, name, level in m from the datum)
    """
    curve = as_curve(source)
    level_unit, volume_unit = units.unit("length"), units.unit("volume")
    levels_m, volumes_m3 = sample(curve)

    def points(pair: tuple[Any, Any]) -> tuple[tuple[float, float], ...]:
        levels = _converted(np.asarray(pair[0]) - datum_m, level_unit, "length")
        return tuple(zip(_converted(pair[1], volume_unit, "volume"), levels, strict=True))

    drawn = points((levels_m, volumes_m3))
    others = points(sample(as_curve(comparison))) if comparison is not None else ()
    dotted = points(dots) if dots is not None and len(dots[0]) <= MOST_DOTS else ()
    everything = (*drawn, *others)
    lows = [min(values) for values in zip(*everything, strict=True)]
    highs = [max(values) for values in zip(*everything, strict=True)]
    scene = CurveScene(
        title=title,
        description=_("Volume from %(volume_low)s to %(volume_high)s, level from %(level_low)s to %(level_high)s.")
        % {
            "volume_low": units.shown_si(float(volumes_m3[0]), "volume"),
            "volume_high": units.shown_si(float(volumes_m3[-1]), "volume"),
            "level_low": units.shown_si(float(levels_m[0]) - datum_m, "length"),
            "level_high": units.shown_si(float(levels_m[-1]) - datum_m, "length"),
        },
        volume=Axis(f"{_('Volume')}, {volume_unit}", min(0.0, lows[0]), highs[0]),
        level=Axis(f"{_('Level')}, {level_unit}", lows[1], highs[1]),
        points=drawn,
        comparison=others,
        dots=dotted,
        marks=tuple(
            CurveMark(place, name, _converted([level_m], level_unit, "length")[0])
            for place, name, level_m in marks
            if curve.lowest_level_m <= level_m + datum_m <= curve.highest_level_m
        ),
    )
    svg = draw_curve(scene, width_px=width_px, height_px=height_px, for_print=for_print)
    whole = float(volumes_m3[-1])
    readings = {
        "points": [[level, volume] for volume, level in drawn],
        "levelUnit": level_unit,
        "volumeUnit": volume_unit,
        "whole": _converted([whole], volume_unit, "volume")[0],
        "levelLow": scene.level.low,
        "levelHigh": scene.level.high,
        "volumeLow": scene.volume.low,
        "volumeHigh": scene.volume.high,
    }
    return Plot(svg, readings)
