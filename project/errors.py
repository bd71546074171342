"""Error pages that say what happened and what to do."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from project.accounts.access import RoleMissing
from project.accounts.permissions import roles_that_may


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    return render(request, "400.html", {"reason": str(exception or "")}, status=400)


def no_permission(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Says which roles may, so that the reader knows whom to ask."""
    roles = roles_that_may(exception.permission) if isinstance(exception, RoleMissing) else []
    return render(request, "403.html", {"roles_that_may": [role.label for role in roles]}, status=403)


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    first = exception.args[0] if exception and exception.args else ""
    # The resolver's own message lists addresses; only our sentences are for readers.
    return render(request, "404.html", {"reason": first if isinstance(first, str) else ""}, status=404)


def server_error(request: HttpRequest, *args: Any) -> HttpResponse:
    """Plain on purpose: whatever failed may be what a richer page needs."""
    return render(request, "500.html", status=500)
