"""Speed of sound against published values."""

import math

import pytest

from instruments.physics.acoustics import speed_of_sound_m_s


@pytest.mark.parametrize("celsius", [-20.0, 0.0, 20.0, 40.0, 50.0])
def test_air_by_iso_9613_1(celsius):
    # ISO 9613-1:1993, cited from memory: c = 343.2 m/s · √(T/293.15 K).
    kelvin = celsius + 273.15
    assert speed_of_sound_m_s(kelvin) == pytest.approx(343.2 * math.sqrt(kelvin / 293.15), rel=3e-4)


@pytest.mark.parametrize(
    "celsius, speed",
    [
        (-20, 318.960),
        (0, 331.320),
        (20, 343.235),
        (40, 354.750),
        (60, 365.903),
        (80, 376.727),
        (100, 387.247),
    ],
)
def test_air_as_ideal_gas(celsius, speed):
    # Newton–Laplace with γ = 1.4 and M = 28.9647 g/mol (dry air, U.S. Standard Atmosphere 1976).
    assert speed_of_sound_m_s(celsius + 273.15) == pytest.approx(speed, abs=6e-4)


@pytest.mark.parametrize(
    "ratio, molar_mass, speed",
    [
        (1.40, 0.0280134, 349.1),  # nitrogen
        (5 / 3, 0.0040026, 1007.9),  # helium
        (5 / 3, 0.039948, 318.96),  # argon
    ],
)
def test_other_gases_at_20_degrees(ratio, molar_mass, speed):
    # Reference equations of state by CoolProp 8.0.0 at 20 °C and 101.325 kPa.
    assert speed_of_sound_m_s(293.15, ratio, molar_mass) == pytest.approx(speed, rel=1.5e-3)


@pytest.mark.parametrize(
    "arguments, named",
    [((0.0,), "temperature_k"), ((math.nan,), "temperature_k"), ((293.0, 1.0), "heat_capacity_ratio"),
     ((293.0, 1.4, 0.0), "molar_mass_kg_mol")],
)  # fmt: skip
def test_refuses_by_name(arguments, named):
    with pytest.raises(ValueError, match=named):
        speed_of_sound_m_s(*arguments)
