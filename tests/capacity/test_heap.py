"""Heaps, funnels and planes: closed forms, published integrals, and readings against volumes."""

import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import dblquad
from scipy.special import ellipe, ellipk

from tests.capacity.samples import box, degrees, silo, unhurried, vessel
from vessels.capacity.heap import (
    compare_reading,
    cone_height_m,
    free_pile_height_m,
    free_pile_volume_m3,
    mean_distance_m,
    reading_correction_m,
    tip_level_m,
    volume_under,
)
from vessels.capacity.surface import Cone, InclinedPlane, SolidSurface

SILO = silo(3.0, 20.0)
ANGLE = degrees(35)


def heap(tip: float, angle: float = ANGLE, radius: float = 0.0, bearing: float | None = None) -> SolidSurface:
    return SolidSurface(heap=Cone(tip, angle, radius, bearing))


# --- heaps in a straight round vessel -----------------------------------------------------------------------


@pytest.mark.parametrize(
    "diameter, angle, height, volume",
    [(4, 30, 1.154701, 4.836798), (6, 35, 2.100623, 19.797902), (10, 40, 4.195498, 109.837885)],
)
def test_central_heap_is_a_cone(diameter: float, angle: float, height: float, volume: float):
    """h = R·tan a, V = π·R³·tan a/3: volume of a cone, digits by hand. "Add a third of the cone's height" to the level
    at the wall is a rule of published weighing handbooks too."""
    shape = silo(diameter / 2, 20)
    cone = Cone(0.0, degrees(angle))
    assert cone_height_m(shape, cone) == pytest.approx(height, abs=5e-7)
    found = volume_under(shape, heap(7 + height, degrees(angle)))
    assert found.volume_m3 - shape.volume_m3(7.0) == pytest.approx(volume, abs=2e-5)
    assert found.mean_level_m == pytest.approx(7 + height / 3, abs=1e-6)
    assert found.relative_error <= 1e-6


@pytest.mark.parametrize(
    "radius, correction", [(0, -1.400415), (1, -0.700208), (2, 0.0), (2.5, 0.350104), (3, 0.700208)]
)
def test_correction_by_the_place_of_the_sensor(radius: float, correction: float):
    """R = 3 m, 35°: mean − reading = tan a·(r − 2R/3), by the volume of a cone; digits by hand. A funnel is the same
    with the sign turned, and two thirds of the radius need none in both."""
    assert reading_correction_m(SILO, "heap", Cone(0, ANGLE), radius, 1.0) == pytest.approx(correction, abs=5e-7)
    assert reading_correction_m(SILO, "funnel", Cone(0, ANGLE), radius) == pytest.approx(-correction, abs=5e-7)


def test_reading_the_peak_overstates_the_volume():
    """Wall level 5 m, R = 3 m, 35°: (5 + 2.100623)/(5 + 2.100623/3) = 1.2457, by hand."""
    found = compare_reading(SILO, heap(5 + 3 * math.tan(ANGLE)), 0.0)
    assert found.reading_m == pytest.approx(7.100623, abs=5e-7)
    assert found.error_as_read_share == pytest.approx(0.2457, abs=5e-5)
    assert found.correction_m == pytest.approx(-1.400415, abs=5e-7)
    assert found.error_corrected_share == pytest.approx(0, abs=1e-9)
    assert found.volume_corrected_m3 == pytest.approx(found.volume_m3, rel=1e-9)


def test_reading_the_bottom_of_a_funnel_understates_it():
    surface = SolidSurface(funnel=Cone(5.0, ANGLE))
    found = compare_reading(SILO, surface, 0.0)
    assert found.mean_level_m == pytest.approx(5 + 2 * math.tan(ANGLE), abs=1e-6)
    assert found.error_as_read_share == pytest.approx(5 / (5 + 2 * math.tan(ANGLE)) - 1, abs=1e-6)
    assert found.error_corrected_share == pytest.approx(0, abs=1e-9)


@given(st.floats(5, 60), st.floats(0, 3), st.floats(0, 6.28), st.floats(0, 3), st.floats(0, 6.28))
@settings(max_examples=40, deadline=None)
def test_any_inlet_and_any_sensor_of_a_straight_silo(angle: float, inlet: float, to: float, sensor: float, at: float):
    """With the correction the reading gives the volume, wherever both stand, because the cone covers the surface."""
    shape = silo(3.0, 60.0)
    found = compare_reading(shape, heap(30.0, degrees(angle), inlet, to), sensor, at)
    assert found.error_corrected_share == pytest.approx(0, abs=2e-6)
    assert tip_level_m(shape, "heap", Cone(0, degrees(angle), inlet, to), found.reading_m, sensor, at) == pytest.approx(
        30
    )


# --- mean distances -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("off_middle, mean", [(0, 0.66667), (1, 0.72183), (2, 0.88246), (3, 1.13177)])
def test_mean_distance_from_an_inlet_off_the_middle(off_middle: float, mean: float):
    """In radii, R = 3 m. From the wall it is 32/(9π), a standard result of geometric probability (M. G. Kendall,
    P. A. P. Moran, 1963; from memory)."""
    assert mean_distance_m(SILO, off_middle, 0.3) / 3 == pytest.approx(mean, abs=5e-6)
    if off_middle == 3:
        assert mean_distance_m(SILO, off_middle) / 3 == pytest.approx(32 / (9 * math.pi), rel=1e-9)


@given(st.floats(0, 0.9999))
@unhurried
def test_mean_distance_in_elliptic_integrals(share: float):
    """4R/(9π)·[(7 + ρ²)·E(ρ²) − 4·(1 − ρ²)·K(ρ²)], ρ the distance from the middle in radii: the known closed form;
    its ends are 2R/3 and 32R/(9π). Integrals as scipy has them."""
    square = share * share
    closed = 4 / (9 * math.pi) * ((7 + square) * ellipe(square) - 4 * (1 - square) * ellipk(square))
    assert mean_distance_m(silo(1.0, 1.0), share) == pytest.approx(closed, rel=1e-8)


def test_mean_distance_in_a_square():
    """(√2 + ln(1 + √2))/6 of the side from the middle = 0.382598, and twice that of half the side from a corner."""
    closed = (math.sqrt(2) + math.log(1 + math.sqrt(2))) / 6
    square = box(4, 4, 3)
    assert mean_distance_m(square) / 4 == pytest.approx(0.382598, abs=5e-7)
    assert mean_distance_m(square) / 4 == pytest.approx(closed, rel=1e-8)
    assert mean_distance_m(square, math.hypot(2, 2) * (1 - 1e-13), math.radians(90 + 45)) / 8 == pytest.approx(
        closed, rel=1e-7
    )


def test_mean_distance_in_a_rectangle_follows_its_direction():
    """An inlet 1.5 m along the length of a box that points 30° from north, against an integral in plain coordinates."""
    shape = box(4, 2, 3, axis_bearing_rad=degrees(30))
    integral, _ = dblquad(lambda y, x: math.hypot(x - 1.5, y), -2, 2, -1, 1, epsabs=1e-9)
    assert mean_distance_m(shape, 1.5, degrees(30)) == pytest.approx(integral / 8, rel=1e-7)
    assert mean_distance_m(shape, 0.9, degrees(120)) != pytest.approx(
        mean_distance_m(shape, 0.9, degrees(30)), rel=1e-3
    )
    with pytest.raises(ValueError, match="radius_m"):
        mean_distance_m(shape, 1.5, degrees(120))


# --- cones that do not reach the wall -----------------------------------------------------------------------


@pytest.mark.parametrize("height, angle, volume", [(3, 30, 84.823002), (5, 35, 266.983897), (2, 40, 11.898482)])
def test_free_pile(height: float, angle: float, volume: float):
    """π·h³/(3·tan²a), volume of a cone; digits by hand."""
    assert free_pile_volume_m3(height, degrees(angle)) == pytest.approx(volume, abs=1e-5)
    assert free_pile_height_m(volume, degrees(angle)) == pytest.approx(height, abs=1e-7)


@pytest.mark.parametrize("shape", [SILO, box(7, 6, 20)], ids=["round", "rectangular"])
@pytest.mark.parametrize("place", [(0.0, None), (1.2, 0.7)])
def test_a_heap_and_a_funnel_in_a_level_surface(shape: Any, place: tuple[float, float | None]):
    """A cone of 1 m that no wall touches adds or takes the volume of a free pile."""
    cone = free_pile_volume_m3(1.0, ANGLE)
    level = shape.volume_m3(5.0)
    piled = volume_under(shape, SolidSurface(heap=Cone(6.0, ANGLE, *place), rest_level_m=5.0))
    drawn = volume_under(shape, SolidSurface(funnel=Cone(4.0, ANGLE, *place), rest_level_m=5.0))
    assert piled.volume_m3 == pytest.approx(level + cone, rel=1e-6)
    assert drawn.volume_m3 == pytest.approx(level - cone, rel=1e-6)
    alone = volume_under(shape, heap(1.0, ANGLE, *place))
    assert alone.volume_m3 == pytest.approx(cone, rel=1e-6)


def test_a_funnel_drawn_into_a_heap_of_the_same_axis():
    """Both slopes meet at d = (peak − low)/(tan a + tan d); heap less the two cones that end there."""
    steep = degrees(55)
    meet = (8.0 - 6.0) / (math.tan(ANGLE) + math.tan(steep))
    lost = math.pi * meet**3 / 3 * (math.tan(ANGLE) + math.tan(steep))
    whole = volume_under(SILO, heap(8.0)).volume_m3
    drawn = volume_under(SILO, SolidSurface(heap=Cone(8.0, ANGLE), funnel=Cone(6.0, steep)))
    assert drawn.volume_m3 == pytest.approx(whole - lost, rel=1e-9)


def test_a_level_rest_is_read_right_without_correction():
    found = compare_reading(SILO, SolidSurface(heap=Cone(5.5, ANGLE), rest_level_m=5.0), 2.5)
    assert (found.reading_m, found.correction_m) == (5.0, 0.0)
    assert found.error_as_read_share < 0


# --- hoppers ------------------------------------------------------------------------------------------------


def test_a_heap_on_a_conical_bottom():
    """The slope z = p − t·r meets a bottom z = s·r at r = p/(s + t); between them lie two cones on that circle, which
    have the volume π·r²·p/3."""
    shape = silo(3.0, 12.0, "cone", bottom_depth_m=4.0)
    slope, peak = 4 / 3, 3.0
    radius = peak / (slope + math.tan(ANGLE))
    found = volume_under(shape, heap(peak))
    assert found.volume_m3 == pytest.approx(math.pi * radius**2 * peak / 3, rel=1e-9)
    assert shape.volume_m3(found.mean_level_m) == pytest.approx(found.volume_m3, rel=1e-9)


@pytest.mark.parametrize("place", [(0.0, None), (0.8, 2.1)])
@pytest.mark.parametrize("bottom", ["cone", "truncated_cone", "hemisphere"])
def test_a_heap_above_a_hopper_by_another_integral(bottom: str, place: tuple[float, float | None]):
    more = {"cone": {"bottom_depth_m": 2.0}, "truncated_cone": {"bottom_depth_m": 2.0, "outlet_diameter_m": 0.6}}
    shape = silo(2.0, 6.0, bottom, **more.get(bottom, {}))
    surface = heap(3.0, ANGLE, *place)
    # The vessel's direction is east where nobody says otherwise; x runs along it.
    turn = (place[1] or 0.0) - math.pi / 2 if place[1] is not None else 0.0
    x0, y0 = place[0] * math.cos(turn), place[0] * math.sin(turn)

    angles = (np.arange(600) + 0.5) * math.pi / 300
    radii = (np.arange(2000) + 0.5) / 1000
    grid_angle, grid_radius = np.meshgrid(angles, radii, indexing="ij")
    distance = np.hypot(grid_radius * np.cos(grid_angle) - x0, grid_radius * np.sin(grid_angle) - y0)
    depth = np.maximum(3.0 - math.tan(ANGLE) * distance - shape.bottom_elevation_m(grid_radius), 0)
    midpoints = float((depth * grid_radius).sum() * (math.pi / 300) * (1 / 1000))
    found = volume_under(shape, surface)
    assert found.volume_m3 == pytest.approx(midpoints, rel=2e-6)
    assert found.relative_error <= 1e-6


def test_a_level_surface_gives_the_volume_of_the_shape():
    hopper = vessel(
        "rectangular", "pyramid_hopper", box_length_m=4.0, box_width_m=3.0, cylinder_height_m=8.0, bottom_depth_m=2.5,
        outlet_length_m=0.5, outlet_width_m=0.4, axis_bearing_rad=0.6,
    )  # fmt: skip
    for shape, levels in ((hopper, (1.0, 2.5, 6.0, 10.5)), (silo(3, 12, "cone", bottom_depth_m=4.0), (1.0, 9.0, 16.0))):
        for level in levels:
            found = volume_under(shape, SolidSurface(rest_level_m=level))
            assert found.volume_m3 == pytest.approx(shape.volume_m3(level), rel=3e-6)


# --- planes -------------------------------------------------------------------------------------------------


def test_planes_through_a_cylinder():
    """R = 2 m, 25°: π·R²·level on the axis where the plane touches neither end, the hoof 2/3·R²·h from a diameter of
    the base, half a cylinder π·R²·h/2 from one point of it (h its height at the wall): elementary geometry, by hand."""
    shape = silo(2.0, 20.0)
    rise = 2 * math.tan(degrees(25))
    for bearing in (None, 0.0, 1.234, -2.0):
        for middle, volume in ((4.0, 50.265482), (0.0, 2.486974), (rise, 11.719590)):
            found = volume_under(shape, InclinedPlane(middle, degrees(25), bearing))
            assert found.volume_m3 == pytest.approx(volume, abs=1e-5)


def test_a_plane_rises_to_its_bearing():
    shape = silo(2.0, 20.0)
    plane = InclinedPlane(4.0, degrees(25), degrees(90))  # to the east, where x runs
    x, y = np.array([2.0, -2.0, 0.0]), np.array([0.0, 0.0, 2.0])
    rise = 2 * math.tan(degrees(25))
    assert plane.level_at_m(shape, x, y) == pytest.approx(np.array([4 + rise, 4 - rise, 4.0]))


# --- what is refused ----------------------------------------------------------------------------------------


def test_a_surface_above_the_roof_is_refused():
    with pytest.raises(ValueError, match="nowhere above the roof"):
        volume_under(SILO, heap(20.001, degrees(5)))
    with pytest.raises(ValueError, match="nowhere above the roof"):
        volume_under(SILO, InclinedPlane(19.0, degrees(30)))
    assert volume_under(SILO, heap(20.0)).volume_m3 < SILO.total_volume_m3


def test_no_solid_at_all():
    found = compare_reading(SILO, heap(-1.0), 0.0)
    assert (found.volume_m3, found.mean_level_m, found.reading_m) == (0.0, 0.0, 0.0)
    assert found.error_as_read_share is None


def test_a_correction_that_leaves_the_vessel_is_missing_not_clamped():
    found = compare_reading(SILO, heap(0.5), 0.0)
    assert found.reading_m == 0.5
    assert found.volume_corrected_m3 is None
    assert found.error_corrected_share is None


@pytest.mark.parametrize("angle", [0.0, -0.1, math.pi / 2, 2.0, math.nan])
def test_angles_have_limits(angle: float):
    for refused in (
        lambda: Cone(1.0, angle),
        lambda: InclinedPlane(1.0, angle),
        lambda: free_pile_volume_m3(1.0, angle),
    ):
        with pytest.raises(ValueError, match="slope_rad"):
            refused()


def test_places_levels_and_names_have_limits():
    with pytest.raises(ValueError, match="radius_m"):
        volume_under(SILO, heap(5.0, ANGLE, 3.1))
    with pytest.raises(ValueError, match="radius_m"):
        compare_reading(SILO, heap(5.0), 3.1)
    with pytest.raises(ValueError, match="bearing_rad"):
        mean_distance_m(SILO, 1.0, math.nan)
    with pytest.raises(ValueError, match="tip_level_m"):
        Cone(math.inf, ANGLE)
    with pytest.raises(ValueError, match="at least one"):
        SolidSurface()
    with pytest.raises(ValueError, match="heap or funnel"):
        reading_correction_m(SILO, "hill", Cone(1, ANGLE), 0.0)
    with pytest.raises(ValueError, match="accuracy"):
        volume_under(SILO, heap(5.0), 1e-12)
    with pytest.raises(ValueError, match="height_m"):
        free_pile_volume_m3(-1.0, ANGLE)
    with pytest.raises(ValueError, match="volume_m3"):
        free_pile_height_m(math.nan, ANGLE)


@pytest.mark.parametrize(("x", "y"), [(0.0, 0.0), (1.2, -0.4), (2.0, 1.0), (-2.0, 0.3)])
def test_the_mean_distance_in_a_rectangle_is_the_integral(x: float, y: float) -> None:
    """Source: the same integral by another way, scipy's dblquad, over a bin of 4 m by 2 m."""
    bin_ = box(4.0, 2.0, 3.0)
    bearing = math.pi / 2 + math.atan2(y, x)  # its length lies east
    moment = dblquad(lambda v, u: math.hypot(u - x, v - y), -2, 2, -1, 1, epsabs=1e-10)[0]
    assert mean_distance_m(bin_, math.hypot(x, y), bearing) == pytest.approx(moment / 8, rel=1e-7)
