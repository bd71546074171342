"""Load the invented demonstration plant, once."""

from typing import Any

from django.core.management.base import BaseCommand

from instruments.services.demo import load_demo


class Command(BaseCommand):
    help = "Load the invented demonstration plant and its log-ins, unless it is there already."

    def handle(self, *args: Any, **options: Any) -> None:
        plant = load_demo()
        self.stdout.write(f"loaded {plant}" if plant else "the demonstration plant is there already; nothing changed")
