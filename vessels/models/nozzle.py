"""Nozzles."""

from django.db import models
from django.db.models import Q

from project.fields import SiColumn, TypedColumn, both_or_neither
from project.rows import PlantRow


class Nozzle(PlantRow):
    """An opening of a vessel. Of face elevation and projection one is entered and the other derived."""

    entity = "nozzle"

    vessel = models.ForeignKey("vessels.Vessel", on_delete=models.CASCADE, related_name="nozzles")
    mark = models.CharField(max_length=12)
    standard = models.CharField(max_length=24, default="en_1092_1")
    size = models.CharField(max_length=24, blank=True)
    rating = models.CharField(max_length=24, blank=True)
    facing = models.CharField(max_length=24, blank=True)
    material = models.CharField(max_length=40, blank=True)
    bore_typed = TypedColumn()
    bore_si = SiColumn()
    face_elevation_typed = TypedColumn()
    face_elevation_si = SiColumn()
    projection_typed = TypedColumn()
    projection_si = SiColumn()
    radius_typed = TypedColumn()
    radius_si = SiColumn()
    bearing_typed = TypedColumn()
    bearing_si = SiColumn()

    class Meta:
        ordering = ["mark"]
        constraints = [
            models.UniqueConstraint(fields=["vessel", "mark"], name="nozzle_mark_once"),
            models.CheckConstraint(
                name="nozzle_face_or_projection",
                condition=Q(face_elevation_si__isnull=True) | Q(projection_si__isnull=True),
            ),
            *both_or_neither("nozzle", "bore", "face_elevation", "projection", "radius", "bearing"),
        ]

    def __str__(self) -> str:
        return f"{self.mark} {self.size}".strip()
