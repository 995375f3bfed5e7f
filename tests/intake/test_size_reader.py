"""Tube sizes as sites write them (spellings: common practice, no published source)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.intake.cell import CellValue
from witnessmark.intake.readings import Fault, Read
from witnessmark.intake.size_reader import KNOWN_DIAMETERS, TubeSize, read_size

COLUMN = "joints.size"
# DN to outside diameter of press-jointed tube, from memory; DN20 of threaded steel: EN 10255, from memory.
NOMINAL = {("copper", 15): 18.0, ("copper", 20): 22.0, ("threaded_steel", 20): 26.9, ("copper", 32): 35.0}


@pytest.mark.parametrize(
    ("value", "diameter"),
    [
        (22, 22.0),
        (22.0, 22.0),
        ("22", 22.0),
        ("22mm", 22.0),
        ("22 mm ", 22.0),
        ("22\u00a0mm", 22.0),
        ("Ø22", 22.0),
        ("Ø 22 mm", 22.0),
        ("OD 22", 22.0),
        ("22mm OD", 22.0),
        ("22,0", 22.0),
        ("76", 76.1),
        ("76.1", 76.1),
        ("76,1 mm", 76.1),
        ("89", 88.9),
        ("67", 66.7),
        ("66.7", 66.7),
        ("108", 108.0),
    ],
)
def test_spellings_of_an_outside_diameter(value: CellValue, diameter: float) -> None:
    read = read_size(value, column=COLUMN)
    assert isinstance(read, Read)
    assert read.value == TubeSize(diameter)


def test_only_the_plain_figure_needs_no_repair() -> None:
    assert read_size("22", column=COLUMN) == Read(TubeSize(22.0))
    assert read_size("22mm", column=COLUMN) == Read(TubeSize(22.0), "read '22mm' as 22 mm")
    assert read_size("76", column=COLUMN) == Read(TubeSize(76.1), "read '76' as 76.1 mm")


@pytest.mark.parametrize("text", ["22 x 0.9", "22x0.9", "22 × 0,9 mm", "Ø22 X 0.9"])
def test_diameter_and_wall(text: str) -> None:
    read = read_size(text, column=COLUMN)
    assert isinstance(read, Read)
    assert read.value == TubeSize(22.0, 0.9)


@pytest.mark.parametrize("text", ["DN20", "DN 20", "dn-20", "20NB", '¾"', '3/4"', "3/4 in", '0.75"'])
def test_a_nominal_size_says_no_diameter_without_a_material(text: str) -> None:
    fault = read_size(text, column=COLUMN, nominal=NOMINAL)
    assert isinstance(fault, Fault)
    assert fault.kind == "size-needs-material"
    diameters = []
    for material in ("copper", "threaded_steel"):
        read = read_size(text, column=COLUMN, material=material, nominal=NOMINAL)
        assert isinstance(read, Read)
        diameters.append(read.value.outside_diameter)
    assert diameters == [22.0, 26.9]


@pytest.mark.parametrize("text", ['1 1/4"', '1¼"', "1-1/4 inch", '1.25"'])
def test_inches_with_a_fraction(text: str) -> None:
    read = read_size(text, column=COLUMN, material="copper", nominal=NOMINAL)
    assert isinstance(read, Read)
    assert read.value == TubeSize(35.0)


@pytest.mark.parametrize("text", ["DN15", '½"'])
def test_dn_15_could_be_15_mm_tube_even_with_a_material(text: str) -> None:
    fault = read_size(text, column=COLUMN, material="copper", nominal=NOMINAL)
    assert isinstance(fault, Fault)
    assert fault.kind == "size-could-be-two"
    assert "could be 15 mm tube or 18 mm tube" in fault.message
    settled = read_size(text, column=COLUMN, material="copper", nominal=NOMINAL, answered={text: 15})
    assert isinstance(settled, Read)
    assert settled.value == TubeSize(15.0)


@pytest.mark.parametrize(
    ("value", "kind"),
    [
        ("23", "size-unknown"),
        ("66", "size-unknown"),
        ("88", "size-unknown"),
        ("220", "size-unknown"),
        ("22.4", "size-unknown"),
        ("22x15", "size-is-two"),
        ("22/15", "size-is-two"),
        ("22 x 22 x 15", "not-a-size"),
        ("large", "not-a-size"),
        ("-22", "not-a-size"),
        (True, "not-a-size"),
        ("", "blank"),
        ('9/8"', "not-a-size"),
        ('22"', "not-a-size"),
    ],
)
def test_what_is_no_tube_size_is_named_for_what_it_is(value: CellValue, kind: str) -> None:
    fault = read_size(value, column=COLUMN)
    assert isinstance(fault, Fault)
    assert fault.kind == kind


def test_an_unknown_diameter_names_the_nearest_first() -> None:
    fault = read_size("23", column=COLUMN)
    assert isinstance(fault, Fault)
    assert fault.message.endswith("the nearest are 22 and 18 mm")
    assert fault.remedy.endswith("""'joints.size: {sizes: {"23": 22}}'""")


def test_no_whole_number_rounds_to_two_diameters() -> None:
    for whole in range(10, 120):
        assert sum(1 for size in KNOWN_DIAMETERS if abs(size - whole) < 0.5) <= 1


@given(st.text(max_size=16) | st.text(alphabet='0123456789 xX"/DNdn.,mØ', max_size=12))
def test_any_text_gives_a_size_or_a_fault(text: str) -> None:
    read = read_size(text, column=COLUMN, material="copper", nominal=NOMINAL)
    assert isinstance(read, Read | Fault)
    if isinstance(read, Read):
        assert read.value.outside_diameter in KNOWN_DIAMETERS
