"""Addresses with a view whose author forgot the permission, and with one that fails."""

from django.http import HttpRequest, HttpResponse
from django.urls import path

from project.accounts.access import allowed
from project.accounts.permissions import ANYBODY_LOGGED_IN
from project.urls import handler400, handler403, handler404, handler500, urlpatterns

__all__ = ["handler400", "handler403", "handler404", "handler500", "urlpatterns"]


def forgotten(request: HttpRequest) -> HttpResponse:
    return HttpResponse("open to everybody")


@allowed(ANYBODY_LOGGED_IN)
def failing(request: HttpRequest) -> HttpResponse:
    raise ZeroDivisionError("on purpose")


urlpatterns = [
    *urlpatterns,
    path("forgotten/", forgotten, name="forgotten"),
    path("failing/", failing, name="failing"),
]
