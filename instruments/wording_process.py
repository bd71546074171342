"""Titles, sentences, cures and symbols of the checks of flanges, connections and the gas above; merged by
`instruments.wording_sentences` and `instruments.wording_texts`.
"""

from typing import Any

from django.utils.translation import gettext_lazy as _

TITLES: dict[str, Any] = {
    "process.flange_rating": _("Rating of the flange"),
    "process.connection": _("Fit of sensor and nozzle"),
    "process.gas_error": _("Error by the gas above"),
    "process.seal_temperature": _("Temperature of the seals"),
    "process.second_seal": _("Second process seal"),
}

# What is missing though no field is empty: a table that does not hold it, or a text that no table knows.
TABLE_LABELS: dict[str, Any] = {
    "tables.flange_material": _("Material of the nozzle, by a name that the flange standard's tables know"),
    "tables.flange_rating": _("Published rating of this flange (standard, rating and material are in no table here)"),
    "tables.flange_below": _("Published rating of the flange this cold (its table begins higher)"),
    "tables.flange_above": _("Published rating of the flange this hot (its table ends lower)"),
    "tables.flange_dimensions": _("Comparable dimensions of both flanges (drilling and facing)"),
    "tables.seal_material": _("Seal material, by a name whose temperatures are known"),
    "tables.connection_standard": _("Standard of the connection, by a name that can be compared"),
}

SYMBOLS: dict[str, Any] = {
    "p_T": _("pressure that the flange carries at the temperature"),
    "p_1": _("rating at the table's lower temperature"),
    "p_2": _("rating at the table's higher temperature"),
    "T_1": _("the table's lower temperature"),
    "T_2": _("the table's higher temperature"),
    "δ": _("share by which the distance is read too long"),
    "εg": _("relative permittivity of the gas above"),
    "χ": _("relative permittivity of the gas above, less 1"),
    "f_c": _("frequency of the class"),
    "c_air": _("speed of sound in air at the gas's temperature"),
    "c_gas": _("speed of sound in the gas at its temperature"),
}

CURES: dict[str, tuple[str, Any]] = {
    "higher_flange_rating": ("up", _("Use a nozzle flange of rating %(value)s or higher.")),
    "other_flange_material": ("", _("Use a nozzle flange of a material with a higher rating at this temperature.")),
    "fitting_connection": ("", _("Order the sensor with a connection that fits the nozzle.")),
    "name_adapter": ("", _("Use an adapter between nozzle and sensor, and name it under “%(field)s”.")),
    "other_seal": ("", _("Choose seals that stand this temperature: set “%(field)s”.")),
    "add_second_seal": ("", _("Order a second process seal, and say so under “%(field)s”.")),
    "compensate_gas": (
        "", _("Compensate for the gas (by a reference probe or a computed correction) and say how under “%(field)s”, "
              "or choose a class that the gas does not disturb.")),
}  # fmt: skip

_ARRANGEMENT = _("In this arrangement there is no nozzle.")

SENTENCES: dict[tuple[str, str], Any] = {
    ("process.flange_rating", "ok"): _(
        "The flange %(flange)s of %(material)s (group %(group)s) carries %(limit)s at %(temperature)s, against "
        "%(asked)s in the case “%(case)s”."
    ),
    ("process.flange_rating", "ok_design"): _(
        "The flange %(flange)s of %(material)s (group %(group)s) carries %(limit)s at the design temperature of "
        "%(temperature)s, against the design pressure of %(asked)s."
    ),
    ("process.flange_rating", "beyond"): _(
        "The flange %(flange)s of %(material)s (group %(group)s) carries only %(limit)s at %(temperature)s: the "
        "%(asked)s of the case “%(case)s” are %(beyond)s too high."
    ),
    ("process.flange_rating", "beyond_design"): _(
        "The flange %(flange)s of %(material)s (group %(group)s) carries only %(limit)s at the design temperature of "
        "%(temperature)s: the design pressure of %(asked)s is %(beyond)s too high."
    ),
    ("process.flange_rating", "long_term"): _(
        "The flange %(flange)s of %(material)s (group %(group)s) carries %(limit)s at %(temperature)s, but the "
        "standard does not recommend this material for prolonged use so hot."
    ),
    ("process.flange_rating", "too_hot"): _(
        "The standard does not allow %(material)s above %(limit)s; %(temperature)s are asked of the flange %(flange)s."
    ),
    ("process.flange_rating", "no_flange"): _(
        "No connection is a flange by EN 1092-1 or ASME B16.5; threads and others have no such table."
    ),
    ("process.flange_rating", "arrangement"): _ARRANGEMENT,
    ("process.connection", "fits"): _(
        "The sensor's %(sensor)s fits the nozzle's %(nozzle)s: %(holes)s holes of %(hole)s on a circle of %(circle)s."
    ),
    ("process.connection", "lower_rating"): _(
        "The sensor's %(sensor)s fits the nozzle's %(nozzle)s by its drilling; the lower of the two ratings counts."
    ),
    ("process.connection", "raised_flat"): _(
        "The sensor's %(sensor)s fits the nozzle's %(nozzle)s, but a raised face meets a flat one: a brittle or lined "
        "flange may break."
    ),
    ("process.connection", "other_holes"): _(
        "The sensor's %(sensor)s fits the nozzle's %(nozzle)s with %(holes)s holes; flanges of this size are also "
        "supplied with another number of holes."
    ),
    ("process.connection", "drilling"): _(
        "The sensor's %(sensor)s does not fit the nozzle's %(nozzle)s: %(holes_sensor)s holes of %(hole_sensor)s on a "
        "circle of %(circle_sensor)s meet %(holes)s holes of %(hole)s on a circle of %(circle)s."
    ),
    ("process.connection", "size"): _(
        "The sensor's %(sensor)s does not fit the nozzle's %(nozzle)s: the nominal sizes differ."
    ),
    ("process.connection", "facing"): _(
        "The facings of the sensor's %(sensor)s and the nozzle's %(nozzle)s do not belong together."
    ),
    ("process.connection", "fits_thread"): _("The sensor's %(sensor)s fits the nozzle's %(nozzle)s."),
    ("process.connection", "thread"): _("The sensor's thread %(sensor)s does not fit the nozzle's %(nozzle)s."),
    ("process.connection", "thread_flange"): _(
        "A thread and a flange do not fit: the sensor has %(sensor)s, the nozzle %(nozzle)s, and no adapter is named."
    ),
    ("process.connection", "offered"): _(
        "The class offers %(sensor)s, which fits the nozzle's %(nozzle)s; order the facing to match."
    ),
    ("process.connection", "not_offered"): _(
        "The class lists no connection that fits the nozzle's %(nozzle)s (it lists: %(sensor)s)."
    ),
    ("process.connection", "adapter"): _(
        "An adapter joins sensor and nozzle: %(adapter)s. Whether it carries the pressure is not checked here."
    ),
    ("process.connection", "adapter_unnamed"): _(
        "An adapter lifts the sensor, but nothing says what it fits: sensor and nozzle (%(nozzle)s) do not fit by "
        "themselves."
    ),
    ("process.connection", "arrangement"): _ARRANGEMENT,
    ("process.connection", "lines"): _("Lines and their fittings stand between the taps and the sensor."),
    ("process.connection", "chamber"): _("The chamber has its own connection for the sensor."),
    ("process.gas_error", "ok"): _(
        "In the case “%(case)s” the gas changes the reading at %(what)s %(level)s by %(error)s (%(share)s of the "
        "distance), within the ±%(asked)s asked for."
    ),
    ("process.gas_error", "bounded"): _(
        "In the case “%(case)s” the gas is not known, but at this pressure none changes the reading at %(what)s "
        "%(level)s by more than %(error)s (%(share)s of the distance), within the ±%(asked)s asked for."
    ),
    ("process.gas_error", "slight"): _(
        "In the case “%(case)s” the gas changes the reading at %(what)s %(level)s by %(error)s (%(share)s of the "
        "distance), beyond the ±%(asked)s asked for; air does as much, and a sensor adjusted in air has most of it in "
        "its adjustment."
    ),
    ("process.gas_error", "low"): _(
        "In the case “%(case)s” the gas makes %(what)s %(level)s read %(error)s low (%(share)s of the distance), "
        "beyond the ±%(asked)s asked for; alarms on a high level come late."
    ),
    ("process.gas_error", "high"): _(
        "In the case “%(case)s” the gas makes %(what)s %(level)s read %(error)s high (%(share)s of the distance), "
        "beyond the ±%(asked)s asked for; alarms on a low level come late."
    ),
    ("process.gas_error", "compensated"): _(
        "In the case “%(case)s” the gas changes the reading at %(what)s %(level)s by %(error)s (%(share)s of the "
        "distance), beyond the ±%(asked)s asked for; a compensation is named, which has to be proved."
    ),
    ("process.gas_error", "pressure"): _("A difference of pressures does not run through the gas as a wave does."),
    ("process.gas_error", "arrangement"): _("In this arrangement no distance is measured through the gas."),
    ("process.gas_error", "principle"): _("The class does not measure a distance through the gas."),
    ("process.seal_temperature", "ok"): _(
        "Seals of %(seal)s usually stand %(limit)s; in the case “%(case)s” it is %(asked)s."
    ),
    ("process.seal_temperature", "hot"): _(
        "Seals of %(seal)s usually stand no more than %(limit)s; the %(asked)s of the case “%(case)s” are %(beyond)s "
        "too hot."
    ),
    ("process.seal_temperature", "cold"): _(
        "Seals of %(seal)s usually stay tight down to %(limit)s; the %(asked)s of the case “%(case)s” are %(beyond)s "
        "too cold."
    ),
    ("process.seal_temperature", "special"): _(
        "Only special compounds of %(seal)s go %(beyond)s beyond %(limit)s, as the case “%(case)s” asks with %(asked)s."
    ),
    ("process.seal_temperature", "no_seal"): _("There is no seal that is not part of the sensor's face."),
    ("process.seal_temperature", "arrangement"): _("In this arrangement the sensor does not touch what is inside."),
    ("process.seal_temperature", "lines"): _(
        "Lines stand between the process and the sensor's seals and cool on the way."
    ),
    ("process.second_seal", "ok"): _("A second process seal holds %(medium)s back should the first one leak."),
    ("process.second_seal", "toxic"): _(
        "%(medium)s is toxic: where the first seal leaks, a second process seal keeps it out of housing and cable."
    ),
    ("process.second_seal", "flammable"): _(
        "%(medium)s burns and only a plastic window holds it back: where that leaks or breaks, a second process seal "
        "keeps it out of housing and cable."
    ),
    ("process.second_seal", "no_hazard"): _("No medium is noted as toxic or flammable."),
    ("process.second_seal", "no_window"): _("The medium burns, but no plastic window of an antenna holds it back."),
    ("process.second_seal", "arrangement"): _("In this arrangement the sensor does not touch what is inside."),
}
