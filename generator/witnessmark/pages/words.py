"""Words for people: dates, codes of the contract, counts, and text that a page can carry."""

import datetime
import re
from functools import lru_cache

from witnessmark.model.day_words import day_words

NOT_RECORDED = "not recorded"
NOT_READ = "could not be read"
NOT_IN_RECORDS = "not in the records"

_BLANKS = re.compile(r"[\t\n\r\v\f\u2028\u2029]+")
# Controls and non-characters may not stand in HTML; unseen direction overrides can make a number read backwards.
_UNPRINTABLE = re.compile(
    "[\x00-\x08\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff"
    + "".join(f"{chr(plane * 0x10000 + 0xFFFE)}{chr(plane * 0x10000 + 0xFFFF)}" for plane in range(1, 17))
    + "]"
)


def clean(text: str) -> str:
    """Record text as a page can carry it: blanks made plain, unprintable characters shown as U+FFFD."""
    if text.isprintable():
        return text
    return _UNPRINTABLE.sub("\ufffd", _BLANKS.sub(" ", text))


@lru_cache(maxsize=8192)
def date_words(day: datetime.date) -> str:
    """'12 May 2026'."""
    return day_words(day)


def choice_words(value: str) -> str:
    """A value of a fixed list in words: 'cut_out' is 'cut out'."""
    return value.replace("_", " ")


def sentence_start(text: str) -> str:
    """The text with its first letter upper case, the rest as it stands."""
    return text[:1].upper() + text[1:]


def counted(number: int, singular: str, plural: str = "") -> str:
    """'1 joint', '2,134 joints'."""
    return f"{number:,} {singular if number == 1 else plural or singular + 's'}"


def missing_words(missing: tuple[str, ...]) -> str:
    """'not in the records: the wall; the length'."""
    return f"{NOT_IN_RECORDS}: {clean('; '.join(missing))}" if missing else NOT_IN_RECORDS


def joined(parts: list[str] | tuple[str, ...], last: str = "and") -> str:
    """'a, b and c'."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}"
