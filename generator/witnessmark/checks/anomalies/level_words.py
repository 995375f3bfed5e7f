"""Levels as the records write them, and whether two of them are surely apart."""

import re
from functools import lru_cache

_NAMED = re.compile(r"^(?:level|floor|lvl|l)[\s.]*", re.IGNORECASE)
_RANGE = re.compile(r"^(-?[0-9]{1,3})\s*(?:to|-|–)\s*(-?[0-9]{1,3})$", re.IGNORECASE)
_NUMBER = re.compile(r"^-?[0-9]{1,3}$")


@lru_cache(maxsize=4096)
def levels(text: str | None) -> frozenset[int] | None:
    """Levels in figures, '1 to 3' being three of them; ``None`` where any part is no figure, as 'roof'."""
    found: set[int] = set()
    for part in re.split(r"[;,]", text or ""):
        plain = _NAMED.sub("", part.strip())
        between = _RANGE.match(plain)
        if between:
            low, high = sorted((int(between.group(1)), int(between.group(2))))
            found.update(range(low, high + 1))
        elif _NUMBER.match(plain):
            found.add(int(plain))
        else:
            return None
    return frozenset(found)


def apart(one: frozenset[int] | None, other: frozenset[int] | None) -> bool:
    """Whether both are known and no level is in both."""
    return bool(one) and bool(other) and one is not None and other is not None and one.isdisjoint(other)
