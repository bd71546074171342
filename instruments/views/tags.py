"""Pages of tags; the list of tags is the index."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from instruments.checks.finding import Grade
from instruments.columns import INDEX
from instruments.forms.measurement import TagForm
from instruments.letters import UnknownLetters, spell_out
from instruments.models import Measurement, Tag
from instruments.services.tags import create_tag, save_tag
from project.accounts.access import allowed
from project.pages import delete_page, edit_page, form_actor, form_data, shown_values
from project.tables import build_table
from vessels.models import Plant


@allowed("tag.view", Plant)
def tag_list(request: HttpRequest, plant: Plant) -> HttpResponse:
    tags = Tag.objects.filter(plant=plant).select_related(
        "unit", "measurement__vessel", "measurement__sensor_class", "measurement__state"
    )
    grade = request.GET.get("grade", "")
    if grade in set(Grade):
        tags = tags.filter(measurement__state__worst_grade=grade)
    if request.GET.get("specified") == "no":
        tags = tags.filter(measurement=None)
    if request.GET.get("holds") == "yes":
        tags = tags.filter(measurement__details__has_key="holds")
    table = build_table(request, tags, INDEX, plant.units, filters=("grade", "specified", "holds"))
    return render(request, "instruments/tag_list.html", {"table": table, "grade": grade, "grades": list(Grade)[:4]})


@allowed("tag.change", Plant)
def tag_new(request: HttpRequest, plant: Plant) -> HttpResponse:
    form = TagForm(form_data(request), row=Tag(plant=plant), plant=plant)
    return edit_page(
        request,
        form,
        lambda: create_tag(form_actor(request), plant, form.changes()),
        "instruments/tag_new.html",
        {},
        lambda tag: reverse("tag_view", args=[tag.uid]),
    )


@allowed("tag.view", Tag)
def tag_view(request: HttpRequest, tag: Tag) -> HttpResponse:
    context = {
        "tag": tag,
        "values": shown_values(tag, tag.plant.units),
        "letters_spelled_out": spell_out(tag.letters),
        "measurement": Measurement.objects.filter(tag=tag).first(),
    }
    return render(request, "instruments/tag_view.html", context)


@allowed("tag.change", Tag)
def tag_edit(request: HttpRequest, tag: Tag) -> HttpResponse:
    form = TagForm(form_data(request), row=tag, plant=tag.plant)
    return edit_page(
        request,
        form,
        lambda: save_tag(form_actor(request), tag, form.expected_version, form.changes()),
        "instruments/tag_edit.html",
        {"tag": tag},
        lambda _: reverse("tag_view", args=[tag.uid]),
    )


@allowed("tag.view", Plant)
def letters_spelled(request: HttpRequest, plant: Plant) -> HttpResponse:
    """Letters in words while they are typed."""
    letters = request.GET.get("tag-letters", "").strip()
    try:
        context = {"text": spell_out(letters), "known": True} if letters else {"text": ""}
    except UnknownLetters as problem:
        context = {"text": _(problem.template) % problem.params, "known": False}
    return render(request, "instruments/_letters_spelled.html", context)


@allowed("tag.change", Tag)
def tag_delete(request: HttpRequest, tag: Tag) -> HttpResponse:
    back = reverse("tag_view", args=[tag.uid])
    return delete_page(request, tag, {}, back, reverse("tag_list", args=[tag.plant.uid]))
