"""Where a measurement is fitted: arrangement, vessel, and a nozzle for each role."""

from typing import Any
from uuid import UUID

from django.forms import BoundField
from django.utils.translation import gettext as _

from instruments.field_defs import ARRANGEMENTS, ROLES
from instruments.forms.nozzles import ROLE_LABELS, NozzleField, other_vessel, tags_by_nozzle
from instruments.models import Measurement
from project.forms import RegistryForm
from vessels.models import Nozzle, Plant, Vessel


def _uid(text: str) -> UUID | None:
    try:
        return UUID(text)
    except ValueError:
        return None


class FitForm(RegistryForm):
    """Which vessel, in which arrangement, through which nozzles.

    Offers the nozzles of the vessel chosen: in the form that was sent, by `vessel_asked` (a uid; '' for none), or kept.
    """

    def __init__(
        self,
        data: Any = None,
        *,
        row: Measurement,
        plant: Plant,
        vessel_asked: str | None = None,
        **kwargs: Any,
    ) -> None:
        vessels = Vessel.objects.filter(plant=plant)
        super().__init__(
            data, row=row, units=plant.units, links={"vessel": vessels}, stems=("arrangement", "vessel"), **kwargs
        )
        if data is not None:
            vessel_asked = str(data.get(self.add_prefix("vessel"), ""))
        uid = _uid(vessel_asked or "")
        offered = row.vessel
        if vessel_asked is not None:
            offered = vessels.filter(uid=uid).first() if uid is not None else None
        self.offered: Vessel | None = offered
        if vessel_asked is not None:
            self.initial["vessel"] = offered.uid if offered is not None else None
        self.fields["arrangement"].widget.attrs["data-chooser"] = "arrangement"
        taken = tags_by_nozzle(plant, row if row.pk else None)
        fitted = row.nozzles if row.pk and offered == row.vessel else {}
        for role, label in ROLE_LABELS.items():
            arrangements = [arrangement for arrangement, roles in ROLES.items() if role in dict(roles)]
            field = NozzleField(plant, offered, taken, label=label)
            field.widget.attrs["data-concerns"] = " ".join(arrangements)
            self.fields[f"nozzle_{role}"] = field
            self.initial[f"nozzle_{role}"] = fitted[role].uid if role in fitted else None

    @property
    def shown_fields(self) -> list[str]:
        return [*self.definitions, *(f"nozzle_{role}" for role in ROLE_LABELS)]

    @property
    def nozzle_fields(self) -> list[BoundField]:
        """The fields of the nozzles, which follow the vessel."""
        return [self[f"nozzle_{role}"] for role in ROLE_LABELS]

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
                self.add_error(f"nozzle_{role}", other_vessel(nozzle, vessel))
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
