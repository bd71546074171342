"""What `evaluate` takes and what it refuses: every problem at once, each with its JSON path. No database."""

import copy
import json
from pathlib import Path
from typing import Any

import pytest

from instruments.checks.registry import CHECKS_VERSION, run_checks
from instruments.evaluation.answer import evaluate
from instruments.evaluation.class_reading import library
from instruments.evaluation.parts import MOST_ROWS, PARTS, all_fields
from instruments.evaluation.problems import MOST_PROBLEMS
from instruments.evaluation.reading import read_document
from project.quantities import KINDS, Quantity
from project.registry import REGISTRY, FieldDef
from tests.checks.builders import RADAR, make_case, make_legs_case
from tests.checks.evaluate_samples import BASES, document_of
from vessels.capacity.validation import MOST_ROWS as MOST_POINTS

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "docs" / "evaluate").glob("*.json"))
GOOD = document_of(make_case())


def good(**changes: Any) -> dict[str, Any]:
    """The document of the good tank with parts replaced."""
    return copy.deepcopy(GOOD) | changes


def part(name: str, /, **changes: Any) -> dict[str, Any]:
    """The document of the good tank with values of one part replaced."""
    return good(**{name: {**GOOD.get(name, {}), **changes}})


def problems_of(document: Any) -> dict[str, str]:
    """Path -> code of every problem; no path twice."""
    found = [(one.path, one.code) for one in evaluate(document).problems]
    assert len(dict(found)) == len(found), found
    return dict(found)


def message_at(document: Any, path: str) -> str:
    return next(one.message for one in evaluate(document).problems if one.path == path)


@pytest.mark.parametrize("name", list(BASES))
@pytest.mark.parametrize("inline", [True, False])
def test_a_document_gives_what_its_case_gives(name, inline):
    evaluation = evaluate(document_of(BASES[name], inline_class=inline))
    assert not evaluation.problems
    assert evaluation.cases[0].findings == run_checks(BASES[name])


def test_answers_come_in_the_order_of_the_cases():
    cases = [good(name=name) for name in ("c", "a", "b")]
    cases[1]["setpoints"] = [{"name": "HH", "level": "12.75 m"}]
    data = evaluate({"cases": cases}).to_data()
    assert [one["name"] for one in data["cases"]] == ["c", "a", "b"]
    assert [one["path"] for one in data["cases"]] == ["$.cases[0]", "$.cases[1]", "$.cases[2]"]
    assert data["worst"] == data["cases"][1]["worst"] == "stop"
    assert data["versions"] == {"answer": 1, "case": 1, "checks": CHECKS_VERSION}
    ranks = ["stop", "missing", "caution", "pass", "not_applicable"]
    for one in data["cases"]:
        grades = [finding["grade"] for finding in one["findings"]]
        assert grades == sorted(grades, key=ranks.index)
        assert one["counts"] == {grade: grades.count(grade) for grade in ranks}


def test_a_finding_has_numbers_for_programs_and_words_for_people():
    """Roof 12.6 m, face and reference point 12.85 m, antenna 60 mm, dead zone 100 mm: it ends at 12.69 m; by hand."""
    data = evaluate(good(setpoints=[{"name": "HH", "level": "12.75 m"}])).to_data()["cases"][0]
    found = next(one for one in data["findings"] if one["code"] == "reach.dead_zone_setpoint")
    assert found["grade"] == "stop"
    assert found["required"]["si"] == pytest.approx(12.75)
    assert found["available"]["si"] == pytest.approx(12.69 - 0.002)
    assert found["margin"]["si"] == pytest.approx(-0.062)
    assert found["margin"]["text"] == "−0.062\u00a0m"
    assert found["margin"]["si_unit"] == "m"
    assert found["where"]["mark"] == "setpoint-HH"
    assert "12.75" in found["sentence"]
    assert any(line.startswith("z_dead = z_ref − t − D = 12.85") for line in found["working"])
    assert {"z_ref", "D"} <= set(found["symbols"])
    assert found["provisional"] is True
    assert found["cures"][0]["text"]
    assert found["cures"][0]["value"]["si_unit"] == "m"
    assert "setpoint.level" in found["fields"]
    figures = {one["key"]: one for one in data["figures"]}
    assert figures["distance_urv"]["value"]["si"] == pytest.approx(12.85 - 12.0)


def test_missing_values_are_named_by_key_and_label():
    document = part("measurement", urv=None)
    findings = evaluate(document).to_data()["cases"][0]["findings"]
    found = [one for one in findings if one["code"] == "reach.dead_zone_urv"]
    assert found[0]["grade"] == "missing"
    assert found[0]["missing"] == [{"field": "measurement.urv", "label": "Upper range value URV (100 %)"}]


@pytest.mark.parametrize("empty", [None, "", "  "])
def test_null_and_blank_texts_are_missing(empty):
    for name, stem in (("vessel", "diameter"), ("vessel", "body"), ("measurement", "lrv"), ("measurement", "mounting")):
        case = read_document(part(name, **{stem: empty})).cases[0].case
        assert stem not in {"vessel": case.vessel, "measurement": case.measurement}[name].values


def test_every_problem_is_told_at_once_with_its_path():
    bad = part("vessel", diameter="-6 m", diametre="6 m", cylinder_height=12, body="egg", overflow_level="12.3 kg",
               design_pressure_max="2 bar", name=7, tilt="50°")  # fmt: skip
    bad["plant"]["unit_set"] = "imperial"
    bad["nozzles"]["upper"] = {"bore": "50"}
    bad["operating_cases"][1]["medium"] = "Water"
    bad["operating_cases"][2]["temperature"] = "-300 °C"
    bad["setpoints"] = [{"level": "1 m"}, {"name": "H"}, {"name": "H"}]
    bad["sensor_class"] = "no_such_class"
    bad["extra"] = {}
    found = problems_of({"cases": [good(name="a"), good(name="b"), bad]})
    assert found == {
        "$.cases[2].extra": "unknown_key",
        "$.cases[2].plant.unit_set": "choice",
        "$.cases[2].vessel.diameter": "quantity",
        "$.cases[2].vessel.diametre": "unknown_key",
        "$.cases[2].vessel.cylinder_height": "bare_number",
        "$.cases[2].vessel.body": "choice",
        "$.cases[2].vessel.overflow_level": "quantity",
        "$.cases[2].vessel.design_pressure_max": "quantity",
        "$.cases[2].vessel.name": "wrong_kind",
        "$.cases[2].vessel.tilt": "quantity",
        "$.cases[2].nozzles.upper": "role",
        "$.cases[2].nozzles.upper.bore": "bare_number",
        "$.cases[2].operating_cases[1].medium": "unknown_medium",
        "$.cases[2].operating_cases[2].temperature": "quantity",
        "$.cases[2].setpoints[0].name": "missing",
        "$.cases[2].setpoints[2].name": "duplicate",
        "$.cases[2].sensor_class": "unknown_class",
    }


def test_messages_say_what_would_be_accepted():
    assert "12.5 m" in message_at(part("vessel", diameter=6), "$.vessel.diameter")
    assert "12.5 m" in message_at(part("vessel", diameter="6"), "$.vessel.diameter")
    assert "diameter" in message_at(part("vessel", diametre="6 m"), "$.vessel.diametre")
    assert "vertical_cylinder" in message_at(part("vessel", body="egg"), "$.vessel.body")
    assert "90°" in message_at(good(nozzle={"inclination": "91°"}, nozzles=None), "$.nozzle.inclination")
    assert "6.5 bar(g)" in message_at(part("vessel", design_pressure_max="2 bar"), "$.vessel.design_pressure_max")
    assert "radar_80ghz_lens_threaded" in message_at(good(sensor_class="x"), "$.sensor_class")
    assert "Refined oil" in message_at(
        good(operating_cases=[{"kind": "normal", "medium": "Water"}]), "$.operating_cases[0].medium"
    )


def test_no_field_is_beyond_reach():
    """Every field of the registry but links is taken under its own key, so that nobody keeps a list of fields."""
    texts = {"text": "x", "long_text": "x", "integer": 3, "flag": True}
    for one in PARTS:
        row: dict[str, Any] = {}
        for stem, definition in all_fields()[one.entity].items():
            if definition.is_quantity:
                row[stem] = KINDS[definition.kind].example.split(",")[0]
                if definition.highest or definition.key == "plant.atmosphere":
                    row[stem] = definition.highest or "1 bar(a)"
            elif definition.key in ("strapping.points", "case.medium"):
                row[stem] = [["0 m", "0 m³"], ["1 m", "1 m³"]] if "points" in stem else "x"
            else:
                row[stem] = definition.choices[0][0] if definition.choices else texts[definition.kind]
        held = {"one": row, "list": [row], "roles": {"sensor": row}}[one.form]
        document = {"plant": {"atmosphere": "1 bar(a)"}, one.name: held}
        if one.entity == "case":
            document["media"] = [{"name": "x"}]
        if one.entity == "measurement":
            row["arrangement"] = "one_nozzle"
        assert not problems_of(document), one.name
        assert not [stem for stem in row if stem not in all_fields()[one.entity]]
    known = {key for entity in all_fields().values() for key in (one.key for one in entity.values())}
    assert {one.key for one in REGISTRY if one.kind != "link"} <= known
    assert known - {one.key for one in REGISTRY} == {"nozzle.shared_with"}


def test_a_new_field_needs_no_change(monkeypatch):
    monkeypatch.setattr(REGISTRY, "_fields", dict(REGISTRY._fields))
    REGISTRY.register(FieldDef("vessel.freeboard", "Freeboard", "vessel", "length", sign="positive"))
    case = read_document(part("vessel", freeboard="300 mm")).cases[0].case
    assert case.vessel.quantity("freeboard") == Quantity("300 mm", 0.3)
    assert problems_of(part("vessel", freeboard="0 mm")) == {"$.vessel.freeboard": "quantity"}


def test_gauge_pressures_count_from_the_plants_atmosphere():
    case = read_document(part("plant", atmosphere="0.8 bar(a)")).cases[0].case
    assert case.vessel.si("design_pressure_max") == pytest.approx(2.8e5)
    assert problems_of(part("plant", atmosphere="0 bar(g)")) == {"$.plant.atmosphere": "gauge"}
    assert problems_of(part("plant", atmosphere=None)) == {"$.plant.atmosphere": "missing"}
    without = good()
    del without["plant"]
    assert problems_of(without) == {"$.plant.atmosphere": "missing"}


def test_numbers_without_a_unit_are_taken_where_there_is_none():
    medium = {**GOOD["media"][0], "permittivity": 3}
    assert read_document(good(media=[medium])).cases[0].case.media[0].quantity("permittivity") == Quantity("3", 3.0)
    for wrong, code in ((True, "wrong_kind"), (float("inf"), "quantity"), (10**5000, "quantity"), (0, "quantity")):
        assert problems_of(good(media=[{**medium, "permittivity": wrong}])) == {"$.media[0].permittivity": code}


def test_one_nozzle_and_one_medium_may_stand_alone():
    document = good(nozzle=GOOD["nozzles"]["sensor"], medium=GOOD["media"][0])
    del document["nozzles"], document["media"]
    for row in document["operating_cases"]:
        del row["medium"]
    assert evaluate(document).cases[0].findings == run_checks(make_case())
    both = good(nozzle={}, medium={"name": "x"})
    assert {"$.nozzle": "both", "$.medium": "both"}.items() <= problems_of(both).items()


def test_a_medium_is_not_guessed_from_a_list():
    document = good()
    del document["operating_cases"][0]["medium"]
    evaluation = evaluate(document)
    assert not evaluation.problems
    assert any("case.medium" in one.missing for one in evaluation.cases[0].findings)


def test_what_shares_a_nozzle_is_known_missing_or_none():
    code = "records.shared_connection"
    for tags, variant in ((None, "unknown"), ("", "ok"), (" LT-1,LT-2 ", "shared")):
        document = good()
        document["nozzles"]["sensor"]["shared_with"] = tags
        found = next(one for one in evaluate(document).cases[0].findings if one.code == code)
        assert found.variant == variant
        assert variant != "shared" or found.params["tags"] == "LT-1, LT-2"


# --- sensor classes -----------------------------------------------------------------------------------------


def test_a_class_by_key_is_that_of_the_library():
    assert read_document(good(sensor_class=RADAR.key)).cases[0].case.sensor_class == RADAR
    assert RADAR.key in library()


def test_an_inline_class_is_read_field_by_field():
    values = {"technology": "radar_free", "media": ["liquid"], "range_max": {"value": "30 m", "provenance": "drawing"},
              "process_pressure_max": "2 bar(g)"}  # fmt: skip
    held = {"name": "Own", "provenance": "offer", "confirmed": True, "values": values}
    sensor_class = read_document(good(sensor_class=held)).cases[0].case.sensor_class
    assert sensor_class.si("range_max") == 30.0
    assert sensor_class.provenance("range_max") == "drawing"
    assert sensor_class.provenance("technology") == "offer"
    assert sensor_class.items("media") == ("liquid",)
    assert sensor_class.si("process_pressure_max") == pytest.approx(301_325.0)
    assert sensor_class.confirmed
    assert not any(one.provisional for one in evaluate(good(sensor_class=held)).cases[0].findings)
    wrong = {**held, "edition": 0.5, "confirmed": "yes", "values": {
        "technology": "sonar", "media": ["liquid", "gravel", 3], "beam_angle": "190°", "range_max": {"value": 30},
        "wide": "1 m", "connections": "G 1½",
    }}  # fmt: skip
    assert problems_of(good(sensor_class=wrong)) == {
        "$.sensor_class.edition": "wrong_kind",
        "$.sensor_class.confirmed": "wrong_kind",
        "$.sensor_class.values.technology": "choice",
        "$.sensor_class.values.media[1]": "choice",
        "$.sensor_class.values.media[2]": "wrong_kind",
        "$.sensor_class.values.beam_angle": "quantity",
        "$.sensor_class.values.range_max.value": "bare_number",
        "$.sensor_class.values.wide": "unknown_key",
        "$.sensor_class.values.connections": "wrong_kind",
    }
    assert problems_of(good(sensor_class={})) == {
        "$.sensor_class.name": "missing", "$.sensor_class.provenance": "missing",
        "$.sensor_class.values.technology": "missing", "$.sensor_class.values.media": "missing",
    }  # fmt: skip


# --- strapping ----------------------------------------------------------------------------------------------


def strapped(*points: Any, **vessel: str) -> dict[str, Any]:
    return part("vessel", capacity_from="table", **vessel) | {"strapping": {"points": list(points)}}


def test_a_strapping_table_is_read_with_its_units():
    case = read_document(strapped(["0 mm", "0 L"], ["1 m", "4200 L"])).cases[0].case
    assert case.strapping.points == ((0.0, 0.0), (1.0, pytest.approx(4.2)))
    assert case.strapping.interpolation == "linear"


def test_every_row_of_a_strapping_table_that_cannot_be_is_told():
    assert problems_of(strapped(["0 m", "1 m³"], ["1 m", "0.5 m³"], ["1 m", "3 m³"])) == {
        "$.strapping.points[1]": "table", "$.strapping.points[2]": "table",
    }  # fmt: skip
    assert problems_of(strapped(["0 m", 0], ["1", "1 m³"], ["2 m"], 5, ["3 m", None])) == {
        "$.strapping.points[0][1]": "bare_number", "$.strapping.points[1][0]": "bare_number",
        "$.strapping.points[2]": "wrong_kind", "$.strapping.points[3]": "wrong_kind",
        "$.strapping.points[4][1]": "empty",
    }  # fmt: skip
    assert problems_of(strapped()) == {"$.strapping.points": "empty"}
    assert problems_of(strapped(["0 m", "0 m³"])) == {"$.strapping.points": "table"}
    too_many = [["0 m", "0 m³"]] * (MOST_POINTS + 1)
    assert problems_of(strapped(*too_many)) == {"$.strapping.points": "too_many"}
    assert problems_of(good(strapping={})) == {"$.strapping.points": "missing"}


def test_levels_of_a_table_count_from_the_vessels_datum():
    """The dip plate stands 0.5 m above the bottom: −0.5 m is the bottom, −0.6 m is below it."""
    plate = {"datum": "dip_plate", "dip_plate_height": "0.5 m"}
    assert not problems_of(strapped(["-0.5 m", "0 m³"], ["1 m", "4 m³"], **plate))
    assert problems_of(strapped(["-0.6 m", "0 m³"], ["1 m", "4 m³"], **plate)) == {"$.strapping.points[0]": "table"}


# --- whatever else may come ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("document", "path"),
    [
        (None, "$"), (3, "$"), ("x", "$"), ([], "$"), ([{}], "$"), (True, "$"),
        ({"cases": []}, "$.cases"), ({"cases": None}, "$.cases"), ({"cases": {}}, "$.cases"),
        ({"cases": [3]}, "$.cases[0]"),
        (good(vessel=[]), "$.vessel"), (good(media={}), "$.media"), (good(nozzles=[]), "$.nozzles"),
        (good(internals=[None]), "$.internals[0]"), (good(sensor_class=3), "$.sensor_class"), (good(name=3), "$.name"),
        (good(strapping="x"), "$.strapping"), (good(nozzles={"side": {}}), "$.nozzles.side"),
        (good(plant=None), "$.plant.atmosphere"),
    ],
)  # fmt: skip
def test_what_is_no_document_is_a_problem(document, path):
    assert path in problems_of(document)


def test_names_must_differ():
    assert problems_of({"cases": [good(name="a"), good(name="a")]}) == {"$.cases[1].name": "duplicate"}
    assert evaluate(GOOD).cases[0].named.name == "LT-6001"
    twice = good(operating_cases=[{"kind": "normal"}, {"kind": "named", "name": "Normal"}])
    assert problems_of(twice) == {"$.operating_cases[1].name": "duplicate"}
    assert problems_of(good(media=[GOOD["media"][0]] * 2)) == {"$.media[1].name": "duplicate"}


def test_texts_have_limits():
    assert problems_of(part("tag", service="x" * 201)) == {"$.tag.service": "too_long"}
    assert problems_of(part("tag", service="a\nb")) == {"$.tag.service": "characters"}
    assert problems_of(part("tag", service="\ud800")) == {"$.tag.service": "characters"}
    assert problems_of(part("vessel", diameter="6\x00 m")) == {"$.vessel.diameter": "characters"}
    assert not problems_of(part("measurement", note="a\nb"))
    assert problems_of(part("tag", quantity=-1)) == {"$.tag.quantity": "number_range"}
    assert problems_of(part("tag", quantity=1.0)) == {"$.tag.quantity": "wrong_kind"}
    assert problems_of(good(internals=[{"kind": "ladder"}] * (MOST_ROWS + 1))) == {"$.internals": "too_many"}


def test_an_answer_to_odd_keys_can_be_printed():
    """Lone surrogates and control characters of the input come back neither in paths nor in messages."""
    evaluation = evaluate(good(**{"\ud800": 1, "a\x1b[31m": 2, "it's": 3, "x" * 5000: 4}))
    text = json.dumps(evaluation.to_data(), ensure_ascii=False)
    assert text.encode()
    assert "\x1b" not in text
    assert "$['it\\\\'s']" in text
    assert len(text) < 3000


def test_a_document_full_of_problems_is_not_read_to_its_end():
    found = evaluate(good(**{f"key {number}": 1 for number in range(5 * MOST_PROBLEMS)})).problems
    assert len(found) == MOST_PROBLEMS + 1
    assert found[-1].code == "more"


def test_the_reader_changes_nothing_of_the_document():
    document = document_of(make_legs_case())
    before = copy.deepcopy(document)
    evaluate(document)
    assert document == before


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.name)
def test_the_examples_are_evaluated_and_marked_invented(path):
    evaluation = evaluate(json.loads(path.read_text(encoding="utf-8")))
    assert not evaluation.problems
    assert "nvented" in path.read_text(encoding="utf-8")


def test_there_are_examples():
    assert len(EXAMPLES) >= 2
