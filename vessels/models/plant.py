"""Plants and their units."""

from typing import TYPE_CHECKING, Self
from zoneinfo import ZoneInfo

from django.db import models

from project.fields import SiColumn, TypedColumn, both_or_neither
from project.quantities import UNIT_SETS, PlantUnits
from project.rows import KeptRow, PlantRow

if TYPE_CHECKING:
    from project.accounts.models import User


class PlantQuerySet(models.QuerySet):
    def visible_to(self, user: "User") -> Self:
        """Plants that a user is a member of."""
        return self.filter(memberships__user=user).distinct()


class Plant(KeptRow):
    """A site. Everything else belongs to one; people see the plants that they are members of."""

    entity = "plant"

    code = models.CharField(max_length=12, unique=True)
    name = models.CharField(max_length=80)
    unit_set = models.CharField(max_length=16, default="metric")
    atmosphere_typed = TypedColumn()
    atmosphere_si = SiColumn()
    time_zone = models.CharField(max_length=40, default="UTC")
    paper = models.CharField(max_length=8, default="a4")
    # Demonstration plants say so on every screen and sheet.
    invented = models.BooleanField(default=False)

    objects = PlantQuerySet.as_manager()

    class Meta:
        ordering = ["code"]
        constraints = [*both_or_neither("plant", "atmosphere")]

    def __str__(self) -> str:
        return f"{self.code} {self.name}"

    def owning_plant(self) -> "Plant":
        return self

    @property
    def units(self) -> PlantUnits:
        """The unit set and the atmosphere: what parsing and showing need."""
        if self.atmosphere_si is None:
            return PlantUnits(self.unit_set)
        return PlantUnits(self.unit_set, self.atmosphere_si)

    @property
    def unit_set_label(self) -> str:
        return UNIT_SETS[self.unit_set].label

    @property
    def zone(self) -> ZoneInfo:
        return ZoneInfo(self.time_zone)


class PlantUnit(PlantRow):
    """A part of a plant with its own number."""

    entity = "unit"

    number = models.CharField(max_length=12)
    name = models.CharField(max_length=80)
    area_classification = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ["number"]
        constraints = [models.UniqueConstraint(fields=["plant", "number"], name="unit_number_once")]

    def __str__(self) -> str:
        return f"{self.number} {self.name}"
