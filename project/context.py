"""What every page may need: the plant it is in, and what the person may do there."""

from typing import Any

from django.conf import settings
from django.http import HttpRequest

from project.accounts.models import Role
from project.accounts.permissions import PERMISSIONS, may


def plant(request: HttpRequest) -> dict[str, Any]:
    """`plant` and `can` (permission with a "_" for the "." -> bool), for templates."""
    current = getattr(request, "plant", None)
    roles: frozenset[Role] = getattr(request, "roles", frozenset())
    can = {permission.replace(".", "_"): may(roles, permission) for permission in PERMISSIONS}
    return {"plant": current, "can": can, "demo": settings.DEMO}
