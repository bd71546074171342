"""The PDF engine: what it may open, what it writes, that equal input gives equal bytes."""

import hashlib
import io
import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import ParseError

import pytest
from pypdf import PdfReader

from project.documents.engine import STATIC, AssetRefused, Metadata, html_to_pdf

ROOT = Path(__file__).resolve().parents[2]
META = Metadata("A title", "A subject", ("one", "two"), "el-GR", "Ada Example")
PAGE = '<html><body style="font-family: IBM Plex Sans">{}</body></html>'
TEXT = PAGE.format("<p>Level 11.4 m ± 5 mm, Στάθμη, Уровень, εr ≥ 1.6, 80 °C → 4…20 mA</p><p><b>Bold</b></p>")
PLEX = re.compile(r"/[A-Z]{6}\+IBM-Plex-Sans\b.*")


def reader(html: str, metadata: Metadata = META) -> PdfReader:
    return PdfReader(io.BytesIO(html_to_pdf(html, metadata)))


def fonts(pdf: PdfReader) -> dict[str, Any]:
    """Name of every font in a PDF -> its descriptor."""
    found = {}
    for page in pdf.pages:
        for reference in page["/Resources"]["/Font"].values():  # type: ignore[index]
            font = reference.get_object()
            found[font["/BaseFont"]] = font["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
    return found


REFUSED = {
    "file": "<img src='file:///etc/passwd'>",
    "web": "<img src='http://levelwright.invalid/a.png'>",
    "secure web": "<img src='https://levelwright.invalid/a.png'>",
    "data": "<img src='data:image/png;base64,AAAA'>",
    "relative, out of the assets": "<img src='../settings.py'>",
    "through the assets and out": "<img src='fonts/../../../manage.py'>",
    "an asset of another kind": "<img src='fonts/OFL.txt'>",
    "other host": "<img src='file://levelwright.invalid/etc/passwd'>",
    "import of a file": "<style>@import url(file:///etc/passwd);</style>",
    "import from the web": "<style>@import 'http://levelwright.invalid/a.css';</style>",
    "sheet": "<link rel='stylesheet' href='http://levelwright.invalid/a.css'>",
    "background": "<p style='background: url(file:///etc/passwd)'>x</p>",
    "content": "<style>p::before { content: url(file:///etc/passwd) }</style><p>x</p>",
    "list sign": "<ul><li style='list-style-image: url(file:///etc/passwd)'>x</li></ul>",
    "font": "<style>@font-face { font-family: q; src: url(file:///etc/passwd) } p { font-family: q }</style><p>x</p>",
    "object": "<object data='file:///etc/passwd'></object>",
    "embed": "<embed src='file:///etc/passwd'>",
    "picture in a sketch": "<svg width='9' height='9'><image width='9' height='9' href='file:///etc/passwd'/></svg>",
    "base": "<base href='http://levelwright.invalid/'><img src='a.png'>",
}
# Not an error, but not followed either.
LEFT_ALONE = """
<a href="file:///etc/passwd">x</a> <link rel="attachment" href="file:///etc/passwd"> <iframe src="file:///etc/passwd">
</iframe> <img srcset="http://levelwright.invalid/a.png 2x"> <script src="file:///etc/passwd"></script>
<svg width="9" height="9"><use href="file:///etc/passwd#a"/><rect width="9" height="9" fill="url(file:///etc/passwd#a)"/>
</svg> <video src="file:///etc/passwd" poster="file:///etc/passwd"></video>
<style>@font-face { font-family: q; src: local("DejaVu Sans") } p { font-family: q }</style><p>x</p>
"""


@pytest.mark.parametrize("html", REFUSED.values(), ids=REFUSED)
def test_anything_but_bundled_assets_is_refused(html: str) -> None:
    with pytest.raises(AssetRefused, match="only bundled fonts and style sheets"):
        html_to_pdf(PAGE.format(html), META)


@pytest.mark.parametrize("name", ["../settings.py", "fonts/OFL.txt", "css/absent.css", "/etc/passwd"])
def test_style_sheets_are_bundled_ones(name: str) -> None:
    with pytest.raises(AssetRefused):
        html_to_pdf(TEXT, META, (name,))


def test_after_a_refusal_the_next_document_prints() -> None:
    with pytest.raises(AssetRefused):
        html_to_pdf(PAGE.format(REFUSED["file"]), META)
    assert len(reader(TEXT).pages) == 1


WELL_FORMED = '<?xml version="1.0"?><html><body style="font-family: IBM Plex Sans">{}</body></html>'
XML_REFUSED = {
    "picture": "<img src='file:///etc/passwd' />",
    "import": "<style>@import url(file:///etc/passwd);</style>",
    "sheet": "<link rel='stylesheet' href='http://levelwright.invalid/a.css' />",
    "background": "<p style='background: url(data:image/png;base64,AAAA)'>x</p>",
    "picture in a sketch": "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9'>"
    "<image width='9' height='9' href='file:///etc/passwd'/></svg>",
}


@pytest.mark.parametrize("html", XML_REFUSED.values(), ids=XML_REFUSED)
def test_well_formed_documents_open_nothing_else_either(html: str) -> None:
    with pytest.raises(AssetRefused, match="only bundled fonts and style sheets"):
        html_to_pdf(WELL_FORMED.format(html), META)


@pytest.mark.parametrize("entity", ["file:///etc/passwd", "http://levelwright.invalid/a"])
def test_a_well_formed_document_cannot_bring_entities_from_outside(entity: str) -> None:
    doctype = f'<!DOCTYPE html [<!ENTITY a SYSTEM "{entity}">]>'
    with pytest.raises(ParseError):
        html_to_pdf(WELL_FORMED.format("<p>&a;</p>").replace("<html>", doctype + "<html>"), META)


def test_a_well_formed_document_comes_out_as_its_html() -> None:
    body = (
        "<p>Level 11.4 m &lt; <b>12 m</b> &amp; Στάθμη</p>"
        "<table><tbody><tr><th>a</th><td colspan='2'>b<br />c</td></tr></tbody></table>"
        "<ul><li>one</li><li>two</li></ul><p>before <q>quoted</q> <u>after</u></p><br />"
        "<svg xmlns='http://www.w3.org/2000/svg' width='20' height='20'><path d='M0 0L9 9' stroke='#123456'/></svg>"
    )
    html = PAGE.format(body)
    assert html_to_pdf(WELL_FORMED.format(body), META) == html_to_pdf(html, META)


def test_characters_that_xml_does_not_allow_print_as_a_sign_each() -> None:
    text = reader(WELL_FORMED.format("<p>be\x00fore\x0b and\ud800 after</p>")).pages[0].extract_text()
    assert "and" in text
    assert "after" in text


def test_nothing_else_is_opened() -> None:
    """Every opening of a file, name or socket while a document is printed, seen by Python's audit hook."""
    code = f"""
import sys
from project.documents.engine import Metadata, html_to_pdf
html_to_pdf("<p>first</p>", Metadata("x"))
seen = []
sys.addaudithook(lambda event, args: seen.append((event, str(args[:1])))
    if event == "open" or event.startswith(("socket.", "urllib.", "subprocess.")) else None)
html_to_pdf({PAGE.format(LEFT_ALONE)!r}, Metadata("x"))
assert not seen, seen
"""
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr


def test_text_is_text_in_three_alphabets() -> None:
    text = reader(TEXT).pages[0].extract_text()
    for part in ("11.4 m ± 5 mm", "Στάθμη", "Уровень", "εr ≥ 1.6", "80 °C → 4…20 mA", "Bold"):
        assert part in text


def test_fonts_are_embedded_subsets_of_the_bundled_family() -> None:
    html = PAGE.format("<p>a <b>b</b> <i>c</i></p><p style='font-family: IBM Plex Sans Condensed'>d <b>e</b></p>")
    found = fonts(reader(html))
    assert len(found) == 5
    for name, descriptor in found.items():
        assert PLEX.fullmatch(name)
        assert "/FontFile2" in descriptor


@pytest.mark.parametrize("family", ["sans-serif", "monospace", "DejaVu Sans", "Times"])
def test_the_fonts_of_the_machine_are_never_used(family: str) -> None:
    html = f"<body style='font-family: {family}'><p>Text, and letters that the family lacks: 液位 ⚠</p></body>"
    assert all(PLEX.fullmatch(name) for name in fonts(reader(html)))


def test_metadata() -> None:
    html = "<html lang='fr'><head><title>other</title><meta name='author' content='x'></head><body>text</body></html>"
    pdf = reader(html)
    assert pdf.metadata is not None
    assert pdf.metadata.title == "A title"
    assert pdf.metadata.subject == "A subject"
    assert pdf.metadata.author == "Ada Example"
    assert pdf.metadata.creator == "Levelwright"
    assert pdf.metadata["/Keywords"] == "one, two"
    assert pdf.root_object["/Lang"] == "el-GR"
    assert not {"/CreationDate", "/ModDate"} & set(pdf.metadata)


def test_a_date_is_written_where_one_is_given() -> None:
    pdf = reader(TEXT, Metadata("x", created="2025-11-25"))
    assert pdf.metadata is not None
    assert pdf.metadata["/CreationDate"] == "D:20251125"


def test_tagged() -> None:
    root = reader(TEXT).root_object
    assert root["/MarkInfo"].get_object() == {"/Marked": True}
    assert "/StructTreeRoot" in root


@pytest.mark.parametrize(
    "arguments",
    [{"title": " "}, {"title": "x", "language": "English, please"}, {"title": "x", "created": "yesterday"}],
)
def test_metadata_that_cannot_be_is_refused(arguments: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match=next(reversed(arguments))):
        Metadata(**arguments)


def test_equal_bytes_here_in_threads_and_in_another_process() -> None:
    expected = html_to_pdf(TEXT, META)
    with ThreadPoolExecutor(4) as pool:
        assert set(pool.map(lambda _: html_to_pdf(TEXT, META), range(8))) == {expected}
    code = (
        "import hashlib; from project.documents.engine import Metadata, html_to_pdf;"
        f"print(hashlib.sha256(html_to_pdf({TEXT!r}, {META!r})).hexdigest())"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60)
    assert done.stdout.strip() == hashlib.sha256(expected).hexdigest(), done.stderr


def test_bundled_assets_are_there() -> None:
    assert (STATIC / "css" / "fonts.css").is_file()
