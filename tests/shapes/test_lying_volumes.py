"""Volumes of lying vessels against published values, an independent library and integration by other methods."""

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from fluids.geometry import TANK
from scipy.integrate import quad
from scipy.optimize import brentq, minimize_scalar

from tests.shapes.lying_samples import lying, meridian
from vessels.shapes.heads import head_from
from vessels.shapes.lying import lying_cylinder, lying_oval
from vessels.shapes.lying_pieces import head_below, pieces_of

US_GALLON_M3 = 231 * 0.0254**3  # 231 cubic inches exactly: NIST SP 811, appendix B
INCH_M = 0.0254

# Levels and volumes by numerical integration with 25 digits; each row names a second method that agrees.
TANK_CASES = Path(__file__).parents[1] / "reference" / "tank_cases.json"
CASES: list[dict[str, Any]] = [
    row for row in json.loads(TANK_CASES.read_text(encoding="utf-8"))["cases"] if "horizontal" in row["shape"]
]


# --- published values -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "head, level_in, volume_gal",
    [
        ("cone", 36, 2041.1923581273443),
        ("cone", 84, 6180.540773905826),
        ("ellipsoidal", 36, 2380.9565415578145),
        ("ellipsoidal", 84, 7103.445235921378),
        ("cap", 36, 2303.9615116986183),
        ("cap", 84, 6935.163365275476),
        ("asme_fd", 36, 2028.626670842139),
        ("asme_fd", 84, 5939.897910157917),
        ("asme_fd", 1, 9.580013820942611),
    ],
)
def test_agrees_with_jones_calculating_tank_volume(head: str, level_in: float, volume_gal: float):
    """D. Jones, "Calculating Tank Volume": horizontal tank, D = 108 in, L = 156 in, heads 42 in deep, torispherical
    with f = 1, k = 0.06; digits beyond the article's as held in the tests of the fluids library. 1 in: only held there,
    and by integration confirmed to 4e-10."""
    depth = {} if head == "asme_fd" else {"depth_m": 42 * INCH_M}
    tank = lying(108 * INCH_M, 156 * INCH_M, (head, depth))
    assert tank.volume_m3(level_in * INCH_M) / US_GALLON_M3 == pytest.approx(volume_gal, rel=1e-9)


@pytest.mark.parametrize(
    "share, filled",
    [(0.05, 0.018693), (0.10, 0.052044), (0.20, 0.142378), (0.25, 0.195501), (0.30, 0.252316), (0.40, 0.373530),
     (0.45, 0.436444), (0.5, 0.5), (0.60, 0.626470), (0.75, 0.804499), (0.90, 0.947956)],
)  # fmt: skip
def test_fractions_of_a_flat_drum(share: float, filled: float):
    """Area of a circle's segment over the circle's: tables of handbooks (Perry tabulates the same function)."""
    tank = lying(3, 7)
    assert tank.volume_m3(share * 3) / tank.total_volume_m3 == pytest.approx(filled, abs=5e-7)


@pytest.mark.parametrize("share, filled", [(0.10, 0.028), (0.20, 0.104), (0.25, 0.15625), (0.30, 0.216), (0.40, 0.352)])
@pytest.mark.parametrize("kind", ["hemisphere", "ellipsoidal_2_1"])
def test_fractions_of_a_pair_of_round_heads(kind: str, share: float, filled: float):
    """A pair of half ellipsoids fills as a ball does: 3x² − 2x³ of it, elementary geometry; in handbooks as
    0.5236·h²·(1.5·D − h) and 1.0472·h²·(1.5·D − h)."""
    heads = lying(2.4, 6, kind).volume_m3(share * 2.4) - lying(2.4, 6).volume_m3(share * 2.4)
    both = lying(2.4, 6, kind).total_volume_m3 - lying(2.4, 6).total_volume_m3
    assert heads / both == pytest.approx(filled, rel=1e-11)


def test_a_flat_drum_tilted_by_ten_degrees():
    """Closed form [F(c) − F(c − L·tan t)]/tan t; an independent Monte Carlo run of 400 000 points gave 5.761 m³."""
    level = 1.2 * math.cos(math.radians(10))
    assert lying(2, 6, tilt_deg=10).volume_m3(level) == pytest.approx(5.75661, abs=5e-6)


KINDS: dict[str, Any] = {
    "conical": "cone", "ellipsoidal": "ellipsoidal", "spherical_cap": "cap", "hemispherical": "hemisphere",
    "torispherical": "torispherical", "flat": "flat",
}  # fmt: skip


def from_case(row: dict[str, Any]) -> tuple[Any, float]:
    """The vessel of a row of the table, and its level above the lowest inside point."""
    dims, name = row["dims_m"], row["shape"]
    if "oval" in name:
        flat = head_from("flat", dims["H"] / 2)
        return lying_oval(dims["W"], dims["H"], dims["L"], flat, flat), row["level_m"]
    if "tilted" in name:
        tilt = math.radians(dims["tilt_deg"])
        depth = row["level_m"]
        if "mid length" in dims["level_ref"]:
            depth += dims["L"] / 2 * math.tan(tilt)
        return lying(dims["D"], dims["L"], tilt_deg=dims["tilt_deg"]), depth * math.cos(tilt)
    kind = next(ours for theirs, ours in KINDS.items() if theirs in name)
    values = {"depth_m": dims["a"]} if kind in ("cone", "ellipsoidal", "cap") else {}
    if kind == "torispherical":
        values = {"crown_ratio": dims["f"], "knuckle_ratio": dims["k"]}
    return lying(dims["D"], dims["L"], (kind, values)), row["level_m"]


@pytest.mark.parametrize("row", CASES, ids=lambda row: row["id"])
def test_agrees_with_the_table_of_integrated_cases(row: dict[str, Any]):
    tank, level = from_case(row)
    assert tank.volume_m3(level) == pytest.approx(row["volume_m3"], rel=1e-11)
    assert tank.level_m(row["volume_m3"]) == pytest.approx(level, abs=1e-6)


def test_the_table_holds_what_it_should():
    assert len(CASES) > 35
    assert {"tilted", "oval"} <= {word for row in CASES for word in ("tilted", "oval") if word in row["shape"]}


# --- the fluids library ---------------------------------------------------------------------------------------


def random_pairs(count: int) -> list[tuple[Any, TANK]]:
    """Drums of our own and of the fluids library with two random heads each."""
    random = np.random.default_rng(20)
    pairs = []
    for _ in range(count):
        diameter, length = random.uniform(0.5, 5), random.uniform(0.5, 20)
        ours: list[Any] = []
        theirs: dict[str, Any] = {}
        for side in "AB":
            kind = random.choice(["flat", "cone", "ellipsoidal", "cap", "torispherical"])
            depth = diameter * random.uniform(0.05, 0.49)
            if kind == "torispherical":
                crown, knuckle = random.uniform(0.6, 1.5), random.uniform(0.03, 0.3)
                theirs |= {f"side{side}": kind, f"side{side}_f": crown, f"side{side}_k": knuckle}
                ours.append((kind, {"crown_ratio": crown, "knuckle_ratio": knuckle}))
            elif kind == "flat":
                ours.append("flat")
            else:
                name = {"cone": "conical", "cap": "spherical"}.get(kind, kind)
                theirs |= {f"side{side}": name, f"side{side}_a": depth}
                ours.append((kind, {"depth_m": depth}))
        tank = TANK(D=diameter, L=length, horizontal=True, **theirs)
        pairs.append((lying(diameter, length, *ours), tank))
    return pairs


def test_agrees_with_the_fluids_library():
    """Independent implementation: TANK of the fluids library, whose own integration is good to about 4e-10."""
    random = np.random.default_rng(21)
    for ours, theirs in random_pairs(60):
        assert ours.total_volume_m3 == pytest.approx(theirs.V_total, rel=1e-9)
        levels = random.uniform(0.01, 1, 12) * ours.height_m
        volumes = np.array([theirs.V_from_h(level) for level in levels])
        assert ours.volume_m3(levels) == pytest.approx(volumes, rel=1e-9, abs=1e-12)


def test_the_inverse_agrees_with_the_fluids_library():
    """TANK.h_from_V by Brent's method; its default, a spline, is only good to some millimetres."""
    random = np.random.default_rng(22)
    for ours, theirs in random_pairs(15):
        for share in random.uniform(0.02, 0.98, 3):
            volume = share * theirs.V_total
            assert ours.level_m(volume) == pytest.approx(theirs.h_from_V(volume, method="brenth"), abs=1e-6)


# --- other integrations and closed forms ----------------------------------------------------------------------


class Slices:
    """A drum cut by horizontal planes: its volume below a level as the integral of their areas over the height.

    Written apart from the shapes: the area of a plane is integrated along the vessel, with the wall's equation.
    """

    def __init__(self, radius: float, length: float, first: Any, second: Any, tilt: float) -> None:
        self.half, self.radius = length / 2, radius
        self.sine, self.cosine = math.sin(tilt), math.cos(tilt)
        self.first, self.second = meridian(first[0], radius, **first[1]), meridian(second[0], radius, **second[1])
        self.low, self.high = -self.half - self.first[0], self.half + self.second[0]
        valley = self.best(self.floor)
        lower = minimize_scalar(self.floor, bounds=valley, method="bounded", options={"xatol": 1e-13})
        self.lowest = min([lower.fun, *(self.floor(x) for x in self.places())])

    def places(self) -> np.ndarray:
        return np.sort(np.concatenate((np.linspace(self.low, self.high, 801), [-self.half, self.half])))

    def floor(self, x: Any) -> Any:
        return x * self.sine - self.wall(x) * self.cosine

    def best(self, function: Any) -> tuple[float, float]:
        places = self.places()
        number = int(np.argmin(function(places)))
        return places[max(number - 1, 0)], places[min(number + 1, len(places) - 1)]

    def wall(self, x: Any) -> Any:
        x = np.asarray(x, dtype=float)
        left, right = np.clip(-self.half - x, 0, self.first[0]), np.clip(x - self.half, 0, self.second[0])
        return np.where(
            x < -self.half, self.first[1](left), np.where(x > self.half, self.second[1](right), self.radius)
        )

    def area(self, height: float) -> float:
        """Area of the section at a height: by Gauss-Legendre between the places where it ends and the rims."""

        def inside(x: Any) -> Any:
            return self.wall(x) - np.abs((height - x * self.sine) / self.cosine)

        low, high = self.best(lambda x: -inside(x))
        middle = minimize_scalar(lambda x: -inside(x), bounds=(low, high), method="bounded").x
        if inside(middle) <= 0:
            return 0.0
        ends = [end if inside(end) >= 0 else brentq(inside, end, middle, xtol=1e-15) for end in (self.low, self.high)]
        joints = sorted({x for x in (-self.half, self.half, *self.joints()) if ends[0] < x < ends[1]})
        total = 0.0
        nodes, weights = np.polynomial.legendre.leggauss(60)
        angles = math.pi / 4 * (nodes + 1)
        for start, stop in zip([ends[0], *joints], [*joints, ends[1]], strict=True):
            x = start + (stop - start) * np.sin(angles) ** 2
            rise = (height - x * self.sine) / self.cosine
            chord = 2 * np.sqrt(np.maximum(self.wall(x) ** 2 - rise**2, 0))
            total += math.pi / 4 * (stop - start) * np.sum(weights * chord * np.sin(2 * angles))
        return total / self.cosine

    def joints(self) -> list[float]:
        """Where a knuckle meets its crown, as far as there is one."""
        ends = ((self.first, -1), (self.second, 1))
        return [side * (self.half + head[2]) for head, side in ends if head[2] is not None]

    def volume(self, level: float) -> float:
        found = quad(lambda h: self.area(self.lowest + h), 0, level, epsabs=0, epsrel=1e-10, limit=300)
        return float(found[0])


FD: Any = ("asme_fd", {})
KORB: Any = ("din_28013", {})
TILTED = [
    (2.0, 6.0, ("flat", {}), ("flat", {}), 10.0),
    (2.4, 6.0, FD, FD, 3.0),
    (2.4, 6.0, KORB, ("cone", {"depth_m": 0.8}), -12.0),
    (2.4, 3.0, ("hemisphere", {}), ("ellipsoidal_2_1", {}), 35.0),
    (2.4, 5.0, ("cone", {"depth_m": 3.0}), ("paraboloid", {"depth_m": 0.7}), 30.0),
    (2.4, 5.0, ("cap", {"depth_m": 0.4}), ("flat", {}), 8.0),
]


@pytest.mark.parametrize("diameter, length, first, second, tilt_deg", TILTED)
def test_tilted_agrees_with_horizontal_slices(diameter: float, length: float, first: Any, second: Any, tilt_deg: float):
    slices = Slices(diameter / 2, length, first, second, math.radians(tilt_deg))
    tank = lying(diameter, length, first, second, tilt_deg)
    assert tank._geometry.lowest_m == pytest.approx(slices.lowest, abs=1e-12)
    for share in (0.05, 0.3, 0.5, 0.7, 0.95):
        level = share * tank.height_m
        assert tank.surface_area_m2(level) == pytest.approx(slices.area(slices.lowest + level), rel=1e-9)
    level = 0.6 * tank.height_m
    assert tank.volume_m3(level) == pytest.approx(slices.volume(level), rel=1e-9)


def depth_integral(depth: float, radius: float) -> float:
    """F of the closed form: the integral of the segment's area over its depth, from empty."""
    if depth <= 0:
        return 0.0
    if depth >= 2 * radius:
        return math.pi * radius**3 + math.pi * radius**2 * (depth - 2 * radius)
    p = math.acos(1 - depth / radius)
    return radius**3 * (math.sin(p) - p * math.cos(p) - math.sin(p) ** 3 / 3)


@pytest.mark.parametrize("tilt_deg", [0.5, 1, 3, -3, 10, 25, -44])
def test_a_tilted_flat_drum_is_the_closed_form(tilt_deg: float):
    """V = [F(c) − F(c − L·tan t)]/tan t with the depth c across the axis at the low end; elementary geometry."""
    tank = lying(2, 6, tilt_deg=tilt_deg)
    tilt = math.radians(abs(tilt_deg))
    for share in (0.05, 0.2, 0.5, 0.77, 0.99):
        depth = share * tank.height_m / math.cos(tilt)
        volume = (depth_integral(depth, 1) - depth_integral(depth - 6 * math.tan(tilt), 1)) / math.tan(tilt)
        assert tank.volume_m3(share * tank.height_m) == pytest.approx(volume, rel=1e-9)


@pytest.mark.parametrize("deep", [0.3, 1.2, 2.5])
@pytest.mark.parametrize("slope", [0.0, 0.2, -0.9])
def test_two_half_ellipsoids_cut_askew_are_a_cap(deep: float, slope: float):
    """An ellipsoid is a ball stretched, so a plane at the share x between its tangent planes cuts off 3x² − 2x³."""
    pieces = pieces_of(head_from("ellipsoidal", 1.2, depth_m=deep))
    # A plane at the height c + m·u above the centre touches the ellipsoid where c² = R² + (m·a)².
    touch = math.hypot(1.2, slope * deep)
    for share in (1e-3, 0.1, 0.25, 0.5, 0.66, 0.95):
        wet = np.array([1.2 + touch * (2 * share - 1)])
        volume = head_below(pieces, 1.2, wet, slope)[0] + head_below(pieces, 1.2, wet, -slope)[0]
        whole = 4 / 3 * math.pi * 1.2**2 * deep
        assert volume[0] / whole == pytest.approx(3 * share**2 - 2 * share**3, rel=1e-11)


@pytest.mark.parametrize("head", ["flat", "asme_fd", ("cone", {"depth_m": 0.5})])
def test_a_very_small_tilt_goes_over_into_none(head: Any):
    """At half its height a tilted drum of equal ends is half full; elsewhere the tilt moves the level at mid-length by
    L/2·tan t, but for the square of the tilt."""
    level = lying(2.4, 6, head)
    for tilt_deg in (1e-7, 1e-5, 1e-3, 0.01):
        tilted = lying(2.4, 6, head, tilt_deg=tilt_deg)
        assert tilted.volume_m3(tilted.height_m / 2) == pytest.approx(level.total_volume_m3 / 2, rel=1e-12)
        lift = 3 * math.tan(math.radians(tilt_deg))
        for here in (0.3, 0.9, 1.8):
            assert tilted.volume_m3(here + lift) == pytest.approx(level.volume_m3(here), rel=4 * lift**2 + 1e-11)


def test_heads_pushed_in_agree_with_counting_points():
    """Halton points in a tilted drum with a hemisphere and a cone pushed in; an integration known to about 1e-3."""
    tank = lying(
        2.4, 6, ("hemisphere", {"direction": "inward"}),
        ("cone", {"depth_m": 1.5, "direction": "inward", "straight_flange_m": 0.2}), 15,
    )  # fmt: skip
    count = np.arange(1, 60001)
    unit = np.array([_halton(count, base) for base in (2, 3, 5)])
    x, across, up = 6.2 * unit[0] - 3, 2.4 * unit[1] - 1.2, 2.4 * unit[2] - 1.2
    rho = np.hypot(across, up)
    free = (rho <= 1.2) & (rho >= root_of_ball(x + 3)) & (rho >= 1.2 * (1 - (3.2 - x) / 1.5))
    heights = x * math.sin(math.radians(15)) + up * math.cos(math.radians(15))
    lowest = -3 * math.sin(math.radians(15)) - 1.2 * math.cos(math.radians(15))
    for level in (0.8, 1.6, 2.2, 3.0):
        counted = np.mean(free & (heights - lowest <= level)) * 6.2 * 2.4**2
        assert tank.volume_m3(level) == pytest.approx(counted, rel=3e-3)


def root_of_ball(depth: np.ndarray) -> np.ndarray:
    """Radius of the hemisphere of radius 1.2 at a depth; −1 beyond it."""
    return np.where(depth <= 1.2, np.sqrt(np.maximum(1.2**2 - depth**2, 0)), -1.0)


def _halton(count: np.ndarray, base: int) -> np.ndarray:
    """The Halton sequence: digits of the counting number mirrored at the point."""
    value, factor, rest = np.zeros(len(count)), 1.0, count.copy()
    while np.any(rest):
        factor /= base
        value += factor * (rest % base)
        rest //= base
    return value


@pytest.mark.parametrize("kind", ["flat", "asme_fd", "hemisphere"])
def test_an_oval_holds_its_width_over_its_height_of_the_circle(kind: str):
    """An ellipse is a circle stretched: volumes and surfaces grow in the same ratio, with stretched heads too."""
    head = head_from(kind, 0.75)
    oval, drum = lying_oval(2.2, 1.5, 4.0, head, head), lying_cylinder(1.5, 4.0, head, head)
    levels = np.linspace(0, 1.5, 20)
    assert oval.volume_m3(levels) == pytest.approx(2.2 / 1.5 * drum.volume_m3(levels), rel=1e-12)
    assert oval.surface_area_m2(levels) == pytest.approx(2.2 / 1.5 * drum.surface_area_m2(levels), rel=1e-12)
    assert oval.half_width_m(0.75) == pytest.approx(1.1)
    assert oval.total_volume_m3 == pytest.approx(2.2 / 1.5 * drum.total_volume_m3, rel=1e-12)
