"""What an unsaved change would do to the findings that rest on a row: told before anybody saves it."""

import copy
import math
from typing import Any

import pytest

from instruments.checks.case import Case
from instruments.checks.figures import key_figures
from instruments.models import Measurement, MeasurementState
from instruments.services.cases import build_case
from instruments.services.effects import laid_over
from project import dependents
from project.dependents import Draft, Effect
from project.quantities import MISSING
from project.registry import REGISTRY
from project.rows import KeptRow
from tests.factories import make_measurement, make_nozzle, make_vessel
from tests.services.tables import make_table
from vessels.models import Plant

pytestmark = pytest.mark.django_db


def draft_of(row: KeptRow, **texts: str) -> Draft:
    """A row with some quantities typed anew, not saved."""
    plant: Any = row.plant
    changed = copy.copy(row)
    changed.details = dict(row.details)
    for stem, text in texts.items():
        definition = REGISTRY[f"{row.entity}.{stem}"]
        changed.assign(definition, plant.units.parse(text, definition.kind) if text else MISSING)
    return Draft(changed)


def effect_of(draft: Draft) -> Effect:
    (effect,) = dependents.effects_of(draft, 10)
    return effect


def test_a_vessel_that_grows_shows_which_finding_turns(plant: Plant) -> None:
    measurement = make_measurement(plant)
    vessel = measurement.vessel
    assert vessel is not None
    assert MeasurementState.objects.get().worst_grade == "pass"
    effect = effect_of(draft_of(vessel, design_temperature_max="300 °C"))
    assert (effect.what, effect.before) == (measurement, "pass")
    assert effect.after in ("stop", "missing")
    turned = {(shift.before, shift.after) for shift in effect.shifts}
    assert ("pass", "stop") in turned
    assert all(shift.title and shift.sentence for shift in effect.shifts)
    # Nothing was written: the state is that of the saved vessel.
    assert MeasurementState.objects.get().worst_grade == "pass"
    vessel.refresh_from_db()
    assert vessel.quantity("design_temperature_max").typed != "300 °C"


def test_a_change_without_effect_moves_no_judgement(plant: Plant) -> None:
    measurement = make_measurement(plant)
    assert measurement.vessel is not None
    effect = effect_of(draft_of(measurement.vessel, critical_level=""))
    assert (effect.before, effect.after, effect.shifts) == ("pass", "pass", ())


def test_an_operating_case_left_out_counts_as_missing(plant: Plant) -> None:
    measurement = make_measurement(plant)
    assert measurement.vessel is not None
    effect = effect_of(Draft(measurement.vessel, {"operating_cases": []}))
    assert effect.after == "missing"
    assert all(shift.after == "missing" for shift in effect.shifts if shift.before == "pass")


def test_a_nozzle_and_a_medium_are_previewed_too(plant: Plant) -> None:
    measurement = make_measurement(plant)
    nozzle, vessel = measurement.nozzle, measurement.vessel
    assert nozzle is not None
    assert vessel is not None
    assert effect_of(draft_of(nozzle, bore="30 mm")).after == "stop"
    medium = vessel.operating_cases.get().medium
    assert medium is not None
    assert effect_of(draft_of(medium, permittivity="")).after == "missing"


def test_worst_shifts_come_first_and_a_text_that_cannot_be_read_is_missing(plant: Plant) -> None:
    measurement = make_measurement(plant)
    assert measurement.vessel is not None
    changed = draft_of(measurement.vessel, diameter="").row
    effect = effect_of(Draft(changed, unreadable={"vessel.diameter": "“12.” cannot be read"}))
    assert effect.after == "missing"
    ranks = [["stop", "missing", "caution", "pass", "not_applicable", ""].index(shift.after) for shift in effect.shifts]
    assert ranks == sorted(ranks)


def test_no_more_than_asked_for_and_a_fixed_number_of_queries(plant: Plant, django_assert_max_num_queries: Any) -> None:
    first = make_measurement(plant)
    vessel = first.vessel
    assert vessel is not None
    for _more in range(2):
        make_measurement(plant, nozzle=make_nozzle(vessel))
    assert Measurement.objects.filter(vessel=vessel).count() == 3
    draft = draft_of(vessel, diameter="9 m")
    # Measurements, and once each: connections, who shares their nozzles, setpoints, operating cases, internals, tables;
    # and the unit of the draft.
    with django_assert_max_num_queries(8):
        assert len(dependents.effects_of(draft, 10)) == 3
    assert len(dependents.effects_of(draft_of(vessel, diameter="9 m"), 2)) == 2
    assert dependents.effects_of(draft_of(make_vessel(plant, number="V-900"), diameter="9 m"), 10) == []


def test_a_vessel_that_goes_by_its_table_keeps_it_in_the_preview(plant: Plant) -> None:
    measurement = make_measurement(plant)
    vessel = measurement.vessel
    assert vessel is not None
    table = make_table(vessel, [[0.0, 0.0], [10.0, 100.0]])
    before = build_case(measurement)
    changed = draft_of(vessel).row
    changed.assign(REGISTRY["vessel.capacity_from"], "table")
    after = laid_over(before, Draft(changed))
    assert (volume_at_urv(before), volume_at_urv(after)) == (pytest.approx(9.5 * 4 * math.pi), pytest.approx(95.0))
    # And with the rows of the table as they are typed.
    typed = copy.copy(table)
    typed.si_points = [[0.0, 0.0], [10.0, 200.0]]
    assert volume_at_urv(laid_over(after, Draft(typed))) == pytest.approx(190.0)
    assert [effect.what for effect in dependents.effects_of(Draft(typed), 10)] == [measurement]
    table.refresh_from_db()
    assert table.si_points == [[0.0, 0.0], [10.0, 100.0]]


def volume_at_urv(case: Case) -> float | None:
    return next(figure.value_si for figure in key_figures(case) if figure.key == "volume_urv")
