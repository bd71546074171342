"""The words of findings and figures besides their sentences: labels, cures, symbols. `instruments.wording` fills them
in; titles and sentences stand in `instruments.wording_sentences`.
"""

from typing import Any

from django.utils.translation import gettext_lazy as _

from instruments import wording_mounting, wording_process

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
    "records": _("Records"),
}

# The variant "missing" of every check: fields that lack a value, fields with a value that contradicts others, or both.
# By what the finding is about: nothing in particular, "of" one level, "case" one or more operating cases.
MISSING: dict[str, Text] = {
    "": _("Cannot be decided without: %(fields)s."),
    "of": _("Cannot be decided for %(what)s without: %(fields)s."),
    "case": _("Cannot be decided without: %(fields)s (operating case: %(case)s)."),
}
CONTRADICTORY: dict[str, Text] = {
    "": _("Cannot be decided until this is put right: %(wrong)s."),
    "of": _("Cannot be decided for %(what)s until this is put right: %(wrong)s."),
    "case": _("Cannot be decided until this is put right: %(wrong)s (operating case: %(case)s)."),
}
MISSING_AND_CONTRADICTORY: dict[str, Text] = {
    "": _("Cannot be decided without: %(fields)s; and until this is put right: %(wrong)s."),
    "of": _("Cannot be decided for %(what)s without: %(fields)s; and until this is put right: %(wrong)s."),
    "case": _(
        "Cannot be decided without: %(fields)s; and until this is put right: %(wrong)s (operating case: %(case)s)."
    ),
}

# Connections are chosen, not filled in: they have no field of their own.
CONNECTION_LABELS: dict[str, Text] = {
    "measurement.nozzle": _("Nozzle of the sensor"),
    "measurement.nozzle_upper": _("Upper tap, seal or connection"),
    "measurement.nozzle_lower": _("Lower tap, seal or connection"),
    **wording_process.TABLE_LABELS,
}

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
    "mean_level_distance": (
        "", _("Place the sensor %(value)s in plan from the feed point, where a heap is read at its mean level.")),
    "wider_nozzle": ("up", _("Use a nozzle with a bore of %(value)s or more.")),
    "raise_chamber_top": ("up", _("Lift the sensor on its chamber: set “%(field)s” to %(value)s or more.")),
    "exchange_taps": ("", _("Exchange the upper and the lower connection.")),
    "longer_probe": ("up", _("Use a probe of %(value)s or more.")),
    "shorter_probe": ("down", _("Use a probe of %(value)s or less.")),
    "away_from_agitator": ("", _("Move the nozzle away from the agitator, or use a chamber or a stilling well.")),
    "compensate_density": ("", _("Compensate for the density, and say how under “%(field)s”.")),
    "prove_compensation": (
        "", _("Prove by calculation or test that the compensation holds in this case; say where under “%(field)s”.")),
    "other_class_span_small": ("down", _("Choose a class that can be set to a span of %(value)s.")),
    "other_class_span_large": ("up", _("Choose a class that can be set to a span of %(value)s.")),
    "other_class_difference_low": ("down", _("Choose a class for differences down to %(value)s.")),
    "other_class_difference_high": ("up", _("Choose a class for differences up to %(value)s.")),
    "own_connection": ("", _("Give each measurement a connection of its own, or note why they may share one.")),
    "other_class_arrangement": ("", _("Choose a class that suits this arrangement.")),
    "other_class_probe": ("up", _("Choose a class with probes of %(value)s or longer.")),
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
    **wording_process.CURES,
    **wording_mounting.CURES,
    "other_class_antenna": ("down", _("Choose a class whose antenna is %(value)s or less in diameter.")),
}  # fmt: skip

FIGURE_LABELS: dict[str, Text] = {
    "reference_point": _("Elevation of the sensor's reference point"),
    "distance_lrv": _("Distance at LRV (0 %%)"),
    "distance_urv": _("Distance at URV (100 %%)"),
    "effective_range": _("Effective range"),
    "dp_lrv": _("Pressure difference at LRV (0 %%)"),
    "dp_urv": _("Pressure difference at URV (100 %%)"),
    "volume_lrv": _("Volume at LRV"),
    "volume_urv": _("Volume at URV"),
    "volume_total": _("Total capacity"),
    "volume_working": _("Working capacity, L to H"),
    "volume_dead": _("Dead volume below the lowest outlet"),
    "volume_overflow": _("Volume at the overflow"),
    "correction_heap": _("Correction for the heap"),
    "correction_funnel": _("Correction for the drawdown funnel"),
    "heap_volume_error": _("Volume error at URV, heap not corrected"),
    "setpoint_percent": _("Signal at %(name)s"),
    "setpoint_current": _("Current at %(name)s"),
}

# What a reader has to know of a figure, by code; filled in with its parameters.
FIGURE_NOTES: dict[str, Text] = {
    "by_table": _("by the strapping table"),
    "outside": _("outside the vessel"),
    "outside_table": _("outside the strapping table, which runs from %(low)s to %(high)s"),
    "inlet_assumed": _("feed taken in the middle"),
    "outlet_assumed": _("draw-off taken in the middle"),
    "cone_between": _("one cone from wall to wall only for readings from %(low)s to %(high)s"),
    "cone_nowhere": _("an estimate: at no reading one cone from wall to wall"),
    "above_roof": _("such a heap would stand above the roof"),
}

# Meaning of the symbols in workings, for a legend.
SYMBOLS: dict[str, Text] = {
    **wording_process.SYMBOLS,
    **wording_mounting.SYMBOLS,
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
    "z_low": _("elevation of the lower connection"),
    "z_up": _("elevation of the upper connection"),
    "z_t": _("elevation of the transmitter"),
    "z_end": _("elevation of the end of the probe"),
    "z_int": _("elevation at which the agitator ends"),
    "z_shown": _("level that is shown"),
    "z_peak": _("level of the heap's peak"),
    "Δz": _("correction: mean level less reading"),
    "h": _("height of the level above the lowest inside point"),
    "h_L": _("height of setpoint L above the lowest inside point"),
    "h_H": _("height of setpoint H above the lowest inside point"),
    "h_table": _("height of the table's last row above the lowest inside point"),
    "h_datum": _("height of the datum above the lowest inside point"),
    "h_p": _("projection of the nozzle from the inside of the roof"),
    "h(r)": _("height of the bottom at the nozzle's radius"),
    "H": _("inside height of the vessel"),
    "H(r)": _("height of the roof at the nozzle's radius"),
    "V": _("volume"),
    "V_L": _("volume at setpoint L"),
    "V_H": _("volume at setpoint H"),
    "V_gross": _("volume without internals"),
    "V_int": _("volume that internals displace up to there"),
    "V_read": _("volume at the level of the reading"),
    "V_heap": _("volume under the heap, integrated over the plan"),
    "e_V": _("error of the volume"),
    "a": _("length of the adapter"),
    "d": _("distance from the reference point"),
    "D": _("upper dead zone of the class"),
    "D_low": _("lower dead zone of the class"),
    "D_antenna": _("outside diameter of antenna or probe"),
    "D_end": _("dead zone at the end of the probe"),
    "D_swept": _("diameter that the agitator sweeps"),
    "L": _("length of the probe"),
    "L_max": _("longest probe of the class"),
    "t": _("reach of the antenna below the reference point"),
    "u": _("accuracy of the class"),
    "u_asked": _("accuracy asked for"),
    "u_span": _("accuracy of the class as a share of the span"),
    "e": _("error of the level shown"),
    "b": _("bore of nozzle or chamber"),
    "c": _("clearance on the diameter"),
    "r": _("radius of the nozzle from the vessel's axis"),
    "r_tip": _("radius of the feed or draw-off point from the vessel's axis"),
    "R": _("inside radius of the vessel"),
    "r_out": _("radius of the outermost point of the bore"),
    "r_int": _("radius of the agitator from the vessel's axis"),
    "β": _("bearing of the nozzle"),
    "β_int": _("bearing of the agitator"),
    "β_tip": _("bearing of the feed or draw-off point"),
    "α": _("angle of repose or drawdown"),
    "s_tip": _("distance in plan of the sensor from the feed or draw-off point"),
    "s_mean": _("mean distance in plan of the surface from that point"),
    "s_axes": _("distance between the axes of nozzle and agitator"),
    "p": _("pressure"),
    "Δp": _("pressure difference"),
    "Δp_0": _("pressure difference at LRV in the normal case"),
    "Δp_100": _("pressure difference at URV in the normal case"),
    "Δp_span": _("pressure span"),
    "ρ": _("density of the medium"),
    "ρ_a": _("density of what stands above it"),
    "ρ_l": _("density in the line from the lower connection"),
    "ρ_u": _("density in the line from the upper connection"),
    "ρ_f": _("density of the fill fluid"),
    "ρ_air": _(
        "density of air at 20 °C by the ideal gas law: assumed, because the pressure is that of the atmosphere "
        "and no other gas is given"
    ),
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
