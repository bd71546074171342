"""Sound in the gas above a medium. Pure functions in SI."""

import math

GAS_CONSTANT_J_MOL_K = 8.314462618  # exact to the digits given (CODATA 2018)
AIR_HEAT_CAPACITY_RATIO = 1.4  # ideal diatomic gas
AIR_MOLAR_MASS_KG_MOL = 0.0289647  # dry air, U.S. Standard Atmosphere 1976 gives 28.9644 g/mol


def speed_of_sound_m_s(
    temperature_k: float,
    heat_capacity_ratio: float = AIR_HEAT_CAPACITY_RATIO,
    molar_mass_kg_mol: float = AIR_MOLAR_MASS_KG_MOL,
) -> float:
    """Speed of sound in an ideal gas, m/s; by default in dry air.

    temperature_k        temperature of the gas, K
    heat_capacity_ratio  cp/cv, above 1
    molar_mass_kg_mol    kg/mol

    Raises ValueError unless temperature and molar mass are positive and finite and the ratio above 1.
    Valid at pressures where the gas is nearly ideal (air near 1 bar: within 0.1 %); not near condensation.
    Source: Newton–Laplace, c = √(γ·R·T/M).
    """
    for name, value in (("temperature_k", temperature_k), ("molar_mass_kg_mol", molar_mass_kg_mol)):
        if not math.isfinite(value) or value <= 0.0:
            raise ValueError(f"{name} is {value!r}; accepted is a finite number above 0")
    if not math.isfinite(heat_capacity_ratio) or heat_capacity_ratio <= 1.0:
        raise ValueError(f"heat_capacity_ratio is {heat_capacity_ratio!r}; accepted is a finite number above 1")
    return math.sqrt(heat_capacity_ratio * GAS_CONSTANT_J_MOL_K * temperature_k / molar_mass_kg_mol)
