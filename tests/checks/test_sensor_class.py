"""Sensor classes as data: their files, what is refused, and JSON without loss."""

import json

import pytest

from instruments.checks.sensor_class import ClassFileError, SensorClass, load_class_file
from instruments.physics.acoustics import speed_of_sound_m_s
from instruments.physics.radar import beamwidth_rad, echo_level_db, wavelength_m
from project.registry import REGISTRY
from tests.checks.builders import CLASS_FILES, RADAR, ULTRASONIC, UNITS

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


@pytest.mark.parametrize("sensor_class", [RADAR, ULTRASONIC], ids=lambda one: one.key)
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


def test_beam_angles_agree_with_aperture_and_frequency():
    # 70 λ/D, common practice, no source; the files give whole degrees.
    for one, speed in ((RADAR, None), (ULTRASONIC, speed_of_sound_m_s(293.15))):
        frequency = one.si("frequency")
        wave = wavelength_m(frequency) if speed is None else wavelength_m(frequency, speed)
        assert beamwidth_rad(wave, one.si("aperture_diameter")) == pytest.approx(one.si("beam_angle"), rel=0.01)


def test_reference_echo_is_that_of_permittivity_four():
    assert RADAR.si("reference_echo") == pytest.approx(echo_level_db(4.0), abs=0.005)


def test_every_value_of_a_class_has_a_registered_label():
    for one in (RADAR, ULTRASONIC):
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
