"""The world that instruments are fitted to."""

import vessels.field_defs  # noqa: F401  fields register themselves
from vessels.models.medium import Medium
from vessels.models.nozzle import Nozzle
from vessels.models.plant import Plant, PlantUnit
from vessels.models.vessel import OperatingCase, Vessel

__all__ = ["Medium", "Nozzle", "OperatingCase", "Plant", "PlantUnit", "Vessel"]
