"""Fields of tags, level measurements and setpoints. Pure; see `project.registry`."""

from project.registry import REGISTRY, FieldDef, gettext_noop

DUTIES = (
    ("indication", gettext_noop("Indication")),
    ("control", gettext_noop("Control")),
    ("alarm", gettext_noop("Alarm")),
    ("trip", gettext_noop("Trip")),
    ("inventory", gettext_noop("Inventory")),
)
ARRANGEMENTS = (("one_nozzle", gettext_noop("Through one nozzle from above")),)
DIRECTIONS = (
    ("direct", gettext_noop("Rising level, rising current")),
    ("reverse", gettext_noop("Rising level, falling current")),
)
FAILURE_CURRENTS = (
    ("low", gettext_noop("Low, 3.6 mA or less")),
    ("high", gettext_noop("High, 21 mA or more")),
)
SETPOINT_NAMES = (("HH", "HH"), ("H", "H"), ("L", "L"), ("LL", "LL"))  # ANSI/ISA-5.1 function modifiers
PRIORITIES = (
    ("high", gettext_noop("High")),
    ("medium", gettext_noop("Medium")),
    ("low", gettext_noop("Low")),
)
CONSEQUENCES = (
    ("overflow", gettext_noop("Overflow")),
    ("relief", gettext_noop("Relief device lifts")),
    ("suction_lost", gettext_noop("Pump suction head lost")),
    ("heater_bared", gettext_noop("Heater bared")),
    ("gas_blow_by", gettext_noop("Gas blow-by")),
    ("other", gettext_noop("Other")),
)

REGISTRY.register(
    FieldDef("tag.unit", gettext_noop("Unit"), "identification", "link", required=True, prints=False),
    FieldDef("tag.letters", gettext_noop("Letters"), "identification", required=True, longest=8, prints=False,
             help=gettext_noop("By ANSI/ISA-5.1, for example LT, LIT, LSHH.")),
    FieldDef("tag.number", gettext_noop("Number"), "identification", required=True, longest=12, prints=False),
    FieldDef("tag.suffix", gettext_noop("Suffix"), "identification", longest=4, prints=False),
    FieldDef("tag.service", gettext_noop("Service"), "identification", longest=200),
    FieldDef("tag.pid", gettext_noop("P&ID"), "identification", longest=40),
    FieldDef("tag.pid_revision", gettext_noop("P&ID revision"), "identification", longest=8),
    FieldDef("tag.location", gettext_noop("Location"), "identification", longest=80),
)  # fmt: skip

REGISTRY.register(
    FieldDef("measurement.vessel", gettext_noop("Vessel"), "vessel", "link", prints=False),
    FieldDef("measurement.duty", gettext_noop("Duty"), "duty", "choice", choices=DUTIES, default="indication"),
    FieldDef("measurement.sensor_class", gettext_noop("Sensor class"), "sensor", "link"),
    FieldDef("measurement.arrangement", gettext_noop("Arrangement"), "sensor", "choice", choices=ARRANGEMENTS,
             default="one_nozzle", required=True),
    FieldDef("measurement.nozzle", gettext_noop("Nozzle"), "connection", "link", prints=False),
    FieldDef("measurement.adapter_length", gettext_noop("Adapter above the nozzle's face"), "process_connection",
             "length_small", sign="not_negative",
             help=gettext_noop("Lifts the sensor's reference point above the face; empty for none.")),
    FieldDef("measurement.accuracy", gettext_noop("Required accuracy (±)"), "sensor", "length_small", sign="positive"),
    FieldDef("measurement.lrv", gettext_noop("Lower range value LRV (0 %)"), "signal", "length",
             help=gettext_noop("Level from the vessel's datum.")),
    FieldDef("measurement.urv", gettext_noop("Upper range value URV (100 %)"), "signal", "length",
             help=gettext_noop("Level from the vessel's datum.")),
    FieldDef("measurement.direction", gettext_noop("Direction"), "signal", "choice", choices=DIRECTIONS,
             default="direct"),
    FieldDef("measurement.failure_current", gettext_noop("Failure current"), "signal", "choice",
             choices=FAILURE_CURRENTS, default="low"),
    FieldDef("measurement.damping", gettext_noop("Damping"), "signal", "time", sign="not_negative"),
    FieldDef("measurement.note", gettext_noop("Notes"), "record", "long_text", longest=1000),
)  # fmt: skip

REGISTRY.register(
    FieldDef("setpoint.name", gettext_noop("Setpoint"), "setpoints", "choice", required=True, choices=SETPOINT_NAMES,
             default="H"),
    FieldDef("setpoint.level", gettext_noop("Level from datum"), "setpoints", "length"),
    FieldDef("setpoint.reset_differential", gettext_noop("Reset differential"), "setpoints", "length_small",
             sign="not_negative"),
    FieldDef("setpoint.priority", gettext_noop("Priority"), "setpoints", "choice", choices=PRIORITIES),
    FieldDef("setpoint.consequence", gettext_noop("Consequence"), "setpoints", "choice", choices=CONSEQUENCES),
    FieldDef("setpoint.response_time", gettext_noop("Response time asked for"), "setpoints", "time",
             sign="not_negative"),
    FieldDef("setpoint.action", gettext_noop("Action"), "setpoints", longest=80),
)  # fmt: skip
