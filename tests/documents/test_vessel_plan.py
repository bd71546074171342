"""The plan of a Case: connections, internals and what the beam covers."""

import math

import pytest

from instruments.documents.vessel_scene import plan_from_case
from tests.documents.sketch_samples import SAMPLES, on_side, sample
from vessels.sketch.plan import draw_plan

RADAR_BEAM_RAD = math.radians(8)  # of the class that samples use


def test_the_nozzle_stands_at_its_radius_and_bearing_with_its_beam() -> None:
    """At LRV 0.4 m, below a face at 12.3 m, a beam of 8° covers (12.3 − 0.4)·tan 4° (half-power cone)."""
    scene = plan_from_case(sample(nozzle={"bearing": "90 deg"}))
    (nozzle,) = scene.nozzles
    assert (nozzle.label, nozzle.is_used, nozzle.bore_m) == ("N3", True, 0.082)
    assert nozzle.at == pytest.approx((1.2, 0))
    assert scene.footprint is not None
    assert scene.footprint.at == nozzle.at
    assert scene.footprint.radius_m == pytest.approx((12.3 - 0.4) * math.tan(RADAR_BEAM_RAD / 2))
    assert 'data-place="beam"' in draw_plan(scene)


def test_without_lrv_the_beam_is_drawn_at_the_bottom() -> None:
    """On the cone of 1.5 m, at 1.2 m of 2 m radius, the bottom stands 0.6 m below the tangent line."""
    scene = plan_from_case(sample(nozzle={"bearing": "90 deg"}, measurement={"lrv": ""}))
    assert scene.footprint is not None
    assert scene.footprint.radius_m == pytest.approx((12.3 + 0.6) * math.tan(RADAR_BEAM_RAD / 2))


def test_internals_and_side_connections() -> None:
    scene = plan_from_case(SAMPLES["internals"])
    assert {one.name for one in scene.internals} >= {"Ladder", "Agitator", "Coil", "Baffle", "Stilling well"}
    assert any("Pipe" in note for note in scene.notes)  # one has no bearing
    taps = plan_from_case(on_side(sample(measurement={"arrangement": "two_taps"}), "11 m", "0.2 m"))
    assert (taps.nozzles, taps.stubs, taps.footprint) == ((), (), None)
    assert "Not in the plan, because radius or bearing is not known: N5, N6." in taps.notes


def test_gaps_leave_the_plan_without_what_is_missing() -> None:
    assert plan_from_case(SAMPLES["no-vessel"]).outline == ()
    without_bearing = plan_from_case(sample())
    assert (without_bearing.nozzles, without_bearing.footprint) == ((), None)
    assert len(without_bearing.outline) > 20


@pytest.mark.parametrize("name", SAMPLES)
def test_every_sample_has_a_plan(name: str) -> None:
    assert draw_plan(plan_from_case(SAMPLES[name]), for_print=True).startswith("<svg")
