"""Invented cases for printed sheets: a full one, one with faults, a nearly empty one, one with difficult texts."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from instruments.checks.case import EMPTY_ROW, Case, Row
from instruments.checks.figures import key_figures
from instruments.checks.registry import run_checks
from instruments.checks.sensor_class import load_class_file
from instruments.documents.common_sheet import common_sheet_pdf
from instruments.documents.datasheet import datasheet_html, datasheet_pdf
from instruments.wording import DescribedFigure, DescribedFinding, describe, describe_figure
from project.documents.sheet_head import SheetHead
from tests.checks.builders import CLASS_FILES, RADAR, make_row

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
        "design_temperature_max": "65 °C", "design_temperature_min": "-10 °C", "overflow_level": "11.6 m",
        "inflow_max": "120 m³/h", "outflow_max": "80 m³/h", "note": "Nitrogen blanket; floating suction.",
    },
    "measurement": {
        "duty": "inventory", "arrangement": "one_nozzle", "adapter": "Flange with thread", "second_seal": "yes",
        "accuracy": "5 mm", "lrv": "0.2 m", "urv": "11.4 m",
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


SEALS = load_class_file(CLASS_FILES / "differential_pressure_remote_seals.toml")
GUIDED = load_class_file(CLASS_FILES / "guided_wave_rod.toml")
FOUR_LINES = f"Glycerine drum, level to panel and trip\n{GREEK}\n{CYRILLIC}\nfourth line: shared with LZT-4102"
# Groups that the first sample leaves empty.
WHOLE_ORDER = {
    "measurement.variable": "level", "measurement.safety_function": "SIF-41", "measurement.safety_target": "2",
    "measurement.demand_mode": "low", "measurement.redundancy": "1oo2 with LZT-4102",
    "measurement.repeatability": "2 mm", "measurement.connection_standard": "EN 1092-1",
    "measurement.connection_size": "DN 80", "measurement.connection_rating": "PN 40",
    "measurement.connection_facing": "B1", "measurement.gasket": "Graphite, 1.4401 core",
    "measurement.wetted_material": "316L (UNS S31603)", "measurement.second_seal": "yes",
    "measurement.mounting": "remote", "measurement.housing_material": "Aluminium", "measurement.coating": "Epoxy",
    "measurement.ingress": "IP66/IP68", "measurement.cable_entry": "M20 × 1.5", "measurement.cable_entries": "2",
    "measurement.ambient_min": "-25 °C", "measurement.ambient_max": "45 °C", "measurement.supply": "24 V DC, loop",
    "measurement.zone_inside": "0", "measurement.zone_outside": "1", "measurement.protection_level": "Ga/Gb",
    "measurement.explosion_group": "IIB", "measurement.temperature_class": "T4",
    "measurement.protection_concept": "Ex ia", "measurement.barrier": "Isolator, cabinet 40-MC-02",
    "measurement.output": "4 to 20 mA, digital superposed", "measurement.protocol": "Digital on 4 to 20 mA, rev. 7",
    "measurement.write_protection": "Switch in the housing", "measurement.sun_shade": "Yes, stainless",
    "measurement.material_certificate": "3.1, EN 10204", "measurement.calibration": "Five points, with certificate",
    "measurement.requisition": "KRO-REQ-0417", "measurement.spares": "One transmitter for each four",
}  # fmt: skip


def chamber_on_a_drum() -> Case:
    """A guided wave sensor in a chamber beside a horizontal drum, US units on Letter, with holds."""
    case = full(
        {
            **WHOLE_ORDER, "plant.unit_set": "us", "plant.paper": "letter", "tag.text": "LT-4101", "tag.number": "4101",
            "tag.service": FOUR_LINES, "vessel.number": "V-410", "vessel.name": "Glycerine drum",
            "vessel.body": "horizontal_cylinder", "vessel.bottom": "flat", "vessel.top": "flat",
            "vessel.diameter": "2.4 m", "vessel.cylinder_height": "", "vessel.cylinder_length": "6 m",
            "vessel.overflow_level": "2.3 m", "vessel.design_pressure_max": "6 bar(g)", "vessel.lining": "None",
            "measurement.arrangement": "chamber", "measurement.lrv": "0.3 m", "measurement.urv": "2.1 m",
            "measurement.chamber": "DN 80, with drain", "measurement.chamber_bore": "82.5 mm",
            "measurement.reference_elevation": "2.75 m", "measurement.probe_length": "2.7 m",
            "measurement.holds": "1 Bore of the chamber: confirm with the vessel group.\n2 Density of the vapour.",
        }
    )  # fmt: skip
    taps = [
        {
            "role": role, "mark": mark, "standard": "asme_b16_5", "size": "NPS 2", "rating": "class 300",
            "facing": "RF", "material": "A105", "schedule": "XS", "bore": "49.3 mm", "face_elevation": height,
            "radius": "1.4 m", "bearing": "90°", "inclination": "90°", "isolation_valve": "Ball, NPS 2",
            "vent_valve": vent,
        }
        for role, mark, height, vent in (("upper", "N4", "2.2 m", "Needle, NPS ½"), ("lower", "N5", "0.2 m", ""))
    ]  # fmt: skip
    internals = [
        {"kind": "coil", "name": "Steam coil", "elevation_low": "0.15 m", "elevation_high": "0.6 m", "width": "1.8 m"},
        {"kind": "inlet_stream", "name": "Feed", "radius": "0.4 m", "bearing": "200°", "elevation_high": "2.1 m"},
    ]
    phases = {"density_vapour": "3.1 kg/m³", "viscosity": "9 mPa·s", "foam": "light", "build_up": "slight"}
    cases = [{"medium": "m1", **row, **phases} for row in CASES]
    levels = [{"direction": "rising", "delay": "3 s", **row, "level": level}
              for row, level in zip(SETPOINTS, ("0.4 m", "0.6 m", "1.8 m", "2 m"), strict=True)]  # fmt: skip
    return replace(
        case,
        connections=tuple(make_row("nozzle", row) for row in taps),
        operating_cases=tuple(make_row("case", row) for row in cases),
        setpoints=tuple(make_row("setpoint", row) for row in levels),
        internals=tuple(make_row("internal", row) for row in internals),
        sensor_class=GUIDED,
    )


def two_remote_seals() -> Case:
    """Differential pressure over two remote seals, everything of an order filled."""
    case = full(
        {
            **WHOLE_ORDER, "tag.text": "LT-4201", "tag.number": "4201", "measurement.arrangement": "remote_seals",
            "measurement.transmitter_elevation": "-0.5 m", "measurement.capillary_length": "14 m",
            "measurement.capillary_fill": "Silicone oil", "measurement.fill_density": "960 kg/m³",
            "measurement.lrv": "0.6 m", "measurement.urv": "11 m", "measurement.flushing_ring": "Both, NPT ½",
            "medium.density_vapour": "1.2 kg/m³", "medium.viscosity": "0.6 mPa·s", "medium.fluid_group": "1",
        }
    )  # fmt: skip
    seal = {**TEXTS["nozzle"], "size": "DN 80", "rating": "PN 40", "radius": "4.75 m", "inclination": "90°"}
    seals = [{**seal, "role": "upper", "mark": "N8", "face_elevation": "11.2 m"},
             {**seal, "role": "lower", "mark": "N9", "face_elevation": "0.4 m"}]  # fmt: skip
    return replace(case, connections=tuple(make_row("nozzle", row) for row in seals), sensor_class=SEALS)


SAMPLES = {
    "full": full,
    "full-us-letter": full_us_letter,
    "faulty": faulty,
    "nearly-empty": nearly_empty,
    "hard-texts": hard_texts,
    "crowded": crowded,
    "chamber-on-a-drum": chamber_on_a_drum,
    "two-remote-seals": two_remote_seals,
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


def equal_tags(count: int, *, alike: bool = True) -> list[Case]:
    """Tags of a tank farm; not alike: a great many fields differ."""
    cases = []
    for number in range(1, count + 1):
        changes = {
            "tag.text": f"LT-40{number:02}", "tag.number": f"40{number:02}", "vessel.number": f"T-4{number:02}",
            "tag.service": f"Storage tank {number}, level to panel", "nozzle.mark": f"N{number % 3 + 7}",
            "measurement.urv": "11.4 m" if number % 4 else "11.9 m",
        }  # fmt: skip
        if not alike:
            endings = ("type", "size", "rating", "material", "gasket", "entry", "class")
            own = [key for key in WHOLE_ORDER if key.endswith(endings) and "_" in key]
            changes |= {key: f"{WHOLE_ORDER[key].split()[0]} {number}" for key in own}
            changes |= {"vessel.diameter": f"{9 + number / 10:.1f} m", "nozzle.radius": f"{2 + number / 20:.2f} m",
                        "nozzle.bearing": f"{number * 5}°", "vessel.drawing": f"KRO-40-VD-{number:04}",
                        "medium.density": f"{780 + number} kg/m³", "tag.pid": f"KRO-40-PID-{number:04}",
                        "measurement.note": f"Note of tag {number}", "nozzle.bore": f"{80 + number / 10} mm",
                        "vessel.name": f"Storage tank {number}"}  # fmt: skip
        cases.append(full(changes))
    return cases


def common_pdf_of(cases: list[Case], **head: Any) -> bytes:
    described_findings = [described(case)[0] for case in cases]
    head = {"title": "Level measurements, common sheet", "supplementary_title": "", **head}
    return common_sheet_pdf(cases, head_of(cases[0], **head), described_findings)
