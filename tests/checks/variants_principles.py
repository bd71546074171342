"""For every variant of a check that does not concern a principle: a case that brings it about."""

from collections.abc import Callable
from functools import partial

from instruments.checks.case import Case
from instruments.checks.sensor_class import load_class_file
from tests.checks.builders import CLASS_FILES, make_case, make_silo_case

FORK, WEIGHING = (load_class_file(CLASS_FILES / f"{key}.toml") for key in ("vibrating_fork", "weighing"))
_FORK = partial(make_case, sensor_class=FORK)
_WEIGHING = partial(make_case, sensor_class=WEIGHING)

PRINCIPLE_VARIANTS: dict[tuple[str, str], Callable[[], Case]] = {
    ("reach.range", "no_distance"): _FORK,
    ("reach.dead_zone_urv", "no_distance"): _FORK,
    ("reach.dead_zone_setpoint", "no_distance"): _FORK,
    ("reach.dead_zone_overflow", "no_distance"): _FORK,
    ("reach.bottom", "no_distance"): _FORK,
    ("reach.heap", "no_distance"): partial(make_silo_case, sensor_class=WEIGHING),
    ("reach.permittivity", "other_principle"): _FORK,
    ("mounting.nozzle_face", "side"): _FORK,
    ("mounting.nozzle_position", "side"): _FORK,
    ("mounting.opening", "outside"): _WEIGHING,
    ("process.temperature_high", "outside"): _WEIGHING,
    ("process.temperature_low", "outside"): _WEIGHING,
    ("process.pressure_high", "outside"): _WEIGHING,
    ("process.pressure_low", "outside"): _WEIGHING,
}
