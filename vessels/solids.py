"""Bulk solids in a vessel, for a reader: how a heap or a funnel stands, and what to add to a reading at each nozzle."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.utils.translation import gettext as _

from project.quantities import PlantUnits
from vessels.capacity.heap import cone_height_m, reading_correction_m, volume_under
from vessels.capacity.surface import Cone, SolidSurface
from vessels.contents import VesselShape
from vessels.models import Medium, Nozzle, OperatingCase, Vessel
from vessels.shapes.shape import Shape

# The mean of a cone holds between upright walls; elsewhere its integral would also take most of a minute.
UPRIGHT = frozenset({"vertical_cylinder", "vertical_frustum", "vertical_oval", "rectangular"})


@dataclass(frozen=True, slots=True)
class Correction:
    """What to add to a reading at one place to get the mean level: below a heap, and above a funnel; '' unknown."""

    place: str
    heap: str
    funnel: str


@dataclass(frozen=True, slots=True)
class Solids:
    """What a reader has to know of a vessel of bulk solids.

    lines        sentences: angles, heights of heap and funnel, what the vessel holds below a heap
    corrections  for every nozzle and some named places
    missing      what would be needed, in words
    """

    medium: str
    lines: tuple[str, ...]
    corrections: tuple[Correction, ...]
    missing: tuple[str, ...]


def solids_of(
    vessel: Vessel,
    known: VesselShape,
    cases: Iterable[OperatingCase],
    nozzles: Iterable[Nozzle],
    units: PlantUnits,
    *,
    with_volume: bool = True,
) -> Solids | None:
    """For a vessel whose normal case holds a bulk solid; None for any other.

    with_volume  also what the vessel holds below the largest heap, which takes up to a second for a pyramid hopper
    """
    medium = next((case.medium for case in cases if case.kind == "normal" and case.medium is not None), None)
    if medium is None or medium.kind != "solid":
        return None
    if vessel.body not in UPRIGHT:
        told = _("Heaps of %(medium)s are computed for upright vessels only.") % {"medium": medium.name}
        return Solids(medium.name, (), (), (told,))
    shape, repose = known.shape, medium.quantity("angle_of_repose").si
    if shape is None or not repose:
        missing = [] if repose else [_("The angle of repose of %(medium)s is missing.") % {"medium": medium.name}]
        return Solids(medium.name, (), (), tuple(missing))
    cones = _cones(vessel, medium, repose, shape)
    if cones is None:
        return Solids(medium.name, (), (), (_("The feed or draw-off point stands outside the vessel."),))
    heap, funnel = cones
    lines = [
        _("Heap of %(medium)s at %(angle)s: its peak stands %(height)s above the farthest wall.")
        % {
            "medium": medium.name,
            "angle": units.shown_si(heap.slope_rad, "angle"),
            "height": units.shown_si(cone_height_m(shape, heap), "length"),
        },
        _("Funnel above the outlet at %(angle)s: %(height)s deep where it is drawn to the wall.")
        % {
            "angle": units.shown_si(funnel.slope_rad, "angle"),
            "height": units.shown_si(cone_height_m(shape, funnel), "length"),
        },
    ]
    if with_volume:
        lines += _below_the_heap(shape, heap, units)
    return Solids(medium.name, tuple(lines), tuple(_corrections(shape, heap, funnel, nozzles, units)), ())


def _cones(vessel: Vessel, medium: Medium, repose: float, shape: Shape) -> tuple[Cone, Cone] | None:
    """Heap below the feed point and funnel above the draw-off point, in the middle where nothing is entered; None where
    one of them stands outside. Their levels are not used."""
    drawdown = medium.quantity("angle_of_drawdown").si or repose
    cones = []
    for stem, angle in (("inlet", repose), ("outlet", drawdown)):
        radius_m = vessel.quantity(f"{stem}_radius").si or 0.0
        bearing_rad = vessel.quantity(f"{stem}_bearing").si
        if radius_m > shape.reach_m(bearing_rad):
            return None
        cones.append(Cone(0.0, angle, radius_m, bearing_rad))
    return cones[0], cones[1]


def _below_the_heap(shape: Shape, heap: Cone, units: PlantUnits) -> list[str]:
    """What the vessel holds when the heap's peak touches the roof, beside what it would hold filled level."""
    peak_m = shape.roof_elevation_m(heap.radius_m, heap.bearing_rad)
    try:
        held = volume_under(shape, SolidSurface(heap=Cone(peak_m, heap.slope_rad, heap.radius_m, heap.bearing_rad)))
    except ValueError:
        # A roof that falls away faster than the heap does: the heap touches it elsewhere first.
        return []
    share = held.volume_m3 / shape.total_volume_m3
    return [
        _("With the peak at the roof it holds %(volume)s, %(share)s of what it would hold filled level.")
        % {"volume": units.shown_si(held.volume_m3, "volume"), "share": units.shown_si(share, "ratio", 3)}
    ]


def _wall(shape: Shape, heap: Cone, units: PlantUnits) -> str:
    """Which wall is meant, where they are not all alike: that in the direction of the feed point, or of the length."""
    if shape.is_round and heap.radius_m == 0:
        return _("Wall")
    bearing_rad = shape.axis_bearing_rad if heap.bearing_rad is None else heap.bearing_rad
    return _("Wall at bearing %(bearing)s") % {"bearing": units.shown_si(bearing_rad, "angle")}


def _corrections(
    shape: Shape, heap: Cone, funnel: Cone, nozzles: Iterable[Nozzle], units: PlantUnits
) -> Iterable[Correction]:
    reach_m = shape.reach_m(heap.bearing_rad)
    wall = _wall(shape, heap, units)
    places: list[tuple[str, float, float | None]] = [(_("Middle"), 0.0, None), (wall, reach_m, heap.bearing_rad)]
    if shape.is_round:
        places.insert(1, (_("Two thirds of the radius"), 2 / 3 * reach_m, None))
    for nozzle in nozzles:
        away_m, bearing_rad = nozzle.radius_si, nozzle.bearing_si
        placed = shape.is_round or bearing_rad is not None or away_m == 0
        if away_m is not None and placed and away_m <= shape.reach_m(bearing_rad):
            places.append((_("Nozzle %(mark)s") % {"mark": nozzle.mark}, away_m, bearing_rad))
    for name, radius_m, bearing in places:
        below_m = reading_correction_m(shape, "heap", heap, radius_m, bearing)
        above_m = reading_correction_m(shape, "funnel", funnel, radius_m, bearing)
        yield Correction(
            name, str(units.shown_si(below_m, "length", 3)), str(units.shown_si(above_m, "length", 3))
        )
