"""What the checks say of a case, made ready for a reader: one object for screen and sheet."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import groupby

from django.utils.translation import gettext as _

from instruments.checks.case import Case
from instruments.checks.figures import key_figures
from instruments.checks.finding import Finding, Grade
from instruments.checks.frame import Frame
from instruments.checks.registry import FAMILIES, run_checks, worst_grade
from instruments.documents.elevation import scene_from_case
from instruments.documents.vessel_scene import plan_from_case
from instruments.forms.sections import section_of
from instruments.models import Acceptance
from instruments.services.acceptances import Judgement, Key, judged
from instruments.wording import DescribedFigure, DescribedFinding, describe, describe_figure, field_label
from vessels.sketch.elevation import draw_elevation
from vessels.sketch.plan import draw_plan

SKETCH_WIDTH_PX, SKETCH_HEIGHT_PX, PLAN_HEIGHT_PX = 460, 480, 300


@dataclass(frozen=True, slots=True)
class ShownFinding:
    """A finding in words, with its acceptance where somebody gave one and nobody took it back."""

    described: DescribedFinding
    judgement: Judgement | None = None

    @property
    def accepted(self) -> bool:
        """Somebody accepted it, and it rests on the same still."""
        return self.judgement is not None and self.judgement.holds

    @property
    def changed(self) -> list[str]:
        """Labels of the fields by whose change an acceptance lapsed."""
        return [field_label(key) for key in self.judgement.changed] if self.judgement is not None else []

    @property
    def anchor(self) -> str:
        """The id of its element on the measurement page."""
        return f"finding-{self.described.code}-{self.described.place}"


@dataclass(frozen=True, slots=True)
class Family:
    """The findings of one family, worst first; of equals those that are accepted come last."""

    key: str
    label: str
    findings: tuple[ShownFinding, ...]

    @property
    def worst(self) -> Grade:
        return worst_grade(one.described.finding for one in self.findings)

    @property
    def accepted_count(self) -> int:
        return sum(one.accepted for one in self.findings)


@dataclass(frozen=True, slots=True)
class Results:
    """Findings worst first, key figures, elevation and plan, and the worst grade of each section of the page."""

    findings: tuple[DescribedFinding, ...]
    figures: tuple[DescribedFigure, ...]
    sketch: str
    plan: str
    worst: Grade
    counts: dict[str, int]
    sections: dict[str, Grade]
    judgements: Mapping[Key, Judgement]

    @property
    def open_families(self) -> list[Family]:
        """Findings that somebody has to look at, by family, the worst family first."""
        return self._families(settled=False)

    @property
    def settled_families(self) -> list[Family]:
        """Checks that pass or do not apply, by family."""
        return self._families(settled=True)

    @property
    def settled_count(self) -> int:
        return sum(one.grade in SETTLED for one in self.findings)

    @property
    def accepted_count(self) -> int:
        """How many cautions are accepted."""
        return len(self.accepted)

    @property
    def accepted(self) -> dict[Key, str]:
        """(code, place) of each accepted caution -> reason, name and day, as the sheet prints it."""
        return {key: one.text for key, one in self.judgements.items() if one.holds}

    def _families(self, *, settled: bool) -> list[Family]:
        shown = [
            ShownFinding(one, self.judgements.get((one.code, one.place)))
            for one in self.findings
            if (one.grade in SETTLED) is settled
        ]
        shown.sort(key=lambda one: (_order(one), one.described.grade.rank, one.accepted))
        families = [
            Family(key, own[0].described.family_label, own)
            for key, own in ((key, tuple(group)) for key, group in groupby(shown, _family))
        ]
        return sorted(families, key=lambda family: family.worst.rank)


SETTLED = (Grade.PASS, Grade.NOT_APPLICABLE)


def _family(one: ShownFinding) -> str:
    return one.described.finding.family


def _order(one: ShownFinding) -> int:
    return FAMILIES.index(_family(one))


def worst_by_section(findings: tuple[Finding, ...]) -> dict[str, Grade]:
    """The worst grade among the findings that rest on a section's fields."""
    worst: dict[str, Grade] = {}
    for finding in findings:
        for key in finding.fields:
            section = section_of(key)
            if section and (section not in worst or finding.grade.rank < worst[section].rank):
                worst[section] = finding.grade
    return worst


def results_of(case: Case, acceptances: Iterable[Acceptance] = ()) -> Results:
    """Run every check of a case and describe the outcome. No query.

    acceptances  of the measurement; each holds or has lapsed by what the case says
    """
    frame = Frame(case)  # one for all: what it works out, it works out once
    findings = run_checks(case, frame)
    units = case.units
    return Results(
        findings=tuple(describe(finding, units, case.unreadable) for finding in findings),
        figures=tuple(describe_figure(figure, units, case.unreadable) for figure in key_figures(case, frame)),
        sketch=draw_elevation(
            scene_from_case(case, translate=_), width_px=SKETCH_WIDTH_PX, height_px=SKETCH_HEIGHT_PX
        ),
        plan=draw_plan(plan_from_case(case, translate=_), width_px=SKETCH_WIDTH_PX, height_px=PLAN_HEIGHT_PX),
        worst=worst_grade(findings),
        counts={grade.value: sum(one.grade is grade for one in findings) for grade in Grade},
        sections=worst_by_section(findings),
        judgements=judged(case, findings, acceptances),
    )
