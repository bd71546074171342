"""What is wrong with a document of cases: each problem with the JSON path of its place."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from django.utils.translation import gettext

from project.registry import gettext_noop

LONGEST_SHOWN = 60
MOST_PROBLEMS = 1_000  # beyond it a document is not worth reading on, and the answer would be larger than it
_PLAIN_KEY = re.compile(r"[A-Za-z_][A-Za-z0-9_]*", re.ASCII)
_UNPRINTABLE = re.compile("[\x00-\x1f\x7f-\x9f\ud800-\udfff]")

TEMPLATES = {
    "wrong_kind": gettext_noop("%(given)s is not accepted here; accepted is %(accepted)s."),
    "unknown_key": gettext_noop("“%(key)s” is not known in %(part)s; %(accepted)s."),
    "missing": gettext_noop("“%(key)s” is needed in %(part)s; accepted is %(accepted)s."),
    "both": gettext_noop("Give “%(one)s” or “%(other)s”, not both."),
    "bare_number": gettext_noop(
        "“%(given)s” is a number without a unit; accepted is a text with its unit: %(accepted)s, for example "
        "%(example)s."
    ),
    "gauge": gettext_noop("“%(given)s” is gauge; an atmospheric pressure is absolute, for example 1.01325 bar(a)."),
    "choice": gettext_noop("“%(given)s” is none of the choices; accepted are %(accepted)s."),
    "too_long": gettext_noop("%(count)s characters are too many; accepted are up to %(most)s."),
    "too_many": gettext_noop("%(count)s entries are too many; accepted are up to %(most)s."),
    "empty": gettext_noop("There is nothing in it; accepted is %(accepted)s."),
    "characters": gettext_noop("A text with control characters or broken Unicode is not accepted."),
    "number_range": gettext_noop("%(given)s is out of range; accepted are whole numbers from 0 to 1000000."),
    "duplicate": gettext_noop("“%(given)s” stands in %(part)s twice; accepted is once."),
    "duplicate_key": gettext_noop("The key “%(key)s” stands here twice; only one value can count."),
    "duplicate_file": gettext_noop("This file is named twice; accepted is once."),
    "unknown_medium": gettext_noop("There is no medium “%(given)s” in this case; accepted are %(accepted)s."),
    "unknown_class": gettext_noop(
        "There is no sensor class “%(given)s” in the library; accepted are %(accepted)s, or an object with values."
    ),
    "role": gettext_noop(
        "The arrangement “%(arrangement)s” has no connection with the role “%(given)s”; accepted are %(accepted)s."
    ),
    "not_json": gettext_noop("This is not JSON: line %(line)s, column %(column)s: %(what)s."),
    "not_a_number": gettext_noop("%(given)s is no JSON: accepted are finite numbers."),
    "number_too_long": gettext_noop("This is not readable as JSON: a number in it has too many digits."),
    "too_deep": gettext_noop("This is nested too deeply to be read; a case needs six levels."),
    "encoding": gettext_noop("This is not UTF-8: byte %(place)s cannot be read. Accepted is JSON in UTF-8."),
    "too_large": gettext_noop("This is larger than %(most)s MB; accepted are files up to that size."),
    "directory": gettext_noop("This is a folder; accepted is a file with JSON."),
    "no_file": gettext_noop("This file cannot be read: %(what)s."),
    "more": gettext_noop("There are more than %(most)s problems; what follows was not read."),
}


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that keeps a document from being evaluated.

    path      JSON path of the place, e.g. "$.cases[2].vessel.diameter"
    code      stable name, e.g. "unknown_key"; "quantity" and "table" for what the readers of those say
    template  English sentence with %(name)s places, marked for translation
    params    what goes into the places
    """

    path: str
    code: str
    template: str
    params: Mapping[str, str] = field(default_factory=dict)

    @property
    def message(self) -> str:
        """The sentence, translated. What came from the document is shortened and printable in it."""
        return gettext(self.template) % self.params

    def to_data(self) -> dict[str, str]:
        return {"path": self.path, "code": self.code, "message": self.message}


def problem_at(path: str, code: str, **params: str) -> Problem:
    """A problem with the sentence that belongs to its code."""
    return Problem(path, code, TEMPLATES[code], {name: _printable(text) for name, text in params.items()})


def said_elsewhere(path: str, code: str, template: str, params: Mapping[str, str]) -> Problem:
    """A problem in the words of another reader (`project.quantities`, the strapping table's)."""
    return Problem(path, code, template, {name: _printable(text) for name, text in params.items()})


def shown(value: object) -> str:
    """A JSON value for a message: short, as JSON would have it, without what terminals cannot print."""
    if isinstance(value, dict):
        return "{…}"
    if isinstance(value, list):
        return "[…]"
    if value is None or isinstance(value, bool):
        return {None: "null", True: "true", False: "false"}[value]
    if isinstance(value, int) and abs(value) > 10**LONGEST_SHOWN:
        return "a number of very many digits"
    text = str(value)
    return _printable(text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}…")


def is_printable(text: str, *, lines: bool = False) -> bool:
    """True for a text without control characters and lone surrogates; line ends and tabs count with `lines` only."""
    return _UNPRINTABLE.search(re.sub(r"[\n\r\t]", "", text) if lines else text) is None


def _printable(text: str) -> str:
    return _UNPRINTABLE.sub("\ufffd", text)


def member(path: str, key: str) -> str:
    """The path of a member of an object (RFC 9535: quoted where the key is no plain name)."""
    if _PLAIN_KEY.fullmatch(key):
        return f"{path}.{key}" if len(key) <= LONGEST_SHOWN else f"{path}.{key[:LONGEST_SHOWN]}…"
    quoted = shown(key).replace("\\", "\\\\").replace("'", "\\'")
    return f"{path}['{quoted}']"


def element(path: str, position: int) -> str:
    """The path of an element of a list, counted from 0."""
    return f"{path}[{position}]"


class TooManyProblems(Exception):
    """Raised by `Problems.add` when the list is full: what follows is not read."""


class Problems:
    """The problems of one document, in the order in which they are found."""

    def __init__(self) -> None:
        self.found: list[Problem] = []

    def add(self, problem: Problem) -> None:
        """Keep a problem. Raises TooManyProblems after `MOST_PROBLEMS`, with a last entry that says so."""
        if len(self.found) >= MOST_PROBLEMS:
            self.found.append(problem_at(problem.path, "more", most=str(MOST_PROBLEMS)))
            raise TooManyProblems
        self.found.append(problem)

    def at(self, path: str, code: str, **params: str) -> None:
        self.add(problem_at(path, code, **params))
