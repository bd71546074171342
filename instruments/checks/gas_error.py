"""Family "process": how far the gas above the medium makes the sensor read wrong."""

from dataclasses import dataclass, replace

from instruments.checks.case import Case, Row
from instruments.checks.finding import Cure, Finding, Grade, Input, Where, Working
from instruments.checks.frame import Frame
from instruments.checks.media import ATMOSPHERIC_WITHIN_PA, property_in
from instruments.checks.principle import is_pressure
from instruments.checks.ranges import NO_CASE, lowest_wanted
from instruments.checks.support import (
    PRACTICE,
    Derived,
    all_known,
    contradiction,
    derive,
    fields_of,
    known_or_missing,
    lacks,
    length,
    margin_of,
    missing_field,
    missing_finding,
    not_applicable,
    small_length,
    worked,
    worst_of,
)
from instruments.physics.gas import (
    GASES,
    PERMITTIVITY_SOURCE,
    SOUND_SOURCE,
    STEAM,
    distance_ratio,
    distance_ratio_in_tube,
    find_gas,
    gas_permittivity,
    gas_sound_m_s,
)
from instruments.physics.steam import CRITICAL_PA_ABS, HOTTEST_K, TRIPLE_POINT_PA_ABS, steam
from instruments.physics.steam import SOURCE as STEAM_SOURCE
from project.registry import gettext_noop

CODE = "process.gas_error"
WAVES = ("radar_free", "guided_wave")
LIGHT_SOURCE = gettext_noop("Speed of light in a gas, c/√εr; in a round tube that of the mode TE11")
# No vapour of common tables reaches this at 1 atm; handbook values, from memory. It bounds an unknown gas in a vented
# vessel, where its density is at most that of the vapour at this pressure.
LARGEST_PERMITTIVITY_1_ATM = 1.02
BOUND_SOURCE = gettext_noop("Bound: no vapour of common tables has εr above 1.02 at 1 atm (from memory)")
ONE_ATM_PA_ABS = 101_325.0
# What air does up to some 1.8 bar. Sensors are usually adjusted in air: most of it is in the adjustment already.
LIKE_AIR = 0.0005  # practice, no source


@dataclass(frozen=True, slots=True)
class _Ratio:
    """By which share the distance is read too long in one case; `bounded` where it is only known not to be more."""

    value: Derived
    bounded: bool = False


def gas_error(case: Case, frame: Frame) -> Finding:
    """The reading error by the gas, at the lowest level wanted, is within the accuracy asked for in every case.

    Radar and guided waves run slower in a gas than in a vacuum, and the level reads low; a high alarm then comes late.
    Ultrasonic sensors are taken to be compensated for air at the gas's own temperature (practice), so that another gas
    reads wrong by the ratio of the speeds of sound.
    """
    technology = case.sensor_class.technology if case.sensor_class else ""
    if is_pressure(case):
        return not_applicable(CODE, "pressure", ("measurement.sensor_class",))
    if not frame.has_reference_point:
        return not_applicable(CODE, "arrangement", ("measurement.arrangement",))
    if technology not in (*WAVES, "ultrasonic", ""):
        return not_applicable(CODE, "principle", ("measurement.sensor_class",))
    if not frame.media:
        return missing_finding(CODE, NO_CASE)
    what, level = lowest_wanted(case, frame)
    parts = [level, frame.distance(level), frame.entered("measurement.accuracy")]
    if case.sensor_class is None:
        parts.append(missing_field("measurement.sensor_class"))
    found = []
    for row, medium in zip(case.operating_cases, frame.media, strict=True):
        ratio = _by_sound(case, row) if technology == "ultrasonic" else _by_light(case, frame, row)
        found.append(_finding(case, medium.name, what, parts, ratio))
    return worst_of(found)


def _finding(case: Case, name: str, what: str, parts: list[Derived], ratio: _Ratio) -> Finding:
    known = all_known(*parts, ratio.value)
    if known is None:
        return missing_finding(CODE, *parts, ratio.value, case=name if ratio.value.missing else "")
    level_m, distance_m, accuracy_m = known[:3]
    longer = known[-1]
    error_m = -distance_m * longer
    margin = margin_of(accuracy_m, abs(error_m))
    inputs = (length("d", distance_m), Input("δ", longer, "ratio"))
    source = ratio.value.working.source if ratio.value.working else LIGHT_SOURCE
    working = Working("e = −d · δ", inputs, "e", error_m, "length_small", source)
    compared = Working(
        "m = u_asked − |e|",
        (small_length("u_asked", accuracy_m), small_length("e", error_m)),
        "m",
        margin,
        "length_small",
        source,
    )
    finding = Finding(
        CODE,
        Grade.PASS,
        "bounded" if ratio.bounded else "ok",
        params={
            "what": what,
            "level": (level_m, "length"),
            "error": (abs(error_m), "length_small"),
            "share": (abs(longer), "ratio"),
            "asked": (accuracy_m, "length_small"),
            "case": name,
        },
        kind="length_small",
        required_si=abs(error_m),
        available_si=accuracy_m,
        margin_si=margin,
        where=Where(name, level_m),
        working=worked(compared, parts[1], Derived(error_m, working=worked(working, ratio.value))),
        source=source,
        fields=fields_of(*parts, ratio.value),
        place="lrv" if what == "LRV" else f"setpoint-{what}",
    )
    if margin >= 0:
        return finding
    if ratio.bounded:  # the true gas may be harmless: say what has to be known
        gas = Derived(None, missing=("medium.permittivity_vapour",), fields=finding.fields)
        return missing_finding(CODE, gas, case=name)
    if case.measurement.text("compensation").strip():
        cure = Cure("prove_compensation", "measurement.compensation")
        fields = (*finding.fields, "measurement.compensation")
        return replace(finding, grade=Grade.CAUTION, variant="compensated", cures=(cure,), fields=fields)
    cure = Cure("compensate_gas", "measurement.compensation")
    if abs(longer) <= LIKE_AIR:
        return replace(finding, grade=Grade.CAUTION, variant="slight", cures=(cure,), source=PRACTICE)
    return replace(finding, grade=Grade.STOP, variant="low" if error_m < 0 else "high", cures=(cure,))


# --- light --------------------------------------------------------------------------------------------------


def _by_light(case: Case, frame: Frame, row: Row) -> _Ratio:
    permittivity, bounded = _permittivity(case, row)
    bore = _bore(case, frame)
    if permittivity.value is not None and permittivity.value < 1.0:
        return _Ratio(contradiction(*permittivity.fields[:1]))
    if bore is None:
        if permittivity.value is None:
            return _Ratio(permittivity)
        inputs = (Input("χ", permittivity.value - 1.0, "ratio"),)
        longer = distance_ratio(permittivity.value) - 1.0
        source = permittivity.working.source if permittivity.working else LIGHT_SOURCE
        return _Ratio(derive(Working("δ = √(1 + χ) − 1", inputs, "δ", longer, "ratio", source), permittivity), bounded)
    frequency = frame.entered("sensor_class.frequency")
    known = all_known(permittivity, bore, frequency)
    if known is None:
        return _Ratio(lacks(permittivity, bore, frequency))
    if known[1] <= 1e-6 or known[2] < 1.0:
        return _Ratio(contradiction(*bore.fields[:1]))
    in_tube = distance_ratio_in_tube(known[0], known[2], known[1])
    if in_tube is None:  # narrower than the wave
        return _Ratio(contradiction(*bore.fields[:1]))
    values = (Input("χ", known[0] - 1.0, "ratio"), Input("f_c", known[2], "frequency"), small_length("b", known[1]))
    formula = "δ = (1 + χ)/√(1 + χ − (1.841 · c_0/(π · f_c · b))²) − 1"
    working = Working(formula, values, "δ", in_tube - 1.0, "ratio", LIGHT_SOURCE)
    return _Ratio(derive(working, permittivity, bore, frequency), bounded)


def _bore(case: Case, frame: Frame) -> Derived | None:
    """The bore of the tube in which a free-radiating radar looks down; None where there is no tube."""
    if case.sensor_class is None or case.sensor_class.technology != "radar_free":
        return None
    if frame.arrangement == "chamber":
        return frame.entered("measurement.chamber_bore")
    if not case.measurement.text("stilling_well").strip():
        return None
    return frame.entered("measurement.well_bore")


def _permittivity(case: Case, row: Row) -> tuple[Derived, bool]:
    """Permittivity of the gas above: entered, by the gas's name, or a bound for an unknown gas in a vented vessel.

    What the case enters holds; what the medium enters holds where the case names no other gas.
    """
    medium = case.medium_of(row)
    named_here = row.text("gas").strip()
    entered = property_in(case, row, "permittivity_vapour")
    own = row.si("permittivity_vapour") is not None or "case.permittivity_vapour" in case.unreadable
    if own or (not named_here and entered.value is not None):
        if entered.value is None:
            return entered, False
        source = gettext_noop("Permittivity of the gas as entered")
        given = (Input("εg", entered.value, "permittivity"),)
        return _gas(Working("χ = εg − 1", given, "χ", entered.value - 1.0, "ratio", source), entered), False
    if medium is None:
        return entered, False
    pressure = known_or_missing(row.si("pressure"), "case.pressure")
    temperature = known_or_missing(row.si("temperature"), "case.temperature")
    atmosphere = known_or_missing(case.plant.si("atmosphere"), "plant.atmosphere")
    known = all_known(pressure, temperature, atmosphere)
    if known is None:
        return lacks(pressure, temperature, atmosphere), False
    if known[0] < 0.0 or known[1] < 1.0:
        return contradiction("case.pressure", "case.temperature"), False
    typed = named_here or medium.text("gas").strip()
    vented = margin_of(known[2] + ATMOSPHERIC_WITHIN_PA, known[0]) >= 0
    # An empty field means air only where the vessel is open to it.
    name = find_gas(typed) if typed else "air" if vented and medium.text("kind") != "liquefied_gas" else None
    naming = Derived(0.0, fields=("case.gas", "medium.gas"))
    value, source = _by_name(name, row, medium, known[0], known[1])
    if value is not None:
        inputs = (Input("p", known[0], "pressure_absolute"), Input("T", known[1], "temperature"))
        working = Working("χ = χ(p, T)", inputs, "χ", value - 1.0, "ratio", source)
        return _gas(working, pressure, temperature, naming), False
    if vented and name != STEAM:
        bound = 1.0 + (LARGEST_PERMITTIVITY_1_ATM - 1.0) * known[0] / ONE_ATM_PA_ABS
        bounding = (Input("p", known[0], "pressure_absolute"),)
        working = Working("χ = 0.02 · p/(101 325 Pa)", bounding, "χ", bound - 1.0, "ratio", BOUND_SOURCE)
        return _gas(working, pressure, naming), True
    if name == STEAM:  # colder than steam of this pressure, or beyond what the formulations hold
        return contradiction("case.temperature", "case.pressure"), False
    needed = "case.density_vapour" if name and GASES[name].permittivity else "medium.permittivity_vapour"
    return Derived(None, missing=(needed,), fields=(*naming.fields, "medium.permittivity_vapour")), False


def _gas(working: Working, *parts: Derived) -> Derived:
    """A permittivity from the working of what it has above 1, which is shown because the rest is always 1."""
    return replace(derive(working, *parts), value=1.0 + working.result_si)


def _by_name(
    name: str | None, row: Row, medium: Row, pressure_pa_abs: float, temperature_k: float
) -> tuple[float | None, str]:
    """Permittivity of a named gas and its source; None where it is not known."""
    if name is None:
        return None, ""
    if name != STEAM:
        density = row.si("density_vapour")
        if density is not None and not 0.0 < density < 1000.0:
            density = None
        value = gas_permittivity(name, pressure_pa_abs, temperature_k, density)
        return (value if value is not None and value < 2.0 else None), PERMITTIVITY_SOURCE
    if not TRIPLE_POINT_PA_ABS < pressure_pa_abs < CRITICAL_PA_ABS or temperature_k > HOTTEST_K:
        return None, ""
    state = steam(pressure_pa_abs, temperature_k)
    return (None if state is None else state.permittivity), STEAM_SOURCE


# --- sound --------------------------------------------------------------------------------------------------


def _by_sound(case: Case, row: Row) -> _Ratio:
    """Distance read over true distance where air's speed of sound is reckoned with."""
    medium = case.medium_of(row)
    if medium is None:
        return _Ratio(missing_field("case.medium"))
    temperature = known_or_missing(row.si("temperature"), "case.temperature")
    if temperature.value is None:
        return _Ratio(temperature)
    if temperature.value < 1.0:
        return _Ratio(contradiction("case.temperature"))
    typed = row.text("gas").strip() or medium.text("gas").strip()
    name = find_gas(typed) if typed else "air"
    if not typed:
        # An empty field means air only where the vessel is open to it.
        pressure = known_or_missing(row.si("pressure"), "case.pressure")
        atmosphere = known_or_missing(case.plant.si("atmosphere"), "plant.atmosphere")
        known = all_known(pressure, atmosphere)
        if known is None:
            return _Ratio(lacks(pressure, atmosphere))
        if margin_of(known[1] + ATMOSPHERIC_WITHIN_PA, known[0]) < 0 or medium.text("kind") == "liquefied_gas":
            return _Ratio(missing_field("case.gas"))
    sound = gas_sound_m_s(name, temperature.value) if name in GASES else None
    air = gas_sound_m_s("air", temperature.value)
    if sound is None or air is None:
        return _Ratio(Derived(None, missing=("case.gas",), fields=("case.gas", "medium.gas")))
    inputs = (Input("c_air", air, "speed"), Input("c_gas", sound, "speed"))
    naming = Derived(0.0, fields=("case.gas", "medium.gas"))
    working = Working("δ = c_air/c_gas − 1", inputs, "δ", air / sound - 1.0, "ratio", SOUND_SOURCE)
    return _Ratio(derive(working, temperature, naming))
