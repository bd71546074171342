"""The two columns of a stored quantity, and the form field that reads one."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext as _

from project.quantities import LONGEST_TEXT, MISSING, PlantUnits, Quantity, UnreadableQuantity
from project.registry import FieldDef


class TypedColumn(models.CharField):
    """What a person typed, unit always explicit; '' is missing."""

    def __init__(self, **kwargs: Any) -> None:
        # A bare number gets its unit appended, hence a little more room than the form allows.
        super().__init__(**{"max_length": LONGEST_TEXT + 16, "blank": True, "default": "", **kwargs})

    def deconstruct(self) -> Any:
        name, _path, _args, kwargs = super().deconstruct()
        return name, "django.db.models.CharField", [], kwargs


class SiColumn(models.FloatField):
    """The same quantity in SI (pressures in Pa absolute); null is missing."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**{"null": True, "blank": True, **kwargs})

    def deconstruct(self) -> Any:
        name, _path, _args, kwargs = super().deconstruct()
        return name, "django.db.models.FloatField", [], kwargs


def both_or_neither(table: str, *stems: str) -> list[models.CheckConstraint]:
    """Check constraints: a quantity has both its columns filled or neither."""
    return [
        models.CheckConstraint(
            name=f"{table}_{stem}_both",
            condition=Q(**{f"{stem}_typed": "", f"{stem}_si__isnull": True})
            | (~Q(**{f"{stem}_typed": ""}) & Q(**{f"{stem}_si__isnull": False})),
        )
        for stem in stems
    ]


def refuse_sign(definition: FieldDef, quantity: Quantity) -> None:
    """Raise UnreadableQuantity where a quantity has a sign that the field does not take."""
    if quantity.si is None:
        return
    if definition.sign == "positive" and quantity.si <= 0:
        raise UnreadableQuantity("“%(typed)s”: this has to be more than zero.", typed=quantity.typed)
    if definition.sign == "not_negative" and quantity.si < 0:
        raise UnreadableQuantity(
            "“%(typed)s”: this cannot be negative; zero or more is accepted.", typed=quantity.typed
        )


def refuse_beyond(definition: FieldDef, units: PlantUnits, quantity: Quantity) -> None:
    """Raise UnreadableQuantity where a quantity lies beyond the field's limits."""
    lowest, highest = (units.parse(limit, definition.kind).si for limit in (definition.lowest, definition.highest))
    if quantity.si is None:
        return
    # A limit typed in another unit is the limit itself but for rounding noise.
    noise = 1e-12 * abs(quantity.si)
    if lowest is not None and quantity.si < lowest - noise:
        raise UnreadableQuantity(
            "“%(typed)s”: this is too low; accepted is %(lowest)s or more.",
            typed=quantity.typed, lowest=definition.lowest,
        )  # fmt: skip
    if highest is not None and quantity.si > highest + noise:
        raise UnreadableQuantity(
            "“%(typed)s”: this is too much; accepted is %(highest)s or less.",
            typed=quantity.typed, highest=definition.highest,
        )  # fmt: skip


def read_quantity(definition: FieldDef, units: PlantUnits, text: str) -> Quantity:
    """A text as the quantity of a field, with the field's sign and limits. Raises UnreadableQuantity."""
    quantity = units.parse(text, definition.kind)
    refuse_sign(definition, quantity)
    refuse_beyond(definition, units, quantity)
    return quantity


class QuantityField(forms.CharField):
    """A quantity typed as text. Cleans to a `Quantity`; a bare number takes `unit`, which the page shows."""

    def __init__(self, definition: FieldDef, units: PlantUnits, **kwargs: Any) -> None:
        self.definition = definition
        self.units = units
        self.unit = units.unit(definition.kind)
        super().__init__(**kwargs)
        self.widget.attrs |= {
            # No autocomplete="off": a browser would not bring this field back with the others when somebody goes back.
            "class": "quantity",
            "spellcheck": "false",
            "maxlength": str(LONGEST_TEXT),
        }

    def clean(self, value: Any) -> Any:
        text = super().clean(value)
        if not text:
            return MISSING
        try:
            return read_quantity(self.definition, self.units, text)
        except UnreadableQuantity as problem:
            raise ValidationError(_(problem.template) % problem.params, code="unreadable") from problem

    def prepare_value(self, value: Any) -> Any:
        """A kept quantity comes back as typed, less the unit that the field shows beside it; typing stays as it is."""
        if not isinstance(value, Quantity):
            return value
        suffix = f" {self.unit}"
        return value.typed.removesuffix(suffix) if self.unit else value.typed
