"""One finding on a page of its own: its working, who accepted it and why, and accepting and withdrawing."""

from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _

from instruments.checks.basis import basis_of, digest_of
from instruments.checks.finding import Finding
from instruments.checks.registry import run_checks
from instruments.forms.acceptance import AcceptanceForm
from instruments.models import Acceptance, Measurement
from instruments.results import ShownFinding
from instruments.services.acceptances import (
    Judgement,
    NoSuchFinding,
    accept_finding,
    deeds_of,
    finding_at,
    judgement,
    kept_acceptance,
    why_not_acceptable,
    withdraw_acceptance,
)
from instruments.services.cases import build_case
from instruments.views.measurements import loaded
from instruments.wording import describe
from project.accounts.access import allowed
from project.accounts.permissions import may
from project.pages import form_actor
from project.problems import problems_of
from project.services import StaleEdit


@dataclass(frozen=True, slots=True)
class _Subject:
    """The finding that a page is about, as it is saved, with its acceptance where there is one."""

    measurement: Measurement
    finding: Finding
    shown: ShownFinding
    digest: str
    acceptance: Acceptance | None

    @property
    def judgement(self) -> Judgement | None:
        return self.shown.judgement

    def address(self, name: str, request: HttpRequest) -> str:
        """The address of a view of this finding, with the page that the person came from."""
        asked = {"place": self.finding.place} | ({"from": "edit"} if _from_edit(request) else {})
        return f"{reverse(name, args=[self.measurement.uid, self.finding.code])}?{urlencode(asked)}"

    def back(self, request: HttpRequest) -> str:
        """The measurement page that the person came from, at this finding."""
        name = "measurement_edit" if _from_edit(request) else "measurement_view"
        return f"{reverse(name, args=[self.measurement.uid])}#{self.shown.anchor}"


def _from_edit(request: HttpRequest) -> bool:
    # The page to return to is one of two, and a person without the role is not sent to a page that refuses.
    return request.GET.get("from") == "edit" and may(request.roles, "measurement.change")  # type: ignore[attr-defined]


def _subject(request: HttpRequest, measurement: Measurement, code: str) -> _Subject:
    measurement = loaded(measurement)
    case = build_case(measurement)
    try:
        finding = finding_at(run_checks(case), code, request.GET.get("place", ""))
    except NoSuchFinding as problem:
        raise Http404(_("The checks of this measurement say nothing of this, or no longer.")) from problem
    basis = basis_of(case, finding)
    row = kept_acceptance(measurement, finding.code, finding.place)
    beside = judgement(row, finding, basis) if row is not None and not row.withdrawn else None
    shown = ShownFinding(describe(finding, case.units), beside)
    return _Subject(measurement, finding, shown, digest_of(basis), row)


def _page(
    request: HttpRequest, subject: _Subject, form: AcceptanceForm, status: int = 200, **context: Any
) -> HttpResponse:
    return render(
        request,
        "instruments/finding_view.html",
        {
            "measurement": subject.measurement,
            "tag": subject.measurement.tag,
            "one": subject.shown.described,
            "shown": subject.shown,
            "not_acceptable": why_not_acceptable(subject.finding.grade),
            "deeds": deeds_of(subject.acceptance) if subject.acceptance is not None else [],
            "form": form,
            "problems": problems_of([form]) if form.is_bound else [],
            "accept_address": subject.address("finding_accept", request),
            "back": subject.back(request),
            **context,
        },
        status=status,
    )


def _form(subject: _Subject, data: Any = None) -> AcceptanceForm:
    row = subject.acceptance
    lapsed = subject.judgement is not None and not subject.judgement.holds
    initial = {"digest": subject.digest, "version": row.version if row is not None else 0}
    # Somebody who renews starts from the old reason.
    return AcceptanceForm(data, initial=initial | ({"reason": row.reason} if row is not None and lapsed else {}))


@allowed("measurement.view", Measurement)
def finding_view(request: HttpRequest, measurement: Measurement, code: str) -> HttpResponse:
    subject = _subject(request, measurement, code)
    return _page(request, subject, _form(subject))


@allowed("finding.accept", Measurement)
def finding_accept(request: HttpRequest, measurement: Measurement, code: str) -> HttpResponse:
    """Accept, renew or withdraw. Refusals keep the typing (422, or 409 where somebody else was first)."""
    subject = _subject(request, measurement, code)
    if request.method != "POST":
        return redirect(subject.address("finding_view", request))
    if "withdraw" in request.POST:
        return _withdraw(request, subject)
    form = _form(subject, request.POST)
    if not form.is_valid():
        return _page(request, subject, form, 422)
    try:
        accept_finding(
            form_actor(request),
            subject.measurement,
            subject.finding.code,
            subject.finding.place,
            form.cleaned_data["reason"],
            digest=form.cleaned_data["digest"],
            expected_version=form.cleaned_data["version"],
        )
    except ValidationError as problem:
        form.add_refusal(problem)
        return _again(request, measurement, code, form, 422)
    except StaleEdit as problem:
        return _again(request, measurement, code, form, 409, conflict=problem.conflict)
    messages.success(request, _("Accepted, with your name and reason."))
    return redirect(subject.back(request))


def _withdraw(request: HttpRequest, subject: _Subject) -> HttpResponse:
    text = request.POST.get("version", "")
    version = int(text) if text.isascii() and text.isdecimal() and len(text) < 10 else 0
    if subject.acceptance is None or subject.acceptance.withdrawn:
        return _page(request, subject, _form(subject), 409, nothing_to_withdraw=True)
    try:
        withdraw_acceptance(form_actor(request), subject.acceptance, version)
    except StaleEdit as problem:
        return _again(request, subject.measurement, subject.finding.code, None, 409, conflict=problem.conflict)
    messages.success(request, _("Acceptance withdrawn."))
    return redirect(subject.back(request))


def _again(
    request: HttpRequest,
    measurement: Measurement,
    code: str,
    form: AcceptanceForm | None,
    status: int,
    **context: Any,
) -> HttpResponse:
    """The page as it is now, with the typing kept: sending it once more is a decision in sight of what is new."""
    subject = _subject(request, measurement, code)
    if form is None:
        return _page(request, subject, _form(subject), status, **context)
    data: Any = form.data.copy()  # type: ignore[attr-defined]
    fresh = _form(subject).initial
    data["digest"], data["version"] = fresh["digest"], fresh["version"]
    form.data = data
    return _page(request, subject, form, status, **context)
