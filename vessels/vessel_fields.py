"""Fields of a vessel and of its strapping table. Pure; `vessels.field_defs` registers them."""

from typing import Any

from project.registry import FieldDef, gettext_noop
from project.registry import detail as _detail
from vessels.shape_values import concerned_by

BODIES = (
    ("vertical_cylinder", gettext_noop("Vertical cylinder (tank, silo)")),
    ("vertical_frustum", gettext_noop("Vertical frustum of a cone")),
    ("vertical_oval", gettext_noop("Vertical oval")),
    ("horizontal_cylinder", gettext_noop("Horizontal cylinder (drum, bullet)")),
    ("horizontal_oval", gettext_noop("Horizontal oval")),
    ("rectangular", gettext_noop("Rectangular (sump, bin, box)")),
    ("sphere", gettext_noop("Sphere")),
    ("spheroid", gettext_noop("Spheroid")),
)
HEADS = (
    ("flat", gettext_noop("Flat")),
    ("cone", gettext_noop("Cone")),
    ("ellipsoidal_2_1", gettext_noop("Ellipsoidal 2:1")),
    ("ellipsoidal", gettext_noop("Ellipsoidal, own depth")),
    ("hemisphere", gettext_noop("Hemisphere")),
    ("asme_fd", gettext_noop("Torispherical, crown 1.0 D, knuckle 0.06 D")),
    ("asme_80_6", gettext_noop("Torispherical, crown 0.8 D, knuckle 0.06 D")),
    ("asme_80_10", gettext_noop("Torispherical, crown 0.8 D, knuckle 0.10 D")),
    ("din_28011", gettext_noop("Torispherical, DIN 28011")),
    ("din_28013", gettext_noop("Torispherical, DIN 28013")),
    ("torispherical", gettext_noop("Torispherical, own radii")),
    ("cap", gettext_noop("Spherical cap, no knuckle")),
    ("paraboloid", gettext_noop("Paraboloid")),
)
BOTTOMS = (
    *HEADS[:2],
    ("truncated_cone", gettext_noop("Cone with an outlet (hopper)")),
    ("wedge_hopper", gettext_noop("Wedge hopper (slot outlet)")),
    ("pyramid_hopper", gettext_noop("Pyramid hopper (any rectangular outlet)")),
    *HEADS[2:],
)
TOPS = HEADS
DIRECTIONS = (("outward", gettext_noop("Outward (convex)")), ("inward", gettext_noop("Inward (concave)")))
DATUMS = (
    ("lowest_inside_point", gettext_noop("Lowest inside point")),
    ("bottom_tangent_line", gettext_noop("Bottom tangent line")),
    ("dip_plate", gettext_noop("Dip plate")),
)
CAPACITY_FROM = (("shape", gettext_noop("The shape")), ("table", gettext_noop("The strapping table")))
INTERPOLATIONS = (
    ("linear", gettext_noop("Linear")),
    ("monotone_cubic", gettext_noop("Monotone cubic")),
)

_SIDE_NAMES = {
    "bottom": (gettext_noop("Lower or left end"), {
        "depth": gettext_noop("Depth of the lower or left end"),
        "crown_ratio": gettext_noop("Crown radius of the lower or left end, ÷ inside diameter"),
        "knuckle_ratio": gettext_noop("Knuckle radius of the lower or left end, ÷ inside diameter"),
        "straight_flange": gettext_noop("Straight flange of the lower or left end"),
        "direction": gettext_noop("Direction of the lower or left end"),
    }),
    "top": (gettext_noop("Upper or right end"), {
        "depth": gettext_noop("Depth of the upper or right end"),
        "crown_ratio": gettext_noop("Crown radius of the upper or right end, ÷ inside diameter"),
        "knuckle_ratio": gettext_noop("Knuckle radius of the upper or right end, ÷ inside diameter"),
        "straight_flange": gettext_noop("Straight flange of the upper or right end"),
        "direction": gettext_noop("Direction of the upper or right end"),
    }),
}  # fmt: skip

_DEPTH_HELP = gettext_noop("From the tangent line to the apex or outlet, without the straight flange.")
_FLANGE_HELP = gettext_noop("Adds to the shell's length: leave empty where that is measured between tangent lines.")


def _end(side: str) -> tuple[FieldDef, ...]:
    """The dimensions of one end."""
    labels = _SIDE_NAMES[side][1]

    def key(stem: str) -> tuple[str, str, str]:
        return f"vessel.{side}_{stem}", labels[stem], "vessel"

    def about(stem: str) -> tuple[str, ...]:
        return concerned_by(f"{side}_{stem}")

    depth: dict[str, Any] = {"sign": "positive", "concerns": about("depth"), "help": _DEPTH_HELP}
    return (
        # The depth of a bottom has columns of its own since the first migration.
        FieldDef(*key("depth"), "length", **depth) if side == "bottom" else _detail(*key("depth"), "length", **depth),
        _detail(*key("crown_ratio"), "number", sign="positive", concerns=about("crown_ratio"),
                help=gettext_noop("Half or more; 1.0 where the crown's radius is the diameter.")),
        _detail(*key("knuckle_ratio"), "number", sign="positive", concerns=about("knuckle_ratio"),
                help=gettext_noop("Less than a half; 0.1 where the knuckle's radius is a tenth of the diameter.")),
        _detail(*key("straight_flange"), "length_small", sign="not_negative", concerns=about("straight_flange"),
                optional=True, help=_FLANGE_HELP),
        _detail(*key("direction"), "choice", choices=DIRECTIONS, concerns=about("direction"),
                optional=True, help=gettext_noop("Outward where nothing is chosen.")),
    )  # fmt: skip


VESSEL_FIELDS: tuple[FieldDef, ...] = (
    FieldDef("vessel.unit", gettext_noop("Unit"), "identification", "link", required=True, prints=False),
    FieldDef("vessel.number", gettext_noop("Vessel number"), "vessel", required=True, longest=24),
    FieldDef("vessel.name", gettext_noop("Vessel name"), "vessel", longest=80),
    FieldDef("vessel.drawing", gettext_noop("Drawing"), "vessel", longest=40),
    FieldDef("vessel.drawing_revision", gettext_noop("Drawing revision"), "vessel", longest=8),
    FieldDef("vessel.body", gettext_noop("Body"), "vessel", "choice", required=True, choices=BODIES,
             default="vertical_cylinder"),
    FieldDef("vessel.bottom", _SIDE_NAMES["bottom"][0], "vessel", "choice", required=True, choices=BOTTOMS,
             default="flat", concerns=concerned_by("bottom")),
    FieldDef("vessel.top", _SIDE_NAMES["top"][0], "vessel", "choice", required=True, choices=TOPS, default="flat",
             concerns=concerned_by("top")),
    FieldDef("vessel.diameter", gettext_noop("Inside diameter"), "vessel", "length", sign="positive",
             concerns=concerned_by("diameter"), help=gettext_noop("Of a frustum: at its lower end.")),
    _detail("vessel.upper_diameter", gettext_noop("Inside diameter at the upper end"), "vessel", "length",
            sign="positive", concerns=concerned_by("upper_diameter")),
    FieldDef("vessel.cylinder_height", gettext_noop("Height of the cylinder or box"), "vessel", "length",
             sign="positive", concerns=concerned_by("cylinder_height"),
             help=gettext_noop("Inside, from the bottom tangent line to the top tangent line or roof.")),
    _detail("vessel.section_height", gettext_noop("Inside height of the oval or spheroid"), "vessel", "length",
            sign="positive", concerns=concerned_by("section_height")),
    _detail("vessel.cylinder_length", gettext_noop("Length of the cylinder"), "vessel", "length", sign="positive",
            concerns=concerned_by("cylinder_length"), help=gettext_noop("Inside, between tangent lines.")),
    _detail("vessel.box_length", gettext_noop("Inside length"), "vessel", "length", sign="positive",
            concerns=concerned_by("box_length")),
    _detail("vessel.box_width", gettext_noop("Inside width"), "vessel", "length", sign="positive",
            concerns=concerned_by("box_width")),
    *_end("bottom"),
    *_end("top"),
    _detail("vessel.outlet_diameter", gettext_noop("Diameter of the outlet"), "vessel", "length", sign="positive",
            concerns=concerned_by("outlet_diameter")),
    _detail("vessel.outlet_length", gettext_noop("Length of the outlet"), "vessel", "length", sign="positive",
            concerns=concerned_by("outlet_length"),
            help=gettext_noop("Along the length of the box; of a wedge the width of its slot.")),
    _detail("vessel.outlet_width", gettext_noop("Width of the outlet"), "vessel", "length", sign="positive",
            concerns=concerned_by("outlet_width")),
    _detail("vessel.wall_thickness", gettext_noop("Wall thickness of the ends"), "vessel", "length_small",
            sign="positive", concerns=concerned_by("wall_thickness"), optional=True,
            help=gettext_noop("Their radii follow from the outside diameter; where this is empty, from the inside.")),
    _detail("vessel.tilt", gettext_noop("Tilt of the axis"), "vessel", "angle", lowest="-44°", highest="44°",
            concerns=concerned_by("tilt"),
            optional=True,
            help=gettext_noop("How far the right end stands higher; negative where the left end does.")),
    _detail("vessel.axis_bearing", gettext_noop("Bearing of the axis or length"), "vessel", "angle",
            sign="not_negative", highest="360°", concerns=concerned_by("axis_bearing"), optional=True,
            help=gettext_noop("Direction from the left end to the right, clockwise from plant north; east (90°) "
                              "where empty.")),
    FieldDef("vessel.datum", gettext_noop("Datum (elevation zero)"), "vessel", "choice", required=True, choices=DATUMS,
             default="lowest_inside_point"),
    FieldDef("vessel.dip_plate_height", gettext_noop("Dip plate above the lowest inside point"), "vessel", "length",
             sign="not_negative", help=gettext_noop("Only where the dip plate is the datum.")),
    _detail("vessel.outlet_elevation", gettext_noop("Elevation of the lowest outlet"), "vessel", "length",
            optional=True, help=gettext_noop("From the datum: what lies below it is dead volume.")),
    _detail("vessel.critical_level", gettext_noop("Critical level"), "vessel", "length",
            help=gettext_noop("From the datum: above it harm follows.")),
    FieldDef("vessel.overflow_level", gettext_noop("Overflow level"), "vessel", "length",
             help=gettext_noop("From the datum.")),
    FieldDef("vessel.inflow_max", gettext_noop("Maximum inflow"), "vessel", "volume_flow", sign="not_negative"),
    FieldDef("vessel.outflow_max", gettext_noop("Maximum outflow"), "vessel", "volume_flow", sign="not_negative"),
    FieldDef("vessel.design_pressure_max", gettext_noop("Design pressure, highest"), "vessel", "pressure"),
    FieldDef("vessel.design_pressure_min", gettext_noop("Design pressure, lowest"), "vessel", "pressure",
             help=gettext_noop("Below atmosphere where the vessel must stand vacuum.")),
    FieldDef("vessel.design_temperature_max", gettext_noop("Design temperature, highest"), "vessel", "temperature"),
    FieldDef("vessel.design_temperature_min", gettext_noop("Design temperature, lowest"), "vessel", "temperature"),
    _detail("vessel.least_metal_temperature", gettext_noop("Least metal temperature"), "vessel", "temperature"),
    _detail("vessel.design_code", gettext_noop("Design code"), "vessel", longest=60),
    _detail("vessel.lining", gettext_noop("Lining"), "vessel", longest=60),
    _detail("vessel.insulation", gettext_noop("Insulation"), "vessel", longest=60),
    _detail("vessel.relief_setting", gettext_noop("Relief device set at"), "vessel", "pressure"),
    _detail("vessel.inlet_radius", gettext_noop("Feed point, radius"), "vessel", "length",
            concerns=("solid",), optional=True, sign="not_negative",
            help=gettext_noop("Where bulk solids fall in, from the middle.")),
    _detail("vessel.inlet_bearing", gettext_noop("Feed point, bearing"), "vessel", "angle", concerns=("solid",),
            sign="not_negative", highest="360°", optional=True),
    _detail("vessel.outlet_radius", gettext_noop("Draw-off point, radius"), "vessel", "length",
            concerns=("solid",), optional=True, sign="not_negative",
            help=gettext_noop("Above which the solids are drawn down, from the middle.")),
    _detail("vessel.outlet_bearing", gettext_noop("Draw-off point, bearing"), "vessel", "angle", concerns=("solid",),
            sign="not_negative", highest="360°", optional=True),
    _detail("vessel.capacity_from", gettext_noop("Capacity follows from"), "vessel", "choice", choices=CAPACITY_FROM,
            optional=True, help=gettext_noop("The shape, where nothing is chosen.")),
    _detail("vessel.dimension_uncertainty", gettext_noop("Standard uncertainty of the dimensions"), "vessel", "ratio",
            sign="not_negative", prints=False,
            help=gettext_noop("Relative, of every inside length; states how sure the capacity table is.")),
    _detail("vessel.level_uncertainty", gettext_noop("Standard uncertainty of a level reading"), "vessel",
            "length_small", sign="not_negative", prints=False),
    FieldDef("vessel.note", gettext_noop("Note on the vessel"), "record", "long_text", longest=500),
)  # fmt: skip

# The groups of a vessel's form: stem of the first field of each -> its title.
FORM_GROUPS = {
    "unit": gettext_noop("Identification"),
    "body": gettext_noop("Shape"),
    "datum": gettext_noop("Datum, levels and flows"),
    "design_pressure_max": gettext_noop("Design"),
    "inlet_radius": gettext_noop("Bulk solids"),
    "capacity_from": gettext_noop("Capacity"),
    "note": gettext_noop("Note"),
}

LONGEST_TABLE = 1_200_000  # characters: 20,000 rows of two long values with their units

STRAPPING_FIELDS: tuple[FieldDef, ...] = (
    FieldDef("strapping.source", gettext_noop("Where the table comes from"), "vessel", prints=False,
             help=gettext_noop("For example: survey, calibration certificate, with number and date.")),
    FieldDef("strapping.interpolation", gettext_noop("Between the points"), "vessel", "choice", required=True,
             choices=INTERPOLATIONS, default="linear", prints=False),
    _detail("strapping.tolerance", gettext_noop("Accepted difference from the shape"), "vessel", "ratio",
            sign="positive", default="1 %", prints=False,
            help=gettext_noop("Of the whole volume; rows that differ more are told.")),
    _detail("strapping.uncertainty", gettext_noop("Standard uncertainty of the volumes"), "vessel", "ratio",
            sign="not_negative", prints=False, optional=True,
            help=gettext_noop("Relative, from the certificate; states how sure the capacity table is.")),
    FieldDef("strapping.points", gettext_noop("Levels and volumes"), "vessel", "long_text", required=True,
             longest=LONGEST_TABLE, prints=False),
)  # fmt: skip
