"""What pressure a flange may carry at a temperature: ASME B16.5 by material group and class, EN 1092-1 by PN. Pure.

Never extrapolated; linear in temperature only; never between classes, PN numbers, material groups or standards. What
the tables do not hold is no error: the result says why there is no rating.
"""

import math
from dataclasses import dataclass, replace
from fractions import Fraction

from instruments.physics.flange_names import ASME, CLASSES, EN, PN_NUMBERS, material_key, require_standard
from instruments.physics.published_tables import celsius, kelvin, number, number_or_none, read_rows, weakest

BAR_PA = 100_000.0
ASME_SOURCE = "ASME B16.5-2009, table 2-%s"
EN_SOURCE = "EN 1092-1, PS = PN·f/140, rounded down to 0.1 bar, never above PN, group %s"

# ASME B16.5-2009, notes of table 2-1.1: carbides of these steels may turn to graphite; permitted, not recommended.
LONG_TERM_MAX_C = {"1.1": 425.0}
NOT_LONG_TERM = "not_recommended_for_prolonged_use"

# Reasons why there is no rating.
GROUP_NOT_TABULATED = "group_not_tabulated"
RATING_NOT_TABULATED = "rating_not_tabulated"
BELOW_LOWEST = "below_lowest_temperature"
ABOVE_HIGHEST = "above_highest_temperature"
ABOVE_MATERIAL = "above_limit_of_material"
MATERIAL_NOT_KNOWN = "material_not_known"
CELL_MISSING = "cell_missing"


@dataclass(frozen=True, slots=True)
class Cell:
    """One tabulated rating: temperature in °C, pressure in bar gauge, where it comes from."""

    temperature_c: float
    pressure_bar: float
    origin: str


@dataclass(frozen=True, slots=True)
class Rating:
    """A rating, or why there is none.

    pressure_pa_gauge  None where there is none
    reason             "" or one of the reasons above
    origin             weakest origin of the cells used: found, computed or memory; "" without a rating
    source             standard and table
    cells              the one or two cells used, in order of temperature
    notes              codes: `NOT_LONG_TERM`
    lowest_k           least temperature that the table gives for this group and rating, None where it has none
    highest_k          the highest one, or the material's own limit where that is lower
    """

    pressure_pa_gauge: float | None
    reason: str = ""
    origin: str = ""
    source: str = ""
    cells: tuple[Cell, ...] = ()
    notes: tuple[str, ...] = ()
    lowest_k: float | None = None
    highest_k: float | None = None


@dataclass(frozen=True, slots=True)
class FlangeMaterial:
    """A material's group in one standard, with the limits that the standard sets for this material alone.

    name               as it stands first in the table
    temperature_max_k  not to be used above; None where there is no such note
    long_term_max_k    not recommended for prolonged use above; None where there is no such note
    origin             found or memory
    """

    standard: str
    group: str
    name: str
    temperature_max_k: float | None
    long_term_max_k: float | None
    origin: str


def _load_asme() -> dict[tuple[str, float], dict[float, Cell | None]]:
    """Cells by group and class, then by temperature in °C; None where the row is there without that cell."""
    table: dict[tuple[str, float], dict[float, Cell | None]] = {}
    for row in read_rows("asme_b16_5_ratings.csv", ("group", "temperature_c", *(f"{c:g}" for c in CLASSES))):
        temperature_c = number(row["temperature_c"], "temperature_c")
        for rating in CLASSES:
            column = table.setdefault((row["group"], rating), {})
            bar = number_or_none(row[f"{rating:g}"], f"class {rating:g}")
            before = column.setdefault(temperature_c, None)
            if bar is None:
                continue
            if before is not None:
                raise ValueError(f"group {row['group']}, class {rating:g}, {temperature_c:g} °C stands twice")
            column[temperature_c] = Cell(temperature_c, bar, row["origin"])
    return table


def ps_bar(pn: float, strength_mpa: str) -> float:
    """PS of a PN flange in bar from the proof strength at temperature: PN · f / 140 with f = strength / 1.5, MPa.

    strength_mpa  as text, so that the rounding down is exact; "PN" gives PN itself

    Returns bar gauge in steps of 0.1 bar, never above PN. Raises ValueError where the strength is not positive.
    Source: EN 1092-1, annex F; 140 MPa is the reference strength that PN stands for.
    """
    if strength_mpa == "PN":
        return pn
    if number(strength_mpa, "strength_mpa") <= 0.0:
        raise ValueError(f"strength_mpa is {strength_mpa!r}; accepted is a number above 0, or PN")
    exact = Fraction(str(pn)) * Fraction(strength_mpa) * 2 / (3 * 140)
    return min(pn, math.floor(exact * 10) / 10)


def _load_en() -> dict[tuple[str, float], dict[float, Cell | None]]:
    table: dict[tuple[str, float], dict[float, Cell | None]] = {}
    for row in read_rows("en_1092_1_ratings.csv", ("group", "temperature_c", "strength_mpa", "found_for_pn")):
        temperature_c = number(row["temperature_c"], "temperature_c")
        found = {float(pn) for pn in row["found_for_pn"].split()}
        for pn in PN_NUMBERS:
            column = table.setdefault((row["group"], pn), {})
            if temperature_c in column:
                raise ValueError(f"group {row['group']}, {temperature_c:g} °C stands twice")
            origin = "found" if pn in found else row["origin"]
            column[temperature_c] = Cell(temperature_c, ps_bar(pn, row["strength_mpa"]), origin)
    return table


def _load_materials() -> dict[tuple[str, str], FlangeMaterial]:
    columns = ("standard", "group", "names", "temperature_max_c", "long_term_max_c")
    materials: dict[tuple[str, str], FlangeMaterial] = {}
    for row in read_rows("flange_materials.csv", columns):
        require_standard(row["standard"])
        names = row["names"].split("|")
        limit = kelvin(number_or_none(row["temperature_max_c"], "temperature_max_c"))
        long_term = kelvin(number_or_none(row["long_term_max_c"], "long_term_max_c"))
        material = FlangeMaterial(row["standard"], row["group"], names[0], limit, long_term, row["origin"])
        for name in names:
            key = row["standard"], material_key(name)
            if key in materials:
                raise ValueError(f"{name} stands twice for {row['standard']}")
            materials[key] = material
    return materials


_TABLES = {ASME: _load_asme(), EN: _load_en()}
_SOURCES = {ASME: ASME_SOURCE, EN: EN_SOURCE}
_MATERIALS = _load_materials()


def group_of(standard: str, material: str) -> FlangeMaterial | None:
    """The material group of a material in a standard, None where the tables do not know the name.

    standard  "asme_b16_5" or "en_1092_1"; another raises ValueError
    material  a designation of that standard: "A105", "ASTM A 182 F316L", "316/316L"; "1.4404", "P250GH"

    Plain 316L is group 2.3; only what is called by both names ("316/316L", dual-certified) is group 2.2. A name of the
    one standard gives None in the other: materials are never put in place of one another.
    Source: ASME B16.5-2009, table 1A; EN 1092-1, table 9. The result's origin says what was found.
    """
    require_standard(standard)
    return _MATERIALS.get((standard, material_key(material)))


def known_materials(standard: str) -> tuple[str, ...]:
    """First names of all materials that `group_of` knows in a standard, in the table's order."""
    require_standard(standard)
    return tuple(dict.fromkeys(row.name for row in _MATERIALS.values() if row.standard == standard))


def rating_pa_gauge(standard: str, group: str, rating: float, temperature_k: float) -> Rating:
    """The highest gauge pressure of a flange at a temperature, or the reason why there is none.

    standard       "asme_b16_5" or "en_1092_1"
    group          material group: "1.1", "2.3" …; "3E0", "13E0"
    rating         class or PN number: 150.0, 16.0
    temperature_k  of the medium, K

    Returns a `Rating`. No rating below the table's least temperature, above its highest, for a group or rating that is
    not tabulated. Between two rows of one group and rating linear in temperature.
    Raises ValueError for an unknown standard, or numbers that are not finite or below 0 K.
    Valid for the flange itself, not for bolts, gasket or pipe; EN 1092-1 up to DN 600. Limits of one material inside a
    group are not looked at: see `rating_of_material`.
    Source: ASME B16.5-2009, tables 2-1.1 to 2-2.3 (interpolation permitted in temperature, not between classes);
    EN 1092-1, annexes F and G.
    """
    require_standard(standard)
    if not math.isfinite(rating):
        raise ValueError(f"rating is {rating!r}; accepted is a class or PN number")
    temperature_c = celsius(temperature_k)
    table = _TABLES[standard]
    source = _SOURCES[standard] % group
    column = table.get((group, rating))
    if column is None:
        known = any(group == tabulated for tabulated, _ in table)
        return Rating(None, RATING_NOT_TABULATED if known else GROUP_NOT_TABULATED, source=source)
    given = [temperature for temperature, cell in column.items() if cell is not None]
    if not given:
        return Rating(None, RATING_NOT_TABULATED, source=source)
    none = Rating(None, source=source, lowest_k=kelvin(min(given)), highest_k=kelvin(max(given)))
    if temperature_c < min(given):
        return replace(none, reason=BELOW_LOWEST)
    if temperature_c > max(given):
        return replace(none, reason=ABOVE_HIGHEST)
    cells = _neighbours(column, temperature_c)
    if cells is None:
        return replace(none, reason=CELL_MISSING)
    long_term_c = LONG_TERM_MAX_C.get(group, math.inf) if standard == ASME else math.inf
    return replace(
        none,
        pressure_pa_gauge=_between(cells, temperature_c) * BAR_PA,
        origin=weakest(cell.origin for cell in cells),
        cells=cells,
        notes=(NOT_LONG_TERM,) if temperature_c > long_term_c else (),
    )


def rating_of_material(standard: str, material: str, rating: float, temperature_k: float) -> Rating:
    """`rating_pa_gauge` for a material by name, with the limits that the standard sets for this material alone.

    Above "not to be used over" there is no rating (A516 Gr.70 above 455 °C, A350 LF6 above 260 °C, A537 Cl.1 above
    370 °C). The origin is the weaker one of the rating's and the material's. Parameters, errors and validity as there.
    """
    found = group_of(standard, material)
    if found is None:
        celsius(temperature_k)
        return Rating(None, MATERIAL_NOT_KNOWN)
    result = rating_pa_gauge(standard, found.group, rating, temperature_k)
    limit_k = found.temperature_max_k
    highest_k = result.highest_k if limit_k is None or result.highest_k is None else min(limit_k, result.highest_k)
    if limit_k is not None and celsius(temperature_k) > celsius(limit_k):
        return Rating(None, ABOVE_MATERIAL, source=result.source, lowest_k=result.lowest_k, highest_k=highest_k)
    notes = result.notes
    if found.long_term_max_k is not None and celsius(temperature_k) > celsius(found.long_term_max_k):
        notes = tuple(dict.fromkeys((*notes, NOT_LONG_TERM)))
    if result.pressure_pa_gauge is None:
        return replace(result, highest_k=highest_k)
    return replace(result, origin=weakest((result.origin, found.origin)), notes=notes, highest_k=highest_k)


def _neighbours(column: dict[float, Cell | None], temperature_c: float) -> tuple[Cell, ...] | None:
    """The cell at a temperature, or the two rows around it; None where one of them is empty."""
    if temperature_c in column:
        exact = column[temperature_c]
        return None if exact is None else (exact,)
    below = column[max(row for row in column if row < temperature_c)]
    above = column[min(row for row in column if row > temperature_c)]
    return None if below is None or above is None else (below, above)


def _between(cells: tuple[Cell, ...], temperature_c: float) -> float:
    low, high = cells[0], cells[-1]
    if low is high:
        return low.pressure_bar
    share = (temperature_c - low.temperature_c) / (high.temperature_c - low.temperature_c)
    return low.pressure_bar + share * (high.pressure_bar - low.pressure_bar)
