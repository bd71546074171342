"""All addresses. Every view asks for a log-in (middleware) and names its permission (`allowed`)."""

from django.contrib import admin
from django.urls import include, path

from project.accounts.views import log_in, log_out
from project.errors import bad_request, no_permission, not_found, server_error

urlpatterns = [
    path("log-in/", log_in, name="log_in"),
    path("log-out/", log_out, name="log_out"),
    path("admin/", admin.site.urls),
    path("", include("vessels.urls")),
    path("", include("instruments.urls")),
]

handler400 = bad_request
handler403 = no_permission
handler404 = not_found
handler500 = server_error
