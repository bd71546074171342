"""Recompute the SI columns of every plant from what was typed."""

from typing import Any

from django.core.management.base import BaseCommand

from project.actor import Actor, acting
from project.recompute import recompute_si
from vessels.models import Plant


class Command(BaseCommand):
    help = "Recompute all SI columns from the typed texts; typed texts are never changed."

    def handle(self, *args: Any, **options: Any) -> None:
        for plant in Plant.objects.all():
            with acting(Actor(None, "command"), "recompute SI values", plant):
                count = recompute_si(plant)
            self.stdout.write(f"{plant.code}: {count} rows changed")
