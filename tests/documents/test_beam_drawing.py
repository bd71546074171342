"""Where a beam first meets the wall, marked in the elevation."""

import pytest

from instruments.documents.elevation import scene_from_case
from tests.checks.builders import finding_of, make_case
from vessels.sketch.elevation import draw_elevation


def test_the_place_is_marked_where_the_finding_says():
    case = make_case({"nozzle.radius": "2.5 m"})
    finding, scene = finding_of(case, "mounting.wall"), scene_from_case(case)
    assert scene.beam is not None
    assert scene.beam.met_m == pytest.approx(finding.where.elevation_m)
    assert f'data-place="{finding.place}"' in draw_elevation(scene)
    assert finding.place == "beam-wall"


def test_a_beam_that_clears_the_wall_has_no_mark():
    case = make_case()
    scene = scene_from_case(case)
    assert scene.beam is not None
    assert scene.beam.met_m is None
    drawn = draw_elevation(scene)
    assert "beam-wall" not in drawn
    assert f'data-place="{finding_of(case, "mounting.wall").place}"' in drawn
