"""The cap of a ball: the contents of a sphere and of hemispherical ends."""

import math

import numpy as np

from vessels.shapes.convex import convex_root
from vessels.shapes.numbers import Floats


def cap_volume(depth: Floats, radius: float) -> Floats:
    """Volume of the part of a ball below a plane.

    depth   of the plane above the lowest point, 0 … 2·radius (any unit)
    radius  of the ball, same unit

    Returns the volume in that unit cubed, from whichever pole is nearer, so that empty and full come out alike.
    Source: V = π·h²·(r − h/3), elementary geometry.
    """
    near = np.minimum(depth, 2 * radius - depth)
    cap = math.pi * near * near * (radius - near / 3)
    return np.where(depth <= radius, cap, _whole(radius) - cap)


def _whole(radius: float) -> float:
    return 4 * math.pi / 3 * radius**3


def cap_depth(volume: Floats, radius: float) -> Floats:
    """Depth of the cap that has a volume: inverse of `cap_volume`.

    Good to what the rounding of the volume leaves: near the top of a ball of 100 m diameter that is about 1 µm, of one
    of 25 m 0.1 µm.
    """
    whole = _whole(radius)
    small = np.maximum(np.minimum(volume, whole - volume), 0.0)
    wanted = 3 * small / (math.pi * radius**3)
    # In depths of one radius t²·(3 − t) is at most 3·t², so this start lies at or below the root.
    share = convex_root(lambda t: t * t * (3 - t), lambda t: 3 * t * (2 - t), wanted, np.sqrt(wanted / 3), 1.0)
    depth = radius * share
    return np.where(volume <= whole / 2, depth, 2 * radius - depth)
