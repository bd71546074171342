"""People and what they may do in which plant."""

import uuid

from django.contrib.auth.models import AbstractUser
from django.db import models
from django.utils.translation import gettext_lazy as _


class Role(models.TextChoices):
    """Roles in a plant; a person may have several. What each may do: `permissions.py`."""

    ORIGINATOR = "originator", _("Originator")
    CHECKER = "checker", _("Checker")
    APPROVER = "approver", _("Approver")
    PROCESS = "process", _("Process engineer")
    PROCUREMENT = "procurement", _("Procurement")
    COMMISSIONING = "commissioning", _("Commissioning")
    READER = "reader", _("Reader")
    ADMINISTRATOR = "administrator", _("Administrator")


class User(AbstractUser):
    """A person who logs in."""

    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    can_create_plants = models.BooleanField(
        _("may create plants"), default=False, help_text=_("Whoever creates a plant becomes its administrator.")
    )

    def shown_name(self) -> str:
        """Full name, or the user name where no name was given."""
        return self.get_full_name() or self.username


class Membership(models.Model):
    """One role of one person in one plant."""

    user = models.ForeignKey(User, on_delete=models.CASCADE, related_name="memberships")
    plant = models.ForeignKey("vessels.Plant", on_delete=models.CASCADE, related_name="memberships")
    role = models.CharField(max_length=16, choices=Role.choices)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["user", "plant", "role"], name="role_once_per_plant")]

    def __str__(self) -> str:
        return f"{self.user} · {self.get_role_display()} · {self.plant}"
