"""Small parts that every family of checks uses: values that may be missing, margins, worst case."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from instruments.checks.finding import Finding, Grade, Input, Where, Working
from project.registry import gettext_noop

# Rounding noise of sums and unit conversions, relative to the numbers compared (at least to 1 SI unit). It is
# no tolerance in the engineer's sense: on levels of 60 m it is 0.06 nm.
NOISE = 1e-12

# Sources that need no citation; the edge translates them.
GEOMETRY = gettext_noop("Geometry")
PRACTICE = gettext_noop("Practice, no source")


# A number beyond this, in SI units, is a slip of the exponent: no plant quantity comes near it, and sums of
# such numbers would overflow. It counts as missing.
LARGEST_SI = 1e12


@dataclass(frozen=True, slots=True)
class Derived:
    """A value that was entered or follows from what was entered; None where `missing` names what it lacks.

    missing        keys of the fields to fill or to correct
    fields         keys of the fields it rests on
    contradictory  those of `missing` that are filled in, with what cannot be or contradicts other values
    """

    value: float | None
    missing: tuple[str, ...] = ()
    fields: tuple[str, ...] = ()
    working: Working | None = None
    contradictory: tuple[str, ...] = ()


def unique(keys: Iterable[str]) -> tuple[str, ...]:
    """Each key once, in the order of first appearance."""
    return tuple(dict.fromkeys(keys))


def lacking(*parts: Derived) -> tuple[str, ...]:
    """Keys that the parts lack, each once."""
    return unique(key for part in parts for key in part.missing)


def contradictory_of(*parts: Derived) -> tuple[str, ...]:
    """Keys that the parts lack though they are filled in, each once."""
    return unique(key for part in parts for key in part.contradictory)


def fields_of(*parts: Derived) -> tuple[str, ...]:
    """Keys that the parts rest on, each once."""
    return unique(key for part in parts for key in part.fields)


def all_known(*parts: Derived) -> tuple[float, ...] | None:
    """The values of all parts, or None where one is missing."""
    values = tuple(part.value for part in parts if part.value is not None)
    return values if len(values) == len(parts) else None


def known_or_missing(value_si: float | None, key: str) -> Derived:
    """The value of a field, or that it is missing (also where it is no usable number, see `LARGEST_SI`)."""
    if value_si is None:
        return Derived(None, missing=(key,), fields=(key,))
    if not abs(value_si) <= LARGEST_SI:
        return contradiction(key)
    return Derived(value_si, fields=(key,))


def missing_field(key: str) -> Derived:
    return known_or_missing(None, key)


def contradiction(*keys: str) -> Derived:
    """No value, because what is entered under the keys cannot be, or contradicts other values."""
    return Derived(None, missing=keys, fields=keys, contradictory=keys)


def worked(working: Working, *parts: Derived) -> Working:
    """A working with the workings of its parts before it."""
    before: list[Working] = []
    for part in parts:
        if part.working is not None:
            before += [*part.working.before, part.working]
    if not before:
        return working
    alone = tuple(dict.fromkeys(replace(one, before=()) for one in before))
    return replace(working, before=alone)


def derive(working: Working, *parts: Derived) -> Derived:
    """A Derived of a working's result, resting on the parts that went into it."""
    return Derived(working.result_si, fields=fields_of(*parts), working=worked(working, *parts))


def lacks(*parts: Derived) -> Derived:
    """A Derived that is missing because one of its parts is."""
    return Derived(None, missing=lacking(*parts), fields=fields_of(*parts), contradictory=contradictory_of(*parts))


def margin_of(available: float, required: float) -> float:
    """available − required, with rounding noise taken for the limit itself (exactly 0)."""
    margin = available - required
    return 0.0 if abs(margin) <= NOISE * max(1.0, abs(available), abs(required)) else margin


def missing_finding(code: str, *parts: Derived, place: str = "", case: str = "") -> Finding:
    """The finding of a check that cannot decide without what its parts lack."""
    return Finding(
        code,
        Grade.MISSING,
        "missing",
        where=Where(case),
        missing=lacking(*parts),
        fields=unique((*fields_of(*parts), *lacking(*parts))),
        place=place,
        contradictory=contradictory_of(*parts),
    )


def not_applicable(code: str, variant: str, fields: tuple[str, ...] = (), **params: str) -> Finding:
    """The finding of a check that does not concern this measurement; the variant's sentence says why."""
    return Finding(code, Grade.NOT_APPLICABLE, variant, params=params, fields=fields)


def worst_of(findings: Sequence[Finding]) -> Finding:
    """The worst of one check's findings over the operating cases: by grade, then by margin.

    Where data is missing, the keys of all cases are joined and the cases named together. A failure is told
    even where another case lacks data, because a stop outranks missing. Raises ValueError where there are
    none.
    """
    if not findings:
        raise ValueError("findings is empty; accepted is at least one finding, one for each operating case")
    worst = min(findings, key=lambda one: (one.grade.rank, _sortable(one.margin_si)))
    if worst.grade is not Grade.MISSING:
        return worst
    without = [one for one in findings if one.grade is Grade.MISSING]
    return replace(
        worst,
        missing=unique(key for one in without for key in one.missing),
        fields=unique(key for one in without for key in one.fields),
        contradictory=unique(key for one in without for key in one.contradictory),
        where=Where(", ".join(unique(one.where.case for one in without if one.where.case))),
    )


def _sortable(margin: float | None) -> float:
    return 0.0 if margin is None else margin


def length(symbol: str, value_m: float) -> Input:
    """An input of a working that is a length in m, shown in the plant's unit of large lengths."""
    return Input(symbol, value_m, "length")


def small_length(symbol: str, value_m: float) -> Input:
    """An input of a working that is a length in m, shown in the plant's unit of small lengths."""
    return Input(symbol, value_m, "length_small")
