"""The admin site: people and memberships can be changed, everything else is only looked at."""

from typing import Any

from django.contrib import admin
from django.contrib.auth.admin import UserAdmin
from django.http import HttpRequest

from project.accounts.models import Membership, User


class MembershipInline(admin.TabularInline):
    model = Membership
    extra = 1


@admin.register(User)
class PeopleAdmin(UserAdmin):
    inlines = [MembershipInline]
    fieldsets = (*UserAdmin.fieldsets, (None, {"fields": ("can_create_plants",)}))  # type: ignore[misc]


class ReadOnlyAdmin(admin.ModelAdmin):
    """Looks, never writes: writes go through services, which keep versions and history."""

    def has_add_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False
