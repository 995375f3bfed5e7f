"""File names are plain, distinct and never a record's raw id."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.pages.address import (
    MAX_SLUG,
    UnusableTagCode,
    leaf_address,
    leaf_count,
    root_of,
    row_address,
    section_address,
    slugs,
)


@given(st.lists(st.text(max_size=60), unique=True, max_size=30))
def test_any_ids_get_distinct_plain_names(ids: list[str]) -> None:
    names = slugs(ids)
    assert list(names) == ids
    assert len(set(names.values())) == len(ids)
    for name in names.values():
        assert re.fullmatch(r"[a-z0-9][a-z0-9-]*", name)
        assert len(name) <= MAX_SLUG


@pytest.mark.parametrize("reserved", ["CON", "nul", "COM1", "Lpt9"])
def test_names_that_windows_keeps_for_devices_are_avoided(reserved: str) -> None:
    assert slugs([reserved])[reserved] != reserved.lower()


def test_plain_ids_keep_their_letters_and_ids_that_differ_only_in_case_do_not_meet() -> None:
    assert slugs(["LTHW-F"]) == {"LTHW-F": "lthw-f"}
    names = slugs(["lthw-f", "LTHW-F", "LTHW F"])
    assert len({name.lower() for name in names.values()}) == 3


@pytest.mark.parametrize("code", ["../../x", "a/b", "", "CON", "abc1234", "A" * 300])
def test_what_is_no_tag_code_makes_no_address(code: str) -> None:
    with pytest.raises(UnusableTagCode):
        section_address(code)


def test_pages_find_the_way_back_to_the_top() -> None:
    assert section_address("W6RH9MH") == "T/W6RH9MH/index.html"
    assert root_of("T/W6RH9MH/index.html") == "../../"
    assert root_of("index.html") == ""


def test_rows_are_found_on_their_leaf() -> None:
    assert row_address("registers/joints", 0) == "registers/joints.html#r1"
    assert row_address("registers/joints", 499) == "registers/joints.html#r500"
    assert row_address("registers/joints", 500) == "registers/joints.2.html#r501"
    assert [leaf_count(n) for n in (0, 1, 500, 501, 1000, 1001)] == [1, 1, 1, 2, 2, 3]
    assert leaf_address("sections", 3) == "sections.3.html"
