"""Seals and wetted materials: practice values, and that what is unknown stays unknown."""

import math
import tomllib
from pathlib import Path

import pytest

from instruments.physics import wetted
from instruments.physics.wetted import (
    GOOD,
    LIMITED,
    MEDIUM_KINDS,
    UNSUITABLE,
    Suitability,
    find_material,
    suitability,
    temperature_verdict,
)

A_HAIR_K = 1e-6
CLASSES = Path(wetted.__file__).parent.parent / "data" / "sensor_classes"

# Ranges on which published seal handbooks agree within 20 K, °C: what every usual compound stands, then what some do.
RANGES = {
    "FKM": (-20, 200, None, None),
    "FFKM": (-15, 260, -20, 325),
    "EPDM": (-40, 150, -50, None),
    "NBR": (-30, 100, -40, 120),
    "HNBR": (-30, 150, None, None),
    "VMQ": (-60, 200, None, None),
    "FVMQ": (-60, 175, None, None),
    "PTFE": (-200, 260, None, None),
    "PEEK": (-60, 250, None, None),
    "316L": (-196, 450, None, None),
}


def at(material: str, celsius: float) -> str | None:
    return temperature_verdict(material, celsius + 273.15)


@pytest.mark.parametrize("material", RANGES)
def test_temperature_ranges_to_a_hair(material: str) -> None:
    low, high, special_low, special_high = RANGES[material]
    for inside in (low, low + A_HAIR_K, high - A_HAIR_K, high):
        assert at(material, inside) == "within"
    assert at(material, high + A_HAIR_K) == ("above" if special_high is None else "special_compound")
    assert at(material, low - A_HAIR_K) == ("below" if special_low is None else "special_compound")
    if special_high is not None:
        assert at(material, special_high) == "special_compound"
        assert at(material, special_high + A_HAIR_K) == "above"
    if special_low is not None:
        assert at(material, special_low) == "special_compound"
        assert at(material, special_low - A_HAIR_K) == "below"
    assert find_material(material).origin == "practice"


def test_a_limit_that_is_unknown_gives_no_verdict() -> None:
    assert at("N06022", 20.0) is None  # its lowest temperature is not tabulated
    assert at("N06022", 401.0) == "above"  # about 400 °C, from memory
    assert at("titanium", 20.0) is None
    assert at("none, welded", 20.0) is None


def test_ptfe_is_not_elastic() -> None:
    assert find_material("PTFE").kind == "plastic"
    assert find_material("FKM").kind == "elastomer"


@pytest.mark.parametrize(
    # Common practice, no source.
    ("material", "kind", "verdict"),
    [
        ("FKM", "ketones", UNSUITABLE),
        ("FKM", "amines", UNSUITABLE),
        ("FKM", "hot_water", UNSUITABLE),
        ("FKM", "steam", UNSUITABLE),
        ("FKM", "aliphatic_hydrocarbons", GOOD),
        ("FKM", "vegetable_oil", GOOD),
        ("EPDM", "aliphatic_hydrocarbons", UNSUITABLE),
        ("EPDM", "aromatic_hydrocarbons", UNSUITABLE),
        ("EPDM", "mineral_oil", UNSUITABLE),
        ("EPDM", "ketones", GOOD),
        ("EPDM", "steam", GOOD),
        ("NBR", "mineral_oil", GOOD),
        ("NBR", "ketones", UNSUITABLE),
        ("316L", "hydrochloric_acid", UNSUITABLE),
        ("316L", "hot_chlorides", UNSUITABLE),
        ("316L", "chlorides", LIMITED),
        ("316", "hydrochloric_acid", UNSUITABLE),
        ("1.4404", "vegetable_oil", GOOD),
        ("N06022", "hot_chlorides", GOOD),
        ("N06022", "dilute_mineral_acid", GOOD),
        ("PTFE", "ketones", GOOD),
        ("PTFE", "caustic", GOOD),
        ("PTFE", "molten_alkali_metal", UNSUITABLE),
        ("PTFE", "fluorine", UNSUITABLE),
        ("PVDF", "caustic", UNSUITABLE),
        ("titanium", "hydrochloric_acid", UNSUITABLE),
    ],
)
def test_suitability_of_practice(material, kind, verdict) -> None:
    found = suitability(material, kind)
    assert (found.verdict, found.origin) == (verdict, "practice")


def test_limits_that_go_with_a_medium() -> None:
    # Seal handbooks: FKM in steam and amines below 150 °C at most, and then special compounds only.
    for kind in ("steam", "amines"):
        found = suitability("FKM", kind)
        assert (found.maximum_k, found.note) == (pytest.approx(423.15), "special")
    assert suitability("316L", "caustic").maximum_k == pytest.approx(353.15)
    assert suitability("PTFE", "ketones").maximum_k is None


def test_ptfe_is_poor_for_molten_alkali_and_fluorine_only() -> None:
    assert {kind for kind in MEDIUM_KINDS if suitability("PTFE", kind).verdict != GOOD} == {
        "molten_alkali_metal", "fluorine",
    }  # fmt: skip


def test_what_is_not_in_the_table_is_unknown() -> None:
    unknown = Suitability(None)
    assert suitability("VMQ", "wet_chlorine") == unknown
    assert suitability("unheard-of rubber", "water") == unknown
    assert suitability("", "water") == unknown
    assert find_material("none, welded") is None
    assert unknown.origin == ""


def test_bad_input_is_named() -> None:
    with pytest.raises(ValueError, match="medium_kind is 'beer'; accepted is one of water, hot_water"):
        suitability("FKM", "beer")
    for kelvin in (math.nan, -1.0):
        with pytest.raises(ValueError, match="temperature_k"):
            temperature_verdict("unheard-of rubber", kelvin)


def test_materials_of_the_sensor_classes_are_known() -> None:
    """Every seal and wetted material of the shipped classes is found, but for "none, …"."""
    names: set[str] = set()
    for path in CLASSES.glob("*.toml"):
        for stem in ("wetted_materials", "seals"):
            names |= set(_lists(tomllib.loads(path.read_text(encoding="utf-8")), stem))
    assert {"FKM", "PTFE", "316L"} <= names
    assert [name for name in names if find_material(name) is None and not name.startswith("none")] == []


def _lists(table: dict, stem: str) -> list[str]:
    """All texts of a list by that name, wherever in the file it stands."""
    found: list[str] = []
    for key, value in table.items():
        if isinstance(value, dict):
            found += _lists(value, stem)
        elif key == stem and isinstance(value, list):
            found += value
    return found
