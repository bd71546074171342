"""What is wrong with a strapping table, in sentences that the edge can translate and show in the plant's units."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from project.quantities import KINDS, PlantUnits, UnreadableQuantity, format_number, from_si
from project.registry import gettext_noop

Grade = Literal["error", "caution"]
Column = Literal["level", "volume", ""]

# Enough to tell neighbouring rows of a table apart, few enough to hide the noise of a conversion of units.
SHOWN_DIGITS = 9
MOST_IN_A_MESSAGE = 10
# Places of a sentence that hold the name of a column, which is translated too.
NAMES_OF_COLUMNS = ("column", "other")
COLUMNS = {"level": gettext_noop("level"), "volume": gettext_noop("volume")}


@dataclass(frozen=True, slots=True)
class Amount:
    """A number with a unit inside a sentence. value_si in SI; kind is a kind of `project.quantities`."""

    value_si: float
    kind: str

    def shown(self, units: PlantUnits | None = None) -> str:
        """Number and unit: in SI, or in a plant's unit."""
        unit = KINDS[self.kind].si if units is None else units.unit(self.kind)
        value = self.value_si if units is None else from_si(self.value_si, unit, self.kind)
        return f"{format_number(value, SHOWN_DIGITS)} {unit}"


def metres(value_m: float) -> Amount:
    return Amount(float(value_m), "length")


def cubic_metres(value_m3: float) -> Amount:
    return Amount(float(value_m3), "volume")


Param = str | int | Amount


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in one row, or in the table as a whole.

    code      stable name, e.g. "level_repeats"
    grade     "error": no table can be made; "caution": it can, but somebody should look
    template  English sentence with %(name)s places, marked for translation
    params    what goes into the places
    row       number of the row as pasted, from 1; None where it concerns the whole table
    column    "level", "volume" or "" where it concerns both
    given     text of the cell as typed, "" where there is none
    """

    code: str
    grade: Grade
    template: str
    params: Mapping[str, Param] = field(default_factory=dict)
    row: int | None = None
    column: Column = ""
    given: str = ""

    def sentence(self, units: PlantUnits | None = None, translate: Callable[[str], str] = str) -> str:
        """The sentence, with amounts in SI or in a plant's units, from a translated template where one is given."""
        shown: dict[str, str] = {}
        for name, value in self.params.items():
            text = value.shown(units) if isinstance(value, Amount) else str(value)
            shown[name] = translate(text) if name in NAMES_OF_COLUMNS else text
        return translate(self.template) % shown

    def __str__(self) -> str:
        return self.sentence() if self.row is None else f"{self.row}: {self.sentence()}"


def of_unreadable(problem: UnreadableQuantity, row: int, column: Column, given: str) -> Problem:
    """A cell that `project.quantities` could not read, in that module's own words."""
    return Problem("unreadable", "error", problem.template, dict(problem.params), row, column, given)


def errors_in(problems: Sequence[Problem]) -> list[Problem]:
    return [problem for problem in problems if problem.grade == "error"]


class ImpossibleTable(ValueError):
    """Rows from which no strapping table can be made. `problems` holds every error, not only the first."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = tuple(problems)
        shown = [str(problem) for problem in self.problems[:MOST_IN_A_MESSAGE]]
        if len(self.problems) > MOST_IN_A_MESSAGE:
            shown.append(f"and {len(self.problems) - MOST_IN_A_MESSAGE} more")
        super().__init__("; ".join(shown))
