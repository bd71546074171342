"""Pressure differences of a measurement between two taps or seals, in each operating case."""

from dataclasses import dataclass, replace

from instruments.checks.case import Case, Row
from instruments.checks.finding import Input, Working
from instruments.checks.frame import Frame
from instruments.checks.media import density_in, gas_density_in
from instruments.checks.support import (
    Derived,
    all_known,
    contradiction,
    derive,
    fields_of,
    lacks,
    length,
    margin_of,
    missing_field,
)
from instruments.physics.hydrostatic import Densities, Taps, pressure_difference_pa
from project.registry import gettext_noop

HYDROSTATICS = gettext_noop("Hydrostatics, p = ρ·g·h, at standard gravity")
GRAVITY = "9.80665 m/s²"  # stands in formulas as it is: no field has an acceleration

TRANSMITTER = "measurement.transmitter_elevation"
SETTLED = ("two_taps", "remote_seals")  # arrangements whose differences are computed


@dataclass(frozen=True, slots=True)
class Filling:
    """Densities in one operating case: of the medium, above it, and in the lines to the transmitter (kg/m³)."""

    case: str
    is_normal: bool
    medium: Derived
    above: Derived
    lower_line: Derived
    upper_line: Derived

    @property
    def parts(self) -> tuple[Derived, Derived, Derived, Derived]:
        return self.medium, self.above, self.lower_line, self.upper_line


def fillings(case: Case, frame: Frame) -> tuple[Filling, ...]:
    """What fills vessel and lines in every operating case; the first normal one is what the transmitter is set to.

    Between two seals both lines hold the fill fluid. Otherwise the line from the lower tap holds what is said to
    stand in it, a dry upper leg what is above the level, a wet one its own filling. Nothing flows in the lines, so that
    they take the temperature of their surroundings: the medium's density in the vessel does not hold in them.
    """
    normal = next((row for row in case.operating_cases if row.text("kind") == "normal"), None)
    return tuple(_filling(case, frame, number, row is normal) for number, row in enumerate(case.operating_cases))


def _filling(case: Case, frame: Frame, number: int, is_normal: bool) -> Filling:
    row, medium = case.operating_cases[number], frame.media[number]
    density, above = _usable(medium.density_kg_m3), _usable(_above(case, frame, row))
    if frame.arrangement == "remote_seals":
        fill = _usable(frame.entered("measurement.fill_density"))
        return Filling(medium.name, is_normal, density, above, fill, fill)
    return Filling(medium.name, is_normal, density, above, _lower_leg(frame), _upper_leg(case, frame, above))


def _above(case: Case, frame: Frame, row: Row) -> Derived:
    """Density above the level: the gas, or the upper liquid where an interface is measured."""
    medium = case.medium_of(row)
    if medium is None or medium.text("kind") != "interface":
        return gas_density_in(case, row)
    if case.measurement.text("variable") != "interface":
        # How much of both liquids there is, a difference of pressures does not tell.
        return missing_field("measurement.variable")
    upper = density_in(case, row, "density_upper")
    return replace(upper, fields=(*upper.fields, "measurement.variable"))


def _lower_leg(frame: Frame) -> Derived:
    """What stands in the line from the lower tap; 0 where the transmitter sits at the tap: the line has no height."""
    lower, transmitter = frame.tap("lower"), frame.entered(TRANSMITTER)
    known = all_known(lower, transmitter)
    if known is None:
        return lacks(lower, transmitter)
    if margin_of(*known) == 0:
        return Derived(0.0, fields=fields_of(lower, transmitter))
    return _usable(frame.entered("measurement.lower_leg_density"))


def _upper_leg(case: Case, frame: Frame, above: Derived) -> Derived:
    legs, key = case.measurement.text("legs"), "measurement.legs"
    if legs not in ("dry", "wet"):
        return missing_field(key)
    filling = above if legs == "dry" else _usable(frame.entered("measurement.leg_density"))
    return replace(filling, fields=(*filling.fields, key))


def _usable(density: Derived) -> Derived:
    """A density; a negative one is a slip and counts as missing."""
    if density.value is None or density.value >= 0:
        return density
    return replace(contradiction(density.fields[0]), fields=density.fields)  # the others only say whether it holds


def normal_filling(all_fillings: tuple[Filling, ...]) -> Filling:
    """What the transmitter is set to; all missing where there is no normal case."""
    absent = missing_field("case.kind")
    none = Filling("", True, absent, absent, absent, absent)
    return next((one for one in all_fillings if one.is_normal), none)


def difference_at(frame: Frame, level: Derived, filling: Filling, symbol: str) -> Derived:
    """Pressure difference in Pa at a level (elevation), with its working under the symbol given.

    Missing for want of other elevations where the level is not between the taps or these are in the wrong order, which
    other checks tell as a stop.
    """
    lower, upper = frame.tap("lower"), frame.tap("upper")
    has_seals = frame.arrangement == "remote_seals"
    # Between two seals with one fill fluid the transmitter's own elevation cancels.
    transmitter = Derived(lower.value) if has_seals else frame.entered(TRANSMITTER)
    known = all_known(level, lower, upper, transmitter)
    densities = all_known(*filling.parts)
    if known is None or densities is None:
        return lacks(level, lower, upper, transmitter, *filling.parts)
    entered_m, lower_m, upper_m, transmitter_m = known
    level_m = _at_tap(entered_m, lower_m, upper_m)
    if margin_of(upper_m, lower_m) <= 0 or not lower_m <= level_m <= upper_m:
        return contradiction(*fields_of(level, lower, upper))
    result = pressure_difference_pa(level_m, Taps(lower_m, upper_m, transmitter_m), Densities(*densities))
    inputs = [
        Input("ρ", densities[0], "density"),
        Input("ρ_a", densities[1], "density"),
        length("z", level_m),
        length("z_low", lower_m),
        length("z_up", upper_m),
    ]
    if has_seals:
        formula = f"{symbol} = {GRAVITY} · (ρ · (z − z_low) + ρ_a · (z_up − z) − ρ_f · (z_up − z_low))"
        inputs.append(Input("ρ_f", densities[3], "density"))
    else:
        lower_line = "" if margin_of(lower_m, transmitter_m) == 0 else "+ ρ_l · (z_low − z_t) "
        lines = f"{lower_line}− ρ_u · (z_up − z_t)"
        formula = f"{symbol} = {GRAVITY} · (ρ · (z − z_low) + ρ_a · (z_up − z) {lines})"
        inputs += [Input("ρ_l", densities[2], "density")] if lower_line else []
        inputs += [Input("ρ_u", densities[3], "density"), length("z_t", transmitter_m)]
    working = Working(formula, tuple(inputs), symbol, result, "pressure_difference", HYDROSTATICS)
    return derive(working, level, lower, upper, transmitter, *filling.parts)


def _at_tap(level_m: float, lower_m: float, upper_m: float) -> float:
    """A level that is a tap's but for rounding noise is the tap's own; any other one stays as it is."""
    return next((tap_m for tap_m in (lower_m, upper_m) if margin_of(level_m, tap_m) == 0), level_m)


def set_differences(case: Case, frame: Frame) -> tuple[Derived, Derived]:
    """Differences at LRV and URV to which the transmitter is set, in the normal case."""
    normal = normal_filling(fillings(case, frame))
    lrv, urv = frame.entered("measurement.lrv"), frame.entered("measurement.urv")
    return difference_at(frame, lrv, normal, "Δp_0"), difference_at(frame, urv, normal, "Δp_100")
