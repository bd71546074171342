"""A vessel as it stands in a form, unsaved: what the preview draws, computes and compares."""

import copy
from collections.abc import Iterable
from typing import Any

from project.dependents import Draft
from project.forms import ChildForms, RegistryForm
from project.quantities import MISSING
from project.rows import KeptRow
from vessels.forms.vessel import VesselForm
from vessels.models import Internal, OperatingCase, Vessel


def draft_of(vessel: Vessel, form: VesselForm, cases: ChildForms, internals: ChildForms) -> Draft:
    """What the forms hold, laid over copies of the saved rows; what cannot be read is missing. Writes nothing.

    What the chosen shape does not use counts as cleared, which it has to be before the vessel can be saved: the preview
    shows the vessel that will be, not a contradiction.
    """
    form.is_valid()
    unreadable: dict[str, str] = {}
    changed = _laid_over(vessel, form, unreadable)
    for field in form.unused:
        definition = form.definitions[field.name]
        unreadable.pop(definition.key, None)
        changed.assign(definition, MISSING if definition.is_quantity else definition.default)
    parts = {
        "operating_cases": list(_rows(cases, OperatingCase, changed, unreadable)),
        "internals": list(_rows(internals, Internal, changed, unreadable)),
    }
    return Draft(changed, parts, unreadable)


def _rows(forms: ChildForms, model: type[KeptRow], vessel: Any, unreadable: dict[str, str]) -> Iterable[KeptRow]:
    """The rows as typed, without removed and blank ones."""
    for form in forms:
        if form.is_removed():
            continue
        form.is_valid()
        if not form.errors and form.is_blank():
            continue
        row = form.row if isinstance(form.row, model) else model()
        changed = _laid_over(row, form, unreadable)
        changed.vessel = vessel
        yield changed


def _laid_over(row: Any, form: RegistryForm, unreadable: dict[str, str]) -> Any:
    """A copy of a row with the form's values, and the messages of those that cannot be read."""
    changed = copy.copy(row)
    changed._state = copy.copy(row._state)
    changed._state.fields_cache = dict(row._state.fields_cache)
    changed.details = dict(row.details)
    values, messages = form.readable()
    unreadable |= messages
    for stem, definition in form.definitions.items():
        value = values.get(stem)
        if definition.kind == "link":
            if value not in ("", None):
                setattr(changed, stem, value)
            elif stem in values and definition.key not in messages:
                setattr(changed, f"{stem}_id", None)
            continue
        empty = MISSING if definition.is_quantity else ""
        changed.assign(definition, empty if value is None else value)
    return changed
