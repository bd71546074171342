"""Gas above a level against published values and libraries outside the project."""

import math

import pytest
from chemicals import permittivity_IAPWS
from CoolProp.CoolProp import PropsSI
from iapws import IAPWS95

from instruments.physics.gas import (
    GASES,
    distance_ratio,
    distance_ratio_in_tube,
    find_gas,
    gas_permittivity,
    gas_sound_m_s,
)
from instruments.physics.steam import steam


@pytest.mark.parametrize(
    "bar, percent", [(1.01325, 0.294), (10, 2.125), (25, 4.789), (50, 9.193), (100, 19.367), (150, 33.942)]
)
def test_error_in_saturated_steam(bar, percent):
    """IAPWS R8-97 with IAPWS-95 densities; IAPWS-IF97, used here, is within 0.03 % of them."""
    state = steam(bar * 1e5)
    assert 100 * (distance_ratio(state.permittivity) - 1) == pytest.approx(percent, rel=4e-4, abs=6e-4)


@pytest.mark.parametrize("bar", [0.1, 1.0, 10, 60, 100, 150])
def test_steam_against_another_implementation_of_the_permittivity(bar):
    """IAPWS R8-97 as implemented in the library chemicals; boiling by CoolProp (IAPWS-95)."""
    state = steam(bar * 1e5)
    assert state.permittivity == pytest.approx(permittivity_IAPWS(state.saturation_k, state.density_kg_m3), abs=1e-5)
    assert state.saturation_k == pytest.approx(PropsSI("T", "P", bar * 1e5, "Q", 1, "Water"), abs=0.02)
    assert state.density_kg_m3 == pytest.approx(PropsSI("D", "P", bar * 1e5, "Q", 1, "Water"), rel=5e-4)


@pytest.mark.parametrize(
    "density, temperature_k, value",
    [(999.242866, 298.15, 78.5907250), (26.0569558, 873.15, 1.12620970), (523.371289, 673.15, 10.3126058)],
)
def test_check_values_of_the_permittivity_formulation(density, temperature_k, value):
    """IAPWS R8-97, table of check values: what `steam` rests on gives them."""
    state = IAPWS95(rho=density, T=temperature_k)
    assert state.epsilon == pytest.approx(value, rel=2e-5)


def test_steam_superheated_saturated_and_too_cold():
    boiling = steam(60e5).saturation_k
    assert steam(60e5, boiling + 2.0) == steam(60e5)
    hot = steam(60e5, boiling + 60.0)
    assert hot.density_kg_m3 == pytest.approx(PropsSI("D", "P", 60e5, "T", boiling + 60.0, "Water"), rel=1e-3)
    assert hot.permittivity < steam(60e5).permittivity
    assert steam(60e5, boiling - 2.01) is None


@pytest.mark.parametrize("pressure, temperature", [(0.0, None), (22.1e6, None), (math.nan, None), (1e5, 900.0)])
def test_steam_outside_its_range(pressure, temperature):
    with pytest.raises(ValueError, match="accepted is"):
        steam(pressure, temperature)


@pytest.mark.parametrize(
    "name, fluid, bar, percent, tolerance",
    [
        ("nitrogen", "Nitrogen", 10, 0.271, 1e-3), ("nitrogen", "Nitrogen", 40, 1.090, 1e-3),
        ("nitrogen", "Nitrogen", 100, 2.714, 2e-3), ("air", "Air", 40, 1.072, 1e-3),
        ("carbon dioxide", "CO2", 20, 1.023, 2e-3), ("carbon dioxide", "CO2", 40, 2.453, 3e-3),
        ("methane", "Methane", 40, 1.723, 2e-3), ("ethylene", "Ethylene", 40, 3.76, 5e-3),
        ("hydrogen", "Hydrogen", 100, 1.184, 2e-3),
    ],
)  # fmt: skip
def test_pressurised_gas(name, fluid, bar, percent, tolerance):
    """Clausius–Mossotti from handbook values at 20 °C and 1 atm (from memory), with CoolProp's density."""
    density = PropsSI("D", "T", 293.15, "P", bar * 1e5, fluid)
    value = gas_permittivity(name, bar * 1e5, 293.15, density)
    assert 100 * (distance_ratio(value) - 1) == pytest.approx(percent, abs=2 * tolerance)


def test_air_near_the_formula_for_the_atmosphere():
    """ITU-R P.453, dry air at 20 °C and 1013.25 hPa: n − 1 = 268.218e-6; at 0 °C 287.857e-6."""
    for celsius, parts in ((20, 268.218e-6), (0, 287.857e-6)):
        value = gas_permittivity("air", 101_325.0, 273.15 + celsius)
        assert distance_ratio(value) - 1 == pytest.approx(parts, rel=2e-3)


def test_without_a_density_only_where_the_gas_is_nearly_ideal():
    assert gas_permittivity("carbon dioxide", 5e5, 293.15) is not None
    assert gas_permittivity("carbon dioxide", 5.0001e5, 293.15) is None
    assert gas_permittivity("nitrogen", 50e5, 293.15) is not None
    assert gas_permittivity("nitrogen", 50.001e5, 293.15) is None
    assert gas_permittivity("ammonia", 1e5, 293.15) is None


@pytest.mark.parametrize("fluid, name", [("Air", "air"), ("CO2", "carbon dioxide"), ("Methane", "methane")])
def test_speed_of_sound(fluid, name):
    """Reference equations of state (CoolProp) at 1 atm, 0 to 60 °C; CO2's heat capacity changes most."""
    for celsius in (0, 20, 60):
        true = PropsSI("A", "T", 273.15 + celsius, "P", 101_325, fluid)
        assert gas_sound_m_s(name, 273.15 + celsius) == pytest.approx(true, rel=1.5e-2)
    assert GASES["carbon dioxide"].sound_m_s / GASES["air"].sound_m_s - 1 == pytest.approx(-0.22, abs=0.005)


def test_in_a_tube_that_the_sensor_knows_nothing_of():
    """Mode TE11: d = d_app·√(1 − (1.841·λ/(π·D))²); 26 GHz in 80 mm."""
    wavelength = 299_792_458.0 / 26e9
    expected = 1 / math.sqrt(1 - (1.841 * wavelength / (math.pi * 0.08)) ** 2)
    assert distance_ratio_in_tube(1.0, 26e9, 0.08) == pytest.approx(expected, rel=1e-5)
    assert distance_ratio_in_tube(1.2, 26e9, 100.0) == pytest.approx(math.sqrt(1.2), rel=1e-6)
    assert distance_ratio_in_tube(1.0, 26e9, 0.006) is None  # cut off below 6.76 mm


@pytest.mark.parametrize(
    "text, name",
    [("Air", "air"), ("Air, moist", "air"), ("N2", "nitrogen"), ("Propane vapour", "propane"),
     ("CO2", "carbon dioxide"),
     ("Saturated steam", "steam"), ("Water vapour", "steam"), ("Nitrogen and methanol vapour", None), ("", None)],
)  # fmt: skip
def test_names(text, name):
    assert find_gas(text) == name


def test_wrong_input_says_what_is_accepted():
    for call in (
        lambda: gas_permittivity("xenon", 1e5, 300.0), lambda: gas_permittivity("air", -1.0, 300.0),
        lambda: gas_permittivity("air", 1e5, 0.0), lambda: gas_permittivity("air", 1e5, 300.0, -1.0),
        lambda: distance_ratio(0.9), lambda: distance_ratio_in_tube(1.0, 0.0, 0.1),
        lambda: gas_sound_m_s("xenon", 300.0),
    ):  # fmt: skip
        with pytest.raises(ValueError, match="accepted is"):
            call()
