"""Plants: unit sets change views only, the atmosphere recomputes gauge pressures, plants stay apart."""

import pytest
from django.core.exceptions import ValidationError
from django.test import Client
from django.urls import reverse

from project.accounts.models import Membership, Role, User
from project.actor import Actor
from project.services import OtherPlant, create_row, save_row
from tests.factories import actor_of, make_measurement, make_medium, make_plant, make_unit, make_vessel
from tests.web.pages import send
from vessels.models import Plant, Vessel
from vessels.services import create_plant, save_plant

pytestmark = pytest.mark.django_db


def test_whoever_creates_a_plant_administers_it(originator: User) -> None:
    plant = create_plant(Actor(originator, "form"), {"code": "ZZ", "name": "Mine"})
    assert set(Membership.objects.filter(plant=plant, user=originator).values_list("role", flat=True)) == {
        Role.ADMINISTRATOR,
        Role.ORIGINATOR,
    }


def test_a_new_atmosphere_recomputes_gauge_pressures_and_keeps_what_was_typed(plant: Plant) -> None:
    measurement = make_measurement(plant)
    vessel = Vessel.objects.get()
    relief = make_vessel(plant, relief_setting="0.4 bar(g)")
    absolute = make_vessel(plant, design_pressure_max="3 bar(a)")
    before = vessel.design_pressure_max_si
    new = plant.units.parse("0.8 bar(a)", "pressure_absolute")
    assert save_plant(actor_of(), plant, plant.version, {"atmosphere": new})
    vessel.refresh_from_db()
    absolute.refresh_from_db()
    assert vessel.design_pressure_max_typed == "0.5 bar(g)"
    assert before == pytest.approx(151_325.0)
    assert vessel.design_pressure_max_si == pytest.approx(130_000.0)
    assert absolute.design_pressure_max_si == pytest.approx(300_000.0)
    assert vessel.history.latest().design_pressure_max_si == pytest.approx(130_000.0)
    relief.refresh_from_db()
    assert relief.quantity("relief_setting").typed == "0.4 bar(g)"
    assert relief.quantity("relief_setting").si == pytest.approx(120_000.0)
    case = vessel.operating_cases.get()
    assert case.pressure_si == pytest.approx(90_000.0)
    measurement.state.refresh_from_db()
    assert not measurement.state.dirty


def test_an_atmosphere_that_makes_a_kept_pressure_impossible_is_refused(plant: Plant) -> None:
    make_vessel(plant, design_pressure_min="-0.9 bar(g)")
    new = plant.units.parse("0.8 bar(a)", "pressure_absolute")
    with pytest.raises(ValidationError, match="below perfect vacuum"):
        save_plant(actor_of(), plant, plant.version, {"atmosphere": new})
    assert Plant.objects.get().atmosphere_typed == "1.01325 bar(a)"
    assert Plant.objects.get().version == 1


def test_the_unit_set_changes_views_and_nothing_that_is_kept(logged_in: Client, plant: Plant) -> None:
    measurement = make_measurement(plant)
    kept = list(Vessel.objects.values()), list(type(measurement).objects.values())
    assert send(logged_in, reverse("plant_edit", args=[plant.uid]), plant__unit_set="us").status_code == 302
    assert (list(Vessel.objects.values()), list(type(measurement).objects.values())) == kept
    page = logged_in.get(reverse("vessel_view", args=[measurement.vessel.uid])).content.decode()
    assert "13.123\u00a0ft" in page  # 4 m
    form = logged_in.get(reverse("vessel_edit", args=[measurement.vessel.uid])).content.decode()
    assert 'value="4 m"' in form


def test_references_across_plants_are_refused_by_the_service(plant: Plant) -> None:
    other = make_plant("FAR")
    foreign_unit, foreign_medium = make_unit(other), make_medium(other)
    with pytest.raises(OtherPlant):
        create_row(actor_of(), Vessel(plant=plant), {"number": "T-9", "unit": foreign_unit})
    vessel = make_vessel(plant)
    case = vessel.operating_cases.get()
    with pytest.raises(OtherPlant):
        save_row(actor_of(), case, case.version, {"medium": foreign_medium})
    assert not Vessel.objects.filter(number="T-9").exists()
