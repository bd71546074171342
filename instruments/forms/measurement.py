"""The forms of the measurement page: tag, nozzles, measurement and setpoints, each row with its own version."""

from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from instruments.field_defs import ROLES, SETPOINT_NAMES
from instruments.forms.sections import Section, sections
from instruments.models import Measurement, SensorClassRow, Setpoint, Tag
from instruments.services.cases import Typing
from instruments.services.measurements import NozzleEdit, PageEdit
from project.forms import ChildForms, RegistryForm
from project.problems import Problem, child_problems, error_slots, field_problems, form_problems, whole_problems
from project.rows import KeptRow
from vessels.forms.nozzle import NozzleForm
from vessels.models import Plant, PlantUnit

# What the page does not change: where it is fitted has a page of its own (`fit.py`).
FITTED = ("vessel", "arrangement", "nozzle")


class TagForm(RegistryForm):
    """A tag; its letters and near duplicates are the service's to refuse."""

    def __init__(self, data: Any = None, *, row: Tag, plant: Plant, **kwargs: Any) -> None:
        links = {"unit": PlantUnit.objects.filter(plant=plant)}
        super().__init__(data, row=row, units=plant.units, links=links, **kwargs)


def setpoint_forms(data: Any, measurement: Measurement, plant: Plant) -> ChildForms:
    """The setpoints as rows, with a blank one for each name that is not used yet."""
    kept = list(measurement.setpoints.all()) if measurement.pk else []
    used = {row.name for row in kept}
    blanks = [Setpoint(name=name) for name, _label in SETPOINT_NAMES if name not in used]
    return ChildForms(data, rows=kept, blanks=blanks or [Setpoint()], units=plant.units, prefix="setpoint")


@dataclass
class MeasurementPage:
    """All forms of the page. `nozzles` has one form for each connection that is fitted, by role."""

    measurement: Measurement
    tag: TagForm
    details: RegistryForm
    setpoints: ChildForms
    nozzles: dict[str, NozzleForm]

    @classmethod
    def of(cls, measurement: Measurement, data: Any = None) -> "MeasurementPage":
        plant = measurement.plant
        classes = {"sensor_class": SensorClassRow.objects.for_plant(plant)}
        stems = [definition.stem for definition in Measurement.field_defs() if definition.stem not in FITTED]
        return cls(
            measurement,
            TagForm(data, row=measurement.tag, plant=plant),
            RegistryForm(data, row=measurement, units=plant.units, links=classes, stems=stems),
            setpoint_forms(data, measurement, plant),
            {
                role: NozzleForm(
                    data, row=nozzle, units=plant.units, prefix="nozzle" if role == "sensor" else f"nozzle-{role}"
                )
                for role, nozzle in measurement.nozzles.items()
            },
        )

    @property
    def forms(self) -> list[RegistryForm]:
        """Forms of rows with a version of their own, the measurement's first."""
        return [self.details, self.tag, *self.nozzles.values()]

    @property
    def connections(self) -> list[tuple[str, NozzleForm]]:
        """The nozzle forms with the names of their roles in this arrangement."""
        labels = dict(ROLES[self.measurement.arrangement])
        return [(_(labels[role]), form) for role, form in self.nozzles.items()]

    def chosen(self) -> set[str]:
        """What fields may concern: technology, arrangement, body of the vessel, kinds of medium."""
        measurement = self.measurement
        chosen = {measurement.arrangement}
        if measurement.sensor_class is not None:
            chosen.add(measurement.sensor_class.technology)
        if measurement.vessel is not None:
            chosen |= measurement.vessel.shape_words
            chosen |= {case.medium.kind for case in measurement.vessel.operating_cases.all() if case.medium}
        return chosen

    def sections(self) -> list[Section]:
        """The fields of tag and measurement by group; connections and setpoints are drawn apart."""
        return sections([self.tag, self.details], self.chosen())

    def problems_by_section(self) -> dict[str, list[Problem]]:
        """What is not accepted as typed, by section in the page's order; '' for what concerns a form as a whole."""
        found = {"": [one for form in (self.tag, self.details) for one in whole_problems(form)]}
        connections = [one for role, form in self.connections for one in form_problems(form, role)]
        for section in self.sections():
            if section.id == "sensor":
                found["connection"] = connections
            rows = list(child_problems(self.setpoints)) if section.id == "setpoints" else []
            fields = [one for field in section.fields for one in field_problems(field)]
            found[section.id] = [*rows, *fields]
        return found

    def problems(self) -> list[Problem]:
        """All that is not accepted as typed, in the page's order."""
        return [one for problems in self.problems_by_section().values() for one in problems]

    def faults(self) -> dict[str, int]:
        """How many values of each section are not accepted as typed, for the list of sections."""
        return {section: len(problems) for section, problems in self.problems_by_section().items()}

    def is_valid(self) -> bool:
        names = [form.is_valid() for form in self.forms]
        return all([*names, self.setpoints.is_valid(), self._setpoint_names_differ()])

    def _setpoint_names_differ(self) -> bool:
        seen: set[str] = set()
        for form in self.setpoints:
            if not form.is_bound or form.is_removed() or not form.is_valid() or form.is_blank():
                continue
            name = form.cleaned_data["name"]
            if name in seen:
                form.add_error("name", _("%(name)s stands twice: one setpoint of a name is accepted.") % {"name": name})
                return False
            seen.add(name)
        return True

    def edit(self) -> PageEdit:
        """What to save, of a valid page."""
        return PageEdit(
            tag_version=self.tag.expected_version,
            tag_changes=self.tag.changes(),
            measurement_version=self.details.expected_version,
            measurement_changes=self.details.changes(),
            setpoints=self.setpoints.children(),
            nozzles=[
                NozzleEdit(self.measurement.nozzles[role], form.expected_version, form.changes())
                for role, form in self.nozzles.items()
            ],
        )

    def typing(self) -> Typing:
        """What can be read of the page as it stands, for the preview."""
        rows: dict[str, dict[str, Any]] = {}
        unreadable: dict[str, str] = {}
        named = {"tag": self.tag, "measurement": self.details}
        for name, form in {**named, **{f"nozzle-{role}": form for role, form in self.nozzles.items()}}.items():
            form.is_valid()
            values, messages = form.readable()
            rows[name] = values
            unreadable |= messages
        setpoints = []
        for setpoint in self.setpoints:
            if setpoint.is_removed():
                continue
            setpoint.is_valid()
            values, messages = setpoint.readable()
            if messages or not setpoint.is_blank():
                setpoints.append(values)
                unreadable |= messages
        return Typing(
            rows=rows,
            setpoints=setpoints,
            unreadable=unreadable,
            sensor_class=rows["measurement"].get("sensor_class") or None,
            has_sensor_class=True,
        )

    def stale_rows(self) -> list[KeptRow]:
        """Rows that somebody saved since the page was opened."""
        return [
            form.row
            for form in self.forms
            if form.is_bound and str(form.data.get(form.add_prefix("version"), "")) != str(form.row.version)
        ]

    def slots(self) -> list[tuple[str, list[str]]]:
        """Every field's error slot: its id and its messages, for the preview to fill."""
        return [*error_slots(self.forms), *error_slots(self.setpoints, labelled=True)]
