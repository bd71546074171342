"""The forms of the measurement page: tag, nozzle, measurement and setpoints, each row with its own version."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.forms import ModelChoiceField
from django.utils.translation import gettext as _

from instruments.field_defs import SETPOINT_NAMES
from instruments.models import Measurement, SensorClassRow, Setpoint, Tag
from instruments.services.cases import Typing
from instruments.services.measurements import PageEdit
from project.forms import ChildForms, RegistryForm
from project.rows import KeptRow
from vessels.forms.nozzle import NozzleForm
from vessels.models import Nozzle, Plant, PlantUnit, Vessel

TAG_STEMS = ("letters", "number", "suffix", "unit", "service", "pid", "pid_revision", "location")
MEASUREMENT_STEMS = (
    "duty", "sensor_class", "arrangement", "adapter_length", "accuracy", "lrv", "urv", "direction", "failure_current",
    "damping", "note",
)  # fmt: skip
SETPOINT_STEMS = (
    "name", "level", "reset_differential", "priority", "consequence", "response_time", "action",
)  # fmt: skip


class TagForm(RegistryForm):
    """A tag; its letters and near duplicates are the service's to refuse."""

    def __init__(self, data: Any = None, *, row: Tag, plant: Plant, **kwargs: Any) -> None:
        links = {"unit": PlantUnit.objects.filter(plant=plant)}
        super().__init__(data, row=row, units=plant.units, links=links, stems=TAG_STEMS, **kwargs)


class NozzleOfVesselField(ModelChoiceField):
    """Nozzles named with their vessel."""

    def label_from_instance(self, nozzle: Any) -> str:
        return f"{nozzle.vessel.number} · {nozzle}"


class FitForm(RegistryForm):
    """Which vessel, through which nozzle."""

    def __init__(self, data: Any = None, *, row: Measurement, plant: Plant, **kwargs: Any) -> None:
        nozzles = Nozzle.objects.filter(plant=plant).select_related("vessel").order_by("vessel__number", "mark")
        links = {"vessel": Vessel.objects.filter(plant=plant), "nozzle": nozzles}
        super().__init__(data, row=row, units=plant.units, links=links, stems=("vessel", "nozzle"), **kwargs)
        self.fields["nozzle"] = NozzleOfVesselField(
            nozzles, to_field_name="uid", required=False, label=self.fields["nozzle"].label, empty_label="—",
            help_text=_("One of the vessel's nozzles. Leave both empty while they are not known."),
        )  # fmt: skip
        nozzle = row.nozzle if row.pk else None
        self.initial["nozzle"] = nozzle.uid if nozzle is not None else None

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        vessel: Vessel | None
        nozzle: Nozzle | None
        vessel, nozzle = cleaned.get("vessel"), cleaned.get("nozzle")
        if nozzle is None:
            return cleaned
        if vessel is None:
            # The nozzle says which vessel it is on.
            cleaned["vessel"] = nozzle.vessel
        elif nozzle.vessel_id != vessel.pk:
            self.add_error(
                "nozzle",
                _("%(nozzle)s is on %(other)s, not on %(vessel)s.")
                % {"nozzle": nozzle.mark, "other": nozzle.vessel.number, "vessel": vessel.number},
            )
        return cleaned


def setpoint_forms(data: Any, measurement: Measurement, plant: Plant) -> ChildForms:
    """The setpoints as rows, with a blank one for each name that is not used yet."""
    kept = list(measurement.setpoints.all()) if measurement.pk else []
    used = {row.name for row in kept}
    blanks = [Setpoint(name=name) for name, _label in SETPOINT_NAMES if name not in used]
    return ChildForms(
        data, rows=kept, blanks=blanks or [Setpoint()], units=plant.units, stems=SETPOINT_STEMS, prefix="setpoint"
    )


@dataclass
class MeasurementPage:
    """All forms of the page. `nozzle` is None where the measurement is not fitted to a nozzle yet."""

    measurement: Measurement
    tag: TagForm
    details: RegistryForm
    setpoints: ChildForms
    nozzle: NozzleForm | None

    @classmethod
    def of(cls, measurement: Measurement, data: Any = None) -> "MeasurementPage":
        plant = measurement.plant
        nozzle = measurement.nozzle
        classes = {"sensor_class": SensorClassRow.objects.for_plant(plant)}
        return cls(
            measurement,
            TagForm(data, row=measurement.tag, plant=plant),
            RegistryForm(data, row=measurement, units=plant.units, links=classes, stems=MEASUREMENT_STEMS),
            setpoint_forms(data, measurement, plant),
            NozzleForm(data, row=nozzle, units=plant.units) if nozzle is not None else None,
        )

    @property
    def forms(self) -> list[RegistryForm]:
        """Forms of rows with a version of their own, the measurement's first."""
        return [self.details, self.tag, *([self.nozzle] if self.nozzle is not None else [])]

    def every_form(self) -> Iterator[RegistryForm]:
        yield from self.forms
        yield from self.setpoints

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
        nozzle = self.nozzle
        return PageEdit(
            tag_version=self.tag.expected_version,
            tag_changes=self.tag.changes(),
            measurement_version=self.details.expected_version,
            measurement_changes=self.details.changes(),
            setpoints=self.setpoints.children(),
            nozzle=nozzle.row if nozzle is not None else None,  # type: ignore[arg-type]
            nozzle_version=nozzle.expected_version if nozzle is not None else 0,
            nozzle_changes=nozzle.changes() if nozzle is not None else {},
        )

    def typing(self) -> Typing:
        """What can be read of the page as it stands, for the preview."""
        rows: dict[str, dict[str, Any]] = {}
        unreadable: dict[str, str] = {}
        for form in self.forms:
            form.is_valid()
            values, messages = form.readable()
            rows[form.row.entity] = values
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
        return [
            (f"error-{form[stem].auto_id}", [str(message) for message in form.errors.get(stem, [])])
            for form in self.every_form()
            for stem in form.definitions
        ]


def fields_by_section() -> dict[str, tuple[str, ...]]:
    """Which entities and stems each section of the page holds; keys are the sections' ids."""
    return {
        "identification": tuple(f"tag.{stem}" for stem in TAG_STEMS),
        "connection": ("nozzle", "measurement.nozzle", "measurement.vessel", "vessel"),
        "sensor": (
            "measurement.duty", "measurement.sensor_class", "measurement.arrangement", "measurement.adapter_length",
            "measurement.accuracy", "sensor_class", "medium", "case",
        ),
        "signal": tuple(f"measurement.{stem}" for stem in ("lrv", "urv", "direction", "failure_current", "damping")),
        "setpoints": ("setpoint",),
    }  # fmt: skip


def section_of(definition_key: str) -> str:
    """The section in which a field key stands; '' for fields that are on no section."""
    entity = definition_key.partition(".")[0]
    for section, keys in fields_by_section().items():
        if definition_key in keys or entity in keys:
            return section
    return ""
