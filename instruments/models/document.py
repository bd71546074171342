"""Documents: a number that is allotted once and never follows a rename."""

from django.db import models

from project.rows import PlantRow


class Document(PlantRow):
    """One document of a plant, e.g. the datasheet of a measurement."""

    entity = "document"

    kind = models.CharField(max_length=24, default="datasheet")
    serial = models.PositiveIntegerField()
    number = models.CharField(max_length=40)
    measurement = models.ForeignKey(
        "instruments.Measurement", on_delete=models.SET_NULL, null=True, related_name="documents"
    )

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["plant", "number"], name="document_number_once"),
            models.UniqueConstraint(fields=["plant", "kind", "serial"], name="document_serial_once"),
            models.UniqueConstraint(fields=["measurement", "kind"], name="document_kind_once"),
        ]

    def __str__(self) -> str:
        return self.number
