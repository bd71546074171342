"""The cases of `variants` for beams and their mounting."""

from collections.abc import Callable

from instruments.checks.case import Case
from tests.checks.builders import HORN, make_case, make_chamber_case, make_class, make_rope_case, make_silo_case

# Off the middle, at the bearing of the nozzle that `with_internal` gives, 1.5 m from it.
LADDER = {"kind": "ladder", "name": "L-1", "radius": "2.5 m", "bearing": "90°", "elevation_low": "0.5 m",
          "elevation_high": "12 m", "width": "400 mm"}  # fmt: skip
AIMED_FLANGE = {"measurement.aiming_flange": "Swivelling, towards the outlet"}
WELL = {"measurement.stilling_well": "DN 80, slotted"}


def with_internal(changes: dict[str, str | None] | None = None, row: dict[str, str] | None = None) -> Case:
    """The good radar at radius 1 m and bearing 90°, with a ladder."""
    return make_case({"nozzle.bearing": "90°", **(changes or {})}, internals=[{**LADDER, **(row or {})}])


def domed(changes: dict[str, str | None] | None = None) -> Case:
    """The good tank below a hemisphere, which begins at 12.6 m."""
    return make_case({"vessel.top": "hemisphere", **(changes or {})})


def _in_chamber(code: str) -> Callable[[], Case]:
    internals = [LADDER] if code == "mounting.internals" else []
    return lambda: make_chamber_case(sensor_class=HORN, internals=internals)


def _in_well(code: str) -> Callable[[], Case]:
    internals = [LADDER] if code == "mounting.internals" else []
    return lambda: make_case(WELL, internals=internals)


def _probe(code: str) -> Callable[[], Case]:
    internals = [LADDER] if code == "mounting.internals" else []
    return lambda: make_rope_case(internals=internals)


CODES = ("mounting.nozzle_length", "mounting.wall", "mounting.internals", "mounting.tilt", "mounting.aiming",
         "mounting.centre")  # fmt: skip

VARIANTS: dict[tuple[str, str], Callable[[], Case]] = {
    **{(code, "no_beam"): _probe(code) for code in CODES},
    **{(code, "arrangement"): _in_chamber(code) for code in CODES},
    **{(code, "well"): _in_well(code) for code in CODES},
    ("mounting.nozzle_length", "ok"): make_case,
    ("mounting.nozzle_length", "outside"): lambda: make_case({"nozzle.projection": "50 mm"}),
    ("mounting.nozzle_length", "met"): lambda: make_case({"nozzle.projection": "500 mm"}),
    ("mounting.nozzle_length", "long"): lambda: make_case(
        {"nozzle.projection": "450 mm"}, sensor_class=make_class(beam_angle="4°")
    ),
    ("mounting.wall", "aimed"): lambda: make_silo_case(AIMED_FLANGE),
    ("mounting.internals", "aimed"): lambda: make_silo_case(AIMED_FLANGE, internals=[LADDER]),
    ("mounting.wall", "ok"): make_case,
    ("mounting.wall", "met"): lambda: make_case({"nozzle.radius": "2.5 m"}),
    ("mounting.internals", "ok"): with_internal,
    ("mounting.internals", "met"): lambda: with_internal(row={"radius": "2 m"}),
    ("mounting.internals", "apart"): lambda: with_internal(
        row={"radius": "1 m", "elevation_low": "0 m", "elevation_high": "0.4 m"}
    ),
    ("mounting.internals", "none"): make_case,
    ("mounting.tilt", "ok"): make_case,
    ("mounting.tilt", "tilted"): lambda: make_case({"nozzle.inclination": "5°"}),
    ("mounting.tilt", "solid"): make_silo_case,
    ("mounting.aiming", "ok"): make_silo_case,
    ("mounting.aiming", "ok_middle"): lambda: make_silo_case({"vessel.outlet_radius": None}),
    ("mounting.aiming", "beyond"): lambda: make_silo_case({"nozzle.radius": "2.9 m"}),
    ("mounting.aiming", "beyond_middle"): lambda: make_silo_case(
        {"nozzle.radius": "2.9 m", "vessel.outlet_radius": None}
    ),
    ("mounting.aiming", "no_solid"): make_case,
    ("mounting.centre", "ok"): domed,
    ("mounting.centre", "centre"): lambda: domed({"nozzle.radius": "0.2 m"}),
    ("mounting.centre", "level_roof"): make_case,
}
