"""The two columns of a quantity: declared together, constrained, and true to what was typed."""

from typing import Any

import pytest
from django.apps import apps
from django.core.management import call_command
from django.db import IntegrityError, transaction

from instruments.models import SensorClassRow
from project.recompute import kept_models
from project.rows import KeptRow
from tests.factories import make_measurement, make_nozzle, make_vessel
from vessels.models import Nozzle, Plant, Vessel

# A sensor class keeps its values with their provenance as one document, which the model itself reads and writes.
KEPT = [model for model in apps.get_models() if issubclass(model, KeptRow) and model is not SensorClassRow]


@pytest.mark.parametrize("model", KEPT, ids=lambda model: model.__name__)
def test_every_quantity_has_both_columns_and_a_constraint(model: type[KeptRow]) -> None:
    columns = {field.name for field in model._meta.get_fields()}
    constraints = {constraint.name for constraint in model._meta.constraints}
    stems = {name.removesuffix("_si") for name in columns if name.endswith("_si")}
    for definition in model.field_defs():
        if definition.is_quantity and definition.stored == "column":
            assert {f"{definition.stem}_typed", f"{definition.stem}_si"} <= columns, definition.key
            stems.discard(definition.stem)
            assert any(name.endswith(f"_{definition.stem}_both") for name in constraints), definition.key
    assert not stems, f"columns without a field in the registry: {stems}"


@pytest.mark.django_db
def test_half_a_quantity_is_refused_by_the_database(plant: Plant) -> None:
    vessel = make_vessel(plant)
    with pytest.raises(IntegrityError), transaction.atomic():
        Vessel.objects.filter(pk=vessel.pk).update(diameter_si=None)
    with pytest.raises(IntegrityError), transaction.atomic():
        Vessel.objects.filter(pk=vessel.pk).update(overflow_level_si=3.0)


@pytest.mark.django_db
def test_face_and_projection_together_are_refused_by_the_database(plant: Plant) -> None:
    nozzle = make_nozzle(make_vessel(plant))
    with pytest.raises(IntegrityError), transaction.atomic():
        Nozzle.objects.filter(pk=nozzle.pk).update(projection_typed="1 m", projection_si=1.0)


@pytest.mark.django_db
def test_si_columns_are_what_the_typed_text_says(plant: Plant) -> None:
    make_measurement(plant)
    compared = 0
    for model in kept_models():
        for row in model._default_manager.all():
            for definition in model.field_defs():
                if definition.is_quantity:
                    kept = row.value(definition)
                    assert plant.units.parse(kept.typed, definition.kind).si == kept.si, definition.key
                    compared += kept.si is not None
    assert compared > 15


@pytest.mark.django_db
def test_recompute_mends_a_wrong_si_value(plant: Plant, capsys: Any) -> None:
    vessel = make_vessel(plant)
    Vessel.objects.filter(pk=vessel.pk).update(diameter_si=99.0)
    call_command("recompute_si")
    vessel.refresh_from_db()
    assert (vessel.diameter_typed, vessel.diameter_si) == ("4 m", 4.0)
    assert "1 rows changed" in capsys.readouterr().out
    call_command("recompute_si")
    assert f"{plant.code}: 0 rows changed" in capsys.readouterr().out
