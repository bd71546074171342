"""Texts of drawings of a vessel. `{…}` is filled in after translation."""

from project.registry import gettext_noop

UNNAMED_VESSEL = gettext_noop("the vessel")
ELEVATION_TITLE = gettext_noop("Elevation of {vessel}")
PLAN_TITLE = gettext_noop("Plan of {vessel}")

# Levels.
ROOF, BOTTOM, DATUM = gettext_noop("Roof"), gettext_noop("Bottom"), gettext_noop("Datum")
OVERFLOW, CRITICAL = gettext_noop("Overflow"), gettext_noop("Critical level")
LOWEST_OUTLET = gettext_noop("Lowest outlet")
NOZZLE_FACES = gettext_noop("Face of {marks}")

# Dimensions.
DIAMETER, CYLINDER = gettext_noop("Inside diameter"), gettext_noop("Height of the cylinder")
LOWER_DIAMETER = gettext_noop("Inside diameter at the lower end")
UPPER_DIAMETER = gettext_noop("Inside diameter at the upper end")
FRUSTUM_HEIGHT, SECTION_HEIGHT = gettext_noop("Height of the cone-shaped body"), gettext_noop("Height of the section")
CYLINDER_LENGTH, BOX_HEIGHT = gettext_noop("Length of the cylinder"), gettext_noop("Inside height")
LENGTH_AND_WIDTH = gettext_noop("Inside length and width")
BOTTOM_DEPTH, TOP_DEPTH = gettext_noop("Depth of the bottom"), gettext_noop("Height of the top end")
BOTTOM_INWARD = gettext_noop("Rise of the bottom into the vessel")
TOP_INWARD = gettext_noop("Drop of the top end into the vessel")
HOPPER_DEPTH = gettext_noop("Depth of the hopper")
BOTTOM_FLANGE = gettext_noop("Straight flange of the bottom")
TOP_FLANGE = gettext_noop("Straight flange of the top end")
FIRST_DEPTH, SECOND_DEPTH = gettext_noop("Depth of the left end"), gettext_noop("Depth of the right end")
FIRST_FLANGE = gettext_noop("Straight flange of the left end")
SECOND_FLANGE = gettext_noop("Straight flange of the right end")
OUTLET_DIAMETER, OUTLET_SIZE = gettext_noop("Diameter of the outlet"), gettext_noop("Size of the outlet")
OUTLET_SLOT = gettext_noop("Width of the outlet slot")
TILT = gettext_noop("Tilt")
STAND_OFF = gettext_noop("Nozzle stand-off")
STAND_OFF_OF = gettext_noop("Stand-off {marks}")

# Notes.
ELEVATIONS_FROM = gettext_noop("Elevations from the datum: {datum}.")
LIES_NOTE = gettext_noop("Seen from the side, along its length.")
SIDES_NOTE = gettext_noop("Right of the middle: bearings from 0° to below 180°; left of it: the others.")
ACROSS_NOTE = gettext_noop("The right end points to a bearing of {bearing}.")
WIDTH_NOTE = gettext_noop("Width across: {width}.")
TILT_LEFT_LOW = gettext_noop("Tilted by {angle}; the left end is the lower one.")
TILT_RIGHT_LOW = gettext_noop("Tilted by {angle}; the right end is the lower one.")
FACE_UNKNOWN = gettext_noop("Not drawn, because neither face nor projection is known: {marks}.")
RADIUS_UNKNOWN = gettext_noop("Drawn on the axis, because the radius is not known: {marks}.")
MORE_STAND_OFFS = gettext_noop("More stand-offs: {stand_offs}.")
PLACE_UNKNOWN = gettext_noop("Not in the plan, because radius or bearing is not known: {names}.")
PLACE_OUTSIDE = gettext_noop("Not in the plan, because it would be far outside the vessel: {names}.")
PLAN_NOTE = gettext_noop("Seen from above; N points to plant north.")

# The drawing in words.
DESCRIBED = gettext_noop("{name} {value}")
DESCRIBED_INTERNAL = gettext_noop("{name} from {low} to {high}")
DESCRIBED_PLACE = gettext_noop("{name} at radius {radius}, bearing {bearing}")
DESCRIBED_MIDDLE = gettext_noop("{name} in the middle")
DESCRIBED_IN_SIDE = gettext_noop("{name} in the side, bearing {bearing}")
DESCRIBED_FOOTPRINT = gettext_noop("{name}, radius {radius}")

# What stands in the vessel or is marked in the plan.
INWARD = gettext_noop("{name}, pointing inward")
FEED, DRAW_OFF = gettext_noop("Feed"), gettext_noop("Draw-off")
FOOTPRINT = gettext_noop("Beam at the lowest level")
INTERNAL_NAMES = {
    "ladder": gettext_noop("Ladder"),
    "coil": gettext_noop("Coil"),
    "baffle": gettext_noop("Baffle"),
    "agitator": gettext_noop("Agitator"),
    "inlet_stream": gettext_noop("Inlet stream"),
    "pipe": gettext_noop("Pipe"),
    "well": gettext_noop("Stilling well"),
}

# Only the drawing knows when it needs these.
DRAWING_WORDS = {
    "outside": gettext_noop("outside the vessel"),
    "far_outside": gettext_noop("far outside the vessel"),
    "nozzle_absent": gettext_noop("{label} is not drawn: it would be far outside the vessel."),
    "heights_larger": gettext_noop("Not to one scale: heights drawn {factor} times larger than widths."),
    "widths_larger": gettext_noop("Not to one scale: widths drawn {factor} times larger than heights."),
    "no_vessel": gettext_noop("No sketch yet: the vessel's dimensions are missing"),
}
NO_PLAN = gettext_noop("No plan yet: the vessel's dimensions are missing")
NORTH = gettext_noop("N")
