"""The strapping table on its way from the vessel into the Case, and whom a change of it concerns."""

from typing import Any

import pytest

from instruments.checks.case import Strapping
from instruments.checks.figures import key_figures
from instruments.models import Measurement, MeasurementState
from instruments.services.cases import build_case, with_all_inputs
from instruments.services.measurements import create_measurement
from instruments.services.recheck import resting_on
from project.services import delete_row
from tests.factories import actor_of, make_measurement, make_nozzle, make_tag, make_vessel
from tests.services.tables import make_table
from vessels.models import Plant, StrappingTable
from vessels.services import save_vessel

pytestmark = pytest.mark.django_db
POINTS = [[0.0, 0.0], [5.0, 60.0], [10.0, 125.0]]


def loaded(measurement: Measurement) -> Measurement:
    return with_all_inputs(Measurement.objects.filter(pk=measurement.pk)).get()


def state(measurement: Measurement) -> MeasurementState:
    return MeasurementState.objects.get(measurement=measurement)


def test_a_case_holds_the_table_of_its_vessel(plant: Plant) -> None:
    measurement = make_measurement(plant)
    assert measurement.vessel is not None
    assert build_case(loaded(measurement)).strapping is None
    make_table(measurement.vessel, POINTS, "monotone_cubic")
    expected = Strapping("monotone_cubic", ((0.0, 0.0), (5.0, 60.0), (10.0, 125.0)))
    assert build_case(loaded(measurement)).strapping == expected
    # Also where nothing was loaded beforehand.
    assert build_case(Measurement.objects.get(pk=measurement.pk)).strapping == expected


def test_whole_numbers_of_a_file_make_the_same_case(plant: Plant) -> None:
    """JSON knows 5 and 5.0; the Case's bytes must not."""
    measurement = make_measurement(plant)
    assert measurement.vessel is not None
    table = make_table(measurement.vessel, POINTS)
    first = build_case(loaded(measurement)).content_hash()
    StrappingTable.objects.filter(pk=table.pk).update(si_points=[[0, 0], [5, 60], [10, 125]])
    assert build_case(loaded(measurement)).content_hash() == first


def test_a_measurement_without_vessel_has_none(plant: Plant) -> None:
    measurement = create_measurement(actor_of(), make_tag(plant), {})
    assert build_case(loaded(measurement)).strapping is None


def test_figures_of_a_vessel_that_goes_by_its_table(plant: Plant) -> None:
    vessel = make_vessel(plant, capacity_from="table")
    measurement = make_measurement(plant, nozzle=make_nozzle(vessel))
    figures = {one.key: one for one in key_figures(build_case(loaded(measurement)))}
    assert figures["volume_total"].missing == ("strapping.points",)
    make_table(vessel, POINTS)
    figures = {one.key: one for one in key_figures(build_case(loaded(measurement)))}
    assert figures["volume_total"].value_si == 125.0
    assert figures["volume_lrv"].value_si == pytest.approx(6.0)


def test_a_change_of_the_table_is_rechecked_at_once(plant: Plant) -> None:
    measurement, other = make_measurement(plant), make_measurement(plant)
    assert measurement.vessel is not None
    hashes = [state(measurement).input_hash, state(other).input_hash]
    table = make_table(measurement.vessel, POINTS)
    assert list(resting_on(table)) == [measurement]
    hashes.append(state(measurement).input_hash)
    make_table(measurement.vessel, [*POINTS[:2], [10.0, 126.0]])
    hashes.append(state(measurement).input_hash)
    assert len(set(hashes)) == 4
    assert state(other).input_hash == hashes[1]
    assert not state(measurement).dirty
    table.refresh_from_db()
    delete_row(actor_of(), table, table.version)
    assert state(measurement).input_hash == hashes[0]


def test_a_change_of_what_capacity_follows_from_is_rechecked(plant: Plant) -> None:
    measurement = make_measurement(plant)
    vessel = measurement.vessel
    assert vessel is not None
    before = state(measurement).input_hash
    save_vessel(actor_of(), vessel, vessel.version, {"capacity_from": "table"}, [])
    assert state(measurement).input_hash != before


def test_tables_cost_one_query_however_many_vessels(plant: Plant, django_assert_num_queries: Any) -> None:
    for with_table in (True, True, False):
        measurement = make_measurement(plant)
        assert measurement.vessel is not None
        if with_table:
            make_table(measurement.vessel, POINTS)
    # Measurements, connections, who shares their nozzles, setpoints, operating cases, internals, tables.
    with django_assert_num_queries(7):
        cases = [build_case(one) for one in with_all_inputs(Measurement.objects.order_by("pk"))]
    assert [case.strapping is not None for case in cases] == [True, True, False]
