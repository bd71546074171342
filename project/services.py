"""The writing of one row: version compared, references checked, history grouped, dependents told.

Every service that changes a kept row goes through `create_row` or `save_row`.
"""

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from django.core.exceptions import ValidationError
from django.db import DEFAULT_DB_ALIAS, IntegrityError, models, transaction
from django.db.models.deletion import Collector, ProtectedError
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
    of: str = ""  # the child row, where it is one of a child row


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


def _child_conflicts(manager: Any, children: list[Child]) -> Iterator[ConflictingValue]:
    """Both values wherever child rows as typed are not what is kept now."""
    existing = {str(row.uid): row for row in manager.all()}
    defs = {definition.stem: definition for definition in manager.model.field_defs()}
    for child in children:
        row = existing.pop(child.uid, None)
        if row is None or child.removed:
            continue
        for stem, yours in child.changes.items():
            pair = _text(defs[stem], yours), _text(defs[stem], row.value(defs[stem]))
            if pair[0] != pair[1]:
                yield ConflictingValue(defs[stem], *pair, of=str(row))
    first = next(iter(defs.values()))
    for row in existing.values():
        yield ConflictingValue(first, "", _text(first, row.value(first)), of=str(row))


@contextmanager
def telling_of_children(manager: Any, children: list[Child]) -> Iterator[None]:
    """Adds the values of child rows to a StaleEdit of their parent, so that a refusal shows them too."""
    try:
        yield
    except StaleEdit as problem:
        stale, parent = problem.conflict.row, manager.instance
        if type(stale) is not type(parent) or stale.pk != parent.pk:
            raise
        values = (*problem.conflict.values, *_child_conflicts(manager, children))
        raise StaleEdit(replace(problem.conflict, values=values)) from problem


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


class Blocked(Exception):
    """A row that cannot be deleted because others need it; `blockers` lists them."""

    def __init__(self, blockers: list[Any]) -> None:
        self.blockers = blockers
        super().__init__(", ".join(str(one) for one in blockers))


def blockers_of(row: KeptRow) -> list[Any]:
    """The rows that keep a row from being deleted, so that a page can list them before anybody tries."""
    collector = Collector(using=DEFAULT_DB_ALIAS)
    try:
        collector.collect([row])
    except ProtectedError as problem:
        return sorted(problem.protected_objects, key=str)
    return []


def delete_row(actor: Actor, row: KeptRow, expected_version: int) -> None:
    """Delete a row with the rows that are part of it. Its history stays.

    Raises Blocked with what needs it, StaleEdit where somebody saved meanwhile.
    """
    with acting(actor, f"delete {row.entity}", row.owning_plant()):  # type: ignore[attr-defined]
        model = type(row)
        if not model._default_manager.filter(pk=row.pk, version=expected_version).exists():
            raise StaleEdit(_conflict(row, {}))
        try:
            # Told while they are still there to be asked after; what is marked now is looked at when they are gone.
            for one in _with_its_parts(row):
                dependents.tell(one)
            row.delete()
        except ProtectedError as problem:
            raise Blocked(sorted(problem.protected_objects, key=str)) from problem


def _with_its_parts(row: KeptRow) -> list[KeptRow]:
    """The kept rows that go when a row is deleted, so that dependents hear of each. Raises ProtectedError."""
    collector = Collector(using=DEFAULT_DB_ALIAS)
    collector.collect([row])
    return [one for rows in collector.data.values() for one in rows if isinstance(one, KeptRow)]
