"""Rating of the nozzle's flange, and whether the sensor's connection fits it."""

import pytest

from instruments.checks.connection import Connection, read_offer, read_standard, thread_size
from instruments.checks.finding import Grade
from instruments.wording import describe
from tests.checks.builders import (
    CLASS_FILES,
    GOOD_CASES,
    GOOD_TAPS,
    HORN,
    UNITS,
    finding_of,
    make_case,
    make_seals_case,
)
from tests.checks.variants_process import ASME_316L, HOT_30_BAR, NO_DESIGN, SENSOR, THREE_INCH, flange_case, sensor_case

RATING, CONNECTION = "process.flange_rating", "process.connection"
HOT = {"vessel.design_temperature_max": "250 °C"}


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


# --- rating -------------------------------------------------------------------------------------------------


def test_plain_316l_of_class_300_at_250_degrees():
    """ASME B16.5-2009, table 2-2.3: group 2.3, class 300, 250 °C: 27.5 bar; group 2.2 would carry 33.4 bar."""
    found = finding_of(flange_case(HOT_30_BAR), RATING)
    assert (found.grade, found.variant, found.params["group"]) == (Grade.STOP, "beyond_design", "2.3")
    assert found.margin_si == pytest.approx(-2.5e5)
    assert plain(describe(found, UNITS).sentence) == (
        "The flange NPS 3 class 300 of 316L (group 2.3) carries only 27.5 bar(g) at the design temperature of 250 °C: "
        "the design pressure of 30 bar(g) is 2.5 bar too high."
    )
    assert [plain(cure) for cure in describe(found, UNITS).cures] == ["Use a nozzle flange of rating 400 or higher."]
    dual = finding_of(flange_case({**HOT_30_BAR, "nozzle.material": "316/316L"}), RATING)
    assert (dual.grade, dual.params["group"]) == (Grade.PASS, "2.2")


def test_by_a_hair():
    limit = {**HOT, "vessel.design_pressure_max": "27.5 bar(g)"}
    assert (finding_of(flange_case(limit), RATING).grade, finding_of(flange_case(limit), RATING).margin_si) == (
        Grade.PASS, 0.0,
    )  # fmt: skip
    over = finding_of(flange_case({**limit, "vessel.design_pressure_max": "27.5001 bar(g)"}), RATING)
    assert over.grade is Grade.STOP
    assert over.margin_si == pytest.approx(-10.0, abs=0.01)


def test_between_two_temperatures_it_is_interpolated():
    """ASME B16.5-2009, group 1.1, class 150: 17.7 bar at 100 °C, 15.8 at 150 °C, so 16.94 at 120 °C."""
    found = finding_of(
        make_case({"nozzle.standard": "asme_b16_5", "nozzle.size": "NPS 3", "nozzle.rating": "class 150",
                   "nozzle.material": "A105", "vessel.design_temperature_max": "120 °C"}), RATING)  # fmt: skip
    assert found.available_si == pytest.approx(16.94e5 + 101_325)
    lines = [plain(line) for line in describe(found, UNITS).working]
    assert lines[0].startswith("p_T = p_1 + (p_2 − p_1) · (T − T_1)/(T_2 − T_1)")
    assert lines[0].endswith("= 16.94 bar(g)")
    assert "table 2-1.1" in found.source


def test_where_it_comes_from_is_said():
    assert "read in the table" in finding_of(flange_case({"nozzle.material": "A105"}), RATING).source
    assert "from memory" in finding_of(make_case({"nozzle.material": "1.4404"}), RATING).source


def test_the_worst_is_not_the_normal_case():
    found = finding_of(make_case({"case.Maximum.pressure": "17 bar(g)"}), RATING)
    assert (found.grade, found.where.case) == (Grade.STOP, "Maximum")
    hot = finding_of(make_case({"case.Minimum.temperature": "380 °C", "case.Minimum.pressure": "11 bar(g)"}), RATING)
    assert (hot.grade, hot.where.case) == (Grade.STOP, "Minimum")


def test_the_weaker_of_two_taps_counts():
    weak = {"upper": GOOD_TAPS["upper"], "lower": {**GOOD_TAPS["lower"], "rating": "PN 2.5"}}
    found = finding_of(make_seals_case({"vessel.design_pressure_max": "2.6 bar(g)"}, taps=weak), RATING)
    assert (found.grade, found.params["mark"]) == (Grade.STOP, "N6")


@pytest.mark.parametrize(
    "changes, missing",
    [
        ({"nozzle.material": None}, "nozzle.material"),
        ({"nozzle.rating": None}, "nozzle.rating"),
        ({"nozzle.standard": None}, "nozzle.standard"),
        ({"nozzle.material": "S235"}, "tables.flange_material"),
        ({"nozzle.material": "316L"}, "tables.flange_material"),  # a name of the other standard
        ({"nozzle.rating": "PN 160"}, "tables.flange_rating"),
        ({"vessel.design_temperature_max": "401 °C"}, "tables.flange_above"),
        ({"vessel.design_temperature_min": "-11 °C"}, "tables.flange_below"),  # EN 1092-1, 3E0: from about −10 °C
        ({"vessel.design_pressure_max": None}, "vessel.design_pressure_max"),
        ({"case.Normal.temperature": None}, "case.temperature"),
    ],
)
def test_what_is_missing(changes, missing):
    found = finding_of(make_case(changes), RATING)
    assert (found.grade, found.missing) == (Grade.MISSING, (missing,))
    assert describe(found, UNITS).missing[0] != missing


def test_least_metal_temperature_of_asme_tables():
    """ASME B16.5: the tables begin at −29 °C."""
    assert finding_of(flange_case({"vessel.design_temperature_min": "-29 °C"}), RATING).grade is Grade.PASS
    assert finding_of(flange_case({"vessel.design_temperature_min": "-29.01 °C"}), RATING).missing == (
        "tables.flange_below",
    )


def test_no_flange_of_these_standards_strong_enough():
    found = finding_of(flange_case({**HOT_30_BAR, "vessel.design_pressure_max": "900 bar(g)"}), RATING)
    assert [cure.code for cure in found.cures] == ["other_flange_material"]


def test_a_design_case_in_place_of_design_values():
    design = {"kind": "design", "display": "Design", "medium": "m1", "temperature": "250 °C", "pressure": "30 bar(g)"}
    case = make_case({**ASME_316L, **NO_DESIGN}, cases=(*GOOD_CASES, design))
    assert (finding_of(case, RATING).grade, finding_of(case, RATING).where.case) == (Grade.STOP, "Design")


# --- connection ---------------------------------------------------------------------------------------------


def test_three_inch_class_150_on_dn_80_pn_16():
    """Drilling: EN 1092-1 DN 80 PN 16, 160 mm, 8 × 18 mm; ASME B16.5 NPS 3 class 150, 152.4 mm, 4 × 19.1 mm."""
    found = finding_of(sensor_case(THREE_INCH), CONNECTION)
    assert found.grade is Grade.STOP
    assert plain(describe(found, UNITS).sentence) == (
        "The sensor's 3 in class 150 RF does not fit the nozzle's DN 80 PN 16 B1: 4 holes of 19.1 mm on a circle of "
        "152.4 mm meet 8 holes of 18 mm on a circle of 160 mm."
    )


@pytest.mark.parametrize(
    "changes, grade, variant",
    [
        ({}, Grade.PASS, "fits"),
        ({"measurement.connection_rating": "PN 10"}, Grade.CAUTION, "lower_rating"),
        ({"measurement.connection_facing": "A"}, Grade.CAUTION, "raised_flat"),
        ({"measurement.connection_rating": "PN 6"}, Grade.STOP, "drilling"),
        ({**THREE_INCH, "measurement.adapter": "Spool, DN 80 PN 16 to NPS 3 class 150"}, Grade.PASS, "adapter"),
        ({**THREE_INCH, "measurement.adapter_length": "150 mm"}, Grade.CAUTION, "adapter_unnamed"),
    ],
)
def test_flanges(changes, grade, variant):
    found = finding_of(sensor_case(changes), CONNECTION)
    assert (found.grade, found.variant) == (grade, variant)


@pytest.mark.parametrize(
    "changes, missing",
    [
        ({"measurement.connection_size": None}, {"measurement.connection_size"}),
        ({"measurement.connection_standard": None}, {"measurement.connection_standard"}),
        ({"measurement.connection_standard": "works standard"}, {"tables.connection_standard"}),
        ({"measurement.connection_rating": None}, {"measurement.connection_rating"}),
        ({"measurement.connection_facing": None}, {"measurement.connection_facing"}),
        ({"measurement.connection_facing": "smooth"}, {"tables.flange_dimensions"}),
        ({"measurement.connection_size": "large"}, {"tables.flange_dimensions"}),
        ({"nozzle.facing": None}, {"nozzle.facing"}),
        ({"nozzle.size": None}, {"nozzle.size"}),
        ({"nozzle.standard": "other"}, {"tables.connection_standard"}),
    ],
)
def test_unknown_is_missing(changes, missing):
    found = finding_of(sensor_case(changes), CONNECTION)
    assert (found.grade, set(found.missing)) == (Grade.MISSING, missing)
    assert not any(label.startswith("tables.") for label in describe(found, UNITS).missing)


def test_what_the_class_offers():
    bare = {"measurement.adapter": None}
    found = finding_of(make_case({**bare, "nozzle.rating": "PN 40"}, sensor_class=HORN), CONNECTION)
    assert (found.grade, found.variant, found.params["sensor"]) == (Grade.PASS, "offered", "DN 80 PN 40, EN 1092-1")
    # PN 16 and PN 40 have the same drilling at DN 80, but not at DN 100, and another size never fits.
    assert finding_of(make_case(bare, sensor_class=HORN), CONNECTION).variant == "offered"
    assert (
        finding_of(make_case({**bare, "nozzle.size": "DN 100"}, sensor_class=HORN), CONNECTION).grade is Grade.CAUTION
    )
    assert finding_of(make_case(bare, sensor_class=None), CONNECTION).missing == ("measurement.sensor_class",)
    assert finding_of(make_case({**bare, "nozzle.rating": None}), CONNECTION).missing == ("nozzle.rating",)


def test_every_connection_that_a_class_offers_can_be_read():
    for path in CLASS_FILES.glob("*.toml"):
        for line in path.read_text(encoding="utf-8").splitlines():
            if line.startswith("connections = "):
                for offer in line.partition("[")[2].rstrip("]").split('", "'):
                    if "ISO 228" in offer or "B16.5" in offer or "EN 1092" in offer or "B1.20.1" in offer:
                        assert read_offer(offer.strip('"')) is not None, (path.name, offer)


def test_how_connections_are_read():
    assert [read_standard(text) for text in ("EN 1092-1", "asme_b16_5", "Thread G, ISO 228-1", "NPT", "own", "")] == [
        "en_1092_1", "asme_b16_5", "iso_228_1", "asme_b1_20_1", "", "",
    ]  # fmt: skip
    assert thread_size("G 1½") == thread_size("1-1/2") == thread_size("NPT 1 1/2") == "1 1/2"
    assert read_offer("DN 50 PN 40, EN 1092-1") == Connection("en_1092_1", "DN 50", "PN 40")
    assert read_offer("wafer") is None


def test_the_worse_of_two_seals_counts():
    taps = {"upper": {**GOOD_TAPS["upper"], "size": "DN 80"}, "lower": GOOD_TAPS["lower"]}
    assert finding_of(make_seals_case(SENSOR, taps=taps), CONNECTION).variant == "size"
