"""Forms of a plant's own sensor classes: copying one from the library, and editing its values."""

from dataclasses import replace
from typing import Any

from crispy_forms.helper import FormHelper
from django import forms
from django.forms import BoundField
from django.utils.translation import gettext as _

from instruments.models import SensorClassRow
from instruments.sensor_class_fields import LIST_STEMS
from instruments.services.sensor_classes import ClassEdit
from project.forms import RegistryForm, form_field
from project.quantities import Quantity
from project.registry import GROUPS, REGISTRY
from vessels.models import Plant

ORIGIN = "from_"  # before the stem: the field that says where its value comes from
LONGEST_ORIGIN = 300
LONGEST_LIST = 600


def _name_field() -> forms.CharField:
    help_text = _("What a person calls it. No maker's name is needed: the certificate says which device it is.")
    return forms.CharField(max_length=120, label=_("Name"), help_text=help_text)


class CopyClassForm(RegistryForm):
    """Which class to copy, and key and name of the copy."""

    def __init__(self, data: Any = None, *, plant: Plant, source: SensorClassRow | None = None, **kwargs: Any) -> None:
        super().__init__(data, row=SensorClassRow(data=_NOTHING), units=plant.units, stems=["technology"], **kwargs)
        self.definitions = {}
        del self.fields["technology"]
        classes = SensorClassRow.objects.for_plant(plant).order_by("name", "pk")
        self.fields["source"] = forms.ModelChoiceField(
            classes, to_field_name="uid", empty_label=None, label=_("Copy of"), initial=source.uid if source else None
        )
        self.fields["name"] = _name_field()
        self.fields["key"] = forms.RegexField(
            r"^[a-z0-9_]+$",
            max_length=60,
            label=_("Key"),
            help_text=_("Short and stable, for files and lists: small letters, digits and “_”."),
            error_messages={"invalid": _("Accepted are small letters a to z, digits and “_”: “acid_radar”.")},
        )
        if source is not None:
            self.fields["name"].initial = _("%(name)s (own)") % {"name": source.name}
            self.fields["key"].initial = f"{source.key}_own"[:60]

    @property
    def shown_fields(self) -> list[str]:
        return ["source", "name", "key"]


_NOTHING = {"key": "", "edition": 1, "name": "", "confirmed": False, "values": {}}


class SensorClassForm(RegistryForm):
    """All values of a plant's class, each with where it comes from, and the certificate that confirms them."""

    def __init__(self, data: Any = None, *, row: SensorClassRow, plant: Plant, **kwargs: Any) -> None:
        stems = [one.stem for one in REGISTRY.of("sensor_class") if one.stem != "technology"]
        super().__init__(data, row=row, units=plant.units, stems=stems, **kwargs)
        sensor_class = row.sensor_class()
        for stem, definition in self.definitions.items():
            if stem in LIST_STEMS:
                self.fields[stem] = self._list_field(stem)
            if definition.kind == "pressure":
                self.fields[stem] = form_field(replace(definition, kind="pressure_absolute"), plant.units, {})
            self.fields[f"{ORIGIN}{stem}"] = forms.CharField(
                required=False,
                max_length=LONGEST_ORIGIN,
                label=_("%(label)s: where it comes from") % {"label": _(definition.label)},
                initial=sensor_class.provenance(stem),
            )
        self.fields["name"] = _name_field()
        self.fields["name"].initial = row.name
        self.fields["certificate"] = forms.CharField(
            required=False,
            max_length=120,
            label=_("Certificate"),
            help_text=_("Reference of the certificate of the device to be bought. A value that you change gets it."),
            initial=row.certificate,
        )
        self.fields["confirmed"] = forms.BooleanField(
            required=False,
            label=_("Confirmed from the certificate"),
            help_text=_("Every value was compared with it. Findings then no longer count as provisional."),
            initial=sensor_class.confirmed,
        )

    def _list_field(self, stem: str) -> forms.Field:
        definition = self.definitions[stem]
        common: dict[str, Any] = {"label": _(definition.label), "required": definition.required}
        items = list(self.row.sensor_class().items(stem))  # type: ignore[attr-defined]
        if definition.choices:
            self.initial[stem] = items
            choices = [(value, _(label)) for value, label in definition.choices]
            return forms.MultipleChoiceField(choices=choices, widget=forms.CheckboxSelectMultiple(), **common)
        return forms.CharField(max_length=LONGEST_LIST, help_text=_("Several are parted by “;”."), **common)

    @property
    def helper(self) -> FormHelper:
        """As for every form, but without scripts and styles of widgets: the field "media" would be taken for them."""
        helper = super().helper
        helper.include_media = False
        return helper

    @property
    def shown_fields(self) -> list[str]:
        return ["name", "certificate", "confirmed"]

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        for stem, definition in self.definitions.items():
            value = cleaned.get(stem)
            if definition.kind == "pressure" and isinstance(value, Quantity) and value.typed.endswith("(g)"):
                self.add_error(
                    stem,
                    _("“%(typed)s” is gauge: write it absolute, for example 17 bar(a); a class knows no atmosphere.")
                    % {"typed": value.typed},
                )
        return cleaned

    def changes(self) -> dict[str, Any]:
        values = super().changes()
        for stem in LIST_STEMS:
            items = values[stem] if isinstance(values[stem], list) else str(values[stem]).split(";")
            values[stem] = "; ".join(dict.fromkeys(item.strip() for item in items if item.strip()))
        return values

    def edit(self) -> ClassEdit:
        """What to save, of a valid form."""
        cleaned = self.cleaned_data
        return ClassEdit(
            version=self.expected_version,
            name=cleaned["name"],
            values=self.changes(),
            origins={stem: cleaned[f"{ORIGIN}{stem}"] for stem in self.definitions},
            certificate=cleaned["certificate"],
            confirmed=cleaned["confirmed"],
        )

    def _is_stated(self, stem: str) -> bool:
        """True where the class states the property, or where something was typed for it."""
        return any(self[name].errors or self[name].value() for name in (stem, f"{ORIGIN}{stem}"))

    def groups(self) -> list[tuple[str, list[tuple[BoundField, BoundField]]]]:
        """Each value that is stated with its origin, by group of the datasheet."""
        groups = []
        for key, label in GROUPS:
            stems = [stem for stem, one in self.definitions.items() if one.group == key and self._is_stated(stem)]
            if stems:
                groups.append((_(label), [(self[stem], self[f"{ORIGIN}{stem}"]) for stem in stems]))
        return groups

    def unstated(self) -> list[tuple[BoundField, BoundField]]:
        """The properties that the class does not state, to be folded away."""
        return [(self[stem], self[f"{ORIGIN}{stem}"]) for stem in self.definitions if not self._is_stated(stem)]
