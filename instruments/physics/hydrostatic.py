"""Level from a difference of pressures: two taps, and what fills the lines between them and the transmitter. Pure."""

import math
from dataclasses import dataclass

STANDARD_GRAVITY_M_S2 = 9.80665  # exact by definition (3rd General Conference on Weights and Measures, 1901)


@dataclass(frozen=True, slots=True)
class Taps:
    """Elevations in m from one datum: of both taps (or seals), and of the transmitter's cell."""

    lower_m: float
    upper_m: float
    transmitter_m: float


@dataclass(frozen=True, slots=True)
class Densities:
    """Densities in kg/m³ of what the pressures rest on.

    medium      liquid below the level (of an interface: the lower liquid)
    above       what fills the vessel above the level: the gas, or the upper liquid of an interface
    lower_line  filling of the line from the lower tap to the transmitter
    upper_line  filling of the line from the upper tap to the transmitter
    """

    medium: float
    above: float
    lower_line: float
    upper_line: float


def pressure_difference_pa(level_m: float, taps: Taps, densities: Densities) -> float:
    """Pressure at the side of the lower tap less that at the side of the upper tap, in Pa, signed.

    level_m    level (or interface) in m from the same datum as the taps
    taps       elevations in m; the upper tap lies above the lower one, the transmitter anywhere
    densities  in kg/m³, not negative, each even over its height

    Returns Pa: negative where the upper line weighs more than what stands in the vessel (a wet leg).
    Raises ValueError where a number is not finite, a density negative, the upper tap not above the lower one, or the
    level outside the taps, where the pressures no longer tell it.
    Valid for liquids and gases at rest, at standard gravity; lines without flow, capillaries without volume.
    Source: hydrostatics, p = ρ·g·h:
    Δp = g·[ρ·(z − z_low) + ρ_a·(z_up − z) + ρ_l·(z_low − z_t) − ρ_u·(z_up − z_t)].
    """
    _require_valid(level_m, taps, densities)
    return STANDARD_GRAVITY_M_S2 * (
        densities.medium * (level_m - taps.lower_m)
        + densities.above * (taps.upper_m - level_m)
        + densities.lower_line * (taps.lower_m - taps.transmitter_m)
        - densities.upper_line * (taps.upper_m - taps.transmitter_m)
    )


def _require_valid(level_m: float, taps: Taps, densities: Densities) -> None:
    for name in ("lower_m", "upper_m", "transmitter_m"):
        _require_finite(name, getattr(taps, name))
    for name in ("medium", "above", "lower_line", "upper_line"):
        value = getattr(densities, name)
        if not math.isfinite(value) or value < 0.0:
            raise ValueError(f"density {name} is {value!r}; accepted is a finite number of at least 0 kg/m³")
    if taps.upper_m <= taps.lower_m:
        raise ValueError(f"upper_m is {taps.upper_m!r}; accepted is a number above lower_m, {taps.lower_m!r}")
    _require_finite("level_m", level_m)
    if not taps.lower_m <= level_m <= taps.upper_m:
        raise ValueError(
            f"level_m is {level_m!r}; accepted is {taps.lower_m!r} to {taps.upper_m!r} m, between the taps"
        )


def indicated_level_m(difference_pa: float, at_lrv_pa: float, at_urv_pa: float, lrv_m: float, urv_m: float) -> float:
    """The level in m that a transmitter set to two pressures shows at a pressure difference.

    difference_pa         what acts on it, Pa
    at_lrv_pa, at_urv_pa  differences to which its 0 % and 100 % were set, Pa
    lrv_m, urv_m          levels that it shows there, m

    Not limited to the span. Raises ValueError where a number is not finite or the two differences are equal.
    Source: linear between two set points, by definition of LRV and URV.
    """
    numbers = {"difference_pa": difference_pa, "at_lrv_pa": at_lrv_pa, "at_urv_pa": at_urv_pa}
    for name, value in {**numbers, "lrv_m": lrv_m, "urv_m": urv_m}.items():
        _require_finite(name, value)
    if at_lrv_pa == at_urv_pa:
        raise ValueError(f"at_urv_pa equals at_lrv_pa ({at_lrv_pa!r}); accepted is a span other than 0 Pa")
    return lrv_m + (difference_pa - at_lrv_pa) / (at_urv_pa - at_lrv_pa) * (urv_m - lrv_m)


def _require_finite(name: str, value: float) -> None:
    if not math.isfinite(value):
        raise ValueError(f"{name} is {value!r}; accepted is a finite number")
