"""Random documents through `evaluate`: nothing raises, every number of an answer is finite, and nothing passes without
an input that its pass rests on."""

import json
import math
import random
from collections import Counter

import pytest

from instruments.checks.finding import Finding, Grade
from instruments.evaluation.answer import EvaluatedCase, evaluate
from tests.checks.evaluate_samples import BASES, Document, change, document_of, without_field
from tests.checks.test_random_cases import OPTIONAL, numbers_in

DOCUMENTS = {name: document_of(case) for name, case in BASES.items()}
TEXTS = [json.dumps(document) for document in DOCUMENTS.values()]
MOST_CHANGES = 6
WORDS_EVERY = 8  # of the answers goes into words and JSON; the numbers of every one are looked at
REMOVAL_EVERY = 4

# Fields whose emptiness says something, so that a check may pass on them: what the field's help or the check's own
# sentence says that it stands for.
STANDS_FOR_ITSELF = OPTIONAL | {
    "measurement.arrangement",  # empty: through one nozzle
    "measurement.variable",  # empty: level
    "measurement.compensation", "measurement.density_compensation",  # empty: none
    "measurement.stilling_well",  # empty: none
    "measurement.safety_function", "measurement.redundancy", "tag.voting_group",  # empty: claims none
    "nozzle.inclination",  # empty: vertical
    "nozzle.isolation_valve",  # empty: none
    "vessel.inlet_radius", "vessel.outlet_radius",  # empty: in the middle, and the sentence says so
    "vessel.capacity_from",  # empty: the shape
    "plant.beam_margin",  # empty: none asked for
    "vessel.lining", "nozzle.schedule",  # empty: none stated; the bore counts
    "vessel.axis_bearing", "vessel.tilt",  # empty: east, level
    # The case's value goes before the medium's, the medium's where the case has none; without a gas: air, vented.
    "case.gas", "medium.gas", "case.density", "case.density_vapour", "case.density_upper", "case.permittivity",
    "case.permittivity_upper", "case.permittivity_vapour", "medium.permittivity_vapour",
}  # fmt: skip


def random_document(seed: int) -> Document:
    """A situation with up to six random changes; the same for the same seed."""
    rng = random.Random(seed)
    document: Document = json.loads(rng.choice(TEXTS))
    for _ in range(rng.randint(0, MOST_CHANGES)):
        change(rng, document)
    return document


def same_place(findings: tuple[Finding, ...], one: Finding) -> Finding | None:
    return next((found for found in findings if (found.code, found.place) == (one.code, one.place)), None)


def passes_without(one: EvaluatedCase, document: Document, finding: Finding, key: str) -> bool:
    """True where a finding that passed and names a field still does after the field is taken out."""
    evaluation = evaluate(without_field(document, key))
    if evaluation.problems:  # refused, because the document cannot be read without it
        return False
    found = same_place(evaluation.cases[0].findings, finding)
    return found is not None and found.grade is Grade.PASS and key in found.fields


def look_at(seed: int, count: Counter[str]) -> None:
    document = random_document(seed)
    evaluation = evaluate(document)
    count["refused" if evaluation.problems else "evaluated"] += 1
    if evaluation.problems:
        assert all(problem.path.startswith("$") and problem.message for problem in evaluation.problems), seed
        return
    one = evaluation.cases[0]
    for said in (*one.findings, *one.figures):
        assert all(math.isfinite(number) for number in numbers_in(said)), (seed, said)
    if seed % WORDS_EVERY == 0:
        text = json.dumps(evaluation.to_data(), allow_nan=False)
        assert not any(word in text for word in (" nan", " inf", "%(")) or "%(all)s" in json.dumps(document), seed
        count["in words"] += 1
    if seed % REMOVAL_EVERY == 0:
        rng = random.Random(-seed)
        passing = [(said, key) for said in one.findings if said.grade is Grade.PASS for key in said.fields
                   if key not in STANDS_FOR_ITSELF]  # fmt: skip
        if passing:
            finding, key = rng.choice(passing)
            count["removed"] += 1
            assert not passes_without(one, document, finding, key), (seed, finding.code, key)


def look_at_many(seeds: range) -> None:
    count: Counter[str] = Counter()
    for seed in seeds:
        look_at(seed, count)
    # Otherwise most of the work would go into documents that never reach a check.
    assert count["evaluated"] > 0.7 * len(seeds), count
    assert count["removed"] > 0.1 * len(seeds), count


def test_a_thousand_random_documents():
    look_at_many(range(1_000))


@pytest.mark.slow
def test_twenty_thousand_random_documents():
    look_at_many(range(1_000, 21_000))


@pytest.mark.parametrize("name", list(DOCUMENTS))
def test_no_finding_passes_without_a_field_that_its_pass_rests_on(name):
    document = DOCUMENTS[name]
    one = evaluate(document).cases[0]
    passing = [(said, key) for said in one.findings if said.grade is Grade.PASS for key in said.fields]
    assert len(passing) > 40
    wrong = [(said.code, key) for said, key in passing
             if key not in STANDS_FOR_ITSELF and passes_without(one, document, said, key)]  # fmt: skip
    assert not wrong


def test_random_documents_are_the_same_for_the_same_seed():
    assert random_document(7) == random_document(7)
    assert random_document(7) != random_document(8)
