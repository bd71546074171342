"""Reads how flanges are named: size, rating, facing, material. Nothing is guessed: what is not clear is None. Pure."""

import re

EN = "en_1092_1"
ASME = "asme_b16_5"
STANDARDS = (EN, ASME)

PN_NUMBERS = (2.5, 6.0, 10.0, 16.0, 25.0, 40.0, 63.0, 100.0)
CLASSES = (150.0, 300.0, 400.0, 600.0, 900.0, 1500.0, 2500.0)
RATINGS = {EN: PN_NUMBERS, ASME: CLASSES}

# ASME B16.5 and B36.10M name each size twice, by NPS and by DN.
DN_OF_NPS = {
    "1/2": 15, "3/4": 20, "1": 25, "1 1/4": 32, "1 1/2": 40, "2": 50, "2 1/2": 65, "3": 80, "3 1/2": 90, "4": 100,
    "5": 125, "6": 150, "8": 200, "10": 250, "12": 300, "14": 350, "16": 400, "18": 450, "20": 500, "22": 550,
    "24": 600, "26": 650, "28": 700, "30": 750, "32": 800, "34": 850, "36": 900,
}  # fmt: skip
NPS_OF_DN = {dn: nps for nps, dn in DN_OF_NPS.items()}

_VULGAR = {"¼": " 1/4", "½": " 1/2", "¾": " 3/4"}
_DECIMAL = {"0.5": "1/2", ".5": "1/2", "0.75": "3/4", ".75": "3/4", "1.25": "1 1/4", "1.5": "1 1/2", "2.5": "2 1/2",
            "3.5": "3 1/2"}  # fmt: skip

# Facings by what they need opposite: a key of this table, and the key that belongs to it.
COUNTERPART = {
    "raised": "raised",
    "flat": "flat",
    "ring_joint": "ring_joint",
    "tongue": "groove",
    "groove": "tongue",
    "spigot": "recess",
    "recess": "spigot",
    "o_ring_spigot": "o_ring_groove",
    "o_ring_groove": "o_ring_spigot",
}
_FACINGS = {
    "RF": "raised", "RAISED": "raised", "RAISED FACE": "raised",
    "FF": "flat", "FLAT": "flat", "FLAT FACE": "flat",
    "RTJ": "ring_joint", "RJ": "ring_joint", "RING JOINT": "ring_joint", "RING TYPE JOINT": "ring_joint",
    "TONGUE": "tongue", "GROOVE": "groove", "MALE": "spigot", "FEMALE": "recess", "SPIGOT": "spigot",
    "RECESS": "recess",
}  # fmt: skip
# Letters of EN 1092-1, figure of facing types; they mean nothing in ASME B16.5.
_EN_FORMS = {
    "A": "flat", "B": "raised", "B1": "raised", "B2": "raised", "C": "tongue", "D": "groove", "E": "spigot",
    "F": "recess", "G": "o_ring_spigot", "H": "o_ring_groove", "J": "ring_joint",
}  # fmt: skip


def require_standard(standard: str) -> None:
    """Raises ValueError unless it is one of `STANDARDS`."""
    if standard not in STANDARDS:
        raise ValueError(f"standard is {standard!r}; accepted is one of {', '.join(STANDARDS)}")


def read_rating(standard: str, text: str) -> float | None:
    """The PN number or class of a text, None where it names none of that standard.

    standard  "en_1092_1" or "asme_b16_5"; another raises ValueError
    text      "PN 16", "16"; "class 150", "CL150", "150 lb", "150#", "150"

    A PN number is not a class: "PN 16" gives None for ASME B16.5. Numbers outside the series of the standard give None.
    """
    require_standard(standard)
    pattern = r"(?:PN)?\s*(\d+(?:[.,]\d+)?)" if standard == EN else r"(?:CLASS|CL\.?)?\s*(\d+)\s*(?:#|LBS?)?"
    match = re.fullmatch(pattern, text.strip(), re.IGNORECASE)
    if match is None:
        return None
    value = float(match[1].replace(",", "."))
    return value if value in RATINGS[standard] else None


def read_size(standard: str, text: str) -> int | None:
    """The DN of a size, None where the text names none.

    standard  "en_1092_1" or "asme_b16_5"; another raises ValueError
    text      "DN 80"; for ASME B16.5 also "NPS 3", "3 in", "3\"", "1½", "1 1/2", "1-1/2", "1.5"

    A bare number is a DN for EN 1092-1 and an NPS for ASME B16.5, which gives both names for each size.
    """
    require_standard(standard)
    shown = text.strip().upper()
    match = re.fullmatch(r"DN\s*(\d+)", shown)
    if match is None and standard == EN:
        match = re.fullmatch(r"(\d+)", shown)
    if match is not None:
        return int(match[1]) if standard == EN or int(match[1]) in NPS_OF_DN else None
    if standard == EN:
        return None
    for sign, words in _VULGAR.items():
        shown = shown.replace(sign, words)
    shown = re.sub(r"^NPS\s*", "", shown)
    shown = re.sub(r"\s*(\"|″|''|INCH(ES)?|IN\.?)$", "", shown)
    shown = re.sub(r"[\s-]+", " ", shown).strip().replace(",", ".")
    return DN_OF_NPS.get(_DECIMAL.get(shown, shown))


def read_facing(standard: str, text: str) -> str | None:
    """The facing of a text as a key of `COUNTERPART`, None where it names none.

    standard  "en_1092_1" or "asme_b16_5"; another raises ValueError
    text      "RF", "raised face", "FF", "RTJ", "tongue" …; for EN 1092-1 also the forms "A" to "J", "form B1"
    """
    require_standard(standard)
    shown = re.sub(r"[\s_-]+", " ", text.strip().upper())
    if standard == EN:
        letter = re.sub(r"^(FORM|TYPE)\s*", "", shown)
        if letter in _EN_FORMS:
            return _EN_FORMS[letter]
    return _FACINGS.get(shown)


def material_key(text: str) -> str:
    """A material's name without what does not count: case, blanks, dots, hyphens, ASTM, ASME, AISI, "Gr."; SA is A.

    "ASTM A 182 Gr. F316L" and "SA-182 F316L" give the same key.
    """
    shown = re.sub(r"\b(ASTM|ASME|AISI|UNS|GR|GRADE)\b\.?", "", text.upper())
    shown = re.sub(r"\bGR\.?(?=\d)", "", shown)
    shown = re.sub(r"\bCLASS\b", "CL", shown)
    shown = re.sub(r"[^A-Z0-9/]", "", shown)
    return re.sub(r"^SA(?=\d)", "A", shown)
