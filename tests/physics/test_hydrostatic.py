"""Pressure differences of level measurements: worked examples, and what must hold whatever the numbers."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from instruments.physics.hydrostatic import (
    STANDARD_GRAVITY_M_S2,
    Densities,
    Taps,
    indicated_level_m,
    pressure_difference_pa,
)

G = STANDARD_GRAVITY_M_S2
MM_WATER_PA = 9.80665  # 1 mm of water of 1000 kg/m³ at standard gravity
INCH_M = 0.0254


def liquid(gravity: float, wet: float = 0.0, above: float = 0.0) -> Densities:
    """Densities of a liquid by its relative density (of 1000 kg/m³) with its own line below; a dry or a wet leg."""
    return Densities(gravity * 1000, above, gravity * 1000, wet * 1000)


def span(densities: Densities, zero: float, hundred: float, upper: float, transmitter: float, unit_m: float):
    """Differences at 0 % and 100 %, in units of a head of water; lower tap at 0, lengths in units."""
    taps = Taps(0.0, upper * unit_m, transmitter * unit_m)
    return [pressure_difference_pa(level * unit_m, taps, densities) / (1000 * G * unit_m) for level in (zero, hundred)]


# Worked examples as open texts on differential pressure level give them, computed from hydrostatics; the texts are
# cited from memory. Lengths and results in mm (of water).
@pytest.mark.parametrize(
    "densities, zero, hundred, upper, transmitter, expected",
    [
        (liquid(1.14), 0, 8200, 8200, 0, [0, 9348]),  # dry leg, transmitter at the lower tap
        (liquid(0.92, wet=0.94), 0, 7270, 8210, 0, [-7717.4, -1029.0]),  # wet leg of 8210
        (liquid(1.12), 0, 5470, 5740, 1250, [-1400, 4726.4]),  # transmitter 1250 above the 0 % tap, dry leg
        (liquid(1.12, wet=1.17), 0, 5470, 5740, 1250, [-6653.3, -526.9]),  # the same with 4490 of wet leg above it
    ],
)
def test_worked_examples_in_mm_of_water(densities, zero, hundred, upper, transmitter, expected):
    assert span(densities, zero, hundred, upper, transmitter, 0.001) == pytest.approx(expected, rel=1e-9, abs=1e-9)


# The same in inches (of water), relative density 1.1.
@pytest.mark.parametrize(
    "densities, zero, hundred, upper, transmitter, expected",
    [
        (liquid(1.1), 0, 80, 80, 0, [0, 88]),  # open, tap at 0 %
        (liquid(1.1), 10, 70, 80, 0, [11, 77]),  # 0 % lies 10 above the tap
        (liquid(1.1), 0, 80, 80, -10, [11, 99]),  # transmitter 10 below the tap
        (liquid(1.1, wet=1.1), 0, 60, 80, 0, [-88, -22]),  # closed, wet leg of 80
    ],
)
def test_worked_examples_in_inches_of_water(densities, zero, hundred, upper, transmitter, expected):
    found = span(densities, zero, hundred, upper, transmitter, INCH_M)
    assert found == pytest.approx(expected, rel=1e-9, abs=1e-9)


# Computed from hydrostatics, kPa. The last: one seal on an open tank, the transmitter 2 m below it; the air above
# weighs nothing, and on the other side there is no line.
@pytest.mark.parametrize(
    "taps, densities, zero, hundred, expected",
    [
        (Taps(0.5, 5.2, 0.0), liquid(0.85, wet=1.11), 0.5, 4.5, [-52.436, -19.094]),
        (Taps(0.0, 4.0, 1.7), Densities(950, 0, 934, 934), 0.0, 4.0, [-36.638, 0.628]),
        (Taps(0.0, 4.0, -2.0), Densities(950, 0, 934, 0), 0.0, 4.0, [18.319, 55.584]),
    ],
)
def test_computed_ranges(taps, densities, zero, hundred, expected):
    found = [pressure_difference_pa(level, taps, densities) / 1000 for level in (zero, hundred)]
    assert found == pytest.approx(expected, abs=0.0005)


def test_a_boiler_drum_at_100_bar():
    # Saturated water and steam at 100 bar and water at 40 °C and 100 bar, by IAPWS-95 as the open library CoolProp
    # computes it; taps 1 m apart, the wet leg at 40 °C.
    drum = Densities(medium=688.42, above=55.463, lower_line=996.52, upper_line=996.52)
    taps = Taps(0.0, 1.0, 0.0)
    low, high = (pressure_difference_pa(level, taps, drum) for level in (0.0, 1.0))
    assert [low, high] == pytest.approx([-9228.6, -3021.3], rel=1e-4)
    assert high - low == pytest.approx(6207.2, rel=1e-4)


@pytest.mark.parametrize("transmitter_m", [-3.0, 0.0, 1.7, 4.0, 20.0])
def test_between_two_seals_the_transmitter_s_height_cancels(transmitter_m):
    found = pressure_difference_pa(1.0, Taps(0.0, 4.0, transmitter_m), Densities(950, 1.2, 934, 934))
    assert found == pytest.approx(pressure_difference_pa(1.0, Taps(0.0, 4.0, 0.0), Densities(950, 1.2, 934, 934)))


# Open tank, dry leg, no vapour: shown over true is ρ/ρ_set (hydrostatics): −5 % and −5.882 %.
@pytest.mark.parametrize("actual, assumed, error", [(950, 1000, -0.05), (800, 850, -0.05882)])
def test_a_lighter_liquid_reads_low(actual, assumed, error):
    taps = Taps(0.0, 10.0, 0.0)
    at_lrv, at_urv = (pressure_difference_pa(level, taps, Densities(assumed, 0, 0, 0)) for level in (0.0, 10.0))
    shown = indicated_level_m(pressure_difference_pa(10.0, taps, Densities(actual, 0, 0, 0)), at_lrv, at_urv, 0.0, 10.0)
    assert shown / 10 - 1 == pytest.approx(error, abs=5e-6)


HEIGHTS = st.floats(-50, 50)
DENSITY = st.floats(0, 3000)


@given(HEIGHTS, st.floats(0.01, 50), HEIGHTS, DENSITY, DENSITY, DENSITY, DENSITY)
def test_span_is_the_difference_of_the_two_fluids(lower, between, transmitter, medium, above, low_line, up_line):
    taps = Taps(lower, lower + between, transmitter)
    densities = Densities(medium, above, low_line, up_line)
    low, high = (pressure_difference_pa(level, taps, densities) for level in (taps.lower_m, taps.upper_m))
    assert high - low == pytest.approx((medium - above) * G * (taps.upper_m - taps.lower_m), rel=1e-9, abs=1e-4)


@given(st.floats(0, 1), st.floats(1, 3000), DENSITY)
def test_the_level_that_was_set_is_shown(share, medium, leg):
    taps, densities = Taps(0.0, 5.0, 1.0), Densities(medium, 0.0, medium, leg)
    at_lrv, at_urv = (pressure_difference_pa(level, taps, densities) for level in (1.0, 4.0))
    level = 1.0 + share * 3.0
    shown = indicated_level_m(pressure_difference_pa(level, taps, densities), at_lrv, at_urv, 1.0, 4.0)
    assert shown == pytest.approx(level, abs=1e-6)


GOOD_TAPS, GOOD = Taps(0.0, 4.0, 0.0), Densities(1000, 0, 1000, 0)


@pytest.mark.parametrize(
    "level, taps, densities, named",
    [
        (-1e-9, GOOD_TAPS, GOOD, "level_m"),
        (4.001, GOOD_TAPS, GOOD, "level_m"),
        (math.nan, GOOD_TAPS, GOOD, "level_m"),
        (1.0, Taps(4.0, 4.0, 0.0), GOOD, "upper_m"),
        (1.0, Taps(0.0, math.inf, 0.0), GOOD, "upper_m"),
        (1.0, Taps(0.0, 4.0, math.nan), GOOD, "transmitter_m"),
        (1.0, GOOD_TAPS, replace(GOOD, above=-0.1), "above"),
        (1.0, GOOD_TAPS, replace(GOOD, medium=math.nan), "medium"),
    ],
)
def test_refused(level, taps, densities, named):
    with pytest.raises(ValueError, match=named):
        pressure_difference_pa(level, taps, densities)


def test_no_span_is_refused():
    with pytest.raises(ValueError, match="at_urv_pa"):
        indicated_level_m(1.0, 5.0, 5.0, 0.0, 1.0)
    with pytest.raises(ValueError, match="lrv_m"):
        indicated_level_m(1.0, 5.0, 6.0, math.inf, 1.0)
