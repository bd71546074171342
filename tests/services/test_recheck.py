"""States of measurements follow what they rest on: at once for few, in the background for many."""

from pathlib import Path
from typing import Any

import pytest
from django.core.exceptions import ValidationError

from instruments.checks.registry import run_checks
from instruments.models import Document, Measurement, MeasurementState, SensorClassRow
from instruments.services import recheck
from instruments.services.cases import build_case, with_all_inputs
from instruments.services.measurements import copy_measurement, create_measurement, fit_measurement
from instruments.services.recheck import recheck_dirty
from instruments.services.sensor_classes import CLASS_FILES, sync_sensor_classes
from instruments.services.tags import save_tag
from project import dependents
from project.actor import Actor, acting
from project.services import Child, delete_row, save_row
from tests.factories import actor_of, library_class, make_measurement, make_nozzle, make_tag, make_vessel
from vessels.models import Plant
from vessels.services import save_vessel

pytestmark = pytest.mark.django_db


def state(measurement: Measurement) -> MeasurementState:
    return MeasurementState.objects.get(measurement=measurement)


def test_a_change_anywhere_upstream_is_checked_at_once(plant: Plant) -> None:
    measurement = make_measurement(plant)
    assert (state(measurement).worst_grade, state(measurement).dirty) == ("pass", False)
    nozzle = measurement.nozzle
    assert nozzle is not None
    narrow = {"bore": plant.units.parse("30 mm", "length_small")}
    save_row(actor_of(), nozzle, nozzle.version, narrow)
    assert state(measurement).grades_by_family["mounting"] == "stop"
    vessel = measurement.vessel
    assert vessel is not None
    medium = vessel.operating_cases.get().medium
    assert medium is not None
    save_row(actor_of(), medium, medium.version, {"permittivity": plant.units.parse("", "permittivity")})
    assert state(measurement).grades_by_family["reach"] == "missing"
    hot = plant.units.parse("300 °C", "temperature")
    save_vessel(actor_of(), vessel, vessel.version, {"design_temperature_max": hot}, [])
    assert state(measurement).grades_by_family["process"] in ("stop", "missing")


def test_removing_the_operating_cases_is_checked_too(plant: Plant) -> None:
    measurement = make_measurement(plant)
    vessel = measurement.vessel
    assert vessel is not None
    case = vessel.operating_cases.get()
    save_vessel(actor_of(), vessel, vessel.version, {}, [Child(str(case.uid), {}, removed=True)])
    assert vessel.operating_cases.count() == 0
    assert vessel.version == 2
    assert state(measurement).worst_grade == "missing"


def test_many_go_to_the_background(plant: Plant, monkeypatch: Any, django_capture_on_commit_callbacks: Any) -> None:
    monkeypatch.setattr(recheck, "RECHECK_AT_ONCE", 1)
    vessel = make_vessel(plant)
    measurements = [make_measurement(plant, nozzle=make_nozzle(vessel)) for _ in range(3)]
    small = {"cylinder_height": plant.units.parse("5 m", "length")}
    with django_capture_on_commit_callbacks(execute=False) as callbacks:
        save_vessel(actor_of(), vessel, vessel.version, small, [])
    assert callbacks
    assert all(state(one).dirty for one in measurements)
    with django_capture_on_commit_callbacks(execute=True):
        callbacks[0]()
    assert all(not state(one).dirty and state(one).worst_grade == "stop" for one in measurements)


def test_one_action_that_touches_many_one_by_one(
    plant: Plant, monkeypatch: Any, django_capture_on_commit_callbacks: Any
) -> None:
    monkeypatch.setattr(recheck, "RECHECK_AT_ONCE", 2)
    measurements = [make_measurement(plant) for _ in range(4)]
    narrow = {"bore": plant.units.parse("30 mm", "length_small")}
    with django_capture_on_commit_callbacks(execute=True), acting(actor_of(), "change many", plant):
        for one in measurements:
            assert one.nozzle is not None
            save_row(actor_of(), one.nozzle, one.nozzle.version, narrow)
    assert all(not state(one).dirty and state(one).worst_grade == "stop" for one in measurements)


def test_a_recheck_can_be_killed_and_run_again(plant: Plant, monkeypatch: Any) -> None:
    measurements = [make_measurement(plant) for _ in range(3)]
    MeasurementState.objects.update(dirty=True)
    monkeypatch.setattr(recheck, "BATCH", 2)
    calls: list[int] = []
    original = recheck.recheck

    def killed_after_one(rows: Any) -> None:
        if calls:
            raise KeyboardInterrupt
        calls.append(1)
        original(rows)

    monkeypatch.setattr(recheck, "recheck", killed_after_one)
    with pytest.raises(KeyboardInterrupt):
        recheck_dirty()
    assert sum(not state(one).dirty for one in measurements) == 2
    monkeypatch.setattr(recheck, "recheck", original)
    assert recheck_dirty() == 1
    assert recheck_dirty() == 0


def test_a_newer_version_of_the_checks_rechecks_everything(plant: Plant) -> None:
    measurement = make_measurement(plant)
    MeasurementState.objects.update(checks_version=0, worst_grade="stop")
    assert recheck_dirty() == 1
    assert state(measurement).worst_grade == "pass"


def test_a_vessel_knows_what_rests_on_it(plant: Plant) -> None:
    measurement = make_measurement(plant)
    assert measurement.vessel is not None
    assert dependents.affected_by(measurement.vessel) == [measurement]
    assert dependents.affected_by(make_vessel(plant)) == []


def test_document_numbers_are_allotted_once_and_stay(plant: Plant) -> None:
    first, second = make_measurement(plant), make_measurement(plant)
    numbers = [Document.objects.get(measurement=one).number for one in (first, second)]
    assert numbers == ["TP-LD-0001", "TP-LD-0002"]
    tag = first.tag
    save_tag(actor_of(), tag, tag.version, {"number": "777"})
    tag.refresh_from_db()
    assert tag.text == "LT-777"
    assert Document.objects.get(measurement=first).number == "TP-LD-0001"


def test_a_tag_has_one_measurement(plant: Plant) -> None:
    tag = make_tag(plant)
    create_measurement(actor_of(), tag, {})
    with pytest.raises(ValidationError, match="already"):
        create_measurement(actor_of(), tag, {})


def test_the_library_of_classes_syncs_and_never_changes_an_edition(tmp_path: Path) -> None:
    row = library_class()
    assert sync_sensor_classes(Actor(None, "command")) == []
    source = (CLASS_FILES / f"{row.key}.toml").read_text(encoding="utf-8")
    changed = tmp_path / f"{row.key}.toml"
    changed.write_text(source.replace('range_max = "30 m"', 'range_max = "25 m"'), encoding="utf-8")
    with pytest.raises(ValidationError, match="raise the edition"):
        sync_sensor_classes(Actor(None, "command"), tmp_path)
    changed.write_text(changed.read_text(encoding="utf-8").replace("edition = 1", "edition = 2"), encoding="utf-8")
    assert sync_sensor_classes(Actor(None, "command"), tmp_path) == [f"{row.key} 2"]
    row.refresh_from_db()
    assert not row.current
    newer = SensorClassRow.objects.get(key=row.key, current=True)
    assert (row.sensor_class().si("range_max"), newer.sensor_class().si("range_max")) == (30.0, 25.0)


SHARED = "records.shared_connection"


def shared_with(measurement: Measurement) -> tuple[str, object]:
    """Grade of the check and the tags that it names, as kept in the state and as computed now."""
    case = build_case(with_all_inputs(Measurement.objects.filter(pk=measurement.pk)).get())
    (finding,) = [one for one in run_checks(case) if one.code == SHARED]
    assert state(measurement).grades_by_family["records"] == finding.grade
    assert not state(measurement).dirty
    return str(finding.grade), finding.params.get("tags", "")


def test_whoever_shares_a_nozzle_is_told(plant: Plant) -> None:
    first = make_measurement(plant)
    assert first.nozzle is not None
    assert first.vessel is not None
    assert shared_with(first) == ("pass", "")
    second = make_measurement(plant, nozzle=first.nozzle)
    assert shared_with(first) == ("caution", second.tag.text)
    assert shared_with(second) == ("caution", first.tag.text)
    fit_measurement(
        actor_of(),
        second,
        second.version,
        arrangement="one_nozzle",
        vessel=first.vessel,
        nozzles={"sensor": make_nozzle(first.vessel)},
    )
    assert shared_with(first) == ("pass", "")
    assert shared_with(second) == ("pass", "")
    copy = copy_measurement(actor_of(), first, "LT", "9001", "", {"sensor": first.nozzle})
    assert shared_with(first) == ("caution", copy.tag.text)
    delete_row(actor_of(), copy, copy.version)
    assert shared_with(first) == ("pass", "")
