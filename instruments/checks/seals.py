"""Family "process": the temperatures that seals stand, and a second seal where a leak would hurt. Practice."""

import re
from dataclasses import replace

from instruments.checks.case import Case, Row
from instruments.checks.finding import Cure, Finding, Grade, Input, Where, Working, margin_kind
from instruments.checks.frame import Frame
from instruments.checks.ranges import NO_CASE
from instruments.checks.support import (
    PRACTICE,
    Derived,
    all_known,
    contradiction,
    margin_of,
    missing_field,
    missing_finding,
    not_applicable,
    worst_of,
)
from instruments.physics.wetted import Material, find_material, temperature_verdict
from project.registry import gettext_noop

TEMPERATURE = "process.seal_temperature"
SECOND = "process.second_seal"
TABLE_SEAL = "tables.seal_material"
SEAL_SOURCE = gettext_noop("Practice: what seal handbooks agree on within 20 K, dry and continuous; steam lowers it")
_NONE = ("none", "no", "not ", "non-", "non ")


def _seals(case: Case) -> tuple[tuple[str, ...], str]:
    """Names of the seals, and the key of the field that says so: the measurement's, else the class's."""
    typed = case.measurement.text("seal_material")
    if typed.strip():
        names, key = re.split(r"[,;]", typed), "measurement.seal_material"
    else:
        offered = case.sensor_class.items("seals") if case.sensor_class else ()
        names, key = list(offered), "sensor_class.seals"
    return tuple(name.strip() for name in names if name.strip()), key


def seal_temperature(case: Case, frame: Frame) -> Finding:
    """Every process seal stands the lowest and highest temperature of every operating case, by practice."""
    if frame.arrangement in ("none", "two_taps"):
        variant = "arrangement" if frame.arrangement == "none" else "lines"
        return not_applicable(TEMPERATURE, variant, ("measurement.arrangement",))
    names, key = _seals(case)
    if case.sensor_class is None and not names:
        return missing_finding(TEMPERATURE, missing_field("measurement.sensor_class"), place="nozzle")
    if not names:
        return missing_finding(TEMPERATURE, missing_field("measurement.seal_material"), place="nozzle")
    names = tuple(name for name in names if not name.casefold().startswith("none"))
    if not names or names[0].casefold().startswith(("the disc", "welded")):
        return not_applicable(TEMPERATURE, "no_seal", (key,))
    if not frame.media:
        return missing_finding(TEMPERATURE, NO_CASE, place="nozzle")
    known_in = [(medium.name, medium.temperature_k) for medium in frame.media]
    return worst_of([_seal_finding(name, key, case_name, value) for name in names for case_name, value in known_in])


def _seal_finding(name: str, key: str, case: str, temperature: Derived) -> Finding:
    if temperature.value is not None and temperature.value < 0.0:
        temperature = contradiction(*temperature.fields)
    material = find_material(name)
    seal = Derived(0.0, fields=(key,))
    if material is None or material.minimum_k is None or material.maximum_k is None:
        seal = Derived(None, missing=(TABLE_SEAL,), fields=(key,))
    if all_known(temperature, seal) is None or material is None or temperature.value is None:
        return missing_finding(TEMPERATURE, temperature, seal, place="nozzle", case=case if temperature.missing else "")
    return _compared(name, key, case, temperature, material)


def _compared(name: str, key: str, case: str, temperature: Derived, material: Material) -> Finding:
    """The temperature against the nearer of the two limits."""
    temperature_k = temperature.value or 0.0
    lowest_k, highest_k = material.minimum_k or 0.0, material.maximum_k or 0.0
    above = highest_k - temperature_k < temperature_k - lowest_k
    limit_k = highest_k if above else lowest_k
    margin = margin_of(highest_k, temperature_k) if above else margin_of(temperature_k, lowest_k)
    limit = "T_max" if above else "T_min"
    formula = "m = T_max − T" if above else "m = T − T_min"
    inputs = (Input("T", temperature_k, "temperature"), Input(limit, limit_k, "temperature"))
    finding = Finding(
        TEMPERATURE,
        Grade.PASS,
        "ok",
        params={
            "seal": name,
            "asked": (temperature_k, "temperature"),
            "limit": (limit_k, "temperature"),
            "beyond": (-margin, margin_kind("temperature")),
            "case": case,
        },
        kind="temperature",
        required_si=temperature_k,
        available_si=limit_k,
        margin_si=margin,
        where=Where(case),
        working=Working(formula, inputs, "m", margin, margin_kind("temperature"), SEAL_SOURCE),
        source=SEAL_SOURCE,
        fields=(*temperature.fields, key),
        place="nozzle",
    )
    if margin >= 0:
        return finding
    special = temperature_verdict(name, temperature_k) == "special_compound"
    variant = "special" if special else "hot" if above else "cold"
    return replace(
        finding, grade=Grade.CAUTION, variant=variant, cures=(Cure("other_seal", "measurement.seal_material"),)
    )


def second_seal(case: Case, frame: Frame) -> Finding:
    """A second process seal where the medium is toxic, or burns behind a plastic window; practice, no dust."""
    if frame.arrangement == "none":
        return not_applicable(SECOND, "arrangement", ("measurement.arrangement",))
    held = [medium for row in case.operating_cases if (medium := case.medium_of(row)) is not None]
    if not held:
        return missing_finding(SECOND, missing_field("case.medium"), place="nozzle")
    media = [medium for medium in held if medium.text("kind") != "solid"]
    fields = ("medium.hazards", "medium.toxicity", "medium.flammability", "measurement.second_seal")
    toxic = next((medium for medium in media if _says(medium, "toxi", "toxicity")), None)
    burning = next((medium for medium in media if _says(medium, "flammable", "flammability")), None)
    if toxic is None and burning is None:
        return not_applicable(SECOND, "no_hazard", fields)
    if toxic is None and case.sensor_class is None:
        return missing_finding(SECOND, missing_field("measurement.sensor_class"), place="nozzle")
    if toxic is None and not _has_window(case):
        return not_applicable(SECOND, "no_window", (*fields, "measurement.sensor_class"))
    hazardous = toxic or burning
    variant = "toxic" if toxic is not None else "flammable"
    finding = Finding(
        SECOND,
        Grade.CAUTION,
        variant,
        params={"medium": hazardous.text("name") if hazardous else ""},
        source=PRACTICE,
        cures=(Cure("add_second_seal", "measurement.second_seal"),),
        fields=(*fields, "measurement.sensor_class"),
        place="nozzle",
    )
    if case.measurement.text("second_seal") == "yes":
        return replace(finding, grade=Grade.PASS, variant="ok", cures=())
    return finding


def _says(medium: Row, word: str, stem: str) -> bool:
    """Whether the hazards name it, or its own field says more than that there is none."""
    hazards = [part.strip() for part in re.split(r"[,;]", medium.text("hazards").casefold())]
    own = medium.text(stem).strip().casefold()
    return any(word in part and not part.startswith(_NONE) for part in hazards) or bool(
        own and not own.startswith(_NONE) and own != "no"
    )


def _has_window(case: Case) -> bool:
    """Whether a free-radiating radar looks through plastic."""
    if case.sensor_class is None or case.sensor_class.technology != "radar_free":
        return False
    found = (find_material(name) for name in case.sensor_class.items("wetted_materials"))
    return any(material is not None and material.kind == "plastic" for material in found)
