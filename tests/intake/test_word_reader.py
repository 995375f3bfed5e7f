"""Words of a fixed list."""

from __future__ import annotations

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.intake.cell import CellValue
from witnessmark.intake.readings import Fault, Read, word_answer
from witnessmark.intake.word_reader import WordTable, read_word, read_yes_no

COLUMN = "joints.material"
MATERIALS = WordTable(
    {
        "copper": ["cu"],
        "stainless_steel": ["ss", "st/st", "steel", "stainless"],
        "carbon_steel": ["cs", "steel"],
    }
)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("copper", "copper"),
        (" CU\u00a0", "copper"),
        ("Carbon  Steel", "carbon_steel"),
        ("S/S", "stainless_steel"),
        ("st. st.", "stainless_steel"),
        ("C.S.", "carbon_steel"),
    ],
)
def test_spellings_of_one_value(text: str, value: str) -> None:
    read = read_word(text, MATERIALS, column=COLUMN)
    assert isinstance(read, Read)
    assert read.value == value
    assert (read.repair is None) == (text == value)


def test_a_word_under_two_values_is_read_only_with_an_answer() -> None:
    assert read_word("Steel", MATERIALS, column=COLUMN) == Fault(
        "word-could-be-two",
        "'Steel' could be stainless steel or carbon steel",
        "under 'answers:' in project.yml write 'joints.material: {words: {Steel: stainless_steel}}'",
    )
    settled = read_word("STEEL", MATERIALS, column=COLUMN, answered={"steel": "carbon_steel"})
    assert settled == Read("carbon_steel", "read 'STEEL' as carbon_steel, as project.yml says")


def test_an_answer_that_names_no_value_settles_nothing() -> None:
    fault = read_word("steel", MATERIALS, column=COLUMN, answered={"steel": "iron"})
    assert isinstance(fault, Fault)


def test_an_unknown_word_names_the_nearest() -> None:
    fault = read_word("coper", MATERIALS, column=COLUMN)
    assert isinstance(fault, Fault)
    assert fault.kind == "unknown-word"
    assert "nearest: copper" in fault.message


@pytest.mark.parametrize(
    ("value", "meaning"),
    [("Y", True), ("yes ", True), ("✓", True), ("1", True), (1, True), ("No", False), ("FALSE", False), (True, True)],
)
def test_yes_and_no(value: CellValue, meaning: bool) -> None:
    read = read_yes_no(value, column=COLUMN)
    assert isinstance(read, Read)
    assert read.value is meaning


@pytest.mark.parametrize("text", ["x", "X", "☒"])
def test_a_cross_could_be_a_tick(text: str) -> None:
    fault = read_yes_no(text, column=COLUMN)
    assert isinstance(fault, Fault)
    assert fault.kind == "word-could-be-two"
    settled = read_yes_no(text, column=COLUMN, answered={text: True})
    assert isinstance(settled, Read)
    assert settled.value is True


def test_not_applicable_and_partly_are_neither_yes_nor_no() -> None:
    for text in ("n/a", "partly", "?", "-"):
        fault = read_yes_no(text, column=COLUMN)
        assert isinstance(fault, Fault)
        assert fault.kind == "unknown-word"


@given(st.text(min_size=1, max_size=20).filter(lambda text: text.split() and text.isprintable()))
def test_the_line_offered_for_any_word_is_yaml_that_says_what_it_means(word: str) -> None:
    line = word_answer(COLUMN, word, "yes").partition("write '")[2].removesuffix("'")
    assert yaml.safe_load(line) == {COLUMN: {"words": {" ".join(word.split()): "yes"}}}


@given(st.text(max_size=20))
def test_any_text_gives_a_word_or_a_fault(text: str) -> None:
    assert isinstance(read_word(text, MATERIALS, column=COLUMN), Read | Fault)
    assert isinstance(read_yes_no(text, column=COLUMN), Read | Fault)
