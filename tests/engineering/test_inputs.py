"""Each kind of input reads what a person types, says what it is, and refuses in its own label."""

from datetime import date

import pytest

from builds.engineering import inputs as kinds
from builds.engineering.gauges import parse_gauge
from builds.engineering.load import Mass
from builds.engineering.typed import QuantityError

MADE = {
    "quantity": (kinds.quantity, ("length",), "m", "4 ft", pytest.approx(1.2192)),
    "quantities": (kinds.quantities, ("time",), "s", "3.1 3.0", [3.1, 3.0]),
    "gauge": (kinds.gauge, (), "", "14 AWG", parse_gauge("14 AWG")),
    "choice": (kinds.choice, (("left", "right"),), "", " left ", "left"),
    "place": (kinds.place, (), "m", "0.35,0,0.55", (0.35, 0.0, 0.55)),
    "day": (kinds.day, (), "", "2024-03-31", date(2024, 3, 31)),
    "prose": (kinds.prose, (5,), "", "12345", "12345"),
    "file": (kinds.file, (), "", "a/b.txt", "a/b.txt"),
}


@pytest.mark.parametrize(("make", "more", "unit", "text", "value"), MADE.values(), ids=MADE)
def test_a_kind_reads_and_carries_what_it_was_given(make, more, unit, text, value):
    made = make("short", "argument_si", "Long label", *more, help="How", default="d")
    assert (made.name, made.argument, made.label, made.unit) == ("short", "argument_si", "Long label", unit)
    assert (made.help, made.default, made.required) == ("How", "d", False)
    assert made.value(text) == value


def test_a_choice_tells_its_choices():
    made = kinds.choice("side", "side", "Side", ("left", "right"))
    assert made.choices == ("left", "right") and made.required
    with pytest.raises(QuantityError, match="^Side must be one of left, right, not “up”.$"):
        made.value("up")


def test_a_page_must_know_prose_and_files():
    assert kinds.prose("text", "text", "Text", 5).kind == kinds.PROSE
    assert kinds.file("file", "file", "File").kind == kinds.FILE
    assert kinds.day("on", "on", "On").kind == ""


def test_masses_come_with_places_or_without():
    plain = kinds.masses("masses", "masses", "Masses")
    placed = kinds.masses("masses", "masses", "Masses", with_places=True)
    assert plain.unit == placed.unit == "kg"
    assert plain.value("rider=16 kg seat=2 kg") == [Mass("rider", 16.0), Mass("seat", 2.0)]
    assert placed.value("rider=16 kg@0.1,0,0.5") == [Mass("rider", 16.0, (0.1, 0.0, 0.5))]
    with pytest.raises(QuantityError, match="like rider=16 kg, not"):
        plain.value("rider=16 kg@0.1,0,0.5")
    with pytest.raises(QuantityError, match="like rider=18 kg@0.35,0,0.55, not"):
        placed.value("rider=16 kg")


EMPTY = {
    "quantity": ("Long label", kinds.quantity("n", "n", "Long label", "length")),
    "quantities": ("Enter the long label.", kinds.quantities("n", "n", "Long label", "time")),
    "masses": ("Enter the long label.", kinds.masses("n", "n", "Long label")),
    "day": ("Enter the long label.", kinds.day("n", "n", "Long label")),
    "prose": ("Enter the long label.", kinds.prose("n", "n", "Long label", 5)),
    "file": ("Enter the long label as a path.", kinds.file("n", "n", "Long label")),
}


@pytest.mark.parametrize(("words", "made"), EMPTY.values(), ids=EMPTY)
def test_nothing_typed_is_asked_for_by_its_label(words, made):
    with pytest.raises(QuantityError) as refused:
        made.value("  ")
    assert words.lower() in str(refused.value).lower()


def test_a_list_ends_somewhere():
    numbers = kinds.quantities("n", "n", "Times", "time")
    assert len(numbers.value(" ".join(["1"] * kinds.MOST_PARTS))) == kinds.MOST_PARTS
    with pytest.raises(QuantityError, match=f"^Times must be {kinds.MOST_PARTS} numbers or fewer, not 201.$"):
        numbers.value(" ".join(["1"] * 201))
    masses = kinds.masses("n", "n", "Masses")
    with pytest.raises(QuantityError, match=f"^Masses must be {kinds.MOST_PARTS} masses or fewer, not 201.$"):
        masses.value(" ".join(f"a{count}=1" for count in range(201)))
    with pytest.raises(QuantityError, match="^Times must be 2000 characters or fewer, not 2001.$"):
        numbers.value("1" * 2001)


def test_prose_is_taken_up_to_its_length():
    made = kinds.prose("text", "text", "Text", 5)
    assert made.value("12345") == "12345"
    with pytest.raises(QuantityError, match="^Text must be 5 characters or fewer, not 6.$"):
        made.value("123456")


def test_a_path_holds_no_zero_byte():
    with pytest.raises(QuantityError, match="^Enter the file as a path.$"):
        kinds.file("file", "file", "File").value("a\0b")


def test_a_name_of_a_mass_ends_somewhere():
    masses = kinds.masses("n", "n", "Masses")
    assert masses.value("a" * 40 + "=1")[0].name == "a" * 40
    with pytest.raises(QuantityError, match="names of 40 signs or fewer"):
        masses.value("a" * 41 + "=1")


def test_masses_are_told_in_the_answer_with_their_unit():
    assert kinds.as_json([Mass("switch", 0.2)]) == [{"name": "switch", "mass_kg": 0.2}]
    assert kinds.as_json(Mass("rider", 16.0, (0.1, 0, 0.5)))["place_m"] == [0.1, 0, 0.5]
