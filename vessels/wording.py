"""What shapes and heads are called, and what is wrong with a shape, in words."""

import re

from django.utils.translation import gettext as _

from project.quantities import PlantUnits
from project.registry import REGISTRY
from vessels.shape_values import ANGLES, LENGTHS, stem_of
from vessels.shapes.arcs import Sphere, Torus
from vessels.shapes.errors import ImpossibleShape
from vessels.shapes.heads import Head

# Limits stand in metres in the sentences of the shapes; a reader has units of their own.
_METRES = re.compile(r"(\d+(?:\.\d+)?(?:e[+-]?\d+)?) m\b")


def head_in_words(side: str, kind: str, head: Head, units: PlantUnits) -> str:
    """What a head is exactly, because definitions of the same name differ: kind, radii, depth, direction.

    side  "bottom" or "top"      kind  its key among the field's choices
    """
    field = REGISTRY[f"vessel.{side}"]
    parts = [f"{_(field.label)}: {_(field.choice_label(kind))}"]
    for arc in head.arcs:
        if isinstance(arc, Sphere):
            parts.append(_("crown radius %(radius)s") % {"radius": units.shown_si(arc.ball_radius_m, "length")})
        elif isinstance(arc, Torus):
            radius = units.shown_si(arc.knuckle_radius_m, "length_small")
            parts.append(_("knuckle radius %(radius)s") % {"radius": radius})
    if not head.is_flat:
        parts.append(_("depth %(depth)s") % {"depth": units.shown_si(head.depth_m, "length_small")})
    if head.straight_flange_m:
        flange = units.shown_si(head.straight_flange_m, "length_small")
        parts.append(_("straight flange %(length)s") % {"length": flange})
    if head.inward:
        parts.append(_("pushed in"))
    return ", ".join(parts) + "."


def shape_problem_in_words(problem: ImpossibleShape, units: PlantUnits) -> str:
    """Which dimension makes no vessel, what was given, and what is accepted."""
    stem = stem_of(problem.argument)
    key = f"vessel.{stem}"
    label = _(REGISTRY[key].label) if key in REGISTRY else problem.argument
    given = problem.value
    kind = "length" if stem in LENGTHS else "angle" if stem in ANGLES else ""
    if isinstance(given, float) and kind:
        given = str(units.shown_si(given, kind))
    return _("%(field)s makes no vessel: %(given)s is given, accepted is %(accepted)s.") % {
        "field": label,
        "given": given,
        "accepted": _METRES.sub(lambda found: str(units.shown_si(float(found[1]), "length")), problem.accepted),
    }
