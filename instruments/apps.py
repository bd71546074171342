from importlib import import_module

from django.apps import AppConfig


class InstrumentsConfig(AppConfig):
    name = "instruments"
    verbose_name = "Instruments"

    def ready(self) -> None:
        # Registers what rests on vessels, so that a change there is told here.
        import_module("instruments.dependents")
