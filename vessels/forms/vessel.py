"""The vessel's form: the registry's fields and what the fields must be together."""

from typing import Any

from django.utils.translation import gettext as _

from project.forms import ChildForms, RegistryForm
from vessels.models import Medium, OperatingCase, Plant, PlantUnit, Vessel

CASE_STEMS = ("kind", "name", "medium", "temperature", "pressure", "density", "permittivity")
BLANK_CASES = 2


class VesselForm(RegistryForm):
    """Refuses dimensions that contradict each other; a dimension not known yet may stay empty."""

    def __init__(self, data: Any = None, *, row: Vessel, plant: Plant, **kwargs: Any) -> None:
        links = {"unit": PlantUnit.objects.filter(plant=plant)}
        super().__init__(data, row=row, units=plant.units, links=links, **kwargs)

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        depth = cleaned.get("bottom_depth")
        if cleaned.get("bottom") == "flat" and depth is not None and depth.si is not None:
            self.add_error("bottom_depth", _("A flat bottom has no depth: clear this, or choose another bottom end."))
        dip_plate = cleaned.get("dip_plate_height")
        if cleaned.get("datum") != "dip_plate" and dip_plate is not None and dip_plate.si is not None:
            self.add_error(
                "dip_plate_height",
                _("Only for a vessel whose datum is the dip plate: clear this, or change the datum."),
            )
        for quantity, low, high in (
            (_("pressure"), "design_pressure_min", "design_pressure_max"),
            (_("temperature"), "design_temperature_min", "design_temperature_max"),
        ):
            least, most = cleaned.get(low), cleaned.get(high)
            if least and most and least.si is not None and most.si is not None and least.si > most.si:
                self.add_error(
                    low,
                    _("The lowest design %(quantity)s (%(least)s) is above the highest (%(most)s).")
                    % {"quantity": quantity, "least": least.typed, "most": most.typed},
                )
        return cleaned


def case_forms(data: Any, vessel: Vessel, plant: Plant) -> ChildForms:
    """The operating cases of a vessel as rows of a table, with some blank ones."""
    kept = list(vessel.operating_cases.select_related("medium")) if vessel.pk else []
    kinds = [kind for kind in ("normal", "maximum", "minimum", "design") if kind not in {case.kind for case in kept}]
    blanks = [OperatingCase(kind=kind) for kind in (kinds + ["named"] * BLANK_CASES)[:BLANK_CASES]]
    return ChildForms(
        data,
        rows=kept,
        blanks=blanks,
        units=plant.units,
        links={"medium": Medium.objects.filter(plant=plant)},
        stems=CASE_STEMS,
        prefix="case",
    )
