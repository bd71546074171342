"""Elevation and plan of a vessel, saved or as typed: the rows of the database as plain values for `vessels.drawing`."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cache

from django.utils.translation import get_language
from django.utils.translation import gettext as _

from project.quantities import PlantUnits
from project.registry import REGISTRY
from project.rows import KeptRow
from vessels.contents import VesselShape
from vessels.drawing.scenes import vessel_plan, vessel_scene_alone
from vessels.drawing.thumbnails import thumbnails
from vessels.drawing.values import VesselValues, read_internal, read_nozzle, read_vessel
from vessels.field_defs import DATUMS
from vessels.models import Internal, Nozzle, Vessel
from vessels.sketch.elevation import draw_elevation
from vessels.sketch.plan import draw_plan

ELEVATION_PX, PLAN_PX = (460, 420), (460, 300)
PRINT_ELEVATION_PX = (360, 330)


@dataclass(frozen=True, slots=True)
class Drawings:
    """Elevation and plan as SVG."""

    elevation: str
    plan: str


def _text(row: KeptRow) -> Callable[[str], str]:
    return lambda stem: str(row.value(REGISTRY[f"{row.entity}.{stem}"]) or "")


def _si(row: KeptRow) -> Callable[[str], float | None]:
    return lambda stem: row.quantity(stem).si


def _entered(row: KeptRow, units: PlantUnits) -> Callable[[str, str], str]:
    return lambda stem, kind: str(units.shown(row.quantity(stem), kind))


def values_of(
    vessel: Vessel, known: VesselShape, nozzles: Iterable[Nozzle], internals: Iterable[Internal], units: PlantUnits
) -> VesselValues:
    """A vessel with what belongs to it, as drawings need it."""
    return read_vessel(
        _text(vessel),
        _si(vessel),
        _entered(vessel, units),
        shape=known.shape,
        shown=lambda value, kind: str(units.shown_si(value, kind)),
        datum=dict(DATUMS).get(vessel.datum, ""),
        datum_height_m=known.datum_m,
        translate=_,
        nozzles=tuple(
            read_nozzle(_text(row), _si(row), _entered(row, units), place=f"nozzle-{row.mark}") for row in nozzles
        ),
        internals=tuple(
            read_internal(_text(row), _si(row), place=f"internal-{number}")
            for number, row in enumerate(internals, start=1)
        ),
    )


def draw_vessel(values: VesselValues) -> Drawings:
    """Elevation and plan for a page."""
    elevation = draw_elevation(
        vessel_scene_alone(values), width_px=ELEVATION_PX[0], height_px=ELEVATION_PX[1], id_prefix="vessel"
    )
    plan = draw_plan(vessel_plan(values), width_px=PLAN_PX[0], height_px=PLAN_PX[1], id_prefix="vessel-plan")
    return Drawings(elevation, plan)


def print_elevation(values: VesselValues) -> str:
    """The elevation for a printed sheet."""
    width, height = PRINT_ELEVATION_PX
    scene = vessel_scene_alone(values)
    return draw_elevation(scene, width_px=width, height_px=height, for_print=True, id_prefix="vessel")


def pictures() -> dict[tuple[str, str], str]:
    """A small picture for every choice of body and end, in the reader's language; drawn once."""
    return _pictures(get_language() or "en")


@cache
def _pictures(language: str) -> dict[tuple[str, str], str]:
    # The language is the key: titles are translated into it.
    return thumbnails(translate=_, id_prefix="choice")
