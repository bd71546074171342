"""How views ask for permission: `@allowed("vessel.change", Vessel)` fetches the row and checks the table.

A row of a plant that the person is no member of answers 404, so that guessing tells nothing; a row that is visible
but not permitted answers 403 and says which roles may.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse

from project.accounts.models import Membership, Role, User
from project.accounts.permissions import ANYBODY_LOGGED_IN, CREATE_PLANT, may


class RoleMissing(PermissionDenied):
    """None of the person's roles holds the permission."""

    def __init__(self, permission: str) -> None:
        self.permission = permission
        super().__init__(permission)


def roles_in(user: User, plant: Any) -> frozenset[Role]:
    """The roles of a person in a plant; empty for a stranger."""
    return frozenset(
        Role(role) for role in Membership.objects.filter(user=user, plant=plant).values_list("role", flat=True)
    )


def require(user: User, plant: Any, permission: str) -> None:
    """Raise RoleMissing where a person may not. For checks beyond a view's own permission."""
    if not may(roles_in(user, plant), permission):
        raise RoleMissing(permission)


def allowed(permission: str, model: type | None = None) -> Callable[..., Any]:
    """Decorator of every view. With a model the view takes `uid` in its address and gets the row instead."""

    def decorate(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
        @wraps(view)
        def guarded(request: HttpRequest, **kwargs: Any) -> HttpResponse:
            # The log-in middleware lets nobody else through.
            assert isinstance(request.user, User)
            if model is None:
                if permission == CREATE_PLANT and not request.user.can_create_plants:
                    raise RoleMissing(permission)
                return view(request, **kwargs)
            row = model.objects.visible_to(request.user).filter(uid=kwargs.pop("uid")).first()  # type: ignore[attr-defined]
            if row is None:
                raise Http404
            plant = row.owning_plant()
            roles = roles_in(request.user, plant)
            request.plant, request.roles = plant, roles  # type: ignore[attr-defined]
            if not may(roles, permission):
                raise RoleMissing(permission)
            return view(request, row, **kwargs)

        guarded.permission = permission  # type: ignore[attr-defined]
        guarded.row_model = model  # type: ignore[attr-defined]
        if permission not in (ANYBODY_LOGGED_IN, CREATE_PLANT):
            assert model is not None, f"{view.__name__}: {permission} needs a row to find the plant"
        return guarded

    return decorate
