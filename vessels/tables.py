"""Columns of the lists of units, media, vessels and nozzles."""

from typing import Any

from django.db.models import FloatField
from django.db.models.fields.json import KeyTextTransform
from django.db.models.functions import Cast, Coalesce

from project.quantities import Quantity
from project.registry import gettext_noop
from project.tables import Column, TableSpec

LENGTHS = ("cylinder_length", "box_length")  # kept in the details: of lying bodies, and of boxes


def _detail_si(stem: str) -> Cast:
    """The SI value of a quantity in the details, for the database to sort by."""
    return Cast(KeyTextTransform("si", KeyTextTransform(stem, "details")), FloatField())


def _length(row: Any) -> Quantity:
    """How long a lying body or a box is inside; missing for what only stands."""
    lengths = [row.quantity(stem) for stem in LENGTHS]
    return next((length for length in lengths if not length.missing), lengths[0])


UNITS = TableSpec(
    columns=(
        Column(
            "number",
            gettext_noop("Number"),
            lambda row: row.number,
            "number",
            template="vessels/_unit_link.html",
            code=True,
        ),
        Column("name", gettext_noop("Name"), lambda row: row.name, "name"),
        Column("area", gettext_noop("Default area classification"), lambda row: row.area_classification),
    ),
    search=("number", "name", "area_classification"),
    default_sort="number",
)

MEDIA = TableSpec(
    columns=(
        Column(
            "name",
            gettext_noop("Medium"),
            lambda row: row.name,
            "name",
            template="vessels/_medium_link.html",
            code=True,
        ),
        Column("density", gettext_noop("Density"), lambda row: row.quantity("density"), "density_si", "density"),
        Column(
            "permittivity",
            gettext_noop("Relative permittivity εr"),
            lambda row: row.quantity("permittivity"),
            "permittivity_si",
            "permittivity",
        ),
        Column("gas", gettext_noop("Gas above"), lambda row: row.gas, "gas"),
        Column("hazards", gettext_noop("Hazards"), lambda row: row.hazards, "hazards"),
    ),
    search=("name", "hazards", "gas", "provenance"),
    default_sort="name",
)

VESSELS = TableSpec(
    columns=(
        Column(
            "number",
            gettext_noop("Vessel"),
            lambda row: row.number,
            "number",
            template="vessels/_vessel_link.html",
            code=True,
        ),
        Column("name", gettext_noop("Name"), lambda row: row.name, "name"),
        Column("unit", gettext_noop("Unit"), lambda row: row.unit.number, "unit__number"),
        Column(
            "diameter", gettext_noop("Inside diameter"), lambda row: row.quantity("diameter"), "diameter_si", "length"
        ),
        Column(
            "height",
            gettext_noop("Height of cylinder or box"),
            lambda row: row.quantity("cylinder_height"),
            "cylinder_height_si",
            "length",
        ),
        Column(
            "length",
            gettext_noop("Length of drum or box"),
            _length,
            Coalesce(*(_detail_si(stem) for stem in LENGTHS)),
            "length",
        ),
        Column(
            "pressure",
            gettext_noop("Design pressure"),
            lambda row: row.quantity("design_pressure_max"),
            "design_pressure_max_si",
            "pressure",
        ),
    ),
    search=("number", "name", "unit__number", "drawing"),
    default_sort="number",
)

NOZZLES = TableSpec(
    columns=(
        Column(
            "mark",
            gettext_noop("Nozzle"),
            lambda row: row.mark,
            "mark",
            template="vessels/_nozzle_link.html",
            code=True,
            natural=True,
        ),
        Column("vessel", gettext_noop("Vessel"), lambda row: row.vessel.number, "vessel__number", code=True),
        Column("size", gettext_noop("Size"), lambda row: row.size, "size"),
        Column("rating", gettext_noop("Rating"), lambda row: row.rating, "rating"),
        Column("bore", gettext_noop("Bore"), lambda row: row.quantity("bore"), "bore_si", "length_small"),
        Column("face", gettext_noop("Face"), lambda row: row.quantity("face_elevation"), "face_elevation_si", "length"),
        Column(
            "projection",
            gettext_noop("Projection"),
            lambda row: row.quantity("projection"),
            "projection_si",
            "length_small",
        ),
        Column("radius", gettext_noop("Radius"), lambda row: row.quantity("radius"), "radius_si", "length"),
    ),
    search=("mark", "size", "vessel__number"),
    default_sort="mark",
)
