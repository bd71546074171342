"""Fields of a sensor class: what one generic kind of device can do, as data. Pure; see `project.registry`.

A class file (`instruments/data/sensor_classes`) holds values under these stems; pages and sheets list them by
these labels. A further property of a class is one entry here.
"""

from instruments.field_defs import ARRANGEMENTS
from project.registry import REGISTRY, FieldDef, gettext_noop
from vessels.field_defs import MEDIUM_KINDS, YES_NO

TECHNOLOGIES = (
    ("radar_free", gettext_noop("Radar, free radiating")),
    ("guided_wave", gettext_noop("Guided wave, along a probe")),
    ("ultrasonic", gettext_noop("Ultrasonic, through the gas")),
    ("differential_pressure", gettext_noop("Differential pressure")),
)
DEAD_ZONE_ORIGINS = (
    ("reference_point", gettext_noop("Reference point (flange face or thread shoulder)")),
    ("antenna_tip", gettext_noop("Lowest point of the antenna")),
)

# Stems whose value is a list of texts; where the field has choices, each item is one of them.
LIST_STEMS = frozenset({"media", "arrangements", "connections", "wetted_materials", "seals"})

REGISTRY.register(
    FieldDef("sensor_class.technology", gettext_noop("Principle"), "sensor", "choice", required=True,
             choices=TECHNOLOGIES),
    FieldDef("sensor_class.media", gettext_noop("Suits"), "sensor", required=True, choices=MEDIUM_KINDS),
    FieldDef("sensor_class.arrangements", gettext_noop("Arrangements that it suits"), "sensor", choices=ARRANGEMENTS),
    FieldDef("sensor_class.contact", gettext_noop("Touches the medium"), "sensor", "choice", choices=YES_NO),
    FieldDef("sensor_class.frequency", gettext_noop("Frequency"), "sensor", "frequency", sign="positive"),
    FieldDef("sensor_class.antenna", gettext_noop("Antenna, transducer, probe or seal"), "sensor", longest=80),
    FieldDef("sensor_class.antenna_diameter", gettext_noop("Outside diameter that passes the nozzle"),
             "sensor", "length_small", sign="positive"),
    FieldDef("sensor_class.aperture_diameter", gettext_noop("Aperture"), "sensor", "length_small",
             sign="positive",
             help=gettext_noop("The diameter that radiates; with the frequency it sets the beam angle.")),
    FieldDef("sensor_class.beam_angle", gettext_noop("Beam angle, half power"), "sensor", "angle",
             sign="positive", highest="180°"),
    FieldDef("sensor_class.antenna_reach", gettext_noop("Reach of the antenna below the reference point"),
             "sensor", "length_small", sign="not_negative"),
    FieldDef("sensor_class.aiming_angle", gettext_noop("Aiming, largest angle from the vertical"), "sensor", "angle",
             sign="positive", highest="90°"),
    FieldDef("sensor_class.purge", gettext_noop("Connection for purge gas"), "sensor", "choice", choices=YES_NO),
    FieldDef("sensor_class.probe_length_max", gettext_noop("Longest probe"), "sensor", "length", sign="positive"),
    FieldDef("sensor_class.range_max", gettext_noop("Range"), "sensor", "length", sign="positive"),
    FieldDef("sensor_class.reference_echo", gettext_noop("Echo level that the range is stated for"), "sensor",
             "level_ratio",
             help=gettext_noop("0 dB: the surface reflects everything. A weaker echo shortens the range.")),
    FieldDef("sensor_class.permittivity_min", gettext_noop("Least relative permittivity εr"), "sensor",
             "permittivity", sign="positive"),
    FieldDef("sensor_class.dead_zone_upper", gettext_noop("Upper dead zone"), "sensor", "length_small",
             sign="not_negative"),
    FieldDef("sensor_class.dead_zone_origin", gettext_noop("Upper dead zone counts from"), "sensor", "choice",
             choices=DEAD_ZONE_ORIGINS),
    FieldDef("sensor_class.dead_zone_lower", gettext_noop("Lower dead zone"), "sensor", "length_small",
             sign="not_negative", help=gettext_noop("Above the bottom, where the sensor's axis meets it.")),
    FieldDef("sensor_class.end_zone_permittivity", gettext_noop("Relative permittivity from which the shorter end "
             "zone holds"), "sensor", "permittivity", sign="positive"),
    FieldDef("sensor_class.end_zone_above", gettext_noop("Dead zone at the probe's end, from that permittivity up"),
             "sensor", "length_small", sign="not_negative"),
    FieldDef("sensor_class.end_zone_below", gettext_noop("Dead zone at the probe's end, below that permittivity"),
             "sensor", "length_small", sign="not_negative"),
    FieldDef("sensor_class.accuracy", gettext_noop("Accuracy (±)"), "sensor", "length_small",
             sign="positive"),
    FieldDef("sensor_class.accuracy_of_span", gettext_noop("Accuracy (±), share of the span"), "sensor", "ratio",
             sign="positive"),
    FieldDef("sensor_class.difference_min", gettext_noop("Pressure difference at the cell, lowest"), "sensor",
             "pressure_difference"),
    FieldDef("sensor_class.difference_max", gettext_noop("Pressure difference at the cell, highest"), "sensor",
             "pressure_difference"),
    FieldDef("sensor_class.pressure_span_min", gettext_noop("Pressure span, lowest"), "sensor", "pressure_difference",
             sign="positive"),
    FieldDef("sensor_class.pressure_span_max", gettext_noop("Pressure span, highest"), "sensor", "pressure_difference",
             sign="positive"),
    FieldDef("sensor_class.overload", gettext_noop("Overload on one side"), "sensor", "pressure_difference",
             sign="positive"),
    FieldDef("sensor_class.process_temperature_min", gettext_noop("Process temperature, lowest"),
             "process_connection", "temperature"),
    FieldDef("sensor_class.process_temperature_max", gettext_noop("Process temperature, highest"),
             "process_connection", "temperature"),
    FieldDef("sensor_class.fill_temperature_min", gettext_noop("Temperature of the fill fluid, lowest"),
             "process_connection", "temperature"),
    FieldDef("sensor_class.fill_temperature_max", gettext_noop("Temperature of the fill fluid, highest"),
             "process_connection", "temperature"),
    FieldDef("sensor_class.process_pressure_min", gettext_noop("Process pressure, lowest"),
             "process_connection", "pressure"),
    FieldDef("sensor_class.process_pressure_max", gettext_noop("Process pressure, highest"),
             "process_connection", "pressure"),
    FieldDef("sensor_class.connections", gettext_noop("Connections offered"), "process_connection",
             longest=40),
    FieldDef("sensor_class.wetted_materials", gettext_noop("Wetted materials"), "process_connection",
             longest=60),
    FieldDef("sensor_class.seals", gettext_noop("Process seals"), "process_connection", longest=60),
    FieldDef("sensor_class.ambient_temperature_min", gettext_noop("Ambient temperature, lowest"), "housing",
             "temperature"),
    FieldDef("sensor_class.ambient_temperature_max", gettext_noop("Ambient temperature, highest"), "housing",
             "temperature"),
    FieldDef("sensor_class.housing", gettext_noop("Housing"), "housing", longest=80),
    FieldDef("sensor_class.ingress", gettext_noop("Ingress protection"), "housing", longest=24),
    FieldDef("sensor_class.supply_voltage_min", gettext_noop("Supply voltage at the terminals, lowest"),
             "electrical", "voltage", sign="positive"),
    FieldDef("sensor_class.supply_voltage_max", gettext_noop("Supply voltage at the terminals, highest"),
             "electrical", "voltage", sign="positive"),
    FieldDef("sensor_class.output", gettext_noop("Output"), "signal", longest=80),
)  # fmt: skip
