"""Tags, level measurements, sensor classes and what is decided about them."""

import instruments.field_defs
import instruments.sensor_class_fields  # noqa: F401  fields register themselves
from instruments.models.acceptance import Acceptance
from instruments.models.document import Document
from instruments.models.measurement import Connection, Measurement, MeasurementState, Setpoint
from instruments.models.sensor_class import SensorClassRow
from instruments.models.tag import Tag

__all__ = [
    "Acceptance",
    "Connection",
    "Document",
    "Measurement",
    "MeasurementState",
    "SensorClassRow",
    "Setpoint",
    "Tag",
]
