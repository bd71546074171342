"""What the checks say of a case, made ready for a reader: one object for screen and sheet."""

from dataclasses import dataclass

from django.utils.translation import gettext as _

from instruments.checks.case import Case
from instruments.checks.figures import key_figures
from instruments.checks.finding import Finding, Grade
from instruments.checks.frame import Frame
from instruments.checks.registry import run_checks, worst_grade
from instruments.documents.elevation import scene_from_case
from instruments.documents.vessel_scene import plan_from_case
from instruments.forms.sections import section_of
from instruments.wording import DescribedFigure, DescribedFinding, describe, describe_figure
from vessels.sketch.elevation import draw_elevation
from vessels.sketch.plan import draw_plan

SKETCH_WIDTH_PX, SKETCH_HEIGHT_PX, PLAN_HEIGHT_PX = 460, 480, 300


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

    @property
    def open_findings(self) -> list[DescribedFinding]:
        """Findings that somebody has to look at."""
        return [one for one in self.findings if one.finding.grade in (Grade.STOP, Grade.MISSING, Grade.CAUTION)]

    @property
    def settled_findings(self) -> list[DescribedFinding]:
        return [one for one in self.findings if one.finding.grade in (Grade.PASS, Grade.NOT_APPLICABLE)]


def worst_by_section(findings: tuple[Finding, ...]) -> dict[str, Grade]:
    """The worst grade among the findings that rest on a section's fields."""
    worst: dict[str, Grade] = {}
    for finding in findings:
        for key in finding.fields:
            section = section_of(key)
            if section and (section not in worst or finding.grade.rank < worst[section].rank):
                worst[section] = finding.grade
    return worst


def results_of(case: Case) -> Results:
    """Run every check of a case and describe the outcome. No query."""
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
    )
