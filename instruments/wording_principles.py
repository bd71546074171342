"""Sentences of checks that do not concern a principle: why they do not."""

from django.utils.translation import gettext_lazy as _

from instruments.wording_texts import Text

_NO_DISTANCE = _("A sensor of this principle does not measure the distance to the surface.")
_SIDE = _("A sensor of this principle need not stand on the roof: where its connection sits is not compared.")
_OUTSIDE = _("Nothing of the sensor is inside the vessel: its surroundings count, not what the vessel holds.")

SENTENCES: dict[tuple[str, str], Text] = {
    ("reach.range", "no_distance"): _NO_DISTANCE,
    ("reach.dead_zone_urv", "no_distance"): _NO_DISTANCE,
    ("reach.dead_zone_setpoint", "no_distance"): _NO_DISTANCE,
    ("reach.dead_zone_overflow", "no_distance"): _NO_DISTANCE,
    ("reach.bottom", "no_distance"): _NO_DISTANCE,
    ("reach.heap", "no_distance"): _NO_DISTANCE,
    ("reach.permittivity", "other_principle"): _("The principle does not rest on the relative permittivity."),
    ("mounting.nozzle_face", "side"): _SIDE,
    ("mounting.nozzle_position", "side"): _SIDE,
    ("mounting.opening", "outside"): _("Nothing has to pass into the vessel."),
    ("process.temperature_high", "outside"): _OUTSIDE,
    ("process.temperature_low", "outside"): _OUTSIDE,
    ("process.pressure_high", "outside"): _OUTSIDE,
    ("process.pressure_low", "outside"): _OUTSIDE,
}
