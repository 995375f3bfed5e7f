"""Check characters by ISO/IEC 7064:2003: the pure systems MOD 11-2, 37-2, 97-10, the hybrid MOD 11,10 and 37,36.

The tag codes use MOD 37,36: the check character is itself a letter or digit, and every single wrong character is found.
A hybrid system does not find every swap of two neighbours: whatever stands before, exactly one pair of the 630 pairs of
unlike characters swaps unseen. `undetected_swaps` lists them, so that a new code with such a pair need never be issued.
"""

from typing import Final, NamedTuple

from witnessmark.engineering.errors import EmptyPayloadError, NotInAlphabetError

DIGITS: Final = "0123456789"
LETTERS_AND_DIGITS: Final = DIGITS + "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


class PureSystem(NamedTuple):
    """One modulus at every step (ISO/IEC 7064:2003, pure systems)."""

    modulus: int
    radix: int
    alphabet: str
    check_alphabet: str
    check_length: int


class HybridSystem(NamedTuple):
    """Two moduli, M+1 and M, with M the number of characters in the alphabet (ISO/IEC 7064:2003, hybrid systems)."""

    alphabet: str


MOD_11_2: Final = PureSystem(11, 2, DIGITS, DIGITS + "X", 1)
MOD_37_2: Final = PureSystem(37, 2, LETTERS_AND_DIGITS, LETTERS_AND_DIGITS + "*", 1)
MOD_97_10: Final = PureSystem(97, 10, DIGITS, DIGITS, 2)
MOD_11_10: Final = HybridSystem(DIGITS)
MOD_37_36: Final = HybridSystem(LETTERS_AND_DIGITS)

System = PureSystem | HybridSystem


def check_character(payload: str) -> str:
    """Return the MOD 37,36 check character of an upper-case alphanumeric payload.

    Raises EmptyPayloadError, or NotInAlphabetError for anything but 0-9 and A-Z (the caller folds case).

    >>> check_character("A12425GABC1234002")
    'M'
    """
    return check_characters(MOD_37_36, payload)


def is_valid(code: str) -> bool:
    """Whether the last character of an upper-case alphanumeric code is its MOD 37,36 check character."""
    return is_valid_in(MOD_37_36, code)


def check_characters(system: System, payload: str) -> str:
    """Return the one or two check characters that the system appends to the payload.

    >>> check_characters(MOD_97_10, "794")
    '44'
    """
    if not payload:
        raise EmptyPayloadError
    if isinstance(system, HybridSystem):
        return _hybrid_check(system, payload)
    total = 0
    for character in payload:
        total = (total + _value(character, system.alphabet)) * system.radix % system.modulus
    for _ in range(system.check_length - 1):
        total = total * system.radix % system.modulus
    check = (1 - total) % system.modulus
    if system.check_length == 1:
        return system.check_alphabet[check]
    high, low = divmod(check, system.radix)
    return system.check_alphabet[high] + system.check_alphabet[low]


def is_valid_in(system: System, code: str) -> bool:
    """Whether a code, check characters included, is valid in the system; a foreign character makes it invalid."""
    length = 1 if isinstance(system, HybridSystem) else system.check_length
    payload, check = code[:-length], code[-length:]
    try:
        return check_characters(system, payload) == check
    except (EmptyPayloadError, NotInAlphabetError):
        return False


def undetected_swaps(code: str) -> tuple[int, ...]:
    """Positions i (from 0) at which swapping characters i and i+1 of a MOD 37,36 code leaves it valid.

    Empty for a code that reveals every swap of unlike neighbours. A generator of codes skips the others.
    """
    found = []
    for position in range(len(code) - 1):
        first, second = code[position], code[position + 1]
        if first != second and is_valid(code[:position] + second + first + code[position + 2 :]):
            found.append(position)
    return tuple(found)


def letters_as_numbers(text: str) -> str:
    """Write A as 10 to Z as 35, as ISO 13616 (IBAN) and ISO 17442 (LEI) do before MOD 97-10."""
    return "".join(str(_value(character, LETTERS_AND_DIGITS)) for character in text)


def _hybrid_check(system: HybridSystem, payload: str) -> str:
    size = len(system.alphabet)
    product = size
    for character in payload:
        total = (product + _value(character, system.alphabet)) % size or size
        product = total * 2 % (size + 1)
    return system.alphabet[(1 - product) % size]


def _value(character: str, alphabet: str) -> int:
    value = alphabet.find(character)
    if value < 0:
        raise NotInAlphabetError(character, alphabet)
    return value
