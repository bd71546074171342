"""Loading the demonstration plant from readable files, through the services that a person's input takes."""

import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from django.contrib.auth.hashers import make_password

from instruments.models import SensorClassRow, Setpoint, Tag
from instruments.services.measurements import PageEdit, create_measurement, save_page
from instruments.services.recheck import recheck_dirty
from instruments.services.sensor_classes import sync_sensor_classes
from instruments.services.tags import create_tag
from project.accounts.demo import DEMO_LOGINS
from project.accounts.models import Membership, Role, User
from project.actor import Actor, acting
from project.fields import read_quantity
from project.quantities import PlantUnits
from project.rows import KeptRow
from project.services import Child
from vessels.capacity.paste import read_paste
from vessels.models import Internal, Medium, Nozzle, OperatingCase, Plant, PlantUnit, StrappingTable, Vessel
from vessels.services import (
    create_medium,
    create_nozzle,
    create_plant,
    create_unit,
    create_vessel,
    save_strapping,
)

DEMO_FOLDER = Path(__file__).resolve().parent.parent / "data" / "demo" / "kestrel_reach"


def demo_users() -> dict[str, User]:
    """The demonstration log-ins, created where they are missing."""
    users = {}
    for name, password, _label in DEMO_LOGINS:
        user, _created = User.objects.get_or_create(
            username=name,
            defaults={
                "password": make_password(password),
                "can_create_plants": name in ("originator", "administrator"),
            },
        )
        users[name] = user
    return users


def read_changes(
    model: type[KeptRow], raw: Mapping[str, Any], units: PlantUnits, links: Mapping[str, Any] | None = None
) -> dict[str, Any]:
    """Texts of a file as the changes of a row: quantities parsed, links looked up. KeyError for an unknown stem."""
    definitions = {definition.stem: definition for definition in model.field_defs()}
    changes: dict[str, Any] = dict(links or {})
    for stem, text in raw.items():
        definition = definitions[stem]
        changes[stem] = read_quantity(definition, units, text) if definition.is_quantity else text
    return changes


def read_demo(folder: Path = DEMO_FOLDER) -> dict[str, Any]:
    """All files of a plant as one: its own table, and the lists of each file one after the other."""
    data: dict[str, Any] = {}
    for path in sorted(folder.glob("*.toml")):
        for name, part in tomllib.loads(path.read_text(encoding="utf-8")).items():
            data[name] = [*data.get(name, []), *part] if isinstance(part, list) else part
    return data


def load_demo(folder: Path = DEMO_FOLDER) -> Plant | None:
    """Load the demonstration plant. Returns None, and loads nothing, where a plant of its code exists."""
    data = read_demo(folder)
    if Plant.objects.filter(code=data["plant"]["code"]).exists():
        return None
    sync_sensor_classes(Actor(None, "command"))
    users = demo_users()
    actor = Actor(users["originator"], "demo")
    with acting(actor, "load demonstration plant"):
        plant = create_plant(actor, read_changes(Plant, data["plant"], PlantUnits()), invented=True)
        # The creator's administrator role goes to the administrator: one demonstration log-in, one role.
        plant.memberships.all().delete()
        for name, user in users.items():
            Membership.objects.create(user=user, plant=plant, role=Role(name))
        _load_rows(actor, plant, data)
        # The end of an action rechecks only a few; here all grades are to be true at once.
        recheck_dirty()
    return plant


def _load_rows(actor: Actor, plant: Plant, data: Mapping[str, Any]) -> None:
    units = {
        raw["number"]: create_unit(actor, plant, read_changes(PlantUnit, raw, plant.units)) for raw in data["units"]
    }
    media = {raw["name"]: create_medium(actor, plant, read_changes(Medium, raw, plant.units)) for raw in data["media"]}
    nozzles: dict[tuple[str, str], Nozzle] = {}
    for raw in data["vessels"]:
        vessel = _load_vessel(actor, plant, raw, units, media)
        for nozzle in raw["nozzles"]:
            row = create_nozzle(actor, vessel, read_changes(Nozzle, nozzle, plant.units))
            nozzles[vessel.number, row.mark] = row
        if "strapping" in raw:
            _load_strapping(actor, vessel, raw["strapping"])
    for raw in data["measurements"]:
        _load_measurement(actor, plant, raw, units, nozzles)
    for raw in data["tags"]:
        _load_tag(actor, plant, raw, units[raw["unit"]])


def _load_vessel(
    actor: Actor, plant: Plant, raw: Mapping[str, Any], units: Mapping[str, PlantUnit], media: Mapping[str, Medium]
) -> Vessel:
    parts = ("unit", "nozzles", "cases", "internals", "strapping")
    own = {stem: text for stem, text in raw.items() if stem not in parts}
    cases = [
        Child(
            "",
            read_changes(
                OperatingCase,
                {stem: text for stem, text in case.items() if stem != "medium"},
                plant.units,
                {"medium": media[case["medium"]]} if "medium" in case else None,
            ),
        )
        for case in raw.get("cases", [])
    ]
    internals = [Child("", read_changes(Internal, one, plant.units)) for one in raw.get("internals", [])]
    changes = read_changes(Vessel, own, plant.units, {"unit": units[raw["unit"]]})
    return create_vessel(actor, plant, changes, cases, internals)


def _load_strapping(actor: Actor, vessel: Vessel, raw: Mapping[str, Any]) -> None:
    """The strapping table of a vessel from pasted text; bare numbers take the units of the heading or of the plant.

    Raises ImpossibleTable, with every row at fault, where the text makes no table.
    """
    units = vessel.plant.units
    pasted = read_paste(raw["points"], level_unit=units.unit("length"), volume_unit=units.unit("volume"))
    read = pasted.table()
    # Kept as a person's paste is: each row with its units written out.
    points = "\n".join(f"{row.level_typed}\t{row.volume_typed}" for row in pasted.rows)
    changes = read_changes(StrappingTable, {**raw, "points": points}, units)
    si_points = [[level_m, volume_m3] for level_m, volume_m3 in zip(read.levels_m, read.volumes_m3, strict=True)]
    table = StrappingTable(plant=vessel.plant, vessel=vessel)
    save_strapping(actor, table, table.version, changes, si_points)


def _load_tag(actor: Actor, plant: Plant, raw: Mapping[str, Any], unit: PlantUnit) -> Tag:
    own = {stem: text for stem, text in raw.items() if stem != "unit"}
    return create_tag(actor, plant, read_changes(Tag, own, plant.units, {"unit": unit}))


def _load_measurement(
    actor: Actor,
    plant: Plant,
    raw: Mapping[str, Any],
    units: Mapping[str, PlantUnit],
    nozzles: Mapping[tuple[str, str], Nozzle],
) -> None:
    tag = _load_tag(actor, plant, raw["tag"], units[raw["unit"]])
    marks = {"sensor": raw["nozzle"]} if "nozzle" in raw else raw.get("nozzles", {})
    measurement = create_measurement(
        actor,
        tag,
        {},
        arrangement=raw.get("arrangement", "one_nozzle"),
        vessel=Vessel.objects.get(plant=plant, number=raw["vessel"]),
        nozzles={role: nozzles[raw["vessel"], mark] for role, mark in marks.items()},
    )
    classes = SensorClassRow.objects.for_plant(plant)
    links = {"sensor_class": classes.get(key=raw["sensor_class"])} if "sensor_class" in raw else None
    save_page(
        actor,
        measurement,
        PageEdit(
            tag_version=tag.version,
            tag_changes={},
            measurement_version=measurement.version,
            measurement_changes=read_changes(type(measurement), raw.get("values", {}), plant.units, links),
            setpoints=[Child("", read_changes(Setpoint, row, plant.units)) for row in raw.get("setpoints", [])],
        ),
    )
