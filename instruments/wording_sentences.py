"""Titles of the checks, and a sentence for every variant of a finding. `instruments.wording` fills them in.

A sentence is chosen by the code and variant of a finding; `%(name)s` takes the finding's parameter of that
name, shown in the plant's units. A parameter named like a field with choices shows the choice's label.
"""

from django.utils.translation import gettext_lazy as _

from instruments import wording_mounting, wording_principles, wording_process
from instruments.wording_texts import Text

TITLES: dict[str, Text] = {
    "reach.range": _("Range"),
    "reach.dead_zone_urv": _("URV below the upper dead zone"),
    "reach.dead_zone_setpoint": _("Setpoint below the upper dead zone"),
    "reach.dead_zone_overflow": _("Overflow below the upper dead zone"),
    "reach.bottom": _("Lowest level that can be seen"),
    "reach.between_taps": _("Level between the connections"),
    "reach.agitator": _("Probe and agitator"),
    "reach.heap": _("Heap of bulk solids"),
    "reach.permittivity": _("Relative permittivity"),
    "reach.accuracy": _("Accuracy"),
    "process.medium_kind": _("Kind of medium"),
    "process.temperature_high": _("Highest process temperature"),
    "process.temperature_low": _("Lowest process temperature"),
    "process.pressure_high": _("Highest process pressure"),
    "process.pressure_low": _("Lowest process pressure"),
    "process.dp_span": _("Pressure span"),
    "process.dp_limits": _("Pressure differences at the cell"),
    "process.dp_density": _("Change of density"),
    **wording_process.TITLES,
    **wording_mounting.TITLES,
    "mounting.arrangement": _("Arrangement"),
    "mounting.vessel_shape": _("Shape of the vessel"),
    "mounting.nozzle_face": _("Elevation of the nozzle"),
    "mounting.nozzle_position": _("Place of the nozzle"),
    "mounting.opening": _("Opening for the antenna or probe"),
    "mounting.taps": _("Upper and lower connection"),
    "mounting.probe_length": _("Length of the probe"),
    "signal.span_order": _("LRV below URV"),
    "signal.span_inside": _("Span inside the vessel"),
    "setpoints.order": _("Order of the setpoints"),
    "setpoints.inside_span": _("Setpoint inside the span"),
    "records.shared_connection": _("Connection of its own"),
}

_DEAD_ZONE_OK = _(
    "%(what)s %(level)s lies %(clear)s below the dead zone, which ends at %(end)s; less the accuracy of "
    "±%(accuracy)s, %(spare)s are left."
)
_DEAD_ZONE_CLOSE = _(
    "%(what)s %(level)s lies only %(clear)s below the dead zone, which ends at %(end)s: %(short)s less than the "
    "accuracy of ±%(accuracy)s."
)
_DEAD_ZONE_INSIDE = _(
    "%(what)s %(level)s lies %(inside)s inside the dead zone, which ends at %(end)s; with the accuracy of "
    "±%(accuracy)s it is %(short)s too high."
)

_HEAP_OK = _(
    "At the sensor's place the reading of a heap of %(angle)s in the case “%(case)s” needs a correction of "
    "%(correction)s, within the ±%(asked)s asked for."
)
_HEAP_OFF = _(
    "At the sensor's place the reading of a heap of %(angle)s in the case “%(case)s” needs a correction of "
    "%(correction)s, more than the ±%(asked)s asked for; it needs none at %(zero)s from the feed point."
)
_HEAP_OK_MIDDLE = _(
    "At the sensor's place the reading of a heap of %(angle)s in the case “%(case)s” needs a correction of "
    "%(correction)s, within the ±%(asked)s asked for; the feed point is taken in the middle."
)
_HEAP_OFF_MIDDLE = _(
    "At the sensor's place the reading of a heap of %(angle)s in the case “%(case)s” needs a correction of "
    "%(correction)s, more than the ±%(asked)s asked for; it needs none at a radius of %(zero)s, the feed point being "
    "taken in the middle."
)

_NO_DISTANCE = _("A difference of pressures knows no distance from a reference point.")
_NO_REFERENCE = _("In this arrangement there is no reference point from which a distance counts.")
_NOT_BY_PRESSURE = _("The class does not measure a difference of pressures.")
_NO_TWO_SIDES = _("In this arrangement there are no two sides whose pressures are compared.")
_NO_TAPS = _("In this arrangement the measurement does not end at an upper and a lower connection.")
_NO_NOZZLE = _("In this arrangement the sensor does not stand in a nozzle of its own.")
_NO_PROBE = _("The class has no probe.")

SENTENCES: dict[tuple[str, str], Text] = {
    **wording_principles.SENTENCES,
    **wording_process.SENTENCES,
    **wording_mounting.SENTENCES,
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
    ("reach.range", "ok_probe"): _(
        "%(what)s at %(level)s is %(distance)s away, within the %(range)s that the probe sees in the case “%(case)s”."
    ),
    ("reach.range", "short_probe"): _(
        "%(what)s at %(level)s is %(distance)s away, %(short)s beyond the %(range)s that the probe sees in the case "
        "“%(case)s”."
    ),
    ("reach.range", "pressure"): _NO_DISTANCE,
    ("reach.range", "arrangement"): _NO_REFERENCE,
    ("reach.dead_zone_urv", "pressure"): _NO_DISTANCE,
    ("reach.dead_zone_urv", "arrangement"): _NO_REFERENCE,
    ("reach.dead_zone_setpoint", "pressure"): _NO_DISTANCE,
    ("reach.dead_zone_setpoint", "arrangement"): _NO_REFERENCE,
    ("reach.dead_zone_overflow", "pressure"): _NO_DISTANCE,
    ("reach.dead_zone_overflow", "arrangement"): _NO_REFERENCE,
    ("reach.bottom", "pressure"): _NO_DISTANCE,
    ("reach.bottom", "arrangement"): _NO_REFERENCE,
    ("reach.bottom", "chamber"): _("In a chamber the lower connection decides, not the vessel's bottom."),
    ("reach.bottom", "probe"): _("The end of the probe decides, not what is seen of the bottom."),
    ("reach.between_taps", "ok"): _(
        "%(what)s %(level)s lies between the connections, from %(lower)s to %(upper)s."
    ),
    ("reach.between_taps", "below"): _(
        "%(what)s %(level)s lies %(beyond)s below the lower connection at %(lower)s, where the measurable range ends."
    ),
    ("reach.between_taps", "above"): _(
        "%(what)s %(level)s lies %(beyond)s above the upper connection at %(upper)s, where the measurable range ends."
    ),
    ("reach.between_taps", "no_taps"): _NO_TAPS,
    ("reach.agitator", "ok"): _("The probe clears what the agitator sweeps by %(gap)s."),
    ("reach.agitator", "swept"): _("The probe stands %(inside)s inside what the agitator sweeps."),
    ("reach.agitator", "none"): _("The vessel has no agitator."),
    ("reach.agitator", "no_probe"): _NO_PROBE,
    ("reach.agitator", "apart"): _("The probe does not stand in the vessel."),
    ("reach.agitator", "well"): _("The probe stands in a stilling well."),
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
    ("reach.heap", "ok"): _HEAP_OK,
    ("reach.heap", "off"): _HEAP_OFF,
    ("reach.heap", "ok_middle"): _HEAP_OK_MIDDLE,
    ("reach.heap", "off_middle"): _HEAP_OFF_MIDDLE,
    ("reach.heap", "no_solid"): _("No bulk solid is handled: the surface is level."),
    ("reach.heap", "no_accuracy"): _("No accuracy is asked for."),
    ("reach.heap", "pressure"): _("A difference of pressures does not read the surface at one place."),
    ("reach.heap", "arrangement"): _NO_NOZZLE,
    ("reach.heap", "inclined"): _(
        "The sensor does not look straight down: the place at which it meets the surface moves with the level, and the "
        "correction with it."
    ),
    ("reach.heap", "walls"): _(
        "The walls are not upright: one correction does not hold for every level."
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
    ("reach.permittivity", "pressure"): _("A difference of pressures does not depend on the relative permittivity."),
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
    ("process.dp_span", "ok"): _(
        "The pressure span of %(span)s is within what the class can be set to, %(least)s to %(most)s."
    ),
    ("process.dp_span", "small"): _(
        "The pressure span of %(span)s is below the least to which the class can be set, %(least)s."
    ),
    ("process.dp_span", "large"): _(
        "The pressure span of %(span)s is above the greatest to which the class can be set, %(most)s."
    ),
    ("process.dp_span", "other_principle"): _NOT_BY_PRESSURE,
    ("process.dp_span", "arrangement"): _NO_TWO_SIDES,
    ("process.dp_limits", "ok"): _(
        "The difference nearest to a limit of the cell is %(difference)s at %(what)s in the case “%(case)s”; the limit "
        "is %(limit)s."
    ),
    ("process.dp_limits", "below"): _(
        "The difference of %(difference)s at %(what)s in the case “%(case)s” is %(beyond)s below the lowest that the "
        "cell measures, %(limit)s."
    ),
    ("process.dp_limits", "above"): _(
        "The difference of %(difference)s at %(what)s in the case “%(case)s” is %(beyond)s above the highest that the "
        "cell measures, %(limit)s."
    ),
    ("process.dp_limits", "other_principle"): _NOT_BY_PRESSURE,
    ("process.dp_limits", "arrangement"): _NO_TWO_SIDES,
    ("process.dp_density", "ok"): _(
        "Set to the densities of the normal case, the level shown at %(what)s in the case “%(case)s” is off by "
        "%(error)s, within the ±%(asked)s asked for."
    ),
    ("process.dp_density", "off"): _(
        "Set to the densities of the normal case, the level shown at %(what)s in the case “%(case)s” is off by "
        "%(error)s, more than the ±%(asked)s asked for."
    ),
    ("process.dp_density", "compensated"): _(
        "Without the compensation that is specified, the level shown at %(what)s in the case “%(case)s” is off by "
        "%(error)s, more than the ±%(asked)s asked for; that the compensation makes it good is to be proved."
    ),
    ("process.dp_density", "only_normal"): _("There is no other operating case than the normal one."),
    ("process.dp_density", "other_principle"): _NOT_BY_PRESSURE,
    ("process.dp_density", "arrangement"): _NO_TWO_SIDES,
    ("mounting.arrangement", "ok"): _("The class suits the arrangement: %(measurement.arrangement)s."),
    ("mounting.arrangement", "unsuited"): _(
        "The class does not suit the arrangement: %(measurement.arrangement)s."
    ),
    ("mounting.nozzle_face", "arrangement"): _NO_NOZZLE,
    ("mounting.nozzle_position", "arrangement"): _NO_NOZZLE,
    ("mounting.opening", "arrangement"): _NO_NOZZLE,
    ("mounting.opening", "pressure"): _("No antenna or probe has to pass."),
    ("mounting.taps", "ok"): _(
        "The upper connection at %(upper)s lies %(apart)s above the lower one at %(lower)s."
    ),
    ("mounting.taps", "reversed"): _(
        "The upper connection at %(upper)s does not lie above the lower one at %(lower)s."
    ),
    ("mounting.taps", "top_below"): _(
        "The sensor's reference point at %(top)s lies %(below)s below the chamber's upper connection at %(upper)s."
    ),
    ("mounting.taps", "no_taps"): _NO_TAPS,
    ("mounting.probe_length", "ok_class"): _(
        "The probe of %(length)s is within the longest that the class offers, %(limit)s."
    ),
    ("mounting.probe_length", "beyond_class"): _(
        "The probe of %(length)s is %(beyond)s longer than the longest that the class offers, %(limit)s."
    ),
    ("mounting.probe_length", "ok_bottom"): _(
        "The probe of %(length)s ends above the bottom, which is %(limit)s below the reference point."
    ),
    ("mounting.probe_length", "beyond_bottom"): _(
        "The probe of %(length)s is %(beyond)s longer than the %(limit)s from the reference point to the bottom."
    ),
    ("mounting.probe_length", "no_probe"): _NO_PROBE,
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
        "What has to pass, %(antenna)s wide, passes the bore of %(bore)s with %(clearance)s to spare."
    ),
    ("mounting.opening", "tight"): _(
        "What has to pass, %(antenna)s wide, passes the bore of %(bore)s with only %(clearance)s to spare; practice "
        "leaves %(least)s."
    ),
    ("mounting.opening", "narrow"): _(
        "What has to pass, %(antenna)s wide, does not pass the bore of %(bore)s: it is %(short)s too wide."
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
        "%(what)s %(level)s lies inside the span, from %(lrv)s to %(urv)s, and %(spare)s inside %(limit)s, the end of "
        "the measuring current less the accuracy of ±%(accuracy)s."
    ),
    ("setpoints.inside_span", "outside_low"): _(
        "%(what)s %(level)s lies below LRV %(lrv)s, in the reserve of the measuring current; %(spare)s are left to "
        "its end at %(limit)s, the accuracy of ±%(accuracy)s deducted."
    ),
    ("setpoints.inside_span", "outside_high"): _(
        "%(what)s %(level)s lies above URV %(urv)s, in the reserve of the measuring current; %(spare)s are left to "
        "its end at %(limit)s, the accuracy of ±%(accuracy)s deducted."
    ),
    ("setpoints.inside_span", "beyond_low"): _(
        "%(what)s %(level)s lies %(beyond)s below %(limit)s, the lowest level that the measuring current carries with "
        "the accuracy of ±%(accuracy)s deducted."
    ),
    ("setpoints.inside_span", "beyond_high"): _(
        "%(what)s %(level)s lies %(beyond)s above %(limit)s, the highest level that the measuring current carries with "
        "the accuracy of ±%(accuracy)s deducted."
    ),
    ("setpoints.inside_span", "none"): _("There are no setpoints."),
    ("records.shared_connection", "ok"): _("No other measurement of the plant uses a nozzle of this one."),
    ("records.shared_connection", "shared"): _(
        "The nozzle %(nozzles)s serves other measurements too: %(tags)s. What plugs or closes it takes them all."
    ),
    ("records.shared_connection", "shared_claimed"): _(
        "The nozzle %(nozzles)s serves other measurements too: %(tags)s. What plugs or closes it takes them all, "
        "though this one is part of a safety function, a redundancy or a vote."
    ),
    ("records.shared_connection", "none"): _("It is fitted to no nozzle."),
    ("records.shared_connection", "unknown"): _("These data do not say which other measurements use the nozzle."),
}  # fmt: skip
