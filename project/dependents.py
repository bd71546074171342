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
class Dependent:
    """`affected(row)` lists what rests on a row; `changed(row)` is called after it was written."""

    name: str
    affected: Affected
    changed: Callable[[KeptRow], None]


_dependents: dict[str, Dependent] = {}


def register(dependent: Dependent) -> None:
    """Add a dependent; registering the same name again replaces it."""
    _dependents[dependent.name] = dependent


def tell(row: KeptRow) -> None:
    """Tell every dependent that a row was written."""
    for dependent in _dependents.values():
        dependent.changed(row)


def affected_by(row: KeptRow) -> list[Any]:
    """Everything that rests on a row."""
    return [item for dependent in _dependents.values() for item in dependent.affected(row)]
