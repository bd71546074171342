"""What holds in an operating case: the medium's values, overridden by the case, and densities only where they apply."""

from dataclasses import dataclass

from instruments.checks.case import Case, Row
from instruments.checks.support import Derived, all_known, known_or_missing, lacks, margin_of, missing_field

DENSITY_HOLDS_WITHIN_K = 10.0  # a stated density is not used further from its temperature


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
