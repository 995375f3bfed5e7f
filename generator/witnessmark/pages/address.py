"""Addresses inside an edition: always relative, lower-case ASCII but for tags, and never a record's raw id."""

import hashlib
import re
import unicodedata
from collections.abc import Iterable

LEAF_ROWS = 500
MAX_SLUG = 40

_TAG_CODE = re.compile(r"[0-9A-Z]{4,16}")
_NOT_SLUG = re.compile(r"[^a-z0-9]+")
# Names that Windows keeps for devices, whatever the extension.
_RESERVED = {"con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(10))}


class UnusableTagCode(ValueError):
    """A tag code that no page address can be made of."""

    def __init__(self, code: str, section_id: str) -> None:
        super().__init__(
            f"The tag code {code!r} of section {section_id!r} is none that Witnessmark makes (upper-case letters and "
            "digits only); restore records/tags.csv from the last issue."
        )


def section_address(code: str, section_id: str = "") -> str:
    """Where the page of a tag lives, for ever, in every edition."""
    if not _TAG_CODE.fullmatch(code) or code.lower() in _RESERVED:
        raise UnusableTagCode(code, section_id)
    return f"T/{code}/index.html"


def is_tag_code(code: str) -> bool:
    """Whether a page address can be made of the code."""
    return bool(_TAG_CODE.fullmatch(code)) and code.lower() not in _RESERVED


def root_of(address: str) -> str:
    """The way from a page back to the top of its edition: '' or '../../'."""
    return "../" * address.count("/")


def slugs(ids: Iterable[str]) -> dict[str, str]:
    """A file name for every id: [a-z0-9-], at most 40 characters, distinct on any file system.

    An id that would lose letters, be too long, be kept by Windows or meet another one gets part of its hash, so
    that no two ids ever share a page and an id keeps its address when others come or go.
    """
    plain: dict[str, str] = {}
    seen: dict[str, int] = {}
    for each in ids:
        folded = unicodedata.normalize("NFKD", each).encode("ascii", "ignore").decode().lower()
        slug = _NOT_SLUG.sub("-", folded).strip("-")
        plain[each] = slug
        seen[slug] = seen.get(slug, 0) + 1
    result = {}
    for each, slug in plain.items():
        faithful = (
            slug != "" and slug == each.lower() and each.isascii() and len(slug) <= MAX_SLUG and slug not in _RESERVED
        )
        if faithful and seen[slug] == 1:
            result[each] = slug
        else:
            digest = hashlib.sha256(each.encode("utf-8", "surrogatepass")).hexdigest()[:12]
            result[each] = f"{slug[: MAX_SLUG - 13].strip('-')}-{digest}".strip("-")
    return result


def leaf_address(stem: str, leaf: int) -> str:
    """Address of a leaf of a long list, from 1: 'registers/joints.html', 'registers/joints.2.html'."""
    return f"{stem}.html" if leaf == 1 else f"{stem}.{leaf}.html"


def leaf_count(rows: int) -> int:
    """How many leaves a list of that many rows has; an empty list has one, which says so."""
    return max(1, -(-rows // LEAF_ROWS))


def row_address(stem: str, index: int) -> str:
    """Address of a row, counted from 0, on its leaf."""
    return f"{leaf_address(stem, index // LEAF_ROWS + 1)}#r{index + 1}"
