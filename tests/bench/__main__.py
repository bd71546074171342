"""`make bench`: timings as a table, and as JSON under test-results/. Ratios of one run tell more than seconds."""

import json
import os
import platform
import sys
import tempfile
from dataclasses import asdict
from importlib import import_module
from pathlib import Path

import django
from django.core.management import call_command

BENCHMARKS = ("bench_checks", "bench_evaluate", "bench_preview", "bench_datasheet", "bench_lying")
RESULTS = Path(__file__).resolve().parents[2] / "test-results" / "bench.json"


def main(wanted: list[str]) -> int:
    with tempfile.TemporaryDirectory(prefix="levelwright-bench-") as folder:
        os.environ["LEVELWRIGHT_VAR"] = folder
        os.environ["DJANGO_SETTINGS_MODULE"] = "project.settings_test"
        os.environ.pop("DATABASE_URL", None)
        django.setup()
        call_command("migrate", verbosity=0)
        call_command("load_demo", verbosity=0)
        found = [
            result
            for name in BENCHMARKS
            if not wanted or name in wanted
            for result in import_module(f"tests.bench.{name}").results()
        ]
    print(f"\n{'what':<48}{'median':>11}  {'ratio':>7}  against")
    for one in found:
        ratio = f"{one.ratio:7.2f}" if one.ratio is not None else " " * 7
        note = f"  ({one.note})" if one.note else ""
        print(f"{one.name:<48}{one.median_s * 1000:>8.2f} ms  {ratio}  {one.against}{note}")
    RESULTS.parent.mkdir(exist_ok=True)
    report = {"python": platform.python_version(), "results": [asdict(one) for one in found]}
    RESULTS.write_text(json.dumps(report, indent=2) + "\n", encoding="utf-8")
    print(f"\nAs JSON: {RESULTS}")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
