"""The strapping table of a document: pairs of texts with units, checked as a pasted table is."""

from collections.abc import Mapping

from django.utils.translation import gettext

from instruments.checks.case import Row, Strapping, Value
from instruments.evaluation.parts import POINTS
from instruments.evaluation.problems import element, member, said_elsewhere, shown
from instruments.evaluation.rows import RowReader
from instruments.evaluation.values import accepted_by
from project.quantities import Quantity
from project.registry import REGISTRY, FieldDef, gettext_noop
from vessels.capacity.problems import errors_in
from vessels.capacity.validation import MOST_ROWS, validate
from vessels.shape_values import ImpossibleShape, datum_height_m, shape_of

LEVEL = FieldDef("strapping_point.level", gettext_noop("Level"), "vessel", "length")
VOLUME = FieldDef("strapping_point.volume", gettext_noop("Volume"), "vessel", "volume")
PAIR = (LEVEL, VOLUME)
INTERPOLATION = REGISTRY["strapping.interpolation"]


def read_points(rows: RowReader, raw: object, path: str) -> tuple[tuple[float, float], ...]:
    """(level_m from the vessel's datum, volume_m3) of each row; none where one of them cannot be read."""
    given = rows.entries(raw, path, MOST_ROWS)
    points = [_point(rows, one, element(path, position)) for position, one in enumerate(given)]
    complete = tuple(point for point in points if point is not None)
    return complete if len(complete) == len(given) else ()


def _point(rows: RowReader, raw: object, path: str) -> tuple[float, float] | None:
    if not isinstance(raw, list) or len(raw) != len(PAIR):
        rows.problems.at(path, "wrong_kind", given=_shown_row(raw), accepted=accepted_by(REGISTRY[POINTS]))
        return None
    read = [rows.value(definition, one, element(path, position))
            for position, (definition, one) in enumerate(zip(PAIR, raw, strict=True))]  # fmt: skip
    level, volume = (one.si if isinstance(one, Quantity) else None for one in read)
    for position, (definition, one) in enumerate(zip(PAIR, raw, strict=True)):
        if one is None or (isinstance(one, str) and not one.strip()):
            rows.problems.at(element(path, position), "empty", accepted=accepted_by(definition))
    return None if level is None or volume is None else (level, volume)


def _shown_row(raw: object) -> str:
    return gettext("A list of %(count)s") % {"count": len(raw)} if isinstance(raw, list) else shown(raw)


def read_strapping(
    rows: RowReader, values: Mapping[str, Value], raw_points: object, vessel: Row, path: str
) -> Strapping | None:
    """The table from the values of its row and its points; a problem for every row that makes it no table.

    values  of the strapping part, without its points     raw_points  JSON value of the points
    vessel  whose datum the levels count from
    """
    place = member(path, "points")
    points = read_points(rows, raw_points, place)
    if not points:
        if isinstance(raw_points, list) and not raw_points:
            rows.problems.at(place, "empty", accepted=accepted_by(REGISTRY[POINTS]))
        return None
    above_bottom_m = _datum_m(vessel, points)
    levels = [level_m + above_bottom_m for level_m, _volume_m3 in points]
    for problem in errors_in(validate(levels, [volume_m3 for _level_m, volume_m3 in points])):
        where = place if problem.row is None else element(place, problem.row - 1)
        rows.problems.add(said_elsewhere(where, "table", "%(said)s", {"said": problem.sentence(rows.units, gettext)}))
    return Strapping(str(values.get("interpolation") or INTERPOLATION.default), points)


def _datum_m(vessel: Row, points: tuple[tuple[float, float], ...]) -> float:
    """Height of the datum above the lowest inside point; where that is not known, what makes no level negative."""
    try:
        shape = shape_of(vessel.text, vessel.si)
    except ImpossibleShape:
        shape = None
    known = datum_height_m(vessel.text("datum"), shape, vessel.si("dip_plate_height"))
    return known if known is not None else max(0.0, -points[0][0])
