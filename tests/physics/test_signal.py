"""The linear 4–20 mA signal and the limits of NAMUR NE 43."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from instruments.physics.signal import (
    current_a,
    fraction_of_current,
    level_at_fraction_m,
    meaning_of_current,
    measuring_limits,
    span_fraction,
)


# IEC 60381-1, cited from memory: 4 mA at 0 %, 20 mA at 100 %, linear between and beyond.
@pytest.mark.parametrize(
    "level, lrv, urv, milliamperes",
    [
        (2.5, 0, 10, 8.0),
        (0, 0, 10, 4.0),
        (10, 0, 10, 20.0),
        (4.5, 8.5, 0.5, 12.0),
        (11, 0, 10, 21.6),
        (-1, 0, 10, 2.4),
    ],
)
def test_level_to_current(level, lrv, urv, milliamperes):
    assert current_a(span_fraction(level, lrv, urv)) * 1000 == pytest.approx(milliamperes, rel=1e-12)


def test_reverse_gives_20_milliamperes_at_lrv():
    assert current_a(0.0, reverse=True) == pytest.approx(0.020)
    assert current_a(1.0, reverse=True) == pytest.approx(0.004)
    assert current_a(0.25, reverse=True) == pytest.approx(0.016)


# NAMUR NE 43: measuring information 3.8 to 20.5 mA, failure at 3.6 mA or less and 21 mA or more.
@pytest.mark.parametrize("milliamperes, percent", [(3.6, -2.5), (3.8, -1.25), (12, 50), (20.5, 103.125), (21, 106.25)])
def test_current_to_percent(milliamperes, percent):
    assert fraction_of_current(milliamperes / 1000) * 100 == pytest.approx(percent, rel=1e-9)


@pytest.mark.parametrize(
    "milliamperes, meaning",
    [
        (0.0, "failure_low"),
        (3.6, "failure_low"),
        (3.601, "undefined"),
        (3.799, "undefined"),
        (3.8, "measuring"),
        (12.0, "measuring"),
        (20.5, "measuring"),
        (20.501, "undefined"),
        (20.999, "undefined"),
        (21.0, "failure_high"),
        (22.5, "failure_high"),
    ],
)
def test_bands_of_ne_43(milliamperes, meaning):
    assert meaning_of_current(milliamperes / 1000) == meaning


def test_measuring_limits_turn_with_the_direction():
    assert measuring_limits() == pytest.approx((-0.0125, 1.03125))
    assert measuring_limits(reverse=True) == pytest.approx((-0.03125, 1.0125))


@pytest.mark.parametrize(
    "call, named",
    [
        (lambda: span_fraction(1.0, 2.0, 2.0), "urv_m"),
        (lambda: span_fraction(math.nan, 0.0, 1.0), "level_m"),
        (lambda: level_at_fraction_m(math.inf, 0.0, 1.0), "fraction"),
        (lambda: current_a(math.nan), "fraction"),
        (lambda: fraction_of_current(math.inf), "current_a"),
        (lambda: meaning_of_current(math.nan), "current_a"),
    ],
)
def test_refuses_by_name(call, named):
    with pytest.raises(ValueError, match=named):
        call()


@given(st.floats(-0.1, 1.2), st.floats(-5, 30), st.floats(0.01, 30), st.booleans())
def test_round_trips(fraction, lrv, span, reverse):
    assert fraction_of_current(current_a(fraction, reverse), reverse) == pytest.approx(fraction, abs=1e-12)
    level = level_at_fraction_m(fraction, lrv, lrv + span)
    assert span_fraction(level, lrv, lrv + span) == pytest.approx(fraction, abs=1e-9)
