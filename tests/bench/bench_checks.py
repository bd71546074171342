"""All checks of one measurement, against loading the same measurement through the ORM."""

from instruments.checks.figures import key_figures
from instruments.checks.registry import run_checks
from instruments.models import Measurement
from instruments.results import results_of
from instruments.services.cases import build_case, with_all_inputs
from tests.bench.measure import Result, interleaved_s


def results() -> list[Result]:
    one = Measurement.objects.filter(tag__text="LT-6001")
    case = build_case(with_all_inputs(one).get())
    load_s, checks_s, figures_s, described_s = interleaved_s(
        [
            lambda: with_all_inputs(one).get(),
            lambda: run_checks(case),
            lambda: key_figures(case),
            lambda: results_of(case),
        ],
        repeats=50,
    )
    loading = "loading it through the ORM"
    return [
        Result("load one measurement (ORM)", load_s),
        Result("all checks of one measurement", checks_s, checks_s / load_s, loading, "aim below 2 ms"),
        Result("key figures of one measurement", figures_s, figures_s / load_s, loading),
        Result("checks, figures, wording and sketch", described_s, described_s / load_s, loading),
    ]
