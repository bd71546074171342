"""The sections of the measurement page: the groups of the datasheet, each with the fields that concern it."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass, field

from django.forms import BoundField
from django.utils.translation import gettext as _

from project.forms import RegistryForm
from project.registry import GROUPS, REGISTRY

# Groups that are not filled in on this page: vessel and medium have pages of their own, setpoints are a table.
ELSEWHERE = {"vessel": "connection", "medium": "sensor"}
# Open from the start: what the checks rest on. The rest opens by a click, or where something is filled or wrong.
ALWAYS_OPEN = ("identification", "duty", "connection", "sensor", "signal", "setpoints")


@dataclass
class Section:
    """One section: fields that concern this measurement, and those folded away because they do not."""

    id: str
    label: str
    fields: list[BoundField] = field(default_factory=list)
    folded: list[BoundField] = field(default_factory=list)

    @property
    def filled(self) -> int:
        """How many of its fields hold something."""
        return sum(1 for one in (*self.fields, *self.folded) if str(one.value() or "").strip())

    @property
    def open(self) -> bool:
        return self.id in ALWAYS_OPEN or any(one.errors for one in (*self.fields, *self.folded))


def sections(forms: Iterable[RegistryForm], chosen: Collection[str]) -> list[Section]:
    """The fields of the forms by group, in printing order. `chosen` is what fields may concern."""
    by_group = {key: Section(key, _(label)) for key, label in GROUPS}
    for form in forms:
        for stem, definition in form.definitions.items():
            section = by_group[definition.group]
            bound = form[stem]
            # A filled field never hides: what somebody typed stays in sight.
            shown = definition.is_about(chosen) or bound.errors or str(bound.value() or "").strip()
            (section.fields if shown else section.folded).append(bound)
    return [section for section in by_group.values() if section.fields or section.folded or section.id == "setpoints"]


def section_of(key: str) -> str:
    """The section in which the field of a key stands (vessel and medium: where their effect is mended)."""
    entity = key.partition(".")[0]
    if entity in ("nozzle", "vessel", "internal") or key.startswith(("measurement.nozzle", "measurement.arrangement")):
        return "connection"
    if entity in ("medium", "case", "sensor_class"):
        return "sensor"
    if key in REGISTRY:
        group = REGISTRY[key].group
        return ELSEWHERE.get(group, group)
    return ""
