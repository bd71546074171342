"""Rows to look at in the admin site."""

from django.apps import apps
from django.contrib import admin

from project.accounts.admin import ReadOnlyAdmin

for model in apps.get_app_config("instruments").get_models():
    admin.site.register(model, ReadOnlyAdmin)
