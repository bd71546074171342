"""Recomputing SI columns from what was typed: after a change of atmosphere, or of the conversion itself."""

from collections.abc import Iterator
from typing import Any

from django.apps import apps
from simple_history.utils import bulk_update_with_history

from project import dependents
from project.actor import current_action
from project.rows import PlantRow


def kept_models() -> Iterator[type[PlantRow]]:
    """Every model of plant rows that has quantities in the registry."""
    for model in apps.get_models():
        if issubclass(model, PlantRow) and any(definition.is_quantity for definition in model.field_defs()):
            yield model


def recompute_si(plant: Any) -> int:
    """Recompute every SI value of a plant from its typed text. Returns how many rows changed. Call inside `acting`.

    Typed texts are never touched. Rows get a new version and a record in the history.
    """
    current_action()  # raises outside a service, before anything is read
    changed_rows = 0
    for model in kept_models():
        changed = []
        columns: set[str] = set()
        for row in model._default_manager.filter(plant=plant).iterator(chunk_size=500):
            touched = False
            for definition in model.field_defs():
                if not definition.is_quantity:
                    continue
                kept = row.value(definition)
                fresh = plant.units.parse(kept.typed, definition.kind)
                if fresh.si == kept.si:
                    continue
                row.assign(definition, type(kept)(kept.typed, fresh.si))
                columns.add("details" if definition.stored == "details" else f"{definition.stem}_si")
                touched = True
            if touched:
                row.version += 1
                changed.append(row)
        if changed:
            bulk_update_with_history(changed, model, [*sorted(columns), "version"], batch_size=500)
            for row in changed:
                dependents.tell(row)
        changed_rows += len(changed)
    return changed_rows
