"""Sensor classes as rows: the library's, synced from files and never changed, and a plant's own copies."""

from typing import Any, Self

from django.db import models
from django.db.models import Q

from instruments.checks.sensor_class import ClassValue, SensorClass
from instruments.sensor_class_fields import LIST_STEMS
from project.quantities import MISSING, Quantity
from project.registry import FieldDef
from project.rows import KeptRow
from vessels.models import Plant


class SensorClassQuerySet(models.QuerySet):
    def for_plant(self, plant: Plant) -> Self:
        """Classes that a plant can use: the current ones of the library, and its own."""
        return self.filter(Q(plant=None, current=True) | Q(plant=plant))


class SensorClassRow(KeptRow):
    """One edition of a sensor class. `data` is the class as plain data; `content_hash` tells editions apart.

    Its fields are read from and written to `data`; a list of texts is one text with its items joined by "; ".
    `details` of a plant's copy hold the reference of the certificate, which confirms its values.
    """

    entity = "sensor_class"

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

    def owning_plant(self) -> Plant | None:
        """The plant whose copy it is, None for a class of the library."""
        return self.plant

    @property
    def certificate(self) -> str:
        """Reference of the certificate of the device to be bought, '' where there is none yet."""
        return str(self.details.get("certificate", ""))

    def value(self, definition: FieldDef) -> Any:
        """The kept value of a field of the class: a Quantity or a text."""
        sensor_class = self.sensor_class()
        if definition.is_quantity:
            return sensor_class.quantity(definition.stem)
        return sensor_class.text(definition.stem)

    def assign(self, definition: FieldDef, value: Any) -> None:
        """Put a value into the class with the origin that it has already; empty takes the value out."""
        values = self.data["values"]
        if value is None or value == "" or value == MISSING:
            values.pop(definition.stem, None)
            return
        held: Quantity | str | tuple[str, ...] = value
        if definition.stem in LIST_STEMS:
            held = tuple(item.strip() for item in str(value).split(";") if item.strip())
        provenance = values.get(definition.stem, {}).get("provenance", "")
        values[definition.stem] = ClassValue(held, provenance).to_data()

    def sensor_class(self) -> SensorClass:
        """The class as checks take it."""
        return SensorClass.from_data(self.data)
