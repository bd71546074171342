"""History: the library keeps a record of every change; this stamps each with the action it belongs to."""

from typing import Any

from django.db import models
from django.dispatch import receiver
from simple_history.signals import pre_create_historical_record

from project.actor import current_action


class ActionStamp(models.Model):
    """Base of history tables: the action that wrote the record."""

    history_action = models.ForeignKey("project.Action", on_delete=models.PROTECT, null=True, related_name="+")

    class Meta:
        abstract = True


@receiver(pre_create_historical_record, dispatch_uid="stamp-history-with-action")
def stamp(sender: type, history_instance: Any, **kwargs: Any) -> None:
    """The project's one signal receiver. Without an action under way it raises, so no write bypasses the services."""
    action = current_action()
    history_instance.history_action = action
    history_instance.history_user_id = action.user_id
