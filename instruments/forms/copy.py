"""Copying a measurement: the new tag, and the nozzles of the same vessel through which the copy measures."""

from typing import Any

from django.utils.translation import gettext as _

from instruments.field_defs import ROLES
from instruments.forms.nozzles import NozzleField, other_vessel, tags_by_nozzle
from instruments.models import Measurement, Tag
from project.forms import RegistryForm
from vessels.models import Nozzle


class CopyForm(RegistryForm):
    """Letters, number and suffix, and a free nozzle for each connection. Without one the copy is fitted later."""

    def __init__(self, data: Any = None, *, source: Measurement, **kwargs: Any) -> None:
        self.source = source
        blank = Tag(plant=source.plant, letters=source.tag.letters)
        stems = ("letters", "number", "suffix")
        super().__init__(data, row=blank, units=source.plant.units, stems=stems, **kwargs)
        self.taken = tags_by_nozzle(source.plant)
        self.roles = ROLES[source.arrangement] if source.vessel is not None else ()
        for role, label in self.roles:
            self.fields[f"nozzle_{role}"] = NozzleField(
                source.plant,
                source.vessel,
                self.taken,
                label=_(label),
                help_text=_("A free one of %(vessel)s; or none, and fit the copy later.") % {"vessel": source.vessel},
            )

    @property
    def shown_fields(self) -> list[str]:
        return [*self.definitions, *(f"nozzle_{role}" for role, _label in self.roles)]

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        chosen: set[int] = set()
        for role, _label in self.roles:
            nozzle: Nozzle | None = cleaned.get(f"nozzle_{role}")
            if nozzle is None:
                continue
            vessel = self.source.vessel
            if vessel is not None and nozzle.vessel_id != vessel.pk:
                self.add_error(f"nozzle_{role}", other_vessel(nozzle, vessel))
            elif nozzle.pk in self.taken:
                self.add_error(
                    f"nozzle_{role}",
                    _("%(nozzle)s is taken by %(tags)s: choose a free nozzle, or none and fit the copy later.")
                    % {"nozzle": nozzle.mark, "tags": ", ".join(self.taken[nozzle.pk])},
                )
            elif nozzle.pk in chosen:
                self.add_error(
                    f"nozzle_{role}",
                    _("%(nozzle)s is chosen twice: two connections need two nozzles.") % {"nozzle": nozzle.mark},
                )
            chosen.add(nozzle.pk)
        return cleaned

    def nozzles(self) -> dict[str, Nozzle]:
        """The chosen nozzles by role, of a valid form."""
        chosen = {role: self.cleaned_data[f"nozzle_{role}"] for role, _label in self.roles}
        return {role: nozzle for role, nozzle in chosen.items() if nozzle is not None}
