"""What changes tags."""

from typing import Any, cast

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from instruments.letters import UnknownLetters, near_key, read_letters, tag_text
from instruments.models import Tag
from project.actor import Actor, acting
from project.copying import copy_row
from project.services import Changes, create_row, save_row
from vessels.models import Plant


def _identify(tag: Tag, changes: Changes) -> None:
    """Set the tag's text and near-duplicate key; refuse letters outside the standard and near duplicates by name."""
    letters, number, suffix = (
        str(changes.get(stem, getattr(tag, stem))).strip() for stem in ("letters", "number", "suffix")
    )
    try:
        read_letters(letters)
    except UnknownLetters as problem:
        raise ValidationError({"letters": _(problem.template) % problem.params}) from problem
    key = near_key(letters, number, suffix)
    twin = Tag.objects.filter(plant=tag.plant, near_key=key).exclude(pk=tag.pk).first()
    text = tag_text(letters, number, suffix)
    if twin is not None:
        raise ValidationError(
            {
                "number": _("“%(new)s” is the same as the existing tag %(existing)s (case, hyphens and leading zeros "
                            "do not tell tags apart).") % {"new": text, "existing": twin.text}
            }
        )  # fmt: skip
    tag.near_key = key
    tag.text = text


def create_tag(actor: Actor, plant: Plant, changes: Changes) -> Tag:
    """Create a tag. Raises ValidationError for letters outside ANSI/ISA-5.1 and for a near duplicate, naming it."""
    tag = Tag(plant=plant)
    with acting(actor, "create tag", plant):
        _identify(tag, changes)
        return cast(Tag, create_row(actor, tag, changes))


def copy_tag(actor: Actor, source: Tag, letters: str, number: str, suffix: str) -> Tag:
    """A tag with other letters, number or suffix and everything else carried; refused as a new tag would be."""
    identity = {"letters": letters, "number": number, "suffix": suffix}
    draft = Tag(plant=source.plant)
    with acting(actor, "copy tag", source.plant):
        _identify(draft, identity)
        return copy_row(actor, source, **identity, near_key=draft.near_key, text=draft.text)


def save_tag(actor: Actor, tag: Tag, version: int, changes: dict[str, Any]) -> bool:
    """Change a tag; documents keep their numbers."""
    with acting(actor, "change tag", tag.plant):
        if any(getattr(tag, stem) != changes.get(stem, getattr(tag, stem)) for stem in ("letters", "number", "suffix")):
            _identify(tag, changes)
        return save_row(actor, tag, version, changes)
