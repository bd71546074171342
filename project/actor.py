"""Who acts: every service takes an Actor, and every history record written meanwhile carries its action."""

import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from django.db import transaction

from project.models import Action

if TYPE_CHECKING:
    from project.accounts.models import User
    from vessels.models import Plant

Route = Literal["form", "grid", "import", "api", "command", "task", "demo"]


@dataclass(frozen=True, slots=True)
class Actor:
    """A person acting by a route, perhaps for a reason; `action_id` groups all that one deed writes."""

    user: "User | None"
    route: Route
    reason: str = ""
    action_id: uuid.UUID = field(default_factory=uuid.uuid4)


class NoActor(RuntimeError):
    """A row with history was written outside a service."""


_action: ContextVar[Action | None] = ContextVar("action", default=None)
_at_end: ContextVar[dict[str, Callable[[], None]] | None] = ContextVar("at_end", default=None)


def at_end_of_action(name: str, work: Callable[[], None]) -> None:
    """Do some work once at the end of the action under way, inside its transaction, however often it is asked for."""
    pending = _at_end.get()
    if pending is None:
        raise NoActor(f"{name}: no action is under way")
    pending[name] = work


def current_action() -> Action:
    """The action under way. Raises NoActor outside `acting`, so that no write can bypass the services."""
    action = _action.get()
    if action is None:
        raise NoActor("rows with history are written by services only, inside `acting(actor, …)`")
    return action


@contextmanager
def acting(actor: Actor, what: str, plant: "Plant | None" = None) -> Iterator[Action]:
    """One transaction in which an actor does one thing; history records written inside belong to it.

    Nested use joins the outer action, so that services can call each other.
    """
    outer = _action.get()
    if outer is not None:
        with transaction.atomic():
            yield outer
        return
    with transaction.atomic():
        action, _ = Action.objects.get_or_create(
            uid=actor.action_id,
            defaults={"plant": plant, "user": actor.user, "route": actor.route, "what": what, "reason": actor.reason},
        )
        pending: dict[str, Callable[[], None]] = {}
        token, end_token = _action.set(action), _at_end.set(pending)
        try:
            yield action
            for work in pending.values():
                work()
        finally:
            _action.reset(token)
            _at_end.reset(end_token)
