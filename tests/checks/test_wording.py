"""Findings and figures in words: a sentence for everything that the checks say, and nothing more."""

import re
from dataclasses import replace

import pytest

from instruments.checks.case import Strapping
from instruments.checks.figures import key_figures
from instruments.checks.finding import Figure, Finding, Grade, Input, Where, Working
from instruments.checks.registry import CHECKS, FAMILIES, run_checks
from instruments.wording import (
    class_value_text,
    describe,
    describe_figure,
    field_label,
    shown_text,
    working_lines,
)
from instruments.wording_sentences import SENTENCES, TITLES
from instruments.wording_texts import (
    CURES,
    FAMILY_LABELS,
    FIGURE_LABELS,
    FIGURE_NOTES,
    GRADE_LABELS,
    SYMBOLS,
)
from project.quantities import PlantUnits
from project.registry import REGISTRY
from tests.checks.builders import (
    RADAR,
    ULTRASONIC,
    UNITS,
    finding_of,
    make_case,
    make_class,
    make_legs_case,
    make_silo_case,
)
from tests.checks.variants import VARIANTS

US = PlantUnits("us")
# A roof that is not level where the nozzle stands.
CURVED = make_case({"vessel.top": "hemisphere"})
TABLE = Strapping("linear", ((0.3, 1.0), (6.0, 150.0), (12.0, 320.0)))
BY_TABLE = {"vessel.capacity_from": "table"}
COIL = {"kind": "coil", "elevation_low": "1 m", "elevation_high": "2 m", "displaced_volume": "1.5 m³"}
# Between them every key figure, with everything that there is to know of it.
FIGURE_CASES = (
    make_case({"vessel.outlet_elevation": "0.7 m"}, internals=[COIL]),
    make_case({"measurement.urv": "13 m"}),
    make_legs_case(),
    make_case(BY_TABLE, strapping=TABLE),
    make_case({**BY_TABLE, "measurement.lrv": "0.2 m"}, strapping=TABLE),
    make_silo_case({"measurement.urv": "9 m", "vessel.inlet_radius": "1 m", "vessel.inlet_bearing": "90°",
                    "nozzle.bearing": "0°"}),
    make_silo_case({"measurement.urv": "9 m", "vessel.inlet_radius": "1 m", "nozzle.radius": "0 m"}),
    make_silo_case({"vessel.inlet_radius": None, "vessel.outlet_radius": None}),
    make_silo_case({"vessel.cylinder_height": "1.5 m"}),
)  # fmt: skip
SPACE = "\u00a0"


def plain(text: str) -> str:
    return text.replace(SPACE, " ")


def test_a_sentence_for_every_variant_and_no_more():
    assert set(SENTENCES) == set(VARIANTS)


@pytest.mark.parametrize("code, variant", list(VARIANTS))
def test_every_variant_happens_and_reads_well(code, variant):
    case = VARIANTS[code, variant]()
    found = [one for one in run_checks(case) if (one.code, one.variant) == (code, variant)]
    assert found, sorted({(one.code, one.variant) for one in run_checks(case) if one.code == code})
    for units in (UNITS, US):
        described = describe(found[0], units, case.unreadable)
        for text in (described.sentence, *described.cures, *described.working):
            assert text == text.strip()
            assert not re.search(r"%\(|\{|  |None|nan|inf\b", text), text
        assert described.sentence.endswith(".")
        assert described.title
        assert described.grade_label


def test_titles_labels_and_families_match_the_registry():
    assert set(TITLES) == {check.code for check in CHECKS} == {code for code, _ in SENTENCES}
    assert tuple(FAMILY_LABELS) == FAMILIES
    assert set(GRADE_LABELS) == {grade.value for grade in Grade}


def test_a_sentence_for_every_cure_and_no_more():
    offered = {cure.code for build in VARIANTS.values() for one in run_checks(build()) for cure in one.cures}
    assert offered == set(CURES)


def test_a_label_for_every_figure_and_no_more():
    assert {figure.key for case in FIGURE_CASES for figure in key_figures(case)} == set(FIGURE_LABELS)


def test_every_note_of_a_figure_happens_and_reads_well_and_no_more():
    figures = [(one, case) for case in FIGURE_CASES for one in key_figures(case)]
    assert {note for one, _case in figures for note in one.notes} == set(FIGURE_NOTES)
    for units in (UNITS, US):
        for one, case in figures:
            note = describe_figure(one, units, case.unreadable).note
            assert note == note.strip()
            assert not re.search(r"%\(|\{|  |None|nan|inf\b", note), note


def test_a_meaning_for_every_symbol_and_no_more():
    findings = [one for build in VARIANTS.values() for one in run_checks(build())]
    open_tank = make_legs_case({"medium.density_vapour": None})
    figures = [one for case in (CURVED, open_tank, *FIGURE_CASES) for one in key_figures(case)]
    workings = [one.working for one in (*findings, *figures)]
    symbols = set()
    for working in workings:
        for step in (*getattr(working, "before", ()), *([working] if working else [])):
            symbols |= {one.symbol for one in step.inputs} | {step.result_symbol}
    assert symbols == set(SYMBOLS)


# --- single sentences -----------------------------------------------------------------------------


def test_the_sentence_of_a_urv_in_the_dead_zone():
    case = make_case({"measurement.urv": "12.8 m"})
    described = describe(finding_of(case, "reach.dead_zone_urv"), UNITS)
    assert plain(described.sentence) == (
        "URV 12.8 m lies 0.11 m inside the dead zone, which ends at 12.69 m; with the accuracy of ±2 mm it is 0.112 m "
        "too high."
    )
    assert (plain(described.required), plain(described.available)) == ("12.8 m", "12.688 m")
    assert plain(described.margin) == "−0.112 m"
    assert plain(described.where) == "at 12.8 m"
    assert plain(described.working[2]) == "z_ref = z_face + a = 12.85 m + 0 mm = 12.85 m"
    assert ("z_ref", "elevation of the sensor's reference point") in described.legend
    assert "typical, from memory" in described.source
    assert described.provisional_note
    assert described.grade_label == "Stop"
    assert plain(described.cures[0]) == "Set “Upper range value URV (100 %)” to 12.688 m or lower."


def test_the_working_of_a_distance():
    distance = next(figure for figure in key_figures(make_case()) if figure.key == "distance_lrv")
    assert plain(describe_figure(distance, UNITS).working[-1]) == "d = z_ref − z = 12.85 m − 0.5 m = 12.35 m"


def test_negative_inputs_stand_in_brackets():
    working = Working("m = z − z_bottom", (Input("z", 0.5, "length"), Input("z_bottom", -0.6, "length")),
                      "m", 1.1, "length", "")  # fmt: skip
    assert [plain(line) for line in working_lines(working, UNITS)] == ["m = z − z_bottom = 0.5 m − (−0.6 m) = 1.1 m"]


def test_a_formula_that_only_copies_is_not_repeated():
    working = Working("R_eff = R_class", (Input("R_class", 8.0, "length"),), "R_eff", 8.0, "length", "")
    assert [plain(line) for line in working_lines(working, UNITS)] == ["R_eff = R_class = 8 m"]


def test_margins_of_temperature_and_pressure_are_differences():
    case = make_case({"case.Maximum.temperature": "150 °C"})
    hot = describe(finding_of(case, "process.temperature_high"), UNITS)
    assert plain(hot.margin) == "−20 K"
    assert plain(hot.where) == "case Maximum"
    high = finding_of(make_case({"case.Maximum.pressure": "20 bar(g)"}), "process.pressure_high")
    assert plain(describe(high, UNITS).margin) == "−4.013 bar"
    assert plain(describe(high, US).margin) == "−58.21 psi"
    assert "20 bar(g) in the case “Maximum” is 4.013 bar above" in plain(describe(high, UNITS).sentence)


def test_a_margin_of_pressures_and_a_difference_that_is_measured_have_their_own_units():
    assert plain(shown_text(-250.0, "pressure_margin", UNITS)) == "−0.0025 bar"
    assert plain(shown_text(-250.0, "pressure_difference", UNITS)) == "−2.5 mbar"
    assert plain(shown_text(-249.08891, "pressure_difference", US)) == "−1 inH₂O"


def test_choices_are_shown_by_their_label():
    described = describe(finding_of(VARIANTS["process.medium_kind", "unsuited"](), "process.medium_kind"), UNITS)
    assert described.sentence.endswith("Bulk solid.")


def test_an_impossible_shape_names_the_field_by_its_label():
    described = describe(finding_of(make_case({"vessel.bottom": "flat"}), "mounting.vessel_shape"), UNITS)
    assert described.sentence.startswith("Depth of the lower or left end does not fit the vessel's shape: 0.6")


# --- missing data ---------------------------------------------------------------------------------


@pytest.mark.parametrize("message", ["“8o” is not readable", "“-50 mm”: this has to be more than zero."])
def test_missing_fields_by_label_and_those_not_accepted_marked(message):
    """The message at the field says whether it is no number, or one that cannot be."""
    case = make_case({"nozzle.bore": None}, sensor_class=None, unreadable={"nozzle.bore": message})
    described = describe(finding_of(case, "mounting.opening"), UNITS, case.unreadable)
    assert described.missing == ("Bore after lining (not accepted as typed)", "Sensor class")
    assert described.sentence == "Cannot be decided without: Bore after lining (not accepted as typed); Sensor class."
    assert described.margin == described.required == described.available == ""
    assert described.provisional_note == ""


def test_a_connection_that_is_missing_is_named():
    described = describe(finding_of(make_legs_case(taps={}), "mounting.taps"), UNITS)
    assert described.missing == ("Lower tap, seal or connection", "Upper tap, seal or connection")
    assert (
        describe(finding_of(make_case(nozzle=False), "mounting.nozzle_face"), UNITS).missing[0]
        == "Nozzle of the sensor"
    )


def test_the_words_of_a_change_of_density():
    case = make_legs_case({"case.Maximum.density": "850 kg/m³"})
    described = describe(finding_of(case, "process.dp_density"), UNITS)
    assert plain(described.sentence) == (
        "Set to the densities of the normal case, the level shown at URV in the case “Maximum” is off by −326.7 mm, "
        "more than the ±200 mm asked for."
    )
    assert plain(described.working[-1]) == "e = z_shown − z = 4.673 m − 5 m = −326.7 mm"
    assert described.source.startswith("Hydrostatics")


def test_a_pressure_difference_is_shown_in_its_own_unit():
    figures = {one.key: one for one in key_figures(make_legs_case())}
    assert plain(describe_figure(figures["dp_urv"], UNITS).text) == "421.33 mbar"
    assert plain(describe_figure(figures["dp_urv"], US).text) == "169.15 inH₂O"
    line = plain(describe_figure(figures["dp_urv"], UNITS).working[-1])
    assert line.startswith("Δp_100 = 9.80665 m/s² · (ρ · (z − z_low) + ρ_a")
    assert "(915 kg/m³ · (5 m − 0.4 m) + 1.2 kg/m³ · (5.5 m − 5 m)" in line
    assert line.endswith("= 421.33 mbar")


def test_missing_names_the_setpoint_or_the_operating_case():
    setpoint = describe(finding_of(make_case(setpoints=[("H", "")]), "reach.dead_zone_setpoint"), UNITS)
    assert setpoint.sentence == "Cannot be decided for H without: Level from datum."
    case = make_case({"case.Normal.temperature": None, "case.Maximum.temperature": None})
    temperature = describe(finding_of(case, "process.temperature_high"), UNITS)
    assert temperature.sentence == "Cannot be decided without: Temperature (operating case: Normal, Maximum)."


def test_values_of_a_class_are_told_from_those_of_the_plant():
    assert field_label("sensor_class.range_max") == "Range (sensor class)"
    assert field_label("vessel.diameter") == "Inside diameter"
    assert field_label("vessel.unheard_of") == "vessel.unheard_of"


# --- cures ----------------------------------------------------------------------------------------


def test_a_cure_s_value_is_rounded_to_the_side_that_cures():
    # 12.69 m − 2.4 mm accuracy = 12.6876 m; five digits would round it up to 12.688 m, which is too high.
    case = make_case({"measurement.urv": "12.8 m"}, sensor_class=make_class(accuracy="2.4 mm"))
    cures = [plain(text) for text in describe(finding_of(case, "reach.dead_zone_urv"), UNITS).cures]
    assert cures[0].endswith("to 12.687 m or lower.")
    lower = make_case({"measurement.urv": "12.687 m"}, sensor_class=make_class(accuracy="2.4 mm"))
    assert finding_of(lower, "reach.dead_zone_urv").grade is Grade.PASS
    feet = [plain(text) for text in describe(finding_of(case, "reach.dead_zone_urv"), US).cures]
    assert feet[0].endswith("to 41.625 ft or lower.")  # 41.6259 ft


@pytest.mark.parametrize("excess", ["12.7 m", "12.7123456 m", "12.83 m"])
@pytest.mark.parametrize("units", [UNITS, US])
def test_what_a_cure_shows_cures_when_it_is_typed(excess, units):
    case = make_case({"measurement.urv": excess})
    finding = finding_of(case, "reach.dead_zone_urv")
    for cure in finding.cures:
        if cure.code not in ("lower_level", "raise_nozzle", "longer_adapter"):
            continue
        text = next(line for line in describe(replace(finding, cures=(cure,)), units).cures)
        typed = re.search(r"(?:to|of) ([\d.,\u202f]+)\u00a0(\S+) or", text)
        changed = make_case({"measurement.urv": excess, cure.field: f"{typed.group(1)} {typed.group(2)}"})
        assert finding_of(changed, "reach.dead_zone_urv").grade is Grade.PASS, text


# --- figures and classes --------------------------------------------------------------------------


def test_figures_in_words():
    by_key = {figure.key: describe_figure(figure, UNITS) for figure in key_figures(make_case())}
    assert (by_key["distance_lrv"].label, plain(by_key["distance_lrv"].text)) == (
        "Distance at LRV (0 %)",
        "12.35 m",
    )
    assert by_key["effective_range"].note == "case Minimum"
    assert by_key["setpoint_current"].label == "Current at LL"  # the last of the four
    assert by_key["distance_urv"].number == "0.85"


def test_figures_without_a_value():
    case = make_case({"measurement.urv": "13 m", "measurement.lrv": None}, unreadable={"measurement.lrv": "?"})
    by_key = {figure.key: describe_figure(figure, UNITS, case.unreadable) for figure in key_figures(case)}
    assert (by_key["volume_urv"].text, by_key["volume_urv"].note) == ("", "outside the vessel")
    assert by_key["distance_lrv"].text == ""
    assert by_key["distance_lrv"].note == "needs Lower range value LRV (0 %) (not accepted as typed)"


def test_values_of_a_class_in_words():
    text = {definition.stem: class_value_text(RADAR, definition, UNITS) for definition in REGISTRY.of("sensor_class")}
    assert text["technology"] == "Radar, free radiating"
    assert text["media"] == "Liquid, Slurry"
    assert plain(text["range_max"]) == "30 m"
    assert plain(text["process_pressure_max"]) == "15.99 bar(g)"
    assert text["permittivity_min"] == "1.6"
    assert class_value_text(ULTRASONIC, REGISTRY["sensor_class.permittivity_min"], UNITS) == ""


def test_a_finding_with_next_to_nothing():
    described = describe(Finding("signal.span_order", Grade.MISSING, "missing", missing=("measurement.lrv",)), UNITS)
    assert (described.working, described.legend, described.source, described.where) == ((), (), "", "")
    assert describe_figure(Figure("volume_lrv", "volume", None), UNITS).note == ""
    assert Where() == Where("", None)
