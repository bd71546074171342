"""The elevation of a silo shows the heap that the sensor reads, not a level."""

import math

import pytest

from instruments.checks.frame import Frame
from instruments.checks.solids import heap_at
from instruments.documents.elevation import scene_from_case
from tests.checks.builders import make_case

SILO = {
    "medium.kind": "solid", "medium.angle_of_repose": "35°", "vessel.bottom": "flat", "vessel.bottom_depth": None,
    "vessel.diameter": "6 m", "vessel.cylinder_height": "12 m", "nozzle.radius": "2 m", "measurement.urv": "10 m",
}  # fmt: skip


def test_the_peak_stands_above_the_reading_by_the_slope() -> None:
    """Source: a cone; tan 35° times 2 m is 1.4004 m from the sensor at 2 m to a peak in the middle."""
    case = make_case(SILO)
    heap = heap_at(case, Frame(case), 10.0)
    assert heap is not None
    assert heap.peak_m == pytest.approx(10 + 2 * math.tan(math.radians(35)))
    filling = scene_from_case(case).filling
    assert filling is not None
    left, peak, right = filling.surface
    assert (left[0], peak[0], right[0]) == pytest.approx((-3, 0, 3))
    assert peak[1] - left[1] == pytest.approx(3 * math.tan(math.radians(35)))
    assert left[1] == right[1]


@pytest.mark.parametrize(
    "changes",
    [{"medium.kind": "liquid"}, {"medium.angle_of_repose": None}, {"nozzle.radius": None}, {"vessel.datum": None}],
)
def test_without_what_it_needs_the_surface_is_a_level(changes: dict[str, str | None]) -> None:
    filling = scene_from_case(make_case({**SILO, **changes})).filling
    assert filling is None or filling.surface == ()
