"""Bring new editions of the sensor class files into the database."""

from typing import Any

from django.core.management.base import BaseCommand

from instruments.services.sensor_classes import sync_sensor_classes
from project.actor import Actor


class Command(BaseCommand):
    help = "Sync the library of sensor classes from its files. Editions that are kept never change."

    def handle(self, *args: Any, **options: Any) -> None:
        added = sync_sensor_classes(Actor(None, "command"))
        self.stdout.write(f"{len(added)} new: {', '.join(added)}" if added else "nothing new")
