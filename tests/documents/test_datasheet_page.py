"""The page around the datasheet: title block, paper, margins; nothing outside, nothing over another."""

from itertools import pairwise

import pytest

from instruments.documents.datasheet import CAUTION
from project.documents.sheet_head import SheetHead
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
from tests.documents.sheet_samples import SAMPLES, faulty, full, head_of, pdf_of

IN_BLOCK = (
    "KestrelReachOleochemicals", "KRO-40-LDS-0001", "LevelmeasurementLT-4001", "AdaExample", "BoExample", "2025-11-25",
    "Forreview",
)  # fmt: skip


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
    assert pages.pop("nearly-empty") == 1
    assert pages.pop("crowded") == 3
    assert set(pages.values()) == {2}


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
