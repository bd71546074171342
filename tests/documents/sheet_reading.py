"""Reading a printed sheet back: its text, where it stands, what overlaps."""

import io
import re
from functools import cache
from typing import Any

import pdfplumber
from pypdf import PdfReader

MM = 72 / 25.4


def squeezed(text: str) -> str:
    """A text without blanks, so that it does not matter where lines were broken."""
    return re.sub(r"\s+", "", text)


@cache
def pages_of(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]


def text_of(pdf: bytes) -> str:
    """The whole text without blanks."""
    return squeezed("".join(pages_of(pdf)))


def sizes_mm(pdf: bytes) -> set[tuple[int, int]]:
    boxes = [page.mediabox for page in PdfReader(io.BytesIO(pdf)).pages]
    return {(round(float(box.width) / MM), round(float(box.height) / MM)) for box in boxes}


@cache
def letters_of(pdf: bytes) -> list[list[dict[str, Any]]]:
    """For each page, the letters with their places in pt from the top left; blanks left out."""
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        return [[one for one in page.chars if one["text"].strip()] for page in document.pages]


@cache
def words_of(pdf: bytes) -> list[list[dict[str, Any]]]:
    """For each page, the words that stand upright, with their places; without DRAFT, which lies under them."""
    with pdfplumber.open(io.BytesIO(pdf)) as document:
        return [page.filter(is_upright).extract_words(x_tolerance=1.2, y_tolerance=1) for page in document.pages]


def is_upright(one: dict[str, Any]) -> bool:
    return one["object_type"] != "char" or one["matrix"][1] == 0


def overlapping(words: list[dict[str, Any]]) -> list[tuple[str, str]]:
    """Pairs of words whose boxes cover each other by more than a third of the smaller one."""
    found = []
    for number, one in enumerate(words):
        for other in words[number + 1 :]:
            width = min(one["x1"], other["x1"]) - max(one["x0"], other["x0"])
            height = min(one["bottom"], other["bottom"]) - max(one["top"], other["top"])
            if width > 0 and height > 0 and width * height > min(_area(one), _area(other)) / 3:
                found.append((one["text"], other["text"]))
    return found


def _area(word: dict[str, Any]) -> float:
    return float((word["x1"] - word["x0"]) * (word["bottom"] - word["top"]))
