"""The writing of one row: version compared, references checked, history grouped, dependents told.

Every service that changes a kept row goes through `create_row` or `save_row`.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.core.exceptions import ValidationError
from django.db import IntegrityError, models, transaction
from django.utils.translation import gettext as _

from project import dependents
from project.actor import Actor, acting
from project.quantities import Quantity
from project.registry import REGISTRY, FieldDef
from project.rows import KeptRow

Changes = Mapping[str, Any]  # stem -> value


@dataclass(frozen=True, slots=True)
class ConflictingValue:
    """One field whose saved value is not what the refused edit would write."""

    field: FieldDef
    yours: str
    theirs: str


@dataclass(frozen=True, slots=True)
class Conflict:
    """A row that somebody else saved meanwhile."""

    row: KeptRow
    saved_by: str
    saved_at: datetime | None
    values: tuple[ConflictingValue, ...]


class StaleEdit(Exception):
    """The edit started from a version that is no longer the current one; nothing was written."""

    def __init__(self, conflict: Conflict) -> None:
        self.conflict = conflict
        super().__init__(f"{conflict.row} was saved by {conflict.saved_by}")


class OtherPlant(ValueError):
    """A reference to a row of another plant."""


def _text(definition: FieldDef, value: Any) -> str:
    if isinstance(value, Quantity):
        return value.typed
    if definition.kind == "choice":
        return definition.choice_label(str(value or ""))
    return "" if value is None else str(value)


def _conflict(row: KeptRow, changes: Changes) -> Conflict:
    model = type(row)
    current = model._default_manager.get(pk=row.pk)
    last = current.history.select_related("history_action__user").first()
    user = last.history_action.user if last is not None and last.history_action is not None else None
    values = []
    for stem, yours in changes.items():
        definition = REGISTRY[f"{row.entity}.{stem}"]
        pair = _text(definition, yours), _text(definition, current.value(definition))
        if pair[0] != pair[1]:
            values.append(ConflictingValue(definition, *pair))
    return Conflict(
        row=current,
        saved_by=user.shown_name() if user else _("somebody"),
        saved_at=last.history_date if last else None,
        values=tuple(values),
    )


def _refuse_other_plant(row: KeptRow) -> None:
    """References must stay inside the plant: a guessed id of another plant never gets in."""
    plant_id = getattr(row, "plant_id", None)
    for field in row._meta.concrete_fields:
        if not isinstance(field, models.ForeignKey) or field.name == "plant":
            continue
        if not getattr(row, field.attname):
            continue
        target = getattr(row, field.name)
        target_plant = getattr(target, "plant_id", plant_id)
        if target_plant is not None and target_plant != plant_id:
            raise OtherPlant(f"{field.name} {target.pk} belongs to another plant")


def _write(row: KeptRow) -> None:
    _refuse_other_plant(row)
    row.full_clean()
    try:
        with transaction.atomic():
            row.save()
    except IntegrityError as problem:
        # The checks above ran a moment ago, so that only a simultaneous save gets here.
        raise ValidationError(
            _("Somebody saved the same number or name at the same moment. Look at the list and try again.")
        ) from problem
    dependents.tell(row)


def create_row(actor: Actor, row: KeptRow, changes: Changes) -> KeptRow:
    """Write a new row. Raises ValidationError (Django's) for what the model or a constraint refuses."""
    with acting(actor, f"create {row.entity}", getattr(row, "plant", None)):
        for stem, value in changes.items():
            row.assign(REGISTRY[f"{row.entity}.{stem}"], value)
        _write(row)
    return row


def save_row(actor: Actor, row: KeptRow, expected_version: int, changes: Changes, *, touch: bool = False) -> bool:
    """Write changed fields of a row, if it is still at the expected version. True if anything was written.

    `touch` writes (and counts the version) even without changed fields, for rows whose children changed.
    Raises StaleEdit with both values where somebody saved meanwhile, ValidationError for what is refused.
    """
    model = type(row)
    with acting(actor, f"change {row.entity}", row.owning_plant()):  # type: ignore[attr-defined]
        changed = {
            stem: value for stem, value in changes.items() if row.value(REGISTRY[f"{row.entity}.{stem}"]) != value
        }
        current = model._default_manager.filter(pk=row.pk, version=expected_version)
        if not changed and not touch:
            if not current.exists() and _conflict(row, changes).values:
                raise StaleEdit(_conflict(row, changes))
            return False
        if current.update(version=expected_version + 1) != 1:
            raise StaleEdit(_conflict(row, changes))
        row.version = expected_version + 1
        for stem, value in changed.items():
            row.assign(REGISTRY[f"{row.entity}.{stem}"], value)
        _write(row)
    return True


@dataclass(frozen=True, slots=True)
class Child:
    """A row without a page of its own as a form gives it: its uid ('' for a new one), its values, or its removal."""

    uid: str
    changes: Changes
    removed: bool = False


def children_differ(manager: Any, children: list[Child]) -> bool:
    """True if the given child rows are not what is kept now."""
    existing = {str(row.uid): row for row in manager.all()}
    kept = [child for child in children if not child.removed]
    if [child.uid for child in kept] != [uid for uid in existing]:
        return True
    defs = {definition.stem: definition for definition in manager.model.field_defs()}
    return any(
        existing[child.uid].value(defs[stem]) != value for child in kept for stem, value in child.changes.items()
    )


def save_children(manager: Any, parent_field: str, parent: Any, children: list[Child]) -> bool:
    """Create, change and delete the child rows of a parent. True if anything was written. Call inside `acting`.

    Versions are the parent's business: the caller counts it up when this returns True.
    """
    existing = {str(child.uid): child for child in manager.all()}
    written = False
    # Deletions first, so that a name that moves to another row does not collide on its way.
    for child in children:
        if child.removed and child.uid in existing:
            existing.pop(child.uid).delete()
            written = True
    for position, child in enumerate(child for child in children if not child.removed):
        row = existing.get(child.uid)
        if row is None:
            row = manager.model(**{parent_field: parent, "plant": parent.plant})
            changed = dict(child.changes)
        else:
            changed = {
                stem: value
                for stem, value in child.changes.items()
                if row.value(REGISTRY[f"{row.entity}.{stem}"]) != value
            }
        if not changed and row.pk and row.position == position:
            continue
        row.position = position
        if row.pk:
            row.version += 1
        for stem, value in changed.items():
            row.assign(REGISTRY[f"{row.entity}.{stem}"], value)
        _write(row)
        written = True
    return written
