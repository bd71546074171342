"""What changes plants, units, media, vessels, operating cases and nozzles. Every function is one transaction."""

from typing import cast

from django.core.exceptions import ValidationError
from django.utils.translation import gettext

from project.accounts.models import Membership, Role
from project.actor import Actor, acting
from project.quantities import UnreadableQuantity
from project.recompute import recompute_si
from project.services import Changes, Child, children_differ, create_row, save_children, save_row
from vessels.models import Medium, Nozzle, Plant, PlantUnit, Vessel


def create_plant(actor: Actor, changes: Changes, *, invented: bool = False) -> Plant:
    """Create a plant; whoever does becomes its administrator and originator."""
    with acting(actor, "create plant") as action:
        plant = cast(Plant, create_row(actor, Plant(invented=invented), changes))
        action.plant = plant
        action.save(update_fields=["plant"])
        if actor.user is not None:
            for role in (Role.ADMINISTRATOR, Role.ORIGINATOR):
                Membership.objects.create(user=actor.user, plant=plant, role=role)
    return plant


def save_plant(actor: Actor, plant: Plant, version: int, changes: Changes) -> bool:
    """Change a plant. A new atmosphere recomputes the SI value of every gauge pressure; typed texts stay."""
    with acting(actor, "change plant", plant):
        atmosphere_before = plant.atmosphere_si
        written = save_row(actor, plant, version, changes)
        if plant.atmosphere_si != atmosphere_before:
            try:
                recompute_si(plant)
            except UnreadableQuantity as problem:
                # A vacuum that was typed as gauge may not exist at the new atmosphere.
                raise ValidationError({"atmosphere": gettext(problem.template) % problem.params}) from problem
    return written


def create_unit(actor: Actor, plant: Plant, changes: Changes) -> PlantUnit:
    return cast(PlantUnit, create_row(actor, PlantUnit(plant=plant), changes))


def create_medium(actor: Actor, plant: Plant, changes: Changes) -> Medium:
    return cast(Medium, create_row(actor, Medium(plant=plant), changes))


def create_vessel(actor: Actor, plant: Plant, changes: Changes, cases: list[Child]) -> Vessel:
    """Create a vessel with its operating cases."""
    with acting(actor, "create vessel", plant):
        vessel = cast(Vessel, create_row(actor, Vessel(plant=plant), changes))
        save_children(vessel.operating_cases, "vessel", vessel, cases)
    return vessel


def save_vessel(actor: Actor, vessel: Vessel, version: int, changes: Changes, cases: list[Child]) -> bool:
    """Change a vessel and its operating cases, which count in the vessel's version."""
    with acting(actor, "change vessel", vessel.plant):
        # The version is compared first: a stale edit must not touch the operating cases either.
        changed = save_row(actor, vessel, version, changes, touch=children_differ(vessel.operating_cases, cases))
        save_children(vessel.operating_cases, "vessel", vessel, cases)
    return changed


def create_nozzle(actor: Actor, vessel: Vessel, changes: Changes) -> Nozzle:
    return cast(Nozzle, create_row(actor, Nozzle(plant=vessel.plant, vessel=vessel), changes))
