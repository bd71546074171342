"""Pipe bores by schedule against ASME B36.10M and B36.19M and the library fluids; what lining and weld leave."""

import math

import pytest
from fluids.piping import nearest_pipe, schedule_lookup

from instruments.physics.flange_names import DN_OF_NPS
from instruments.physics.pipe_bore import (
    SCHEDULE_NOT_KNOWN,
    SCHEDULE_NOT_TABULATED,
    SCHEDULES,
    SIZE_NOT_TABULATED,
    bore_m,
    en_bore_m,
    free_bore_m,
    read_schedule,
)


def mm(metres: float | None) -> float:
    """Millimetres of a number that must be there."""
    assert metres is not None
    return metres * 1000


# ASME B36.10M and B36.19M, mm: outside diameter, then inside diameters of schedules 40 (= 40S here), 80 and 10S.
PUBLISHED = """
1/2 21.3 15.76 13.84 17.08
3/4 26.7 20.96 18.88 22.48
1 33.4 26.64 24.30 27.86
1-1/2 48.3 40.94 38.14 42.76
2 60.3 52.48 49.22 54.76
2-1/2 73.0 62.68 58.98 66.90
3 88.9 77.92 73.66 82.80
4 114.3 102.26 97.18 108.20
5 141.3 128.20 122.24 134.50
6 168.3 154.08 146.36 161.50
8 219.1 202.74 193.70 211.58
10 273.0 254.46 242.82 264.72
12 323.8 303.18 288.84 314.76
"""


@pytest.mark.parametrize("line", PUBLISHED.split("\n")[1:-1])
def test_published_bores(line: str) -> None:
    nps, *numbers = line.split()
    outside, *bores = map(float, numbers)
    dn = DN_OF_NPS[nps.replace("-", " ")]
    assert mm(bore_m(dn, "40").outside_diameter_m) == pytest.approx(outside)
    for schedule, expected in zip(("40", "80", "10S"), bores, strict=True):
        assert mm(bore_m(dn, schedule).inside_diameter_m) == pytest.approx(expected, abs=1e-6), schedule
    if dn < 250:
        assert mm(bore_m(dn, "40S").inside_diameter_m) == pytest.approx(bores[0], abs=1e-6)


def test_every_size_and_schedule_agrees_with_fluids() -> None:
    """Each wall is in the library's tables of ASME B36.10M and B36.19M, and each of theirs, NPS 1/2 to 36, is here."""
    compared = 0
    for schedule in SCHEDULES:
        sizes, inside, outside, _ = schedule_lookup[schedule]
        known = {DN_OF_NPS.get(f"{size:g}", None): row for row, size in enumerate(sizes)}
        known |= {DN_OF_NPS[name]: sizes.index(value) for name, value in
                  (("1/2", 0.5), ("3/4", 0.75), ("1 1/4", 1.25), ("1 1/2", 1.5), ("2 1/2", 2.5), ("3 1/2", 3.5))
                  if value in sizes}  # fmt: skip
        for dn in DN_OF_NPS.values():
            found = bore_m(dn, schedule)
            assert (found.inside_diameter_m is None) == (dn not in known), (dn, schedule)
            if dn in known:
                compared += 1
                row = known[dn]
                assert mm(found.inside_diameter_m) == pytest.approx(inside[row], abs=0.011), (dn, schedule)
                assert mm(found.outside_diameter_m) == pytest.approx(outside[row])
                assert (found.origin, found.reason) == ("found", "")
    assert compared > 250


def test_one_bore_by_the_librarys_own_search() -> None:
    _, inside_m, outside_m, wall_m = nearest_pipe(NPS=6, schedule="40")
    found = bore_m(150, "Sch 40")
    assert found.inside_diameter_m == pytest.approx(inside_m)
    assert found.outside_diameter_m == pytest.approx(outside_m)
    assert found.wall_m == pytest.approx(wall_m)


def test_schedule_40_is_not_std_nor_40s_at_nps_12() -> None:
    # ASME B36.10M: 10.31 against 9.53 mm; B36.19M: 40S has 9.53 mm on 323.9 mm.
    walls = {name: mm(bore_m(300, name).wall_m) for name in ("40", "STD", "40S")}
    assert walls == pytest.approx({"40": 10.31, "STD": 9.53, "40S": 9.53})
    assert mm(bore_m(300, "STD").inside_diameter_m) == pytest.approx(304.74)
    assert mm(bore_m(300, "40S").inside_diameter_m) == pytest.approx(304.84)


@pytest.mark.parametrize("dn", [250, 300, 350])
def test_schedule_80_is_not_80s_from_nps_10_up(dn: int) -> None:
    # ASME B36.19M: 80S has 12.7 mm from NPS 8 up.
    assert mm(bore_m(dn, "80S").wall_m) == pytest.approx(12.7)
    assert mm(bore_m(dn, "80").wall_m) > 15.0
    assert bore_m(200, "80S").wall_m == bore_m(200, "80").wall_m


def test_en_outside_diameters() -> None:
    # EN 10220: DN 65 has 76.1 mm and DN 125 has 139.7 mm, where ASME B36.10M has 73.0 and 141.3 mm.
    assert mm(en_bore_m(65, 0.0029).outside_diameter_m) == pytest.approx(76.1)
    assert mm(en_bore_m(65, 0.0029).inside_diameter_m) == pytest.approx(70.3)
    assert mm(en_bore_m(125, 0.004).outside_diameter_m) == pytest.approx(139.7)
    assert en_bore_m(125, 0.004).origin == "found"
    assert mm(en_bore_m(80, 0.0032).inside_diameter_m) == pytest.approx(82.5)
    assert en_bore_m(80, 0.0032).origin == "memory"
    assert en_bore_m(85, 0.003).reason == SIZE_NOT_TABULATED


@pytest.mark.parametrize(
    ("dn", "schedule", "reason"),
    [
        (80, "", SCHEDULE_NOT_KNOWN),
        (80, "3.2 mm", SCHEDULE_NOT_KNOWN),
        (80, "Sch 41", SCHEDULE_NOT_KNOWN),
        (85, "40", SIZE_NOT_TABULATED),
        (900, "40S", SIZE_NOT_TABULATED),
        (80, "20", SCHEDULE_NOT_TABULATED),
        (150, "100", SCHEDULE_NOT_TABULATED),
    ],
)
def test_what_is_not_tabulated_says_why(dn, schedule, reason) -> None:
    found = bore_m(dn, schedule)
    assert (found.inside_diameter_m, found.wall_m, found.reason) == (None, None, reason)


@pytest.mark.parametrize(
    ("text", "name"),
    [("Sch 40", "40"), ("SCH40S", "40S"), ("schedule 80", "80"), ("std", "STD"), ("sch. 10 S", "10S"), ("XXS", "XXS"),
     ("40", "40"), ("S", None), ("Sch", None), ("", None)],
)  # fmt: skip
def test_read_schedule(text, name) -> None:
    assert read_schedule(text) == name


def test_what_lining_and_weld_leave() -> None:
    # Geometry: NPS 3 schedule 40, 3 mm of lining, 1.5 mm of cladding, 1.6 mm of weld root: 77.92 − 2·6.1 = 65.72 mm.
    assert free_bore_m(0.07792, 0.003, 0.0015, 0.0016) == pytest.approx(0.06572, rel=1e-12)
    assert free_bore_m(0.07792) == 0.07792
    assert free_bore_m(0.1, lining_m=0.0499999) == pytest.approx(2e-7)


@pytest.mark.parametrize(
    ("numbers", "name"),
    [
        ({"inside_diameter_m": 0.0}, "inside_diameter_m"),
        ({"inside_diameter_m": math.nan}, "inside_diameter_m"),
        ({"inside_diameter_m": 0.1, "lining_m": -0.001}, "lining_m"),
        ({"inside_diameter_m": 0.1, "cladding_m": math.inf}, "cladding_m"),
        ({"inside_diameter_m": 0.1, "weld_root_m": math.nan}, "weld_root_m"),
        ({"inside_diameter_m": 0.1, "lining_m": 0.05}, "fill the bore"),
    ],
)
def test_bad_thicknesses_are_named(numbers, name) -> None:
    with pytest.raises(ValueError, match=name):
        free_bore_m(**numbers)


@pytest.mark.parametrize("wall", [0.0, -0.001, math.nan, 0.05])
def test_a_wall_that_cannot_be_is_named(wall: float) -> None:
    with pytest.raises(ValueError, match="wall_m"):
        en_bore_m(80, wall)
