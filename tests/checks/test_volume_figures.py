"""Volumes by the shape, net of internals, or by a strapping table; between setpoints, below outlet and at overflow."""

import json
import math

import pytest

from instruments.checks.case import Case, Strapping
from instruments.checks.figures import key_figures
from instruments.checks.finding import Figure
from instruments.checks.frame import Frame
from instruments.wording import describe_figure
from project.quantities import PlantUnits
from tests.checks.builders import UNITS, make_case

# The good tank: a cone of 0.6 m over a radius of 3 m, then 12 m of cylinder. V = π r² h/3 and π r² h (Euclid, Elements
# XII).
AREA = math.pi * 9
CONE = AREA * 0.6 / 3
BY_TABLE = {"vessel.capacity_from": "table"}
TABLE = Strapping("linear", ((0.4, 2.0), (6.0, 150.0), (12.4, 330.0)))
COIL = {"kind": "coil", "name": "E-1", "elevation_low": "1 m", "elevation_high": "3 m", "displaced_volume": "2 m³"}
SPACE = "\u00a0"


def figures_of(case: Case) -> dict[str, Figure]:
    return {figure.key: figure for figure in key_figures(case)}


def note_of(figure: Figure, units: PlantUnits = UNITS) -> str:
    return describe_figure(figure, units).note.replace(SPACE, " ")


# --- by a strapping table -----------------------------------------------------------------------------------


def test_volumes_follow_the_table_where_the_vessel_says_so():
    found = figures_of(make_case({**BY_TABLE, "measurement.lrv": "2 m", "measurement.urv": "12 m"}, strapping=TABLE))
    # Straight lines between the rows, by hand.
    assert found["volume_lrv"].value_si == pytest.approx(2 + 148 * 1.6 / 5.6)
    assert found["volume_urv"].value_si == pytest.approx(150 + 180 * 6 / 6.4)
    assert found["volume_total"].value_si == 330.0
    assert found["volume_overflow"].value_si == pytest.approx(150 + 180 * 6.3 / 6.4)
    assert found["volume_working"].value_si == pytest.approx((150 + 180 * 5.5 / 6.4) - (2 + 148 * 0.6 / 5.6))
    for key in ("volume_lrv", "volume_urv", "volume_total", "volume_overflow", "volume_working"):
        described = describe_figure(found[key], UNITS)
        assert described.note == "by the strapping table"
        assert described.working[-1] == "By the strapping table, linear between its rows"


def test_a_monotone_cubic_goes_through_the_rows_and_says_so():
    cubic = Strapping("monotone_cubic", TABLE.points)
    found = figures_of(make_case({**BY_TABLE, "measurement.lrv": "6 m"}, strapping=cubic))
    assert found["volume_lrv"].value_si == pytest.approx(150.0)
    assert "monotone cubic" in describe_figure(found["volume_urv"], UNITS).working[-1]
    linear = figures_of(make_case({**BY_TABLE, "measurement.lrv": "6 m"}, strapping=TABLE))
    assert found["volume_urv"].value_si != pytest.approx(linear["volume_urv"].value_si, rel=1e-4)


@pytest.mark.parametrize("chosen", [None, "shape"])
def test_a_table_that_does_not_count_changes_nothing(chosen):
    plain = key_figures(make_case())
    assert key_figures(make_case({"vessel.capacity_from": chosen}, strapping=TABLE)) == plain
    assert describe_figure(figures_of(make_case())["volume_urv"], UNITS).working[-1] == "By the shape: geometry"


def test_the_table_counts_from_the_datum():
    """The same table said from the bottom tangent line, 0.6 m up, which is where it counts from then."""
    shifted = Strapping("linear", tuple((level_m - 0.6, volume_m3) for level_m, volume_m3 in TABLE.points))
    by_line = {**BY_TABLE, "vessel.datum": "bottom_tangent_line", "measurement.urv": "11.4 m"}
    figure = figures_of(make_case(by_line, strapping=shifted))["volume_urv"]
    assert figure.value_si == pytest.approx(figures_of(make_case(BY_TABLE, strapping=TABLE))["volume_urv"].value_si)


def test_a_table_needs_no_dimensions():
    found = figures_of(make_case({**BY_TABLE, "vessel.diameter": None}, strapping=TABLE))
    assert found["volume_total"].value_si == 330.0
    assert figures_of(make_case({"vessel.diameter": None}))["volume_total"].value_si is None


def test_no_table_is_missing_and_named():
    found = figures_of(make_case(BY_TABLE))
    for key in ("volume_lrv", "volume_urv", "volume_total", "volume_overflow", "volume_working"):
        assert (found[key].value_si, found[key].missing) == (None, ("strapping.points",))
    assert note_of(found["volume_urv"]) == "needs Levels and volumes (strapping table)"
    lack = Frame(make_case(BY_TABLE)).capacity.lack
    assert lack.fields == ("vessel.capacity_from", "strapping.points")


@pytest.mark.parametrize("lrv", ["0.399999 m", "12.400001 m", "-3 m"])
def test_a_level_outside_the_table_says_where_the_table_runs(lrv):
    figure = figures_of(make_case({**BY_TABLE, "measurement.lrv": lrv}, strapping=TABLE))["volume_lrv"]
    assert (figure.value_si, figure.missing) == (None, ())
    assert note_of(figure) == "outside the strapping table, which runs from 0.4 m to 12.4 m"


def test_its_very_ends_are_inside():
    ends = {**BY_TABLE, "measurement.lrv": "0.4 m", "measurement.urv": "12.4 m"}
    found = figures_of(make_case(ends, strapping=TABLE))
    assert (found["volume_lrv"].value_si, found["volume_urv"].value_si) == (2.0, 330.0)


@pytest.mark.parametrize(
    "strapping, changes, wrong",
    [
        # Its levels lie below the vessel, since the datum moved to the tangent line 0.6 m up.
        (Strapping("linear", ((-0.7, 1.0), (6.0, 150.0))), {"vessel.datum": "bottom_tangent_line"},
         {"strapping.points", "vessel.datum"}),
        (Strapping("linear", ((1.0, 5.0), (2.0, 4.0))), {}, {"strapping.points", "vessel.datum"}),
        (Strapping("linear", ()), {}, {"strapping.points", "vessel.datum"}),
        (Strapping("spiral", TABLE.points), {}, {"strapping.points"}),
        (Strapping("linear", ((0.0, 0.0), (1e300, 5.0))), {}, {"strapping.points"}),
    ],
)  # fmt: skip
def test_rows_that_make_no_table_have_to_be_put_right(strapping, changes, wrong):
    figure = figures_of(make_case({**BY_TABLE, **changes}, strapping=strapping))["volume_urv"]
    assert figure.value_si is None
    assert set(figure.contradictory) == set(figure.missing) == wrong
    assert note_of(figure).startswith("until this is put right: Levels and volumes (strapping table)")


def test_a_table_without_a_datum_is_missing():
    figure = figures_of(make_case({**BY_TABLE, "vessel.datum": "dip_plate"}, strapping=TABLE))["volume_total"]
    assert figure.missing == ("vessel.dip_plate_height",)


def test_a_case_keeps_its_table():
    case = make_case(BY_TABLE, strapping=TABLE)
    again = Case.from_data(json.loads(case.canonical_bytes()))
    assert again == case
    assert again.strapping == TABLE
    assert case.content_hash() != make_case(BY_TABLE).content_hash()
    assert "strapping" not in make_case().to_data()


# --- net of internals ---------------------------------------------------------------------------------------


def test_internals_are_taken_off_the_shape():
    """Straight from nothing at 1 m to 2 m³ at 3 m, as the field says."""
    levels = {"measurement.lrv": "1.5 m", "measurement.urv": "5 m"}
    gross, net = figures_of(make_case(levels)), figures_of(make_case(levels, internals=[COIL]))
    assert net["volume_lrv"].value_si == pytest.approx(gross["volume_lrv"].value_si - 0.5)
    for key in ("volume_urv", "volume_total", "volume_overflow"):
        assert net[key].value_si == pytest.approx(gross[key].value_si - 2)
    # From L at 1 m to H at 11.5 m all of it.
    assert net["volume_working"].value_si == pytest.approx(AREA * 10.5 - 2)
    lines = [line.replace(SPACE, " ") for line in describe_figure(net["volume_lrv"], UNITS).working]
    assert lines[-2] == "V = V_gross − V_int = 31.102 m³ − 0.5 m³ = 30.602 m³"


def test_a_table_has_its_internals_already():
    assert key_figures(make_case(BY_TABLE, strapping=TABLE, internals=[COIL])) == key_figures(
        make_case(BY_TABLE, strapping=TABLE)
    )


def test_an_internal_without_a_volume_takes_no_room():
    assert key_figures(make_case(internals=[{**COIL, "displaced_volume": ""}])) == key_figures(make_case())


@pytest.mark.parametrize(
    "changes, missing, wrong",
    [
        ({"elevation_low": ""}, "internal.elevation_low", False),
        ({"elevation_high": ""}, "internal.elevation_high", False),
        ({"elevation_high": "1 m"}, "internal.elevation_high", True),
        ({"elevation_high": "12.7 m"}, "internal.elevation_high", True),
        ({"elevation_low": "-0.1 m"}, "internal.elevation_low", True),
        ({"displaced_volume": "57 m³"}, "internal.displaced_volume", True),
        ({"displaced_volume": "-1 m³"}, "internal.displaced_volume", True),
    ],
)
def test_an_internal_that_cannot_be_counted(changes, missing, wrong):
    """The section of the tank is 28.27 m²: over 2 m no internal displaces 57 m³."""
    figure = figures_of(make_case(internals=[{**COIL, **changes}]))["volume_urv"]
    assert figure.value_si is None
    assert missing in (figure.contradictory if wrong else figure.missing)
    assert figures_of(make_case(internals=[{**COIL, "displaced_volume": "56 m³"}]))["volume_urv"].value_si is not None


def test_a_volume_that_cannot_be_read_is_missing():
    case = make_case(internals=[{**COIL, "displaced_volume": ""}], unreadable={"internal.displaced_volume": "?"})
    assert figures_of(case)["volume_urv"].missing == ("internal.displaced_volume",)


# --- between setpoints, below the outlet, at the overflow ---------------------------------------------------


def test_the_working_capacity_lies_between_l_and_h():
    figure = figures_of(make_case())["volume_working"]
    assert figure.value_si == pytest.approx(AREA * 10.5)  # 1 m to 11.5 m, above the cone
    lines = [line.replace(SPACE, " ") for line in describe_figure(figure, UNITS).working]
    assert lines[-2] == "V = V_H − V_L = 313.85 m³ − 16.965 m³ = 296.88 m³"


@pytest.mark.parametrize("setpoints", [(), [("H", "11 m")], [("L", "1 m"), ("HH", "12 m")]])
def test_without_l_and_h_there_is_none(setpoints):
    assert "volume_working" not in figures_of(make_case(setpoints=setpoints))


def test_setpoints_without_level_or_out_of_order():
    lacking = figures_of(make_case(setpoints=[("H", "11 m"), ("L", "")]))["volume_working"]
    assert (lacking.missing, lacking.contradictory) == (("setpoint.level",), ())
    for low in ("11 m", "12 m"):
        turned = figures_of(make_case(setpoints=[("H", "11 m"), ("L", low)]))["volume_working"]
        assert turned.contradictory == ("setpoint.level",)
    outside = figures_of(make_case(setpoints=[("H", "12.7 m"), ("L", "1 m")]))["volume_working"]
    assert (outside.value_si, outside.notes) == (None, ("outside",))


def test_what_lies_below_the_outlet_and_at_the_overflow():
    found = figures_of(make_case({"vessel.outlet_elevation": "0.3 m", "vessel.overflow_level": "12.3 m"}))
    assert found["volume_dead"].value_si == pytest.approx(CONE / 8)  # half the height of the cone
    assert found["volume_overflow"].value_si == pytest.approx(CONE + AREA * 11.7)


@pytest.mark.parametrize("stem, key", [("outlet_elevation", "volume_dead"), ("overflow_level", "volume_overflow")])
def test_what_nobody_entered_is_left_out(stem, key):
    assert key not in figures_of(make_case({f"vessel.{stem}": None}))
    assert key not in figures_of(make_case(vessel=False))
    unread = figures_of(make_case({f"vessel.{stem}": None}, unreadable={f"vessel.{stem}": "?"}))[key]
    assert unread.missing == (f"vessel.{stem}",)
    lacking = figures_of(make_case({f"vessel.{stem}": "1 m", "vessel.diameter": None}))[key]
    assert lacking.missing == ("vessel.diameter",)
    assert figures_of(make_case({f"vessel.{stem}": "13 m"}))[key].notes == ("outside",)
