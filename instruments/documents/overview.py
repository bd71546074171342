"""All level instruments of one vessel on its elevation."""

from collections.abc import Sequence

from instruments.checks.case import Case
from instruments.checks.frame import Frame
from instruments.documents.vessel_scene import Translate, VesselScene, scene_of
from project.registry import gettext_noop
from vessels.sketch.scene import Column, Scene, Tick

TITLE = gettext_noop("Elevation of {vessel} with all its level instruments")
SPAN_NOTE = gettext_noop("Filled bars: span from LRV to URV.")
GAUGE_NOTE = gettext_noop("Open bars: what a gauge glass shows.")
NUMBERS_NOTE = gettext_noop("Numbers on the roof: where the instruments stand.")
NO_SPAN = gettext_noop("{tag}: range not given")
SPAN = gettext_noop("{tag} from {low} to {high}")
WITHOUT_TAG = gettext_noop("No tag")
GAUGE_LETTERS = "LG"  # ANSI/ISA-5.1: level, glass


def scene_from_cases(cases: Sequence[Case], *, translate: Translate = str) -> Scene:
    """What the elevation of a vessel shows of all its measurements.

    Parameters
    ----------
    cases      the measurements of one vessel, in the order in which they are numbered
    translate  turns an English text into the reader's language

    Returns a Scene for `draw_overview`; where there is no case, one without a vessel.
    """
    if not cases:
        return Scene(title="", description="")
    vessel = scene_of(cases[0], Frame(cases[0]), translate)
    drawing = vessel.drawing
    levels = tuple(drawing.levels())
    columns = (
        tuple(_column(number, case, vessel) for number, case in enumerate(cases, start=1)) if drawing.placed else ()
    )
    said = (
        (SPAN_NOTE, any(not column.is_gauge and column.low for column in columns)),
        (GAUGE_NOTE, any(column.is_gauge for column in columns)),
        (NUMBERS_NOTE, any(column.offset_m is not None for column in columns)),
    )
    notes = [*drawing.notes(), *(translate(note) for note, holds in said if holds)]
    spoken = [*drawing.described([(mark.name, mark.value) for mark in levels]), *_described(columns, translate)]
    return Scene(
        title=translate(TITLE).format(vessel=drawing.number()),
        description="; ".join([*spoken, *drawing.described_internals()]),
        shell=drawing.shell,
        internals=drawing.internals(),
        columns=columns,
        levels=levels,
        dimensions=tuple(one for one in drawing.dimensions() if one.axis == "width"),
        tilt=drawing.tilt,
        notes=tuple(notes),
        words=drawing.drawing_words(),
    )


def _column(number: int, case: Case, vessel: VesselScene) -> Column:
    frame = Frame(case)
    low, high = frame.entered("measurement.lrv"), frame.entered("measurement.urv")
    is_gauge = case.tag.text("letters").upper().startswith(GAUGE_LETTERS)
    if is_gauge:
        # A glass shows what lies between its connections; a range is seldom given for it.
        low, high = (known if known.value is not None else frame.tap(role)
                     for known, role in ((low, "lower"), (high, "upper")))  # fmt: skip
    radius, face = frame.entered("nozzle.radius"), frame.nozzle_face
    on_roof = frame.arrangement == "one_nozzle" and radius.value is not None and face.value is not None
    bearing = frame.entered("nozzle.bearing").value
    offset_m = vessel.drawing.offset_m(radius.value or 0.0, bearing, unknown_right=False) if on_roof else None
    ticks = [
        Tick(row.text("name"), vessel.entered(row, "level"), level_m, f"setpoint-{row.text('name')}")
        for row in case.setpoints
        if (level_m := row.si("level")) is not None
    ]
    return Column(
        number=number,
        label=case.tag.text("text") or vessel.translate(WITHOUT_TAG),
        place=f"instrument-{number}",
        low_m=low.value,
        high_m=high.value,
        low="" if low.value is None else vessel.shown(low.value),
        high="" if high.value is None else vessel.shown(high.value),
        ticks=tuple(ticks),
        is_gauge=is_gauge,
        offset_m=offset_m,
        face_m=face.value if on_roof else None,
        root_m=vessel.drawing.roof_m(radius.value, bearing),
    )


def _described(columns: Sequence[Column], translate: Translate) -> list[str]:
    """The columns in words."""
    found = []
    for column in columns:
        template = SPAN if column.low and column.high else NO_SPAN
        found.append(translate(template).format(tag=column.label, low=column.low, high=column.high))
        found += [f"{tick.name} {tick.value}" for tick in column.ticks]
    return found
