"""What changes plants, units, media, vessels and what is part of them. Every function is one transaction."""

import hashlib
from collections.abc import Mapping, Sequence
from pathlib import PurePath
from typing import cast

from django.core.exceptions import ValidationError
from django.db.models import QuerySet
from django.utils.translation import gettext

from project.accounts.models import Membership, Role
from project.actor import Actor, acting
from project.copying import copy_row
from project.quantities import UnreadableQuantity
from project.recompute import recompute_si
from project.rows import PlantRow
from project.services import Changes, Child, children_differ, create_row, save_children, save_row, telling_of_children
from vessels.file_kinds import sniff
from vessels.media_library import LibraryMedium
from vessels.models import Attachment, AttachmentBytes, Medium, Nozzle, Plant, PlantUnit, StrappingTable, Vessel


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


def copy_from_library(actor: Actor, plant: Plant, media: Sequence[LibraryMedium]) -> list[Medium]:
    """Copies of media of the library in a plant, all or none, to be edited there.

    Raises ValidationError, a sentence for each medium, where the plant has one of the same name already.
    """
    with acting(actor, "copy media from the library", plant):
        taken = {name.casefold() for name in Medium.objects.filter(plant=plant).values_list("name", flat=True)}
        there = [one.name for one in media if one.name.casefold() in taken]
        if there:
            sentence = gettext(
                "“%(name)s” is in this plant already. Edit that one; or give it another name, then copy again."
            )
            raise ValidationError([sentence % {"name": name} for name in there])
        return [create_medium(actor, plant, one.entered()) for one in media]


def create_vessel(
    actor: Actor, plant: Plant, changes: Changes, cases: list[Child], internals: list[Child] | None = None
) -> Vessel:
    """Create a vessel with its operating cases and internals."""
    with acting(actor, "create vessel", plant):
        vessel = cast(Vessel, create_row(actor, Vessel(plant=plant), changes))
        save_children(vessel.operating_cases, "vessel", vessel, cases)
        save_children(vessel.internals, "vessel", vessel, internals or [])
    return vessel


def save_vessel(
    actor: Actor,
    vessel: Vessel,
    version: int,
    changes: Changes,
    cases: list[Child],
    internals: list[Child] | None = None,
) -> bool:
    """Change a vessel, its operating cases and (where given) its internals, which count in the vessel's version."""
    with acting(actor, "change vessel", vessel.plant):
        # The version is compared first: a stale edit must not touch the child rows either.
        touch = children_differ(vessel.operating_cases, cases)
        touch = touch or (internals is not None and children_differ(vessel.internals, internals))
        with (
            telling_of_children(vessel.operating_cases, cases),
            telling_of_children(vessel.internals, internals or []),
        ):
            changed = save_row(actor, vessel, version, changes, touch=touch)
        save_children(vessel.operating_cases, "vessel", vessel, cases)
        if internals is not None:
            save_children(vessel.internals, "vessel", vessel, internals)
    return changed


def create_nozzle(actor: Actor, vessel: Vessel, changes: Changes) -> Nozzle:
    return cast(Nozzle, create_row(actor, Nozzle(plant=vessel.plant, vessel=vessel), changes))


def copy_vessel(actor: Actor, source: Vessel, number: str) -> Vessel:
    """A vessel with a new number and everything else carried: dimensions, operating cases, internals, nozzles."""
    with acting(actor, "copy vessel", source.plant):
        vessel = copy_row(actor, source, number=number)
        tables = StrappingTable.objects.filter(vessel=source)
        for child in (*source.operating_cases.all(), *source.internals.all(), *source.nozzles.all(), *tables):
            copy_row(actor, child, vessel=vessel)
    return vessel


def owner_of(attachment: Attachment, owners: Mapping[str, type[PlantRow]]) -> PlantRow | None:
    """The row that an attachment belongs to, of one of the given entities."""
    model = owners.get(attachment.owner_entity)
    return model.objects.filter(uid=attachment.owner_uid).first() if model is not None else None


def attachments_of(owner: PlantRow) -> QuerySet[Attachment]:
    """What is attached to a row, without the bytes."""
    return Attachment.objects.filter(owner_entity=owner.entity, owner_uid=owner.uid)


def attach(actor: Actor, owner: PlantRow, data: bytes, file_name: str, *, kind: str, title: str = "") -> Attachment:
    """Attach a file to a row. Raises UnacceptableFile for what is no PDF or picture, or too large."""
    content_type, ending = sniff(data)
    # The name is only a label: its ending is what the bytes say.
    stem = PurePath(file_name.replace("\\", "/")).stem.replace("\x00", "")[:100] or "file"
    with acting(actor, "attach file", owner.plant):
        attachment = Attachment(
            plant=owner.plant,
            owner_entity=owner.entity,
            owner_uid=owner.uid,
            kind=kind,
            title=title,
            file_name=stem + ending,
            content_type=content_type,
            size=len(data),
            sha256=hashlib.sha256(data).hexdigest(),
        )
        create_row(actor, attachment, {})
        AttachmentBytes.objects.create(attachment=attachment, data=data)
    return attachment


def save_strapping(
    actor: Actor, table: StrappingTable, version: int, changes: Changes, si_points: list[list[float]]
) -> bool:
    """Create or change a strapping table. si_points are the rows of the changed "points", as [level_m, volume_m3]."""
    with acting(actor, "change strapping table", table.plant):
        table.si_points = si_points
        if table.pk is None:
            create_row(actor, table, changes)
            return True
        return save_row(actor, table, version, changes)
