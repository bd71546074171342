"""Middleware: log-in required everywhere, default deny, and a sentence for too much text."""

from collections.abc import Callable
from typing import Any

from django.contrib.auth.middleware import LoginRequiredMiddleware
from django.core.exceptions import PermissionDenied, RequestDataTooBig, TooManyFieldsSent
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

GetResponse = Callable[[HttpRequest], HttpResponse]
OWN_GATE = ("admin:", "log_in", "log_out")  # views that look after themselves


class LoginEverywhereMiddleware(LoginRequiredMiddleware):
    """Every view needs a log-in. A live preview gets 401 instead of a redirect, so that the page keeps its typing."""

    def handle_no_permission(self, request: HttpRequest, view_func: Any) -> Any:
        if getattr(request, "htmx", False):
            return HttpResponse(status=401)
        return super().handle_no_permission(request, view_func)


class DefaultDenyMiddleware:
    """A view that names no permission is denied, so that a new view cannot be open by forgetting."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(self, request: HttpRequest, view_func: Any, args: Any, kwargs: Any) -> None:
        name = request.resolver_match.view_name if request.resolver_match else ""
        if hasattr(view_func, "permission") or name.startswith(OWN_GATE):
            return
        raise PermissionDenied(f"the view {name} names no permission")


class TooMuchTextMiddleware:
    """A form beyond the size limit gets a page that says so; the browser's back button still has the typing."""

    def __init__(self, get_response: GetResponse) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        try:
            # Reading the body here turns the error into an answer, wherever in the view it would have come up.
            if request.method == "POST":
                request.POST  # noqa: B018
        except (RequestDataTooBig, TooManyFieldsSent):
            return render(request, "413.html", status=413)
        return self.get_response(request)
