"""The plan: true places and bores, plant north up, names that never overlap."""

import math
from dataclasses import replace

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from tests.sketch.clean import SVG, assert_clean, assert_strict, texts
from tests.sketch.vessel_samples import DEGREE, nozzle, samples, values
from vessels.drawing.plan import Lit, PlanDrawing
from vessels.drawing.scenes import vessel_plan, vessel_scene_alone
from vessels.drawing.values import InternalValues, NozzleValues
from vessels.drawing.vessel import VesselDrawing
from vessels.sketch.elevation import draw_elevation
from vessels.sketch.plan import draw_plan
from vessels.sketch.plan_labels import Wanted, place_labels
from vessels.sketch.plan_scene import PlanScene

SAMPLES = samples()


def circles(svg: str, place: str) -> list[tuple[float, float, float]]:
    """Middle and radius of every circle of a place."""
    root = assert_clean(svg)
    return [
        (float(one.get("cx", "")), float(one.get("cy", "")), float(one.get("r", "")))
        for group in root.iter(f"{SVG}g")
        if group.get("data-place") == place
        for one in group.iter(f"{SVG}circle")
    ]


def test_places_are_to_the_east_and_north_of_the_middle() -> None:
    scene = vessel_plan(
        values("vertical_cylinder", nozzles=tuple(nozzle(f"N{deg}", 2.0, deg) for deg in (0, 90, 180, 270)),
               diameter_m=6.0, cylinder_height_m=3.0)
    )  # fmt: skip
    at = {one.label: one.at for one in scene.nozzles}
    assert at["N0"] == pytest.approx((0, 2))
    assert at["N90"] == pytest.approx((2, 0))
    assert at["N180"] == pytest.approx((0, -2))
    assert at["N270"] == pytest.approx((-2, 0))


def test_north_is_up_and_bores_are_true() -> None:
    tank = values("vertical_cylinder", nozzles=(nozzle("N1", 0.0, bore_m=0.5), nozzle("N2", 1.5, 0, bore_m=1.0)),
                  diameter_m=6.0, cylinder_height_m=3.0)  # fmt: skip
    svg = draw_plan(vessel_plan(tank))
    (x, y, middle_r), (north_x, north_y, north_r) = circles(svg, "nozzle-N1")[0], circles(svg, "nozzle-N2")[0]
    assert north_y < y
    assert north_x == pytest.approx(x, abs=0.02)
    assert north_r == pytest.approx(2 * middle_r, abs=0.02)
    assert (y - north_y) / (2 * middle_r) == pytest.approx(1.5 / 0.5, rel=1e-3)


@pytest.mark.parametrize("axis_deg", [0, 30, 90, 200])
def test_the_outline_is_turned_to_its_bearing(axis_deg: float) -> None:
    """A long box has its far corners half a diagonal away, on either side of its own bearing."""
    box = values(
        "rectangular", box_length_m=8.0, box_width_m=2.0, cylinder_height_m=3.0, axis_bearing_rad=axis_deg * DEGREE
    )
    outline = vessel_plan(box).outline
    bearings = sorted(math.degrees(math.atan2(east, north)) % 360 for east, north in outline)
    aside = math.degrees(math.atan2(1, 4))
    expected = sorted((axis_deg + turn) % 360 for turn in (-aside, aside, 180 - aside, 180 + aside))
    assert bearings == pytest.approx(expected)


def test_the_second_end_lies_where_the_axis_points() -> None:
    """A drum whose right end is the deeper one: the outline reaches farther to the north for a bearing of 0°."""
    drum = values("horizontal_cylinder", "ellipsoidal_2_1", "hemisphere", diameter_m=2.4, cylinder_length_m=6.0,
                  axis_bearing_rad=0.0)  # fmt: skip
    norths = [north for _, north in vessel_plan(drum).outline]
    assert max(norths) == pytest.approx(3 + 1.2)
    assert min(norths) == pytest.approx(-3 - 0.6)


def test_internals_feed_and_footprint_have_their_groups() -> None:
    lit = PlanDrawing(VesselDrawing(SAMPLES["flat-flat"]), used="nozzle-N2", lit=Lit(1.2, 30 * DEGREE, 0.6)).scene()
    svg = draw_plan(lit)
    root = assert_clean(svg)
    places = {group.get("data-place") for group in root.iter(f"{SVG}g")}
    kinds = ("agitator", "ladder", "coil", "baffle", "inlet_stream", "pipe", "well")
    assert {f"internal-{kind}" for kind in kinds} | {"beam", "north", "nozzle-N8"} <= places
    assert [one.label for one in lit.nozzles if one.is_used] == ["N2"]
    swept, coil = circles(svg, "internal-agitator")[0], circles(svg, "internal-coil")[0]
    assert coil[2] / swept[2] == pytest.approx(3.0 / 1.4, rel=1e-3)
    assert lit.footprint is not None
    assert lit.footprint.at == pytest.approx((1.2 * math.sin(30 * DEGREE), 1.2 * math.cos(30 * DEGREE)))
    marked = draw_plan(vessel_plan(SAMPLES["hopper-cone"]))
    assert {"feed", "draw-off"} <= {group.get("data-place") for group in assert_clean(marked).iter(f"{SVG}g")}


def test_the_plan_is_told_in_words() -> None:
    scene = vessel_plan(SAMPLES["flat-flat"])
    spoken = scene.description.replace("\u00a0", " ")
    for part in ("N2 at radius 1.2 m, bearing 30°", "N1 in the middle", "N8 in the side, bearing 90°",
                 "Ladder at radius 1.7 m, bearing 120°"):  # fmt: skip
        assert part in spoken
    assert scene.title == "Plan of T-7001"


def test_what_has_no_place_is_said() -> None:
    tank = values(
        "vertical_cylinder",
        nozzles=(nozzle("N1", 1.0), nozzle("N2", None, 20), nozzle("N3", 400.0, 20)),
        diameter_m=4.0,
        cylinder_height_m=6.0,
    )
    scene = vessel_plan(tank)
    assert scene.nozzles == ()
    assert "Not in the plan, because radius or bearing is not known: N1, N2." in scene.notes
    assert "Not in the plan, because it would be far outside the vessel: N3." in scene.notes


def test_without_a_vessel_the_plan_says_so() -> None:
    svg = draw_plan(PlanScene("Plan of T-1", ""))
    assert [one.text for one in texts(assert_clean(svg))] == ["No plan yet: the vessel's dimensions are missing"]


@pytest.mark.parametrize("argument", ["width_px", "height_px"])
def test_a_size_too_small_for_a_plan_is_refused(argument: str) -> None:
    with pytest.raises(ValueError, match=rf"{argument} = .* accepted is \d+ or more"):
        draw_plan(vessel_plan(SAMPLES["box"]), **{argument: 100.0})


def test_names_are_escaped() -> None:
    evil = "<script>\"'&\x00"
    scene = vessel_plan(SAMPLES["flat-flat"])
    hostile = replace(scene, title=evil, nozzles=tuple(replace(one, label=evil, place=evil) for one in scene.nozzles))
    assert "<script" not in draw_plan(hostile)


def test_names_go_elsewhere_where_there_is_no_room_beside() -> None:
    """Thirty names of one point: all placed, none over another; the frame grows only when it is full."""
    wanted = [Wanted(f"N{number}", (50.0, 50.0), 3.0, 30.0, 12.0) for number in range(30)]
    labels, bottom = place_labels(wanted, [((50.0, 50.0), 3.0)], (0.0, 0.0, 100.0, 100.0))
    boxes = [label.box for label in labels]
    for number, (left, top, right, low) in enumerate(boxes):
        for other in boxes[number + 1 :]:
            assert right <= other[0] or other[2] <= left or low <= other[1] or other[3] <= top
    assert bottom == max(100.0, *(box[3] for box in boxes))
    assert bottom > 100
    few, same = place_labels(wanted[:3], [], (0.0, 0.0, 100.0, 100.0))
    assert same == 100
    assert all(label.leader is None for label in few)


# --- whatever is entered ----------------------------------------------------------------------------

KINDS = ["ladder", "coil", "baffle", "agitator", "inlet_stream", "pipe", "well", "?"]
lengths = st.floats(0.3, 40)
radii = st.one_of(st.none(), st.floats(0, 60))
bearings = st.one_of(st.none(), st.floats(0, math.tau))
bores = st.one_of(st.none(), st.floats(0.01, 3), st.sampled_from([1e-6, 1e6]))
marks = st.text(alphabet="ABCDEFGHIJKLMN0123456789 ", min_size=1, max_size=12)
nozzles = st.lists(
    st.builds(
        NozzleValues, mark=marks, place=st.sampled_from(["n1", "n2"]), bore_m=bores, radius_m=radii,
        bearing_rad=bearings, face_m=st.one_of(st.none(), st.floats(-2, 60)), face_shown=st.just("3.25 m"),
    )
    | st.builds(
        NozzleValues, mark=marks, place=st.sampled_from(["n3", "n4"]), bore_m=bores, radius_m=radii,
        bearing_rad=bearings, projection_m=st.floats(0, 3),
    ),
    max_size=12,
).map(tuple)  # fmt: skip
internals = st.lists(
    st.builds(
        InternalValues, kind=st.sampled_from(KINDS), place=st.just("internal-1"),
        name=st.sampled_from(["", "A rather long name of a thing"]), radius_m=radii,
        bearing_rad=bearings, low_m=st.floats(-5, 40), high_m=st.floats(-5, 40), width_m=bores,
    ),
    max_size=6,
).map(tuple)  # fmt: skip
bodies = st.one_of(
    st.builds(lambda d, h: ("vertical_cylinder", "ellipsoidal_2_1", "cone",
                            {"diameter_m": d, "cylinder_height_m": h, "top_depth_m": h / 4}), lengths, lengths),
    st.builds(lambda d, u, h: ("vertical_frustum", "flat", "flat",
                               {"diameter_m": d, "upper_diameter_m": u, "cylinder_height_m": h}),
              lengths, lengths, lengths),
    st.builds(lambda a, b, h, t: ("rectangular", "pyramid_hopper", "flat",
                                  {"box_length_m": a, "box_width_m": b, "cylinder_height_m": h, "bottom_depth_m": h / 2,
                                   "outlet_length_m": a / 5, "outlet_width_m": b / 5, "axis_bearing_rad": t}),
              lengths, lengths, lengths, st.floats(0, 6.28)),
    st.builds(lambda d, n, t, s: ("horizontal_cylinder", "asme_fd", "hemisphere",
                                  {"diameter_m": d, "cylinder_length_m": d * n, "axis_bearing_rad": t, "tilt_rad": s,
                                   "top_straight_flange_m": d / 30}),
              st.floats(0.3, 8), st.floats(1, 12), st.floats(0, 6.28), st.floats(-0.7, 0.7)),
    st.builds(lambda w, h, n: ("horizontal_oval", "flat", "flat",
                               {"box_width_m": w, "section_height_m": h, "cylinder_length_m": n}),
              lengths, lengths, lengths),
    st.builds(lambda d, h: ("spheroid", "flat", "flat", {"diameter_m": d, "section_height_m": h}), lengths, lengths),
)  # fmt: skip


# Without shrinking: a failing vessel is readable as it is, and making it smaller takes minutes.
@settings(max_examples=120, deadline=None, phases=[Phase.explicit, Phase.generate])
@given(body=bodies, openings=nozzles, inside=internals, for_print=st.booleans(), footprint=st.floats(0, 1e9))
def test_any_vessel_can_be_read_in_elevation_and_plan(
    body: tuple[str, str, str, dict[str, float]],
    openings: tuple[NozzleValues, ...],
    inside: tuple[InternalValues, ...],
    for_print: bool,
    footprint: float,
) -> None:
    name, bottom, top, sizes = body
    vessel = values(name, bottom, top, nozzles=openings, internals=inside, **sizes)
    size = 240.0 if for_print else 320.0
    plan = PlanDrawing(VesselDrawing(vessel), lit=Lit(0.0, None, footprint)).scene()
    for svg in (
        draw_elevation(vessel_scene_alone(vessel), width_px=size + 60, height_px=size, for_print=for_print),
        draw_plan(plan, width_px=size, height_px=size, for_print=for_print),
    ):
        assert_strict(svg)
        assert_clean(svg)
