"""What a reader asks of a capacity table: its step and span, how few points, and between which levels to work."""

from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils.translation import gettext as _

from project.fields import QuantityField
from project.quantities import Quantity
from project.registry import FieldDef, gettext_noop
from vessels.capacity.reduction import MOST_POINTS, USUAL_POINTS
from vessels.capacity.table import MOST_ROWS
from vessels.capacity_report import Capacity
from vessels.capacity_tables import round_levels_m, usual_step_m

# Not of the registry: they are asked for once and never kept.
_STEP = FieldDef("capacity.step", gettext_noop("Step"), "vessel", "length", sign="positive")
_LOW = FieldDef("capacity.low", gettext_noop("From level"), "vessel", "length")
_HIGH = FieldDef("capacity.high", gettext_noop("To level"), "vessel", "length")
_WORK_LOW = FieldDef("capacity.work_low", gettext_noop("Working from level"), "vessel", "length")
_WORK_HIGH = FieldDef("capacity.work_high", gettext_noop("Working to level"), "vessel", "length")


@dataclass(frozen=True, slots=True)
class Asked:
    """What was asked for, in m from the datum; the usual where nothing was."""

    low_m: float
    high_m: float
    step_m: float
    points: int
    work_low_m: float | None
    work_high_m: float | None


class CapacityForm(forms.Form):
    """Reads the address of the page; an empty field stands for the usual."""

    def __init__(self, data: Any, *, capacity: Capacity) -> None:
        super().__init__(data or {})
        self.capacity = capacity
        units = capacity.units
        usual = {"step": units.shown_si(usual_step_m(capacity), "length")} if capacity.contents else {}
        for name, definition in (
            ("step", _STEP), ("low", _LOW), ("high", _HIGH), ("work_low", _WORK_LOW), ("work_high", _WORK_HIGH)
        ):  # fmt: skip
            self.fields[name] = QuantityField(definition, units, label=_(definition.label), required=False)
            if name in usual:
                self.fields[name].widget.attrs["placeholder"] = str(usual[name])
        self.fields["points"] = forms.IntegerField(
            label=_("Points of the reduced table"),
            required=False,
            min_value=2,
            max_value=MOST_POINTS,
            widget=forms.NumberInput(attrs={"placeholder": USUAL_POINTS}),
        )

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        capacity = self.capacity
        if capacity.contents is None:
            return cleaned
        for name in ("low", "high", "work_low", "work_high"):
            level_m = self._si(name)
            noise = 1e-9 * (capacity.highest_m - capacity.lowest_m)
            if level_m is not None and not capacity.lowest_m - noise <= level_m <= capacity.highest_m + noise:
                self.add_error(name, _("Accepted is a level from %(low)s to %(high)s.") % self._limits())
        for low, high in (("low", "high"), ("work_low", "work_high")):
            ends = self._si(low), self._si(high)
            if ends[0] is not None and ends[1] is not None and ends[0] >= ends[1]:
                self.add_error(high, _("Accepted is a level above the lower one."))
        if (self._si("work_low") is None) != (self._si("work_high") is None) and not self.errors:
            lacking = "work_low" if self._si("work_low") is None else "work_high"
            self.add_error(lacking, _("The working capacity needs both levels."))
        if not self.errors:
            asked = self.asked()
            try:
                round_levels_m(asked.low_m, asked.high_m, asked.step_m)
            except ValueError:
                self.add_error(
                    "step",
                    _("This step gives more than %(most)s rows between these levels: choose a larger one.")
                    % {"most": MOST_ROWS},
                )
        return cleaned

    def _limits(self) -> dict[str, str]:
        shown = self.capacity.units.shown_si
        return {
            "low": str(shown(self.capacity.lowest_m, "length")),
            "high": str(shown(self.capacity.highest_m, "length")),
        }

    def _si(self, name: str) -> float | None:
        value = self.cleaned_data.get(name)
        return value.si if isinstance(value, Quantity) else None

    def asked(self) -> Asked:
        """What was asked for, of a valid form; the usual of one that is not."""
        capacity = self.capacity
        low_m, high_m, step_m = self._si("low"), self._si("high"), self._si("step")
        return Asked(
            capacity.lowest_m if low_m is None else low_m,
            capacity.highest_m if high_m is None else high_m,
            usual_step_m(capacity) if step_m is None else step_m,
            self.cleaned_data.get("points") or USUAL_POINTS,
            self._si("work_low"),
            self._si("work_high"),
        )
