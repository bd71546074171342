"""Where a measurement is fitted: arrangement, vessel, and a nozzle for each role."""

from typing import Any

from django.forms import ModelChoiceField
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from instruments.field_defs import ARRANGEMENTS, ROLES
from instruments.models import Measurement
from project.forms import RegistryForm
from vessels.models import Nozzle, Plant, Vessel

# One field a role; taps, seals and chambers share the roles "upper" and "lower".
ROLE_LABELS = {
    "sensor": gettext_lazy("Nozzle of the sensor"),
    "upper": gettext_lazy("Upper tap, seal or connection"),
    "lower": gettext_lazy("Lower tap, seal or connection"),
}


class NozzleOfVesselField(ModelChoiceField):
    """Nozzles named with their vessel."""

    def label_from_instance(self, nozzle: Any) -> str:
        return f"{nozzle.vessel.number} · {nozzle}"


class FitForm(RegistryForm):
    """Which vessel, in which arrangement, through which nozzles."""

    def __init__(self, data: Any = None, *, row: Measurement, plant: Plant, **kwargs: Any) -> None:
        links = {"vessel": Vessel.objects.filter(plant=plant)}
        super().__init__(data, row=row, units=plant.units, links=links, stems=("arrangement", "vessel"), **kwargs)
        nozzles = Nozzle.objects.filter(plant=plant).select_related("vessel").order_by("vessel__number", "mark")
        fitted = row.nozzles if row.pk else {}
        for role, label in ROLE_LABELS.items():
            arrangements = [arrangement for arrangement, roles in ROLES.items() if role in dict(roles)]
            field = NozzleOfVesselField(nozzles, to_field_name="uid", required=False, label=label, empty_label="—")
            field.widget.attrs["data-concerns"] = " ".join(arrangements)
            self.fields[f"nozzle_{role}"] = field
            self.initial[f"nozzle_{role}"] = fitted[role].uid if role in fitted else None

    @property
    def shown_fields(self) -> list[str]:
        return [*self.definitions, *(f"nozzle_{role}" for role in ROLE_LABELS)]

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        roles = dict(ROLES.get(cleaned.get("arrangement", ""), ()))
        vessel: Vessel | None = cleaned.get("vessel")
        taken: set[int] = set()
        for role in ROLE_LABELS:
            nozzle: Nozzle | None = cleaned.get(f"nozzle_{role}")
            if nozzle is None:
                continue
            if role not in roles:
                arrangement = dict(ARRANGEMENTS).get(cleaned.get("arrangement", ""), "")
                self.add_error(
                    f"nozzle_{role}",
                    _("“%(arrangement)s” has no such connection: clear it.") % {"arrangement": _(arrangement)},
                )
            elif nozzle.pk in taken:
                self.add_error(
                    f"nozzle_{role}",
                    _("%(nozzle)s is chosen twice: two connections need two nozzles.") % {"nozzle": nozzle.mark},
                )
            elif vessel is not None and nozzle.vessel_id != vessel.pk:
                self.add_error(
                    f"nozzle_{role}",
                    _("%(nozzle)s is on %(other)s, not on %(vessel)s.")
                    % {"nozzle": nozzle.mark, "other": nozzle.vessel.number, "vessel": vessel.number},
                )
            else:
                # The first nozzle says which vessel it is on, where none was chosen.
                vessel = vessel or nozzle.vessel
            taken.add(nozzle.pk)
        cleaned["vessel"] = vessel
        return cleaned

    def fit(self) -> dict[str, Any]:
        """Arrangement, vessel and nozzles by role, of a valid form."""
        chosen = {role: self.cleaned_data[f"nozzle_{role}"] for role in ROLE_LABELS}
        return {
            "arrangement": self.cleaned_data["arrangement"],
            "vessel": self.cleaned_data["vessel"],
            "nozzles": {role: nozzle for role, nozzle in chosen.items() if nozzle is not None},
        }
