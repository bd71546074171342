"""HTML to PDF, for every document that Levelwright prints.

One font set and one parsed copy of each style sheet serve all documents of a process; parsing them costs more than
laying out a page. The engine opens nothing but the bundled fonts and style sheets: a document that points anywhere
else is refused, not printed without the part. It knows no fonts of the machine either, so that equal input gives equal
bytes wherever it is printed.

Pure: WeasyPrint and the standard library. WeasyPrint needs the native libraries Pango and HarfBuzz; without them
importing this module raises OSError.
"""

import gc
import os
import re
import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit
from xml.etree import ElementTree

import cssselect2  # type: ignore[import-untyped]
import weasyprint
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

CREATOR = "Levelwright"
STATIC = Path(__file__).resolve().parents[1] / "static"
FONT_SHEET = "css/fonts.css"

# What the engine may open: folder under `STATIC` -> (endings, type of content).
_OPEN_FOLDERS = {
    "css": {".css": "text/css"},
    "fonts": {".woff2": "font/woff2", ".woff": "font/woff", ".ttf": "font/ttf", ".otf": "font/otf"},
}

# The machine's fonts and its hinting rules are left out: they differ between machines.
_NO_SYSTEM_FONTS = """<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "urn:fontconfig:fonts.dtd">
<fontconfig>
  <match target="pattern"><edit name="hinting" mode="assign"><bool>false</bool></edit></match>
</fontconfig>
"""

# Tagged, for readers who hear the sheet; about a fifteenth of the time.
_OPTIONS: dict[str, Any] = {"pdf_variant": "pdf/ua-1"}

# What XML 1.0 does not allow, escaped or not; none of it has a glyph.
_NOT_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")

_LANGUAGE = re.compile(r"[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8})*")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}(?:T\d{2}:\d{2}:\d{2}(?:Z|[+-]\d{2}:\d{2}))?")


class AssetRefused(ValueError):
    """A document or style sheet points at something that is not a bundled asset."""


class _Refusal(FatalURLFetchingError):
    """Stops WeasyPrint, which takes an ordinary exception for a missing picture and prints on."""


@dataclass(frozen=True, slots=True)
class Metadata:
    """What a PDF says about itself.

    language  BCP 47, for example "en" or "el-GR"
    created   "YYYY-MM-DD" or "YYYY-MM-DDThh:mm:ssZ"; '' writes no date, and the bytes do not depend on the clock
    """

    title: str
    subject: str = ""
    keywords: tuple[str, ...] = ()
    language: str = "en"
    author: str = ""
    created: str = ""

    def __post_init__(self) -> None:
        if not self.title.strip():
            raise ValueError(f"title {self.title!r}: a document needs a title")
        if not _LANGUAGE.fullmatch(self.language):
            raise ValueError(f"language {self.language!r}: a BCP 47 tag is accepted, for example 'en' or 'el-GR'")
        if self.created and not _DATE.fullmatch(self.created):
            raise ValueError(f"created {self.created!r}: '' or '2025-01-31' or '2025-01-31T12:00:00Z' is accepted")


def asset_path(url: str) -> Path:
    """The bundled file behind a URL. Raises AssetRefused for anything else than a bundled font or style sheet."""
    parts = urlsplit(url)
    if parts.scheme.lower() != "file" or parts.netloc not in ("", "localhost"):
        raise AssetRefused(f"{_shortened(url)}: only bundled fonts and style sheets may be opened")
    path = Path(unquote(parts.path)).resolve()
    for folder, endings in _OPEN_FOLDERS.items():
        if path.is_relative_to(STATIC / folder) and path.suffix.lower() in endings and path.is_file():
            return path
    raise AssetRefused(f"{_shortened(url)}: only bundled fonts and style sheets may be opened")


def _shortened(url: str) -> str:
    return url if len(url) <= 120 else url[:120] + "…"


class _BundledAssets(URLFetcher):
    """Lets WeasyPrint open bundled assets only, and remembers what it refused: drawing swallows every error."""

    def __init__(self) -> None:
        super().__init__(allowed_protocols={"file"}, allow_redirects=False)
        self.refused: list[str] = []

    def fetch(self, url: str, headers: dict[str, str] | None = None) -> Any:
        try:
            path = asset_path(url)
        except AssetRefused as refused:
            self.refused.append(str(refused))
            raise _Refusal(str(refused)) from refused
        content_type = _OPEN_FOLDERS[path.relative_to(STATIC).parts[0]][path.suffix.lower()]
        return URLFetcherResponse(url, path.read_bytes(), {"Content-Type": content_type})


@cache
def _default_sheet() -> weasyprint.CSS:
    """The engine's default style sheet but for its rules on the marks of lists, footnotes and notes: they are about
    every element, so that each has six styles computed, in a sixteenth of a sheet's time. Sheets have none of these."""
    text = (resources.files(weasyprint) / "css" / "html5_ua.css").read_text(encoding="utf-8")
    return weasyprint.CSS(string="\n".join(line for line in text.splitlines() if not line.startswith("::")))


class _WellFormed(weasyprint.HTML):
    """A document that is XML too, read by the standard library's parser in C: the engine's own HTML parser is written
    in Python and takes a fourteenth of a sheet's time. Sets what `weasyprint.HTML` sets, and nothing else."""

    def _ua_stylesheets(self, forms: bool = False) -> list[weasyprint.CSS]:
        return [_default_sheet()]

    def __init__(self, text: str, base_url: str, url_fetcher: URLFetcher) -> None:
        root = ElementTree.fromstring(_NOT_XML.sub("\ufffd", text).encode())
        self.base_url, self.url_fetcher, self.media_type = base_url, url_fetcher, "print"
        self.wrapper_element = cssselect2.ElementWrapper.from_html_root(root, content_language=None)
        self.etree_element = self.wrapper_element.etree_element


class _Engine:
    """Fonts and style sheets of this process.

    One document at a time: Pango's font map is not safe for threads, and Python's lock would let only one work anyhow.
    """

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._fetcher = _BundledAssets()
        self._fonts: FontConfiguration | None = None
        self._sheets: dict[str, weasyprint.CSS] = {}

    def _ready_fonts(self) -> FontConfiguration:
        if self._fonts is None:
            with _without_system_fonts():
                self._fonts = FontConfiguration()
        return self._fonts

    def _sheet(self, name: str) -> weasyprint.CSS:
        if name not in self._sheets:
            # The path goes through the fetcher, so that a name like "../settings.py" is refused too.
            url = (STATIC / name).as_uri()
            self._sheets[name] = weasyprint.CSS(url=url, url_fetcher=self._fetcher, font_config=self._ready_fonts())
        return self._sheets[name]

    def _source(self, html: str) -> weasyprint.HTML:
        base_url = f"{STATIC.as_uri()}/"
        if html.startswith("<?xml"):
            return _WellFormed(html, base_url, self._fetcher)
        return weasyprint.HTML(string=html, base_url=base_url, url_fetcher=self._fetcher)

    def print(self, html: str, metadata: Metadata, stylesheets: tuple[str, ...]) -> bytes:
        with self._lock, garbage_collector_paused():
            self._fetcher.refused.clear()
            try:
                sheets = [self._sheet(name) for name in (FONT_SHEET, *stylesheets)]
                source = self._source(html)
                document = source.render(font_config=self._ready_fonts(), stylesheets=sheets, **_OPTIONS)
                document.metadata = _pdf_metadata(metadata)
                pdf = document.write_pdf(**_OPTIONS)
            except _Refusal as refusal:
                raise AssetRefused(str(refusal)) from refusal
            if self._fetcher.refused:
                raise AssetRefused(self._fetcher.refused[0])
        return bytes(pdf)


_engine = _Engine()


@contextmanager
def garbage_collector_paused() -> Iterator[None]:
    """Layout makes a great many objects that live to its end; searching them for garbage again and again takes a fifth
    of the time and finds none. Afterwards they are garbage in circles, and are cleared at once to keep memory flat."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
            gc.collect(1)


@contextmanager
def _without_system_fonts() -> Iterator[None]:
    """Font configurations made inside know no fonts but those that style sheets bring."""
    before = os.environ.get("FONTCONFIG_FILE")
    with tempfile.NamedTemporaryFile("w", suffix=".conf") as file:
        file.write(_NO_SYSTEM_FONTS)
        file.flush()
        os.environ["FONTCONFIG_FILE"] = file.name
        try:
            yield
        finally:
            if before is None:
                del os.environ["FONTCONFIG_FILE"]
            else:
                os.environ["FONTCONFIG_FILE"] = before


def html_to_pdf(html: str, metadata: Metadata, stylesheets: tuple[str, ...] = ()) -> bytes:
    """A PDF of an HTML document: real text, tagged, bundled fonts only, equal bytes for equal input.

    html         the whole document; where it begins with "<?xml", it is read as XML, which is faster: every element
                 closed, SVG in its namespace, no entities but XML's own
    metadata     title, subject, keywords, language; it replaces what the HTML says of itself
    stylesheets  names under project/static, for example "css/sheet.css"; the fonts' sheet is always there

    Returns the PDF. Raises AssetRefused where the HTML or a sheet points at anything that is not bundled (a file, an
    address, data). Letters that the bundled family lacks (it has Latin, Greek and Cyrillic) print as empty boxes.
    """
    return _engine.print(html, metadata, stylesheets)


def _pdf_metadata(metadata: Metadata) -> Any:
    """WeasyPrint's metadata object; no field of it comes from the HTML."""
    return weasyprint.document.DocumentMetadata(
        title=metadata.title,
        authors=[metadata.author] if metadata.author else [],
        description=metadata.subject or None,
        keywords=list(metadata.keywords),
        generator=CREATOR,
        created=metadata.created or None,
        lang=metadata.language,
    )
