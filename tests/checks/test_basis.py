"""What an acceptance is compared by: it moves with the inputs of a finding and with nothing else.

Common practice, no source: a judgement holds for what was judged.
"""

import json
from dataclasses import replace

import pytest

from instruments.checks.basis import basis_of, changed_fields, digest_of
from instruments.checks.case import Case
from instruments.checks.finding import Finding, Grade
from tests.checks.builders import finding_of, findings_of, make_case
from tests.checks.variants import VARIANTS

CODE, PLACE = "setpoints.inside_span", "setpoint-H"
SETPOINTS = [("H", "9.7 m"), ("L", "1 m")]


def beyond_the_span(**changes: str | None) -> Case:
    values = {"measurement.lrv": "0.5 m", "measurement.urv": "9.5 m"}
    return make_case(values | {key.replace("__", "."): text for key, text in changes.items()}, setpoints=SETPOINTS)


def basis(case: Case) -> dict[str, str]:
    return basis_of(case, finding_of(case, CODE, PLACE))


def test_the_sample_is_a_caution() -> None:
    assert finding_of(beyond_the_span(), CODE, PLACE).grade is Grade.CAUTION


def test_an_input_moves_it_and_is_named() -> None:
    then, now = basis(beyond_the_span()), basis(beyond_the_span(measurement__urv="9.55 m"))
    assert digest_of(then) != digest_of(now)
    assert changed_fields(then, now) == ("measurement.urv",)


@pytest.mark.parametrize(
    "changes",
    [
        {"measurement__urv": "9500 mm"},
        {"measurement__urv": "950 cm"},
        {"measurement__damping": "5 s"},
        {"tag__service": "Another service"},
        {"vessel__design_pressure_max": "3 bar(g)"},
        {"nozzle__radius": "0.9 m"},
    ],
)
def test_another_unit_or_another_field_does_not_move_it(changes: dict[str, str]) -> None:
    assert basis(beyond_the_span(**changes)) == basis(beyond_the_span())


def test_another_setpoint_does_not_move_it_and_its_own_level_does() -> None:
    values = {"measurement.lrv": "0.5 m", "measurement.urv": "9.5 m"}
    then = basis(beyond_the_span())
    assert basis(make_case(values, setpoints=[("H", "9.7 m"), ("L", "1.2 m")])) == then
    now = basis(make_case(values, setpoints=[("H", "9.71 m"), ("L", "1 m")]))
    assert changed_fields(then, now) == ("setpoint.level",)


def test_of_operating_cases_only_the_named_one_counts() -> None:
    case = beyond_the_span()
    first, *others = case.operating_cases
    about = Finding(
        "process.x", Grade.CAUTION, "x", fields=("case.temperature", "medium.permittivity"),
        where=replace(finding_of(case, CODE, PLACE).where, case=first.text("display")),
    )  # fmt: skip
    changed = [replace(one, values={**one.values, "temperature": first.quantity("pressure")}) for one in others]
    assert others, "the sample needs a second operating case"
    assert basis_of(replace(case, operating_cases=(first, *changed)), about) == basis_of(case, about)
    own = replace(first, values={**first.values, "temperature": first.quantity("pressure")})
    now = basis_of(replace(case, operating_cases=(own, *others)), about)
    assert changed_fields(basis_of(case, about), now) == ("case.temperature",)


def test_a_class_value_counts_where_the_finding_rests_on_it() -> None:
    case = beyond_the_span()
    assert case.sensor_class is not None
    about = Finding("reach.x", Grade.CAUTION, "x", fields=("sensor_class.range_max",))
    other = replace(case.sensor_class, values={k: v for k, v in case.sensor_class.values.items() if k != "range_max"})
    then, now = basis_of(case, about), basis_of(replace(case, sensor_class=other), about)
    assert then["field:sensor_class.range_max"] != ""
    assert now["field:sensor_class.range_max"] == ""


@pytest.mark.parametrize("key", list(VARIANTS), ids=" ".join)
def test_every_finding_has_a_basis_that_json_keeps(key: tuple[str, str]) -> None:
    case = VARIANTS[key]()
    found_here = [one for one in findings_of(case, key[0]) if one.variant == key[1]]
    assert found_here
    for finding in found_here:
        found = basis_of(case, finding)
        assert json.loads(json.dumps(found)) == found
        assert found == basis_of(Case.from_data(json.loads(case.canonical_bytes())), finding)
        for field in finding.fields:
            assert f"field:{field}" in found
