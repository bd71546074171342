"""Acceptances: cautions that a person judged and accepted, and why."""

from django.conf import settings
from django.core.validators import MinLengthValidator
from django.db import models

from instruments.models.measurement import Measurement
from project.rows import PlantRow

SHORTEST_REASON, LONGEST_REASON = 10, 300


class Acceptance(PlantRow):
    """One caution of one measurement, accepted by a person for a reason. Renewed and withdrawn in place; history stays.

    Whether it still holds is not kept but read: `basis` is what the finding rested on (`instruments.checks.basis`), and
    the acceptance holds as long as the finding rests on the same.
    """

    entity = "acceptance"

    measurement = models.ForeignKey(Measurement, on_delete=models.CASCADE, related_name="acceptances")
    code = models.CharField(max_length=60)
    place = models.CharField(max_length=60, blank=True)
    case_name = models.CharField(max_length=200, blank=True)
    reason = models.CharField(max_length=LONGEST_REASON, validators=[MinLengthValidator(SHORTEST_REASON)])
    basis = models.JSONField()
    accepted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    accepted_at = models.DateTimeField()
    withdrawn = models.BooleanField(default=False)

    class Meta:
        ordering = ["code", "place"]
        constraints = [
            models.UniqueConstraint(fields=["measurement", "code", "place"], name="acceptance_of_finding_once")
        ]

    def __str__(self) -> str:
        return f"{self.code} {self.place}".strip()
