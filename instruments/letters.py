"""Identification letters of instruments by ANSI/ISA-5.1-2009, Table 4.1: checked and spelled out. Pure."""

import csv
import re
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

TABLE = Path(__file__).parent / "data" / "isa_5_1_letters.csv"
PLACES = ("first", "first_modifier", "readout", "output", "function_modifier")


class UnknownLetters(ValueError):
    """Letters that the standard's table does not allow. `template` and `params` let the edge translate."""

    def __init__(self, template: str, **params: str) -> None:
        self.template = template
        self.params = params
        super().__init__(template % params)


def _load() -> dict[str, dict[str, str]]:
    lines = [line for line in TABLE.read_text(encoding="utf-8").splitlines() if not line.startswith("#")]
    return {
        row["letter"]: {place: "" if row[place] == "-" else row[place] for place in PLACES}
        for row in csv.DictReader(lines)
    }


LETTERS = _load()

# As an adjective before another function ("indicating transmitter"), and as the thing itself ("transmitter").
_DOING = {"indicate": "indicating", "record": "recording", "alarm": "alarm", "control": "control",
          "integrate": "integrating", "transmit": "transmitting", "switch": "switching"}  # fmt: skip
_THING = {"indicate": "indicator", "record": "recorder", "control": "controller", "transmit": "transmitter",
          "integrate": "integrator", "gauge": "gauge glass or viewing device", "sensor": "sensor, primary element",
          "well": "well or probe"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Reading:
    """How letters are read: measured variable, its modifier, functions in order, modifiers of the last function."""

    variable: str
    variable_modifier: str
    functions: tuple[str, ...]
    function_modifiers: tuple[str, ...]

    def spelled_out(self) -> str:
        """For example "level switch, high-high"."""
        *doing, thing = self.functions
        words = [self.variable]
        if self.variable_modifier == "differential":
            words.insert(0, "differential")
        words += [_DOING.get(word, word) for word in doing]
        words.append(_THING.get(thing, thing))
        text = " ".join(words)
        if self.variable_modifier not in ("", "differential"):
            text += f", {self.variable_modifier}"
        if self.function_modifiers:
            text += f", {'-'.join(self.function_modifiers)}"
        return text


def _functions(rest: str) -> tuple[tuple[str, ...], tuple[str, ...]] | None:
    """Readouts, then outputs, then function modifiers; None where a letter fits no place that is still open."""
    functions: list[str] = []
    position = 0
    for place in ("readout", "output"):
        while position < len(rest):
            # A letter that is also a function modifier (L: light or low) is one only after a function.
            letter = LETTERS[rest[position]]
            if not letter[place] or (functions and letter["function_modifier"] and place == "readout"):
                break
            functions.append(letter[place])
            position += 1
            if functions[-1] in ("alarm", "switch"):
                break
        if functions and functions[-1] in ("alarm", "switch"):
            break
    modifiers = tuple(LETTERS[letter]["function_modifier"] for letter in rest[position:])
    if not functions or "" in modifiers:
        return None
    return tuple(functions), modifiers


@lru_cache(maxsize=2048)
def read_letters(letters: str) -> Reading:
    """Read identification letters. Raises UnknownLetters saying what is not in the standard's table.

    Validity: the typical one-variable identifiers of Table 4.1; user's-choice letters are read as "user's choice".
    """
    if not re.fullmatch(r"[A-Z]{2,8}", letters):
        raise UnknownLetters(
            "“%(letters)s”: two to eight capital letters A–Z are wanted, for example LT, LIT, LSHH.",
            letters=letters[:20],
        )
    variable = LETTERS[letters[0]]["first"]
    shown = "user's choice" if variable == "user" else variable
    second = LETTERS[letters[1]]["first_modifier"]
    # S as a modifier is kept for self-actuated safety devices (note 14), so that LS stays a level switch.
    if second and letters[1] == "S" and letters[2:] not in ("V", "E"):
        second = ""
    if second and (found := _functions(letters[2:])):
        return Reading(shown, second, *found)
    if found := _functions(letters[1:]):
        return Reading(shown, "", *found)
    raise UnknownLetters(
        "“%(letters)s” is not a sequence of ANSI/ISA-5.1: after the measured variable %(variable)s come readout (A, E, "
        "G, I, L, R …), output (C, S, T, V, Y …), then modifiers (H, L, HH, LL, D …), for example %(first)sIT or "
        "%(first)sSHH.",
        letters=letters,
        variable=f"{letters[0]} ({shown})",
        first=letters[0],
    )


def spell_out(letters: str) -> str:
    """Letters in words, e.g. "level switch, high-high". Raises UnknownLetters."""
    return read_letters(letters).spelled_out()


def near_key(letters: str, number: str, suffix: str) -> str:
    """What makes two tags the same to a reader: letters, number without leading zeros and separators, suffix.

    Common practice, no source: tags that differ by case, hyphens, blanks or leading zeros only are duplicates.
    """
    digits = re.sub(r"[^0-9A-Za-z]", "", number).upper().lstrip("0") or "0"
    return "-".join((letters.upper(), digits, re.sub(r"[^0-9A-Za-z]", "", suffix).upper()))


def tag_text(letters: str, number: str, suffix: str) -> str:
    """The tag as it is written: "LT-4001", "LT-4001A"."""
    return f"{letters}-{number}{suffix}"
