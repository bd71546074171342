"""The media library as a page shows it: searched, sorted, in the plant's units, with what the plant has of it."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from urllib.parse import urlencode

from django.utils.translation import gettext as _

from project.problems import Problem
from project.quantities import PlantUnits, Quantity
from project.registry import REGISTRY, gettext_noop
from project.tables import Header
from vessels.media_library import CONFIDENCES, LIBRARY, SORTS, LibraryMedium, Span, find_medium, found_media
from vessels.models import Medium

COLUMNS = (
    ("name", gettext_noop("Medium"), ""),
    ("kind", gettext_noop("Kind"), ""),
    ("density", gettext_noop("Density"), "density"),
    ("density_temperature", gettext_noop("at"), "temperature"),
    ("permittivity", gettext_noop("εr"), "permittivity"),
    ("permittivity_temperature", gettext_noop("at"), "temperature"),
    ("hazards", gettext_noop("Hazards and further figures"), ""),
    ("confidence", gettext_noop("Confidence"), ""),
)
LONGEST_QUERY = 100
CHOICES = ("explosion_group", "temperature_class")


@dataclass(frozen=True, slots=True)
class LibraryRow:
    """One medium, as texts. `anchor` is the id of its checkbox; `own` the plant's medium of that name, if any."""

    name: str
    cas: str
    kind: str
    density: str
    density_temperature: str
    permittivity: str
    permittivity_temperature: str
    permittivity_remark: str
    hazards: str
    further: tuple[tuple[str, str], ...]
    confidence: str
    confidence_remark: str
    source: str
    anchor: str
    ticked: bool
    own: Medium | None


@dataclass(slots=True)
class LibraryPage:
    """What the template draws; `query` and `extra` are what the search box needs."""

    headers: list[Header]
    rows: list[LibraryRow]
    total: int
    query: str
    sort: str
    extra: dict[str, str] = field(default_factory=dict)


def library_page(
    parameters: Mapping[str, str], units: PlantUnits, own: Iterable[Medium], ticked: Collection[str] = ()
) -> LibraryPage:
    """The library as a request asks for it: `q` searches, `sort` sorts ("-density" down).

    Raises LookupError for a column that it cannot be sorted by.
    """
    query = parameters.get("q", "").replace("\x00", "").strip()[:LONGEST_QUERY]
    sort = parameters.get("sort", "") or "name"
    if sort.removeprefix("-") not in SORTS:
        raise LookupError(sort)
    by_name = {medium.name.casefold(): medium for medium in own}
    rows = [_row(medium, units, by_name.get(medium.name.casefold()), ticked) for medium in found_media(query, sort)]
    return LibraryPage(_headers(query, sort, units), rows, len(LIBRARY), query, sort, {"sort": sort})


def _headers(query: str, sort: str, units: PlantUnits) -> list[Header]:
    headers = []
    for key, label, kind in COLUMNS:
        active = sort.removeprefix("-") == key
        direction = ("descending" if sort.startswith("-") else "ascending") if active else ""
        turned = f"-{key}" if direction == "ascending" else key
        address = "?" + urlencode({"q": query, "sort": turned} if query else {"sort": turned})
        unit = units.unit(kind) if kind else ""
        headers.append(Header(key, _(label), unit, bool(kind), key in SORTS, direction, address))
    return headers


def _number(quantity: Quantity, stem: str, units: PlantUnits) -> str:
    """The number under a header that has the unit."""
    return units.shown(quantity, REGISTRY[f"medium.{stem}"].kind).number


def _ends(span: Span, stem: str, units: PlantUnits) -> str:
    """One number, or both ends of a range."""
    lowest = _number(span.lowest, stem, units)
    return f"{lowest}–{_number(span.highest, stem, units)}" if span.is_range else lowest


def _row(medium: LibraryMedium, units: PlantUnits, own: Medium | None, ticked: Collection[str]) -> LibraryRow:
    kind = _(REGISTRY["medium.kind"].choice_label(medium.kind))
    return LibraryRow(
        name=medium.name,
        cas=medium.cas,
        kind=_("%(kind)s, mixture") % {"kind": kind} if medium.is_mixture else kind,
        density=_ends(medium.density, "density", units),
        density_temperature=_number(medium.density_temperature, "density_temperature", units),
        permittivity=_ends(medium.permittivity, "permittivity", units),
        permittivity_temperature=_number(medium.permittivity_temperature, "permittivity_temperature", units),
        permittivity_remark=medium.permittivity_remark,
        hazards=medium.hazards,
        further=_further(medium, units),
        confidence=_(dict(CONFIDENCES)[medium.confidence]),
        confidence_remark=medium.confidence_remark,
        source=medium.source,
        anchor=f"copy-{LIBRARY.index(medium)}",
        ticked=medium.name in ticked,
        own=own,
    )


def _further(medium: LibraryMedium, units: PlantUnits) -> tuple[tuple[str, str], ...]:
    """What goes with the hazards: label and value of each figure that is given."""
    angle = _ends(medium.angle_of_repose, "angle_of_repose", units)
    pairs = [
        ("flash_point", str(units.shown(medium.flash_point, "temperature"))),
        ("ignition_temperature", str(units.shown(medium.ignition_temperature, "temperature"))),
        *((stem, _(REGISTRY[f"medium.{stem}"].choice_label(getattr(medium, stem)))) for stem in CHOICES),
        ("flammability", medium.flammability),
        ("angle_of_repose", f"{angle}{units.unit('angle')}" if angle else ""),
    ]
    return tuple((_(REGISTRY[f"medium.{stem}"].label), text) for stem, text in pairs if text)


def chosen_media(names: Iterable[str]) -> tuple[list[LibraryMedium], list[Problem]]:
    """The media that somebody ticked, each once, and what is wrong with the choice."""
    media: list[LibraryMedium] = []
    problems: list[Problem] = []
    for name in dict.fromkeys(names):
        medium = find_medium(name)
        if medium is None:
            shown = name[:40]
            problems.append(Problem("", _("The library has no medium “%(name)s”. Tick what it has.") % {"name": shown}))
        else:
            media.append(medium)
    if not media and not problems:
        problems.append(Problem("", _("Tick at least one medium, then copy.")))
    return media, problems
