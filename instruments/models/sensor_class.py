"""Sensor classes as rows: the library's, synced from files and never changed, and a plant's own copies."""

from typing import Self

from django.db import models
from django.db.models import Q

from instruments.checks.sensor_class import SensorClass
from project.rows import KeptRow
from vessels.models import Plant


class SensorClassQuerySet(models.QuerySet):
    def for_plant(self, plant: Plant) -> Self:
        """Classes that a plant can use: the current ones of the library, and its own."""
        return self.filter(Q(plant=None, current=True) | Q(plant=plant))


class SensorClassRow(KeptRow):
    """One edition of a sensor class. `data` is the class as plain data; `content_hash` tells editions apart."""

    entity = "sensor_class_row"

    plant = models.ForeignKey("vessels.Plant", on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    key = models.CharField(max_length=60)
    edition = models.PositiveIntegerField(default=1)
    name = models.CharField(max_length=120)
    technology = models.CharField(max_length=32)
    content_hash = models.CharField(max_length=64)
    current = models.BooleanField(default=True)
    data = models.JSONField()

    objects = SensorClassQuerySet.as_manager()

    class Meta:
        ordering = ["name"]
        constraints = [
            models.UniqueConstraint(
                fields=["key", "edition"], condition=Q(plant=None), name="library_class_edition_once"
            ),
            models.UniqueConstraint(
                fields=["plant", "key", "edition"], condition=~Q(plant=None), name="plant_class_edition_once"
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def sensor_class(self) -> SensorClass:
        """The class as checks take it."""
        return SensorClass.from_data(self.data)
