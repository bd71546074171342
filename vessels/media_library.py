"""The media library: handbook values of common media, read from a table that names the source of each row. Pure.

The rows never change; a plant copies the ones that it needs and edits its copies (`LibraryMedium.entered`).
"""

import csv
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from project.natural_order import natural_key
from project.quantities import MISSING, PlantUnits, Quantity, format_number
from project.registry import REGISTRY, gettext_noop
from vessels.field_defs import CHEMISTRIES, EXPLOSION_GROUPS, MEDIUM_KINDS, TEMPERATURE_CLASSES

FILE = Path(__file__).parent / "data" / "media_library.csv"
UNITS = PlantUnits()  # every cell has its unit, and no kind of quantity here depends on a plant
LIQUEFIED_GAS = "liquefied_gas"

# From the best down. That of a row is that of its weakest figure.
CONFIDENCES = (
    ("high", gettext_noop("High")),
    ("medium", gettext_noop("Medium")),
    ("low", gettext_noop("Low")),
)
COLUMNS = (
    "name", "cas", "kind", "mixture", "density", "density_temperature", "permittivity", "permittivity_temperature",
    "permittivity_remark", "hazards", "flash_point", "ignition_temperature", "flammability", "explosion_group",
    "temperature_class", "angle_of_repose", "chemistry", "confidence", "confidence_remark", "source",
)  # fmt: skip
RANGES = ("density", "permittivity", "angle_of_repose")
SINGLES = ("density_temperature", "permittivity_temperature", "flash_point", "ignition_temperature")
ACCEPTED: dict[str, tuple[str, ...]] = {
    "kind": tuple(key for key, _label in MEDIUM_KINDS),
    "mixture": ("", "yes"),
    "explosion_group": ("", *(key for key, _label in EXPLOSION_GROUPS)),
    "temperature_class": ("", *(key for key, _label in TEMPERATURE_CLASSES)),
    "chemistry": ("", *(key for key, _label in CHEMISTRIES)),
    "confidence": tuple(key for key, _label in CONFIDENCES),
}

# The middle of a range stands for a density within ±10 % of it; a broader range says too little. Practice, no source.
BROADEST_DENSITY = 0.10
SORTS = ("name", "kind", "density", "permittivity", "confidence")


@dataclass(frozen=True, slots=True)
class Span:
    """A figure as it is known: a typical range, or one value at both ends; both missing where it is not known."""

    lowest: Quantity = MISSING
    highest: Quantity = MISSING

    @property
    def missing(self) -> bool:
        return self.lowest.missing

    @property
    def is_range(self) -> bool:
        return self.lowest != self.highest

    def text(self) -> str:
        """Both ends with their units, "720 kg/m³ to 775 kg/m³"; one where they are the same; '' where missing."""
        return f"{self.lowest.typed} to {self.highest.typed}" if self.is_range else self.lowest.typed


@dataclass(frozen=True)
class LibraryMedium:
    """One medium of the library. Texts are '' and quantities missing where nothing is known.

    kind        a kind of medium of a plant: "liquid", "solid", "liquefied_gas"
    density     kg/m³, at density_temperature (K); of solids the bulk density
    permittivity  relative, static (low frequency), at permittivity_temperature (K)
    flash_point, ignition_temperature   K; flammability says what is not a single figure
    angle_of_repose  rad
    confidence  "high", "medium" or "low", of the weakest figure;  source  where each figure comes from
    """

    name: str
    cas: str
    kind: str
    is_mixture: bool
    density: Span
    density_temperature: Quantity
    permittivity: Span
    permittivity_temperature: Quantity
    permittivity_remark: str
    hazards: str
    flash_point: Quantity
    ignition_temperature: Quantity
    flammability: str
    explosion_group: str
    temperature_class: str
    angle_of_repose: Span
    chemistry: str
    confidence: str
    confidence_remark: str
    source: str

    def entered(self) -> dict[str, Quantity | str]:
        """The values of a plant's copy, by stem of the medium's fields; empty ones left out.

        Where the library knows a range only, one value is entered and the provenance tells it: of a density the middle
        (nothing where it lies more than 10 % from the ends), of a permittivity the lowest, whose echo is weakest, of
        an angle of repose the steepest, whose heap is farthest from level. Common practice, no source.
        """
        values: dict[str, Quantity | str] = {
            "name": self.name, "kind": self.kind, "hazards": self.hazards, "chemistry": self.chemistry,
            "flash_point": self.flash_point, "ignition_temperature": self.ignition_temperature,
            "flammability": self.flammability, "explosion_group": self.explosion_group,
            "temperature_class": self.temperature_class, "density": self._density,
            "permittivity": self.permittivity.lowest, "angle_of_repose": self.angle_of_repose.highest,
            "provenance": self.provenance,
        }  # fmt: skip
        if not self._density.missing:
            values["density_temperature"] = self.density_temperature
        if not self.permittivity.missing:
            values["permittivity_temperature"] = self.permittivity_temperature
        return {stem: value for stem, value in values.items() if value not in ("", MISSING)}

    @cached_property
    def _density(self) -> Quantity:
        """The density to enter: the only one, or the middle of a narrow range."""
        lowest, highest = self.density.lowest.si, self.density.highest.si
        if lowest is None or highest is None or not self.density.is_range:
            return self.density.lowest
        middle = (lowest + highest) / 2.0
        if (highest - middle) / middle > BROADEST_DENSITY:
            return MISSING
        return UNITS.parse(f"{format_number(middle, 4)} kg/m³", "density")

    @cached_property
    def provenance(self) -> str:
        """Where a copy's values come from: how sure the library is, what was made of ranges, and the sources; shortened
        to what the field holds."""
        told = [f"Media library, confidence {self.confidence}"]
        if self.density.is_range:
            what = "left empty" if self._density.missing else "middle entered"
            told.append(f"density {self.density.text()}, {what}")
        remark = f" ({self.permittivity_remark})" if self.permittivity_remark else ""
        if self.permittivity.missing:
            told.append(f"εr left empty{remark or ', not sourced'}")
        elif self.permittivity.is_range:
            told.append(f"εr {self.permittivity.text()}{remark}, lowest entered")
        if self.angle_of_repose.is_range:
            told.append(f"repose {self.angle_of_repose.text()}, steepest entered")
        return _shortened("; ".join([*told, self.source]), REGISTRY["medium.provenance"].longest)

    @cached_property
    def searched(self) -> str:
        """What the search looks in."""
        labels = (dict(MEDIUM_KINDS)[self.kind], "mixture" if self.is_mixture else "")
        texts = (self.name, self.cas, *labels, self.hazards, self.flammability, self.explosion_group, self.confidence)
        return " ".join((*texts, self.source)).casefold()

    def order(self, sort: str) -> tuple[object, ...] | None:
        """What a list sorts by: one of `SORTS`. None where there is no figure: it comes last."""
        if sort == "density":
            return None if self.density.lowest.si is None else (self.density.lowest.si,)
        if sort == "permittivity":
            return None if self.permittivity.lowest.si is None else (self.permittivity.lowest.si,)
        if sort == "confidence":
            return (ACCEPTED["confidence"].index(self.confidence),)
        return (ACCEPTED["kind"].index(self.kind),) if sort == "kind" else ()


def _shortened(text: str, longest: int) -> str:
    """A text of at most so many characters; what is cut off ends at a word, with "…"."""
    return text if len(text) <= longest else text[: longest - 1].rpartition(" ")[0].rstrip(" ;,(") + "…"


def _span(stem: str, cell: str) -> Span:
    """One value "998.2 kg/m³" or a range "720 to 775 kg/m³", whose first end has the second's unit."""
    first, to, last = cell.partition(" to ")
    kind = REGISTRY[f"medium.{stem}"].kind
    highest = UNITS.parse(last if to else first, kind)
    if not to:
        return Span(highest, highest)
    number = last.lstrip("0123456789.")
    lowest = UNITS.parse(first + number, kind)
    if lowest.si is None or highest.si is None or lowest.si >= highest.si:
        raise ValueError(f"{stem} is {cell!r}; a range goes from the lower to the higher end")
    return Span(lowest, highest)


def _medium(cells: dict[str, str]) -> LibraryMedium:
    for column, accepted in ACCEPTED.items():
        if cells[column] not in accepted:
            raise ValueError(f"{column} is {cells[column]!r}; accepted is one of {', '.join(accepted)}")
    if not cells["name"] or not cells["source"]:
        raise ValueError("name and source have to be filled")
    texts = {column: cells[column] for column in COLUMNS if column not in (*RANGES, *SINGLES, "mixture")}
    return LibraryMedium(
        **texts,
        is_mixture=cells["mixture"] == "yes",
        density=_span("density", cells["density"]),
        permittivity=_span("permittivity", cells["permittivity"]),
        angle_of_repose=_span("angle_of_repose", cells["angle_of_repose"]),
        density_temperature=UNITS.parse(cells["density_temperature"], "temperature"),
        permittivity_temperature=UNITS.parse(cells["permittivity_temperature"], "temperature"),
        flash_point=UNITS.parse(cells["flash_point"], "temperature"),
        ignition_temperature=UNITS.parse(cells["ignition_temperature"], "temperature"),
    )


def read_library(text: str) -> tuple[LibraryMedium, ...]:
    """The media of a table: comment lines (#), a header, a row for each medium.

    Raises ValueError naming the row where a column lacks, a cell cannot be read or a name stands twice.
    """
    table = csv.reader(line for line in text.splitlines() if line.strip() and not line.startswith("#"))
    header = next(table, [])
    if tuple(header) != COLUMNS:
        raise ValueError(f"the header is {', '.join(header)}; accepted is {', '.join(COLUMNS)}")
    media: dict[str, LibraryMedium] = {}
    for number, cells in enumerate(table, start=1):
        try:
            medium = _medium(dict(zip(COLUMNS, (cell.strip() for cell in cells), strict=True)))
        except ValueError as problem:
            raise ValueError(f"medium {number} ({cells[0] if cells else ''}): {problem}") from problem
        if medium.name.casefold() in media:
            raise ValueError(f"medium {number} ({medium.name}) stands twice")
        media[medium.name.casefold()] = medium
    return tuple(media.values())


LIBRARY = read_library(FILE.read_text(encoding="utf-8"))
_BY_NAME = {medium.name: medium for medium in LIBRARY}


def find_medium(name: str) -> LibraryMedium | None:
    """The medium of that name; None where the library has none."""
    return _BY_NAME.get(name)


def found_media(query: str = "", sort: str = "name") -> list[LibraryMedium]:
    """The media in which every word of a query occurs, sorted by one of `SORTS` ("-density": down), then by name.

    What has no figure to sort by comes last either way. Raises ValueError for another sort.
    """
    key, down = sort.removeprefix("-"), sort.startswith("-")
    if key not in SORTS:
        raise ValueError(f"sort is {sort!r}; accepted is one of {', '.join(SORTS)}, with - before it to sort down")
    words = query.casefold().split()
    found = [medium for medium in LIBRARY if all(word in medium.searched for word in words)]
    found.sort(key=lambda medium: natural_key(medium.name), reverse=down and key == "name")
    return [*_with_order(found, key, down), *(medium for medium in found if medium.order(key) is None)]


def _with_order(media: Sequence[LibraryMedium], key: str, down: bool) -> Iterator[LibraryMedium]:
    pairs = [(order, medium) for medium in media if (order := medium.order(key)) is not None]
    yield from (medium for _order, medium in sorted(pairs, key=lambda pair: pair[0], reverse=down))
