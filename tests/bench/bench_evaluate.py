"""Many measurements at once: re-checking them as the background worker does, and evaluating a document of cases.

The demonstration plant's measurements stand for many; 10,000 of them are scaled up from its few, because time goes in
proportion to their number: each batch is loaded, checked and kept by itself.
"""

import json

from instruments.checks.figures import key_figures
from instruments.checks.frame import Frame
from instruments.checks.registry import run_checks
from instruments.evaluation.answer import evaluate
from instruments.evaluation.files import evaluate_bytes
from instruments.models import Measurement
from instruments.services.cases import build_case, with_all_inputs
from instruments.services.recheck import recheck
from tests.bench.measure import Result, interleaved_s
from tests.checks.evaluate_samples import document_of

MANY = 10_000


def _load() -> list[Measurement]:
    return list(with_all_inputs(Measurement.objects.order_by("pk")))


def results() -> list[Result]:
    rows = _load()
    cases = [build_case(row) for row in rows]
    one = next(case for case in cases if case.tag.text("text") == "LT-6001")
    document = document_of(one)
    data = json.dumps(document).encode()

    def whole() -> None:
        recheck(_load())

    load_s, whole_s, build_s, checks_s, one_s, numbers_s, answer_s = interleaved_s(
        [
            _load,
            whole,
            lambda: [build_case(row) for row in rows],
            lambda: [run_checks(case) for case in cases],
            lambda: (run_checks(one, frame := Frame(one)), key_figures(one, frame)),
            lambda: evaluate(document),
            lambda: json.dumps(evaluate_bytes(data).to_data()),
        ],
        repeats=9,
    )
    count, loading, alone = len(rows), "loading the same rows through the ORM", "its checks and figures alone"
    return [
        Result(f"load {count} measurements (ORM)", load_s),
        Result(f"re-check {count}: load, check, keep", whole_s, whole_s / load_s, loading),
        Result("  of it: building the cases", build_s, build_s / load_s, loading),
        Result("  of it: all checks", checks_s, checks_s / load_s, loading, f"{checks_s / count * 1000:.2f} ms each"),
        Result(
            f"re-check {MANY:,}, scaled up from {count}", whole_s * MANY / count, whole_s / load_s, loading,
            "aim below 20 s",
        ),
        Result("checks and figures of one case", one_s),
        Result("evaluate one document", numbers_s, numbers_s / one_s, alone),
        Result("evaluate one file, JSON to JSON", answer_s, answer_s / one_s, alone),
    ]  # fmt: skip
