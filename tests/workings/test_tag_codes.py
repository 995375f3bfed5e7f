"""Tag codes are permanent, unambiguous, never reused, and the same on every machine."""

from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.check_character import is_valid
from witnessmark.model.records import Tag
from witnessmark.model.source import RowSource, SourceTable
from witnessmark.workings.tag_codes import ALPHABET, assign

ROW = RowSource(SourceTable("records/tags.csv", "", {}, ()), 2, ())


def registered(code: str, section_id: str) -> Tag:
    return Tag(source=ROW, code=code, section_id=section_id, first_issue="P01")


def test_the_alphabet_has_no_look_alikes_and_no_vowels() -> None:
    """Common practice, no published source: 0/O, 1/I/L read alike on a wet label; vowels make words."""
    assert not set("01OIAEUBSZGQDV5") & set(ALPHABET)


@given(st.lists(st.text(min_size=1, max_size=20), unique=True, max_size=30))
def test_codes_are_seven_characters_of_the_alphabet_and_check(section_ids: list[str]) -> None:
    codes = assign("P", section_ids, []).by_section
    assert len(set(codes.values())) == len(section_ids)
    for code in codes.values():
        assert len(code) == 7
        assert set(code) <= set(ALPHABET)
        assert is_valid(code)


def test_every_slip_of_one_character_and_every_swap_of_neighbours_is_found() -> None:
    for code in assign("P", [f"S{n}" for n in range(40)], []).by_section.values():
        for place in range(7):
            slips = {code[:place] + other + code[place + 1 :] for other in ALPHABET if other != code[place]}
            assert not any(is_valid(slip) for slip in slips)
        for place in range(6):
            swapped = code[:place] + code[place + 1] + code[place] + code[place + 2 :]
            assert swapped == code or not is_valid(swapped)


def test_the_order_of_the_records_does_not_change_new_codes() -> None:
    ids = [f"S{n}" for n in range(200)]
    assert assign("P", ids, []).by_section == assign("P", ids[::-1], []).by_section


def test_a_registered_code_stays_and_is_never_given_to_another_section() -> None:
    first = assign("P", ["A"], []).by_section["A"]
    codes = assign("P", ["B", "A"], [registered(first, "A")])
    assert codes.by_section["A"] == first
    assert [section for _, section in codes.new] == ["B"]
    taken_by_b = assign("P", ["A"], [registered(first, "B")])
    assert taken_by_b.by_section["A"] != first


def test_the_code_of_a_section_that_left_the_records_is_retired_not_lost() -> None:
    gone = registered("F7KX2MR", "OLD")
    codes = assign("P", ["A"], [gone])
    assert codes.retired == (gone,)
    assert "F7KX2MR" not in codes.by_section.values()
