"""The capacity of a vessel made ready for a reader: figures, method, uncertainty; for screen, sheet and file.

Levels are told from the vessel's datum, in the plant's units; the pure packages beneath count from the lowest inside
point.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from django.utils.translation import gettext as _

from project.quantities import PlantUnits
from project.registry import gettext_noop
from vessels.capacity.figures import Contents, dead_volume, volume_at, working_capacity
from vessels.capacity.uncertainty import (
    VolumeUncertainty,
    combine,
    dimension_contributions,
    level_contribution,
    of_rectangular,
    volume_contribution,
)
from vessels.contents import VesselContents
from vessels.models import Vessel
from vessels.shape_values import LENGTHS, SIDES, stem_of
from vessels.shapes.build import needed_dimensions
from vessels.shapes.shape import Shape
from vessels.wording import head_in_words, shape_problem_in_words

UNCERTAIN_AT = (0.25, 0.5, 1.0)  # of the height between the lowest and the highest level
COVERAGE = 2.0


@dataclass(frozen=True, slots=True)
class Figure:
    """One key figure in words; the note says what it holds for, or why it is missing."""

    label: str
    text: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class UncertaintyRow:
    """How sure a volume is: level, volume, its parts by name, expanded uncertainty and its share."""

    level: str
    volume: str
    parts: tuple[tuple[str, str], ...]
    expanded: str
    share: str


@dataclass(frozen=True, slots=True)
class Capacity:
    """A vessel's capacity for a reader.

    holds        what it was made from
    datum_m      height of the datum above the lowest inside point, m; 0 with a warning where it is not known
    density      of the normal operating case, kg/m³, with the name of the medium; None where it is not known
    """

    vessel: Vessel
    units: PlantUnits
    holds: VesselContents
    datum_m: float = 0.0
    density_kg_m3: float | None = None
    medium: str = ""
    figures: tuple[Figure, ...] = ()
    method: tuple[str, ...] = ()
    uncertainty: tuple[UncertaintyRow, ...] = ()
    warnings: tuple[str, ...] = field(default=())

    @property
    def contents(self) -> Contents | None:
        return self.holds.contents

    @property
    def lowest_m(self) -> float:
        """Lowest level of the curve, from the datum."""
        return self.contents.lowest_level_m - self.datum_m if self.contents else 0.0

    @property
    def highest_m(self) -> float:
        return self.contents.highest_level_m - self.datum_m if self.contents else 0.0

    @property
    def marks(self) -> tuple[tuple[str, str, float], ...]:
        """Named levels (place, name with value, level from the datum) for a plot."""
        return tuple(
            (place, f"{label} {self.units.shown_si(level_m, 'length')}", level_m)
            for place, label, level_m in _named_levels(self.vessel)
        )


def capacity_of(vessel: Vessel, holds: VesselContents, density_kg_m3: float | None, medium: str) -> Capacity:
    """The capacity of a vessel with its figures, method and uncertainty. density_kg_m3 and medium: for its mass."""
    units = vessel.plant.units
    datum_m = holds.known.datum_m
    warnings = list(holds.warnings)
    if datum_m is None:
        warnings.append(_("The height of the datum is not known: levels count from the lowest inside point."))
    if holds.known.problem is not None:
        warnings.append(shape_problem_in_words(holds.known.problem, units))
    warnings += _level_warnings(vessel, holds, units)
    contents = holds.contents
    if contents is None:
        return Capacity(vessel, units, holds, datum_m or 0.0, density_kg_m3, medium, warnings=tuple(warnings))
    uncertain, missing = _uncertainty(vessel, holds, contents, datum_m or 0.0, units)
    warnings += missing
    return Capacity(
        vessel,
        units,
        holds,
        datum_m or 0.0,
        density_kg_m3,
        medium,
        tuple(_figures(vessel, holds, contents, datum_m or 0.0, units, density_kg_m3, medium)),
        tuple(_method(vessel, holds, units)),
        tuple(uncertain),
        tuple(warnings),
    )


def _level_warnings(vessel: Vessel, holds: VesselContents, units: PlantUnits) -> list[str]:
    """Levels of the vessel that contradict one another or its shape."""
    warnings = []
    shape, datum_m = holds.known.shape, holds.known.datum_m
    if shape is not None and datum_m is not None and datum_m > shape.height_m:
        warnings.append(
            _("The datum lies %(height)s above the lowest inside point, outside the vessel, which is %(inside)s high.")
            % {"height": units.shown_si(datum_m, "length"), "inside": units.shown_si(shape.height_m, "length")}
        )
    named = [(name, vessel.quantity(stem).si) for _place, name, stem in _LEVELS]
    entered = [(_(name), level_m) for name, level_m in named if level_m is not None]
    for (upper, upper_m), (lower, lower_m) in pairwise(entered):
        if upper_m <= lower_m:
            values = {"upper": upper, "lower": lower, "at": units.shown_si(upper_m, "length"),
                      "above": units.shown_si(lower_m, "length")}  # fmt: skip
            warnings.append(_("%(upper)s at %(at)s lies not above %(lower)s at %(above)s.") % values)
    return warnings


# --- key figures ------------------------------------------------------------------------------------------

_LEVELS = (
    ("critical", gettext_noop("Critical level"), "critical_level"),
    ("overflow", gettext_noop("Overflow"), "overflow_level"),
    ("outlet", gettext_noop("Lowest outlet"), "outlet_elevation"),
)


def _named_levels(vessel: Vessel) -> list[tuple[str, str, float]]:
    """The vessel's own levels (place, name, level from the datum), those that are entered."""
    found = [(place, _(name), vessel.quantity(stem).si) for place, name, stem in _LEVELS]
    return [(place, name, level_m) for place, name, level_m in found if level_m is not None]


def _figures(
    vessel: Vessel,
    holds: VesselContents,
    contents: Contents,
    datum_m: float,
    units: PlantUnits,
    density_kg_m3: float | None,
    medium: str,
) -> list[Figure]:
    def volume(value_m3: float) -> str:
        return str(units.shown_si(value_m3, "volume"))

    def share(part: float) -> str:
        return str(units.shown_si(part, "ratio"))

    total = contents.total_volume_m3
    height_m = contents.highest_level_m - contents.lowest_level_m
    source = _("by the strapping table") if holds.by_table else _("by the shape")
    figures = [
        Figure(_("Volume, full"), volume(total), source),
        Figure(
            _("Height of the table") if holds.by_table else _("Inside height"), str(units.shown_si(height_m, "length"))
        ),
    ]
    if contents.internals:
        hidden = sum(one.volume_m3 for one in contents.internals)
        figures.append(Figure(_("Displaced by internals"), volume(hidden), _("already subtracted")))
    levels = {place: level_m + datum_m for place, _name, level_m in _named_levels(vessel)}
    low_m, high_m = contents.lowest_level_m, contents.highest_level_m
    inside = {place: level_m for place, level_m in levels.items() if low_m <= level_m <= high_m}
    outside = _("outside the capacity curve")
    for place, label in (
        ("critical", _("Volume at the critical level")),
        ("overflow", _("Volume at the overflow")),
        ("outlet", _("Dead volume below the lowest outlet")),
    ):
        if place not in levels:
            continue
        if place not in inside:
            figures.append(Figure(label, "—", outside))
            continue
        at = dead_volume(contents, inside[place]) if place == "outlet" else volume_at(contents, inside[place])
        figures.append(Figure(label, volume(at.volume_m3), share(at.share)))
    if "outlet" in inside and "overflow" in inside and inside["outlet"] < inside["overflow"]:
        between = working_capacity(contents, inside["outlet"], inside["overflow"])
        figures.append(Figure(_("Between outlet and overflow"), volume(between.volume_m3), share(between.share)))
    if density_kg_m3 is not None:
        mass, density = units.shown_si(total * density_kg_m3, "mass"), units.shown_si(density_kg_m3, "density")
        of = _("%(medium)s at %(density)s") % {"medium": medium, "density": density}
        figures.append(Figure(_("Mass, full"), str(mass), of))
    return figures


# --- method -----------------------------------------------------------------------------------------------


def _method(vessel: Vessel, holds: VesselContents, units: PlantUnits) -> list[str]:
    """How the volumes come about, and which heads are meant: definitions differ."""
    lines = []
    shape = holds.known.shape
    if holds.by_table and holds.table is not None:
        kind = _("monotone cubic") if holds.table.interpolation == "monotone_cubic" else _("linear")
        lines.append(
            _("Strapping table of %(rows)s rows, %(kind)s interpolation between them.")
            % {"rows": len(holds.table.levels_m), "kind": kind}
        )
    elif shape is not None:
        lines.append(_(shape.method))
    if shape is not None:
        lines += [
            head_in_words(side, vessel.text_of(side), head, units)
            for side, head in zip(SIDES, shape.heads, strict=False)
        ]
    return lines


# --- uncertainty ------------------------------------------------------------------------------------------


def _uncertainty(
    vessel: Vessel, holds: VesselContents, contents: Contents, datum_m: float, units: PlantUnits
) -> tuple[list[UncertaintyRow], list[str]]:
    """How sure the volumes are at some levels, and what is not stated."""
    relative = holds.table_uncertainty if holds.by_table else vessel.quantity("dimension_uncertainty").si
    reading_m = vessel.quantity("level_uncertainty").si
    missing = []
    if relative is None and holds.by_table:
        missing.append(_("The uncertainty of the strapping table is not stated: its volumes are shown as they stand."))
    elif relative is None:
        missing.append(_("The uncertainty of the dimensions is not stated: the volumes hold for exact dimensions."))
    if relative is None:
        # What the reading alone contributes would pass for the whole.
        return [], missing
    rows = []
    span_m = contents.highest_level_m - contents.lowest_level_m
    for part in UNCERTAIN_AT:
        level_m = contents.lowest_level_m + part * span_m
        found = _uncertain_at(vessel, holds, contents, level_m, relative, reading_m)
        rows.append(_uncertainty_row(found, datum_m, units))
    return rows, missing


def _uncertain_at(
    vessel: Vessel,
    holds: VesselContents,
    contents: Contents,
    level_m: float,
    relative: float,
    reading_m: float | None,
) -> VolumeUncertainty:
    parts = []
    if reading_m is not None:
        parts.append(level_contribution(contents, level_m, reading_m))
    if holds.by_table and holds.table is not None:
        parts.append(volume_contribution("table", relative * float(contents.volume_m3(level_m))))
        error = holds.table.interpolation_error()
        if error is not None:
            parts.append(volume_contribution("interpolation", of_rectangular(error.largest_m3)))
    else:
        lengths, make = _lengths_of(vessel)
        parts += dimension_contributions(make, lengths, dict.fromkeys(lengths, relative), level_m)
    return combine(contents, level_m, parts)


def _lengths_of(vessel: Vessel) -> tuple[dict[str, float], Callable[[Mapping[str, float]], Shape]]:
    """The inside lengths that a vessel's shape needs, by field, and what makes its shape with some of them changed."""
    needed = (stem_of(name) for name in needed_dimensions(vessel.body, vessel.bottom, vessel.top))
    values = {stem: vessel.quantity(stem).si for stem in needed if stem in LENGTHS}
    return {stem: value for stem, value in values.items() if value is not None}, vessel.shape_with


_PARTS = {
    "level": gettext_noop("level reading"),
    "interpolation": gettext_noop("interpolation"),
    "table": gettext_noop("the table's volumes"),
}


def _uncertainty_row(found: VolumeUncertainty, datum_m: float, units: PlantUnits) -> UncertaintyRow:
    parts = []
    dimensions = [one.volume_m3 for one in found.contributions if one.name not in _PARTS]
    for one in found.contributions:
        if one.name in _PARTS:
            parts.append((_(_PARTS[one.name]), str(units.shown_si(one.volume_m3, "volume", 3))))
    if dimensions:
        together = math.sqrt(sum(value**2 for value in dimensions))
        parts.append((_("dimensions"), str(units.shown_si(together, "volume", 3))))
    expanded = found.expanded_m3(COVERAGE)
    return UncertaintyRow(
        str(units.shown_si(found.level_m - datum_m, "length")),
        str(units.shown_si(found.volume_m3, "volume")),
        tuple(parts),
        str(units.shown_si(expanded, "volume", 3)),
        str(units.shown_si(expanded / found.volume_m3, "ratio", 2)) if found.volume_m3 else "—",
    )
