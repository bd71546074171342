"""Identification letters against ANSI/ISA-5.1-2009: Table 4.1 (letters by place), Table 4.2 (combinations)."""

import pytest

from instruments.letters import LETTERS, UnknownLetters, near_key, read_letters, spell_out

# ANSI/ISA-5.1-2009, Table 4.1: the measured variables that the standard fixes ("user's choice" left out).
TABLE_4_1_FIRST = {
    "A": "analysis", "B": "burner", "E": "voltage", "F": "flow", "H": "hand", "I": "current", "J": "power", "K": "time",
    "L": "level", "P": "pressure", "Q": "quantity", "R": "radiation", "S": "speed", "T": "temperature",
    "U": "multivariable", "V": "vibration", "W": "weight", "X": "unclassified", "Y": "event", "Z": "position",
}  # fmt: skip
USERS_CHOICE = "CDGMNO"


def test_the_table_holds_every_letter_once() -> None:
    assert sorted(LETTERS) == [chr(code) for code in range(ord("A"), ord("Z") + 1)]
    for letter, variable in TABLE_4_1_FIRST.items():
        assert LETTERS[letter]["first"] == variable
    assert all(LETTERS[letter]["first"] == "user" for letter in USERS_CHOICE)


@pytest.mark.parametrize(
    "letters",
    # Table 4.2, row L, and the combinations that its columns give for level.
    ["LE", "LT", "LIT", "LRT", "LI", "LR", "LC", "LIC", "LRC", "LCV", "LV", "LG", "LY", "LS", "LSH", "LSL", "LSHL",
     "LSHH", "LSLL", "LA", "LAH", "LAL", "LAHH", "LALL", "LW", "LP", "LX", "LK", "LL", "LDT", "LDI", "LZT", "LZI",
     "LZSHH", "LZSLL", "LZAHH"],
)  # fmt: skip
def test_typical_level_combinations_are_accepted(letters: str) -> None:
    assert spell_out(letters).split()[0] in ("level", "differential")


@pytest.mark.parametrize(
    ("letters", "words"),
    [
        ("LT", "level transmitter"),
        ("LIT", "level indicating transmitter"),
        ("LSHH", "level switch, high-high"),
        ("LSL", "level switch, low"),
        ("LIC", "level indicating controller"),
        ("LAHH", "level alarm, high-high"),
        ("LDIT", "differential level indicating transmitter"),
        ("LZT", "level transmitter, safety instrumented system"),
        ("LL", "level light"),
        ("PDIT", "differential pressure indicating transmitter"),
        ("FFC", "flow controller, ratio"),
        ("PSV", "pressure valve, safety"),
    ],
)
def test_letters_are_spelled_out(letters: str, words: str) -> None:
    assert spell_out(letters) == words


@pytest.mark.parametrize(
    "letters", ["LHS", "LHH", "LH", "LTQ", "L", "lt", "LT1", "L T", "", "LÄT", "LSHHHHHHHH", "LZ1"]
)
def test_what_the_table_does_not_allow_is_refused(letters: str) -> None:
    with pytest.raises(UnknownLetters):
        spell_out(letters)


def test_s_after_the_variable_is_a_switch_but_before_a_valve_safety() -> None:
    """Note 14 of Table 4.1: the modifier S is for self-actuated emergency devices only."""
    assert read_letters("LS").functions == ("switch",)
    assert read_letters("PSV").variable_modifier == "safety"


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (("LT", "101", ""), ("LT", "0101", ""), True),
        (("LT", "1-01", ""), ("LT", "101", ""), True),
        (("LT", "101", "A"), ("LT", "101", "a"), True),
        (("LT", "101", "A"), ("LT", "101", "B"), False),
        (("LT", "101", ""), ("LIT", "101", ""), False),
        (("LT", "0", ""), ("LT", "00", ""), True),
        (("LT", "10", "1"), ("LT", "101", ""), False),
    ],
)
def test_near_duplicates(one: tuple[str, str, str], other: tuple[str, str, str], same: bool) -> None:
    """Common practice, no source: case, separators and leading zeros do not tell tags apart."""
    assert (near_key(*one) == near_key(*other)) is same
