"""Titles, sentences, cures and symbols of the checks of beams and their mounting. `instruments.wording` fills them in.

Merged into the tables of `instruments.wording_sentences` and `instruments.wording_texts`.
"""

from typing import Any

from django.utils.translation import gettext_lazy as _

Text = Any  # as in `instruments.wording_texts`

TITLES: dict[str, Text] = {
    "mounting.nozzle_length": _("Length of the nozzle"),
    "mounting.wall": _("Beam and wall"),
    "mounting.internals": _("Beam and internals"),
    "mounting.tilt": _("Tilt over a liquid"),
    "mounting.aiming": _("Aiming at the draw-off point"),
    "mounting.centre": _("Middle of a curved roof"),
}

_NO_BEAM = _("The class sends no beam through the gas.")
_NO_NOZZLE = _("In this arrangement the beam does not come out of a nozzle of its own.")
_WELL = _("The beam runs in a stilling well.")

_AIMED = _("The beam is aimed at the draw-off point, and only an upright one is followed down the vessel.")

_CODES = tuple(TITLES)

SENTENCES: dict[tuple[str, str], Text] = {
    **{(code, "no_beam"): _NO_BEAM for code in _CODES},
    **{(code, "arrangement"): _NO_NOZZLE for code in _CODES},
    **{(code, "well"): _WELL for code in _CODES},
    ("mounting.nozzle_length", "ok"): _(
        "The beam is %(wide)s wide at the end of the nozzle, within the bore of %(bore)s."
    ),
    ("mounting.nozzle_length", "outside"): _("The antenna ends %(below)s below the end of the nozzle."),
    ("mounting.nozzle_length", "met"): _(
        "The beam is %(wide)s wide at the end of the nozzle, wider than the bore of %(bore)s: its edge meets the "
        "nozzle by %(beyond)s."
    ),
    ("mounting.nozzle_length", "long"): _(
        "The beam clears the end of the nozzle, but the nozzle of %(length)s is long for its bore of %(bore)s; "
        "practice keeps it to %(longest)s."
    ),
    ("mounting.wall", "aimed"): _AIMED,
    ("mounting.internals", "aimed"): _AIMED,
    ("mounting.wall", "ok"): _(
        "Down to %(what)s the beam stays clear of the walls; it comes closest at %(at)s, where its edge is %(edge)s "
        "from the axis and the wall %(free)s."
    ),
    ("mounting.wall", "met"): _(
        "The edge of the beam meets the wall first at %(first)s and reaches up to %(deep)s beyond it, at %(at)s, where "
        "the wall is %(free)s from the axis."
    ),
    ("mounting.internals", "ok"): _(
        "The beam clears what comes closest, %(internal.kind)s %(name)s, by %(clear)s at %(at)s."
    ),
    ("mounting.internals", "met"): _(
        "The beam meets %(internal.kind)s %(name)s first at %(first)s and reaches up to %(deep)s into it or past it, "
        "at %(at)s."
    ),
    ("mounting.internals", "apart"): _(
        "The beam does not come by %(internal.kind)s %(name)s on its way down to the lowest level."
    ),
    ("mounting.internals", "none"): _("The vessel has no internals."),
    ("mounting.tilt", "ok"): _("The beam is tilted by %(tilt)s, no more than half its angle, %(half)s."),
    ("mounting.tilt", "tilted"): _(
        "The beam is tilted by %(tilt)s, more than half its angle, %(half)s: the level surface of the case “%(case)s” "
        "mirrors it away from the sensor."
    ),
    ("mounting.tilt", "solid"): _("A bulk solid is no mirror: the beam may be aimed."),
    ("mounting.aiming", "ok"): _(
        "The draw-off point is seen at %(asked)s from the vertical; the class can be aimed by %(limit)s."
    ),
    ("mounting.aiming", "ok_middle"): _(
        "The draw-off point, taken in the middle, is seen at %(asked)s from the vertical; the class can be aimed by "
        "%(limit)s."
    ),
    ("mounting.aiming", "beyond"): _(
        "The draw-off point is seen at %(asked)s from the vertical; the class can be aimed by %(limit)s only."
    ),
    ("mounting.aiming", "beyond_middle"): _(
        "The draw-off point, taken in the middle, is seen at %(asked)s from the vertical; the class can be aimed by "
        "%(limit)s only."
    ),
    ("mounting.aiming", "no_solid"): _("No bulk solid is handled: the beam points straight down."),
    ("mounting.centre", "ok"): _("The sensor at radius %(radius)s does not stand in the middle of the curved roof."),
    ("mounting.centre", "centre"): _(
        "The sensor at radius %(radius)s stands in the middle of a curved roof, which gathers repeated echoes there; "
        "practice keeps %(least)s away."
    ),
    ("mounting.centre", "level_roof"): _("The roof is not a dome over a round vessel."),
}

# As in `wording_texts.CURES`.
CURES: dict[str, tuple[str, Text]] = {
    "shorter_nozzle": ("down", _("Shorten the nozzle: a projection of %(value)s or less.")),
    "narrower_beam": ("down", _("Choose a class with a beam angle of %(value)s or less for the same aperture.")),
    "other_place": ("", _("Move the nozzle, or turn it to another bearing, away from what the beam meets.")),
    "upright": ("down", _("Set the sensor upright: an inclination of %(value)s or less.")),
    "nearer_to_outlet": ("", _("Move the nozzle nearer to the draw-off point.")),
    "other_class_aiming": ("up", _("Choose a class that can be aimed by %(value)s or more.")),
    "outward": ("up", _("Move the nozzle outward: radius %(value)s or more.")),
}

SYMBOLS: dict[str, Text] = {
    "z_tip": _("elevation of the lowest point of the antenna"),
    "z_at": _("elevation looked at"),
    "z_out": _("elevation of the bottom at the draw-off point"),
    "D_ap": _("aperture"),
    "φ": _("beam angle at half power"),
    "τ": _("tilt of the beam from the vertical"),
    "θ": _("angle from the vertical to the draw-off point"),
    "θ_max": _("largest aiming angle of the class"),
    "r_beam": _("distance of the beam's edge from its axis"),
    "c_beam": _("margin beside the beam that the plant sets"),
    "s_wall": _("horizontal distance of the nearest wall from the axis"),
    "s_own": _("distance in plan of the internal's axis from the sensor's"),
    "s_free": _("distance in plan of the internal from the sensor's axis"),
    "s_out": _("distance in plan of the draw-off point"),
    "r_own": _("radius of the internal from the vessel's axis"),
    "w_own": _("width or diameter of the internal"),
    "β_own": _("bearing of the internal"),
}
