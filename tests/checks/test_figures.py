"""Key figures."""

import math

import pytest

from instruments.checks.figures import key_figures
from instruments.physics.radar import derated_range_m, echo_level_db
from tests.checks.builders import ULTRASONIC, make_case


def figures_of(case):
    return {(figure.key, figure.params.get("name", "")): figure for figure in key_figures(case)}


def test_figures_of_the_good_case():
    found = figures_of(make_case())
    assert found["reference_point", ""].value_si == pytest.approx(12.85)
    assert found["distance_lrv", ""].value_si == pytest.approx(12.35)
    assert found["distance_urv", ""].value_si == pytest.approx(0.85)
    # Cone of 0.6 m over a radius of 3 m, then the cylinder: V = π r² h/3 and π r² h (Euclid, Elements XII).
    cone = math.pi * 9 * 0.6 / 3
    assert found["volume_lrv", ""].value_si == pytest.approx(cone * (0.5 / 0.6) ** 3)
    assert found["volume_urv", ""].value_si == pytest.approx(cone + math.pi * 9 * 11.4)
    assert found["volume_total", ""].value_si == pytest.approx(cone + math.pi * 9 * 12)
    assert found["effective_range", ""].value_si == pytest.approx(derated_range_m(30, -9.54, echo_level_db(3)))
    assert found["setpoint_percent", "HH"].value_si == pytest.approx(11.4 / 11.5)
    assert found["setpoint_current", "HH"].value_si == pytest.approx(0.004 + 0.016 * 11.4 / 11.5)


def test_every_figure_has_its_working():
    for figure in key_figures(make_case()):
        assert figure.working is not None
        assert figure.working.result_si == figure.value_si
        assert figure.working.source


def test_reverse_current():
    found = figures_of(make_case({"measurement.direction": "reverse"}, setpoints=[("L", "0.5 m"), ("H", "12 m")]))
    assert found["setpoint_current", "L"].value_si == pytest.approx(0.020)
    assert found["setpoint_current", "H"].value_si == pytest.approx(0.004)
    assert found["setpoint_percent", "L"].value_si == 0.0


def test_the_shortest_range_is_told_with_its_case():
    figure = figures_of(make_case({"case.Maximum.permittivity": "2"}))["effective_range", ""]
    assert figure.params["case"] == "Maximum"
    assert figure.value_si == pytest.approx(derated_range_m(30, -9.54, echo_level_db(2)))
    assert figures_of(make_case(sensor_class=ULTRASONIC))["effective_range", ""].value_si == 8.0


@pytest.mark.parametrize(
    "changes, kwargs, key, missing",
    [
        ({"measurement.lrv": None}, {}, "distance_lrv", "measurement.lrv"),
        ({"measurement.urv": None}, {}, "volume_urv", "measurement.urv"),
        ({"vessel.diameter": None}, {}, "volume_lrv", "vessel.diameter"),
        ({"vessel.diameter": None}, {}, "volume_total", "vessel.diameter"),
        ({"vessel.datum": "dip_plate"}, {}, "volume_urv", "vessel.dip_plate_height"),
        ({}, {"nozzle": False}, "reference_point", "measurement.nozzle"),
        ({}, {"sensor_class": None}, "effective_range", "measurement.sensor_class"),
        ({"case.Normal.medium": None}, {}, "effective_range", "case.medium"),
        ({}, {"cases": ()}, "effective_range", "case.kind"),
    ],
)
def test_what_a_figure_lacks(changes, kwargs, key, missing):
    figure = figures_of(make_case(changes, **kwargs))[key, ""]
    assert figure.value_si is None
    assert missing in figure.missing
    assert figure.working is None


def test_a_range_that_is_missing_in_one_case_is_missing():
    figure = figures_of(make_case({"case.Normal.medium": None}))["effective_range", ""]
    assert figure.params["case"] == "Normal"


def test_volume_counts_from_the_lowest_point_whatever_is_called_zero():
    # The same two levels, said from the tangent line, which is 0.6 m up.
    by_line = {"vessel.datum": "bottom_tangent_line", "measurement.lrv": "-0.1 m", "measurement.urv": "11.4 m"}
    for key in ("volume_lrv", "volume_urv"):
        expected = figures_of(make_case())[key, ""].value_si
        assert figures_of(make_case(by_line))[key, ""].value_si == pytest.approx(expected)


@pytest.mark.parametrize("lrv", ["-0.1 m", "12.600001 m"])
def test_a_level_outside_the_vessel_has_no_volume(lrv):
    figure = figures_of(make_case({"measurement.lrv": lrv}))["volume_lrv", ""]
    assert (figure.value_si, figure.missing, figure.notes) == (None, (), ("outside",))


@pytest.mark.parametrize("urv", [None, "0.5 m"])
def test_no_signal_without_a_span(urv):
    figure = figures_of(make_case({"measurement.urv": urv}))["setpoint_current", "H"]
    assert figure.value_si is None
    assert "measurement.urv" in figure.missing
