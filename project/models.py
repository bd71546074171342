"""The action: one deed of one person, which groups the history records that it wrote."""

import uuid

from django.conf import settings
from django.db import models


class Action(models.Model):
    """Who did what, by which route and why. History records point here, so that a deed can be told as one."""

    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    plant = models.ForeignKey("vessels.Plant", on_delete=models.CASCADE, null=True, related_name="actions")
    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, related_name="actions")
    route = models.CharField(max_length=16)
    what = models.CharField(max_length=80)
    reason = models.CharField(max_length=200, blank=True)
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-id"]
        indexes = [models.Index(fields=["plant", "-id"], name="action_of_plant")]

    def __str__(self) -> str:
        return f"{self.what} ({self.route})"
