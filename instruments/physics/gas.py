"""Gases above a level: their permittivity, what it does to a reading, and their speed of sound. Pure, in SI."""

import math
import re
from dataclasses import dataclass

BASE_TEMPERATURE_K = 293.15
BASE_PRESSURE_PA_ABS = 101_325.0
PERMITTIVITY_SOURCE = "Clausius–Mossotti from the value at 20 °C and 1 atm (handbook, from memory)"
SOUND_SOURCE = "Speed of sound at 20 °C and 1 atm (reference equations of state), times √(T/293.15 K)"

# Pressed harder than this, a gas's density is not taken from the ideal gas law: within some 5 % of εr − 1.
NEARLY_IDEAL_TO_PA_ABS = {"air": 50e5, "nitrogen": 50e5, "hydrogen": 50e5, "methane": 25e5}
OTHERS_NEARLY_IDEAL_TO_PA_ABS = 5e5

TE11_ROOT = 1.841183781340659  # first zero of J1', the lowest mode of a round tube


@dataclass(frozen=True, slots=True)
class Gas:
    """A gas.

    density_kg_m3  at 20 °C and 1 atm
    permittivity   at 20 °C and 1 atm; None where it is not known here
    sound_m_s      speed of sound at 20 °C and 1 atm; None where it is not known here
    """

    name: str
    density_kg_m3: float
    permittivity: float | None
    sound_m_s: float | None


# Permittivities: recalled handbook values. Densities and speeds of sound: computed from reference equations of state.
GASES = {
    gas.name: gas
    for gas in (
        Gas("air", 1.2046, 1.0005364, 343.344),
        Gas("nitrogen", 1.1648, 1.0005480, 349.10),
        Gas("carbon dioxide", 1.8393, 1.000922, 266.56),
        Gas("methane", 0.6682, 1.00081, 445.01),
        Gas("hydrogen", 0.08375, 1.0002538, 1304.7),
        Gas("ethylene", 1.1733, 1.00134, None),
        Gas("propane", 1.8650, 1.00200, 246.59),
        Gas("oxygen", 1.3312, None, 326.00),
        Gas("argon", 1.6618, None, 318.96),
        Gas("helium", 0.16631, None, 1007.9),
        Gas("ammonia", 0.7161, None, 429.51),
        Gas("sulfur dioxide", 2.7122, None, 217.03),
    )
}
STEAM = "steam"
_SAME = {
    "n2": "nitrogen", "co2": "carbon dioxide", "ch4": "methane", "h2": "hydrogen", "c2h4": "ethylene",
    "ethene": "ethylene", "c3h8": "propane", "o2": "oxygen", "ar": "argon", "he": "helium", "nh3": "ammonia",
    "so2": "sulfur dioxide", "sulphur dioxide": "sulfur dioxide", "water": STEAM, "steam": STEAM,
}  # fmt: skip


def find_gas(text: str) -> str | None:
    """The name of the gas that a text names: a key of `GASES`, or "steam"; None for a mixture or anything unknown.

    "Air", "Air, moist", "Nitrogen", "N2", "Propane vapour", "Saturated steam", "Water vapour" are read. Moist air
    counts as air: saturated at 40 °C it differs by 0.03 % of a distance.
    """
    shown = re.sub(r"[^a-z0-9]+", " ", text.casefold())
    words = [word for word in shown.split() if word not in ("vapour", "vapor", "gas", "saturated", "superheated", "dry",
                                                             "moist", "humid")]  # fmt: skip
    name = " ".join(words)
    name = _SAME.get(name, name)
    return name if name in GASES or name == STEAM else None


def gas_permittivity(
    name: str, pressure_pa_abs: float, temperature_k: float, density_kg_m3: float | None = None
) -> float | None:
    """Relative permittivity of a gas.

    name             a key of `GASES`, else ValueError
    pressure_pa_abs  not negative;  temperature_k  above 0
    density_kg_m3    of this gas, where it is known; without it the ideal gas law gives it, where it still holds

    Returns None where the gas's permittivity is not known, or its density is needed: above 50 bar for air, nitrogen and
    hydrogen, 25 bar for methane, 5 bar for the others (absolute). Raises ValueError outside the ranges.
    Source: Clausius–Mossotti, (εr − 1)/(εr + 2) ~ ρ, from handbook values at 20 °C and 1 atm (recalled).
    """
    if name not in GASES:
        raise ValueError(f"name is {name!r}; accepted is one of {', '.join(GASES)}")
    _require("pressure_pa_abs", pressure_pa_abs, 0.0)
    _require("temperature_k", temperature_k, 1.0)
    gas = GASES[name]
    if gas.permittivity is None:
        return None
    if density_kg_m3 is not None:
        _require("density_kg_m3", density_kg_m3, 0.0)
        denser = density_kg_m3 / gas.density_kg_m3
    elif pressure_pa_abs <= NEARLY_IDEAL_TO_PA_ABS.get(name, OTHERS_NEARLY_IDEAL_TO_PA_ABS):
        denser = pressure_pa_abs / BASE_PRESSURE_PA_ABS * BASE_TEMPERATURE_K / temperature_k
    else:
        return None
    share = denser * (gas.permittivity - 1.0) / (gas.permittivity + 2.0)
    return (1.0 + 2.0 * share) / (1.0 - share) if share < 1.0 / 3.0 else None


def distance_ratio(permittivity: float) -> float:
    """Distance read over true distance of radar through a gas: √εr. ValueError below 1. Source: light at c/√εr."""
    _require("permittivity", permittivity, 1.0)
    return math.sqrt(permittivity)


def distance_ratio_in_tube(permittivity: float, frequency_hz: float, bore_m: float) -> float | None:
    """Distance read over true distance of radar in a round tube that the sensor knows nothing of.

    permittivity  of the gas, at least 1;  frequency_hz, bore_m  above 0

    Returns εr/√(εr − q) with q = (1.841·λ/(π·D))², λ in vacuum; None where the tube is too narrow to carry the wave.
    Raises ValueError outside the ranges. Valid for the mode TE11 alone in a smooth, straight tube.
    Source: group velocity of the mode TE11 in a round waveguide; for εr = 1 it is 1/√(1 − q).
    """
    _require("permittivity", permittivity, 1.0)
    _require("frequency_hz", frequency_hz, 1.0)
    _require("bore_m", bore_m, 1e-6)
    share = (TE11_ROOT * 299_792_458.0 / frequency_hz / (math.pi * bore_m)) ** 2
    return permittivity / math.sqrt(permittivity - share) if share < permittivity else None


def gas_sound_m_s(name: str, temperature_k: float) -> float | None:
    """Speed of sound in a gas near atmospheric pressure, m/s; None where it is not known here.

    name  a key of `GASES`;  temperature_k  above 0. ValueError else. Valid within some 40 K of 20 °C, where the ratio
    of heat capacities changes little. Source: values at 20 °C and 1 atm from reference equations of state, times √T.
    """
    if name not in GASES:
        raise ValueError(f"name is {name!r}; accepted is one of {', '.join(GASES)}")
    _require("temperature_k", temperature_k, 1.0)
    sound = GASES[name].sound_m_s
    return None if sound is None else sound * math.sqrt(temperature_k / BASE_TEMPERATURE_K)


def _require(name: str, value: float, least: float) -> None:
    if not math.isfinite(value) or value < least:
        raise ValueError(f"{name} is {value!r}; accepted is a finite number of at least {least:g}")
