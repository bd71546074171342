"""What pages have in common: running a service on a form's behalf, and values grouped for reading."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from project.actor import Actor
from project.forms import RegistryForm
from project.quantities import PlantUnits, Quantity
from project.registry import FieldDef
from project.rows import KeptRow
from project.services import StaleEdit


def form_actor(request: HttpRequest) -> Actor:
    """The person who sends a form."""
    return Actor(request.user, "form")  # type: ignore[arg-type]


def form_data(request: HttpRequest) -> Any:
    """What was posted, even if it is nothing; None for a page that is only looked at."""
    return request.POST if request.method == "POST" else None


@dataclass(frozen=True, slots=True)
class Saved:
    """A service went through; `result` is what it returned."""

    result: Any


def submitted(save: Callable[[], Any], *forms: RegistryForm) -> Saved | None:
    """Run a service for forms that are valid. None, with the refusal shown on the right form, where it refused."""
    try:
        return Saved(save())
    except ValidationError as problem:
        _form_of(problem, forms).refuse(problem)
    except StaleEdit as problem:
        stale = problem.conflict.row
        owner = next((form for form in forms if form.row.pk == stale.pk and type(form.row) is type(stale)), forms[0])
        owner.show_conflict(problem.conflict)
    return None


def edit_page(
    request: HttpRequest,
    form: RegistryForm,
    save: Callable[[], Any],
    template: str,
    context: dict[str, Any],
    done: Callable[[Any], str],
    *,
    also_valid: Callable[[], bool] = lambda: True,
) -> HttpResponse:
    """Show a form, or save it and go on to `done(result)`. Refusals keep the typing (422, or 409 where stale)."""
    # Both are asked, so that all errors of a page show at once.
    if request.method == "POST" and all([form.is_valid(), also_valid()]) and (saved := submitted(save, form)):
        messages.success(request, _("Saved."))
        return redirect(done(saved.result))
    status = 200 if request.method != "POST" else (409 if form.conflict else 422)
    return render(request, template, {"form": form, **context}, status=status)


def _form_of(problem: ValidationError, forms: Sequence[RegistryForm]) -> RegistryForm:
    """The form that has the fields a refusal speaks of; the first where none has."""
    names = set(getattr(problem, "error_dict", {}))
    stems = {name.removesuffix("_typed").removesuffix("_si") for name in names}
    return next((form for form in forms if stems & set(form.fields)), forms[0])


@dataclass(frozen=True, slots=True)
class ShownValue:
    """One field for reading."""

    label: str
    text: str
    key: str


def shown_value(row: KeptRow, definition: FieldDef, units: PlantUnits) -> str:
    """The value of a field for a reader, in the plant's units; '' where it is missing."""
    value = row.value(definition)
    if isinstance(value, Quantity):
        return str(units.shown(value, definition.kind))
    if definition.kind == "choice":
        return _(definition.choice_label(value)) if value else ""
    return "" if value is None else str(value)


def shown_values(row: KeptRow, units: PlantUnits, skip: Sequence[str] = ()) -> list[ShownValue]:
    """All fields of a row for reading, in the registry's order."""
    return [
        ShownValue(_(definition.label), shown_value(row, definition, units), definition.key)
        for definition in row.field_defs()
        if definition.stem not in skip
    ]
