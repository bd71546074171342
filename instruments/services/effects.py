"""What an unsaved change would do to the findings of the measurements that rest on the row.

Rows are vessels, their strapping tables, nozzles and media.
"""

from collections.abc import Sequence
from dataclasses import replace

from instruments.checks.case import Case, Row
from instruments.checks.finding import Finding, Grade
from instruments.checks.registry import run_checks, worst_grade
from instruments.models import Measurement
from instruments.services.cases import build_case, strapping_of, with_all_inputs
from instruments.services.recheck import resting_on
from instruments.wording import describe
from project.dependents import Draft, Effect, Shift
from project.quantities import PlantUnits
from project.rows import KeptRow
from vessels.models import OperatingCase, StrappingTable, Vessel


def effects_of(draft: Draft, most: int) -> list[Effect]:
    """Worst grade before and after, and every finding whose grade would move, of each measurement on the row.

    Nothing is written, and the rows of the database are read once: both sides of the comparison are computed here, so
    that a state that is not rechecked yet does not pass for an effect.
    """
    touched = with_all_inputs(resting_on(draft.row).order_by("tag__text"))[:most]
    return [_effect(measurement, draft) for measurement in touched]


def _effect(measurement: Measurement, draft: Draft) -> Effect:
    before = build_case(measurement)
    after = laid_over(before, draft)
    findings, then = run_checks(before), run_checks(after)
    shifts = tuple(_shifts(findings, then, before.units, draft))
    return Effect(measurement, worst_grade(findings).value, worst_grade(then).value, shifts)


def _by_place(findings: Sequence[Finding]) -> dict[tuple[str, str], Finding]:
    """The worst finding of each check and place; two of one place differ only in what is worded."""
    found: dict[tuple[str, str], Finding] = {}
    for one in findings:
        key = (one.code, one.place)
        if key not in found or one.grade.rank < found[key].grade.rank:
            found[key] = one
    return found


def _pairs(
    old: dict[tuple[str, str], Finding], new: dict[tuple[str, str], Finding]
) -> list[tuple[Finding | None, Finding | None]]:
    """Findings of the same check and place; a check's only finding on each side is the same one at another place."""
    pairs: list[tuple[Finding | None, Finding | None]] = [(old[key], new[key]) for key in sorted({*old} & {*new})]
    left, right = sorted({*old} - {*new}), sorted({*new} - {*old})
    for key in left:
        alike = [other for other in right if other[0] == key[0]]
        if len(alike) == 1 and sum(one[0] == key[0] for one in left) == 1:
            pairs.append((old[key], new[alike[0]]))
            right.remove(alike[0])
        else:
            pairs.append((old[key], None))
    return [*pairs, *((None, new[key]) for key in right)]


def _shifts(before: Sequence[Finding], after: Sequence[Finding], units: PlantUnits, draft: Draft) -> list[Shift]:
    shifts = []
    for was, now in _pairs(_by_place(before), _by_place(after)):
        grades = (was.grade.value if was else "", now.grade.value if now else "")
        if grades[0] == grades[1]:
            continue
        told = now or was
        assert told is not None  # the key comes from one of the two
        described = describe(told, units, draft.unreadable)
        shifts.append((min(_rank(was), _rank(now)), Shift(described.title, *grades, described.sentence if now else "")))
    return [shift for _rank_of_worst, shift in sorted(shifts, key=lambda pair: pair[0])]


def _rank(finding: Finding | None) -> int:
    return finding.grade.rank if finding is not None else Grade.NOT_APPLICABLE.rank


def laid_over(case: Case, draft: Draft) -> Case:
    """The Case with the draft's rows in the place of the saved ones."""
    changed = draft.row
    values = changed.case_values()

    def over(row: Row) -> Row:
        # Extra stems (a connection's role) are not of the row itself and stay.
        return Row(row.uid, {**row.values, **values}) if row.uid == str(changed.uid) else row

    case = replace(
        case,
        vessel=over(case.vessel),
        connections=tuple(over(row) for row in case.connections),
        media=tuple(over(row) for row in case.media),
        unreadable=dict(draft.unreadable),
    )
    if isinstance(changed, StrappingTable):
        return replace(case, strapping=strapping_of(changed))
    if not isinstance(changed, Vessel):
        return case
    if "operating_cases" in draft.parts:
        rows = [row for row in draft.parts["operating_cases"] if isinstance(row, OperatingCase)]
        media = {row.medium.uid: row.medium for row in rows if row.medium is not None}
        case = replace(
            case,
            operating_cases=tuple(Row(str(row.uid), {**row.case_values(), "display": row.display}) for row in rows),
            media=tuple(_row_of(medium) for medium in media.values()),
        )
    if "internals" in draft.parts:
        case = replace(case, internals=tuple(_row_of(row) for row in draft.parts["internals"]))
    return case


def _row_of(row: KeptRow) -> Row:
    return Row(str(row.uid), row.case_values())
