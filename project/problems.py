"""The summary of a refused save: every faulty field of a page with its label, its message and the way to it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from django import forms
from django.forms import BoundField

from project.forms import ChildForms, RegistryForm


@dataclass(frozen=True, slots=True)
class Problem:
    """One faulty field. `anchor` is the id of its input, '' for what concerns a form as a whole."""

    label: str
    message: str
    anchor: str = ""


def field_problems(field: BoundField, about: str = "") -> Iterator[Problem]:
    """The problems of one field. `about` names the row that it is part of, where the page shows several."""
    label = f"{about}: {field.label}" if about else str(field.label)
    for message in field.errors:
        yield Problem(label, str(message), str(field.auto_id))


def whole_problems(form: forms.BaseForm) -> Iterator[Problem]:
    """What a form says of itself as a whole."""
    for message in form.non_field_errors():
        yield Problem("", str(message))


def form_problems(form: forms.BaseForm, about: str = "") -> Iterator[Problem]:
    """All problems of a form, in the order of its fields."""
    yield from whole_problems(form)
    for field in form:
        yield from field_problems(field, about)


def child_problems(children: ChildForms) -> Iterator[Problem]:
    """All problems of the rows of a table; a row that goes away with this save has none."""
    for number, form in enumerate(children, start=1):
        if not form.is_removed():
            yield from form_problems(form, form.named(number))


def error_slots(forms_drawn: Iterable[RegistryForm], *, labelled: bool = False) -> list[tuple[str, list[str]]]:
    """The error slot of every field, for a preview to fill: its id and its messages.

    `labelled` names the field in each message, for rows of a table, whose slots stand together below the row.
    """
    return [
        (
            f"error-{form[stem].auto_id}",
            [f"{form[stem].label}: {message}" if labelled else str(message) for message in form.errors.get(stem, [])],
        )
        for form in forms_drawn
        for stem in form.definitions
    ]


def problems_of(sources: Iterable[Any]) -> list[Problem]:
    """The problems of all forms and tables of rows among the sources, each once."""
    found: list[Problem] = []
    for source in sources:
        if isinstance(source, ChildForms):
            found.extend(child_problems(source))
        elif isinstance(source, forms.BaseForm):
            found.extend(form_problems(source))
    return list(dict.fromkeys(found))
