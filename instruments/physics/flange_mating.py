"""Whether two flanges can be bolted together: drilling, facing, and which of two ratings then counts. Pure.

Gasket and bolts are not judged here. Results carry codes with their numbers; words are made at the edge.
"""

from dataclasses import dataclass

from instruments.physics.flange_names import COUNTERPART, EN, RATINGS, require_standard
from instruments.physics.published_tables import number, number_or_none, read_rows, weakest

# Reasons why two flanges do not fit, or why it is not known.
SIZE_DIFFERS = "size_differs"
DRILLING_DIFFERS = "drilling_differs"
DRILLING_NOT_TABULATED = "drilling_not_tabulated"
STANDARDS_DIFFER = "standards_differ"
FACING_DIFFERS = "facing_differs"
FACING_MISSING = "facing_missing"
RING_GROOVE_UNKNOWN = "ring_groove_unknown"
# What a person should know although they fit.
LOWER_RATING_COUNTS = "lower_rating_counts"
RAISED_AGAINST_FLAT = "raised_against_flat"
OTHER_HOLE_NUMBER_EXISTS = "other_hole_number_exists"


@dataclass(frozen=True, slots=True)
class Drilling:
    """Connecting dimensions of a flange in m; None where the table has no value.

    holes        number of bolt holes
    also_holes   a number of holes that is supplied as well (DN 65, PN 10 and PN 16: 4), None for none
    origin       found or memory
    """

    bolt_circle_m: float
    holes: int
    hole_diameter_m: float
    also_holes: int | None
    outside_diameter_m: float | None
    raised_face_m: float | None
    origin: str

    def pattern(self) -> tuple[float, int, float]:
        """What must be equal for bolts to pass: bolt circle (m), number of holes, their diameter (m)."""
        return self.bolt_circle_m, self.holes, self.hole_diameter_m


@dataclass(frozen=True, slots=True)
class Flange:
    """A flange by standard, size and rating.

    standard  "en_1092_1" or "asme_b16_5"
    dn        nominal size as DN (NPS 3 is DN 80)
    rating    PN number or class
    facing    a key of `flange_names.COUNTERPART`, None where it is not known
    """

    standard: str
    dn: int
    rating: float
    facing: str | None = None


@dataclass(frozen=True, slots=True)
class Mating:
    """Whether two flanges fit.

    fits      True, False, or None where it cannot be told
    reasons   codes of why not, or of what is missing
    cautions  codes of what a person should know although they fit
    rating    the lower of two ratings of one standard where they fit, else None
    first, second  drilling of both, None where not tabulated
    origin    weakest origin of the drillings compared, "" where one is not tabulated
    """

    fits: bool | None
    reasons: tuple[str, ...]
    cautions: tuple[str, ...]
    rating: float | None
    first: Drilling | None
    second: Drilling | None
    origin: str


def _metres(text: str, what: str) -> float | None:
    millimetres = number_or_none(text, what)
    return None if millimetres is None else millimetres / 1000


def _load() -> dict[tuple[str, int, float], Drilling]:
    columns = ("standard", "dn", "ratings", "outside_diameter_mm", "raised_face_mm", "bolt_circle_mm", "holes",
               "also_holes", "hole_mm")  # fmt: skip
    table: dict[tuple[str, int, float], Drilling] = {}
    for row in read_rows("flange_dimensions.csv", columns):
        require_standard(row["standard"])
        drilling = Drilling(
            bolt_circle_m=number(row["bolt_circle_mm"], "bolt_circle_mm") / 1000,
            holes=int(row["holes"]),
            hole_diameter_m=number(row["hole_mm"], "hole_mm") / 1000,
            also_holes=int(row["also_holes"]) if row["also_holes"] else None,
            outside_diameter_m=_metres(row["outside_diameter_mm"], "outside_diameter_mm"),
            raised_face_m=_metres(row["raised_face_mm"], "raised_face_mm"),
            origin=row["origin"],
        )
        for text in row["ratings"].split():
            key = row["standard"], int(row["dn"]), number(text, "rating")
            if key[2] not in RATINGS[key[0]] or key in table:
                raise ValueError(f"flange_dimensions.csv: {key} stands twice or is no rating of its standard")
            table[key] = drilling
    return table


_TABLE = _load()


def drilling_of(standard: str, dn: int, rating: float) -> Drilling | None:
    """Connecting dimensions of a flange, None where they are not tabulated.

    standard  "en_1092_1" or "asme_b16_5"; another raises ValueError
    dn        nominal size as DN: 80 (for ASME B16.5 the DN of the NPS)
    rating    PN number or class

    Source: tables after ASME B16.5 and EN 1092-1; the result's origin says what was found and what is recalled.
    """
    require_standard(standard)
    return _TABLE.get((standard, dn, rating))


def mate(first: Flange, second: Flange) -> Mating:
    """Whether two flanges can be bolted together.

    first, second  the nozzle's flange and that of the sensor or adapter

    They fit where size, bolt circle, number and diameter of holes are equal and the facings belong together. Two
    ratings of one standard with equal drilling fit, and the lower rating counts. A raised against a flat face fits
    with a caution. Ring joints of two ratings may have other grooves: not known here.
    Raises ValueError for an unknown standard or facing.
    Valid for circular steel flanges; nothing is said of gasket, bolts, or blind holes.
    Source: comparison of tabulated dimensions (`drilling_of`); facings: common practice, no source.
    """
    for flange in (first, second):
        require_standard(flange.standard)
        if flange.facing is not None and flange.facing not in COUNTERPART:
            raise ValueError(f"facing is {flange.facing!r}; accepted is one of {', '.join(COUNTERPART)}, or None")
    one = drilling_of(first.standard, first.dn, first.rating)
    two = drilling_of(second.standard, second.dn, second.rating)
    against: list[str] = []
    missing: list[str] = []
    cautions: list[str] = []
    if first.dn != second.dn:
        against.append(SIZE_DIFFERS)
    if one is None or two is None:
        missing.append(DRILLING_NOT_TABULATED)
    elif one.pattern() != two.pattern():
        against.append(DRILLING_DIFFERS)
    elif first.standard != second.standard:
        missing.append(STANDARDS_DIFFER)
    elif one.also_holes != two.also_holes or one.also_holes is not None:
        cautions.append(OTHER_HOLE_NUMBER_EXISTS)
    _compare_facings(first, second, against, missing, cautions)
    fits = False if against else None if missing else True
    same_standard = first.standard == second.standard
    if fits and first.rating != second.rating:
        cautions.append(LOWER_RATING_COUNTS)
    return Mating(
        fits=fits,
        reasons=(*against, *missing),
        cautions=tuple(cautions),
        rating=min(first.rating, second.rating) if fits and same_standard else None,
        first=one,
        second=two,
        origin="" if one is None or two is None else weakest((one.origin, two.origin)),
    )


def _compare_facings(
    first: Flange, second: Flange, against: list[str], missing: list[str], cautions: list[str]
) -> None:
    """Adds what the two facings say to the three lists."""
    if first.facing is None or second.facing is None:
        missing.append(FACING_MISSING)
    elif {first.facing, second.facing} == {"raised", "flat"}:
        cautions.append(RAISED_AGAINST_FLAT)
    elif COUNTERPART[first.facing] != second.facing:
        against.append(FACING_DIFFERS)
    elif first.facing == "ring_joint" and (first.standard, first.rating) != (second.standard, second.rating):
        missing.append(RING_GROOVE_UNKNOWN)


def equal_drilling(dn: int, rating: float, standard: str = EN) -> tuple[float, ...]:
    """All ratings of a standard whose drilling at a size equals that of one rating, itself included, in order.

    Empty where that flange is not tabulated. For example DN 80, PN 16: (10, 16, 25, 40).
    """
    own = drilling_of(standard, dn, rating)
    if own is None:
        return ()
    others = ((other, drilling_of(standard, dn, other)) for other in RATINGS[standard])
    return tuple(other for other, drilling in others if drilling is not None and drilling.pattern() == own.pattern())
