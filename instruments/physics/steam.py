"""Water vapour above a level: density and permittivity of saturated or superheated steam. Pure functions in SI."""

import math
from dataclasses import dataclass
from functools import lru_cache

from iapws import IAPWS97

TRIPLE_POINT_PA_ABS = 611.657  # IAPWS R6-95; below it there is no saturated liquid
CRITICAL_PA_ABS = 22.064e6  # IAPWS R2-83; above it there is no surface between water and steam
HOTTEST_K = 873.15  # end of the permittivity formulation
# A saturation temperature that is typed is rounded, and so is its pressure; practice, no source.
SAME_TEMPERATURE_K = 2.0
SOURCE = "IAPWS-IF97 (density) and IAPWS R8-97 (permittivity)"


@dataclass(frozen=True, slots=True)
class Steam:
    """Steam at a pressure.

    saturation_k   temperature at which water boils at this pressure, K
    density_kg_m3  of the vapour
    permittivity   of the vapour, static; steam is far from its absorption at the frequencies of level sensors
    """

    saturation_k: float
    density_kg_m3: float
    permittivity: float


def steam(pressure_pa_abs: float, temperature_k: float | None = None) -> Steam | None:
    """Steam above boiling water, or superheated.

    pressure_pa_abs  from the triple point (611.657 Pa) to below the critical point (22.064 MPa), else ValueError
    temperature_k    of the steam; None, or within 2 K of boiling, means saturated

    Returns None where the temperature is more than 2 K below boiling: steam alone cannot have that pressure then, and
    other gas is there. Raises ValueError outside the ranges, up to 873.15 K.
    Source: IAPWS-IF97 (density), IAPWS R8-97 (permittivity), computed by a library.
    """
    if not math.isfinite(pressure_pa_abs) or not TRIPLE_POINT_PA_ABS < pressure_pa_abs < CRITICAL_PA_ABS:
        raise ValueError(f"pressure_pa_abs is {pressure_pa_abs!r}; accepted is above 611.657 Pa and below 22.064 MPa")
    if temperature_k is not None and not 0.0 <= temperature_k <= HOTTEST_K:
        raise ValueError(f"temperature_k is {temperature_k!r}; accepted is 0 to 873.15 K, or None")
    saturated = _saturated(pressure_pa_abs)
    if temperature_k is None or abs(temperature_k - saturated.saturation_k) <= SAME_TEMPERATURE_K:
        return saturated
    if temperature_k < saturated.saturation_k:
        return None
    return _superheated(pressure_pa_abs, temperature_k, saturated.saturation_k)


# The same few states come back at every check of every measurement on a vessel.
@lru_cache(maxsize=4096)
def _saturated(pressure_pa_abs: float) -> Steam:
    state = IAPWS97(P=pressure_pa_abs / 1e6, x=1)
    return Steam(float(state.T), float(state.rho), float(state.epsilon))


@lru_cache(maxsize=4096)
def _superheated(pressure_pa_abs: float, temperature_k: float, saturation_k: float) -> Steam:
    state = IAPWS97(P=pressure_pa_abs / 1e6, T=temperature_k)
    return Steam(saturation_k, float(state.rho), float(state.epsilon))
