"""Who is affected by a change. Apps register here, so that vessels need not know of instruments.

A dependent is told of a changed row inside the transaction that changed it.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Protocol

from project.rows import KeptRow


class Affected(Protocol):
    """Lists what a change of a row would touch: objects with a `__str__`, for "n measurements use this"."""

    def __call__(self, row: KeptRow) -> Sequence[Any]: ...


@dataclass(frozen=True, slots=True)
class Count:
    """Something that needs somebody: how many, what, and the address of the list filtered so."""

    number: int
    label: str
    address: str
    grade: str = ""


@dataclass(frozen=True, slots=True)
class Shift:
    """One judgement that a change would move: what is judged, its grade before and after, and what is said then.

    Grades are keys ("stop", "pass" …), or '' where there is no such judgement on that side.
    """

    title: str
    before: str
    after: str
    sentence: str


@dataclass(frozen=True, slots=True)
class Effect:
    """What an unsaved change would do to something that rests on the row: worst grades and the judgements that move."""

    what: Any
    before: str
    after: str
    shifts: tuple[Shift, ...]


@dataclass(frozen=True, slots=True)
class Draft:
    """An unsaved change of a row: the row as typed, and by relation ("operating_cases") the rows that are part of it.

    unreadable  field key -> message, for texts that cannot be read; those values are missing
    """

    row: KeptRow
    parts: Mapping[str, Sequence[KeptRow]] = field(default_factory=dict)
    unreadable: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Dependent:
    """What an app says of rows of others.

    affected(row)   what rests on a row
    changed(row)    called after a row was written
    previewed(draft, most)  what an unsaved change would do to each of the first `most` that rest on the row; no writing
    drawn_on(row)   what to draw on the row's page: SVG, or '' for nothing
    counts(plant)   what needs somebody, for the home of the plant
    """

    name: str
    affected: Affected
    changed: Callable[[KeptRow], None]
    drawn_on: Callable[[KeptRow], str] | None = None
    counts: Callable[[KeptRow], "Sequence[Count]"] | None = None
    previewed: Callable[[Draft, int], Sequence[Effect]] | None = None


_dependents: dict[str, Dependent] = {}


def register(dependent: Dependent) -> None:
    """Add a dependent; registering the same name again replaces it."""
    _dependents[dependent.name] = dependent


def tell(row: KeptRow) -> None:
    """Tell every dependent that a row was written."""
    for dependent in _dependents.values():
        dependent.changed(row)


def counts_of(plant: KeptRow) -> list[Count]:
    """What needs somebody in a plant."""
    counting = [dependent.counts for dependent in _dependents.values() if dependent.counts is not None]
    return [one for counts in counting for one in counts(plant)]


def drawn_on(row: KeptRow) -> list[str]:
    """What dependents draw on the page of a row."""
    drawings = [dependent.drawn_on(row) for dependent in _dependents.values() if dependent.drawn_on is not None]
    return [drawing for drawing in drawings if drawing]


def affected_by(row: KeptRow) -> list[Any]:
    """Everything that rests on a row."""
    return [item for dependent in _dependents.values() for item in dependent.affected(row)]


def effects_of(draft: Draft, most: int) -> list[Effect]:
    """What an unsaved change would do, for at most `most` things of each dependent."""
    previewing = [dependent.previewed for dependent in _dependents.values() if dependent.previewed is not None]
    return [effect for previewed in previewing for effect in previewed(draft, most)]
