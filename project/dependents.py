"""Who is affected by a change. Apps register here, so that vessels need not know of instruments.

A dependent is told of a changed row inside the transaction that changed it.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
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
class Dependent:
    """What an app says of rows of others.

    affected(row)   what rests on a row
    changed(row)    called after a row was written
    drawn_on(row)   what to draw on the row's page: SVG, or '' for nothing
    counts(plant)   what needs somebody, for the home of the plant
    """

    name: str
    affected: Affected
    changed: Callable[[KeptRow], None]
    drawn_on: Callable[[KeptRow], str] | None = None
    counts: Callable[[KeptRow], "Sequence[Count]"] | None = None


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
