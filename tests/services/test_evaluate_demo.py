"""The demonstration plant through documents: `evaluate` says of every measurement what its page says."""

import pytest

from instruments.checks.case import Case
from instruments.checks.registry import run_checks
from instruments.evaluation.answer import evaluate
from instruments.models import Measurement
from instruments.services.cases import build_case, with_all_inputs
from instruments.services.demo import load_demo
from tests.checks.evaluate_samples import document_of


@pytest.mark.slow
@pytest.mark.django_db
def test_documents_of_the_demonstration_plant_give_the_findings_of_its_pages():
    assert load_demo() is not None
    cases: list[Case] = [build_case(row) for row in with_all_inputs(Measurement.objects.order_by("pk"))]
    assert len(cases) > 40
    evaluation = evaluate({"cases": [document_of(case, name=case.tag.text("text")) for case in cases]})
    assert not evaluation.problems
    for case, one in zip(cases, evaluation.cases, strict=True):
        assert one.findings == run_checks(case), one.named.name
