"""Evaluate cases from JSON files: findings and figures as JSON, a summary for people. Needs no database."""

import json
import sys
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.utils.translation import gettext as _

from instruments.checks.finding import Grade
from instruments.evaluation.answer import VERSIONS, EvaluatedCase, Evaluation
from instruments.evaluation.files import LARGEST_MB, evaluate_file, evaluate_path
from instruments.evaluation.problems import problem_at
from instruments.evaluation.schema import document_schema
from instruments.wording_texts import GRADE_LABELS

FAILED, REFUSED = 1, 2  # exit codes; 0 where everything was evaluated
STANDARD_INPUT = "-"
TOLD = (Grade.STOP, Grade.MISSING, Grade.CAUTION)


class Command(BaseCommand):
    help = (
        "Evaluate level measurements from JSON files and print findings and figures as JSON. Exit code 0: evaluated, "
        "whatever the grades; 1: with --fail-on, a grade that bad was found; 2: something in the input is not "
        "accepted, and the answer lists every problem with its path."
    )
    # Nothing here rests on the database or on the web application's set-up.
    requires_system_checks = []
    requires_migrations_checks = False

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "files", nargs="*", metavar="FILE", help=f"JSON in UTF-8, up to {LARGEST_MB} MB; - for standard input"
        )
        parser.add_argument("--schema", action="store_true", help="print the JSON Schema of the input and end")
        parser.add_argument(
            "--fail-on", choices=[grade.value for grade in TOLD], metavar="GRADE",
            help="exit with 1 where a finding is as bad as stop, missing or caution, or worse",
        )  # fmt: skip
        parser.add_argument("--quiet", action="store_true", help="no summary on standard error")

    def handle(self, *args: Any, **options: Any) -> None:
        if options["schema"]:
            self._print(document_schema())
            return
        names = options["files"]
        if not names:
            raise CommandError("name at least one file, or - for standard input", returncode=REFUSED)
        found = [(name, self._evaluate(name, names[:position])) for position, name in enumerate(names)]
        self._print({
            "versions": dict(VERSIONS),
            "files": [{"file": name, **evaluation.content()} for name, evaluation in found],
        })  # fmt: skip
        if not options["quiet"]:
            for name, evaluation in found:
                self._tell(name, evaluation)
        code = exit_code([evaluation for _name, evaluation in found], options["fail_on"])
        if code:
            sys.exit(code)

    def _evaluate(self, name: str, before: list[str]) -> Evaluation:
        if name in before:
            return Evaluation(problems=(problem_at("$", "duplicate_file"),))
        return evaluate_file(sys.stdin.buffer) if name == STANDARD_INPUT else evaluate_path(name)

    def _print(self, data: dict[str, Any]) -> None:
        # A terminal that cannot show “m³” gets it escaped, which is the same JSON.
        encoding = str(getattr(self.stdout, "encoding", None) or "utf-8").replace("-", "").lower()
        self.stdout.write(json.dumps(data, indent=2, ensure_ascii=encoding != "utf8", allow_nan=False))

    def _tell(self, name: str, evaluation: Evaluation) -> None:
        """The summary of one file, for people."""
        shown = _("standard input") if name == STANDARD_INPUT else name
        if evaluation.problems:
            self._say(_("%(file)s: not evaluated, problems: %(count)s") % {
                "file": shown, "count": len(evaluation.problems),
            })  # fmt: skip
            for problem in evaluation.problems:
                self._say(f"  {problem.path}: {problem.message}")
        for one in evaluation.cases:
            self._tell_case(shown, one)

    def _tell_case(self, file: str, one: EvaluatedCase) -> None:
        counts = ", ".join(
            f"{GRADE_LABELS[grade.value]} {sum(finding.grade is grade for finding in one.findings)}" for grade in Grade
        )
        worst = GRADE_LABELS[one.worst.value]
        self._say(_("%(file)s, %(name)s: %(worst)s (%(counts)s)") % {
            "file": file, "name": one.named.name, "worst": worst, "counts": counts,
        })  # fmt: skip
        for described in one.described:
            if described.grade in TOLD:
                self._say(f"  {described.grade_label}: {described.line}")

    def _say(self, line: str) -> None:
        # A file's name may hold what no terminal can print.
        self.stderr.write(line.encode("utf-8", "backslashreplace").decode("utf-8"), self.style.NOTICE)


def exit_code(evaluations: list[Evaluation], fail_on: str | None) -> int:
    """0 evaluated; 1 where a grade is as bad as `fail_on` or worse; 2 where any input was not accepted."""
    if any(evaluation.problems for evaluation in evaluations):
        return REFUSED
    if fail_on and any(evaluation.worst.rank <= Grade(fail_on).rank for evaluation in evaluations):
        return FAILED
    return 0
