"""Strapping tables for the tests of services, made by the service that the page uses."""

from tests.factories import actor_of
from vessels.models import StrappingTable, Vessel
from vessels.services import save_strapping


def make_table(vessel: Vessel, si_points: list[list[float]], interpolation: str = "linear") -> StrappingTable:
    """The strapping table of a vessel, from rows of level (m from the datum) and volume (m³)."""
    table = StrappingTable.objects.filter(vessel=vessel).first() or StrappingTable(plant=vessel.plant, vessel=vessel)
    typed = "\n".join(f"{level_m!r} m\t{volume_m3!r} m³" for level_m, volume_m3 in si_points)
    save_strapping(actor_of(), table, table.version or 1, {"points": typed, "interpolation": interpolation}, si_points)
    return StrappingTable.objects.get(vessel=vessel)
