"""Bulk solids: what lies under a surface that is not level, and what a sensor at one place reads of it.

Heap, central inlet, straight round vessel of radius R: the mean level is the level at the wall plus a third of the
heap's height R·tan(a); a sensor at radius r reads right when tan(a)·(r − 2R/3) is added. Drawdown, the same with the
sign turned. Source: volume of a cone, elementary geometry. Other inlets, plans and hoppers are integrated numerically.
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
from scipy.integrate import quad

from project.registry import gettext_noop
from vessels.capacity.plan_integral import Rays, integrate
from vessels.capacity.surface import Cone, SolidSurface, Surface, local_point, slope_of
from vessels.shapes.box import Box
from vessels.shapes.numbers import NOISE, Floats
from vessels.shapes.shape import Shape

ConeKind = Literal["heap", "funnel"]
ACCURACY = 1e-6
METHOD = gettext_noop(
    "Volume between the bottom and the surface, cones by angle of repose, integrated numerically over the plan; "
    "relative error below %(accuracy)s."
)


@dataclass(frozen=True, slots=True)
class SolidVolume:
    """What lies under a surface.

    volume_m3       of the solid with its voids, m³
    mean_level_m    level that the same volume would have if it were level, m
    relative_error  of the volume, estimated; above what was asked for only where integration did not settle
    """

    volume_m3: float
    mean_level_m: float
    relative_error: float


@dataclass(frozen=True, slots=True)
class ReadingError:
    """What a sensor reads of a surface that is not level, and what follows for the volume.

    reading_m                  level at the sensor's place, m; the bottom where no solid lies there
    mean_level_m, volume_m3    as in `SolidVolume`
    volume_as_read_m3          volume if the reading is taken as level, m³
    error_as_read_share        its error as a share of the true volume; None where there is no solid
    correction_m               what the correction of a straight vessel adds to the reading, m
    volume_corrected_m3        volume at the corrected level, m³; None where that level is outside the vessel
    error_corrected_share      its error as a share of the true volume; None with it
    """

    reading_m: float
    mean_level_m: float
    volume_m3: float
    volume_as_read_m3: float
    error_as_read_share: float | None
    correction_m: float
    volume_corrected_m3: float | None
    error_corrected_share: float | None


def volume_under(shape: Shape, surface: Surface, accuracy: float = ACCURACY) -> SolidVolume:
    """Volume between a vessel's bottom and a surface, hopper included.

    Parameters
    ----------
    surface   `SolidSurface` or `InclinedPlane`; where it lies below the bottom there is no solid
    accuracy  relative error asked for, 1e-9 … 1e-2

    Raises
    ------
    ValueError  for a surface above the roof (heaps end there), a tip outside the vessel, an accuracy out of range.

    Validity: rigid vessel in which a vertical line meets the inside once.
    Source: integration over the plan by Gauss-Legendre pieces, doubled until two results agree.
    """
    if not 1e-9 <= accuracy <= 1e-2:
        raise ValueError(f"accuracy = {accuracy!r}: accepted is 1e-9 … 1e-2")

    def refuse_above_roof(levels: Floats, roof: Floats) -> None:
        above = levels - roof
        if np.any(above > NOISE * shape.height_m):
            worst = np.unravel_index(int(np.argmax(above)), above.shape)
            raise ValueError(
                f"the surface is at {float(levels[worst])!r} m where the roof is at {float(roof[worst])!r} m: accepted "
                f"is a surface that is nowhere above the roof"
            )

    def depth(rays: Rays) -> list[Floats]:
        levels = surface.level_at_m(shape, rays.x_m, rays.y_m)
        refuse_above_roof(levels, rays.roof_m)
        return [np.maximum(levels - rays.bottom_m, 0.0)]

    def level(x_m: Floats, y_m: Floats) -> Floats:
        return surface.level_at_m(shape, x_m, y_m)

    if isinstance(surface, SolidSurface) and surface.heap is not None:
        # The peak lies between the places of the integration.
        place = surface.heap.radius_m, surface.heap.bearing_rad
        x, y = local_point(shape, *place)
        refuse_above_roof(level(np.array([x]), np.array([y])), np.array([shape.roof_elevation_m(*place)]))
    found = integrate(shape, depth, accuracy, surface.centres(shape), surface.circles(shape), level)
    # Rounding of a full vessel's integral must not pass its total.
    volume = min(found.values[0], shape.total_volume_m3)
    return SolidVolume(volume, shape.level_m(volume), found.relative_error)


def surface_level_m(shape: Shape, surface: Surface, radius_m: float, bearing_rad: float | None = None) -> float:
    """Level (m) of a surface at a place: what a sensor there reads. The bottom's where no solid lies.

    Raises ValueError for a place outside the vessel.
    """
    x, y = local_point(shape, radius_m, bearing_rad)
    level = float(surface.level_at_m(shape, np.array([x]), np.array([y]))[0])
    return max(level, shape.bottom_elevation_m(radius_m, bearing_rad))


@lru_cache(maxsize=64)  # integrated for all but round vessels, and asked for several times of one place
def mean_distance_m(shape: Shape, radius_m: float = 0.0, bearing_rad: float | None = None) -> float:
    """Mean horizontal distance (m) of the plan's points from a place, over the vessel's greatest section.

    2R/3 from the middle of a round vessel; good to 1e-8. A sensor at this distance from the inlet reads the mean level
    of a heap that covers the surface of a straight vessel. Raises ValueError for a place outside.
    """
    x, y = local_point(shape, radius_m, bearing_rad)
    if shape.is_round:
        return _mean_distance_in_circle(shape.reach_m(), radius_m)
    if isinstance(shape, Box):
        # Its outline is the rectangle; both halves are read off its farthest corner.
        half_x, half_y = (max(places) for places in zip(*shape.plan_outline(), strict=True))
        return _mean_distance_in_rectangle(half_x, half_y, x, y)

    def distance_and_one(rays: Rays) -> list[Floats]:
        return [np.hypot(rays.x_m - x, rays.y_m - y), np.ones_like(rays.x_m)]

    moment, area = integrate(shape, distance_and_one, 1e-9, [(x, y)]).values
    return moment / area


def _mean_distance_in_rectangle(half_x: float, half_y: float, x: float, y: float) -> float:
    """Mean distance from a point in a rectangle: the point parts it into four of which it is a corner.

    Over one of them, a by b, ∫ √(x² + y²) is a·b·d/3 + a³/6·asinh(b/a) + b³/6·asinh(a/b) with the diagonal d.
    Source: elementary integration in polar coordinates.
    """

    def moment(a: float, b: float) -> float:
        if a <= 0 or b <= 0:
            return 0.0
        return a * b * math.hypot(a, b) / 3 + a**3 / 6 * math.asinh(b / a) + b**3 / 6 * math.asinh(a / b)

    whole = sum(moment(half_x + right * x, half_y + up * y) for right in (1, -1) for up in (1, -1))
    return whole / (4 * half_x * half_y)


def _mean_distance_in_circle(radius: float, off_middle: float) -> float:
    """Mean distance from a point in a circle: ∫ (distance to the wall)³/3 over all directions, by the area."""

    def cube(angle: float) -> float:
        across = off_middle * math.sin(angle)
        to_wall = off_middle * math.cos(angle) + math.sqrt(max(radius * radius - across * across, 0.0))
        return max(to_wall, 0.0) ** 3

    # From a point on the wall half of all directions lead out of the circle: the integrand has a kink at π/2.
    none = 1e-13 * radius**3
    halves = ((0.0, math.pi / 2), (math.pi / 2, math.pi))
    parts = [quad(cube, low, high, epsabs=none, epsrel=1e-11, limit=200)[0] for low, high in halves]
    return 2 * sum(parts) / (3 * math.pi * radius * radius)


def reading_correction_m(
    shape: Shape, kind: ConeKind, cone: Cone, sensor_radius_m: float, sensor_bearing_rad: float | None = None
) -> float:
    """What to add to a reading (m) to get the mean level of a surface that is one cone from wall to wall.

    Parameters
    ----------
    kind    "heap": tan(a)·(d − mean distance); "funnel": tan(d)·(mean distance − d), d from the tip to the sensor
    cone    its place and slope are used, its level is not
    sensor  place of the sensor

    Raises ValueError for a place outside and an unknown kind.
    Validity: upright walls at the surface, and a cone that covers all of it; `compare_reading` shows what is left of
    the error elsewhere.
    Source: mean of a cone over the plan, elementary geometry.
    """
    if kind not in ("heap", "funnel"):
        raise ValueError(f"kind = {kind!r}: accepted is heap or funnel")
    x, y = cone.centre(shape)
    x_sensor, y_sensor = local_point(shape, sensor_radius_m, sensor_bearing_rad)
    beyond = math.hypot(x_sensor - x, y_sensor - y) - mean_distance_m(shape, cone.radius_m, cone.bearing_rad)
    return slope_of(cone.slope_rad) * (beyond if kind == "heap" else -beyond)


def tip_level_m(
    shape: Shape, kind: ConeKind, cone: Cone, reading_m: float, sensor_radius_m: float,
    sensor_bearing_rad: float | None = None,
) -> float:  # fmt: skip
    """Level (m) of a cone's tip from a reading (m) on its slope; the cone's own level is not used.

    Raises ValueError for a place outside, an unknown kind, a reading that is not finite.
    """
    if kind not in ("heap", "funnel"):
        raise ValueError(f"kind = {kind!r}: accepted is heap or funnel")
    if not math.isfinite(reading_m):
        raise ValueError(f"reading_m = {reading_m!r} m: accepted is a finite level")
    x, y = cone.centre(shape)
    x_sensor, y_sensor = local_point(shape, sensor_radius_m, sensor_bearing_rad)
    fall = math.tan(cone.slope_rad) * math.hypot(x_sensor - x, y_sensor - y)
    return reading_m + fall if kind == "heap" else reading_m - fall


def compare_reading(
    shape: Shape, surface: SolidSurface, sensor_radius_m: float, sensor_bearing_rad: float | None = None,
    accuracy: float = ACCURACY,
) -> ReadingError:  # fmt: skip
    """What a sensor at a place reads of a surface, with the error of volume as read and after correction.

    The correction is that of the cone on which the sensor looks: of the funnel where that is the surface at its place,
    of the heap otherwise, none on a level rest.

    Raises ValueError as `volume_under`, and for a sensor outside the vessel.
    """
    x, y = local_point(shape, sensor_radius_m, sensor_bearing_rad)
    true = volume_under(shape, surface, accuracy)
    place = np.array([x]), np.array([y])
    level = float(surface.level_at_m(shape, *place)[0])
    reading = min(surface_level_m(shape, surface, sensor_radius_m, sensor_bearing_rad), shape.height_m)
    correction = 0.0
    cones: tuple[tuple[ConeKind, Cone | None], ...] = (("funnel", surface.funnel), ("heap", surface.heap))
    for kind, cone in cones:
        if cone is None:
            continue
        sign = -1.0 if kind == "heap" else 1.0
        if math.isclose(level, cone.tip_level_m + sign * float(cone.fall_m(shape, *place)[0]), abs_tol=1e-12):
            correction = reading_correction_m(shape, kind, cone, sensor_radius_m, sensor_bearing_rad)
            break
    as_read = shape.volume_m3(reading)
    corrected_level = reading + correction
    corrected = shape.volume_m3(corrected_level) if 0 <= corrected_level <= shape.height_m else None

    def share(volume: float | None) -> float | None:
        return None if volume is None or true.volume_m3 == 0 else volume / true.volume_m3 - 1

    return ReadingError(
        reading, true.mean_level_m, true.volume_m3, as_read, share(as_read), correction, corrected, share(corrected)
    )


def cone_height_m(shape: Shape, cone: Cone) -> float:
    """Difference of level (m) between a cone's tip and where it meets the wall farthest away; R·tan(a) in the middle
    of a round vessel."""
    x, y = cone.centre(shape)
    if shape.is_round:
        farthest = shape.reach_m() + math.hypot(x, y)
    else:
        farthest = max(math.hypot(x_wall - x, y_wall - y) for x_wall, y_wall in shape.plan_outline())
    return math.tan(cone.slope_rad) * farthest


def free_pile_volume_m3(height_m: float, slope_rad: float) -> float:
    """Volume (m³) of a round heap on level ground that no wall touches: π·h³/(3·tan²a).

    height_m   from 0, m      slope_rad  angle of repose, above 0, below π/2
    Source: volume of a cone.
    """
    if not (math.isfinite(height_m) and height_m >= 0):
        raise ValueError(f"height_m = {height_m!r} m: accepted is a finite height from 0 m")
    return math.pi * height_m**3 / (3 * slope_of(slope_rad) ** 2)


def free_pile_height_m(volume_m3: float, slope_rad: float) -> float:
    """Height (m) of a round heap on level ground from its volume (m³): inverse of `free_pile_volume_m3`."""
    if not (math.isfinite(volume_m3) and volume_m3 >= 0):
        raise ValueError(f"volume_m3 = {volume_m3!r} m³: accepted is a finite volume from 0 m³")
    return float(np.cbrt(3 * volume_m3 * slope_of(slope_rad) ** 2 / math.pi))
