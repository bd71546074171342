"""The form of a strapping table: pasted text, read row by row, with everything that is wrong with it."""

from dataclasses import replace
from typing import Any

from django import forms
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from project.forms import RegistryForm
from project.quantities import KINDS, PlantUnits
from project.registry import gettext_noop
from vessels.capacity.paste import ColumnOrder, PastedTable, read_paste
from vessels.capacity.problems import Amount, Problem, errors_in, metres
from vessels.capacity.strapping import StrappingTable as Table
from vessels.models import StrappingTable
from vessels.shapes.shape import Shape
from vessels.vessel_fields import LONGEST_TABLE

# At most so many problems are drawn; the count says how many there are.
SHOWN_PROBLEMS = 200
ORDERS = (
    ("level_volume", gettext_noop("Level, then volume")),
    ("volume_level", gettext_noop("Volume, then level")),
)

SWAPPED = gettext_noop(
    "The columns look swapped: read the other way round, every row fits the vessel. Choose the other order of columns."
)

BELOW_VESSEL = gettext_noop("The level %(level)s lies below the lowest inside point, which is at %(bottom)s.")
ABOVE_VESSEL = gettext_noop(
    "The level %(level)s is above the vessel's top, which is at %(height)s. Accepted is up to %(tolerance)s more."
)


class StrappingForm(RegistryForm):
    """Reads the paste and says what is wrong with it by row. A refused paste comes back as it was; a saved one has the
    units of its rows written out.

    shape, datum_height_m  of the vessel, to compare the table with; None where they are not known

    After validation: `pasted` (what was read), `problems` (of all grades, by row), and `si_points` of a valid form.
    """

    level_unit = forms.ChoiceField(required=False)
    volume_unit = forms.ChoiceField(required=False)
    order = forms.ChoiceField(required=False)

    def __init__(
        self,
        data: Any = None,
        *,
        row: StrappingTable,
        units: PlantUnits,
        shape: Shape | None,
        datum_height_m: float | None,
        **kwargs: Any,
    ) -> None:
        super().__init__(data, row=row, units=units, **kwargs)
        self.units = units
        self.shape, self.datum_height_m = shape, datum_height_m
        self.pasted: PastedTable | None = None
        self.problems: list[Problem] = []
        for name, kind, label in (
            ("level_unit", "length", _("Unit of levels without one")),
            ("volume_unit", "volume", _("Unit of volumes without one")),
        ):
            field = self.fields[name]
            assert isinstance(field, forms.ChoiceField)
            field.choices = [(unit, unit) for unit in KINDS[kind].units]
            field.label, field.initial = label, units.unit(kind)
        order = self.fields["order"]
        assert isinstance(order, forms.ChoiceField)
        order.choices, order.label = [(value, _(label)) for value, label in ORDERS], _("Columns")
        self.fields["points"].widget = forms.Textarea(
            attrs={"rows": 18, "spellcheck": "false", "class": "paste", "data-key": "strapping.points"}
        )

    @property
    def can_compare(self) -> bool:
        """True where the table can be compared with the vessel's shape."""
        return self.shape is not None and self.datum_height_m is not None

    def clean(self) -> dict[str, Any]:
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        text = cleaned.get("points")
        if text is None:
            return cleaned
        order: ColumnOrder = "volume_level" if cleaned.get("order") == "volume_level" else "level_volume"
        self.pasted = self._read(text, cleaned, order)
        self.problems = self._problems(self.pasted, cleaned)
        if self.can_compare and self.problems:
            other = self._read(text, cleaned, "level_volume" if order == "volume_level" else "volume_level")
            if not self._problems(other, cleaned):
                # Read the other way round the table fits the vessel in every row: that is no accident.
                self.problems = [Problem("columns_swapped", "error", SWAPPED)]
        if len(self._lines(self.pasted)) > LONGEST_TABLE:
            self.add_error("points", _("With its units written out this table is too long: leave out some rows."))
        errors = errors_in(self.problems)
        if errors:
            self.add_error(
                "points",
                ngettext(
                    "One thing is in the way of this table; it is listed below with its row.",
                    "%(count)s things are in the way of this table; they are listed below with their rows.",
                    len(errors),
                )
                % {"count": len(errors)},
            )
        return cleaned

    def _read(self, text: str, cleaned: dict[str, Any], order: ColumnOrder) -> PastedTable:
        return read_paste(
            text,
            level_unit=cleaned.get("level_unit") or self.units.unit("length"),
            volume_unit=cleaned.get("volume_unit") or self.units.unit("volume"),
            order=order,
        )

    def _problems(self, pasted: PastedTable, cleaned: dict[str, Any]) -> list[Problem]:
        """Of reading and of the table. It is compared as heights above the lowest inside point."""
        tolerance = cleaned.get("tolerance")
        options: dict[str, Any] = {}
        if self.can_compare:
            options["shape"] = self.shape
            if tolerance is not None and tolerance.si is not None:
                options["shape_tolerance"] = tolerance.si
        datum_m = self.datum_height_m or 0.0
        return [from_datum(one, datum_m) for one in shifted(pasted, datum_m).check(**options)]

    @property
    def shown_problems(self) -> list[tuple[Problem, str]]:
        """The first problems with their sentences in the plant's units, errors before cautions of the same row."""
        return [(one, one.sentence(self.units, _)) for one in self.problems[:SHOWN_PROBLEMS]]

    @property
    def more_problems(self) -> int:
        return max(len(self.problems) - SHOWN_PROBLEMS, 0)

    def changes(self) -> dict[str, Any]:
        """As the registry has them; the rows with their units written out."""
        assert self.pasted is not None  # a valid form was read
        return {**super().changes(), "points": self._lines(self.pasted)}

    @staticmethod
    def _lines(pasted: PastedTable) -> str:
        return "\n".join(f"{row.level_typed}\t{row.volume_typed}" for row in pasted.rows)

    def read_saved(self) -> None:
        """Read what is saved, for a page on which nothing was typed yet."""
        row = self.row
        if not isinstance(row, StrappingTable) or not row.points:
            return
        saved = {"tolerance": row.quantity("tolerance")}
        self.pasted = self._read(row.points, {}, "level_volume")
        self.problems = self._problems(self.pasted, saved)

    @property
    def si_points(self) -> list[list[float]]:
        """Rows of [level_m from the datum, volume_m3], of a valid form."""
        assert self.pasted is not None
        return [
            [row.level_m, row.volume_m3]
            for row in self.pasted.rows
            if row.level_m is not None and row.volume_m3 is not None
        ]

    def table(self) -> Table | None:
        """The table as heights above the lowest inside point, where one can be made of what was read."""
        if self.pasted is None or errors_in(self.problems):
            return None
        chosen = self.cleaned_data.get("interpolation") if self.is_bound else self.initial.get("interpolation")
        cubic = chosen == "monotone_cubic"
        return shifted(self.pasted, self.datum_height_m or 0.0).table("monotone_cubic" if cubic else "linear")


def from_datum(problem: Problem, datum_m: float) -> Problem:
    """The same problem with its levels told as they were typed, from the datum."""
    if datum_m == 0:
        return problem
    params: dict[str, Any] = dict(problem.params)
    for name in ("level", "level_before", "height"):
        if isinstance(params.get(name), Amount):
            params[name] = metres(params[name].value_si - datum_m)
    if problem.code == "negative_level":
        return replace(problem, template=BELOW_VESSEL, params={**params, "bottom": metres(-datum_m)})
    if problem.code == "above_vessel":
        return replace(problem, template=ABOVE_VESSEL, params=params)
    return replace(problem, params=params)


def shifted(pasted: PastedTable, by_m: float) -> PastedTable:
    """The same rows with levels counted from a point so much lower."""
    if by_m == 0:
        return pasted
    rows = tuple(replace(row, level_m=None if row.level_m is None else row.level_m + by_m) for row in pasted.rows)
    return replace(pasted, rows=rows)
