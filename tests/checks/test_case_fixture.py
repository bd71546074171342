"""A Case of version 1 as it was written to disk: it must load, and mean the same, for ever."""

import json
from hashlib import sha256
from pathlib import Path

import pytest

from instruments.checks.case import CASE_VERSION, Case
from instruments.checks.registry import run_checks

REFERENCE = Path(__file__).parents[1] / "reference"
STORED = (REFERENCE / "case_v1.json").read_bytes()
EXPECTED = json.loads((REFERENCE / "case_v1_expected.json").read_text(encoding="utf-8"))


def test_it_is_of_version_1_and_unchanged():
    assert json.loads(STORED)["version"] == 1
    assert sha256(STORED).hexdigest() == EXPECTED["sha256"]


def test_it_loads_and_gives_the_same_bytes():
    case = Case.from_data(json.loads(STORED))
    assert case.canonical_bytes() == STORED
    assert case.content_hash() == EXPECTED["sha256"]


def test_its_grades_are_as_recorded():
    """The grades were looked at by hand when recorded; `why` says what an engineer sees there. Checks
    that came later may add findings, not change these."""
    codes = {code for code, *_ in EXPECTED["findings"]}
    findings = [one for one in run_checks(Case.from_data(json.loads(STORED))) if one.code in codes]
    found = sorted([one.code, one.variant, one.place, str(one.grade)] for one in findings)
    assert found == EXPECTED["findings"]


def test_the_order_of_keys_does_not_matter():
    data = json.loads(STORED)
    turned = {key: data[key] for key in reversed(data)}
    assert Case.from_data(turned).content_hash() == EXPECTED["sha256"]


def test_another_version_is_refused():
    data = {**json.loads(STORED), "version": CASE_VERSION + 1}
    with pytest.raises(ValueError, match="version"):
        Case.from_data(data)
