"""Limits of what a field takes, themselves included."""

from pathlib import Path

import pytest

from instruments.checks.sensor_class import ClassFileError, load_class_file
from project.fields import read_quantity
from project.quantities import PlantUnits, UnreadableQuantity
from project.registry import REGISTRY, FieldDef
from tests.checks.builders import CLASS_FILES

UNITS = PlantUnits()


@pytest.mark.parametrize(
    "key, accepted, refused",
    [
        ("nozzle.inclination", ["0°", "90°", "1.5 rad", "10"], ["200°", "90.001°", "-1°", "1.6 rad"]),
        ("nozzle.bearing", ["0", "359.9°", "360°"], ["360.001°", "-0.1°", "400°"]),
        ("internal.bearing", ["0", "360°"], ["361°", "-90°"]),
        ("medium.angle_of_repose", ["0", "90°"], ["91°"]),
        ("medium.angle_of_drawdown", ["0", "90°"], ["91°"]),
        ("sensor_class.aiming_angle", ["90°"], ["200°", "0"]),
        ("sensor_class.beam_angle", ["180°"], ["181°", "0"]),
    ],
)
def test_angles(key, accepted, refused):
    for text in accepted:
        assert read_quantity(REGISTRY[key], UNITS, text).typed
    for text in refused:
        with pytest.raises(UnreadableQuantity, match=r"accepted|zero"):
            read_quantity(REGISTRY[key], UNITS, text)


def test_the_message_says_what_would_be_accepted():
    with pytest.raises(UnreadableQuantity, match=r"“200°”: this is too much; accepted is 90° or less\."):
        read_quantity(REGISTRY["nozzle.inclination"], UNITS, "200°")
    cold = FieldDef("invented.temperature", "Invented", "sensor", "temperature", lowest="-20 °C", highest="60 °C")
    with pytest.raises(UnreadableQuantity, match=r"“-21 °C”: this is too low; accepted is -20 °C or more\."):
        read_quantity(cold, UNITS, "-21")
    assert read_quantity(cold, UNITS, "-4 °F").si == pytest.approx(253.15)
    assert read_quantity(cold, UNITS, "").missing


def test_every_angle_of_nozzles_internals_media_and_classes_has_a_limit():
    entities = ("nozzle", "internal", "medium", "sensor_class")
    angles = [one for entity in entities for one in REGISTRY.of(entity) if one.kind == "angle"]
    assert len(angles) >= 6
    for one in angles:
        assert one.highest, one.key
        assert one.sign, one.key


def test_a_class_file_keeps_to_them(tmp_path: Path):
    source = (CLASS_FILES / "radar_80ghz_aimable_purge.toml").read_text(encoding="utf-8")
    path = tmp_path / "radar_80ghz_aimable_purge.toml"
    assert 'value = "10°"' in source
    path.write_text(source.replace('value = "10°"', 'value = "100°"'), encoding="utf-8")
    with pytest.raises(ClassFileError, match="aiming_angle: '100°'; accepted is 90° or less"):
        load_class_file(path)
