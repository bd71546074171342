"""Evaluating a document of cases: findings and figures of each case as JSON data.

`evaluate` is what the command and a web interface call. It knows neither files nor the database.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from instruments.checks.case import CASE_VERSION
from instruments.checks.figures import key_figures
from instruments.checks.finding import PRESSURE_MARGIN, Figure, Finding, Grade
from instruments.checks.frame import Frame
from instruments.checks.registry import CHECKS_VERSION, grades_by_family, run_checks, worst_grade
from instruments.evaluation.problems import Problem
from instruments.evaluation.reading import NamedCase, read_document
from instruments.wording import DescribedFinding, describe, describe_figure, field_label, shown_text
from project.quantities import KINDS, PlantUnits

ANSWER_VERSION = 1
VERSIONS: Mapping[str, int] = {"answer": ANSWER_VERSION, "case": CASE_VERSION, "checks": CHECKS_VERSION}


@dataclass(frozen=True, slots=True)
class EvaluatedCase:
    """One case with its findings, worst first, and its figures."""

    named: NamedCase
    findings: tuple[Finding, ...]
    figures: tuple[Figure, ...]

    @property
    def worst(self) -> Grade:
        return worst_grade(self.findings)

    @property
    def described(self) -> tuple[DescribedFinding, ...]:
        """The findings in words and in the units of the case's plant."""
        return tuple(describe(finding, self.named.case.units) for finding in self.findings)

    def to_data(self) -> dict[str, Any]:
        """The case's part of the answer, plain JSON data."""
        units = self.named.case.units
        return {
            "name": self.named.name,
            "path": self.named.path,
            "worst": self.worst.value,
            "counts": {grade.value: sum(one.grade is grade for one in self.findings) for grade in Grade},
            "families": {family: grade.value for family, grade in grades_by_family(self.findings).items()},
            "findings": [finding_data(one, units) for one in self.described],
            "figures": [figure_data(one, units) for one in self.figures],
        }


@dataclass(frozen=True, slots=True)
class Evaluation:
    """What became of a document: its cases in its order, or its problems and no case."""

    cases: tuple[EvaluatedCase, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def worst(self) -> Grade:
        """The worst grade of all cases; not applicable where there are none."""
        return worst_grade(finding for one in self.cases for finding in one.findings)

    def content(self) -> dict[str, Any]:
        """Cases or problems as JSON data, without versions."""
        if self.problems:
            return {"problems": [problem.to_data() for problem in self.problems]}
        return {"worst": self.worst.value, "cases": [one.to_data() for one in self.cases]}

    def to_data(self) -> dict[str, Any]:
        """The whole answer as JSON data, with finite numbers only."""
        return {"versions": dict(VERSIONS), **self.content()}


def evaluate(document: object) -> Evaluation:
    """Every check and figure of every case of a document.

    document  JSON data: one case or {"cases": [case, …]}, quantities as texts with units; see `schema.document_schema`

    Returns the evaluated cases, or, where anything in the document cannot be taken, every problem with its JSON path
    and no case. Raises nothing because of what a document holds. No query is made.
    """
    reading = read_document(document)
    if reading.problems:
        return Evaluation(problems=reading.problems)
    return Evaluation(tuple(_evaluated(one) for one in reading.cases))


def _evaluated(named: NamedCase) -> EvaluatedCase:
    frame = Frame(named.case)  # one for all: what it works out, it works out once
    return EvaluatedCase(named, run_checks(named.case, frame), key_figures(named.case, frame))


def finding_data(described: DescribedFinding, units: PlantUnits) -> dict[str, Any]:
    """A finding as JSON data: keys for programs beside the words for people."""
    finding = described.finding
    elevation_m = finding.where.elevation_m
    return {
        "code": finding.code,
        "variant": finding.variant,
        "grade": finding.grade.value,
        "title": described.title,
        "sentence": described.sentence,
        "required": _amount(finding.required_si, finding.kind, described.required),
        "available": _amount(finding.available_si, finding.kind, described.available),
        "margin": _amount(finding.margin_si, finding.margin_kind, described.margin),
        "where": {
            "text": described.where,
            "case": finding.where.case,
            "elevation": None if elevation_m is None else _shown(elevation_m, "length", units),
            "mark": finding.place,
        },
        "working": list(described.working),
        "symbols": dict(described.legend),
        "source": described.source,
        "cures": [
            {
                "code": cure.code,
                "field": cure.field,
                "text": text,
                "value": None if cure.value_si is None else _shown(cure.value_si, cure.kind, units),
            }
            for cure, text in zip(finding.cures, described.cures, strict=True)
        ],
        "missing": _labelled(key for key in finding.missing if key not in finding.contradictory),
        "contradictory": _labelled(finding.contradictory),
        "fields": list(finding.fields),
        "provisional": finding.provisional,
    }


def figure_data(figure: Figure, units: PlantUnits) -> dict[str, Any]:
    """A figure as JSON data."""
    described = describe_figure(figure, units)
    return {
        "key": figure.key,
        "label": described.label,
        "value": _amount(figure.value_si, figure.kind, described.text),
        "note": described.note,
        "working": list(described.working),
        "symbols": dict(described.legend),
        "missing": _labelled(key for key in figure.missing if key not in figure.contradictory),
        "contradictory": _labelled(figure.contradictory),
    }


def _labelled(keys: Iterable[str]) -> list[dict[str, str]]:
    return [{"field": key, "label": field_label(key)} for key in keys]


def _shown(value_si: float, kind: str, units: PlantUnits) -> dict[str, Any]:
    return {"text": shown_text(value_si, kind, units), "si": float(value_si), "si_unit": _si_unit(kind)}


def _amount(value_si: float | None, kind: str, text: str) -> dict[str, Any] | None:
    """A value with its text in the plant's units, its SI value and the SI unit; None where there is none."""
    return None if value_si is None else {"text": text, "si": float(value_si), "si_unit": _si_unit(kind)}


def _si_unit(kind: str) -> str:
    return "Pa" if kind == PRESSURE_MARGIN else KINDS[kind].si
