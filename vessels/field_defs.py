"""Fields of plants, units, media, vessels, operating cases and nozzles. Pure; see `project.registry`."""

from project.quantities import UNIT_SETS
from project.registry import REGISTRY, FieldDef, gettext_noop
from project.registry import detail as _detail
from vessels.vessel_fields import BODIES, BOTTOMS, DATUMS, STRAPPING_FIELDS, TOPS, VESSEL_FIELDS

MEDIUM_KINDS = (
    ("liquid", gettext_noop("Liquid")),
    ("slurry", gettext_noop("Slurry")),
    ("solid", gettext_noop("Bulk solid")),
    ("liquefied_gas", gettext_noop("Liquefied gas")),
    ("interface", gettext_noop("Interface of two liquids")),
)
# What a medium is to seals and metals: the kinds of medium in the table of wetted materials.
CHEMISTRIES = (
    ("water", gettext_noop("Water")),
    ("hot_water", gettext_noop("Hot water")),
    ("steam", gettext_noop("Steam")),
    ("alcohols", gettext_noop("Alcohols, glycols")),
    ("aliphatic_hydrocarbons", gettext_noop("Aliphatic hydrocarbons")),
    ("aromatic_hydrocarbons", gettext_noop("Aromatic hydrocarbons")),
    ("mineral_oil", gettext_noop("Mineral oil")),
    ("vegetable_oil", gettext_noop("Vegetable oil")),
    ("ketones", gettext_noop("Ketones")),
    ("esters", gettext_noop("Esters")),
    ("chlorinated_solvents", gettext_noop("Chlorinated solvents")),
    ("amines", gettext_noop("Amines")),
    ("ammonia", gettext_noop("Ammonia")),
    ("dilute_mineral_acid", gettext_noop("Dilute mineral acid")),
    ("hydrochloric_acid", gettext_noop("Hydrochloric acid")),
    ("concentrated_sulfuric_acid", gettext_noop("Concentrated sulfuric acid")),
    ("nitric_acid", gettext_noop("Nitric acid")),
    ("organic_acid", gettext_noop("Organic acid")),
    ("caustic", gettext_noop("Caustic")),
    ("chlorides", gettext_noop("Chlorides, salt water")),
    ("hot_chlorides", gettext_noop("Hot chlorides")),
    ("wet_chlorine", gettext_noop("Wet chlorine")),
    ("molten_alkali_metal", gettext_noop("Molten alkali metal")),
    ("fluorine", gettext_noop("Fluorine")),
)
# IEC 60079-0: gases and vapours are IIA, IIB or IIC; dusts IIIA (flyings), IIIB (not conductive), IIIC (conductive).
EXPLOSION_GROUPS = (
    *((group, group) for group in ("IIA", "IIB", "IIC", "IIIA", "IIIB", "IIIC")),
    ("none", gettext_noop("None, does not burn")),
)
TEMPERATURE_CLASSES = tuple((one, one) for one in ("T1", "T2", "T3", "T4", "T5", "T6"))
INTERNAL_KINDS = (
    ("ladder", gettext_noop("Ladder")),
    ("coil", gettext_noop("Coil")),
    ("baffle", gettext_noop("Baffle")),
    ("agitator", gettext_noop("Agitator")),
    ("inlet_stream", gettext_noop("Inlet stream")),
    ("pipe", gettext_noop("Pipe")),
    ("well", gettext_noop("Stilling well")),
)
ATTACHMENT_KINDS = (
    ("drawing", gettext_noop("Drawing")),
    ("certificate", gettext_noop("Certificate")),
    ("other", gettext_noop("Other")),
)
YES_NO = (("yes", gettext_noop("Yes")), ("no", gettext_noop("No")))
FLUID_GROUPS = (("1", gettext_noop("1, hazardous")), ("2", gettext_noop("2, all others")))
FOAM = (
    ("none", gettext_noop("None")),
    ("light", gettext_noop("Light, dry")),
    ("dense", gettext_noop("Dense, wet")),
)
SEVERITY = (
    ("none", gettext_noop("None")),
    ("slight", gettext_noop("Slight")),
    ("heavy", gettext_noop("Heavy")),
)
LIQUIDS = ("liquid", "slurry", "liquefied_gas", "interface")
SOLIDS = ("solid",)
CASE_KINDS = (
    ("minimum", gettext_noop("Minimum")),
    ("normal", gettext_noop("Normal")),
    ("maximum", gettext_noop("Maximum")),
    ("design", gettext_noop("Design")),
    ("named", gettext_noop("Other, named")),
)
NOZZLE_STANDARDS = (
    ("en_1092_1", gettext_noop("Flange EN 1092-1")),
    ("asme_b16_5", gettext_noop("Flange ASME B16.5")),
    ("iso_228_1", gettext_noop("Thread G, ISO 228-1")),
    ("asme_b1_20_1", gettext_noop("Thread NPT, ASME B1.20.1")),
    ("other", gettext_noop("Other")),
)
PAPERS = (("a4", gettext_noop("A4")), ("letter", gettext_noop("Letter")))
TIME_ZONES = (
    "UTC", "Europe/London", "Europe/Lisbon", "Europe/Berlin", "Europe/Athens", "Europe/Moscow", "Africa/Cairo",
    "Africa/Johannesburg", "Asia/Dubai", "Asia/Kolkata", "Asia/Singapore", "Asia/Shanghai", "Asia/Tokyo",
    "Australia/Perth", "Australia/Sydney", "America/Sao_Paulo", "America/New_York", "America/Chicago",
    "America/Denver", "America/Los_Angeles",
)  # fmt: skip

__all__ = ["BODIES", "BOTTOMS", "DATUMS", "TOPS"]

REGISTRY.register(
    FieldDef("plant.code", gettext_noop("Plant code"), "identification", required=True, longest=12,
             help=gettext_noop("Two to twelve capital letters or digits; opens document numbers.")),
    FieldDef("plant.name", gettext_noop("Plant"), "identification", required=True, longest=80),
    FieldDef("plant.unit_set", gettext_noop("Units of measure"), "record", "choice", required=True, prints=False,
             choices=tuple((key, row.label) for key, row in UNIT_SETS.items()), default="metric",
             help=gettext_noop("What bare numbers take and what pages and sheets show. Typed values stay as typed.")),
    FieldDef("plant.atmosphere", gettext_noop("Atmospheric pressure"), "record", "pressure_absolute", required=True,
             prints=False, default="1.01325 bar(a)", sign="positive",
             help=gettext_noop("Normal barometric pressure at the site; turns gauge into absolute.")),
    FieldDef("plant.time_zone", gettext_noop("Time zone"), "record", "choice", required=True, prints=False,
             choices=tuple((zone, zone.replace("_", " ")) for zone in TIME_ZONES), default="UTC"),
    FieldDef("plant.paper", gettext_noop("Paper"), "record", "choice", required=True, prints=False, choices=PAPERS,
             default="a4"),
    _detail("plant.beam_margin", gettext_noop("Margin beside a beam"), "record", "length_small", sign="not_negative",
            prints=False, help=gettext_noop("Kept clear between the half-power edge of a beam and walls or internals; "
                                            "empty for none. Practice, no source.")),
)  # fmt: skip

REGISTRY.register(
    FieldDef("unit.number", gettext_noop("Unit number"), "identification", required=True, longest=12),
    FieldDef("unit.name", gettext_noop("Unit"), "identification", required=True, longest=80),
    FieldDef("unit.area_classification", gettext_noop("Default area classification"), "electrical", longest=80,
             help=gettext_noop("For example: zone 1 IIA T3. Empty where the unit is not classified.")),
)  # fmt: skip

REGISTRY.register(
    FieldDef("medium.name", gettext_noop("Medium"), "medium", required=True, longest=80),
    FieldDef("medium.kind", gettext_noop("Kind of medium"), "medium", "choice", required=True, choices=MEDIUM_KINDS,
             default="liquid"),
    FieldDef("medium.density", gettext_noop("Density"), "medium", "density", sign="positive"),
    FieldDef("medium.density_temperature", gettext_noop("Density stated at"), "medium", "temperature", prints=False,
             help=gettext_noop("A density is not used beyond 10 K of the temperature it is stated at.")),
    FieldDef("medium.permittivity", gettext_noop("Relative permittivity εr"), "medium", "permittivity", sign="positive",
             help=gettext_noop("At the sensor's frequency where it is known; water is far below 80 at radar "
                               "frequencies. Leave empty where it is not known.")),
    FieldDef("medium.permittivity_temperature", gettext_noop("Permittivity stated at"), "medium", "temperature",
             prints=False),
    FieldDef("medium.gas", gettext_noop("Gas or vapour above"), "medium", longest=80),
    FieldDef("medium.hazards", gettext_noop("Hazards"), "medium", longest=120,
             help=gettext_noop("Toxic, flammable, corrosive …")),
    _detail("medium.chemistry", gettext_noop("Chemistry, for wetted parts"), "medium", "choice", choices=CHEMISTRIES,
            concerns=LIQUIDS, help=gettext_noop("What the medium is to seals and metals; of a mixture what attacks "
                                                "most. Leave empty where nothing fits.")),
    _detail("medium.flash_point", gettext_noop("Flash point"), "medium", "temperature", concerns=LIQUIDS,
            optional=True),
    _detail("medium.ignition_temperature", gettext_noop("Auto-ignition temperature"), "medium", "temperature",
            concerns=LIQUIDS, optional=True, help=gettext_noop("Of the gas or vapour.")),
    _detail("medium.explosion_group", gettext_noop("Gas or dust group"), "medium", "choice", choices=EXPLOSION_GROUPS,
            optional=True),
    _detail("medium.temperature_class", gettext_noop("Temperature class"), "medium", "choice",
            choices=TEMPERATURE_CLASSES, concerns=LIQUIDS, optional=True,
            help=gettext_noop("Of the gas or vapour, by IEC 60079-20-1.")),
    _detail("medium.permittivity_frequency", gettext_noop("Permittivity stated for frequency"), "medium", "frequency",
            sign="positive"),
    _detail("medium.density_upper", gettext_noop("Density of the upper phase"), "medium", "density", sign="positive",
            concerns=("interface",)),
    _detail("medium.permittivity_upper", gettext_noop("Permittivity of the upper phase"), "medium", "permittivity",
            sign="positive", concerns=("interface",)),
    _detail("medium.density_vapour", gettext_noop("Density of the gas above"), "medium", "density", sign="positive",
            concerns=LIQUIDS),
    _detail("medium.permittivity_vapour", gettext_noop("Permittivity of the gas above"), "medium", "permittivity",
            sign="positive"),
    _detail("medium.conductivity", gettext_noop("Electrical conductivity"), "medium", "conductivity",
            sign="not_negative", concerns=LIQUIDS),
    _detail("medium.viscosity", gettext_noop("Dynamic viscosity"), "medium", "viscosity", sign="positive",
            concerns=LIQUIDS),
    _detail("medium.vapour_pressure", gettext_noop("Vapour pressure"), "medium", "pressure_absolute",
            sign="not_negative", concerns=LIQUIDS),
    _detail("medium.grain_size", gettext_noop("Grain size"), "medium", "length_small", sign="positive",
            concerns=SOLIDS),
    _detail("medium.angle_of_repose", gettext_noop("Angle of repose"), "medium", "angle", sign="not_negative",
            highest="90°", concerns=SOLIDS),
    _detail("medium.angle_of_drawdown", gettext_noop("Angle of drawdown"), "medium", "angle", sign="not_negative",
            highest="90°", concerns=SOLIDS,
            help=gettext_noop("Of the funnel above the outlet; that of repose where empty.")),
    _detail("medium.dust", gettext_noop("Dust"), "medium", "choice", choices=SEVERITY, concerns=SOLIDS),
    _detail("medium.toxicity", gettext_noop("Toxicity"), "medium", longest=60),
    _detail("medium.flammability", gettext_noop("Flammability"), "medium", longest=60,
            help=gettext_noop("What the figures above do not say: ignition of a dust layer, limits of a range …")),
    _detail("medium.fluid_group", gettext_noop("Fluid group"), "medium", "choice", choices=FLUID_GROUPS,
            help=gettext_noop("Of the European directive on pressure equipment.")),
    _detail("medium.sour_service", gettext_noop("Sour service"), "medium", "choice", choices=YES_NO),
    _detail("medium.oxygen_service", gettext_noop("Oxygen service"), "medium", "choice", choices=YES_NO),
    FieldDef("medium.provenance", gettext_noop("Where the values come from"), "medium", longest=200, prints=False),
)  # fmt: skip

REGISTRY.register(*VESSEL_FIELDS, *STRAPPING_FIELDS)

REGISTRY.register(
    FieldDef("case.kind", gettext_noop("Operating case"), "medium", "choice", required=True, choices=CASE_KINDS,
             default="normal"),
    FieldDef("case.name", gettext_noop("Name of the case"), "medium", longest=40,
             help=gettext_noop("For example start-up, cleaning, steam-out.")),
    FieldDef("case.medium", gettext_noop("Medium"), "medium", "link"),
    FieldDef("case.temperature", gettext_noop("Temperature"), "medium", "temperature"),
    FieldDef("case.pressure", gettext_noop("Pressure"), "medium", "pressure"),
    FieldDef("case.density", gettext_noop("Density in this case"), "medium", "density", sign="positive",
             help=gettext_noop("Overrides the medium's.")),
    FieldDef("case.permittivity", gettext_noop("Permittivity in this case"), "medium", "permittivity", sign="positive",
             help=gettext_noop("Overrides the medium's.")),
    _detail("case.density_upper", gettext_noop("Density, upper phase"), "medium", "density", sign="positive",
            concerns=("interface",)),
    _detail("case.permittivity_upper", gettext_noop("Permittivity, upper phase"), "medium", "permittivity",
            sign="positive", concerns=("interface",)),
    _detail("case.density_vapour", gettext_noop("Density, gas above"), "medium", "density", sign="positive",
            concerns=LIQUIDS),
    _detail("case.permittivity_vapour", gettext_noop("Permittivity, gas above"), "medium", "permittivity",
            sign="positive"),
    _detail("case.conductivity", gettext_noop("Conductivity"), "medium", "conductivity", sign="not_negative",
            concerns=LIQUIDS),
    _detail("case.viscosity", gettext_noop("Viscosity"), "medium", "viscosity", sign="positive", concerns=LIQUIDS),
    _detail("case.vapour_pressure", gettext_noop("Vapour pressure"), "medium", "pressure_absolute",
            sign="not_negative", concerns=LIQUIDS),
    _detail("case.gas", gettext_noop("Gas composition"), "medium", longest=60),
    _detail("case.foam", gettext_noop("Foam"), "medium", "choice", choices=FOAM, concerns=LIQUIDS),
    _detail("case.emulsion", gettext_noop("Emulsion"), "medium", "choice", choices=SEVERITY, concerns=("interface",)),
    _detail("case.build_up", gettext_noop("Build-up"), "medium", "choice", choices=SEVERITY),
    _detail("case.crystallisation", gettext_noop("Crystallisation"), "medium", "choice", choices=SEVERITY,
            concerns=LIQUIDS),
)  # fmt: skip

REGISTRY.register(
    FieldDef("nozzle.mark", gettext_noop("Nozzle"), "connection", required=True, longest=12),
    FieldDef("nozzle.standard", gettext_noop("Standard"), "connection", "choice", required=True,
             choices=NOZZLE_STANDARDS, default="en_1092_1"),
    FieldDef("nozzle.size", gettext_noop("Size"), "connection", longest=24, help=gettext_noop("DN 80, NPS 3, G 1½ …")),
    FieldDef("nozzle.rating", gettext_noop("Rating"), "connection", longest=24,
             help=gettext_noop("PN 16, class 150 …")),
    _detail("nozzle.schedule", gettext_noop("Schedule"), "connection", longest=24),
    FieldDef("nozzle.facing", gettext_noop("Facing"), "connection", longest=24),
    FieldDef("nozzle.material", gettext_noop("Material"), "connection", longest=40),
    FieldDef("nozzle.bore", gettext_noop("Bore after lining"), "connection", "length_small", sign="positive",
             help=gettext_noop("The free inside diameter, after schedule, lining and cladding.")),
    FieldDef("nozzle.face_elevation", gettext_noop("Elevation of the face"), "connection", "length",
             help=gettext_noop("From the datum. Enter this or the projection; the other is derived.")),
    FieldDef("nozzle.projection", gettext_noop("Projection from the roof"), "connection", "length_small",
             sign="not_negative", help=gettext_noop("From the inside of the roof up to the face.")),
    FieldDef("nozzle.radius", gettext_noop("Radius from the axis"), "connection", "length", sign="not_negative"),
    FieldDef("nozzle.bearing", gettext_noop("Bearing"), "connection", "angle", sign="not_negative", highest="360°",
             help=gettext_noop("Clockwise from plant north, seen from above.")),
    _detail("nozzle.inclination", gettext_noop("Inclination"), "connection", "angle", sign="not_negative",
            highest="90°",
            help=gettext_noop("From the vertical; empty or 0 for a vertical nozzle, 90° for one in the side.")),
    _detail("nozzle.isolation_valve", gettext_noop("Isolation valve"), "connection", longest=40),
    _detail("nozzle.vent_valve", gettext_noop("Vent valve"), "connection", longest=40),
    _detail("nozzle.drain_valve", gettext_noop("Drain valve"), "connection", longest=40),
    _detail("nozzle.headroom", gettext_noop("Headroom"), "connection", "length", sign="not_negative",
            help=gettext_noop("Free height above the face, to pull a probe.")),
    _detail("nozzle.access", gettext_noop("Access"), "connection", longest=60),
)  # fmt: skip

REGISTRY.register(
    FieldDef("internal.kind", gettext_noop("Internal"), "vessel", "choice", required=True, choices=INTERNAL_KINDS,
             default="ladder"),
    FieldDef("internal.name", gettext_noop("Name"), "vessel", longest=40),
    FieldDef("internal.radius", gettext_noop("Radius from the axis"), "vessel", "length", sign="not_negative"),
    FieldDef("internal.bearing", gettext_noop("Bearing"), "vessel", "angle", sign="not_negative", highest="360°"),
    FieldDef("internal.elevation_low", gettext_noop("From elevation"), "vessel", "length"),
    FieldDef("internal.elevation_high", gettext_noop("To elevation"), "vessel", "length"),
    FieldDef("internal.width", gettext_noop("Width or diameter"), "vessel", "length_small", sign="positive",
             help=gettext_noop("Of an agitator: the swept diameter.")),
    _detail("internal.displaced_volume", gettext_noop("Displaced volume"), "vessel", "volume", sign="positive",
            optional=True, help=gettext_noop("What it takes of the contents, spread evenly over its height.")),
)  # fmt: skip
