"""The free bore of a nozzle: pipe by schedule, less lining, cladding and weld root. Pure, m."""

import math
import re
from dataclasses import dataclass

from instruments.physics.published_tables import number, number_or_none, read_rows

B36_10M = "asme_b36_10m"
B36_19M = "asme_b36_19m"
EN_10220 = "en_10220"
# Schedules by the standard that defines them: with S stainless steel, ASME B36.19M.
SCHEDULES = {
    **{name: B36_10M for name in ("5", "10", "20", "30", "40", "60", "80", "100", "120", "140", "160")},
    **{name: B36_10M for name in ("STD", "XS", "XXS")},
    **{name: B36_19M for name in ("5S", "10S", "40S", "80S")},
}

SIZE_NOT_TABULATED = "size_not_tabulated"
SCHEDULE_NOT_KNOWN = "schedule_not_known"
SCHEDULE_NOT_TABULATED = "schedule_not_tabulated_for_size"


@dataclass(frozen=True, slots=True)
class Bore:
    """Inside diameter of a pipe, or why there is none.

    inside_diameter_m   None where there is none; nominal, without tolerance
    outside_diameter_m, wall_m   None where not tabulated
    reason              "" or one of the reasons above
    source              standard
    origin              found or memory, "" where nothing is known
    """

    inside_diameter_m: float | None
    outside_diameter_m: float | None = None
    wall_m: float | None = None
    reason: str = ""
    source: str = ""
    origin: str = ""


@dataclass(frozen=True, slots=True)
class _Pipe:
    outside_mm: float
    walls_mm: dict[str, float]
    origin: str


def _load() -> dict[tuple[str, int], _Pipe]:
    pipes: dict[tuple[str, int], _Pipe] = {}
    for row in read_rows("pipe_dimensions.csv", ("standard", "dn", "outside_diameter_mm", *SCHEDULES)):
        key = row["standard"], int(row["dn"])
        if key in pipes:
            raise ValueError(f"pipe_dimensions.csv: {key} stands twice")
        walls = {name: number_or_none(row[name], f"schedule {name}") for name in SCHEDULES}
        given = {name: wall for name, wall in walls.items() if wall is not None}
        pipes[key] = _Pipe(number(row["outside_diameter_mm"], "outside_diameter_mm"), given, row["origin"])
    return pipes


_PIPES = _load()
_SOURCES = {B36_10M: "ASME B36.10M", B36_19M: "ASME B36.19M", EN_10220: "EN 10220, series 1"}


def read_schedule(text: str) -> str | None:
    """The schedule of a text as a key of `SCHEDULES`, None where it names none: "Sch 40", "SCH40S", "STD", "40"."""
    shown = re.sub(r"^(SCHEDULE|SCH)\.?\s*", "", text.strip().upper())
    shown = re.sub(r"\s+", "", shown)
    return shown if shown in SCHEDULES else None


def bore_m(dn: int, schedule: str) -> Bore:
    """Inside diameter of a pipe by size and schedule.

    dn        nominal size as DN: 80 for NPS 3
    schedule  as `read_schedule` takes it. "40" and "40S", "80" and "80S", "40" and "STD" are not the same for every
              size: at NPS 12 schedule 40 has 10.31 mm of wall, STD and 40S 9.53 mm

    Returns a `Bore`: d = D − 2·s. Where size or schedule is not tabulated its `reason` says so.
    Valid for nominal walls; pipes may be 12.5 % thinner, forged or long welding necks have bores of their own.
    Source: ASME B36.10M and B36.19M.
    """
    name = read_schedule(schedule)
    if name is None:
        return Bore(None, reason=SCHEDULE_NOT_KNOWN)
    standard = SCHEDULES[name]
    pipe = _PIPES.get((standard, dn))
    if pipe is None:
        return Bore(None, reason=SIZE_NOT_TABULATED, source=_SOURCES[standard])
    wall = pipe.walls_mm.get(name)
    outside_m = pipe.outside_mm / 1000
    if wall is None:
        return Bore(None, outside_m, reason=SCHEDULE_NOT_TABULATED, source=_SOURCES[standard], origin=pipe.origin)
    return Bore(
        (pipe.outside_mm - 2.0 * wall) / 1000, outside_m, wall / 1000, source=_SOURCES[standard], origin=pipe.origin
    )


def en_bore_m(dn: int, wall_m: float) -> Bore:
    """Inside diameter of a pipe with an outside diameter of EN 10220 and a stated wall.

    dn      nominal size: 65 has 76.1 mm here, not the 73.0 mm of NPS 2½
    wall_m  m, positive and less than half the outside diameter, else ValueError

    Returns a `Bore`; its `reason` says where the size is not tabulated. Source: EN 10220, series 1.
    """
    if not math.isfinite(wall_m) or wall_m <= 0.0:
        raise ValueError(f"wall_m is {wall_m!r}; accepted is a finite number above 0 m")
    pipe = _PIPES.get((EN_10220, dn))
    if pipe is None:
        return Bore(None, reason=SIZE_NOT_TABULATED, source=_SOURCES[EN_10220])
    outside_m = pipe.outside_mm / 1000
    if 2.0 * wall_m >= outside_m:
        raise ValueError(f"wall_m is {wall_m!r}; accepted is less than half of the outside diameter, {outside_m!r} m")
    return Bore(outside_m - 2.0 * wall_m, outside_m, wall_m, source=_SOURCES[EN_10220], origin=pipe.origin)


def free_bore_m(
    inside_diameter_m: float, lining_m: float = 0.0, cladding_m: float = 0.0, weld_root_m: float = 0.0
) -> float:
    """Diameter in m that is left for an antenna or probe: the inside diameter less twice what stands on the wall.

    inside_diameter_m  of the bare pipe, m
    lining_m, cladding_m  thickness, m, on all of the wall
    weld_root_m        how far a weld's root stands inwards, m, all around

    Raises ValueError where a number is not finite, a thickness negative, the diameter not positive, or nothing is left.
    Source: geometry, d = D − 2·(lining + cladding + root).
    """
    if not math.isfinite(inside_diameter_m) or inside_diameter_m <= 0.0:
        raise ValueError(f"inside_diameter_m is {inside_diameter_m!r}; accepted is a finite number above 0 m")
    for name, value in (("lining_m", lining_m), ("cladding_m", cladding_m), ("weld_root_m", weld_root_m)):
        if not math.isfinite(value) or value < 0.0:
            raise ValueError(f"{name} is {value!r}; accepted is a finite number of at least 0 m")
    left_m = inside_diameter_m - 2.0 * (lining_m + cladding_m + weld_root_m)
    if left_m <= 0.0:
        raise ValueError(
            "lining_m, cladding_m and weld_root_m fill the bore; accepted is less than half of inside_diameter_m, "
            f"{inside_diameter_m!r} m"
        )
    return left_m
