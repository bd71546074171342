"""Strapping tables: the volume of a vessel at measured levels, as somebody surveyed or calibrated it."""

from django.db import models

from project.rows import PlantRow


class StrappingTable(PlantRow):
    """The strapping table of a vessel. It has a page and a version of its own.

    points     the rows as typed, "level<tab>volume" with units, one a line; a field of the registry
    si_points  the same rows as [level_m, volume_m3]; levels count from the vessel's datum. Written with `points` by the
               service, never apart from it
    """

    entity = "strapping"

    vessel = models.OneToOneField("vessels.Vessel", on_delete=models.CASCADE, related_name="strapping_table")
    interpolation = models.CharField(max_length=16, default="linear")
    source = models.CharField(max_length=120, blank=True)
    points = models.TextField()
    si_points = models.JSONField(default=list)

    class Meta:
        ordering = ["vessel_id"]

    def __str__(self) -> str:
        return f"{self.vessel.number}"

    @property
    def levels_m(self) -> list[float]:
        """Levels in m from the vessel's datum."""
        return [row[0] for row in self.si_points]

    @property
    def volumes_m3(self) -> list[float]:
        return [row[1] for row in self.si_points]
