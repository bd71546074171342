"""The media library against published values; what is not known stays empty."""

import math
from dataclasses import FrozenInstanceError, replace

import CoolProp.CoolProp as coolprop
import iapws
import pytest
from chemicals import permittivity, safety, volume
from chemicals.identifiers import MW

from instruments.checks.case import Case, Row
from instruments.checks.media import density_in
from instruments.physics.wetted import MEDIUM_KINDS
from project.quantities import PlantUnits, Quantity
from project.registry import REGISTRY
from tests.checks.builders import finding_of, make_case, make_row
from vessels.field_defs import CHEMISTRIES
from vessels.media_library import (
    COLUMNS,
    LIBRARY,
    RANGES,
    SINGLES,
    LibraryMedium,
    find_medium,
    found_media,
    read_library,
)

UNITS = PlantUnits()
ATMOSPHERE_PA = 101_325.0
IEC = "IEC 60079-20-1 (2010)"

# Reference equations of state, by their names in the library CoolProp.
EQUATIONS = {
    "Water": "Water", "Methanol": "Methanol", "Ethanol": "Ethanol", "Acetone": "Acetone", "Benzene": "Benzene",
    "Toluene": "Toluene", "n-Hexane": "Hexane", "Cyclohexane": "CycloHexane", "Ammonia": "Ammonia",
    "Chlorine": "Chlorine", "Propane": "Propane", "n-Butane": "Butane", "Propylene": "Propylene",
    "Ethylene": "Ethylene", "Methane (LNG)": "Methane", "Carbon dioxide": "CO2", "Nitrogen": "Nitrogen",
    "Oxygen": "Oxygen", "Argon": "Argon", "Hydrogen": "ParaHydrogen",
}  # fmt: skip


def medium(name: str) -> LibraryMedium:
    found = find_medium(name)
    assert found is not None, name
    return found


def si(quantity: Quantity) -> float:
    assert quantity.si is not None
    return quantity.si


def table(**cells: str) -> str:
    """A table with one row: water at 20 °C, but for the cells given."""
    row = dict.fromkeys(COLUMNS, "") | {
        "name": "Water", "kind": "liquid", "density": "998.2 kg/m³", "density_temperature": "20 °C",
        "confidence": "high", "source": "handbook",
    } | cells  # fmt: skip
    return "# a comment\n" + ",".join(COLUMNS) + "\n" + ",".join(row[column] for column in COLUMNS) + "\n"


def test_the_library_holds_what_it_should() -> None:
    assert len(LIBRARY) > 100
    assert {one.kind for one in LIBRARY} == {"liquid", "liquefied_gas", "solid"}
    assert sum(one.is_mixture for one in LIBRARY) >= 13
    assert medium("LPG (propane/butane mix)").kind == "liquefied_gas"  # its own vapour stands above it, not air
    assert all(one.source for one in LIBRARY)
    assert sum(one.confidence == "high" for one in LIBRARY) > 40


@pytest.mark.parametrize("one", LIBRARY, ids=lambda one: one.name)
def test_every_row_reads_as_quantities_in_plausible_ranges(one: LibraryMedium) -> None:
    for stem in (*RANGES, *SINGLES):
        kind = REGISTRY[f"medium.{stem}"].kind
        held = getattr(one, stem)
        for quantity in (held,) if stem in SINGLES else (held.lowest, held.highest):
            assert UNITS.parse(quantity.typed, kind) == quantity
    if not one.density.missing:
        low, high = si(one.density.lowest), si(one.density.highest)
        assert 50.0 <= low <= high <= 3200.0
        assert one.kind == "solid" or not one.density_temperature.missing
    if not one.permittivity.missing:
        assert 1.0 < si(one.permittivity.lowest) <= si(one.permittivity.highest) < 90.0
    for stem, lowest_c, highest_c in (
        ("density_temperature", -253.0, 100.0), ("permittivity_temperature", -253.0, 150.0),
        ("flash_point", -50.0, 130.0), ("ignition_temperature", 90.0, 650.0),
    ):  # fmt: skip
        kelvin = getattr(one, stem).si
        assert kelvin is None or lowest_c <= kelvin - 273.15 <= highest_c, stem
    if not one.angle_of_repose.missing:
        assert one.kind == "solid"
        assert (
            20.0 <= math.degrees(si(one.angle_of_repose.lowest)) <= math.degrees(si(one.angle_of_repose.highest)) <= 50
        )


@pytest.mark.parametrize("name", EQUATIONS)
def test_densities_are_those_of_reference_equations_of_state(name: str) -> None:
    """Within 0.2 % of the equations of state that the library CoolProp collects: at 101.325 kPa, or saturated."""
    one, fluid = medium(name), EQUATIONS[name]
    temperature_k = si(one.density_temperature)
    saturated = one.kind == "liquefied_gas"
    second = ("Q", 0.0) if saturated else ("P", ATMOSPHERE_PA)
    expected = coolprop.PropsSI("D", "T", temperature_k, *second, fluid)
    assert si(one.density.lowest) == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize("one", [one for one in LIBRARY if "DIPPR_PERRY_8E" in one.source], ids=lambda one: one.name)
def test_other_densities_are_those_of_the_handbook(one: LibraryMedium) -> None:
    """Perry's Chemical Engineers' Handbook, 8th edition, table 2-32, equation 105, kept in the library chemicals."""
    row = volume.rho_data_Perry_8E_105_l.loc[one.cas]
    temperature_k = si(one.density_temperature)
    exponent = 1.0 + (1.0 - temperature_k / row["C3"]) ** row["C4"]
    expected = row["C1"] / row["C2"] ** exponent * MW(one.cas) / 1000.0
    assert si(one.density.lowest) == pytest.approx(expected, rel=2e-3)


@pytest.mark.parametrize("one", [one for one in LIBRARY if "CRC Hdbk 2014 via" in one.source], ids=lambda one: one.name)
def test_permittivities_are_those_of_the_handbook(one: LibraryMedium) -> None:
    """CRC Handbook of Chemistry and Physics, "Permittivity of liquids": its polynomial, or its one point."""
    row = permittivity.permittivity_data_CRC.loc[one.cas]
    temperature_k = si(one.permittivity_temperature)
    if "(point)" in one.source:
        expected = row["Permittivity"]
        assert temperature_k == pytest.approx(row["T"], abs=0.06)
    else:
        terms = [0.0 if math.isnan(row[key]) else row[key] for key in "ABCD"]
        expected = sum(term * temperature_k**power for power, term in enumerate(terms))
    assert si(one.permittivity.lowest) == pytest.approx(expected, rel=1e-3)


def test_spot_values_of_the_handbook() -> None:
    # CRC Handbook of Chemistry and Physics: εr of water 80.1, ethanol 25.3, methanol 33.0, at 20 °C.
    assert si(medium("Water").permittivity.lowest) == pytest.approx(80.15, abs=0.01)
    assert si(medium("Ethanol").permittivity.lowest) == pytest.approx(25.3, abs=0.2)
    assert si(medium("Methanol").permittivity.lowest) == 33.0
    assert si(medium("Water").permittivity_temperature) == pytest.approx(293.15)


def test_boiling_water_is_that_of_the_steam_tables() -> None:
    """IAPWS-95 density of the saturated liquid at 100 °C; IAPWS R8-97 static permittivity (both by library iapws)."""
    one = medium("Condensate (water)")
    saturated = iapws.IAPWS95(T=373.15, x=0)
    assert si(one.density.lowest) == pytest.approx(saturated.rho, rel=1e-3)
    assert si(one.permittivity.lowest) == pytest.approx(saturated.epsilon, rel=1e-3)


@pytest.mark.parametrize(
    "one", [one for one in LIBRARY if "ignition IEC" in one.source or not one.is_mixture], ids=lambda one: one.name
)
def test_flash_points_and_ignition_are_those_of_the_standard(one: LibraryMedium) -> None:
    """IEC 60079-20-1:2010, table of gases and vapours, as kept in the library chemicals."""
    if not one.cas:
        assert one.flash_point.missing
        assert one.ignition_temperature.missing
        return
    flash_k, ignition_k = safety.T_flash(one.cas, method=IEC), safety.T_autoignition(one.cas, method=IEC)
    assert one.flash_point.si == (None if flash_k is None else pytest.approx(flash_k, abs=0.5))
    assert one.ignition_temperature.si == (None if ignition_k is None else pytest.approx(ignition_k, abs=0.5))


@pytest.mark.parametrize(
    "one", [one for one in LIBRARY if not one.ignition_temperature.missing], ids=lambda one: one.name
)
def test_temperature_classes_follow_from_ignition(one: LibraryMedium) -> None:
    """IEC 60079-20-1: T1 above 450 °C, T2 above 300, T3 above 200, T4 above 135, T5 above 100, T6 above 85."""
    ignition_c = si(one.ignition_temperature) - 273.15
    bounds = {"T1": 450.0, "T2": 300.0, "T3": 200.0, "T4": 135.0, "T5": 100.0, "T6": 85.0}
    assert one.temperature_class == next(name for name, bound in bounds.items() if ignition_c > bound + 1e-9)


def test_what_is_not_known_stays_empty() -> None:
    for name in ("Vinyl acetate", "Methyl tert-butyl ether", "Sulfuric acid", "Propylene oxide", "Vinyl chloride"):
        assert medium(name).permittivity.missing, name
        assert "permittivity" not in medium(name).entered()
        assert "permittivity_temperature" not in medium(name).entered()
        assert "εr left empty, not sourced" in medium(name).provenance
    # "Conductive" and "above 4" are no figures.
    for name in ("Caustic soda 50 % w/w", "Carbon black (pelletised)", "Iron ore"):
        assert medium(name).permittivity.missing, name
        assert f"εr left empty ({medium(name).permittivity_remark})" in medium(name).provenance


def test_a_copy_has_one_value_of_a_range_and_says_which() -> None:
    petrol = medium("Gasoline (petrol)")
    values = petrol.entered()
    assert (values["density"], values["permittivity"]) == (Quantity("747.5 kg/m³", 747.5), Quantity("1.9", 1.9))
    assert "density 720 kg/m³ to 775 kg/m³, middle entered" in petrol.provenance
    assert "εr 1.9 to 2.1, lowest entered" in petrol.provenance
    coke = medium("Petroleum coke")  # 600 to 800 kg/m³: 14 % from the middle
    assert not {"density", "density_temperature"} & set(coke.entered())
    assert "density 600 kg/m³ to 800 kg/m³, left empty" in coke.provenance
    assert coke.entered()["angle_of_repose"] == Quantity("45°", math.radians(45.0))
    assert "repose 35° to 45°, steepest entered" in coke.provenance


def test_a_density_range_stands_for_its_middle_up_to_ten_percent() -> None:
    at_limit, beyond = (read_library(table(density=f"90 to {high} kg/m³"))[0] for high in ("110", "110.1"))
    assert at_limit.entered()["density"] == Quantity("100 kg/m³", 100.0)
    assert "density" not in beyond.entered()


@pytest.mark.parametrize("one", LIBRARY, ids=lambda one: one.name)
def test_a_copy_fits_the_fields_of_a_medium(one: LibraryMedium) -> None:
    for stem, value in one.entered().items():
        definition = REGISTRY[f"medium.{stem}"]
        if definition.is_quantity:
            assert isinstance(value, Quantity)
        elif definition.kind == "choice":
            assert value in dict(definition.choices)
        else:
            assert isinstance(value, str)
            assert len(value) <= definition.longest
    assert one.provenance.startswith(f"Media library, confidence {one.confidence}; ")


def test_a_liquefied_gas_keeps_the_temperature_of_its_density() -> None:
    entered = medium("Chlorine").entered()["density_temperature"]
    assert isinstance(entered, Quantity)
    assert si(entered) - 273.15 == pytest.approx(-65.1)
    assert si(medium("Propylene").density_temperature) - 273.15 == pytest.approx(-53.1)


def case_with(name: str, temperature: str) -> Case:
    """A radar on a tank with a medium copied from the library, at that temperature."""
    row = make_row("case", {"kind": "normal", "medium": "m1", "temperature": temperature, "pressure": "0 bar(g)"})
    return replace(make_case(), media=(Row("m1", dict(medium(name).entered())),), operating_cases=(row,))


@pytest.mark.parametrize(
    ("temperature", "known"), [("-65.1 °C", True), ("-55.1 °C", True), ("-55.0 °C", False), ("20 °C", False)]
)
def test_a_density_at_the_boiling_point_is_missing_beyond_ten_kelvin(temperature: str, known: bool) -> None:
    """A bullet of chlorine in the sun is far lighter than chlorine that boils at 1 bar(a)."""
    case = case_with("Chlorine", temperature)
    found = density_in(case, case.operating_cases[0], "density")
    assert found.value == (1648.5 if known else None)
    assert ("case.density" in found.missing) is not known


def test_an_empty_permittivity_is_missing_in_the_checks() -> None:
    assert finding_of(case_with("Vinyl acetate", "20 °C"), "reach.permittivity").grade == "missing"
    assert finding_of(case_with("Acetone", "20 °C"), "reach.permittivity").grade == "pass"


def test_search_and_order() -> None:
    assert [one.name for one in found_media("diesel gas")] == ["Diesel / gas oil"]
    assert found_media("no such medium") == []
    assert {one.kind for one in found_media("bulk solid")} == {"solid"}
    assert [one.name for one in found_media("75-09-2")] == ["Dichloromethane"]
    names = [one.name for one in found_media()]
    assert names.index("1,2-Dichloroethane") < names.index("2-Propanol") < names.index("Acetone") < names.index("Water")
    assert [one.name for one in found_media(sort="-name")] == names[::-1]
    for sort in ("permittivity", "-permittivity"):
        found = found_media(sort=sort)
        values = [si(one.permittivity.lowest) for one in found if not one.permittivity.missing]
        assert values == sorted(values, reverse=sort.startswith("-"))
        assert all(one.permittivity.missing for one in found[len(values) :])
        assert len(found) == len(LIBRARY)
    with pytest.raises(ValueError, match="accepted is one of name, kind, density"):
        found_media(sort="colour")


def test_the_rows_cannot_be_changed() -> None:
    with pytest.raises(FrozenInstanceError):
        LIBRARY[0].name = "Wine"
    assert isinstance(LIBRARY, tuple)


def test_kinds_of_chemistry_are_those_of_the_wetted_materials() -> None:
    assert tuple(key for key, _label in CHEMISTRIES) == MEDIUM_KINDS
    # By family, common practice without a source.
    assert (medium("Acetone").chemistry, medium("Toluene").chemistry) == ("ketones", "aromatic_hydrocarbons")
    assert medium("Diethyl ether").chemistry == ""


@pytest.mark.parametrize(
    ("cells", "message"),
    [
        ({"density": "1 m"}, "a density is wanted"),
        ({"density": "800 to 700 kg/m³"}, "from the lower to the higher end"),
        ({"permittivity": "about 3"}, "not readable"),
        ({"kind": "gas"}, "kind is 'gas'; accepted is one of liquid"),
        ({"chemistry": "beer"}, "chemistry is 'beer'"),
        ({"confidence": ""}, "confidence is ''"),
        ({"source": ""}, "name and source"),
    ],
)
def test_a_faulty_table_is_refused_by_row(cells: dict[str, str], message: str) -> None:
    with pytest.raises(ValueError, match=r"medium 1 \(") as refused:
        read_library(table(**cells))
    assert message in str(refused.value)


def test_a_name_stands_once_and_the_header_is_checked() -> None:
    once = table()
    with pytest.raises(ValueError, match="medium 2 \\(water\\) stands twice"):
        read_library(once + once.splitlines()[-1].replace("Water", "water"))
    with pytest.raises(ValueError, match="the header is name"):
        read_library(once.replace("source\n", "origin\n"))
