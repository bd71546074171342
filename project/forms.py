"""Forms made from the field registry: one form class serves every entity."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from crispy_forms.helper import FormHelper
from crispy_forms.layout import Layout
from django import forms
from django.core.exceptions import NON_FIELD_ERRORS, BadRequest, ValidationError
from django.db.models import QuerySet
from django.forms import BoundField
from django.utils.translation import gettext as _

from project.fields import QuantityField
from project.quantities import MISSING, PlantUnits
from project.registry import FieldDef
from project.rows import KeptRow
from project.services import Child, Conflict

MOST_CHILDREN = 100
MOST_IN_A_LINE = 8  # fields of a child row; more of them would not fit a table beside the results
# Choices with longer texts get the whole width of a section, so that what is chosen can be read.
LONGEST_SHORT_CHOICE = 20
LONG_CHOICE = "long-choice"

Links = Mapping[str, "QuerySet[Any]"]


def form_field(definition: FieldDef, units: PlantUnits, links: Links) -> forms.Field:
    """The form field of a registry entry."""
    common: dict[str, Any] = {
        "label": _(definition.label),
        "help_text": _(definition.help) if definition.help else "",
        "required": definition.required,
    }
    if definition.is_quantity:
        return QuantityField(definition, units, **common)
    if definition.kind == "choice":
        choices = [(value, _(label)) for value, label in definition.choices]
        field = forms.ChoiceField(choices=choices if definition.required else [("", "—"), *choices], **common)
        if max(len(label) for _value, label in choices) > LONGEST_SHORT_CHOICE:
            field.widget.attrs["class"] = LONG_CHOICE
        return field
    if definition.kind == "link":
        # An unlisted link offers nothing: a form names what may be chosen, always of its own plant.
        linked = forms.ModelChoiceField(links[definition.stem], to_field_name="uid", empty_label="—", **common)
        linked.widget.attrs["class"] = LONG_CHOICE
        return linked
    if definition.kind == "integer":
        return forms.IntegerField(min_value=0, max_value=1_000_000, **common)
    if definition.kind == "flag":
        return forms.BooleanField(**{**common, "required": False})
    widget = forms.Textarea(attrs={"rows": 3}) if definition.kind == "long_text" else forms.TextInput()
    return forms.CharField(max_length=definition.longest, widget=widget, **common)


class RegistryForm(forms.Form):
    """A form of one row. `stems` chooses and orders fields; by default all of the entity.

    Field names are "entity-stem". `conflict` is set where a save was refused because the row had moved on.
    """

    version = forms.IntegerField(widget=forms.HiddenInput, required=False)

    def __init__(
        self,
        data: Any = None,
        *,
        row: KeptRow,
        units: PlantUnits,
        links: Links | None = None,
        stems: Sequence[str] | None = None,
        prefix: str | None = None,
        initial: Mapping[str, Any] | None = None,
        **kwargs: Any,
    ) -> None:
        self.row = row
        self.conflict: Conflict | None = None
        definitions = {definition.stem: definition for definition in row.field_defs()}
        self.definitions = {stem: definitions[stem] for stem in (stems or definitions)}
        values = {stem: self._initial(row, definition) for stem, definition in self.definitions.items()}
        super().__init__(
            data, prefix=prefix or row.entity, initial={**values, **(initial or {}), "version": row.version}, **kwargs
        )
        for stem, definition in self.definitions.items():
            self.fields[stem] = form_field(definition, units, links or {})
            self.fields[stem].widget.attrs["data-key"] = definition.key
            if definition.concerns:
                self.fields[stem].widget.attrs["data-concerns"] = " ".join(definition.concerns)

    @staticmethod
    def _initial(row: KeptRow, definition: FieldDef) -> Any:
        if definition.kind == "link":
            linked = getattr(row, definition.stem, None) if getattr(row, f"{definition.stem}_id", None) else None
            return linked.uid if linked is not None else None
        value = row.value(definition)
        if row.pk is None and definition.default and value in ("", MISSING):
            return definition.default
        return value

    @property
    def helper(self) -> FormHelper:
        """How the form library draws it: our field template, no form tag of its own."""
        helper = FormHelper()
        helper.form_tag = False
        helper.disable_csrf = True
        helper.field_template = "partials/_field.html"
        helper.layout = Layout("version", *self.shown_fields)
        return helper

    @property
    def shown_fields(self) -> list[str]:
        """Names of the fields to draw, in order."""
        return list(self.definitions)

    def clean_version(self) -> int:
        version = self.cleaned_data.get("version")
        return self.row.version if version is None else version

    @property
    def expected_version(self) -> int:
        return int(self.cleaned_data["version"])

    def changes(self) -> dict[str, Any]:
        """Values by stem, of a valid form."""
        return {
            stem: "" if value is None and definition.kind != "link" else value
            for stem, definition in self.definitions.items()
            for value in (self.cleaned_data[stem],)
        }

    def readable(self) -> tuple[dict[str, Any], dict[str, str]]:
        """For the preview: values by stem that could be read (missing for the rest), and messages by field key."""
        values: dict[str, Any] = {}
        unreadable: dict[str, str] = {}
        for stem, definition in self.definitions.items():
            if stem in self.errors:
                unreadable[definition.key] = str(self.errors[stem][0])
                values[stem] = MISSING if definition.is_quantity else ""
            else:
                values[stem] = self.cleaned_data.get(stem)
        return values, unreadable

    def refuse(self, problem: ValidationError) -> None:
        """Show what a service or a constraint refused, at its field where that is in the form."""
        if not hasattr(problem, "error_dict"):
            self.add_error(None, problem)
            return
        for name, errors in problem.error_dict.items():
            stem = name.removesuffix("_typed").removesuffix("_si")
            self.add_error(stem if stem in self.fields and name != NON_FIELD_ERRORS else None, errors)

    def show_conflict(self, conflict: Conflict) -> None:
        """Keep the typing, show both values, and let the next save be a decision against the newer version."""
        self.conflict = conflict
        data: Any = self.data
        self.data = data.copy()
        self.data[self.add_prefix("version")] = str(conflict.row.version)  # type: ignore[index]


class ChildForm(RegistryForm):
    """A row without a page of its own, in a table of such rows."""

    uid = forms.CharField(widget=forms.HiddenInput, required=False)
    removed = forms.BooleanField(required=False)

    def __init__(self, data: Any = None, *, row: KeptRow, **kwargs: Any) -> None:
        super().__init__(data, row=row, **kwargs)
        self.initial["uid"] = str(row.uid) if row.pk else ""
        self.fields["removed"] = self.fields.pop("removed")  # last, as its column is

    def named(self, number: int) -> str:
        """What a message calls this row: "Setpoint 2 (H)"; by its first field, and the choice made there."""
        stem, definition = next(iter(self.definitions.items()))
        value = str(self[stem].value() or "")
        chosen = _(definition.choice_label(value)) if definition.kind == "choice" else value
        name = f"{_(definition.label)} {number}"
        return f"{name} ({chosen})" if chosen else name

    def lines(self) -> list[list[BoundField]]:
        """The fields after the first, in as many lines of equal length as a table needs to fit the page."""
        fields = [self[stem] for stem in self.definitions][1:]
        number = -(-(len(fields) + 1) // MOST_IN_A_LINE)
        length = -(-len(fields) // number)
        return [fields[start : start + length] for start in range(0, len(fields), length)]

    def first(self) -> BoundField:
        """The field that names the row."""
        return self[next(iter(self.definitions))]

    def is_removed(self) -> bool:
        return bool(self.is_bound and self.data.get(self.add_prefix("removed")))

    def is_blank(self) -> bool:
        """A new row into which nothing was typed (choices alone do not count)."""
        if self.cleaned_data.get("uid"):
            return False
        return not any(
            self.cleaned_data.get(stem) not in (None, "", MISSING)
            for stem, definition in self.definitions.items()
            if definition.kind != "choice"
        )


@dataclass(frozen=True, slots=True)
class FieldRow:
    """One field of all the child forms, for a table with a column for each row."""

    label: str
    unit: str
    cells: list[BoundField]


class ChildForms:
    """The rows of a parent: the kept ones and some blank ones, read back as `Child` records."""

    def __init__(
        self,
        data: Any,
        *,
        rows: Sequence[KeptRow],
        blanks: Sequence[KeptRow],
        units: PlantUnits,
        links: Links | None = None,
        stems: Sequence[str] | None = None,
        prefix: str,
    ) -> None:
        self.prefix = prefix
        by_uid = {str(row.uid): row for row in rows}
        self.forms: list[ChildForm] = []
        shown: list[KeptRow] = [*rows, *blanks]
        if data is not None:
            # The page's own rows, in its order: a row that somebody removed meanwhile comes back as a new one.
            count = self._count(data)
            shown = [by_uid.get(data.get(f"{prefix}-{number}-uid", "")) or type(blanks[0])() for number in range(count)]
        for number, row in enumerate(shown):
            self.forms.append(
                ChildForm(data, row=row, units=units, links=links, stems=stems, prefix=f"{prefix}-{number}")
            )

    def _count(self, data: Any) -> int:
        text = str(data.get(f"{self.prefix}-count", "0"))
        if not (text.isascii() and text.isdecimal()) or int(text) > MOST_CHILDREN:
            raise BadRequest(_("A table of rows takes at most %(most)s rows.") % {"most": MOST_CHILDREN})
        return int(text)

    def __iter__(self) -> Any:
        return iter(self.forms)

    def __len__(self) -> int:
        return len(self.forms)

    def by_field(self, chosen: Collection[str]) -> tuple[list[FieldRow], list[FieldRow]]:
        """The forms turned: a row for each field. Second, the rows to fold away: empty, and about nothing chosen."""
        shown: list[FieldRow] = []
        folded: list[FieldRow] = []
        definitions = self.forms[0].definitions if self.forms else {}
        for stem, definition in definitions.items():
            cells = [form[stem] for form in self.forms]
            row = FieldRow(str(cells[0].label), getattr(cells[0].field, "unit", ""), cells)
            used = any(cell.errors or str(cell.value() or "").strip() for cell in cells)
            (shown if used or definition.is_about(chosen) else folded).append(row)
        return shown, folded

    def is_valid(self) -> bool:
        return all([form.is_valid() for form in self.forms if not form.is_removed()])

    def children(self) -> list[Child]:
        """What to keep, change and remove, of valid forms."""
        children = []
        for form in self.forms:
            uid = str(form.data.get(form.add_prefix("uid"), ""))
            if form.is_removed():
                children.append(Child(uid, {}, removed=True))
            elif not form.is_blank():
                children.append(Child(uid if form.row.pk else "", form.changes()))
        return children
