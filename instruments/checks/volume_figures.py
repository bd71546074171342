"""Key figures of volume: at LRV and URV, in all, between setpoints, below the outlet, at the overflow."""

from collections.abc import Callable
from dataclasses import replace

from instruments.checks.case import Case
from instruments.checks.finding import Figure, Input, Working
from instruments.checks.frame import Frame
from instruments.checks.ranges import setpoint_level
from instruments.checks.support import (
    GEOMETRY,
    Derived,
    all_known,
    contradiction,
    derive,
    lacks,
    length,
    margin_of,
    worked,
)
from vessels.capacity import figures as capacity_figures
from vessels.capacity.curve import as_curve
from vessels.capacity.figures import Contents

Reading = Callable[[Contents, float], capacity_figures.Figure]


def volume_figures(case: Case, frame: Frame) -> tuple[Figure, ...]:
    """Volumes, by the shape or the strapping table as the vessel says, net of internals.

    Those of outlet and overflow only where these are entered, the one between L and H only where there are both.
    """
    return (
        _volume("volume_lrv", frame, frame.entered("measurement.lrv")),
        _volume("volume_urv", frame, frame.entered("measurement.urv")),
        _total(frame),
        *_working_capacity(case, frame),
        *_of_vessel(case, frame, "volume_dead", "vessel.outlet_elevation", capacity_figures.dead_volume),
        *_of_vessel(case, frame, "volume_overflow", "vessel.overflow_level", capacity_figures.volume_at),
    )


def _of_vessel(case: Case, frame: Frame, key: str, field: str, reading: Reading) -> tuple[Figure, ...]:
    """The volume at a level of the vessel's own, where somebody entered it."""
    level = frame.entered(field)
    if not case.vessel.values or frame.is_empty(level, field):
        return ()
    return (_volume(key, frame, level, reading),)


def _without(key: str, lack: Derived) -> Figure:
    return Figure(key, "volume", None, missing=lack.missing, contradictory=lack.contradictory)


def _volume(key: str, frame: Frame, level: Derived, reading: Reading = capacity_figures.volume_at) -> Figure:
    """The volume below a level that counts from the datum."""
    height = _height(frame, level, "h", "z")
    contents = frame.capacity.contents
    if contents is None or height.value is None:
        return _without(key, lacks(level, frame.capacity.lack, frame.datum_height))
    try:
        volume_m3 = reading(contents, height.value).volume_m3
    except ValueError:  # the one reason of Contents: the level is outside the curve
        return _outside(key, frame, contents)
    working = _net(frame, contents, ("V", volume_m3), ("h", height.value), height)
    return Figure(key, "volume", volume_m3, working=working, notes=_notes(frame))


def _total(frame: Frame) -> Figure:
    contents = frame.capacity.contents
    if contents is None:
        return _without("volume_total", frame.capacity.lack)
    volume_m3 = contents.total_volume_m3
    symbol = "h_table" if frame.capacity.by_table else "H"
    working = _net(frame, contents, ("V", volume_m3), (symbol, contents.highest_level_m), Derived(None))
    return Figure("volume_total", "volume", volume_m3, working=working, notes=_notes(frame))


def _working_capacity(case: Case, frame: Frame) -> tuple[Figure, ...]:
    """The volume between the setpoints L and H, where there are both."""
    key = "volume_working"
    rows = [next((row for row in case.setpoints if row.text("name") == name), None) for name in ("L", "H")]
    if rows[0] is None or rows[1] is None:
        return ()
    low, high = (setpoint_level(row) for row in rows if row is not None)
    contents = frame.capacity.contents
    heights = _height(frame, low, "h_L", "z_L"), _height(frame, high, "h_H", "z_H")
    known = all_known(*heights)
    if contents is None or known is None:
        return (_without(key, lacks(low, high, frame.capacity.lack, frame.datum_height)),)
    if margin_of(known[1], known[0]) <= 0:  # told by the check of their order
        return (_without(key, contradiction("setpoint.level")),)
    try:
        volume_m3 = capacity_figures.working_capacity(contents, *known).volume_m3
        ends = [capacity_figures.volume_at(contents, height_m).volume_m3 for height_m in known]
    except ValueError:
        return (_outside(key, frame, contents),)
    workings = [
        _net(frame, contents, (f"V_{name}", end_m3), (f"h_{name}", height_m), height)
        for name, end_m3, height_m, height in zip(("L", "H"), ends, known, heights, strict=True)
    ]
    inputs = (Input("V_H", ends[1], "volume"), Input("V_L", ends[0], "volume"))
    working = Working("V = V_H − V_L", inputs, "V", volume_m3, "volume", frame.capacity.source)
    parts = [Derived(None, working=one) for one in workings]
    return (Figure(key, "volume", volume_m3, working=worked(working, *parts), notes=_notes(frame)),)


def _height(frame: Frame, level: Derived, symbol: str, of: str) -> Derived:
    """Height of a level above the lowest inside point."""
    known = all_known(level, frame.datum_height)
    if known is None:
        return lacks(level, frame.datum_height)
    inputs = (length(of, known[0]), length("h_datum", known[1]))
    working = Working(f"{symbol} = {of} + h_datum", inputs, symbol, known[0] + known[1], "length", GEOMETRY)
    return derive(working, level, frame.datum_height)


def _net(
    frame: Frame, contents: Contents, volume: tuple[str, float], height: tuple[str, float], rests_on: Derived
) -> Working:
    """The working of a volume (symbol, m³) at a height (symbol, m), and of what internals displace."""
    source, (symbol, volume_m3) = frame.capacity.source, volume
    of_height = (length(*height),)
    if not contents.internals:
        return worked(Working(f"{symbol} = V({height[0]})", of_height, symbol, volume_m3, "volume", source), rests_on)
    gross_m3 = as_curve(contents.source).volume_m3(height[1])
    gross = Working(f"V_gross = V({height[0]})", of_height, "V_gross", gross_m3, "volume", source)
    inputs = (
        Input("V_gross", gross_m3, "volume"),
        Input("V_int", contents.displaced_m3(height[1]), "volume"),
    )
    net = Working(f"{symbol} = V_gross − V_int", inputs, symbol, volume_m3, "volume", source)
    return worked(net, replace(rests_on, working=worked(gross, rests_on)))


def _notes(frame: Frame) -> tuple[str, ...]:
    return ("by_table",) if frame.capacity.by_table else ()


def _outside(key: str, frame: Frame, contents: Contents) -> Figure:
    """The figure of a level at which the vessel, or the rows of its table, hold no volume."""
    if not frame.capacity.by_table:
        return Figure(key, "volume", None, notes=("outside",))
    datum_m = frame.datum_height.value or 0.0
    span = {
        "low": (contents.lowest_level_m - datum_m, "length"),
        "high": (contents.highest_level_m - datum_m, "length"),
    }
    return Figure(key, "volume", None, params=span, notes=("outside_table",))
