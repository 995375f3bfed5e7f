"""Tag codes: permanent, unambiguous to read aloud, ending in a check character, never reused.

A code has six characters of an alphabet without look-alikes and rhymes, and one check character by ISO/IEC 7064
MOD 37,36. The check character must fall into the same alphabet, and every swap of neighbours must be found by it:
payloads for which that does not hold are passed over.
The payload is derived from the project and section ids, so that two machines give the same code to the same section.
"""

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from witnessmark.engineering.check_character import check_character, undetected_swaps
from witnessmark.model.records import Tag

ALPHABET = "2346789FHKLMRTWXY"
PAYLOAD_LENGTH = 6


@dataclass(frozen=True, slots=True)
class TagCodes:
    """Code of every section, codes whose section is gone from the records, and codes made just now."""

    by_section: dict[str, str]
    retired: tuple[Tag, ...]
    new: tuple[tuple[str, str], ...]
    """(code, section id) in the order made; to be appended to the tag register."""


def _candidate(project_id: str, section_id: str, attempt: int) -> str | None:
    digest = hashlib.sha256(f"{project_id}\0{section_id}\0{attempt}".encode("utf-8", "surrogatepass")).digest()
    number = int.from_bytes(digest[:8], "big")
    payload = ""
    for _ in range(PAYLOAD_LENGTH):
        number, place = divmod(number, len(ALPHABET))
        payload += ALPHABET[place]
    code = payload + check_character(payload)
    # MOD 37,36 misses one swap of neighbours in some hundred pairs; codes with such a pair are not given out.
    return code if code[-1] in ALPHABET and not undetected_swaps(code) else None


def new_code(project_id: str, section_id: str, taken: Iterable[str]) -> str:
    """The first free code of the series that belongs to a section."""
    taken = taken if isinstance(taken, (set, frozenset, dict)) else set(taken)
    attempt = 0
    while True:
        code = _candidate(project_id, section_id, attempt)
        if code is not None and code not in taken:
            return code
        attempt += 1


def assign(project_id: str, section_ids: Sequence[str], register: Sequence[Tag]) -> TagCodes:
    """Give every section its code: the registered one where there is one, a new one elsewhere.

    The first row of the register for a section counts; a code is never taken twice.
    """
    registered: dict[str, str] = {}
    taken = {tag.code for tag in register}
    for tag in register:
        registered.setdefault(tag.section_id, tag.code)
    by_section: dict[str, str] = {}
    new: list[tuple[str, str]] = []
    for section_id in section_ids:
        code = registered.get(section_id)
        if code is None:
            code = new_code(project_id, section_id, taken)
            taken.add(code)
            new.append((code, section_id))
        by_section[section_id] = code
    known = set(by_section.values())
    retired = tuple(tag for tag in register if tag.code not in known)
    return TagCodes(by_section, retired, tuple(new))
