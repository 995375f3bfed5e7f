"""Check characters against the examples published with the standards that use them."""

import random
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from witnessmark.engineering.check_character import (
    DIGITS,
    LETTERS_AND_DIGITS,
    MOD_11_2,
    MOD_11_10,
    MOD_37_2,
    MOD_37_36,
    MOD_97_10,
    System,
    check_character,
    check_characters,
    is_valid,
    is_valid_in,
    letters_as_numbers,
    undetected_swaps,
)
from witnessmark.engineering.errors import EmptyPayloadError, EngineeringError, NotInAlphabetError

# (system, payload, check characters, source)
PUBLISHED = [
    (MOD_37_36, "A12425GABC1234002", "M", "GRid Standard 2.1 (IFPI), example A1-2425G-ABC1234002-M; published"),
    (MOD_37_36, "188166C734206541", "Y", "ISAN 1881-66C7-3420-6541-Y-9F3A-0245-O (ISO 15706); published"),
    (MOD_37_36, "188166C7342065419F3A0245", "O", "the same ISAN, with its version; published"),
    (MOD_37_36, "000000018CFA0000", "I", "ISAN 0000-0001-8CFA-0000-I-0000-0000-K; published"),
    (MOD_37_36, "000000018CFA000000000000", "K", "the same ISAN, with its version; published"),
    (MOD_37_36, "00000000D07A0090", "Q", "ISAN 0000-0000-D07A-0090-Q-0000-0000-X; published"),
    (MOD_11_2, "0794", "0", "ISO/IEC 7064 worked example; published"),
    (MOD_11_2, "079", "X", "ISO/IEC 7064 worked example with the supplementary character; published"),
    (MOD_11_2, "000000021825009", "7", "ORCID 0000-0002-1825-0097, ORCID's own documentation; published"),
    (MOD_11_2, "000000021694233", "X", "ORCID 0000-0002-1694-233X, ORCID's own documentation; published"),
    (MOD_11_2, "000000012146438", "X", "ISNI 0000 0001 2146 438X, ISNI's own example; from memory"),
    (MOD_37_2, "G123498654321", "H", "UK transfusion guidelines, Annexe 2, ISBT 128 example; published"),
    (MOD_37_2, "A999914123456", "N", "ISBT 128 Standard Technical Specification example; published"),
    (MOD_37_2, "A999922012346", "*", "ISBT 128 Standard Technical Specification example; published"),
    (MOD_97_10, "794", "44", "ISO/IEC 7064 worked example; published"),
    (MOD_11_10, "0794", "5", "ISO/IEC 7064 worked example; published"),
    (MOD_11_10, "00200667308", "5", "Handed down with public test suites for MOD 11,10; published"),
]


@pytest.mark.parametrize(("system", "payload", "check", "source"), PUBLISHED, ids=[row[3] for row in PUBLISHED])
def test_published_example_has_its_check_character(system: System, payload: str, check: str, source: str) -> None:
    assert check_characters(system, payload) == check, source
    assert is_valid_in(system, payload + check), source


# ISO 13616 prints GB82 WEST 1234 5698 7654 32 and DE89 3704 0044 0532 0130 00 as its examples; published.
@pytest.mark.parametrize("iban", ["GB82WEST12345698765432", "DE89370400440532013000", "BE68539007547034"])
def test_published_bank_account_number_is_valid_in_mod_97_10(iban: str) -> None:
    assert is_valid_in(MOD_97_10, letters_as_numbers(iban[4:] + iban[:4]))


def test_published_legal_entity_identifier_is_valid_in_mod_97_10() -> None:
    """12 CFR Part 1003 Appendix C: identifier 10Bx939c5543TqA1144M999143X has check digits 38; published."""
    payload = "10BX939C5543TQA1144M999143X"
    assert check_characters(MOD_97_10, letters_as_numbers(payload)) == "38"


SYSTEMS = [(MOD_11_2, DIGITS), (MOD_37_2, LETTERS_AND_DIGITS), (MOD_97_10, DIGITS), (MOD_11_10, DIGITS),
           (MOD_37_36, LETTERS_AND_DIGITS)]  # fmt: skip


@pytest.mark.parametrize(("system", "alphabet"), SYSTEMS)
def test_any_single_wrong_character_is_found(system: System, alphabet: str) -> None:
    """ISO/IEC 7064 claims this of every system; published."""
    source = random.Random(7064)
    for _ in range(30):
        payload = "".join(source.choices(alphabet, k=7))
        code = payload + check_characters(system, payload)
        for position in range(len(code)):
            for wrong in alphabet:
                if wrong != code[position]:
                    assert not is_valid_in(system, code[:position] + wrong + code[position + 1 :])


@pytest.mark.parametrize(("system", "alphabet"), [(MOD_11_2, DIGITS), (MOD_37_2, LETTERS_AND_DIGITS)])
def test_any_swap_of_unlike_neighbours_is_found_by_a_pure_system(system: System, alphabet: str) -> None:
    """ISO/IEC 7064 claims this of the pure systems; published."""
    source = random.Random(7064)
    for _ in range(500):
        payload = "".join(source.choices(alphabet, k=7))
        code = payload + check_characters(system, payload)
        for position in range(len(code) - 1):
            first, second = code[position], code[position + 1]
            swapped = code[:position] + second + first + code[position + 2 :]
            assert swapped == code or not is_valid_in(system, swapped)


def test_a_hybrid_system_lets_few_swaps_pass_and_names_them() -> None:
    """ISO/IEC 7064 says 'all or nearly all' for a hybrid system: a code that lets a swap pass is named."""
    source = random.Random(7064)
    swaps = passed = clean = 0
    for _ in range(2000):
        payload = "".join(source.choices(LETTERS_AND_DIGITS, k=5))
        code = payload + check_character(payload)
        swaps += sum(a != b for a, b in pairwise(code))
        weak = undetected_swaps(code)
        passed += len(weak)
        clean += not weak
        for position in weak:
            swapped = code[:position] + code[position + 1] + code[position] + code[position + 2 :]
            assert swapped != code
            assert is_valid(swapped)
    assert 0 < passed / swaps < 1 / 200
    assert clean / 2000 > 0.98


@given(st.text(alphabet=LETTERS_AND_DIGITS, min_size=1, max_size=40))
def test_a_code_with_its_check_character_is_valid(payload: str) -> None:
    assert is_valid(payload + check_character(payload))


@given(st.text(max_size=12))
def test_any_text_is_judged_without_an_error(text: str) -> None:
    assert is_valid(text) in (True, False)


@pytest.mark.parametrize("bad", ["ab", "A-1", "A 1", "É", "Ⅷ"])
def test_a_foreign_character_is_named(bad: str) -> None:
    with pytest.raises(NotInAlphabetError, match="is not one of"):
        check_character(bad)
    assert not is_valid(bad + "0")


def test_an_empty_code_is_refused_with_a_sentence() -> None:
    with pytest.raises(EmptyPayloadError, match="empty"):
        check_character("")
    assert issubclass(EmptyPayloadError, EngineeringError)
    assert issubclass(EngineeringError, ValueError)
    assert not is_valid("")
    assert not is_valid("7")
