"""Vessels and their operating cases."""

from collections.abc import Mapping

from django.db import models

from project.fields import SiColumn, TypedColumn, both_or_neither
from project.registry import REGISTRY
from project.rows import PlantRow
from vessels.field_defs import CASE_KINDS
from vessels.shape_values import chosen_words, shape_of
from vessels.shapes.shape import Shape


class Vessel(PlantRow):
    """Anything with a level. It owns its operating cases and nozzles."""

    entity = "vessel"

    unit = models.ForeignKey("vessels.PlantUnit", on_delete=models.PROTECT, related_name="vessels")
    number = models.CharField(max_length=24)
    name = models.CharField(max_length=80, blank=True)
    drawing = models.CharField(max_length=40, blank=True)
    drawing_revision = models.CharField(max_length=8, blank=True)
    body = models.CharField(max_length=24, default="vertical_cylinder")
    bottom = models.CharField(max_length=24, default="flat")
    top = models.CharField(max_length=24, default="flat")
    diameter_typed = TypedColumn()
    diameter_si = SiColumn()
    cylinder_height_typed = TypedColumn()
    cylinder_height_si = SiColumn()
    bottom_depth_typed = TypedColumn()
    bottom_depth_si = SiColumn()
    datum = models.CharField(max_length=24, default="lowest_inside_point")
    dip_plate_height_typed = TypedColumn()
    dip_plate_height_si = SiColumn()
    design_pressure_max_typed = TypedColumn()
    design_pressure_max_si = SiColumn()
    design_pressure_min_typed = TypedColumn()
    design_pressure_min_si = SiColumn()
    design_temperature_max_typed = TypedColumn()
    design_temperature_max_si = SiColumn()
    design_temperature_min_typed = TypedColumn()
    design_temperature_min_si = SiColumn()
    overflow_level_typed = TypedColumn()
    overflow_level_si = SiColumn()
    inflow_max_typed = TypedColumn()
    inflow_max_si = SiColumn()
    outflow_max_typed = TypedColumn()
    outflow_max_si = SiColumn()
    note = models.TextField(max_length=500, blank=True)

    class Meta:
        ordering = ["number"]
        constraints = [
            models.UniqueConstraint(fields=["plant", "number"], name="vessel_number_once"),
            *both_or_neither(
                "vessel",
                "diameter",
                "cylinder_height",
                "bottom_depth",
                "dip_plate_height",
                "design_pressure_max",
                "design_pressure_min",
                "design_temperature_max",
                "design_temperature_min",
                "overflow_level",
                "inflow_max",
                "outflow_max",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.number} {self.name}".strip()

    def shape(self) -> Shape:
        """The frozen shape. Raises ImpossibleShape where a dimension is missing or impossible."""
        return self.shape_with({})

    def shape_with(self, changed: Mapping[str, float]) -> Shape:
        """The shape with some dimensions (by stem, SI) other than they are. Raises ImpossibleShape."""
        return shape_of(self.text_of, lambda stem: changed[stem] if stem in changed else self.quantity(stem).si)

    def text_of(self, stem: str) -> str:
        """A choice or text by its stem, wherever it is kept; '' where there is none."""
        return str(self.value(REGISTRY[f"vessel.{stem}"]) or "")

    @property
    def shape_words(self) -> set[str]:
        """What fields of the shape may concern: see `FieldDef.concerns`."""
        return chosen_words(self.body, self.bottom, self.top)


class OperatingCase(PlantRow):
    """One state in which a vessel runs. It has no page of its own: its changes count in the vessel's version."""

    entity = "case"

    vessel = models.ForeignKey(Vessel, on_delete=models.CASCADE, related_name="operating_cases")
    position = models.PositiveSmallIntegerField(default=0)
    kind = models.CharField(max_length=16, default="normal")
    name = models.CharField(max_length=40, blank=True)
    medium = models.ForeignKey("vessels.Medium", on_delete=models.PROTECT, null=True, blank=True, related_name="cases")
    temperature_typed = TypedColumn()
    temperature_si = SiColumn()
    pressure_typed = TypedColumn()
    pressure_si = SiColumn()
    density_typed = TypedColumn()
    density_si = SiColumn()
    permittivity_typed = TypedColumn()
    permittivity_si = SiColumn()

    class Meta:
        ordering = ["position", "id"]
        constraints = [*both_or_neither("case", "temperature", "pressure", "density", "permittivity")]

    def __str__(self) -> str:
        return self.display

    @property
    def display(self) -> str:
        """The name to show: its own, or that of its kind."""
        return self.name or dict(CASE_KINDS).get(self.kind, self.kind)
