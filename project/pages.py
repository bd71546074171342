"""What pages have in common: running a service on a form's behalf, and values grouped for reading."""

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from project.actor import Actor
from project.blockers import shown_blockers
from project.forms import RegistryForm
from project.problems import problems_of
from project.quantities import PlantUnits, Quantity
from project.registry import GROUPS, REGISTRY, FieldDef
from project.rows import KeptRow
from project.services import Blocked, StaleEdit, blockers_of, delete_row


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
    context: dict[str, Any] | Callable[[], dict[str, Any]],
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
    # Made after the checks, so that what is drawn knows of the errors.
    drawn = {"form": form, **(context() if callable(context) else context)}
    # Every form and table of rows that the page draws counts, so that no page can forget one.
    problems = problems_of(drawn.values()) if request.method == "POST" else []
    return render(request, template, {"problems": problems, **drawn}, status=status)


def delete_page(request: HttpRequest, row: KeptRow, context: dict[str, Any], back: str, done: str) -> HttpResponse:
    """Ask before deleting, listing what prevents it; delete on POST and go on to `done`. `back` leads away."""
    blockers = blockers_of(row)
    refused = ""
    if request.method == "POST" and not blockers:
        text = request.POST.get("version", "")
        try:
            delete_row(form_actor(request), row, int(text) if text.isdecimal() else 0)
        except StaleEdit as problem:
            who = problem.conflict.saved_by
            refused = _("%(who)s saved this meanwhile. Look at it again before deleting it.") % {"who": who}
        except Blocked as problem:
            blockers = problem.blockers
        else:
            messages.success(request, _("Deleted: %(row)s.") % {"row": row})
            return redirect(done)
    status = 409 if request.method == "POST" else 200
    context = {"row": row, "blockers": shown_blockers(row, blockers), "refused": refused, "back": back, **context}
    return render(request, "partials/delete_page.html", context, status=status)


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


def shown_values(
    row: KeptRow,
    units: PlantUnits,
    skip: Sequence[str] = (),
    *,
    filled: bool = False,
    chosen: Collection[str] | None = None,
) -> list[ShownValue]:
    """Fields of a row for reading, in the registry's order. `filled` leaves out what is empty; `chosen` leaves out
    empty fields that concern nothing of it."""
    values = []
    for definition in row.field_defs():
        if definition.stem in skip:
            continue
        text = shown_value(row, definition, units)
        kept = row.value(definition)
        raw = kept.typed if isinstance(kept, Quantity) else str(kept or "")
        if (filled and not text) or (chosen is not None and definition.says_nothing(raw, chosen)):
            continue
        values.append(ShownValue(_(definition.label), text, definition.key))
    return values


def shown_groups(
    rows: Sequence[KeptRow], units: PlantUnits, skip: Sequence[str] = ()
) -> list[tuple[str, list[ShownValue]]]:
    """What is filled in the rows, by group of the datasheet in printing order."""
    groups: dict[str, list[ShownValue]] = {key: [] for key, _label in GROUPS}
    for row in rows:
        for value in shown_values(row, units, skip, filled=True):
            groups[REGISTRY[value.key].group].append(value)
    return [(_(label), groups[key]) for key, label in GROUPS if groups[key]]
