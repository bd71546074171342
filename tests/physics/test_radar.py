"""Echo, beam and range of free-radiating radar against published values."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import brentq
from scipy.special import jv

from instruments.physics.radar import (
    beamwidth_rad,
    derated_range_m,
    echo_level_db,
    footprint_diameter_m,
    power_reflection,
    wavelength_m,
)

# Fresnel equations at normal incidence, R = ((n − 1)/(n + 1))² with n = √εr; figures to the digits printed.
FRESNEL = [
    (1.4, 0.007043, -21.523),
    (1.6, 0.013680, -18.639),
    (1.9, 0.025313, -15.967),
    (2.0, 0.029437, -15.311),
    (3.0, 0.071797, -11.439),
    (4.0, 0.111111, -9.542),
    (10.0, 0.269874, -5.688),
    (80.0, 0.638208, -1.950),
]


@pytest.mark.parametrize("permittivity, reflection, level_db", FRESNEL)
def test_fresnel_echo(permittivity, reflection, level_db):
    assert power_reflection(permittivity) == pytest.approx(reflection, abs=6e-7)
    assert echo_level_db(permittivity) == pytest.approx(level_db, abs=6e-4)


def test_glass_returns_four_per_cent():
    # E. Hecht, Optics, cited from memory, on Fresnel's equations: about 4 % from an air–glass surface, n = 1.5.
    assert power_reflection(1.5**2) == pytest.approx(0.04, rel=1e-12)


@pytest.mark.parametrize("permittivity", [0.99, 0.0, -3.0, math.nan, math.inf])
def test_reflection_refuses_what_is_no_permittivity(permittivity):
    with pytest.raises(ValueError, match="permittivity"):
        power_reflection(permittivity)


def test_no_echo_level_of_a_vacuum():
    assert power_reflection(1.0) == 0.0
    with pytest.raises(ValueError, match="above 1"):
        echo_level_db(1.0)


# 70 λ/D with c = 299 792 458 m/s and its footprint at 10 m; common practice, no source.
BEAMS = [
    (6e9, 0.200, 17.488, 3.0761),
    (10e9, 0.148, 14.179, 2.4875),
    (26e9, 0.040, 20.178, 3.5586),
    (26e9, 0.095, 8.496, 1.4856),
    (80e9, 0.040, 6.558, 1.1458),
    (80e9, 0.075, 3.498, 0.6106),
]


@pytest.mark.parametrize("frequency_hz, aperture_m, beam_deg, footprint_m", BEAMS)
def test_beam_and_footprint(frequency_hz, aperture_m, beam_deg, footprint_m):
    beam_rad = beamwidth_rad(wavelength_m(frequency_hz), aperture_m)
    assert math.degrees(beam_rad) == pytest.approx(beam_deg, abs=6e-4)
    assert footprint_diameter_m(10.0, beam_rad) == pytest.approx(footprint_m, abs=6e-5)


def test_seventy_lies_between_exact_circular_apertures():
    """Half-power width of a circular aperture by its diffraction pattern (C. Balanis, Antenna Theory, from memory:
    about 59 λ/D uniform, about 73 λ/D with a parabolic taper)."""

    def width_deg(order: int) -> float:
        # Normalised field n!·2ⁿ·J_n(u)/uⁿ: n = 1 uniform, n = 2 parabolic taper; u = (π D/λ)·sin θ.
        scale = math.factorial(order) * 2**order
        half = brentq(lambda u: scale * jv(order, u) / u**order - math.sqrt(0.5), 0.5, 3.0)
        return 2 * math.degrees(half / math.pi)

    assert width_deg(1) == pytest.approx(58.957, abs=1e-3)
    assert width_deg(2) == pytest.approx(72.748, abs=1e-3)
    assert width_deg(1) < math.degrees(beamwidth_rad(1.0, 1.0)) < width_deg(2)


def test_acoustic_beam_of_a_transducer():
    # The same rule with the wavelength of sound: 50 kHz at 343 m/s is 6.86 mm.
    assert wavelength_m(50e3, 343.0) == pytest.approx(6.86e-3)
    assert math.degrees(beamwidth_rad(6.86e-3, 0.040)) == pytest.approx(12.0, abs=0.01)


def test_derating_example():
    # Medium of εr 3 against a reference of −2 dB: 9.4 dB less echo, factor 0.34.
    loss_db = -2.0 - echo_level_db(3.0)
    assert loss_db == pytest.approx(9.44, abs=0.005)
    assert derated_range_m(100.0, -2.0, echo_level_db(3.0)) == pytest.approx(33.7, abs=0.05)


def test_six_decibels_halve_the_range():
    assert derated_range_m(20.0, -6.0, -6.0 - 20 * math.log10(2)) == pytest.approx(10.0)
    assert derated_range_m(20.0, -6.0, -6.0, 20 * math.log10(2)) == pytest.approx(10.0)


def test_a_stronger_echo_does_not_lengthen_the_range():
    assert derated_range_m(20.0, -9.54, echo_level_db(80.0)) == 20.0


@pytest.mark.parametrize(
    "arguments, named",
    [
        ((0.0, -2.0, -3.0), "class_range_m"),
        ((math.nan, -2.0, -3.0), "class_range_m"),
        ((20.0, 0.1, -3.0), "reference_echo_db"),
        ((20.0, -2.0, 0.1), "medium_echo_db"),
        ((20.0, -2.0, -3.0, -1.0), "allowances_db"),
    ],
)
def test_derating_names_what_is_wrong(arguments, named):
    with pytest.raises(ValueError, match=named):
        derated_range_m(*arguments)


@pytest.mark.parametrize(
    "call, named",
    [
        (lambda: wavelength_m(0.0), "frequency_hz"),
        (lambda: wavelength_m(1e9, -1.0), "speed_m_s"),
        (lambda: beamwidth_rad(0.01, 0.0), "aperture_m"),
        (lambda: beamwidth_rad(math.inf, 0.1), "wavelength_m"),
        (lambda: footprint_diameter_m(-0.1, 0.1), "distance_m"),
        (lambda: footprint_diameter_m(1.0, math.pi), "beam_angle_rad"),
    ],
)
def test_beam_names_what_is_wrong(call, named):
    with pytest.raises(ValueError, match=named):
        call()


@given(st.floats(1.001, 200), st.floats(1.001, 200))
def test_more_permittivity_more_echo(one, other):
    low, high = sorted((one, other))
    assert echo_level_db(low) <= echo_level_db(high) < 0
    assert derated_range_m(30.0, -9.5, echo_level_db(low)) <= derated_range_m(30.0, -9.5, echo_level_db(high)) <= 30.0
