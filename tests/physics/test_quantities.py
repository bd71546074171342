"""Quantities: conversion factors against published ones, and reading and showing of what people type.

Factors: NIST Special Publication 811 (2008 edition), Appendix B.8 and B.9, exact values in bold there; relations
used: 1 in = 25.4 mm, 1 ft = 0.3048 m, 1 lb = 0.453 592 37 kg, 1 US gal = 231 in³, 1 psi = 1 lbf/in².
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from project.quantities import (
    KINDS,
    LONGEST_TEXT,
    MISSING,
    UNIT_SETS,
    PlantUnits,
    Quantity,
    UnreadableQuantity,
    format_number,
    from_si,
    to_si,
)

METRIC, US = PlantUnits("metric"), PlantUnits("us")

NIST_SP_811 = [
    # kind, unit, factor to SI as printed in Appendix B.8 (offset kinds: value of the unit's 1), relative tolerance
    ("length", "in", 2.54e-2, 0),
    ("length", "ft", 3.048e-1, 0),
    ("area", "in²", 6.4516e-4, 0),
    ("area", "ft²", 9.290304e-2, 0),
    ("volume", "L", 1.0e-3, 0),
    ("volume", "ft³", 2.831685e-2, 1e-6),
    ("volume", "gal(US)", 3.785412e-3, 1e-6),
    ("volume", "bbl", 1.589873e-1, 1e-6),
    ("mass", "lb", 4.5359237e-1, 0),
    ("mass", "t", 1.0e3, 0),
    ("density", "g/cm³", 1.0e3, 0),
    ("density", "lb/ft³", 1.601846e1, 1e-6),
    ("density", "lb/gal(US)", 1.198264e2, 1e-6),
    ("pressure_difference", "bar", 1.0e5, 0),
    ("pressure_difference", "psi", 6.894757e3, 1e-6),
    ("pressure_difference", "inH₂O", 2.490889e2, 1e-5),  # "inch of water, conventional"
    ("pressure_difference", "mmH₂O", 9.80665, 0),  # "millimeter of water, conventional"
    ("pressure", "mmHg(a)", 1.333224e2, 1e-6),
    ("pressure", "atm(a)", 1.01325e5, 0),
    ("angle", "°", 1.745329e-2, 1e-6),
    ("volume_flow", "ft³/min", 4.719474e-4, 1e-6),
    ("volume_flow", "gal(US)/min", 6.309020e-5, 1e-6),
    ("speed", "ft/s", 3.048e-1, 0),
    ("viscosity", "cP", 1.0e-3, 0),
    ("time", "h", 3.6e3, 0),
]


@pytest.mark.parametrize(("kind", "unit", "factor", "tolerance"), NIST_SP_811)
def test_factors_of_nist_sp_811(kind: str, unit: str, factor: float, tolerance: float) -> None:
    assert to_si(1.0, unit, kind) == pytest.approx(factor, rel=max(tolerance, 1e-14))


@pytest.mark.parametrize(
    ("unit", "value", "kelvin"),
    [  # NIST SP 811, Appendix B.8: T/K = t/°C + 273.15; t/°C = (t/°F − 32)/1.8; T/K = (T/°R)/1.8
        ("°C", 0.0, 273.15), ("°C", 100.0, 373.15), ("°F", 32.0, 273.15), ("°F", 212.0, 373.15), ("°R", 491.67, 273.15),
    ],
)  # fmt: skip
def test_temperatures_of_nist_sp_811(unit: str, value: float, kelvin: float) -> None:
    assert to_si(value, unit, "temperature") == pytest.approx(kelvin, rel=1e-12)


def test_a_temperature_difference_is_not_a_temperature() -> None:
    assert to_si(18.0, "Δ°F", "temperature_difference") == pytest.approx(10.0, rel=1e-12)
    with pytest.raises(UnreadableQuantity):
        METRIC.parse("10 °F", "temperature_difference")


@pytest.mark.parametrize("key", UNIT_SETS)
def test_unit_sets_show_every_kind_in_a_listed_unit(key: str) -> None:
    assert set(UNIT_SETS[key].units) == set(KINDS)
    for kind, (unit, digits, decimals) in UNIT_SETS[key].units.items():
        assert from_si(to_si(7.0, unit, kind), unit, kind) == pytest.approx(7.0, rel=1e-12)
        assert digits >= 3
        assert decimals >= 0


@pytest.mark.parametrize(
    ("text", "kind", "typed", "si"),
    [
        ("12.5", "length_small", "12.5 mm", 0.0125),
        ("12.5 m", "length", "12.5 m", 12.5),
        ("41 ft", "length", "41 ft", 12.4968),
        ("41 ft 6 in", "length", "41 ft 6 in", 12.6492),
        ("41' 6 1/2\"", "length", "41' 6 1/2\"", 12.6619),
        ("3/4 in", "length", "3/4 in", 0.01905),
        ("1 3/4 in", "length", "1 3/4 in", 0.04445),
        ("-3.5", "length", "-3.5 m", -3.5),
        ("−3.5", "length", "−3.5 m", -3.5),
        (".5e1 m", "length", ".5e1 m", 5.0),
        ("1\u202f500 mm", "length", "1\u202f500 mm", 1.5),
        ("150 °C", "temperature", "150 °C", 423.15),
        ("150C", "temperature", "150C", 423.15),
        ("1.2 g/cm³", "density", "1.2 g/cm³", 1200.0),
        ("5 S/m", "conductivity", "5 S/m", 5.0),
        ("33", "permittivity", "33", 33.0),
        ("0.3 %", "ratio", "0.3 %", 0.003),
        ("6.5 bar(g)", "pressure", "6.5 bar(g)", 751_325.0),
        ("6.5", "pressure", "6.5 bar(g)", 751_325.0),
        ("6.5 barg", "pressure", "6.5 barg", 751_325.0),
        ("6.5 bar abs", "pressure", "6.5 bar abs", 650_000.0),
        ("7.5 BAR(A)", "pressure", "7.5 BAR(A)", 750_000.0),
        ("0 bar(a)", "pressure", "0 bar(a)", 0.0),
        ("  4 m ", "length", "4 m", 4.0),
    ],
)
def test_what_people_type_is_read_and_kept_as_typed(text: str, kind: str, typed: str, si: float) -> None:
    quantity = METRIC.parse(text, kind)
    assert quantity.typed == typed
    assert quantity.si == pytest.approx(si, rel=1e-12, abs=1e-12)
    assert METRIC.parse(quantity.typed, kind) == quantity


@pytest.mark.parametrize(
    ("text", "kind", "sentence"),
    [
        ("abc", "length", "not readable as a number. Accepted is a length, for example 12.5 m"),
        ("1,500", "length", "a comma may mean thousands or decimals. Write 1500 or 1.5"),
        ("1,5 mm", "length", "a comma"),
        ("12 kg", "length", "kg is a unit of a mass, but a length is wanted here"),
        ("6 bar", "pressure", "gauge or absolute? Write for example 6.5 bar(g) or 6.5 bar(a)"),
        ("6 psi", "pressure", "gauge or absolute?"),
        ("9**9**9", "length", "the unit “**9**9” is not known"),
        ("nan", "length", "not readable"),
        ("inf", "length", "not readable"),
        ("1e400", "length", "not a finite number"),
        ("1/0 in", "length", "not a finite number"),
        ("1e13 m", "length", "larger than anything in a plant"),
        ("0x10", "length", "is not known"),
        ("1_000", "length", "is not known"),
        ("1 bar a year", "pressure", "is not known"),
        ("33 m", "permittivity", "plain number"),
        ("-2 bar(g)", "pressure", "below perfect vacuum"),
        ("-1 bar(a)", "pressure", "below perfect vacuum"),
        ("-300 °C", "temperature", "below absolute zero"),
        ("5 Mm", "length", "is not known"),
        ("x" * (LONGEST_TEXT + 1), "length", f"longer than {LONGEST_TEXT} characters"),
        ("5\x00", "length", "is not known"),
        ("٣ m", "length", "not readable"),
    ],
)
def test_what_cannot_be_read_is_refused_with_what_would_be_accepted(text: str, kind: str, sentence: str) -> None:
    with pytest.raises(UnreadableQuantity) as refused:
        METRIC.parse(text, kind)
    assert sentence in str(refused.value)


def test_blank_is_missing_and_zero_is_not() -> None:
    assert METRIC.parse("  ", "length") is MISSING
    assert not METRIC.parse("0", "length").missing
    assert Quantity("", None).missing


def test_the_plants_atmosphere_turns_gauge_into_absolute() -> None:
    high = PlantUnits("metric", 80_000.0)
    assert high.parse("1 bar(g)", "pressure").si == pytest.approx(180_000.0)
    assert high.parse("1 bar(a)", "pressure").si == pytest.approx(100_000.0)
    assert str(high.shown_si(180_000.0, "pressure")) == "1\u00a0bar(g)"


def test_a_bare_number_takes_the_unit_of_the_plant_and_keeps_it() -> None:
    quantity = US.parse("12.5", "length")
    assert quantity.typed == "12.5 ft"
    assert quantity.si == pytest.approx(12.5 * 0.3048, rel=1e-14)
    assert str(METRIC.shown(quantity, "length")) == "3.81\u00a0m"
    assert str(US.shown(quantity, "length")) == "12.5\u00a0ft"


def test_typed_digits_come_back_where_the_unit_is_the_plants() -> None:
    assert str(METRIC.shown(Quantity("9.80 m", 9.8), "length")) == "9.80\u00a0m"
    assert str(METRIC.shown(Quantity("980 cm", 9.8), "length")) == "9.8\u00a0m"
    assert str(METRIC.shown(Quantity("50 kHz", 50e3), "frequency")) == "50\u00a0kHz"
    assert str(US.shown(Quantity("41 ft 6 in", 12.6492), "length")) == "41 ft 6 in"


@pytest.mark.parametrize(
    ("value", "digits", "decimals", "text"),
    [
        (0.0, 4, 3, "0"), (1234.5678, 5, 3, "1234.6"), (12345.678, 5, 3, "12\u202f346"), (0.23137, 5, 3, "0.231"),
        (9.8886, 5, 3, "9.889"), (0.00004, 5, 3, "0.00004"), (-2.5, 4, 3, "−2.5"), (1e20, 4, 3, "1.000e+20"),
        (10.0, 5, 3, "10"), (1e6, 5, 3, "1\u202f000\u202f000"),
    ],
)  # fmt: skip
def test_numbers_are_shown_with_digits_and_decimals(value: float, digits: int, decimals: int, text: str) -> None:
    assert format_number(value, digits, decimals) == text


@given(st.text(max_size=80), st.sampled_from(sorted(KINDS)))
def test_any_text_is_read_or_refused_with_a_sentence(text: str, kind: str) -> None:
    try:
        quantity = METRIC.parse(text, kind)
    except UnreadableQuantity as refused:
        sentence = str(refused)
    else:
        sentence = "read"
        assert quantity.si is None or math.isfinite(quantity.si)
        assert METRIC.parse(quantity.typed, kind) == quantity
    assert sentence


@given(st.floats(-1e6, 1e6), st.sampled_from(["m", "mm", "ft", "in"]))
def test_round_trip(value: float, unit: str) -> None:
    quantity = METRIC.parse(f"{value!r} {unit}", "length")
    assert quantity.si is not None
    assert from_si(quantity.si, unit, "length") == pytest.approx(value, rel=1e-12, abs=1e-12)
