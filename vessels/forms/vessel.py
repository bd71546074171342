"""The vessel's form: the registry's fields and what the fields must be together."""

import json
from functools import cached_property
from typing import Any

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext as _

from project.forms import ChildForms, RegistryForm
from vessels.models import Internal, Medium, OperatingCase, Plant, PlantUnit, Vessel
from vessels.shape_values import SIDES, chosen_words, end_kinds
from vessels.vessel_fields import FORM_GROUPS

BLANK_CASES = 2
BLANK_INTERNALS = 2


class VesselForm(RegistryForm):
    """Refuses dimensions that contradict each other; a dimension not known yet may stay empty."""

    def __init__(self, data: Any = None, *, row: Vessel, plant: Plant, **kwargs: Any) -> None:
        links = {"unit": PlantUnit.objects.filter(plant=plant)}
        super().__init__(data, row=row, units=plant.units, links=links, **kwargs)
        # For the page, which sets apart what the shape does not use while somebody chooses it.
        bodies = [body for body, _label in self.definitions["body"].choices]
        for stem in ("body", *SIDES):
            self.fields[stem].widget.attrs["data-chooser"] = stem
        for side in SIDES:
            self.fields[side].widget.attrs["data-kinds"] = json.dumps({body: end_kinds(body, side) for body in bodies})
        for stem in self._of_the_shape:
            self.fields[stem].widget.attrs["data-shape"] = self.definitions[stem].default

    @cached_property
    def _of_the_shape(self) -> list[str]:
        """Stems of the fields that concern bodies or ends, rather than a kind of medium or everything."""
        words = {body for body, _label in self.definitions["body"].choices}
        words |= {f"{side}:{kind}" for side in SIDES for kind, _label in self.definitions[side].choices}
        return [stem for stem, one in self.definitions.items() if any(word in words for word in one.concerns)]

    def chosen(self) -> set[str]:
        """What dimensions may concern: the body and the ends that it can have."""
        body, bottom, top = (str(self[stem].value() or "") for stem in ("body", "bottom", "top"))
        return chosen_words(body, bottom, top)

    @property
    def unused(self) -> list[BoundField]:
        """What is filled in although the chosen shape does not use it."""
        chosen, body = self.chosen(), str(self["body"].value() or "")
        unused = []
        for stem in self._of_the_shape:
            text, definition = str(self[stem].value() or "").strip(), self.definitions[stem]
            used = definition.is_about(chosen) and (stem not in SIDES or text in end_kinds(body, stem))
            if not used and text not in ("", definition.default):
                unused.append(self[stem])
        return unused

    @property
    def groups(self) -> list[tuple[str, list[tuple[BoundField, bool]]]]:
        """All fields in order under the titles of their groups, each with whether the chosen shape leaves it unused."""
        unused = {field.name for field in self.unused}
        groups: list[tuple[str, list[tuple[BoundField, bool]]]] = []
        for stem in self.definitions:
            if stem in FORM_GROUPS:
                groups.append((_(FORM_GROUPS[stem]), []))
            groups[-1][1].append((self[stem], stem in unused))
        return groups

    def _refuse_unused(self, cleaned: dict[str, Any]) -> None:
        """What the chosen shape does not have contradicts it; what it has and lacks may come later."""
        for field in self.unused:
            kinds = end_kinds(cleaned.get("body", ""), field.name) if field.name in SIDES else ()
            message = _("Not used by this shape: clear it, or choose a shape that has it.")
            if len(kinds) > 1:
                labels = [_(self.definitions[field.name].choice_label(kind)) for kind in kinds]
                message = _("This body has no such end; accepted: %(kinds)s.") % {"kinds": "; ".join(labels)}
            if field.name in cleaned:
                self.add_error(field.name, message)

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        self._refuse_unused(cleaned)
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


class MediumSelect(forms.Select):
    """A choice of media that tells the page which kind each is of: some fields concern one kind only."""

    def create_option(self, name: str, value: Any, *args: Any, **kwargs: Any) -> dict[str, Any]:
        option: dict[str, Any] = super().create_option(name, value, *args, **kwargs)
        medium = getattr(value, "instance", None)
        if medium is not None:
            option["attrs"]["data-word"] = medium.kind
        return option


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
    cases = ChildForms(
        data,
        rows=kept,
        blanks=blanks,
        units=plant.units,
        links={"medium": Medium.objects.filter(plant=plant)},
        prefix="case",
    )
    for form in cases:
        field: Any = form.fields["medium"]
        field.widget = MediumSelect(attrs={**field.widget.attrs, "data-worded": ""}, choices=field.choices)
    return cases
