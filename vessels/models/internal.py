"""What a beam or a probe may meet inside a vessel."""

from django.db import models

from project.fields import SiColumn, TypedColumn, both_or_neither
from project.rows import PlantRow


class Internal(PlantRow):
    """A ladder, coil, baffle, agitator, inlet stream, pipe or well. Its changes count in the vessel's version."""

    entity = "internal"

    vessel = models.ForeignKey("vessels.Vessel", on_delete=models.CASCADE, related_name="internals")
    position = models.PositiveSmallIntegerField(default=0)
    kind = models.CharField(max_length=16, default="ladder")
    name = models.CharField(max_length=40, blank=True)
    radius_typed = TypedColumn()
    radius_si = SiColumn()
    bearing_typed = TypedColumn()
    bearing_si = SiColumn()
    elevation_low_typed = TypedColumn()
    elevation_low_si = SiColumn()
    elevation_high_typed = TypedColumn()
    elevation_high_si = SiColumn()
    width_typed = TypedColumn()
    width_si = SiColumn()

    class Meta:
        ordering = ["position", "id"]
        constraints = [
            *both_or_neither("internal", "radius", "bearing", "elevation_low", "elevation_high", "width"),
        ]

    def __str__(self) -> str:
        return self.name or self.kind
