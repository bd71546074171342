"""Copying kept rows: everything carried but identity, version and what the copy has to have of its own."""

from typing import Any, TypeVar

from project.actor import Actor
from project.rows import KeptRow
from project.services import create_row

Kept = TypeVar("Kept", bound=KeptRow)
OWN = {"id", "uid", "version"}


def copy_row(actor: Actor, source: Kept, **different: Any) -> Kept:
    """A new row with the source's columns and details, except `different`. Call inside `acting`."""
    model = type(source)
    values = {
        field.attname: getattr(source, field.attname)
        for field in model._meta.concrete_fields
        if field.name not in OWN and field.name not in different
    }
    values["details"] = dict(source.details)
    copy = model(**values)
    for name, value in different.items():
        setattr(copy, name, value)
    create_row(actor, copy, {})
    return copy
