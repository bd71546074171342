"""Tags."""

from django.db import models

from project.rows import PlantRow


class Tag(PlantRow):
    """The identification of one instrument by letters, number and suffix."""

    entity = "tag"

    unit = models.ForeignKey("vessels.PlantUnit", on_delete=models.PROTECT, related_name="tags")
    letters = models.CharField(max_length=8)
    number = models.CharField(max_length=12)
    suffix = models.CharField(max_length=4, blank=True)
    # "LT-101", "LT 0101" and "lt101" are one tag to a reader of drawings; this key makes them one to the database.
    near_key = models.CharField(max_length=32)
    text = models.CharField(max_length=32)
    service = models.CharField(max_length=200, blank=True)
    pid = models.CharField("P&ID", max_length=40, blank=True)
    pid_revision = models.CharField(max_length=8, blank=True)
    location = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ["text"]
        constraints = [models.UniqueConstraint(fields=["plant", "near_key"], name="tag_once_per_plant")]
        indexes = [models.Index(fields=["plant", "text"], name="tag_by_text")]

    def __str__(self) -> str:
        return self.text
