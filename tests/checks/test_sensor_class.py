"""Sensor classes as data: their files, what is refused, and JSON without loss."""

import json

import pytest

from instruments.checks.sensor_class import ClassFileError, SensorClass, load_class_file
from instruments.physics.acoustics import speed_of_sound_m_s
from instruments.physics.radar import beamwidth_rad, echo_level_db, wavelength_m
from project.registry import REGISTRY
from tests.checks.builders import CLASS_FILES, LEGS, RADAR, ROPE, SEALS, ULTRASONIC, UNITS

LIBRARY = [load_class_file(path) for path in sorted(CLASS_FILES.glob("*.toml"))]
KEYS = [one.key for one in LIBRARY]
OUTSIDE = ("gamma", "weighing")
SHARE = {"accuracy_of_span"}
PRESSURE = SHARE | {"difference_min", "difference_max", "pressure_span_min", "pressure_span_max", "overload"}
POINT = {"antenna_diameter", "accuracy"}
ROD_LENGTH = POINT | {"probe_length_max", "dead_zone_upper", "dead_zone_origin", "dead_zone_lower"}
# What stands outside the vessel has no part that the process reaches.
INSIDE = {"process_temperature_min", "process_temperature_max", "process_pressure_min", "process_pressure_max",
          "connections", "wetted_materials", "seals"}  # fmt: skip
# What the checks of a technology rest on; the rest is for the sheet.
ALWAYS = {
    "technology", "media", "arrangements", "contact", "process_temperature_min", "process_temperature_max",
    "process_pressure_min", "process_pressure_max", "connections", "wetted_materials", "seals",
    "ambient_temperature_min", "ambient_temperature_max", "supply_voltage_min", "supply_voltage_max", "output",
}  # fmt: skip
BEAM = {"antenna_diameter", "aperture_diameter", "frequency", "beam_angle", "antenna_reach", "range_max",
        "dead_zone_upper", "dead_zone_origin", "dead_zone_lower", "accuracy"}  # fmt: skip
STATED = {
    "radar_free": BEAM | {"reference_echo", "permittivity_min"},
    "ultrasonic": BEAM,
    "guided_wave": {"antenna_diameter", "probe_length_max", "permittivity_min", "dead_zone_upper", "dead_zone_origin",
                    "end_zone_permittivity", "end_zone_above", "end_zone_below", "accuracy"},
    "differential_pressure": PRESSURE, "hydrostatic": PRESSURE, "displacer": SHARE | {"antenna_diameter"},
    "magnetic_gauge": POINT, "magnetostrictive": ROD_LENGTH, "capacitance": ROD_LENGTH | {"permittivity_min"},
    "gamma": SHARE, "weighing": SHARE,
    "laser": BEAM - {"frequency"},
    "vibrating_fork": POINT, "float_switch": POINT, "paddle": POINT, "conductivity": POINT,
    "capacitance_point": POINT | {"permittivity_min"}, "microwave_barrier": POINT | {"permittivity_min", "frequency"},
}  # fmt: skip

HEAD = 'key = "some_class"\nedition = 1\nname = "Some"\nconfirmed = false\nprovenance = "typical"\n'
VALUES = '[values]\ntechnology = "radar_free"\nmedia = ["liquid"]\n'


def load(tmp_path, text, name="some_class.toml"):
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    return load_class_file(path)


@pytest.mark.parametrize("path", sorted(CLASS_FILES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_class_file_loads_and_says_where_its_values_come_from(path):
    loaded = load_class_file(path)
    assert loaded.key == path.stem
    assert all(held.provenance for held in loaded.values.values())
    assert not loaded.confirmed


def test_the_library_of_classes():
    assert len(LIBRARY) >= 33
    assert len({one.name for one in LIBRARY}) == len(LIBRARY)
    assert {one.technology for one in LIBRARY} == set(STATED)
    # Nothing was issued yet, so that every class is still in its first edition.
    assert {one.edition for one in LIBRARY} == {1}


@pytest.mark.parametrize("one", LIBRARY, ids=KEYS)
def test_a_class_states_what_the_checks_of_its_technology_need(one):
    always = ALWAYS - INSIDE if one.technology in OUTSIDE else ALWAYS
    assert always | STATED[one.technology] <= set(one.values)
    if one.technology in OUTSIDE:
        assert not INSIDE & set(one.values)
    for lowest in (stem for stem in one.values if stem.endswith("_min")):
        highest = lowest.removesuffix("_min") + "_max"
        if highest in one.values:
            assert one.si(lowest) < one.si(highest), lowest


def test_values_of_the_other_technologies():
    assert ROPE.si("end_zone_above") < ROPE.si("end_zone_below")
    assert "weight" in ROPE.provenance("antenna_diameter")
    assert LEGS.items("arrangements") == ("two_taps",)
    assert (LEGS.si("difference_min"), LEGS.si("accuracy_of_span")) == (-50_000.0, pytest.approx(0.001))
    assert SEALS.si("fill_temperature_max") == pytest.approx(473.15)


@pytest.mark.parametrize("sensor_class", LIBRARY, ids=KEYS)
def test_json_and_back_without_loss(sensor_class):
    assert SensorClass.from_data(json.loads(json.dumps(sensor_class.to_data()))) == sensor_class


def test_values_by_stem():
    assert RADAR.si("range_max") == 30.0
    assert RADAR.text("range_max") == "30 m"
    assert RADAR.technology == "radar_free"
    assert RADAR.items("media") == ("liquid", "slurry")
    assert RADAR.text("media") == "liquid; slurry"
    assert RADAR.provenance("range_max") == "typical, from memory, of no particular product"
    assert "70 λ/D" in RADAR.provenance("beam_angle")


def test_a_value_that_the_class_does_not_state_is_missing():
    assert ULTRASONIC.si("permittivity_min") is None
    assert ULTRASONIC.text("permittivity_min") == ""
    assert ULTRASONIC.provenance("permittivity_min") == ""
    assert SensorClass("x", 1, "x").items("media") == ()


def test_asking_for_the_wrong_kind_of_value():
    with pytest.raises(TypeError, match="technology"):
        RADAR.si("technology")
    with pytest.raises(TypeError, match="technology"):
        RADAR.items("technology")


def test_zero_is_a_value():
    assert RADAR.si("process_pressure_min") == 0.0
    assert RADAR.si("dead_zone_lower") == 0.0


BEAMED = [one for one in LIBRARY if one.technology in ("radar_free", "ultrasonic")]


@pytest.mark.parametrize("one", BEAMED, ids=lambda one: one.key)
def test_beam_angles_agree_with_aperture_and_frequency(one):
    # 70 λ/D, common practice, no source; the files give whole or half degrees.
    frequency, sound = one.si("frequency"), speed_of_sound_m_s(293.15)
    wave = wavelength_m(frequency, sound) if one.technology == "ultrasonic" else wavelength_m(frequency)
    assert beamwidth_rad(wave, one.si("aperture_diameter")) == pytest.approx(one.si("beam_angle"), rel=0.01)
    if "same beam" not in one.provenance("aperture_diameter"):  # the equivalent aperture of a rod is no body
        assert one.si("aperture_diameter") <= one.si("antenna_diameter")


@pytest.mark.parametrize("one", [one for one in LIBRARY if one.technology == "radar_free"], ids=lambda one: one.key)
def test_reference_echo_is_that_of_permittivity_four(one):
    assert one.si("reference_echo") == pytest.approx(echo_level_db(4.0), abs=0.005)


def test_every_value_of_a_class_has_a_registered_label():
    for one in LIBRARY:
        assert all(f"sensor_class.{stem}" in REGISTRY for stem in one.values)
    assert len(REGISTRY.of("sensor_class")) >= len(RADAR.values)


def test_smallest_file(tmp_path):
    loaded = load(tmp_path, HEAD + VALUES + 'accuracy = { value = "3 mm", provenance = "certificate 4711" }\n')
    assert loaded.quantity("accuracy") == UNITS.parse("3 mm", "length_small")
    assert loaded.provenance("accuracy") == "certificate 4711"
    assert loaded.provenance("media") == "typical"


@pytest.mark.parametrize(
    "text, named, accepted",
    [
        ("key = ", "some_class.toml", "TOML"),
        (VALUES, "key", "missing"),
        (HEAD.replace("edition = 1", "edition = true") + VALUES, "edition", "int"),
        (HEAD.replace("edition = 1", "edition = 0") + VALUES, "edition", "1, 2, 3"),
        (HEAD.replace('name = "Some"', 'name = " "') + VALUES, "name", "empty"),
        (HEAD.replace("some_class", "other") + VALUES, "key", "some_class"),
        (HEAD + "maker = 'x'\n" + VALUES, "maker", "known are"),
        (HEAD + "[values]\n", "values.technology", "missing"),
        (HEAD + '[values]\ntechnology = "radar_free"\n', "values.media", "missing"),
        (HEAD + VALUES.replace("radar_free", "sonar"), "values.technology", "ultrasonic"),
        (HEAD + VALUES.replace('"liquid"', '"plasma"'), "values.media", "liquid"),
        (HEAD + VALUES.replace('["liquid"]', '"liquid"'), "values.media", "list"),
        (HEAD + VALUES.replace('["liquid"]', "[]"), "values.media", "at least one"),
        (HEAD + VALUES + 'arrangements = ["sideways"]\n', "values.arrangements", "two_taps"),
        (HEAD + VALUES + 'contact = "perhaps"\n', "values.contact", "yes"),
        (HEAD + VALUES + 'colour = "red"\n', "values.colour", "not a property"),
        (HEAD + VALUES + "range_max = 30\n", "values.range_max", "with the unit"),
        (HEAD + VALUES + 'range_max = "30"\n', "values.range_max", "unit is missing"),
        (HEAD + VALUES + 'range_max = "12 kg"\n', "values.range_max", "unit of a mass"),
        (HEAD + VALUES + 'range_max = "0 m"\n', "values.range_max", "above zero"),
        (HEAD + VALUES + 'dead_zone_upper = "-1 mm"\n', "values.dead_zone_upper", "zero or above"),
        (HEAD + VALUES + 'process_pressure_max = "16 bar(g)"\n', "values.process_pressure_max", "absolute"),
        (HEAD + VALUES + 'process_pressure_max = "16 barg"\n', "values.process_pressure_max", "absolute"),
        (
            HEAD + VALUES + 'process_pressure_max = "16 bar"\n',
            "values.process_pressure_max",
            "gauge or absolute",
        ),
        (HEAD + VALUES + 'accuracy = { value = "3 mm" }\n', "values.accuracy", "provenance"),
    ],
)
def test_errors_name_file_and_key(tmp_path, text, named, accepted):
    with pytest.raises(ClassFileError) as caught:
        load(tmp_path, text)
    message = str(caught.value)
    assert message.startswith("some_class.toml")
    assert named in message
    assert accepted in message
