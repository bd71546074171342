"""The printed datasheet: everything given is on it, with units, inside the page, apart from each other."""

import io
from collections.abc import Iterator
from dataclasses import replace

import pytest
from pypdf import PdfReader

from instruments.checks.case import Case, Row
from instruments.checks.finding import Grade
from instruments.documents.datasheet import CAUTION, datasheet_pdf
from project.documents.sheet_head import SheetHead
from project.quantities import Quantity
from project.registry import GROUPS, REGISTRY, FieldDef
from tests.documents.sheet_reading import (
    MM,
    letters_of,
    pages_of,
    squeezed,
    text_of,
    words_of,
)
from tests.documents.sheet_samples import (
    HARD_NOTE,
    HARD_SERVICE,
    SAMPLES,
    described,
    faulty,
    full,
    hard_texts,
    head_of,
    html_of,
    nearly_empty,
    pdf_of,
    two_remote_seals,
)


def rows_of(case: Case) -> Iterator[tuple[str, Row]]:
    for entity in ("plant", "unit", "tag", "vessel", "measurement"):
        yield entity, getattr(case, entity)
    for entity, rows in (
        ("nozzle", case.connections),
        ("medium", case.media),
        ("case", case.operating_cases),
        ("setpoint", case.setpoints),
        ("internal", case.internals),
    ):
        yield from ((entity, row) for row in rows)


def printed_values(case: Case) -> Iterator[tuple[str, str]]:
    """(field key, text) of every value that a field of the registry has in a case and that prints."""
    for entity, row in rows_of(case):
        for definition in REGISTRY.of(entity):
            value = row.values.get(definition.stem)
            if not definition.prints or definition.kind == "link" or value is None:
                continue
            if isinstance(value, Quantity):
                yield definition.key, str(case.units.shown(value, definition.kind))
            elif definition.choices:
                yield definition.key, definition.choice_label(str(value))
            else:
                yield definition.key, str(value)


# --- content ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", [name for name in SAMPLES if name != "nearly-empty"])
def test_every_given_value_is_printed_with_its_unit(name: str, sheets: dict[str, bytes]) -> None:
    text, case = text_of(sheets[name]), SAMPLES[name]()
    # The heading of an operating case is its display name, which is one of the first two.
    elsewhere = {"case.kind", "case.name"}
    if case.vessel.text("body") != "vertical_cylinder":
        elsewhere |= {"vessel.bottom", "vessel.top"}  # "flat" says nothing of a body without ends
    absent = [
        (key, value)
        for key, value in printed_values(case)
        if value and squeezed(value) not in text and key not in elsewhere
    ]
    assert not absent


@pytest.mark.parametrize("name", ["full", "full-us-letter"])
def test_class_values_are_printed_and_marked_typical(name: str, sheets: dict[str, bytes]) -> None:
    case, text = SAMPLES[name](), text_of(sheets[name])
    assert case.sensor_class is not None
    for definition in REGISTRY.of("sensor_class"):
        held = case.sensor_class.values.get(definition.stem)
        if held is not None and isinstance(held.value, Quantity):
            assert squeezed(str(case.units.shown(held.value, definition.kind))) in text, definition.key
    assert "80GHz†" in text
    assert "typical,frommemory,ofnoparticularproduct" in text


def test_units_are_those_of_the_plant(sheets: dict[str, bytes]) -> None:
    metric, us = text_of(sheets["full"]), text_of(sheets["full-us-letter"])
    for metric_text, us_text in (
        ("9.5m", "31.168ft"), ("82.5mm", "3.248in"), ("0.02bar(g)", "0.29psi(g)"), ("120m³/h", "528.3gal(US)/min"),
        ("791kg/m³at20°C", "49.38lb/ft³at68°F"), ("−10°Cto65°C", "14°Fto149°F"),
    ):  # fmt: skip
        assert metric_text in metric
        assert us_text in us


def test_groups_stand_in_the_registrys_order(sheets: dict[str, bytes]) -> None:
    pages = [sorted(page, key=lambda word: word["top"]) for page in words_of(sheets["two-remote-seals"])]
    first_words = [word["text"] for page in pages for word in page if word["x0"] < 21 * MM]
    names = [label.split()[0] for _key, label in GROUPS]
    assert [word for word in first_words if word in names] == names


def test_setpoints_with_level_percent_and_current(sheets: dict[str, bytes]) -> None:
    """Highest first. 4–20 mA linear (IEC 60381-1): (11.2 − 0.2)/(11.4 − 0.2) = 98.21 %, 4 + 16 · 0.9821 = 19.714 mA."""
    text = text_of(sheets["full"])
    rows = ["HH11.2m98.21%19.714mA", "H10.8m94.64%19.143mA", "L1.2m8.93%5.429mA", "LL0.6m3.57%4.571mA"]
    places = [text.index(row) for row in rows]
    assert places == sorted(places)


def test_key_figures_and_sketch(sheets: dict[str, bytes]) -> None:
    text = text_of(sheets["full"])
    # V = π D²/4 · h with D = 9.5 m: 0.2 m and 11.4 m.
    for part in ("DistanceatLRV(0%)12.05m", "DistanceatURV(100%)0.85m", "VolumeatLRV14.176m³", "VolumeatURV808.06m³"):
        assert part in text
    assert "Sensornottoscale" in text
    assert "Levelsandelevationscountfromthevessel'sdatum:Lowestinsidepoint." in text


def test_findings_that_remain_are_printed_worst_first_and_the_others_counted(sheets: dict[str, bytes]) -> None:
    text = text_of(sheets["faulty"])
    findings, _ = described(faulty())
    places = []
    for one in findings:
        line = squeezed(f"{one.grade_label}{one.title}.{one.sentence}")
        if one.grade in (Grade.PASS, Grade.NOT_APPLICABLE):
            assert line not in text
        else:
            places.append(text.index(line))
    assert len(places) > 5
    assert places == sorted(places)
    assert "×Stop" in text
    assert "?Missing" in text
    assert f"Checkspassed:{sum(one.grade is Grade.PASS for one in findings)}." in text


def test_a_caution_has_its_own_sign() -> None:
    assert "!Caution" in text_of(pdf_of(full({"measurement.urv": "11.1 m"})))


def test_no_finding_is_said(sheets: dict[str, bytes]) -> None:
    assert "Nofindingremains." in text_of(sheets["full"])


def test_a_new_field_of_the_registry_prints_without_more(monkeypatch: pytest.MonkeyPatch) -> None:
    lining = FieldDef("vessel.lining", "Lining", "vessel")
    draw_off = FieldDef("measurement.draw_off", "Draw-off", "accessories", "length_small")
    for one in (lining, draw_off):
        monkeypatch.setitem(REGISTRY._fields, one.key, one)
    case = full()
    case = replace(
        case,
        vessel=Row("", {**case.vessel.values, "lining": "Rubber"}),
        measurement=Row("", {**case.measurement.values, "draw_off": Quantity("12 mm", 0.012)}),
    )
    text = text_of(pdf_of(case))
    assert "LiningRubber" in text
    assert "AccessoriesDraw-off12mm" in text


def test_one_end_of_a_range_prints_under_its_own_label() -> None:
    text = text_of(pdf_of(full({"vessel.design_pressure_min": ""})))
    assert "Designpressure,highest0.02bar(g)" in text


def test_empty_values_are_dashes_and_empty_groups_left_out(sheets: dict[str, bytes]) -> None:
    assert "Sealmaterial–" in text_of(sheets["two-remote-seals"])
    text = text_of(sheets["nearly-empty"])
    assert "NotgivenService;P&ID;" in text
    for name in ("Connection", "Mediumandoperatingcases", "Housing", "Record"):
        assert name not in text
    assert "Nosketchyet" in text
    assert "None" not in text


def test_several_empty_values_of_a_group_are_named_in_one_line(sheets: dict[str, bytes]) -> None:
    text = text_of(sheets["full"])
    assert "NotgivenDipplateabovethelowestinsidepoint;" in text
    assert "Leastmetaltemperature;Designcode;" in text
    # What may be empty without being missing is left out.
    assert "Straightflange" not in text
    assert "Notgiven:Schedule;Projectionfromtheroof;Inclination;" in text
    assert "Designcode–" not in text


def test_connections_stand_under_their_roles(sheets: dict[str, bytes]) -> None:
    seals, drum = text_of(sheets["two-remote-seals"]), text_of(sheets["chamber-on-a-drum"])
    assert "UppersealN8FlangeEN1092-1DN80" in seals
    assert "LowersealN9FlangeEN1092-1DN80" in seals
    # Too many columns for one table: two, each with the roles.
    assert drum.count("Upperconnection") == drum.count("Lowerconnection") == 2


def test_a_role_without_a_connection_is_a_line_of_dashes() -> None:
    case = two_remote_seals()
    assert "Lowerseal–––" in text_of(pdf_of(replace(case, connections=case.connections[:1])))


def test_internals_have_a_table(sheets: dict[str, bytes]) -> None:
    text = text_of(sheets["chamber-on-a-drum"])
    assert "InternalsInternalNameRadiusfromtheaxis" in text
    assert "CoilSteamcoil––0.492ft1.969ft70.87in" in text


def test_holds_stand_in_a_box_of_their_own(sheets: dict[str, bytes]) -> None:
    page = squeezed(pages_of(sheets["chamber-on-a-drum"])[0])
    hold = "HOLD1Boreofthechamber:confirmwiththevesselgroup.2Densityofthevapour."
    assert page.index("DatasheetHOLD") < page.index(hold) < page.index("IdentificationTag")
    assert "HOLD" not in text_of(sheets["full"])


def test_setpoints_say_direction_and_delay(sheets: dict[str, bytes]) -> None:
    text = text_of(sheets["chamber-on-a-drum"])
    assert "HH6.562ft94.44%19.111mAOnrisinglevel1.969in3sHighOverflow600s" in text


def test_what_a_case_says_of_each_phase_is_printed(sheets: dict[str, bytes]) -> None:
    text = text_of(sheets["chamber-on-a-drum"])
    for row in ("Density,gasabove0.19lb/ft³0.19lb/ft³0.19lb/ft³", "Viscosity9cP9cP9cP", "FoamLight,dryLight,dry"):
        assert row in text


def test_the_heading_of_a_case_has_its_name_and_kind(sheets: dict[str, bytes]) -> None:
    assert "OperatingcaseMinimumNormalHot(Maximum)" in text_of(sheets["full"])


def test_an_accepted_finding_prints_with_its_reason() -> None:
    case = faulty()
    findings, figures = described(case)
    one = next(one.finding for one in findings if one.grade is Grade.STOP)
    accepted = {(one.code, one.place): "Agreed <with> the vessel group"}
    text = text_of(datasheet_pdf(case, head_of(case), findings, figures, accepted=accepted))
    assert text.count("Accepted:Agreed<with>thevesselgroup") == 1


def test_a_date_of_issue_that_is_not_given_is_a_dash() -> None:
    assert "Dateofissue–" in text_of(pdf_of(full(), date_of_issue=""))


def test_zero_is_a_value() -> None:
    text = text_of(pdf_of(full({"measurement.lrv": "0 m", "measurement.damping": "0 s"})))
    assert "LRV(0%)0m" in text
    assert "Damping0s" in text


# --- difficult texts --------------------------------------------------------------------------------------


def test_difficult_texts_come_out_whole(sheets: dict[str, bytes]) -> None:
    text = text_of(sheets["hard-texts"])
    for whole in (HARD_SERVICE, HARD_NOTE, "x" * 500):
        assert squeezed(whole) in text


def test_markup_in_texts_is_escaped() -> None:
    html = html_of(hard_texts())
    assert "<script" not in html
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in html
    assert "not bold" in html
    assert "<b>not bold" not in html


def test_every_text_passes_the_translator() -> None:
    case = full()
    findings, figures = described(case)
    seen: set[str] = set()

    def shout(text: str) -> str:
        seen.add(text)
        return text.upper() if "{" not in text else text

    pdf = datasheet_pdf(case, head_of(case), findings, figures, translate=shout)
    text = text_of(pdf)
    for part in ("INSIDEDIAMETER", "IDENTIFICATION", "FLAT", "SETPOINTS", "LEGALOWNER", "KEYFIGURES", "INVENTEDDEMO"):
        assert part in text
    assert CAUTION in seen


# --- the file ---------------------------------------------------------------------------------------------


def test_equal_input_gives_equal_bytes(sheets: dict[str, bytes]) -> None:
    for name in ("full", "hard-texts"):
        assert pdf_of(SAMPLES[name]()) == sheets[name]
    copied = Case.from_data(full().to_data())
    assert pdf_of(copied) == sheets["full"]


def test_metadata(sheets: dict[str, bytes]) -> None:
    pdf = PdfReader(io.BytesIO(sheets["full"]))
    assert pdf.metadata is not None
    assert pdf.metadata.title == "KRO-40-LDS-0001 – Level measurement LT-4001"
    assert pdf.metadata.subject == "Datasheet – Methanol storage tank, level to panel"
    assert pdf.metadata["/Keywords"] == "LT-4001, T-401, KRO, KRO-40-LDS-0001"
    assert pdf.metadata.creator == "Levelwright"
    assert "/CreationDate" not in pdf.metadata
    assert pdf.root_object["/Lang"] == "en"


@pytest.mark.parametrize("name", ["full", "hard-texts"])
def test_bundled_fonts_only(name: str, sheets: dict[str, bytes]) -> None:
    for letters in letters_of(sheets[name]):
        assert {one["fontname"].partition("+")[2].partition(",")[0] for one in letters} <= {
            "IBM-Plex-Sans", "IBM-Plex-Sans-Condensed", "IBM-Plex-Sans-Semi-Bold",
            "IBM-Plex-Sans-Condensed-Semi-Bold",
        }  # fmt: skip


def test_the_head_of_a_nearly_empty_sheet_is_still_whole() -> None:
    pdf = datasheet_pdf(nearly_empty(), SheetHead("Owner", "", "Level measurement"), [], [])
    text = text_of(pdf)
    assert "Documentnumber–" in text
    assert "LT-4009" in text
