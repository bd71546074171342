"""Sentence, margin and working of a finding agree in their numbers and units; lines of a list are told apart."""

import math
import re

import pytest

from instruments.checks.figures import key_figures
from instruments.checks.finding import Grade
from instruments.checks.registry import run_checks
from instruments.wording import describe, working_lines
from project.quantities import KINDS, PlantUnits, to_si
from tests.checks.builders import UNITS, finding_of, findings_of, make_case, make_legs_case, make_seals_case
from tests.checks.variants import VARIANTS

US = PlantUnits("us")
NUMBER = re.compile(r"(−?)([\d.\u202f]+)\u00a0([^\s·)]+)")
LENGTHS, RATIOS = KINDS["length"].units, KINDS["ratio"].units


# --- lines of a list ------------------------------------------------------------------------------


def test_a_line_names_its_check():
    described = describe(finding_of(make_case({"measurement.urv": "12.8 m"}), "reach.dead_zone_urv"), UNITS)
    assert described.line == f"{described.title}: {described.sentence}"


@pytest.mark.parametrize(
    "case",
    [
        make_legs_case({"measurement.transmitter_elevation": None, "measurement.leg_density": None}),
        make_case(sensor_class=None),
        make_case({"measurement.lrv": None, "measurement.urv": None}),
        make_case({"vessel.diameter": None}),
        make_case(cases=()),
        make_seals_case({"measurement.fill_density": None}),
    ],
)
def test_no_two_lines_of_a_list_are_the_same(case):
    lines = [describe(one, UNITS).line for one in run_checks(case)]
    assert len(set(lines)) == len(lines)


# --- sentence and margin --------------------------------------------------------------------------


@pytest.mark.parametrize("units", [UNITS, US])
@pytest.mark.parametrize(
    "code, variant",
    [
        *((code, variant) for code in ("reach.dead_zone_urv", "reach.dead_zone_setpoint")
          for variant in ("ok", "close", "inside")),
        *(("setpoints.inside_span", variant)
          for variant in ("ok", "outside_low", "outside_high", "beyond_low", "beyond_high")),
    ],
)  # fmt: skip
def test_a_sentence_gives_its_margin_and_the_accuracy_that_is_in_it(code, variant, units):
    found = [one for one in run_checks(VARIANTS[code, variant]()) if (one.code, one.variant) == (code, variant)]
    for finding in found:
        described = describe(finding, units)
        assert described.margin.lstrip("+−") in described.sentence
        assert "accuracy of ±" in described.sentence


def test_the_numbers_of_a_dead_zone_add_up():
    # Dead zone from 12.69 m, accuracy 2 mm: 12.69 − 12 = 0.69 m, less 0.002 m are 0.688 m.
    described = describe(finding_of(make_case(), "reach.dead_zone_urv"), UNITS)
    assert described.sentence.replace("\u00a0", " ") == (
        "URV 12 m lies 0.69 m below the dead zone, which ends at 12.69 m; less the accuracy of ±2 mm, 0.688 m are left."
    )
    assert described.margin == "+0.688\u00a0m"


# --- one unit -------------------------------------------------------------------------------------


def unit_of(text: str) -> str:
    """The unit of a number, pressures without what they count from, temperatures without their zero."""
    unit = text.partition("\u00a0")[2]
    return re.sub(r"\([ga]\)$", "", unit).replace("°C", "K").replace("Δ", "")


@pytest.mark.parametrize("units", [UNITS, US])
@pytest.mark.parametrize("code, variant", list(VARIANTS))
def test_required_available_and_margin_are_in_one_unit(code, variant, units):
    for finding in run_checks(VARIANTS[code, variant]()):
        described = describe(finding, units)
        if described.required:
            assert unit_of(described.required) == unit_of(described.available) == unit_of(described.margin)


# --- workings reproduce their results -------------------------------------------------------------


def recomputed(line: str) -> tuple[float, float, float]:
    """What a line's filled formula gives, the result that it prints, and half a step of its last digit, in SI."""
    _name, _formula, filled, result = line.split(" = ")

    def si(found: re.Match) -> str:
        unit = found.group(3)
        value = float(found.group(2).replace("\u202f", ""))
        return found.group(1).replace("−", "-") + repr(to_si(value, unit, "ratio" if unit in RATIOS else "length"))

    numbers = NUMBER.fullmatch(result)
    assert numbers is not None
    decimals = len(numbers.group(2).partition(".")[2])
    unit = numbers.group(3)
    step = to_si(10.0**-decimals, unit, "ratio" if unit in RATIOS else "length")
    terms = NUMBER.sub(si, filled).replace("·", "*").replace("−", "-")
    assert re.fullmatch(r"[\d.e+\-*/() ]+", terms), terms
    value = eval(terms, {"__builtins__": {}})  # numbers and signs only, as just asserted
    return value, float(NUMBER.sub(si, result)), step / 2


SPANS = [("0.1 m", "48 m"), ("0.5 m", "12 m"), ("0.123 m", "33.333 m")]


@pytest.mark.parametrize("lrv, urv", SPANS)
@pytest.mark.parametrize("level", ["0 m", "11 m", "60 m"])
def test_the_end_of_the_current_follows_from_what_is_printed(lrv, urv, level):
    case = make_case({"measurement.lrv": lrv, "measurement.urv": urv}, setpoints=[("H", level)])
    (finding,) = findings_of(case, "setpoints.inside_span")
    line = working_lines(finding.working, UNITS)[-1]
    assert line.startswith("z_limit = LRV + f")
    value, printed, half_a_step = recomputed(line)
    assert math.isclose(value, printed, abs_tol=half_a_step * 1.001), line


def test_shares_of_the_span_are_printed_in_full():
    (finding,) = findings_of(make_case(setpoints=[("H", "11 m")]), "setpoints.inside_span")
    assert "103.125\u00a0%" in working_lines(finding.working, UNITS)[-1]  # NAMUR NE 43: 20.5 mA of 4 to 20 mA
    accuracy = finding_of(make_legs_case({"measurement.accuracy": "4 mm"}), "reach.accuracy")
    assert accuracy.grade is Grade.STOP


@pytest.mark.parametrize("urv", ["5 m", "4.987 m"])
def test_the_accuracy_of_a_span_follows_from_what_is_printed(urv):
    finding = finding_of(make_legs_case({"measurement.urv": urv}), "reach.accuracy")
    line = next(one for one in working_lines(finding.working, UNITS) if one.startswith("u = u_span"))
    value, printed, half_a_step = recomputed(line)
    assert math.isclose(value, printed, abs_tol=half_a_step * 1.001), line


def test_percent_and_current_of_a_setpoint_follow_from_what_is_printed():
    for level in ("11 m", "0.777 m", "3.3333 m"):
        figures = {one.key: one for one in key_figures(make_case(setpoints=[("H", level)]))}
        line = working_lines(figures["setpoint_current"].working, UNITS)[-1]
        share = float(re.search(r"([\d.]+)\u00a0%", line).group(1)) / 100
        printed = float(re.search(r"= ([\d.]+)\u00a0mA$", line).group(1))
        assert abs(4 + 16 * share - printed) <= 0.0005001, line
