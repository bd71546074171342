"""Addresses with a view whose author forgot the permission."""

from django.http import HttpRequest, HttpResponse
from django.urls import path

from project.urls import handler400, handler403, handler404, handler500, urlpatterns

__all__ = ["handler400", "handler403", "handler404", "handler500", "urlpatterns"]


def forgotten(request: HttpRequest) -> HttpResponse:
    return HttpResponse("open to everybody")


urlpatterns = [*urlpatterns, path("forgotten/", forgotten, name="forgotten")]
