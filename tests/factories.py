"""Rows for tests, made by the same services as a person's input."""

import itertools
from typing import Any

from instruments.models import Measurement, SensorClassRow, Setpoint, Tag
from instruments.services.demo import read_changes
from instruments.services.measurements import PageEdit, create_measurement, save_page
from instruments.services.sensor_classes import sync_sensor_classes
from instruments.services.tags import create_tag
from project.accounts.models import Membership, Role, User
from project.actor import Actor
from project.quantities import PlantUnits
from project.services import Child
from vessels.models import Medium, Nozzle, OperatingCase, Plant, PlantUnit, Vessel
from vessels.services import create_medium, create_nozzle, create_plant, create_unit, create_vessel

_serial = itertools.count(1)
PASSWORD = "a-long-test-password"


def make_user(username: str = "", **values: Any) -> User:
    return User.objects.create_user(username or f"person{next(_serial)}", password=PASSWORD, **values)


def actor_of(user: User | None = None) -> Actor:
    return Actor(user, "form")


def make_plant(code: str = "", *, members: dict[User, tuple[Role, ...]] | None = None, **values: str) -> Plant:
    """A plant with nobody in it but the members given."""
    raw = {
        "code": code or f"P{next(_serial)}", "name": "Test plant", "unit_set": "metric",
        "atmosphere": "1.01325 bar(a)", "time_zone": "UTC", "paper": "a4", **values,
    }  # fmt: skip
    plant = create_plant(actor_of(), read_changes(Plant, raw, PlantUnits()))
    for user, roles in (members or {}).items():
        for role in roles:
            Membership.objects.create(user=user, plant=plant, role=role)
    return plant


def make_unit(plant: Plant, number: str = "40") -> PlantUnit:
    return create_unit(actor_of(), plant, {"number": number, "name": f"Unit {number}"})


def make_medium(plant: Plant, **values: str) -> Medium:
    raw = {"name": f"Liquid {next(_serial)}", "kind": "liquid", "density": "800 kg/m³",
           "density_temperature": "20 °C", "permittivity": "20", "gas": "Air", **values}  # fmt: skip
    return create_medium(actor_of(), plant, read_changes(Medium, raw, plant.units))


def make_vessel(plant: Plant, unit: PlantUnit | None = None, medium: Medium | None = None, **values: str) -> Vessel:
    """A flat-bottomed tank of 4 m by 10 m with one operating case."""
    raw = {
        "number": f"T-{next(_serial)}", "name": "Test tank", "body": "vertical_cylinder", "bottom": "flat",
        "top": "flat", "datum": "lowest_inside_point", "diameter": "4 m", "cylinder_height": "10 m",
        "design_pressure_max": "0.5 bar(g)", "design_pressure_min": "0 bar(g)",
        "design_temperature_max": "80 °C", "design_temperature_min": "0 °C", **values,
    }  # fmt: skip
    links = {"unit": unit or PlantUnit.objects.filter(plant=plant).first() or make_unit(plant)}
    case = read_changes(
        OperatingCase,
        {"kind": "normal", "temperature": "25 °C", "pressure": "0.1 bar(g)"},
        plant.units,
        {"medium": medium or make_medium(plant)},
    )
    return create_vessel(actor_of(), plant, read_changes(Vessel, raw, plant.units, links), [Child("", case)])


def make_nozzle(vessel: Vessel, **values: str) -> Nozzle:
    raw = {"mark": f"N{next(_serial)}", "standard": "en_1092_1", "size": "DN 80", "rating": "PN 16", "facing": "B1",
           "material": "P250GH", "bore": "82.5 mm", "face_elevation": "10.3 m", "radius": "1 m", **values}  # fmt: skip
    return create_nozzle(actor_of(), vessel, read_changes(Nozzle, raw, vessel.plant.units))


def make_tag(plant: Plant, unit: PlantUnit | None = None, **values: str) -> Tag:
    raw = {"letters": "LT", "number": str(next(_serial)), "service": "Test service", **values}
    links = {"unit": unit or PlantUnit.objects.filter(plant=plant).first() or make_unit(plant)}
    return create_tag(actor_of(), plant, read_changes(Tag, raw, plant.units, links))


def library_class(key: str = "radar_80ghz_lens_threaded") -> SensorClassRow:
    sync_sensor_classes(Actor(None, "command"))
    return SensorClassRow.objects.get(plant=None, key=key, current=True)


def make_measurement(
    plant: Plant,
    *,
    nozzle: Nozzle | None = None,
    tag: Tag | None = None,
    setpoints: tuple[dict[str, str], ...] = ({"name": "H", "level": "9 m"},),
    sensor_class: str = "radar_80ghz_lens_threaded",
    **values: str,
) -> Measurement:
    """A measurement that passes every check: radar, span 0.5 to 9.5 m in a 10 m tank."""
    nozzle = nozzle or make_nozzle(make_vessel(plant))
    tag = tag or make_tag(plant)
    measurement = create_measurement(actor_of(), tag, {}, vessel=nozzle.vessel, nozzles={"sensor": nozzle})
    raw = {"accuracy": "10 mm", "adapter": "Flange with thread G 1½", "lrv": "0.5 m", "urv": "9.5 m", **values}
    save_page(
        actor_of(),
        measurement,
        PageEdit(
            tag_version=tag.version,
            tag_changes={},
            measurement_version=measurement.version,
            measurement_changes=read_changes(
                Measurement, raw, plant.units, {"sensor_class": library_class(sensor_class)}
            ),
            setpoints=[Child("", read_changes(Setpoint, row, plant.units)) for row in setpoints],
        ),
    )
    return Measurement.objects.get(pk=measurement.pk)
