"""Pages of sensor classes: the library's, read only, and a plant's own copies."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _

from instruments.field_defs import ARRANGEMENTS
from instruments.forms.sensor_class import CopyClassForm, SensorClassForm
from instruments.models import SensorClassRow
from instruments.services.sensor_classes import copy_class, save_class
from instruments.wording import class_value_text
from project.accounts.access import allowed
from project.dependents import affected_by
from project.pages import delete_page, edit_page, form_actor, form_data
from project.quantities import Quantity
from project.registry import REGISTRY, gettext_noop
from project.tables import Column, TableSpec, build_table
from vessels.models import Plant

assert ARRANGEMENTS  # importing them registers the fields


def _stated(stem: str) -> Any:
    """A column's text: the choices that a class states under a stem, in words."""

    def text(row: SensorClassRow) -> str:
        items = row.sensor_class().text(stem).split("; ")
        return ", ".join(_(REGISTRY[f"sensor_class.{stem}"].choice_label(item)) for item in items if item)

    return text


CLASSES = TableSpec(
    columns=(
        Column("technology", gettext_noop("Principle"), _stated("technology"), "technology"),
        Column(
            "name", gettext_noop("Sensor class"), lambda row: row.name, "name",
            template="instruments/_sensor_class_link.html",
        ),
        Column("media", gettext_noop("Suits"), _stated("media")),
        Column("contact", gettext_noop("Touches the medium"), _stated("contact")),
        Column("range", gettext_noop("Longest range"), lambda row: row.sensor_class().quantity("range_max"),
               kind="length"),
        Column("owner", gettext_noop("Owner"), lambda row: _("Plant") if row.plant_id else _("Library"), "plant"),
        Column("edition", gettext_noop("Edition"), lambda row: str(row.edition)),
    ),
    search=("name", "technology", "key"),
    default_sort="technology",
)  # fmt: skip


@allowed("sensor_class.view", Plant)
def sensor_class_list(request: HttpRequest, plant: Plant) -> HttpResponse:
    table = build_table(request, SensorClassRow.objects.for_plant(plant), CLASSES, plant.units)
    return render(request, "instruments/sensor_class_list.html", {"table": table})


def _class_of(plant: Plant, class_uid: UUID) -> SensorClassRow:
    """A class that a plant can use. Raises Http404."""
    row: SensorClassRow = get_object_or_404(SensorClassRow.objects.for_plant(plant), uid=class_uid)
    return row


def _address(plant: Plant, row: SensorClassRow) -> str:
    return reverse("sensor_class_view", args=[plant.uid, row.uid])


@allowed("sensor_class.view", Plant)
def sensor_class_view(request: HttpRequest, plant: Plant, class_uid: UUID) -> HttpResponse:
    row = _class_of(plant, class_uid)
    sensor_class = row.sensor_class()
    values = [
        (
            _(definition.label),
            class_value_text(sensor_class, definition, plant.units),
            _(sensor_class.provenance(definition.stem)),
        )
        for definition in REGISTRY.of("sensor_class")
        if definition.stem in sensor_class.values
    ]
    used_by = row.measurements.filter(plant=plant).select_related("tag")
    context = {"row": row, "sensor_class": sensor_class, "values": values, "used_by": used_by}
    return render(request, "instruments/sensor_class_view.html", context)


@allowed("sensor_class.change", Plant)
def sensor_class_copy(request: HttpRequest, plant: Plant) -> HttpResponse:
    """Copy a class into the plant; the address may name which ("?of=uid")."""
    source = _chosen(plant, request.GET.get("of", ""))
    form = CopyClassForm(form_data(request), plant=plant, source=source)

    def save() -> SensorClassRow:
        cleaned = form.cleaned_data
        return copy_class(form_actor(request), plant, cleaned["source"], cleaned["key"], cleaned["name"])

    def done(row: SensorClassRow) -> str:
        return reverse("sensor_class_edit", args=[plant.uid, row.uid])

    return edit_page(request, form, save, "instruments/sensor_class_copy.html", {}, done)


def _own_or_none(request: HttpRequest, row: SensorClassRow) -> bool:
    """True for a plant's own copy; for a class of the library a message says what to do instead."""
    if row.plant is None:
        messages.warning(request, _("A class of the library is not changed: copy it into the plant and edit the copy."))
    return row.plant is not None


@allowed("sensor_class.change", Plant)
def sensor_class_edit(request: HttpRequest, plant: Plant, class_uid: UUID) -> HttpResponse:
    row = _class_of(plant, class_uid)
    if not _own_or_none(request, row):
        return redirect(_address(plant, row))
    form = SensorClassForm(form_data(request), row=row, plant=plant)
    return edit_page(
        request,
        form,
        lambda: save_class(form_actor(request), row, form.edit()),
        "instruments/sensor_class_edit.html",
        {"row": row, "affected": affected_by(row)},
        lambda _written: _address(plant, row),
    )


@allowed("sensor_class.change", Plant)
def sensor_class_delete(request: HttpRequest, plant: Plant, class_uid: UUID) -> HttpResponse:
    row = _class_of(plant, class_uid)
    if not _own_or_none(request, row):
        return redirect(_address(plant, row))
    return delete_page(request, row, {}, _address(plant, row), reverse("sensor_class_list", args=[plant.uid]))


def _chosen(plant: Plant, uid: str) -> SensorClassRow | None:
    """The class that an address names, None where it names none. Raises Http404 for what is no class of the plant."""
    if not uid:
        return None
    try:
        return _class_of(plant, UUID(uid))
    except ValueError as problem:
        raise Http404(_("There is no such sensor class.")) from problem


@allowed("sensor_class.view", Plant)
def sensor_class_compare(request: HttpRequest, plant: Plant) -> HttpResponse:
    """Two classes side by side ("?one=uid&other=uid"); rows that differ say so."""
    classes = SensorClassRow.objects.for_plant(plant).order_by("name", "pk")
    one, other = (_chosen(plant, request.GET.get(name, "")) for name in ("one", "other"))
    rows = _compared(plant, one, other) if one is not None and other is not None else []
    differing = sum(differs for _label, _one, _other, differs in rows)
    context = {"classes": classes, "one": one, "other": other, "rows": rows, "differing": differing}
    return render(request, "instruments/sensor_class_compare.html", context)


def _compared(plant: Plant, one: SensorClassRow, other: SensorClassRow) -> list[tuple[str, str, str, bool]]:
    """Label, both values and whether they differ, of every property that one of the two states."""
    pair, rows = (one.sensor_class(), other.sensor_class()), []
    for definition in REGISTRY.of("sensor_class"):
        texts = [class_value_text(each, definition, plant.units) for each in pair]
        if any(texts):
            values = [each.values.get(definition.stem) for each in pair]
            keys = [
                None if held is None else held.value.si if isinstance(held.value, Quantity) else held.value
                for held in values
            ]
            rows.append((_(definition.label), texts[0], texts[1], keys[0] != keys[1]))
    return rows
