"""Free-radiating radar: echo of a surface, beam, and range in a given medium. Pure functions in SI."""

import math

SPEED_OF_LIGHT_M_S = 299_792_458.0  # exact by the definition of the metre (BIPM, SI Brochure, 9th edition)
BEAMWIDTH_COEFFICIENT_DEG = 70.0  # common practice, no source; exact circular apertures give 59 to 84 by taper


def power_reflection(permittivity: float) -> float:
    """Share of the power that a flat surface returns at normal incidence.

    permittivity  relative permittivity of the medium at the sensor's frequency, gas above taken as 1; at
    least 1

    Returns a number from 0 (nothing) to below 1 (everything). Raises ValueError below 1 or where not finite.
    Valid for lossless media; losses (water at high frequencies) add reflection.
    Source: Fresnel equations, normal incidence: R = ((√εr − 1)/(√εr + 1))².
    """
    if not math.isfinite(permittivity) or permittivity < 1.0:
        raise ValueError(f"permittivity is {permittivity!r}; accepted is a finite number of at least 1")
    root = math.sqrt(permittivity)
    return ((root - 1.0) / (root + 1.0)) ** 2


def echo_level_db(permittivity: float) -> float:
    """Level of the surface's echo against that of a perfect reflector, in dB (negative).

    permittivity  relative permittivity of the medium at the sensor's frequency; above 1

    Raises ValueError at or below 1, where nothing is reflected and the level would be −∞.
    Source: Fresnel equations, normal incidence: L = 10·lg R.
    """
    reflection = power_reflection(permittivity)
    if reflection == 0.0:
        raise ValueError(f"permittivity is {permittivity!r}; accepted is a number above 1, for 1 reflects nothing")
    return 10.0 * math.log10(reflection)


def wavelength_m(frequency_hz: float, speed_m_s: float = SPEED_OF_LIGHT_M_S) -> float:
    """Wavelength in m of a wave of the given frequency (Hz) and speed (m/s). Raises ValueError unless both
    are positive and finite. Source: λ = c/f."""
    _require_positive("frequency_hz", frequency_hz)
    _require_positive("speed_m_s", speed_m_s)
    return speed_m_s / frequency_hz


def beamwidth_rad(wavelength_m: float, aperture_m: float) -> float:
    """Half-power beam angle (full angle) in rad of a circular aperture.

    wavelength_m  wavelength in the gas above the medium, m
    aperture_m    diameter that radiates, m

    Raises ValueError unless both are positive and finite. Valid well above one wavelength of aperture.
    Source: 70 λ/D degrees, common practice, no source.
    """
    _require_positive("wavelength_m", wavelength_m)
    _require_positive("aperture_m", aperture_m)
    return math.radians(BEAMWIDTH_COEFFICIENT_DEG * wavelength_m / aperture_m)


def footprint_diameter_m(distance_m: float, beam_angle_rad: float) -> float:
    """Diameter in m of the spot that the half-power cone lights at a distance from its apex.

    distance_m      along the axis, m; not negative
    beam_angle_rad  full angle, rad; above 0 and below π

    Raises ValueError outside these. Valid in the far field; nearer the real spot is wider.
    Source: geometry, 2·d·tan(b/2).
    """
    if not math.isfinite(distance_m) or distance_m < 0.0:
        raise ValueError(f"distance_m is {distance_m!r}; accepted is a finite number of at least 0")
    if not 0.0 < beam_angle_rad < math.pi:
        raise ValueError(f"beam_angle_rad is {beam_angle_rad!r}; accepted is above 0 and below π")
    return 2.0 * distance_m * math.tan(beam_angle_rad / 2.0)


def derated_range_m(
    class_range_m: float, reference_echo_db: float, medium_echo_db: float, allowances_db: float = 0.0
) -> float:
    """Distance in m at which a medium's echo is as strong as the class's reference echo at the class's range.

    class_range_m      range that the class states, m
    reference_echo_db  echo level of the surface for which it is stated, dB, not above 0
    medium_echo_db     echo level of the medium's surface, dB, not above 0
    allowances_db      further losses (foam, turbulence), dB, not negative

    Never more than the class's range: a stronger echo does not lengthen it. Raises ValueError outside these.
    Valid for a surface that is flat and large against the beam's footprint, in a gas that does not attenuate.
    Source: image in a flat reflector; amplitude falls with distance, not its square: R·10^(−ΔL/20).
    """
    _require_positive("class_range_m", class_range_m)
    for name, level_db in (("reference_echo_db", reference_echo_db), ("medium_echo_db", medium_echo_db)):
        if not math.isfinite(level_db) or level_db > 0.0:
            raise ValueError(f"{name} is {level_db!r}; accepted is a finite number of at most 0 dB")
    if not math.isfinite(allowances_db) or allowances_db < 0.0:
        raise ValueError(f"allowances_db is {allowances_db!r}; accepted is a finite number of at least 0 dB")
    loss_db = reference_echo_db - medium_echo_db + allowances_db
    return class_range_m if loss_db <= 0.0 else class_range_m * 10.0 ** (-loss_db / 20.0)


def _require_positive(name: str, value: float) -> None:
    if not math.isfinite(value) or value <= 0.0:
        raise ValueError(f"{name} is {value!r}; accepted is a finite number above 0")
