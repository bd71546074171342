"""How wide a text comes out, without a font file at hand: good to a few per cent, never far too narrow.

Widths are those of IBM Plex Sans Condensed (which the sketch asks for), rounded up to 0.02 em. Letters that
are not listed take a wide letter's width, East Asian ones a full em.
"""

import re
import unicodedata

# Thousandths of an em, and the characters of that width.
_WIDTHS = {
    120: "\u202f\u2009",
    220: " '\u00a0",
    240: "ijı",
    260: "!,.:;l",
    300: "[]f|·",
    320: "()t{}²³",
    340: "r",
    360: "-/\\",
    380: "I",
    400: '"',
    420: "*",
    440: "?sz°",
    460: "Lcvxy",
    480: "Jgkε",
    500: "ae",
    520: "FT_hnouøµ",
    540: "$+0123456789<=>ESYZ^`bdpq~×−–±≥≤",
    560: "PVX",
    580: "ACKRßΔ",
    600: "B",
    620: "DU",
    640: "#&GHNOQØ",
    700: "w",
    740: "M…¼¾",
    760: "½",
    800: "m",
    820: "@W",
    840: "%",
}
_EM = {letter: width / 1000 for width, letters in _WIDTHS.items() for letter in letters}
_OTHER_EM = 0.66
_BOLD = 1.05


def text_width_em(text: str, *, bold: bool = False) -> float:
    """Width of a one-line text in em (multiply by the font size). Accents count as their letter."""
    width = 0.0
    for character in unicodedata.normalize("NFC", text):
        base = unicodedata.normalize("NFD", character)[0]
        if character in _EM:
            width += _EM[character]
        elif base in _EM:
            width += _EM[base]
        elif unicodedata.east_asian_width(character) in "WF":
            width += 1.0
        elif not unicodedata.combining(character):
            width += _OTHER_EM
    return width * _BOLD if bold else width


def shorten(text: str, width_em: float, *, bold: bool = False) -> str:
    """The text, cut and ended with "…" where it is wider than the room for it."""
    if text_width_em(text, bold=bold) <= width_em:
        return text
    while text and text_width_em(text + "…", bold=bold) > width_em:
        text = text[:-1]
    return text.rstrip() + "…"


def wrap(text: str, width_em: float) -> list[str]:
    """The text in lines no wider than the room; a single word that is wider is cut. Values stay with their units."""
    lines: list[str] = []
    for word in re.findall("[^ \t\r\n]+", text):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width_em(longer) <= width_em:
            lines[-1] = longer
        else:
            lines.append(shorten(word, width_em))
    return lines
