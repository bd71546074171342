"""Tables kept as CSV: each names its source and the origin of every row; a broken one is refused by line."""

import pytest

from instruments.physics.published_tables import FOLDER, ORIGINS, celsius, kelvin, number, read_rows, weakest

TABLES = {
    "asme_b16_5_ratings.csv": ("group", "temperature_c", "150"),
    "en_1092_1_ratings.csv": ("group", "temperature_c", "strength_mpa"),
    "flange_materials.csv": ("standard", "group", "names"),
    "flange_dimensions.csv": ("standard", "dn", "ratings"),
    "pipe_dimensions.csv": ("standard", "dn", "outside_diameter_mm"),
    "wetted_materials.csv": ("material", "names", "kind"),
    "wetted_suitability.csv": ("material", "medium_kind", "verdict"),
}


@pytest.mark.parametrize("name", TABLES)
def test_each_table_names_its_source_and_origins(name: str) -> None:
    head = "\n".join(line for line in (FOLDER / name).read_text(encoding="utf-8").splitlines() if line.startswith("#"))
    assert "Source: " in head
    assert "Origin: " in head or "origin" in head
    rows = read_rows(name, TABLES[name])
    assert rows
    assert {row["origin"] for row in rows} <= set(ORIGINS)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("# note\na,origin\n1,found,3\n", r"t\.csv, line 3: 3 cells; accepted are 2"),
        ("a,origin\n\n1,guess\n", r"t\.csv, line 3: origin is 'guess'; accepted is one of found, computed"),
        ("b,origin\n1,found\n", r"t\.csv: column a is not there; the header has b, origin"),
        ("a\n1\n", "column origin"),
        ("", "column a"),
    ],
)
def test_a_broken_table_is_refused(tmp_path, text: str, message: str) -> None:
    (tmp_path / "t.csv").write_text(text, encoding="utf-8")
    with pytest.raises(ValueError, match=message):
        read_rows("t.csv", ("a",), tmp_path)


def test_numbers_of_cells() -> None:
    assert number("1.5", "x") == 1.5
    for text in ("", "nan", "inf", "1,5"):
        with pytest.raises(ValueError, match="x is"):
            number(text, "x")


def test_the_weakest_origin_counts() -> None:
    assert weakest(("found", "memory", "computed")) == "memory"
    assert weakest(("found", "found")) == "found"
    assert weakest(()) == ""


def test_temperatures_come_back_exactly() -> None:
    for degrees in (-29.0, -10.0, 38.0, 425.0, 455.0, 538.0):
        assert celsius(kelvin(degrees)) == degrees
    assert kelvin(None) is None
