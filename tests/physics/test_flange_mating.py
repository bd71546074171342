"""Drilling and facing of flanges: ASME B16.5 and EN 1092-1, and how their names are read."""

import math

import pytest

from instruments.physics.flange_mating import (
    DRILLING_DIFFERS,
    DRILLING_NOT_TABULATED,
    FACING_DIFFERS,
    FACING_MISSING,
    LOWER_RATING_COUNTS,
    OTHER_HOLE_NUMBER_EXISTS,
    RAISED_AGAINST_FLAT,
    RING_GROOVE_UNKNOWN,
    SIZE_DIFFERS,
    Flange,
    drilling_of,
    equal_drilling,
    mate,
)
from instruments.physics.flange_names import (
    ASME,
    CLASSES,
    COUNTERPART,
    DN_OF_NPS,
    EN,
    PN_NUMBERS,
    RATINGS,
    read_facing,
    read_rating,
    read_size,
)


def mm(metres: float | None) -> float:
    """Millimetres of a number that must be there."""
    assert metres is not None
    return metres * 1000


def shown(standard: str, dn: int, rating: float) -> tuple[int, float, float]:
    """Number of holes, their diameter and the bolt circle in mm."""
    found = drilling_of(standard, dn, rating)
    assert found is not None
    return found.holes, round(found.hole_diameter_m * 1000, 1), round(found.bolt_circle_m * 1000, 1)


# Drilling of PN flanges, EN 1092-1, from memory; most rows agree with published tables after ISO 7005-1.
@pytest.mark.parametrize(
    ("dn", "ratings", "drilling"),
    [
        (25, (10, 16, 25, 40), (4, 14, 85)),
        (40, (10, 16, 25, 40), (4, 18, 110)),
        (50, (10, 16, 25, 40), (4, 18, 125)),
        (65, (10, 16, 25, 40), (8, 18, 145)),
        (80, (10, 16, 25, 40), (8, 18, 160)),
        (100, (10, 16), (8, 18, 180)),
        (100, (25, 40), (8, 22, 190)),
        (150, (10, 16), (8, 22, 240)),
        (150, (25, 40), (8, 26, 250)),
        (200, (10,), (8, 22, 295)),
        (200, (16,), (12, 22, 295)),
        (200, (25,), (12, 26, 310)),
        (200, (40,), (12, 30, 320)),
    ],
)
def test_drilling_of_pn_flanges(dn, ratings, drilling) -> None:
    for rating in ratings:
        assert shown(EN, dn, rating) == drilling
    assert equal_drilling(dn, ratings[0]) == ratings


# Drilling of class flanges after ASME B16.5: read in published tables of its dimensions.
@pytest.mark.parametrize(
    ("nps", "rating", "drilling"),
    [
        ("1", 150, (4, 15.7, 79.4)),
        ("2", 150, (4, 19.1, 120.7)),
        ("3", 150, (4, 19.1, 152.4)),
        ("4", 150, (8, 19.1, 190.5)),
        ("6", 150, (8, 22.4, 241.3)),
        ("8", 150, (8, 22.4, 298.5)),
        ("2", 300, (8, 19.1, 127.0)),
        ("3", 300, (8, 22.4, 168.3)),
        ("4", 300, (8, 22.4, 200.0)),
        ("6", 300, (12, 22.4, 269.9)),
        ("4", 600, (8, 25.4, 215.9)),
        ("3", 900, (8, 25.4, 190.5)),
        ("3", 1500, (8, 31.8, 203.2)),
        ("12", 2500, (12, 73.2, 619.1)),
    ],
)
def test_drilling_of_class_flanges(nps, rating, drilling) -> None:
    assert shown(ASME, DN_OF_NPS[nps], rating) == pytest.approx(drilling)
    assert drilling_of(ASME, DN_OF_NPS[nps], rating).origin == "found"


# Outside and raised-face diameters after ASME B16.5, mm, rounded to whole mm in the published table.
@pytest.mark.parametrize(
    ("nps", "outside_150", "outside_300", "raised"),
    [("2", 152, 165, 92), ("3", 190, 210, 127), ("4", 229, 254, 157), ("6", 279, 318, 216), ("8", 343, 381, 270)],
)
def test_outside_and_raised_face_diameters(nps, outside_150, outside_300, raised) -> None:
    for rating, outside in ((150, outside_150), (300, outside_300)):
        found = drilling_of(ASME, DN_OF_NPS[nps], rating)
        assert mm(found.outside_diameter_m) == pytest.approx(outside, abs=0.51)
        assert mm(found.raised_face_m) == pytest.approx(raised, abs=0.51)


def test_every_row_can_be_made() -> None:
    """Holes lie inside the flange, outside the raised face, apart from each other, in fours."""
    rows = 0
    for standard, ratings in RATINGS.items():
        for dn in {*DN_OF_NPS.values()}:
            for rating in ratings:
                found = drilling_of(standard, dn, rating)
                if found is None:
                    continue
                rows += 1
                circle, holes, hole = found.pattern()
                assert holes % 4 == 0
                assert mm(circle + hole) < mm(found.outside_diameter_m), (standard, dn, rating)
                assert circle * math.sin(math.pi / holes) > 1.7 * hole, (standard, dn, rating)
                if found.raised_face_m is not None:
                    assert found.raised_face_m < circle - hole, (standard, dn, rating)
    assert rows > 250


def test_bolt_circles_never_shrink_with_size_or_rating() -> None:
    for standard, ratings in RATINGS.items():
        for dn in DN_OF_NPS.values():
            circles = [row.bolt_circle_m for rating in ratings if (row := drilling_of(standard, dn, rating))]
            assert circles == sorted(circles)
        for rating in ratings:
            circles = [row.bolt_circle_m for dn in DN_OF_NPS.values() if (row := drilling_of(standard, dn, rating))]
            assert circles == sorted(circles)


def test_dn_80_pn_16_does_not_fit_3_inch_class_150() -> None:
    found = mate(Flange(EN, 80, 16.0, "raised"), Flange(ASME, 80, 150.0, "raised"))
    assert found.fits is False
    assert found.reasons == (DRILLING_DIFFERS,)
    assert found.rating is None
    assert (found.first.holes, found.first.bolt_circle_m, found.first.hole_diameter_m) == (8, 0.16, 0.018)
    assert (found.second.holes, found.second.bolt_circle_m) == (4, 0.1524)
    assert found.origin == "memory"


def test_dn_150_and_6_inch_nearly_fit_and_do_not() -> None:
    # Eight holes each, circles of 240.0 and 241.3 mm.
    found = mate(Flange(EN, 150, 16.0, "raised"), Flange(ASME, 150, 150.0, "raised"))
    assert (found.fits, found.reasons) == (False, (DRILLING_DIFFERS,))


def test_no_pn_flange_has_the_drilling_of_a_class_flange() -> None:
    patterns = {
        standard: {row.pattern() for dn in DN_OF_NPS.values() for rating in ratings
                   if (row := drilling_of(standard, dn, rating))}
        for standard, ratings in ((EN, PN_NUMBERS), (ASME, CLASSES))
    }  # fmt: skip
    assert not patterns[EN] & patterns[ASME]


def test_equal_drilling_fits_at_the_lower_rating() -> None:
    for pair in ((40.0, 16.0), (16.0, 40.0)):
        found = mate(Flange(EN, 80, pair[0], "raised"), Flange(EN, 80, pair[1], "raised"))
        assert (found.fits, found.rating, found.cautions) == (True, 16.0, (LOWER_RATING_COUNTS,))
    same = mate(Flange(EN, 100, 16.0, "raised"), Flange(EN, 100, 16.0, "raised"))
    assert (same.fits, same.rating, same.cautions, same.origin) == (True, 16.0, (), "found")
    other = mate(Flange(EN, 100, 16.0, "raised"), Flange(EN, 100, 25.0, "raised"))
    assert (other.fits, other.reasons, other.rating) == (False, (DRILLING_DIFFERS,), None)


def test_dn_65_may_have_four_holes() -> None:
    found = mate(Flange(EN, 65, 16.0, "raised"), Flange(EN, 65, 40.0, "raised"))
    assert found.fits is True
    assert OTHER_HOLE_NUMBER_EXISTS in found.cautions
    assert drilling_of(EN, 65, 16.0).also_holes == 4
    assert mate(Flange(EN, 65, 25.0, "raised"), Flange(EN, 65, 40.0, "raised")).cautions == (LOWER_RATING_COUNTS,)


def test_another_size_never_fits() -> None:
    found = mate(Flange(EN, 50, 16.0, "raised"), Flange(EN, 80, 16.0, "raised"))
    assert (found.fits, found.reasons) == (False, (SIZE_DIFFERS, DRILLING_DIFFERS))


def test_what_is_not_tabulated_is_unknown() -> None:
    for flange in (Flange(EN, 85, 16.0, "raised"), Flange(EN, 80, 17.0, "raised"), Flange(ASME, 90, 2500.0, "raised")):
        found = mate(flange, flange)
        assert (found.fits, found.reasons, found.origin) == (None, (DRILLING_NOT_TABULATED,), "")
    assert equal_drilling(85, 16.0) == ()


@pytest.mark.parametrize(
    ("first", "second", "fits", "code"),
    [
        ("raised", "raised", True, None),
        ("flat", "flat", True, None),
        ("raised", "flat", True, RAISED_AGAINST_FLAT),
        ("flat", "raised", True, RAISED_AGAINST_FLAT),
        ("ring_joint", "ring_joint", True, None),
        ("ring_joint", "raised", False, FACING_DIFFERS),
        ("flat", "ring_joint", False, FACING_DIFFERS),
        ("tongue", "groove", True, None),
        ("tongue", "tongue", False, FACING_DIFFERS),
        ("spigot", "recess", True, None),
        ("spigot", "raised", False, FACING_DIFFERS),
        (None, "raised", None, FACING_MISSING),
        ("raised", None, None, FACING_MISSING),
    ],
)
def test_facings(first, second, fits, code) -> None:
    # Common practice, no source.
    found = mate(Flange(ASME, 80, 300.0, first), Flange(ASME, 80, 300.0, second))
    assert found.fits is fits
    assert [*found.reasons, *found.cautions] == ([] if code is None else [code])


def test_ring_joints_of_two_classes_are_unknown() -> None:
    # NPS 3: classes 300 and 600 have one drilling, 8 holes of 22.4 mm on 168.3 mm.
    ring = mate(Flange(ASME, 80, 300.0, "ring_joint"), Flange(ASME, 80, 600.0, "ring_joint"))
    assert (ring.fits, ring.reasons) == (None, (RING_GROOVE_UNKNOWN,))
    raised = mate(Flange(ASME, 80, 300.0, "raised"), Flange(ASME, 80, 600.0, "raised"))
    assert (raised.fits, raised.rating) == (True, 300.0)


def test_bad_input_is_named() -> None:
    with pytest.raises(ValueError, match="standard is 'iso'"):
        mate(Flange("iso", 80, 16.0), Flange(EN, 80, 16.0))
    with pytest.raises(ValueError, match="facing is 'RF'; accepted is one of raised, flat"):
        mate(Flange(EN, 80, 16.0, "RF"), Flange(EN, 80, 16.0))
    with pytest.raises(ValueError, match="standard"):
        drilling_of("", 80, 16.0)


@pytest.mark.parametrize(
    ("standard", "text", "rating"),
    [
        (EN, "PN 16", 16.0), (EN, "pn16", 16.0), (EN, "16", 16.0), (EN, "PN 2,5", 2.5), (EN, " PN 40 ", 40.0),
        (ASME, "class 150", 150.0), (ASME, "CL150", 150.0), (ASME, "Cl. 300", 300.0), (ASME, "150 lb", 150.0),
        (ASME, "150#", 150.0), (ASME, "600", 600.0), (ASME, "150 lbs", 150.0),
        (ASME, "PN 16", None), (ASME, "16", None), (EN, "class 150", None), (EN, "150", None), (EN, "PN 17", None),
        (EN, "", None), (ASME, "", None), (ASME, "class", None), (EN, "PN 16/40", None), (ASME, "-150", None),
        (ASME, "class 200", None),
    ],
)  # fmt: skip
def test_read_rating(standard, text, rating) -> None:
    assert read_rating(standard, text) == rating


@pytest.mark.parametrize(
    ("standard", "text", "dn"),
    [
        (EN, "DN 80", 80), (EN, "dn80", 80), (EN, "80", 80), (EN, "NPS 3", None), (EN, '3"', None), (EN, "", None),
        (ASME, "NPS 3", 80), (ASME, '3"', 80), (ASME, "3 in", 80), (ASME, "3 inch", 80), (ASME, "3", 80),
        (ASME, "DN 80", 80), (ASME, "1½", 40), (ASME, "1 1/2", 40), (ASME, "1-1/2", 40), (ASME, "1.5", 40),
        (ASME, "½", 15), (ASME, "3/4 in.", 20), (ASME, "2 ½″", 65), (ASME, "80", None), (ASME, "DN 85", None),
        (ASME, "", None), (ASME, "G 1½", None), (EN, "DN", None), (EN, "DN -80", None),
    ],
)  # fmt: skip
def test_read_size(standard, text, dn) -> None:
    assert read_size(standard, text) == dn


@pytest.mark.parametrize(
    ("standard", "text", "facing"),
    [
        (ASME, "RF", "raised"), (ASME, "raised face", "raised"), (ASME, "FF", "flat"), (ASME, "RTJ", "ring_joint"),
        (EN, "B1", "raised"), (EN, "form B2", "raised"), (EN, "A", "flat"), (EN, "F", "recess"), (EN, "RF", "raised"),
        (EN, "J", "ring_joint"), (ASME, "B1", None), (ASME, "F", None), (EN, "", None), (ASME, "smooth", None),
    ],
)  # fmt: skip
def test_read_facing(standard, text, facing) -> None:
    assert read_facing(standard, text) == facing
    assert facing is None or facing in COUNTERPART
