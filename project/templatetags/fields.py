"""Template tags for form fields and grades."""

from typing import Any

from django import template
from django.forms import BoundField
from django.utils.safestring import SafeString
from django.utils.translation import gettext_lazy as _

from project.problems import Problem, problems_of

register = template.Library()

GRADE_WORDS = {
    "stop": _("stop"),
    "missing": _("missing"),
    "caution": _("caution"),
    "pass": _("pass"),
    "not_applicable": _("not applicable"),
}


@register.simple_tag
def described(field: BoundField, label: str = "") -> SafeString:
    """A form field tied to its unit, error and help texts, so that a screen reader tells all three."""
    described_by = [f"error-{field.auto_id}"]
    if getattr(field.field, "unit", ""):
        described_by.insert(0, f"unit-{field.auto_id}")
    if field.help_text:
        described_by.append(f"help-{field.auto_id}")
    attrs: dict[str, Any] = {"aria-describedby": " ".join(described_by)}
    if field.errors:
        attrs["aria-invalid"] = "true"
    if label:
        attrs["aria-label"] = label
    return field.as_widget(attrs=attrs)


@register.simple_tag
def form_problems(*forms: Any) -> list[Problem]:
    """What the forms of a page were refused for, field by field."""
    return problems_of(forms)


@register.filter
def grade_word(grade: str) -> Any:
    """A grade in words."""
    return GRADE_WORDS.get(str(grade), grade)


@register.filter
def item(mapping: Any, key: str) -> Any:
    """mapping[key], or ''."""
    return mapping.get(key, "")
