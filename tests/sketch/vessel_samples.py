"""Invented vessels of every body with various ends, as drawings take them."""

import math
from typing import Any

from vessels.drawing.values import InternalValues, NozzleValues, Point, VesselValues
from vessels.shape_values import ANGLES, LENGTHS
from vessels.shapes.build import shape_from_values

DEGREE = math.pi / 180
KINDS = {"length": (1.0, "m"), "length_small": (1000.0, "mm"), "angle": (180 / math.pi, "°")}


def shown(value: float, kind: str) -> str:
    """A value as a metric plant shows it, good enough for tests."""
    factor, unit = KINDS[kind]
    number = f"{value * factor:.4g}".replace("-", "−")
    return f"{number}°" if unit == "°" else f"{number}\u00a0{unit}"


def values(
    body: str,
    bottom: str = "flat",
    top: str = "flat",
    *,
    datum_height_m: float | None = 0.0,
    nozzles: tuple[NozzleValues, ...] = (),
    internals: tuple[InternalValues, ...] = (),
    levels: dict[str, float] | None = None,
    feed: Point | None = None,
    draw_off: Point | None = None,
    number: str = "T-7001",
    **given: Any,
) -> VesselValues:
    """A vessel from the arguments of `shape_from_values`."""
    shape = shape_from_values(body=body, bottom=bottom, top=top, **given)
    stems = {argument: argument.removesuffix("_m").removesuffix("_rad") for argument in given}
    sizes = {stem: given[argument] for argument, stem in stems.items() if stem in (*LENGTHS, *ANGLES)}
    return VesselValues(
        shape=shape,
        shown=shown,
        number=number,
        body=body,
        bottom=bottom,
        top=top,
        datum="Lowest inside point",
        datum_height_m=datum_height_m,
        sizes=sizes,
        entered={stem: shown(size, "angle" if stem in ANGLES else "length") for stem, size in sizes.items()},
        levels={stem: (level_m, shown(level_m, "length")) for stem, level_m in (levels or {}).items()},
        nozzles=nozzles,
        internals=internals,
        feed=feed,
        draw_off=draw_off,
    )


def nozzle(mark: str, radius_m: float | None, bearing_deg: float | None = None, **more: Any) -> NozzleValues:
    """A nozzle of DN 80 with 200 mm projection, or whatever is said otherwise."""
    usual: dict[str, Any] = {"size": "DN 80", "bore_m": 0.08, "projection_m": 0.2}
    if "face_m" in more:
        usual |= {"projection_m": None, "face_shown": shown(more["face_m"], "length")}
    bearing_rad = None if bearing_deg is None else bearing_deg * DEGREE
    given: dict[str, Any] = {**usual, **more}
    return NozzleValues(mark=mark, place=f"nozzle-{mark}", radius_m=radius_m, bearing_rad=bearing_rad, **given)


def internal(kind: str, radius_m: float, bearing_deg: float | None, low_m: float, high_m: float, width_m: float) -> Any:
    bearing_rad = None if bearing_deg is None else bearing_deg * DEGREE
    return InternalValues(kind, f"internal-{kind}", "", radius_m, bearing_rad, low_m, high_m, width_m)


SIDE = (nozzle("N8", None, 90, face_m=1.2, bore_m=0.15), nozzle("N9", None, 250, face_m=3.0, bore_m=0.05))
ROOF = (
    nozzle("N1", 0.0),
    nozzle("N2", 1.2, 30),
    nozzle("N3", 1.2, 75, bore_m=0.15),
    nozzle("N4", 1.5, 200, bore_m=0.5, projection_m=0.15),
    nozzle("N5", 1.2, 300),
    nozzle("N6", 1.4, 330, bore_m=None, projection_m=None),
)
INSIDE = (
    internal("agitator", 0.0, None, 1.0, 1.8, 1.4),
    internal("ladder", 1.7, 120, 0.3, 5.5, 0.4),
    internal("coil", 0.0, None, 0.4, 0.9, 3.0),
    internal("baffle", 1.8, 0, 0.2, 5.0, 0.3),
    internal("inlet_stream", 1.0, 225, 3.0, 6.0, 0.25),
    internal("pipe", 0.8, 270, 1.0, 6.0, 0.15),
    internal("well", 1.2, 30, 0.4, 6.0, 0.12),
)
BAND = {"overflow_level": 5.4, "critical_level": 5.7, "outlet_elevation": 0.3}
TANK: dict[str, Any] = {"diameter_m": 4.0, "cylinder_height_m": 6.0}
DRUM: dict[str, Any] = {"diameter_m": 2.4, "cylinder_length_m": 6.0}
ON_DRUM = (nozzle("N1", 0.0), nozzle("N2", 2.0, 90), nozzle("N3", 2.0, 270, bore_m=0.5), nozzle("N4", 0.6, 0))


def samples() -> dict[str, VesselValues]:
    """Vessels by name: every body, every kind of end somewhere, tilts, flanges and crowds."""
    found = {
        "flat-flat": values("vertical_cylinder", nozzles=ROOF + SIDE, internals=INSIDE, levels=BAND, **TANK),
        "cone-flat": values(
            "vertical_cylinder", "cone", bottom_depth_m=1.5, datum_height_m=1.5, nozzles=ROOF[:2], **TANK
        ),
        "hopper-cone": values(
            "vertical_cylinder",
            "truncated_cone",
            "cone",
            bottom_depth_m=2.6,
            outlet_diameter_m=0.4,
            top_depth_m=0.8,
            feed=Point(0.4, 1.0),
            draw_off=Point(0.0),
            nozzles=ROOF[:3],
            **TANK,
        ),
        "hemispheres": values("vertical_cylinder", "hemisphere", "hemisphere", nozzles=ROOF[:3], levels=BAND, **TANK),
        "ellipsoidal-flanges": values(
            "vertical_cylinder",
            "ellipsoidal_2_1",
            "ellipsoidal_2_1",
            bottom_straight_flange_m=0.3,
            top_straight_flange_m=0.04,
            nozzles=ROOF[1:3],
            **TANK,
        ),
        "own-ellipsoid-cap": values(
            "vertical_cylinder", "ellipsoidal", "cap", bottom_depth_m=0.7, top_depth_m=0.5, **TANK
        ),
        "torispherical": values("vertical_cylinder", "asme_fd", "asme_80_6", nozzles=(nozzle("N1", 1.9, 90),), **TANK),
        "din-heads": values("vertical_cylinder", "din_28011", "din_28013", wall_thickness_m=0.012, **TANK),
        "own-radii": values(
            "vertical_cylinder",
            "torispherical",
            "asme_80_10",
            bottom_crown_ratio=0.9,
            bottom_knuckle_ratio=0.12,
            **TANK,
        ),
        "paraboloid": values(
            "vertical_cylinder", "paraboloid", "paraboloid", bottom_depth_m=1.6, top_depth_m=0.6, **TANK
        ),
        "concave-bottom": values(
            "vertical_cylinder",
            "ellipsoidal_2_1",
            "flat",
            bottom_direction="inward",
            nozzles=ROOF[:2],
            levels=BAND,
            **TANK,
        ),
        "concave-both": values(
            "vertical_cylinder",
            "hemisphere",
            "cone",
            bottom_direction="inward",
            top_depth_m=0.9,
            top_direction="inward",
            nozzles=(nozzle("N1", 1.0, 90), nozzle("N2", 0.5, 270)),
            **TANK,
        ),
        "frustum": values(
            "vertical_frustum",
            "flat",
            "flat",
            diameter_m=3.0,
            upper_diameter_m=5.0,
            cylinder_height_m=4.0,
            nozzles=ROOF[:2],
        ),
        "frustum-narrow-top": values(
            "vertical_frustum",
            "ellipsoidal_2_1",
            "flat",
            diameter_m=5.0,
            upper_diameter_m=2.0,
            cylinder_height_m=4.0,
            nozzles=ROOF[:1],
        ),
        "vertical-oval": values(
            "vertical_oval",
            box_length_m=5.0,
            box_width_m=3.0,
            cylinder_height_m=4.0,
            axis_bearing_rad=30 * DEGREE,
            nozzles=ROOF[:3],
        ),
        "drum-flat": values("horizontal_cylinder", nozzles=ON_DRUM, levels={"overflow_level": 2.2}, **DRUM),
        "box": values("rectangular", box_length_m=5.0, box_width_m=3.0, cylinder_height_m=3.0, nozzles=ON_DRUM),
        "wedge": values(
            "rectangular",
            "wedge_hopper",
            box_length_m=5.0,
            box_width_m=3.0,
            cylinder_height_m=3.0,
            bottom_depth_m=2.0,
            outlet_length_m=0.5,
            nozzles=ON_DRUM,
            axis_bearing_rad=60 * DEGREE,
        ),
        "pyramid": values(
            "rectangular",
            "pyramid_hopper",
            box_length_m=4.0,
            box_width_m=3.0,
            cylinder_height_m=3.0,
            bottom_depth_m=2.0,
            outlet_length_m=0.5,
            outlet_width_m=0.4,
            axis_bearing_rad=0.0,
        ),
        "sphere": values("sphere", diameter_m=10.0, nozzles=ROOF[:3], levels={"overflow_level": 9.0}),
        "spheroid": values("spheroid", diameter_m=8.0, section_height_m=5.0, nozzles=(nozzle("N1", 2.0, 90),)),
        "silo": values(
            "vertical_cylinder",
            "truncated_cone",
            diameter_m=3.0,
            cylinder_height_m=30.0,
            bottom_depth_m=4.0,
            outlet_diameter_m=0.5,
            nozzles=ROOF[:5],
            feed=Point(0.0),
            draw_off=Point(0.0),
        ),
        "wide-tank": values(
            "vertical_cylinder",
            "flat",
            "cone",
            diameter_m=40.0,
            cylinder_height_m=8.0,
            top_depth_m=2.0,
            nozzles=(nozzle("N1", 18.0, 10), nozzle("N2", 18.0, 12), nozzle("N3", 17.5, 14)),
        ),
        "no-datum": values("vertical_cylinder", datum_height_m=None, nozzles=ROOF, **TANK),
    }
    return found | lying()


def lying() -> dict[str, VesselValues]:
    """Vessels that lie, with ends and tilts."""
    return {
        "drum-heads": values("horizontal_cylinder", "ellipsoidal_2_1", "hemisphere", nozzles=ON_DRUM, **DRUM),
        "drum-flanges": values(
            "horizontal_cylinder",
            "asme_fd",
            "din_28013",
            bottom_straight_flange_m=0.1,
            top_straight_flange_m=0.3,
            nozzles=ON_DRUM,
            axis_bearing_rad=20 * DEGREE,
            **DRUM,
        ),
        "drum-concave": values(
            "horizontal_cylinder", "ellipsoidal_2_1", "cone", bottom_direction="inward", top_depth_m=0.8, **DRUM
        ),
        "drum-tilt": values(
            "horizontal_cylinder",
            "ellipsoidal_2_1",
            "cap",
            top_depth_m=0.3,
            tilt_rad=8 * DEGREE,
            nozzles=ON_DRUM,
            levels={"overflow_level": 2.0},
            **DRUM,
        ),
        "drum-steep": values("horizontal_cylinder", "flat", "flat", tilt_rad=-30 * DEGREE, **DRUM),
        "drum-hardly-tilted": values("horizontal_cylinder", "asme_fd", "asme_fd", tilt_rad=0.5 * DEGREE, **DRUM),
        "oval-flat": values("horizontal_oval", box_width_m=2.5, section_height_m=1.6, cylinder_length_m=6.0),
        "oval-heads": values(
            "horizontal_oval",
            "ellipsoidal_2_1",
            "asme_fd",
            box_width_m=2.5,
            section_height_m=1.6,
            cylinder_length_m=6.0,
            nozzles=ON_DRUM,
        ),
    }
