"""Family "process": whether the sensor's process connection fits the nozzle, by drilling, facing or thread."""

import re
from dataclasses import dataclass, replace

from instruments.checks.case import Case, Row
from instruments.checks.finding import Cure, Finding, Grade
from instruments.checks.flanges import entered_text, no_connection, roles_of
from instruments.checks.frame import Frame
from instruments.checks.support import (
    PRACTICE,
    Derived,
    lacking,
    missing_field,
    missing_finding,
    not_applicable,
    unique,
    worst_of,
)
from instruments.physics.flange_mating import (
    FACING_DIFFERS,
    FACING_MISSING,
    LOWER_RATING_COUNTS,
    OTHER_HOLE_NUMBER_EXISTS,
    RAISED_AGAINST_FLAT,
    SIZE_DIFFERS,
    Flange,
    Mating,
    mate,
)
from instruments.physics.flange_names import ASME, EN, STANDARDS, read_facing, read_rating, read_size

CODE = "process.connection"
TABLE_DIMENSIONS = "tables.flange_dimensions"
TABLE_STANDARD = "tables.connection_standard"
SOURCE = "Comparison of the connecting dimensions tabulated after ASME B16.5 and EN 1092-1"
THREAD_SOURCE = "Threads of different standards or sizes do not fit (ISO 228-1, ASME B1.20.1)"
THREADS = ("iso_228_1", "asme_b1_20_1")
ENTERED = tuple(f"measurement.connection_{stem}" for stem in ("standard", "size", "rating", "facing"))
_VULGAR = {"¼": " 1/4", "½": " 1/2", "¾": " 3/4"}
_CAUTIONS = {  # worst first
    RAISED_AGAINST_FLAT: "raised_flat",
    OTHER_HOLE_NUMBER_EXISTS: "other_holes",
    LOWER_RATING_COUNTS: "lower_rating",
}


@dataclass(frozen=True, slots=True)
class Connection:
    """A process connection in words: standard by its key ("" where it is not known), the rest as typed."""

    standard: str
    size: str
    rating: str = ""
    facing: str = ""

    @property
    def text(self) -> str:
        return " ".join(part for part in (self.size, self.rating, self.facing) if part)


def read_standard(text: str) -> str:
    """The key of a standard that a text names, '' for none: "EN 1092-1", "ASME B16.5", "ISO 228-1", "NPT"."""
    shown = re.sub(r"[^A-Z0-9]", "", text.upper())
    for part, key in (("10921", EN), ("B165", ASME), ("2281", THREADS[0]), ("B1201", THREADS[1]), ("NPT", THREADS[1])):
        if part in shown:
            return key
    return ""


def read_offer(text: str) -> Connection | None:
    """A connection that a class offers, such as "DN 50 PN 40, EN 1092-1" or "G 1½, ISO 228-1"; None if not readable."""
    named, _, rest = text.partition(",")
    standard = read_standard(rest)
    if standard in THREADS:
        return Connection(standard, named.strip())
    flange = re.fullmatch(r"\s*(.+?)\s+((?:PN|class)\s*\S+)\s*", named, re.IGNORECASE)
    return Connection(standard, flange[1], flange[2]) if standard and flange else None


def thread_size(text: str) -> str:
    """The size of a thread without its letter, fractions written out: "G 1½", "1-1/2" and "NPT 1 1/2" are the same."""
    shown = text.upper()
    for sign, words in _VULGAR.items():
        shown = shown.replace(sign, words)
    shown = re.sub(r"\b(G|NPT|IN|INCH)\b|\"", " ", shown)
    return re.sub(r"[\s-]+", " ", shown).strip()


def connection(case: Case, frame: Frame) -> Finding:
    """The sensor's connection, or one that its class offers, fits every nozzle it is fitted to; else an adapter does.

    Legs and chambers have fittings of their own between nozzle and sensor, which are not judged here.
    """
    roles = roles_of(frame)
    apart = {"none": "arrangement", "two_taps": "lines", "chamber": "chamber"}
    if not roles or frame.arrangement in apart:
        return not_applicable(CODE, apart[frame.arrangement], ("measurement.arrangement",))
    findings = []
    for role in roles:
        row = frame.connection(role)
        findings.append(
            missing_finding(CODE, no_connection(role), place="nozzle") if row is None else _of_nozzle(case, row)
        )
    return worst_of(findings)


def _of_nozzle(case: Case, row: Row) -> Finding:
    typed = [case.measurement.text(f"connection_{stem}").strip() for stem in ("standard", "size", "rating", "facing")]
    fitted = _entered(case, row, typed) if any(typed) else _offered(case, row)
    if fitted.grade not in (Grade.STOP, Grade.MISSING) and fitted.variant != "not_offered":
        return fitted
    named = case.measurement.text("adapter").strip()
    if named:
        keys = ("measurement.adapter",)
        return Finding(
            CODE, Grade.PASS, "adapter", params={"adapter": named}, source=PRACTICE, fields=keys, place="nozzle"
        )
    if (case.measurement.si("adapter_length") or 0.0) > 0.0 and fitted.grade is not Grade.MISSING:
        fields = (*fitted.fields, "measurement.adapter_length", "measurement.adapter")
        return replace(
            fitted, grade=Grade.CAUTION, variant="adapter_unnamed", params={"nozzle": _nozzle(row).text}, fields=fields,
            source=PRACTICE, cures=(Cure("name_adapter", "measurement.adapter"),),
        )  # fmt: skip
    return fitted


def _nozzle(row: Row) -> Connection:
    return Connection(row.text("standard"), row.text("size"), row.text("rating"), row.text("facing"))


def _base(fields: tuple[str, ...], nozzle: Connection, sensor: Connection) -> Finding:
    return Finding(
        CODE,
        Grade.PASS,
        "fits",
        params={"nozzle": nozzle.text, "sensor": sensor.text},
        source=SOURCE,
        fields=fields,
        place="nozzle",
    )


def _entered(case: Case, row: Row, typed: list[str]) -> Finding:
    """The finding for the connection that is entered with the measurement."""
    nozzle = _nozzle(row)
    sensor = Connection(read_standard(typed[0]) or read_standard(typed[1]), *typed[1:])
    fields = (*(f"nozzle.{stem}" for stem in ("standard", "size", "rating", "facing")), *ENTERED)
    lacks = [entered_text(row, "nozzle", "standard"), entered_text(row, "nozzle", "size")]
    lacks.append(entered_text(case.measurement, "measurement", "connection_size"))
    if not sensor.standard:
        lacks.append(missing_field(TABLE_STANDARD if typed[0] else "measurement.connection_standard"))
    if nozzle.standard and nozzle.standard not in (*STANDARDS, *THREADS):
        lacks.append(missing_field(TABLE_STANDARD))
    if lacking(*lacks):
        return missing_finding(CODE, *lacks, place="nozzle")
    base = _base(fields, nozzle, sensor)
    cures = (Cure("fitting_connection", "measurement.connection_size"), Cure("name_adapter", "measurement.adapter"))
    stop = replace(base, grade=Grade.STOP, cures=cures)
    if nozzle.standard in THREADS and sensor.standard in THREADS:
        equal = nozzle.standard == sensor.standard and thread_size(nozzle.size) == thread_size(sensor.size)
        thread = replace(base, source=THREAD_SOURCE)
        return (
            replace(thread, variant="fits_thread") if equal else replace(stop, variant="thread", source=THREAD_SOURCE)
        )
    if nozzle.standard in THREADS or sensor.standard in THREADS:
        return replace(stop, variant="thread_flange", source=THREAD_SOURCE)
    lacks = [entered_text(row, "nozzle", stem) for stem in ("rating", "facing")]
    lacks += [entered_text(case.measurement, "measurement", f"connection_{stem}") for stem in ("rating", "facing")]
    one, two = _flange(nozzle), _flange(sensor)
    if one is None or two is None:
        blank = [part for part in (lacks[0], lacks[2]) if part.missing]
        return missing_finding(CODE, *(blank or [missing_field(TABLE_DIMENSIONS)]), place="nozzle")
    return _mated(base, stop, mate(one, two), lacks)


def _flange(one: Connection) -> Flange | None:
    dn, rating = read_size(one.standard, one.size), read_rating(one.standard, one.rating)
    if dn is None or rating is None:
        return None
    return Flange(one.standard, dn, rating, read_facing(one.standard, one.facing) if one.facing else None)


def _mated(base: Finding, stop: Finding, mating: Mating, lacks: list[Derived]) -> Finding:
    """What the comparison of two flanges says."""
    if mating.first is not None and mating.second is not None:
        drilling: dict[str, str | tuple[float, str]] = {
            "circle": (mating.first.bolt_circle_m, "length_small"),
            "holes": str(mating.first.holes),
            "hole": (mating.first.hole_diameter_m, "length_small"),
            "circle_sensor": (mating.second.bolt_circle_m, "length_small"),
            "holes_sensor": str(mating.second.holes),
            "hole_sensor": (mating.second.hole_diameter_m, "length_small"),
        }
        base, stop = (replace(one, params={**one.params, **drilling}) for one in (base, stop))
    if mating.fits is False:
        variant = "size" if SIZE_DIFFERS in mating.reasons else (
            "facing" if mating.reasons[0] == FACING_DIFFERS else "drilling"
        )  # fmt: skip
        return replace(stop, variant=variant)
    if mating.fits is None:
        blank = [part for part in lacks if part.missing] if FACING_MISSING in mating.reasons else []
        return missing_finding(CODE, *(blank or [missing_field(TABLE_DIMENSIONS)]), place="nozzle")
    for caution, variant in _CAUTIONS.items():
        if caution in mating.cautions:
            return replace(base, grade=Grade.CAUTION, variant=variant)
    return base


def _offered(case: Case, row: Row) -> Finding:
    """The finding where no connection is entered: whether the class offers one that fits. A facing is chosen later."""
    nozzle = _nozzle(row)
    lacks = [entered_text(row, "nozzle", "standard"), entered_text(row, "nozzle", "size")]
    if nozzle.standard in STANDARDS:
        lacks.append(entered_text(row, "nozzle", "rating"))
    offers = case.sensor_class.items("connections") if case.sensor_class else ()
    if case.sensor_class is None:
        lacks.append(missing_field("measurement.sensor_class"))
    elif not offers:
        lacks.append(missing_field("measurement.connection_size"))
    if nozzle.standard and nozzle.standard not in (*STANDARDS, *THREADS):
        lacks.append(missing_field(TABLE_STANDARD))
    elif nozzle.standard in STANDARDS and not lacking(*lacks) and _flange(nozzle) is None:
        lacks.append(missing_field(TABLE_DIMENSIONS))
    if lacking(*lacks):
        return missing_finding(CODE, *lacks, place="nozzle")
    stems = ("standard", "size", *(("rating",) if nozzle.standard in STANDARDS else ()))
    fields = unique((*(f"nozzle.{stem}" for stem in stems), "measurement.sensor_class", "sensor_class.connections"))
    base = _base(fields, Connection(*[getattr(nozzle, stem) for stem in stems]), Connection("", "; ".join(offers)))
    provisional = case.sensor_class is not None and not case.sensor_class.confirmed
    for offer in offers:
        read = read_offer(offer)
        if read is not None and _offer_fits(nozzle, read):
            return replace(base, variant="offered", params={**base.params, "sensor": offer}, provisional=provisional)
    cures = (Cure("name_adapter", "measurement.adapter"),)
    return replace(base, grade=Grade.CAUTION, variant="not_offered", cures=cures, provisional=provisional)


def _offer_fits(nozzle: Connection, offer: Connection) -> bool:
    if nozzle.standard != offer.standard:
        return False
    if offer.standard in THREADS:
        return thread_size(nozzle.size) == thread_size(offer.size)
    one, two = _flange(nozzle), _flange(offer)
    if one is None or two is None:
        return False
    # Only what remains open is the facing, which is chosen with the sensor.
    return set(mate(replace(one, facing=None), replace(two, facing=None)).reasons) == {FACING_MISSING}
