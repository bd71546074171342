"""What holds in an operating case: the medium's values, overridden by the case, and densities only where they apply."""

from dataclasses import dataclass

from instruments.checks.case import Case, Row
from instruments.checks.finding import Input, Working
from instruments.checks.support import Derived, all_known, derive, known_or_missing, lacks, margin_of, missing_field
from project.registry import gettext_noop

DENSITY_HOLDS_WITHIN_K = 10.0  # a stated density is not used further from its temperature

# An open or vented tank: air stands above the liquid where nothing else is said. Against a liquid the difference
# between dry and moist, cold and warm air (1.0 to 1.4 kg/m³) is less than what the liquid's own density is known to.
AIR_KG_M3 = 1.2
ATMOSPHERIC_WITHIN_PA = 5000.0  # what a vent or a breather valve lets stand; practice, no source
OPEN_KINDS = ("liquid", "slurry")  # a liquefied gas has its own vapour above it, at any pressure
AIR_NAMES = ("", "air")
AIR_SOURCE = gettext_noop("Ideal gas, ρ = p·M/(R·T): dry air, 28.96 g/mol, at 101.325 kPa and 20 °C")


@dataclass(frozen=True, slots=True)
class CaseMedium:
    """One operating case with the medium's values that hold in it.

    name  the case's display name;  kind  the kind of medium, '' where no medium is chosen
    """

    name: str
    kind: str
    temperature_k: Derived
    pressure_pa_abs: Derived
    permittivity: Derived
    density_kg_m3: Derived


def case_medium(case: Case, row: Row) -> CaseMedium:
    """The values that hold in one operating case."""
    medium = case.medium_of(row)
    return CaseMedium(
        name=row.text("display") or row.text("name") or row.text("kind"),
        kind=medium.text("kind") if medium else "",
        temperature_k=known_or_missing(row.si("temperature"), "case.temperature"),
        pressure_pa_abs=known_or_missing(row.si("pressure"), "case.pressure"),
        permittivity=property_in(case, row, "permittivity"),
        density_kg_m3=density_in(case, row, "density"),
    )


def property_in(case: Case, row: Row, stem: str) -> Derived:
    """A property of the medium, which the operating case may override."""
    if row.si(stem) is not None or f"case.{stem}" in case.unreadable:
        return known_or_missing(row.si(stem), f"case.{stem}")
    medium = case.medium_of(row)
    if medium is None:
        return missing_field("case.medium")
    return known_or_missing(medium.si(stem), f"medium.{stem}")


def density_in(case: Case, row: Row, stem: str) -> Derived:
    """The density of a phase ("density", "density_upper", "density_vapour") in an operating case.

    A density that the case gives holds; one that the medium states is missing beyond 10 K from its temperature.
    """
    density = property_in(case, row, stem)
    medium = case.medium_of(row)
    if density.value is None or density.fields == (f"case.{stem}",) or medium is None:
        return density
    stated = known_or_missing(medium.si("density_temperature"), "medium.density_temperature")
    actual = known_or_missing(row.si("temperature"), "case.temperature")
    known = all_known(stated, actual)
    if known is None:
        return lacks(stated, actual)
    if margin_of(DENSITY_HOLDS_WITHIN_K, abs(known[0] - known[1])) < 0:
        return missing_field(f"case.{stem}")
    return Derived(density.value, fields=(*density.fields, *stated.fields, *actual.fields))


def gas_density_in(case: Case, row: Row) -> Derived:
    """The density of the gas above the liquid in an operating case; that of air where the vessel is open to it.

    Air is assumed where neither case nor medium gives a density or another gas, and the case's pressure is within 5 kPa
    of the plant's atmosphere. Everywhere else a density that is not given is missing.
    """
    given = density_in(case, row, "density_vapour")
    pressure = known_or_missing(row.si("pressure"), "case.pressure")
    if given.value is not None or not _is_open(case, row, pressure):
        return given
    air = Working("ρ_a = ρ_air", (Input("ρ_air", AIR_KG_M3, "density"),), "ρ_a", AIR_KG_M3, "density", AIR_SOURCE)
    gas = Derived(None, fields=("case.density_vapour", "medium.density_vapour", "case.gas", "medium.gas"))
    return derive(air, pressure, gas)


def _is_open(case: Case, row: Row, pressure: Derived) -> bool:
    """True where nothing but air can be meant above the liquid: see `gas_density_in`."""
    medium, stems = case.medium_of(row), ("density_vapour", "gas")
    if medium is None or medium.text("kind") not in OPEN_KINDS:
        return False
    if any(f"{entity}.{stem}" in case.unreadable for entity in ("case", "medium") for stem in stems):
        return False
    densities = (row.si("density_vapour"), medium.si("density_vapour"))
    gas = row.text("gas").strip() or medium.text("gas").strip()
    known = all_known(pressure, known_or_missing(case.plant.si("atmosphere"), "plant.atmosphere"))
    if known is None or any(density is not None for density in densities) or gas.casefold() not in AIR_NAMES:
        return False
    return margin_of(ATMOSPHERIC_WITHIN_PA, abs(known[0] - known[1])) >= 0
