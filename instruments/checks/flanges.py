"""Family "process": what pressure the nozzle's flange carries at each temperature."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from instruments.checks.case import Case, Row
from instruments.checks.finding import PRESSURE_MARGIN, Cure, Finding, Grade, Input, Where, Working
from instruments.checks.frame import Frame
from instruments.checks.ranges import NO_CASE
from instruments.checks.support import (
    Derived,
    all_known,
    contradiction,
    fields_of,
    known_or_missing,
    margin_of,
    missing_field,
    missing_finding,
    not_applicable,
    worst_of,
)
from instruments.physics.flange_names import RATINGS, STANDARDS, read_rating
from instruments.physics.flange_rating import (
    ABOVE_HIGHEST,
    ABOVE_MATERIAL,
    BELOW_LOWEST,
    Rating,
    group_of,
    rating_of_material,
)
from instruments.physics.published_tables import kelvin

CODE = "process.flange_rating"
# What no field can be filled with: the table itself has no value.
TABLE_MATERIAL = "tables.flange_material"
TABLE_RATING = "tables.flange_rating"
TABLE_BELOW = "tables.flange_below"
TABLE_ABOVE = "tables.flange_above"
_NOT_TABULATED = {BELOW_LOWEST: TABLE_BELOW, ABOVE_HIGHEST: TABLE_ABOVE}
_ORIGINS = {
    "found": "read in the table",
    "computed": "computed by the standard's rule",
    "memory": "from memory, not seen",
}


@dataclass(frozen=True, slots=True)
class _Demand:
    """A pressure at a temperature that the flange must carry: of a case, or of the vessel's design."""

    case: str
    pressure_pa_abs: Derived
    temperature_k: Derived
    by_design: bool = False


def roles_of(frame: Frame) -> tuple[str, ...]:
    """The roles of the connections that the arrangement has."""
    if frame.arrangement == "none":
        return ()
    return ("sensor",) if frame.arrangement == "one_nozzle" else ("upper", "lower")


def no_connection(role: str) -> Derived:
    """What is missing where no nozzle has a role."""
    return missing_field("measurement.nozzle" if role == "sensor" else f"measurement.nozzle_{role}")


def entered_text(row: Row, entity: str, stem: str) -> Derived:
    """Whether a text was entered: without a value where it was, missing where it was not."""
    key = f"{entity}.{stem}"
    return Derived(0.0, fields=(key,)) if row.text(stem).strip() else missing_field(key)


def flange_rating(case: Case, frame: Frame) -> Finding:
    """Every nozzle's flange carries the pressure of every case at its temperature, and the design's at both ends.

    By standard, rating and material group; interpolated in temperature only. What the tables do not hold is missing.
    Threads and connections of other standards have no such table. Bolts and gasket are not judged.
    """
    roles = roles_of(frame)
    if not roles:
        return not_applicable(CODE, "arrangement", ("measurement.arrangement",))
    demands = [*_of_cases(frame), *_of_design(case, frame)]
    atmosphere = known_or_missing(case.plant.si("atmosphere"), "plant.atmosphere")
    findings: list[Finding] = []
    for role in roles:
        row = frame.connection(role)
        if row is None:
            findings.append(missing_finding(CODE, no_connection(role), place="nozzle"))
        elif not row.text("standard"):
            findings.append(missing_finding(CODE, missing_field("nozzle.standard"), place="nozzle"))
        elif row.text("standard") in STANDARDS:
            findings += [_finding(row, demand, atmosphere) for demand in demands]
    if not findings:
        return not_applicable(CODE, "no_flange", ("nozzle.standard",))
    return worst_of(findings)


def _of_cases(frame: Frame) -> Iterable[_Demand]:
    if not frame.media:
        yield _Demand("", NO_CASE, NO_CASE)
    for medium in frame.media:
        yield _Demand(medium.name, medium.pressure_pa_abs, medium.temperature_k)


def _of_design(case: Case, frame: Frame) -> Iterable[_Demand]:
    """The design pressure at the highest and, where it is stated, at the lowest design temperature.

    Needed unless an operating case of the kind "design" gives it.
    """
    keys = ("vessel.design_pressure_max", "vessel.design_temperature_max", "vessel.design_temperature_min")
    pressure, highest, lowest = (frame.entered(key) for key in keys)
    empty = frame.is_empty(pressure, keys[0]) and frame.is_empty(highest, keys[1])
    if not empty or not any(row.text("kind") == "design" for row in case.operating_cases):
        yield _Demand("", pressure, highest, by_design=True)
    if pressure.value is not None and not frame.is_empty(lowest, keys[2]):
        yield _Demand("", pressure, lowest, by_design=True)


def _finding(row: Row, demand: _Demand, atmosphere: Derived) -> Finding:
    temperature = demand.temperature_k
    if temperature.value is not None and temperature.value < 0.0:
        temperature = contradiction(*temperature.fields)
    material = row.text("material").split(",")[0]  # "A105, lined" is A105
    standard = row.text("standard")
    texts = [entered_text(row, "nozzle", stem) for stem in ("rating", "material")]
    number = read_rating(standard, row.text("rating"))
    if number is None and texts[0].value is not None:
        texts[0] = Derived(None, missing=(TABLE_RATING,), fields=("nozzle.standard", "nozzle.rating"))
    group = group_of(standard, material)
    if group is None and texts[1].value is not None:
        texts[1] = Derived(None, missing=(TABLE_MATERIAL,), fields=("nozzle.standard", "nozzle.material"))
    parts = (demand.pressure_pa_abs, temperature, atmosphere, *texts)
    known = all_known(*parts)
    if known is None or number is None or group is None:
        of_case = demand.pressure_pa_abs.missing or temperature.missing
        return missing_finding(CODE, *parts, place="nozzle", case=demand.case if of_case else "")
    pressure_pa_abs, temperature_k, atmosphere_pa_abs = known[:3]
    rating = rating_of_material(standard, material, number, temperature_k)
    params: dict[str, str | tuple[float, str]] = {
        "mark": row.text("mark"),
        "flange": f"{row.text('size')} {row.text('rating')}".strip(),
        "material": row.text("material"),
        "group": group.group,
        "asked": (pressure_pa_abs, "pressure"),
        "temperature": (temperature_k, "temperature"),
        "case": demand.case,
    }
    fields = ("nozzle.standard", *fields_of(*parts))
    base = Finding(CODE, Grade.PASS, "ok", params=params, where=Where(demand.case), fields=fields, place="nozzle")
    if rating.pressure_pa_gauge is None:
        return _without_rating(base, rating, temperature_k)
    allowed_pa_abs = rating.pressure_pa_gauge + atmosphere_pa_abs
    margin = margin_of(allowed_pa_abs, pressure_pa_abs)
    source = f"{rating.source} ({_ORIGINS.get(rating.origin, rating.origin)})"
    suffix = "_design" if demand.by_design else ""
    finding = replace(
        base,
        variant=f"ok{suffix}",
        params={**params, "limit": (allowed_pa_abs, "pressure"), "beyond": (-margin, PRESSURE_MARGIN)},
        kind="pressure",
        required_si=pressure_pa_abs,
        available_si=allowed_pa_abs,
        margin_si=margin,
        working=_working(rating, temperature_k, atmosphere_pa_abs, pressure_pa_abs, margin, source),
        source=source,
    )
    if margin < 0:
        cure = _cure(standard, material, temperature_k, pressure_pa_abs - atmosphere_pa_abs)
        return replace(finding, grade=Grade.STOP, variant=f"beyond{suffix}", cures=(cure,))
    if rating.notes:
        return replace(finding, grade=Grade.CAUTION, variant="long_term")
    return finding


def _without_rating(base: Finding, rating: Rating, temperature_k: float) -> Finding:
    """Too hot for the material by the standard's own note, or not tabulated."""
    if rating.reason == ABOVE_MATERIAL and rating.highest_k is not None:
        margin = margin_of(rating.highest_k, temperature_k)
        return replace(
            base,
            grade=Grade.STOP,
            variant="too_hot",
            params={**base.params, "limit": (rating.highest_k, "temperature")},
            kind="temperature",
            required_si=temperature_k,
            available_si=rating.highest_k,
            margin_si=margin,
            source=rating.source,
            cures=(Cure("other_flange_material", "nozzle.material"),),
        )
    lacking = Derived(None, missing=(_NOT_TABULATED.get(rating.reason, TABLE_RATING),), fields=base.fields)
    return missing_finding(CODE, lacking, place="nozzle", case=base.where.case)


def _working(
    rating: Rating, temperature_k: float, atmosphere_pa_abs: float, asked_pa_abs: float, margin: float, source: str
) -> Working:
    """The interpolation between two rows, then the margin. Pressures are absolute here and shown as the plant does."""
    low, high = rating.cells[0], rating.cells[-1]
    low_pa_abs, high_pa_abs = (cell.pressure_bar * 1e5 + atmosphere_pa_abs for cell in (low, high))
    allowed_pa_abs = (rating.pressure_pa_gauge or 0.0) + atmosphere_pa_abs
    inputs = [Input("p_1", low_pa_abs, "pressure")]
    formula = "p_T = p_1"
    if len(rating.cells) > 1:
        formula = "p_T = p_1 + (p_2 − p_1) · (T − T_1)/(T_2 − T_1)"
        inputs += [
            Input("p_2", high_pa_abs, "pressure"),
            Input("T", temperature_k, "temperature"),
            Input("T_1", kelvin(low.temperature_c) or 0.0, "temperature"),
            Input("T_2", kelvin(high.temperature_c) or 0.0, "temperature"),
        ]
    first = Working(formula, tuple(inputs), "p_T", allowed_pa_abs, "pressure", source)
    compared = (Input("p_T", allowed_pa_abs, "pressure"), Input("p", asked_pa_abs, "pressure"))
    return Working("m = p_T − p", compared, "m", margin, PRESSURE_MARGIN, source, before=(first,))


def _cure(standard: str, material: str, temperature_k: float, pressure_pa_gauge: float) -> Cure:
    """The lowest rating that suffices in this material, or another material where none does."""
    for number in RATINGS[standard]:
        allowed = rating_of_material(standard, material, number, temperature_k).pressure_pa_gauge
        if allowed is not None and margin_of(allowed, pressure_pa_gauge) >= 0:
            return Cure("higher_flange_rating", "nozzle.rating", number, "number")
    return Cure("other_flange_material", "nozzle.material")
