"""Lying vessels for tests: named ones, random ones, and meridians written down a second time."""

import math
from collections.abc import Callable
from typing import Any

import numpy as np
from hypothesis import assume
from hypothesis import strategies as st

from vessels.shapes.errors import ImpossibleShape
from vessels.shapes.heads import Head, head_from
from vessels.shapes.lying import LyingVessel, lying_cylinder, lying_oval

OWN_DEPTH = ("cone", "ellipsoidal", "cap", "paraboloid")


def lying(
    diameter: float, length: float, first: Any = "flat", second: Any = None, tilt_deg: float = 0.0
) -> LyingVessel:
    """A drum with heads given as a kind or as (kind, values); the second one like the first where not given."""
    heads = [_head(given, diameter / 2) for given in (first, first if second is None else second)]
    return lying_cylinder(diameter, length, heads[0], heads[1], math.radians(tilt_deg))


def _head(given: Any, radius: float) -> Head:
    kind, values = given if isinstance(given, tuple) else (given, {})
    return head_from(kind, radius, **values)


@st.composite
def heads(draw: st.DrawFn, radius: float) -> Head:
    """Heads of every kind, deep and shallow, outward and inward, with and without a straight flange."""
    kind = draw(
        st.sampled_from(
            ["flat", "cone", "hemisphere", "ellipsoidal_2_1", "ellipsoidal", "cap", "paraboloid", "torispherical",
             "asme_fd", "din_28013"]
        )
    )  # fmt: skip
    values: dict[str, Any] = {}
    if kind in OWN_DEPTH:
        values["depth_m"] = radius * draw(st.floats(0.02, 1.0 if kind == "cap" else 2.0))
    if kind == "torispherical":
        values |= {"crown_ratio": draw(st.floats(0.55, 2.0)), "knuckle_ratio": draw(st.floats(0.02, 0.45))}
    if kind != "flat":
        values["straight_flange_m"] = draw(st.sampled_from([None, 0.1 * radius]))
    if kind not in ("flat", "paraboloid"):
        values["direction"] = draw(st.sampled_from(["outward", "outward", "inward"]))
    return head_from(kind, radius, **values)


@st.composite
def lying_vessels(draw: st.DrawFn) -> LyingVessel:
    """Level and tilted, circular and oval ones."""
    diameter = draw(st.floats(0.1, 10))
    length = diameter * draw(st.floats(0.2, 8))
    first, second = draw(heads(diameter / 2)), draw(heads(diameter / 2))
    how = draw(st.sampled_from(["level", "oval", "tilted", "tilted"]))
    try:
        if how == "oval":
            return lying_oval(diameter * draw(st.floats(0.3, 3)), diameter, length, first, second)
        tilt = draw(st.floats(-0.75, 0.75)) if how == "tilted" else 0.0
        return lying_cylinder(diameter, length, first, second, tilt)
    except ImpossibleShape:  # heads pushed in that meet
        assume(False)
        raise


# --- meridians, a second time ---------------------------------------------------------------------------------

Meridian = tuple[float, Callable[[np.ndarray], np.ndarray], float | None]


def root(values: Any) -> Any:
    return np.sqrt(np.maximum(values, 0.0))


def meridian(kind: str, radius: float, **values: float) -> Meridian:
    """Depth of a head, its radius as a function of the depth, and the depth of the joint between its two curves if it
    has one; from the equations of its curves."""
    if kind == "flat":
        return 0.0, lambda u: np.full_like(u, radius), None
    if kind in ("asme_fd", "din_28013", "torispherical"):
        crown, knuckle = {"asme_fd": (1.0, 0.06), "din_28013": (0.8, 0.154)}.get(
            kind, (values.get("crown_ratio", 0), values.get("knuckle_ratio", 0))
        )
        crown, knuckle = 2 * radius * crown, 2 * radius * knuckle
        depth = crown - math.sqrt((crown - knuckle) ** 2 - (radius - knuckle) ** 2)
        joint = knuckle * (crown - depth) / (crown - knuckle)

        def torisphere(u: np.ndarray) -> np.ndarray:
            on_knuckle = radius - knuckle + root(knuckle**2 - u**2)
            return np.where(u <= joint, on_knuckle, root(crown**2 - (u + crown - depth) ** 2))

        return depth, torisphere, joint
    deep = {"hemisphere": radius, "ellipsoidal_2_1": radius / 2}.get(kind, values.get("depth_m", 0.0))
    if kind == "cone":
        return deep, lambda u: radius * (1 - u / deep), None
    if kind == "paraboloid":
        return deep, lambda u: radius * root(1 - u / deep), None
    if kind == "cap":
        ball = (radius**2 + deep**2) / (2 * deep)
        return deep, lambda u: root(ball**2 - (u + ball - deep) ** 2), None
    return deep, lambda u: radius * root(1 - (u / deep) ** 2), None
