"""Elevation and plan of a vessel alone: everything that belongs to it, and no measurement."""

from vessels.drawing import words
from vessels.drawing.nozzles import NozzleDrawing
from vessels.drawing.plan import PlanDrawing
from vessels.drawing.values import VesselValues
from vessels.drawing.vessel import VesselDrawing
from vessels.sketch.plan_scene import PlanScene
from vessels.sketch.scene import Scene

__all__ = ["vessel_plan", "vessel_scene_alone"]


def vessel_scene_alone(values: VesselValues) -> Scene:
    """What the elevation of a vessel shows: its levels, all its nozzles with stand-off, its internals.

    Returns a Scene for `draw_elevation`, with elevations in m from the vessel's datum; without a shape one that says
    so.
    """
    vessel = VesselDrawing(values)
    nozzles = NozzleDrawing(vessel)
    levels = [*vessel.levels(), *nozzles.marks()]
    dimensions = [*vessel.dimensions(), *nozzles.stand_offs()]
    notes = [*vessel.notes(), *nozzles.notes()]
    if nozzles.roof() or nozzles.side() or vessel.internals():
        notes += [note for note in (vessel.sides_note(),) if note]
    spoken = [(mark.name, mark.value) for mark in sorted(levels, key=lambda mark: -mark.elevation_m)]
    spoken += vessel.spoken_dimensions(dimensions)
    return Scene(
        title=vessel.say(words.ELEVATION_TITLE).format(vessel=vessel.number()),
        description="; ".join([*vessel.described(spoken), *vessel.described_internals()]),
        shell=vessel.shell,
        nozzles=nozzles.roof(),
        side_nozzles=nozzles.side(),
        internals=vessel.internals(),
        levels=tuple(levels),
        dimensions=tuple(dimensions),
        slants=vessel.slants(),
        tilt=vessel.tilt,
        notes=tuple(notes),
        words=vessel.drawing_words(),
    )


def vessel_plan(values: VesselValues) -> PlanScene:
    """What the plan of a vessel shows: its outline, all nozzles and internals of which radius and bearing are known.

    Returns a PlanScene for `draw_plan`; without a shape one that says so.
    """
    return PlanDrawing(VesselDrawing(values)).scene()
