"""The vessel's form: the registry's fields and what the fields must be together."""

from typing import Any

from django.utils.translation import gettext as _

from project.forms import ChildForms, RegistryForm
from vessels.models import Internal, Medium, OperatingCase, Plant, PlantUnit, Vessel

BLANK_CASES = 2
BLANK_INTERNALS = 2


class VesselForm(RegistryForm):
    """Refuses dimensions that contradict each other; a dimension not known yet may stay empty."""

    def __init__(self, data: Any = None, *, row: Vessel, plant: Plant, **kwargs: Any) -> None:
        links = {"unit": PlantUnit.objects.filter(plant=plant)}
        super().__init__(data, row=row, units=plant.units, links=links, **kwargs)

    def chosen(self) -> set[str]:
        """What dimensions may concern: the body and the ends."""
        chosen = set()
        for stem in ("body", "bottom", "top"):
            value = self[stem].value()
            if value:
                chosen.add(str(value))
        if "vertical_cylinder" not in chosen:
            # Other bodies have no bottom of their own to choose.
            chosen -= {"cone", "truncated_cone", "hemisphere"}
        return chosen

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        self._refuse_foreign_dimensions(cleaned)
        if cleaned.get("body") != "vertical_cylinder":
            for stem in ("bottom", "top"):
                if cleaned.get(stem) not in ("flat", None):
                    self.add_error(stem, _("Only a vertical cylinder has this end: choose flat."))
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

    def _refuse_foreign_dimensions(self, cleaned: dict[str, Any]) -> None:
        """A dimension that the chosen shape does not have contradicts it; a missing one may come later."""
        chosen = self.chosen()
        for stem, definition in self.definitions.items():
            value = cleaned.get(stem)
            if not definition.is_about(chosen) and value is not None and getattr(value, "si", None) is not None:
                if stem == "bottom_depth" and cleaned.get("bottom") == "flat":
                    message = _("A flat bottom has no depth: clear this, or choose another bottom end.")
                else:
                    message = _("The chosen shape has no “%(label)s”: clear it, or choose another shape.") % {
                        "label": _(definition.label)
                    }
                self.add_error(stem, message)


def internal_forms(data: Any, vessel: Vessel, plant: Plant) -> ChildForms:
    """The internals of a vessel as rows of a table, with some blank ones."""
    kept = list(vessel.internals.all()) if vessel.pk else []
    blanks = [Internal() for _number in range(BLANK_INTERNALS)]
    return ChildForms(data, rows=kept, blanks=blanks, units=plant.units, prefix="internal")


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
        prefix="case",
    )
