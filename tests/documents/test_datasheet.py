"""The printed datasheet: everything given is on it, with units, inside the page, apart from each other."""

import io
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import pytest
from pypdf import PdfReader

from instruments.checks.case import Case, Row
from instruments.checks.finding import Grade
from instruments.documents.datasheet import CAUTION, datasheet_pdf
from instruments.documents.sheet_head import SheetHead
from project.quantities import Quantity
from project.registry import GROUPS, REGISTRY, FieldDef
from tests.documents.sheet_reading import (
    MM,
    is_upright,
    letters_of,
    overlapping,
    pages_of,
    sizes_mm,
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
)

IN_BLOCK = (
    "KestrelReachOleochemicals", "KRO-40-LDS-0001", "LevelmeasurementLT-4001", "AdaExample", "BoExample", "2025-11-25",
    "Forreview",
)  # fmt: skip


@pytest.fixture(scope="module")
def sheets() -> dict[str, bytes]:
    return {name: pdf_of(sample()) for name, sample in SAMPLES.items()}


def rows_of(case: Case) -> Iterator[tuple[str, Row]]:
    for entity in ("plant", "unit", "tag", "vessel", "measurement"):
        yield entity, getattr(case, entity)
    for entity, rows in (
        ("nozzle", case.connections),
        ("medium", case.media),
        ("case", case.operating_cases),
        ("setpoint", case.setpoints),
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


@pytest.mark.parametrize("name", ["full", "full-us-letter", "faulty", "hard-texts", "crowded"])
def test_every_given_value_is_printed_with_its_unit(name: str, sheets: dict[str, bytes]) -> None:
    text = text_of(sheets[name])
    absent = [
        (key, value)
        for key, value in printed_values(SAMPLES[name]())
        # The heading of an operating case is its display name, which is one of these.
        if value and squeezed(value) not in text and key not in ("case.kind", "case.name")
    ]
    assert not absent


@pytest.mark.parametrize("name", ["full", "full-us-letter"])
def test_class_values_are_printed_and_marked_typical(name: str, sheets: dict[str, bytes]) -> None:
    case, text = SAMPLES[name](), text_of(sheets[name])
    assert case.sensor_class is not None
    for definition in REGISTRY.of("sensor_class"):
        held = case.sensor_class.values[definition.stem].value
        if isinstance(held, Quantity):
            assert squeezed(str(case.units.shown(held, definition.kind))) in text, definition.key
    assert "80GHz†" in text
    assert "typical,frommemory,ofnoparticularproduct" in text


def test_units_are_those_of_the_plant(sheets: dict[str, bytes]) -> None:
    metric, us = text_of(sheets["full"]), text_of(sheets["full-us-letter"])
    for metric_text, us_text in (
        ("9.5m", "31.168ft"), ("82.5mm", "3.248in"), ("0.02bar(g)", "0.29psi(g)"), ("120m³/h", "528.3gal(US)/min"),
        ("791kg/m³at20°C", "49.38lb/ft³at68°F"), ("−20°Cto65°C", "−4°Fto149°F"),
    ):  # fmt: skip
        assert metric_text in metric
        assert us_text in us


def test_groups_stand_in_the_registrys_order(sheets: dict[str, bytes]) -> None:
    words = [word for page in words_of(sheets["full"]) for word in page if word["x0"] < 21 * MM]
    first_words = [word["text"] for word in sorted(words, key=lambda word: word["top"])]
    names = [label.split()[0] for key, label in GROUPS if key not in ("accessories", "certificates", "commercial")]
    assert [word for word in first_words if word in names] == names


def test_setpoints_with_level_percent_and_current(sheets: dict[str, bytes]) -> None:
    """Highest first. 4–20 mA linear (IEC 60381-1): (11.2 − 0.2)/(11.4 − 0.2) = 98.21 %, 4 + 16 · 0.9821 = 19.714 mA."""
    page = pages_of(sheets["full"])[0]
    levels = [page.index(level) for level in ("HH\n11.2", "H\n10.8", "L\n1.2", "LL\n0.6") if level in page]
    assert levels == sorted(levels)
    text = squeezed(page)
    for row in ("HH11.2m98.21%19.714mA", "H10.8m94.64%19.143mA", "L1.2m8.93%5.429mA", "LL0.6m3.57%4.571mA"):
        assert row in text


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
    text = text_of(sheets["nearly-empty"])
    assert "Service–" in text
    for name in ("Connection", "Mediumandoperatingcases", "Housing", "Record"):
        assert name not in text
    assert "Nosketchyet" in text
    assert "None" not in text


def test_many_empty_values_of_a_group_are_named_in_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    for number in range(6):
        for entity, group in (("vessel", "vessel"), ("nozzle", "connection")):
            one = FieldDef(f"{entity}.more_{number}", f"More {number} of {entity}", group)
            monkeypatch.setitem(REGISTRY._fields, one.key, one)
    text = text_of(pdf_of(full()))
    assert "NotgivenDepthofthebottom;Dipplateabovethelowestinsidepoint;More0ofvessel;" in text
    assert "Notgiven:Projectionfromtheroof;More0ofnozzle;" in text
    assert "More5ofnozzle–" not in text


def test_a_connection_with_more_columns_than_fit_stands_upright(monkeypatch: pytest.MonkeyPatch) -> None:
    case = full()
    more = {f"more_{number}": f"Something{number}" for number in range(12)}
    for stem in more:
        one = FieldDef(f"nozzle.{stem}", f"Heading of {stem}", "connection")
        monkeypatch.setitem(REGISTRY._fields, one.key, one)
    case = replace(case, connections=(Row("", {**case.connections[0].values, **more}),))
    pdf = pdf_of(case)
    assert "Headingofmore_11Something11" in text_of(pdf)
    assert not any(overlapping(words) for words in words_of(pdf))


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


# --- title block, draft, paper ----------------------------------------------------------------------------


@pytest.mark.parametrize("name", list(SAMPLES))
def test_title_block_and_caution_on_every_sheet(name: str, sheets: dict[str, bytes]) -> None:
    pages = [squeezed(page) for page in pages_of(sheets[name])]
    tag = SAMPLES[name]().tag.text("text")
    for number, text in enumerate(pages, start=1):
        for part in IN_BLOCK:
            assert part.replace("LT-4001", tag) in text
        assert f"Sheet{number}of{len(pages)}" in text
        assert squeezed(CAUTION) in text
        for label in ("Legalowner", "Documentnumber", "Creator", "Approvalperson", "Dateofissue", "Documenttype",
                      "Documentstatus", "Revision", "Language", "Paper"):  # fmt: skip
            assert label in text


def test_number_of_sheets(sheets: dict[str, bytes]) -> None:
    pages = {name: len(pages_of(pdf)) for name, pdf in sheets.items()}
    assert pages["full"] == pages["full-us-letter"] == pages["nearly-empty"] == 1
    assert pages["faulty"] == pages["hard-texts"] == 2


def test_paper(sheets: dict[str, bytes]) -> None:
    assert sizes_mm(sheets["full"]) == {(210, 297)}
    assert sizes_mm(sheets["crowded"]) == {(210, 297)}
    assert sizes_mm(sheets["full-us-letter"]) == {(216, 279)}
    assert sizes_mm(pdf_of(faulty(), paper="letter")) == {(216, 279)}


@pytest.mark.parametrize("name", ["full", "crowded"])
def test_draft_stands_across_every_sheet(name: str, sheets: dict[str, bytes]) -> None:
    for letters in letters_of(sheets[name]):
        assert "".join(one["text"] for one in letters if one["size"] > 100 and not is_upright(one)) == "DRAFT"


def test_an_issued_sheet_and_a_real_plant_say_neither_draft_nor_invented() -> None:
    text = text_of(pdf_of(full(), draft=False, invented=False, document_status=""))
    assert "DRAFT" not in text
    assert "Draft" not in text
    assert "Inventeddemonstrationdata" not in text


def test_a_draft_of_an_invented_plant_says_so(sheets: dict[str, bytes]) -> None:
    assert "Inventeddemonstrationdata" in text_of(sheets["full"])
    assert "Draft,notissued" in text_of(pdf_of(full(), document_status=""))


@pytest.mark.parametrize("changes", [{"paper": "a5"}, {"title": "x" * 321}])
def test_heads_that_cannot_be_are_refused(changes: dict[str, str]) -> None:
    with pytest.raises(ValueError, match=next(iter(changes))):
        head_of(full(), **changes)


# --- the page ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", list(SAMPLES))
def test_nothing_stands_outside_the_margins(name: str, sheets: dict[str, bytes]) -> None:
    (width_mm, height_mm), *_ = sizes_mm(sheets[name])
    for letters in letters_of(sheets[name]):
        assert min(one["x0"] for one in letters) >= 19.5 * MM
        assert max(one["x1"] for one in letters) <= (width_mm - 9.5) * MM
        assert min(one["top"] for one in letters) >= 3 * MM
        assert max(one["bottom"] for one in letters) <= (height_mm - 6.5) * MM


@pytest.mark.parametrize("name", list(SAMPLES))
def test_no_text_covers_another(name: str, sheets: dict[str, bytes]) -> None:
    for words in words_of(sheets[name]):
        assert not overlapping(words)


LONG_HEADS = {
    "usual": {},
    "long supplementary title": {"supplementary_title": "A long supplementary title, " * 8},
    "long everything": {
        name: "Wide Words " * 20
        for name in ("legal_owner", "document_number", "title", "supplementary_title", "creator", "approval_person")
    },
    "no blanks": {"creator": "W" * 300, "document_status": "M" * 100},
}


@pytest.mark.parametrize("head", LONG_HEADS.values(), ids=LONG_HEADS)
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_what_stands_above_the_title_block_ends_above_it(head: dict[str, str], paper: str) -> None:
    """From the caution down there is the caution and the title block, and nothing else, on every sheet."""
    case = faulty()
    pdf = pdf_of(case, paper=paper, **head)
    used = head_of(case, paper=paper, **head)
    words = words_of(pdf)
    assert len(words) > 1
    for number, page in enumerate(words, start=1):
        top = min(one["top"] for one, other in pairwise(page) if (one["text"], other["text"]) == ("Figures", "support"))
        below = "".join(sorted("".join(one["text"] for one in page if one["top"] > top - 1)))
        expected = [CAUTION, *block_texts(used), f"{number} of {len(words)}"]
        assert below == "".join(sorted(squeezed("".join(expected))))
        ends = max(one["bottom"] for one in page if one["top"] < top - 1)
        assert ends < top


def block_texts(head: SheetHead) -> list[str]:
    labels = "Legal owner, Document number, Creator, Approval person, Date of issue, Document type, Document status, "
    labels += "Revision, Language, Paper, Sheet, Title and supplementary title"
    values = [
        head.legal_owner, head.document_number, head.title, head.supplementary_title, head.creator,
        head.approval_person, head.date_of_issue, head.document_type, head.document_status, head.revision_index,
        head.language, {"a4": "A4", "letter": "Letter"}[head.paper],
    ]  # fmt: skip
    return [labels.replace(", ", ""), *values]


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
