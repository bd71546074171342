"""Invented cases for printed sheets: a full one, one with faults, a nearly empty one, one with difficult texts."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from instruments.checks.case import EMPTY_ROW, Case, Row
from instruments.checks.figures import key_figures
from instruments.checks.registry import run_checks
from instruments.documents.datasheet import datasheet_html, datasheet_pdf
from instruments.documents.sheet_head import SheetHead
from instruments.wording import DescribedFigure, DescribedFinding, describe, describe_figure
from tests.checks.builders import RADAR, make_row

GREEK, CYRILLIC = "Στάθμη δεξαμενής μεθανόλης", "Уровень метанола в резервуаре"
HARD_SERVICE = f'<script>alert(1)</script> {GREEK} · {CYRILLIC} & "quotes" ' + "W" * 80
HARD_NOTE = (f"First line <b>not bold</b>\n{GREEK}\n{CYRILLIC}\n" + "a note that goes on and on " * 20)[:500]

TEXTS: dict[str, dict[str, str]] = {
    "plant": {
        "code": "KRO", "name": "Kestrel Reach Oleochemicals", "unit_set": "metric", "atmosphere": "1.01325 bar(a)",
        "time_zone": "UTC", "paper": "a4",
    },
    "unit": {"number": "40", "name": "Ester", "area_classification": "Zone 1 IIA T3"},
    "tag": {
        "letters": "LT", "number": "4001", "text": "LT-4001", "service": "Methanol storage tank, level to panel",
        "pid": "KRO-40-PID-0012", "pid_revision": "3", "location": "Tank farm, on the roof of T-401",
    },
    "vessel": {
        "number": "T-401", "name": "Methanol storage tank", "drawing": "KRO-40-VD-0401", "drawing_revision": "2",
        "body": "vertical_cylinder", "bottom": "flat", "top": "flat", "diameter": "9.5 m", "cylinder_height": "12 m",
        "datum": "lowest_inside_point", "design_pressure_max": "0.02 bar(g)", "design_pressure_min": "-0.006 bar(g)",
        "design_temperature_max": "65 °C", "design_temperature_min": "-20 °C", "overflow_level": "11.6 m",
        "inflow_max": "120 m³/h", "outflow_max": "80 m³/h", "note": "Nitrogen blanket; floating suction.",
    },
    "measurement": {
        "duty": "inventory", "arrangement": "one_nozzle", "accuracy": "5 mm", "lrv": "0.2 m", "urv": "11.4 m",
        "direction": "direct", "failure_current": "high", "damping": "5 s", "note": "Sun shade required.",
    },
    "nozzle": {
        "role": "sensor", "mark": "N7", "standard": "en_1092_1", "size": "DN 80", "rating": "PN 16", "facing": "B1",
        "material": "1.4404", "bore": "82.5 mm", "face_elevation": "12.25 m", "radius": "3.1 m", "bearing": "120°",
    },
    "medium": {
        "name": "Methanol", "kind": "liquid", "density": "791 kg/m³", "density_temperature": "20 °C",
        "permittivity": "33", "permittivity_temperature": "20 °C", "gas": "Nitrogen", "hazards": "Toxic, flammable",
    },
}  # fmt: skip
CASES: tuple[dict[str, str], ...] = (
    {"kind": "minimum", "display": "Minimum", "temperature": "-5 °C", "pressure": "0 bar(g)"},
    {"kind": "normal", "display": "Normal", "temperature": "20 °C", "pressure": "0.01 bar(g)"},
    {"kind": "maximum", "display": "Hot", "temperature": "40 °C", "pressure": "0.018 bar(g)", "density": "773 kg/m³"},
)
SETPOINTS: tuple[dict[str, str], ...] = (
    {"name": "LL", "level": "0.6 m", "priority": "high", "consequence": "suction_lost", "response_time": "120 s"},
    {"name": "L", "level": "1.2 m", "priority": "low", "consequence": "suction_lost"},
    {"name": "H", "level": "10.8 m", "reset_differential": "50 mm", "priority": "medium", "consequence": "overflow"},
    {
        "name": "HH", "level": "11.2 m", "reset_differential": "50 mm", "priority": "high", "consequence": "overflow",
        "response_time": "600 s", "action": "Close inlet valve XV-4003",
    },
)  # fmt: skip


def full(changes: Mapping[str, str] | None = None) -> Case:
    """Every group filled; `changes` are "entity.stem" -> text, '' leaves a value out."""
    texts = {entity: dict(row) for entity, row in TEXTS.items()}
    for key, text in (changes or {}).items():
        entity, _, stem = key.partition(".")
        texts[entity][stem] = text
    return Case(
        plant=make_row("plant", texts["plant"]),
        unit=make_row("unit", texts["unit"]),
        tag=make_row("tag", texts["tag"]),
        vessel=make_row("vessel", texts["vessel"]),
        measurement=make_row("measurement", texts["measurement"]),
        connections=(make_row("nozzle", texts["nozzle"]),),
        media=(make_row("medium", texts["medium"], uid="m1"),),
        operating_cases=tuple(make_row("case", {"medium": "m1", **row}) for row in CASES),
        setpoints=tuple(make_row("setpoint", row) for row in SETPOINTS),
        sensor_class=RADAR,
    )


def full_us_letter() -> Case:
    return full({"plant.unit_set": "us", "plant.paper": "letter"})


def faulty() -> Case:
    """Stops and missing data, too many for one sheet."""
    return full(
        {
            "measurement.urv": "12.15 m", "measurement.accuracy": "1 mm", "nozzle.bore": "41 mm", "nozzle.radius": "",
            "medium.permittivity": "", "medium.permittivity_temperature": "", "vessel.design_temperature_max": "150 °C",
        }
    )  # fmt: skip


def nearly_empty() -> Case:
    """What stands there when a tag has just been made."""
    case = full()
    return replace(
        case,
        unit=make_row("unit", {"number": "40", "name": "Ester"}),
        tag=make_row("tag", {"letters": "LT", "number": "4009", "text": "LT-4009"}),
        vessel=EMPTY_ROW,
        measurement=Row("", {"duty": "indication", "arrangement": "one_nozzle"}),
        connections=(),
        media=(),
        operating_cases=(),
        setpoints=(),
        sensor_class=None,
    )


def hard_texts() -> Case:
    """Markup, Greek, Cyrillic, a word without end, the longest notes."""
    return full(
        {"tag.service": HARD_SERVICE, "measurement.note": HARD_NOTE, "vessel.note": "x" * 500, "unit.name": "Ω & <Ω>"}
    )


def crowded() -> Case:
    """More of everything than one would meet: three sheets."""
    case = faulty()
    cases = [
        {"kind": "named", "display": f"Case {number}", "medium": "m1" if number % 2 else "m2",
         "temperature": f"{number} °C", "pressure": "0.01 bar(g)"}
        for number in range(9)
    ]  # fmt: skip
    levels = [{"name": "H", "level": f"{10.9 - number / 10:.1f} m", "action": f"Do {number}"} for number in range(45)]
    return replace(
        case,
        connections=case.connections * 3,
        media=(*case.media, make_row("medium", {"name": "Wash water", "kind": "liquid"}, uid="m2")),
        operating_cases=tuple(make_row("case", row) for row in cases),
        setpoints=tuple(make_row("setpoint", row) for row in levels),
    )


SAMPLES = {
    "full": full,
    "full-us-letter": full_us_letter,
    "faulty": faulty,
    "nearly-empty": nearly_empty,
    "hard-texts": hard_texts,
    "crowded": crowded,
}


def head_of(case: Case, **changes: Any) -> SheetHead:
    return SheetHead(
        **{
            "legal_owner": case.plant.text("name"),
            "document_number": "KRO-40-LDS-0001",
            "title": f"Level measurement {case.tag.text('text')}",
            "supplementary_title": case.tag.text("service"),
            "creator": "Ada Example",
            "approval_person": "Bo Example",
            "date_of_issue": "2025-11-25",
            "revision_index": "A",
            "document_status": "For review",
            "paper": case.plant.text("paper"),
            "invented": True,
            **changes,
        }
    )


def described(case: Case) -> tuple[list[DescribedFinding], list[DescribedFigure]]:
    findings = [describe(finding, case.units) for finding in run_checks(case)]
    return findings, [describe_figure(figure, case.units) for figure in key_figures(case)]


def html_of(case: Case, **head: Any) -> str:
    return datasheet_html(case, head_of(case, **head), *described(case))


def pdf_of(case: Case, **head: Any) -> bytes:
    return datasheet_pdf(case, head_of(case, **head), *described(case))
