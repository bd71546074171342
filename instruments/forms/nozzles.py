"""Choosing nozzles: those of one vessel in the order of their marks, each with the tags that use it."""

from collections.abc import Iterator, Mapping
from typing import Any

from django.forms import ModelChoiceField
from django.forms.models import ModelChoiceIterator
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from instruments.models import Connection, Measurement
from project.natural_order import natural_key
from vessels.models import Nozzle, Plant, Vessel

# One field a role; taps, seals and chambers share the roles "upper" and "lower".
ROLE_LABELS = {
    "sensor": gettext_lazy("Nozzle of the sensor"),
    "upper": gettext_lazy("Upper tap, seal or connection"),
    "lower": gettext_lazy("Lower tap, seal or connection"),
}


def tags_by_nozzle(plant: Plant, besides: Measurement | None = None) -> dict[int, list[str]]:
    """The tags that use each nozzle (by its key) of a plant, but for one measurement."""
    connections = Connection.objects.filter(plant=plant).exclude(measurement=besides)
    tags: dict[int, list[str]] = {}
    for nozzle, tag in connections.order_by("measurement__tag__text").values_list(
        "nozzle_id", "measurement__tag__text"
    ):
        if tag not in tags.setdefault(nozzle, []):
            tags[nozzle].append(tag)
    return tags


class _InOrder(ModelChoiceIterator):
    """What is offered, in the order of vessels and marks."""

    def __iter__(self) -> Iterator[Any]:
        field: NozzleField = self.field  # type: ignore[assignment]
        yield ("", field.empty_label)
        offered = [nozzle for nozzle in self.queryset if field.vessel is None or nozzle.vessel_id == field.vessel.pk]
        for nozzle in sorted(offered, key=lambda one: (natural_key(one.vessel.number), natural_key(one.mark))):
            yield self.choice(nozzle)


class NozzleField(ModelChoiceField):
    """A nozzle of the plant. Only those of `vessel` are offered, all where there is none.

    A nozzle of another vessel is read all the same, so that the form can say which vessel it is on.
    """

    iterator = _InOrder

    def __init__(self, plant: Plant, vessel: Vessel | None, taken: Mapping[int, list[str]], **kwargs: Any) -> None:
        self.vessel = vessel
        self.taken = taken
        nozzles = Nozzle.objects.filter(plant=plant).select_related("vessel")
        super().__init__(nozzles, to_field_name="uid", required=False, empty_label="—", **kwargs)
        self.widget.attrs["class"] = "long-choice"

    def label_from_instance(self, nozzle: Any) -> str:
        """The nozzle's mark and size, its vessel where several are offered, and who uses it."""
        name = str(nozzle) if self.vessel is not None else f"{nozzle.vessel.number} · {nozzle}"
        tags = self.taken.get(nozzle.pk)
        return _("%(nozzle)s, taken by %(tags)s") % {"nozzle": name, "tags": ", ".join(tags)} if tags else name


def other_vessel(nozzle: Nozzle, vessel: Vessel) -> str:
    """Why a nozzle is refused that is not on the vessel."""
    return _("%(nozzle)s is on %(other)s, not on %(vessel)s: choose a nozzle of %(vessel)s.") % {
        "nozzle": nozzle.mark,
        "other": nozzle.vessel.number,
        "vessel": vessel.number,
    }
