"""The world that instruments are fitted to."""

import vessels.field_defs  # noqa: F401  fields register themselves
from vessels.models.attachment import Attachment, AttachmentBytes
from vessels.models.internal import Internal
from vessels.models.medium import Medium
from vessels.models.nozzle import Nozzle
from vessels.models.plant import Plant, PlantUnit
from vessels.models.strapping import StrappingTable
from vessels.models.vessel import OperatingCase, Vessel

__all__ = [
    "Attachment", "AttachmentBytes", "Internal", "Medium", "Nozzle", "OperatingCase", "Plant", "PlantUnit",
    "StrappingTable", "Vessel",
]  # fmt: skip
