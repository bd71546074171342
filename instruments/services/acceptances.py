"""Accepting cautions: a person takes note of what a check says, gives a reason, and answers for it by name.

Only a caution can be accepted: a stop comes from physics, geometry, published tables or the class's own limits, and
what is missing cannot be judged. An acceptance holds while its finding rests on the same as when it was given; that is
computed when it is read, and nothing is deleted.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import cast

from django.core.exceptions import ValidationError
from django.utils import timezone
from django.utils.translation import gettext as _

from instruments.checks.basis import Basis, basis_of, changed_fields, digest_of
from instruments.checks.case import Case
from instruments.checks.finding import Finding, Grade
from instruments.checks.registry import run_checks
from instruments.models import Acceptance, Measurement
from instruments.models.acceptance import LONGEST_REASON, SHORTEST_REASON
from instruments.services.cases import build_case, with_all_inputs
from project.actor import Actor, acting
from project.services import create_row, save_row

Key = tuple[str, str]  # code and place of a finding


class NoSuchFinding(ValueError):
    """The checks say nothing of this code at this place."""


@dataclass(frozen=True, slots=True)
class Judgement:
    """An acceptance beside what its finding says now.

    holds    the finding is a caution still, and rests on the same
    changed  keys of the fields that changed since, as far as it lapsed by them
    """

    row: Acceptance
    holds: bool
    changed: tuple[str, ...] = ()

    @property
    def reason(self) -> str:
        return self.row.reason

    @property
    def name(self) -> str:
        """Who accepted it."""
        return self.row.accepted_by.shown_name() if self.row.accepted_by is not None else _("somebody")

    @property
    def date(self) -> str:
        """The day on which it was accepted, in the plant's time zone: "2026-03-31"."""
        return self.row.accepted_at.astimezone(self.row.plant.zone).date().isoformat()

    @property
    def text(self) -> str:
        """Reason, name and day in one line, as it is printed."""
        return _("%(reason)s (%(name)s, %(date)s)") % {"reason": self.reason, "name": self.name, "date": self.date}


@dataclass(frozen=True, slots=True)
class Deed:
    """One line of the history of an acceptance: what was done, by whom, when (in the plant's time zone) and why."""

    what: str
    name: str
    at: str
    reason: str


def acceptances_of(measurements: Iterable[Measurement]) -> list[Acceptance]:
    """The acceptances of measurements that nobody has withdrawn, in one query."""
    kept = Acceptance.objects.filter(measurement__in=list(measurements), withdrawn=False)
    return list(kept.select_related("accepted_by", "plant"))


def judged(case: Case, findings: Iterable[Finding], rows: Iterable[Acceptance]) -> dict[Key, Judgement]:
    """Acceptances of one measurement beside the findings of its case, by code and place. No query."""
    by_key = {(row.code, row.place): row for row in rows}
    found = {}
    for finding in findings:
        row = by_key.get((finding.code, finding.place))
        if row is not None:
            found[finding.code, finding.place] = judgement(row, finding, basis_of(case, finding))
    return found


def judgement(row: Acceptance, finding: Finding, basis: Basis) -> Judgement:
    """One acceptance beside its finding, whose basis is given."""
    holds = not row.withdrawn and finding.grade is Grade.CAUTION and row.basis == basis
    return Judgement(row, holds, () if holds else changed_fields(row.basis, basis))


def why_not_acceptable(grade: Grade) -> str:
    """Why a finding of a grade cannot be accepted, in a sentence; '' for a caution."""
    return {
        Grade.STOP: _(
            "A stop cannot be accepted: physics, geometry, a published table or a limit of the class forbids it. Change"
            " what it rests on."
        ),
        Grade.MISSING: _("What is missing cannot be accepted: fill in what the check needs, then judge what it says."),
        Grade.CAUTION: "",
        Grade.PASS: _("There is nothing to accept: the check passes."),
        Grade.NOT_APPLICABLE: _("There is nothing to accept: the check does not apply."),
    }[grade]


def finding_at(findings: Sequence[Finding], code: str, place: str) -> Finding:
    """The finding of a code and place. Raises NoSuchFinding."""
    for finding in findings:
        if (finding.code, finding.place) == (code, place):
            return finding
    raise NoSuchFinding(f"no finding {code!r} at {place!r}")


def kept_acceptance(measurement: Measurement, code: str, place: str) -> Acceptance | None:
    """The acceptance of a finding, withdrawn or not; None where nobody ever accepted it."""
    rows = Acceptance.objects.filter(measurement=measurement, code=code, place=place)
    return rows.select_related("accepted_by", "plant").first()


def accept_finding(
    actor: Actor, measurement: Measurement, code: str, place: str, reason: str, *, digest: str, expected_version: int
) -> Acceptance:
    """Accept a caution, or renew an acceptance that lapsed or was withdrawn.

    reason            10 to 300 characters
    digest            of the basis of the finding that the person read
    expected_version  of the acceptance that the person saw, 0 where there was none

    Raises NoSuchFinding; ValidationError for a grade that cannot be accepted, for a reason that is too short or long,
    and where what the finding rests on is no longer what the person read; StaleEdit where somebody accepted or
    withdrew meanwhile. Nothing is written then.
    """
    with acting(actor, "accept finding", measurement.plant):
        # One after the other: the second of two people must find what the first one wrote.
        Measurement.objects.select_for_update().get(pk=measurement.pk)
        case = build_case(with_all_inputs(Measurement.objects.filter(pk=measurement.pk)).get())
        finding = finding_at(run_checks(case), code, place)
        basis = basis_of(case, finding)
        _refuse(finding, basis, reason, digest)
        row = kept_acceptance(measurement, code, place)
        if row is None:
            row = Acceptance(plant=measurement.plant, measurement=measurement, code=code, place=place)
        row.case_name, row.reason, row.basis = finding.where.case, reason, basis
        row.accepted_by, row.accepted_at, row.withdrawn = actor.user, timezone.now(), False
        if row.pk is None:
            return cast(Acceptance, create_row(actor, row, {}))
        save_row(actor, row, expected_version, {}, touch=True)
    return row


def _refuse(finding: Finding, basis: Mapping[str, str], reason: str, digest: str) -> None:
    problem = why_not_acceptable(finding.grade)
    if problem:
        raise ValidationError(problem)
    if not SHORTEST_REASON <= len(reason.strip()) <= LONGEST_REASON:
        raise ValidationError({"reason": reason_wanted(len(reason.strip()))})
    if digest != digest_of(basis):
        raise ValidationError(
            _("What this finding rests on was changed since you opened the page. Read it again as it is now.")
        )


def reason_wanted(length: int) -> str:
    """What a reason has to be, to somebody who gave one of `length` characters."""
    wanted = {"least": SHORTEST_REASON, "most": LONGEST_REASON, "length": length}
    return _("Say why in %(least)s to %(most)s characters; this has %(length)s.") % wanted


def withdraw_acceptance(actor: Actor, acceptance: Acceptance, expected_version: int) -> None:
    """Take an acceptance back; its history stays. Raises StaleEdit where somebody renewed or withdrew it meanwhile."""
    with acting(actor, "withdraw acceptance", acceptance.plant):
        acceptance.withdrawn = True
        save_row(actor, acceptance, expected_version, {}, touch=True)


def deeds_of(acceptance: Acceptance) -> list[Deed]:
    """The history of an acceptance, newest first."""
    records = list(acceptance.history.select_related("history_action__user").order_by("-history_id"))
    return [
        Deed(
            what=_deed(record.withdrawn, first=record is records[-1]),
            name=_name_of(record),
            at=_moment(record.history_date, acceptance),
            reason="" if record.withdrawn else record.reason,
        )
        for record in records
    ]


def _deed(withdrawn: bool, *, first: bool) -> str:
    if withdrawn:
        return _("Withdrawn")
    return _("Accepted") if first else _("Renewed")


def _name_of(record: object) -> str:
    action = getattr(record, "history_action", None)
    return action.user.shown_name() if action is not None and action.user is not None else _("somebody")


def _moment(at: datetime, acceptance: Acceptance) -> str:
    return f"{at.astimezone(acceptance.plant.zone):%Y-%m-%d %H:%M}"
