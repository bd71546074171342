"""Media: what is measured."""

from django.db import models

from project.fields import SiColumn, TypedColumn, both_or_neither
from project.rows import PlantRow


class Medium(PlantRow):
    """A liquid, slurry, solid, liquefied gas or interface pair with its properties at stated temperatures."""

    entity = "medium"

    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=16, default="liquid")
    density_typed = TypedColumn()
    density_si = SiColumn()
    density_temperature_typed = TypedColumn()
    density_temperature_si = SiColumn()
    permittivity_typed = TypedColumn()
    permittivity_si = SiColumn()
    permittivity_temperature_typed = TypedColumn()
    permittivity_temperature_si = SiColumn()
    gas = models.CharField(max_length=80, blank=True)
    hazards = models.CharField(max_length=120, blank=True)
    provenance = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["name"]
        verbose_name_plural = "media"
        constraints = [
            models.UniqueConstraint(fields=["plant", "name"], name="medium_name_once"),
            *both_or_neither("medium", "density", "density_temperature", "permittivity", "permittivity_temperature"),
        ]

    def __str__(self) -> str:
        return self.name
