"""Level measurements with their connections, setpoints and computed state."""

from django.db import models

from instruments.field_defs import ARRANGEMENTS, ROLES
from project.fields import SiColumn, TypedColumn, both_or_neither
from project.rows import PlantRow
from vessels.models import Nozzle


class Measurement(PlantRow):
    """What one tag measures on one vessel: the specification that the datasheet prints."""

    entity = "measurement"

    tag = models.OneToOneField("instruments.Tag", on_delete=models.CASCADE, related_name="measurement")
    vessel = models.ForeignKey(
        "vessels.Vessel", on_delete=models.PROTECT, null=True, blank=True, related_name="measurements"
    )
    sensor_class = models.ForeignKey(
        "instruments.SensorClassRow", on_delete=models.PROTECT, null=True, blank=True, related_name="measurements"
    )
    duty = models.CharField(max_length=16, default="indication", blank=True)
    arrangement = models.CharField(max_length=24, default="one_nozzle")
    adapter_length_typed = TypedColumn()
    adapter_length_si = SiColumn()
    accuracy_typed = TypedColumn()
    accuracy_si = SiColumn()
    lrv_typed = TypedColumn()
    lrv_si = SiColumn()
    urv_typed = TypedColumn()
    urv_si = SiColumn()
    direction = models.CharField(max_length=8, default="direct", blank=True)
    failure_current = models.CharField(max_length=8, default="low", blank=True)
    damping_typed = TypedColumn()
    damping_si = SiColumn()
    note = models.TextField(max_length=1000, blank=True)

    class Meta:
        ordering = ["tag__text"]
        constraints = [*both_or_neither("measurement", "adapter_length", "accuracy", "lrv", "urv", "damping")]
        indexes = [
            models.Index(fields=["plant", "lrv_si"], name="measurement_by_lrv"),
            models.Index(fields=["plant", "urv_si"], name="measurement_by_urv"),
        ]

    def __str__(self) -> str:
        return str(self.tag)

    @property
    def arrangement_label(self) -> str:
        return dict(ARRANGEMENTS).get(self.arrangement, self.arrangement)

    @property
    def nozzles(self) -> dict[str, Nozzle]:
        """The nozzles by the role that they have for this measurement, in the order of the arrangement."""
        by_role = {connection.role: connection.nozzle for connection in self.connections.all()}
        return {role: by_role[role] for role, _label in ROLES.get(self.arrangement, ()) if role in by_role}

    @property
    def nozzle(self) -> Nozzle | None:
        """The nozzle of the connection with the role "sensor"."""
        return self.nozzles.get("sensor")


class Connection(PlantRow):
    """A nozzle that a measurement uses, and what for. Counts in the measurement's version."""

    entity = "connection"

    measurement = models.ForeignKey(Measurement, on_delete=models.CASCADE, related_name="connections")
    nozzle = models.ForeignKey("vessels.Nozzle", on_delete=models.PROTECT, related_name="connections")
    role = models.CharField(max_length=16, default="sensor")
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ["position", "id"]
        constraints = [models.UniqueConstraint(fields=["measurement", "role"], name="connection_role_once")]

    def __str__(self) -> str:
        return f"{self.role}: {self.nozzle}"


class Setpoint(PlantRow):
    """An alarm or trip at a level. Counts in the measurement's version."""

    entity = "setpoint"

    measurement = models.ForeignKey(Measurement, on_delete=models.CASCADE, related_name="setpoints")
    position = models.PositiveSmallIntegerField(default=0)
    name = models.CharField(max_length=4, default="H")
    level_typed = TypedColumn()
    level_si = SiColumn()
    reset_differential_typed = TypedColumn()
    reset_differential_si = SiColumn()
    priority = models.CharField(max_length=8, blank=True)
    consequence = models.CharField(max_length=16, blank=True)
    response_time_typed = TypedColumn()
    response_time_si = SiColumn()
    action = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ["position", "id"]
        constraints = [
            models.UniqueConstraint(fields=["measurement", "name"], name="setpoint_name_once"),
            *both_or_neither("setpoint", "level", "reset_differential", "response_time"),
        ]

    def __str__(self) -> str:
        return self.name


class MeasurementState(models.Model):
    """What the checks said last, kept so that the index can filter by it. Computed: it has no history."""

    measurement = models.OneToOneField(Measurement, on_delete=models.CASCADE, related_name="state")
    plant = models.ForeignKey("vessels.Plant", on_delete=models.CASCADE, related_name="+")
    worst_grade = models.CharField(max_length=16, default="missing")
    worst_rank = models.PositiveSmallIntegerField(default=1)
    grades_by_family = models.JSONField(default=dict)
    counts = models.JSONField(default=dict)
    input_hash = models.CharField(max_length=64, blank=True)
    checks_version = models.PositiveIntegerField(default=0)
    dirty = models.BooleanField(default=True)

    class Meta:
        indexes = [
            models.Index(fields=["plant", "worst_rank"], name="state_by_grade"),
            models.Index(fields=["dirty", "plant"], name="state_dirty"),
        ]

    def __str__(self) -> str:
        return f"{self.measurement}: {self.worst_grade}"
