"""What keeps a row from being deleted, for a reader: the rows that have a page, what they are, and by which part."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from django.db import models
from django.urls import NoReverseMatch, reverse
from django.utils.translation import gettext as _

from project.registry import gettext_noop
from project.rows import KeptRow

KINDS = {
    "plant": gettext_noop("Plant"),
    "unit": gettext_noop("Unit"),
    "medium": gettext_noop("Medium"),
    "vessel": gettext_noop("Vessel"),
    "case": gettext_noop("operating case"),
    "nozzle": gettext_noop("nozzle"),
    "tag": gettext_noop("Tag"),
    "measurement": gettext_noop("Level measurement"),
    "sensor_class": gettext_noop("Sensor class"),
    "document": gettext_noop("Document"),
    "attachment": gettext_noop("Attachment"),
}


@dataclass(slots=True)
class ShownBlocker:
    """A row that needs the one to be deleted: its kind, name and page ('' without one), and the parts that need it."""

    kind: str
    name: str
    address: str
    parts: list[str] = field(default_factory=list)


def _kind(row: Any) -> str:
    entity = getattr(row, "entity", "")
    return _(KINDS[entity]) if entity in KINDS else entity


def _address(row: Any) -> str:
    try:
        return reverse(f"{row.entity}_view", args=[row.uid])
    except NoReverseMatch:
        return ""


def _targets(row: models.Model, on_delete: Any) -> Iterator[Any]:
    """The rows that a row points at, by what would happen to it if they were deleted."""
    for column in row._meta.concrete_fields:
        if not isinstance(column, models.ForeignKey) or column.name == "plant":
            continue
        if column.remote_field.on_delete is on_delete:
            target = getattr(row, column.name)
            if isinstance(target, KeptRow):
                yield target


def _part(part: Any, deleted: KeptRow) -> str:
    """What a row without a page needs, or where it has values of its own, what it is."""
    if part.field_defs():
        return f"{_kind(part)} {part}"
    needed = [target for target in _targets(part, models.PROTECT) if target != deleted]
    return ", ".join(f"{_kind(target)} {target}" for target in needed)


def shown_blockers(deleted: KeptRow, blockers: Sequence[Any]) -> list[ShownBlocker]:
    """Blockers by the rows that have pages: a connection or operating case shows as the row that it is part of."""
    shown: dict[Any, ShownBlocker] = {}
    for blocker in blockers:
        owner, parts = blocker, []
        while not (address := _address(owner)) and (above := next(_targets(owner, models.CASCADE), None)) is not None:
            if part := _part(owner, deleted):
                parts.append(part)
            owner = above
        one = shown.setdefault((type(owner), owner.pk), ShownBlocker(_kind(owner), str(owner), address))
        one.parts.extend(part for part in parts if part not in one.parts)
    return sorted(shown.values(), key=lambda one: (one.kind, one.name))
