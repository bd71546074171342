"""The words of findings and figures: titles, sentences, cures, symbols. `instruments.wording` fills them in.

A sentence is chosen by the code and variant of a finding; `%(name)s` takes the finding's parameter of that
name, shown in the plant's units. A parameter named like a field with choices shows the choice's label.
"""

from typing import Any

from django.utils.translation import gettext_lazy as _

Text = Any  # a lazy translation; django-stubs types it as a promise that behaves like str

GRADE_LABELS: dict[str, Text] = {
    "stop": _("Stop"),
    "missing": _("Missing"),
    "caution": _("Caution"),
    "pass": _("Pass"),
    "not_applicable": _("Not applicable"),
}

FAMILY_LABELS: dict[str, Text] = {
    "reach": _("Reach"),
    "process": _("Process"),
    "mounting": _("Mounting"),
    "signal": _("Signal"),
    "setpoints": _("Setpoints"),
}

TITLES: dict[str, Text] = {
    "reach.range": _("Range"),
    "reach.dead_zone_urv": _("URV below the upper dead zone"),
    "reach.dead_zone_setpoint": _("Setpoint below the upper dead zone"),
    "reach.dead_zone_overflow": _("Overflow below the upper dead zone"),
    "reach.bottom": _("Lowest level that can be seen"),
    "reach.permittivity": _("Relative permittivity"),
    "reach.accuracy": _("Accuracy"),
    "process.medium_kind": _("Kind of medium"),
    "process.temperature_high": _("Highest process temperature"),
    "process.temperature_low": _("Lowest process temperature"),
    "process.pressure_high": _("Highest process pressure"),
    "process.pressure_low": _("Lowest process pressure"),
    "mounting.vessel_shape": _("Shape of the vessel"),
    "mounting.nozzle_face": _("Elevation of the nozzle"),
    "mounting.nozzle_position": _("Place of the nozzle"),
    "mounting.opening": _("Opening for the antenna"),
    "signal.span_order": _("LRV below URV"),
    "signal.span_inside": _("Span inside the vessel"),
    "setpoints.order": _("Order of the setpoints"),
    "setpoints.inside_span": _("Setpoint inside the span"),
}

_DEAD_ZONE_OK = _("%(what)s %(level)s lies %(clear)s below the dead zone, which ends at %(end)s.")
_DEAD_ZONE_CLOSE = _(
    "%(what)s %(level)s lies only %(clear)s below the dead zone, which ends at %(end)s: less than the "
    "accuracy of ±%(accuracy)s."
)
_DEAD_ZONE_INSIDE = _("%(what)s %(level)s lies %(inside)s inside the dead zone, which ends at %(end)s.")

SENTENCES: dict[tuple[str, str], Text] = {
    ("reach.range", "ok"): _(
        "%(what)s at %(level)s is %(distance)s away, within the effective range of %(range)s in the case "
        "“%(case)s”."
    ),
    ("reach.range", "short"): _(
        "%(what)s at %(level)s is %(distance)s away, %(short)s beyond the effective range of %(range)s in "
        "the case “%(case)s”."
    ),
    ("reach.range", "ok_class"): _(
        "%(what)s at %(level)s is %(distance)s away, within the range of %(range)s of the class."
    ),
    ("reach.range", "short_class"): _(
        "%(what)s at %(level)s is %(distance)s away, %(short)s beyond the range of %(range)s of the class."
    ),
    ("reach.dead_zone_urv", "ok"): _DEAD_ZONE_OK,
    ("reach.dead_zone_urv", "close"): _DEAD_ZONE_CLOSE,
    ("reach.dead_zone_urv", "inside"): _DEAD_ZONE_INSIDE,
    ("reach.dead_zone_setpoint", "ok"): _DEAD_ZONE_OK,
    ("reach.dead_zone_setpoint", "close"): _DEAD_ZONE_CLOSE,
    ("reach.dead_zone_setpoint", "inside"): _DEAD_ZONE_INSIDE,
    ("reach.dead_zone_setpoint", "none"): _("There are no setpoints."),
    ("reach.dead_zone_overflow", "ok"): _(
        "The overflow level %(level)s lies below the dead zone, which ends at %(end)s."
    ),
    ("reach.dead_zone_overflow", "inside"): _(
        "The overflow level %(level)s lies %(inside)s inside the dead zone, which ends at %(end)s: an "
        "overflowing vessel is not measured."
    ),
    ("reach.dead_zone_overflow", "none"): _("No overflow level is given."),
    ("reach.bottom", "ok"): _(
        "%(what)s at %(level)s lies above the lowest level that the sensor sees, %(lowest)s."
    ),
    ("reach.bottom", "below"): _(
        "%(what)s at %(level)s lies %(below)s below the lowest level that the sensor sees, %(lowest)s."
    ),
    ("reach.permittivity", "ok"): _(
        "Relative permittivity %(value)s in the case “%(case)s” is enough; the class needs %(least)s."
    ),
    ("reach.permittivity", "low"): _(
        "Relative permittivity %(value)s in the case “%(case)s” is below the %(least)s that the class needs."
    ),
    ("reach.permittivity", "impossible"): _(
        "Relative permittivity %(value)s in the case “%(case)s” cannot be: every medium has more than 1."
    ),
    ("reach.permittivity", "not_radar"): _("Sound does not depend on the relative permittivity."),
    ("reach.accuracy", "ok"): _(
        "The class's own accuracy of ±%(offered)s is within the ±%(asked)s asked for; installation "
        "is not in it."
    ),
    ("reach.accuracy", "coarse"): _(
        "The class's own accuracy of ±%(offered)s is coarser than the ±%(asked)s asked for."
    ),
    ("reach.accuracy", "none"): _("No accuracy is asked for."),
    ("process.medium_kind", "ok"): _("The class suits the kind of medium: %(medium.kind)s."),
    ("process.medium_kind", "unsuited"): _(
        "The class does not suit the kind of medium in the case “%(case)s”: %(medium.kind)s."
    ),
    ("process.temperature_high", "ok"): _(
        "The highest temperature, %(asked)s in the case “%(case)s”, is within the class's limit of %(limit)s."
    ),
    ("process.temperature_high", "beyond"): _(
        "%(asked)s in the case “%(case)s” is %(beyond)s above the class's highest temperature, %(limit)s."
    ),
    ("process.temperature_high", "ok_design"): _(
        "The design temperature %(asked)s is within the class's highest, %(limit)s."
    ),
    ("process.temperature_high", "beyond_design"): _(
        "The design temperature %(asked)s is %(beyond)s above the class's highest, %(limit)s."
    ),
    ("process.temperature_low", "ok"): _(
        "The lowest temperature, %(asked)s in the case “%(case)s”, is within the class's limit of %(limit)s."
    ),
    ("process.temperature_low", "beyond"): _(
        "%(asked)s in the case “%(case)s” is %(beyond)s below the class's lowest temperature, %(limit)s."
    ),
    ("process.temperature_low", "ok_design"): _(
        "The lowest design temperature %(asked)s is within the class's lowest, %(limit)s."
    ),
    ("process.temperature_low", "beyond_design"): _(
        "The lowest design temperature %(asked)s is %(beyond)s below the class's lowest, %(limit)s."
    ),
    ("process.pressure_high", "ok"): _(
        "The highest pressure, %(asked)s in the case “%(case)s”, is within the class's limit of %(limit)s."
    ),
    ("process.pressure_high", "beyond"): _(
        "%(asked)s in the case “%(case)s” is %(beyond)s above the class's highest pressure, %(limit)s."
    ),
    ("process.pressure_high", "ok_design"): _(
        "The design pressure %(asked)s is within the class's highest, %(limit)s."
    ),
    ("process.pressure_high", "beyond_design"): _(
        "The design pressure %(asked)s is %(beyond)s above the class's highest, %(limit)s."
    ),
    ("process.pressure_low", "ok"): _(
        "The lowest pressure, %(asked)s in the case “%(case)s”, is within the class's limit of %(limit)s."
    ),
    ("process.pressure_low", "beyond"): _(
        "%(asked)s in the case “%(case)s” is %(beyond)s below the class's lowest pressure, %(limit)s."
    ),
    ("process.pressure_low", "ok_design"): _(
        "The lowest design pressure %(asked)s is within the class's lowest, %(limit)s."
    ),
    ("process.pressure_low", "beyond_design"): _(
        "The lowest design pressure %(asked)s is %(beyond)s below the class's lowest, %(limit)s."
    ),
    ("mounting.vessel_shape", "ok"): _("The dimensions make a body of %(volume)s."),
    ("mounting.vessel_shape", "impossible"): _(
        "%(field)s does not fit the vessel's shape: %(value)s is given, accepted is %(accepted)s."
    ),
    ("mounting.nozzle_face", "ok"): _(
        "The nozzle's face at %(face)s is not below the inside of the roof at %(roof)s."
    ),
    ("mounting.nozzle_face", "below_roof"): _(
        "The nozzle's face at %(face)s lies %(below)s below the inside of the roof at %(roof)s."
    ),
    ("mounting.nozzle_face", "two_elevations"): _(
        "Both the elevation of the face, %(face)s, and the projection, %(projection)s, are entered; one "
        "follows from the other."
    ),
    ("mounting.nozzle_position", "ok"): _(
        "The nozzle at radius %(radius)s lies within the shell, whose radius is %(half)s."
    ),
    ("mounting.nozzle_position", "outside"): _(
        "The nozzle at radius %(radius)s reaches %(beyond)s beyond the shell, whose radius is %(half)s."
    ),
    ("mounting.opening", "ok"): _(
        "The antenna of %(antenna)s passes the bore of %(bore)s with %(clearance)s to spare."
    ),
    ("mounting.opening", "tight"): _(
        "The antenna of %(antenna)s passes the bore of %(bore)s with only %(clearance)s to spare; practice "
        "leaves %(least)s."
    ),
    ("mounting.opening", "narrow"): _(
        "The antenna of %(antenna)s does not pass the bore of %(bore)s: it is %(short)s too wide."
    ),
    ("signal.span_order", "ok"): _("LRV %(lrv)s lies below URV %(urv)s; the span is %(span)s."),
    ("signal.span_order", "equal"): _("LRV and URV are both %(urv)s; there is no span to measure."),
    ("signal.span_order", "reversed"): _(
        "LRV %(lrv)s lies above URV %(urv)s; a falling current is set by the direction, not by "
        "exchanging them."
    ),
    ("signal.span_inside", "ok"): _(
        "%(what)s %(level)s lies inside the vessel, from %(bottom)s to %(roof)s."
    ),
    ("signal.span_inside", "below_bottom"): _(
        "%(what)s %(level)s lies %(beyond)s below the vessel's lowest inside point at %(limit)s."
    ),
    ("signal.span_inside", "above_roof"): _(
        "%(what)s %(level)s lies %(beyond)s above the inside of the roof at %(limit)s."
    ),
    ("setpoints.order", "ok"): _(
        "The setpoints are in order; the closest are %(low_name)s and %(high_name)s, %(gap)s apart."
    ),
    ("setpoints.order", "wrong"): _(
        "%(high_name)s at %(high)s does not lie above %(low_name)s at %(low)s."
    ),
    ("setpoints.order", "too_few"): _("There are no two setpoints to compare."),
    ("setpoints.inside_span", "ok"): _(
        "%(what)s %(level)s lies inside the span, from %(lrv)s to %(urv)s."
    ),
    ("setpoints.inside_span", "outside_low"): _(
        "%(what)s %(level)s lies below LRV %(lrv)s; only the reserve of the measuring current reaches it."
    ),
    ("setpoints.inside_span", "outside_high"): _(
        "%(what)s %(level)s lies above URV %(urv)s; only the reserve of the measuring current reaches it."
    ),
    ("setpoints.inside_span", "beyond_low"): _(
        "%(what)s %(level)s lies %(beyond)s below %(limit)s, the lowest level that the measuring "
        "current carries."
    ),
    ("setpoints.inside_span", "beyond_high"): _(
        "%(what)s %(level)s lies %(beyond)s above %(limit)s, the highest level that the measuring "
        "current carries."
    ),
    ("setpoints.inside_span", "none"): _("There are no setpoints."),
}  # fmt: skip

# The variant "missing" of every check. `fields` lists the labels of what is missing.
MISSING = _("Cannot be decided without: %(fields)s.")
MISSING_OF = _("Cannot be decided for %(what)s without: %(fields)s.")
MISSING_IN_CASE = _("Cannot be decided without: %(fields)s (operating case: %(case)s).")

# By the code of a cure: how the value is rounded so that the figure shown is enough ("up", "down", "" where
# there is none), and the sentence. `field` is the label of the field concerned.
CURES: dict[str, tuple[str, Text]] = {
    "raise_level": ("up", _("Set “%(field)s” to %(value)s or higher.")),
    "lower_level": ("down", _("Set “%(field)s” to %(value)s or lower.")),
    "swap_span": ("", _("Exchange LRV and URV.")),
    "raise_nozzle": ("up", _("Lift the nozzle's face: set “%(field)s” to %(value)s or more.")),
    "longer_adapter": ("up", _("Lift the sensor by an adapter of %(value)s or more.")),
    "keep_one": ("", _("Keep one of the two and empty the other.")),
    "inward": ("down", _("Move the nozzle inward: radius %(value)s or less.")),
    "towards_lowest_point": ("", _("Move the nozzle nearer to the vessel's lowest point.")),
    "wider_nozzle": ("up", _("Use a nozzle with a bore of %(value)s or more.")),
    "other_class_range": (
        "up", _("Choose a class with a range of %(value)s or more for the same reference echo.")),
    "other_class_dead_zone": ("down", _("Choose a class whose upper dead zone is %(value)s or less.")),
    "other_class_permittivity": (
        "down", _("Choose a class that works from relative permittivity %(value)s.")),
    "other_class_accuracy": ("down", _("Choose a class with an accuracy of ±%(value)s or better.")),
    "other_class_medium": ("", _("Choose a class that suits this kind of medium.")),
    "other_class_temperature_high": ("up", _("Choose a class for temperatures up to %(value)s.")),
    "other_class_temperature_low": ("down", _("Choose a class for temperatures down to %(value)s.")),
    "other_class_pressure_high": ("up", _("Choose a class for pressures up to %(value)s.")),
    "other_class_pressure_low": ("down", _("Choose a class for pressures down to %(value)s.")),
    "other_class_antenna": ("down", _("Choose a class whose antenna is %(value)s or less in diameter.")),
}  # fmt: skip

FIGURE_LABELS: dict[str, Text] = {
    "reference_point": _("Elevation of the sensor's reference point"),
    "distance_lrv": _("Distance at LRV (0 %%)"),
    "distance_urv": _("Distance at URV (100 %%)"),
    "effective_range": _("Effective range"),
    "volume_lrv": _("Volume at LRV"),
    "volume_urv": _("Volume at URV"),
    "volume_total": _("Total capacity"),
    "setpoint_percent": _("Signal at %(name)s"),
    "setpoint_current": _("Current at %(name)s"),
}

# Meaning of the symbols in workings, for a legend.
SYMBOLS: dict[str, Text] = {
    "z": _("level"),
    "z_ref": _("elevation of the sensor's reference point"),
    "z_face": _("elevation of the nozzle's face"),
    "z_roof": _("elevation of the inside of the roof"),
    "z_bottom": _("elevation of the lowest inside point"),
    "z_axis": _("elevation at which the sensor's axis meets the bottom"),
    "z_dead": _("elevation at which the upper dead zone ends"),
    "z_max": _("highest level that is measured with certainty"),
    "z_min": _("lowest level that is measured"),
    "z_limit": _("level at the end of the measuring current, less the accuracy"),
    "z_LL": _("level of setpoint LL"),
    "z_L": _("level of setpoint L"),
    "z_H": _("level of setpoint H"),
    "z_HH": _("level of setpoint HH"),
    "h": _("height of the level above the lowest inside point"),
    "h_datum": _("height of the datum above the lowest inside point"),
    "h_p": _("projection of the nozzle from the inside of the roof"),
    "h(r)": _("height of the bottom at the nozzle's radius"),
    "H": _("inside height of the vessel"),
    "V": _("volume"),
    "a": _("length of the adapter"),
    "d": _("distance from the reference point"),
    "D": _("upper dead zone of the class"),
    "D_low": _("lower dead zone of the class"),
    "D_antenna": _("outside diameter of the antenna"),
    "t": _("reach of the antenna below the reference point"),
    "u": _("accuracy of the class"),
    "u_asked": _("accuracy asked for"),
    "b": _("bore of the nozzle"),
    "c": _("clearance on the diameter"),
    "r": _("radius of the nozzle from the vessel's axis"),
    "r_out": _("radius of the outermost point of the bore"),
    "p": _("pressure"),
    "p_max": _("highest pressure of the class"),
    "p_min": _("lowest pressure of the class"),
    "T": _("temperature"),
    "T_max": _("highest temperature of the class"),
    "T_min": _("lowest temperature of the class"),
    "R_class": _("range of the class"),
    "R_eff": _("effective range"),
    "L_ref": _("echo level for which the class states its range"),
    "L_medium": _("echo level of the medium's surface"),
    "εr": _("relative permittivity of the medium"),
    "εr_min": _("least relative permittivity of the class"),
    "LRV": _("lower range value"),
    "URV": _("upper range value"),
    "s": _("span"),
    "f": _("share of the span at the end of the measuring current"),
    "x": _("share of the span"),
    "i": _("current"),
    "m": _("margin"),
}
