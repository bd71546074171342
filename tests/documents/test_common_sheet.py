"""One sheet for many equal tags: what all share stands once, what differs in a table, and nothing is lost."""

from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from instruments.checks.case import Case, Row, Value
from instruments.documents.common_sheet import common_sheet_html, common_sheet_pdf
from project.quantities import Quantity
from project.registry import REGISTRY, FieldDef
from tests.checks.builders import UNITS
from tests.documents.sheet_reading import MM, letters_of, overlapping, pages_of, sizes_mm, squeezed, text_of, words_of
from tests.documents.sheet_samples import common_pdf_of, described, equal_tags, faulty, full, head_of, two_remote_seals

SIZES = (2, 3, 12, 60)


@cache
def sheet(count: int, *, alike: bool = True) -> bytes:
    return common_pdf_of(equal_tags(count, alike=alike))


def with_value(case: Case, entity: str, stem: str, value: Value) -> Case:
    row = getattr(case, entity)
    changes: Any = {entity: Row(row.uid, {**row.values, stem: value})}
    return replace(case, **changes)


@pytest.mark.parametrize("count", SIZES)
def test_each_tag_has_its_row_and_what_is_shared_stands_once(count: int) -> None:
    text = text_of(sheet(count))
    for number in range(1, count + 1):
        assert f"LT-40{number:02}Storagetank{number},leveltopanelT-4{number:02}N{number % 3 + 7}" in text
    assert text.count("Insidediameter9.5m") == 1
    assert text.count("HH11.2m50mmHigh") == 1
    assert f"LT-4001…LT-40{count:02}({count}tags)" in text


def test_a_field_that_differs_is_a_column_and_not_in_the_common_block() -> None:
    text = text_of(sheet(12))
    assert "UpperrangevalueURV(100%)Findingsthatremain" in text
    assert "UpperrangevalueURV(100%)11." not in text
    assert "N911.9m" in text
    # In the common table of connections the mark is left to the rows.
    assert "pertagFlangeEN1092-1DN80PN16" in text


def test_many_differences_lie_across_in_several_tables() -> None:
    pdf = sheet(12, alike=False)
    assert sizes_mm(pdf) == {(297, 210)}
    text = text_of(pdf)
    for number in range(1, 13):
        # The row itself in two tables, besides the list of keywords, which is not text.
        assert text.count(f"LT-40{number:02}") >= 2
        assert f"{780 + number}kg/m³at20°C" in text
        assert f"Noteoftag{number}" in text
    assert sizes_mm(common_pdf_of(equal_tags(3, alike=False), paper="letter")) == {(279, 216)}
    assert sizes_mm(sheet(12)) == {(210, 297)}


def test_rows_are_matched_by_role_name_and_case() -> None:
    """A connection is compared with the one of its role, a setpoint with the one of its name, wherever they stand."""
    one = two_remote_seals()
    other = replace(one, connections=one.connections[::-1], setpoints=one.setpoints[::-1])
    other = with_value(other, "tag", "text", "LT-4202")
    text = text_of(common_pdf_of([one, other]))
    assert "pertag" not in text
    moved = Row("", {**one.connections[0].values, "face_elevation": Quantity("11.1 m", 11.1)})
    text = text_of(common_pdf_of([one, replace(other, connections=(moved, one.connections[1]))]))
    assert "Upperseal:Elevationoftheface" in text
    assert "11.1m" in text


def test_a_setpoint_that_only_some_have_is_in_the_table() -> None:
    one, other = equal_tags(2)
    text = text_of(common_pdf_of([one, replace(other, setpoints=other.setpoints[:3])]))
    assert "HH:Levelfromdatum" in text
    assert "11.2m" in text


def test_equal_values_that_were_typed_in_other_units_are_shared() -> None:
    one, other = equal_tags(2)
    other = with_value(other, "vessel", "diameter", UNITS.parse("9500 mm", "length"))
    assert text_of(common_pdf_of([one, other])).count("Insidediameter9.5m") == 1


def test_a_value_with_a_silent_companion_goes_with_it() -> None:
    one, other = equal_tags(2)
    medium = other.media[0]
    warm = Row(medium.uid, {**medium.values, "density": UNITS.parse("780 kg/m³", "density")})
    text = text_of(common_pdf_of([one, replace(other, media=(warm,))]))
    for part in ("791kg/m³at20°C", "780kg/m³at20°C"):
        assert text.count(part) == 1


def test_findings_that_remain_name_their_tags() -> None:
    good, bad = full(), with_value(faulty(), "tag", "text", "LT-4002")
    pdf = common_pdf_of([good, bad, with_value(faulty(), "tag", "text", "LT-4003")])
    text = text_of(pdf)
    titles = {squeezed(one.title) for one in described(bad)[0] if one.grade_label == "Stop"}
    assert titles
    for title in titles:
        assert f"×Stop{title}:LT-4002,LT-4003" in text
    stops = sum(one.grade_label == "Stop" for one in described(bad)[0])
    assert f"{stops}Stop," in text


def test_a_finding_of_all_tags_says_so() -> None:
    assert ":Alltags." in text_of(common_pdf_of([faulty(), with_value(faulty(), "tag", "text", "LT-4002")]))


def test_shared_holds_are_boxed_and_others_in_the_table() -> None:
    one, other = (with_value(case, "measurement", "holds", "Wait for the vessel") for case in equal_tags(2))
    assert "DatasheetHOLDWaitforthevessel" in text_of(common_pdf_of([one, other]))
    text = text_of(common_pdf_of([one, with_value(other, "measurement", "holds", "Wait longer")]))
    assert "HOLD" not in text
    assert "Waitlonger" in text


def test_a_new_field_of_the_registry_needs_no_change_here(monkeypatch: pytest.MonkeyPatch) -> None:
    field = FieldDef("measurement.draw_off", "Draw-off", "accessories", "length_small")
    monkeypatch.setitem(REGISTRY._fields, field.key, field)
    one, other = (
        with_value(case, "measurement", "draw_off", UNITS.parse(text, "length_small"))
        for case, text in zip(equal_tags(2), ("12 mm", "14 mm"), strict=True)
    )
    text = text_of(common_pdf_of([one, other]))
    assert "Draw-off" in text
    assert "12mm" in text
    assert "14mm" in text


FIELDS = st.sampled_from(
    [one for one in REGISTRY if one.prints and one.entity in ("vessel", "measurement", "tag") and one.kind == "text"]
)


@settings(max_examples=8, deadline=None)
@given(FIELDS, st.lists(st.sampled_from(["", "Q1", "Q2"]), min_size=3, max_size=3))
def test_nothing_is_lost(one: FieldDef, texts: list[str]) -> None:
    cases = [with_value(case, one.entity, one.stem, text) for case, text in zip(equal_tags(3), texts, strict=True)]
    found = text_of(common_sheet_pdf(cases, head_of(cases[0]), [[], [], []]))
    for text in texts:
        assert text in found
    if len(set(texts)) == 1 and texts[0]:
        assert found.count(texts[0]) == 1


@pytest.mark.parametrize("alike", [True, False])
@pytest.mark.parametrize("count", SIZES)
def test_the_page(count: int, alike: bool) -> None:
    pdf = sheet(count, alike=alike)
    assert not any(overlapping(words) for words in words_of(pdf))
    ((width_mm, height_mm),) = sizes_mm(pdf)
    for letters in letters_of(pdf):
        assert min(one["x0"] for one in letters) >= 19.5 * MM
        assert max(one["x1"] for one in letters) <= (width_mm - 9.5) * MM
        assert max(one["bottom"] for one in letters) <= (height_mm - 6.5) * MM
    pages = [squeezed(page) for page in pages_of(pdf)]
    assert len(pages) <= (2 if alike else 6)
    for number, page in enumerate(pages, start=1):
        assert f"Sheet{number}of{len(pages)}" in page
        assert "DRAFT" in page


def test_every_text_passes_the_translator() -> None:
    cases = equal_tags(2)
    findings = [described(case)[0] for case in cases]

    def shout(text: str) -> str:
        return text.upper() if "{" not in text else text

    text = text_of(common_sheet_pdf(cases, head_of(cases[0]), findings, translate=shout))
    for part in ("INSIDEDIAMETER", "EACHTAG", "PERTAG", "FINDINGSTHATREMAIN", "NOFINDINGREMAINS", "VERTICALCYLINDER"):
        assert part in text


def test_markup_in_texts_is_escaped() -> None:
    one, other = equal_tags(2)
    html = common_sheet_html([one, with_value(other, "tag", "service", "<b>x</b> & y")], head_of(one), [[], []])
    assert "&lt;b&gt;x&lt;/b&gt; &amp; y" in html


def test_equal_input_gives_equal_bytes() -> None:
    assert common_pdf_of(equal_tags(3)) == common_pdf_of(equal_tags(3))


@pytest.mark.parametrize(
    ("cases", "findings"),
    [
        ([full()], [[]]),
        ([full(), full()], [[]]),
        ([full(), full({"plant.unit_set": "us"})], [[], []]),
    ],
)
def test_what_cannot_share_a_sheet_is_refused(cases: list[Case], findings: list[list[object]]) -> None:
    with pytest.raises(ValueError, match=r"cases|findings"):
        common_sheet_pdf(cases, head_of(cases[0]), findings)
