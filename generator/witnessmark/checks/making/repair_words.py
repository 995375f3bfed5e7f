"""Whether a remark says that a joint was pressed again, by the words of ``shared/reference/pressed_again_words.csv``."""

import csv
import re
from functools import cache

from witnessmark.model.bundled import shared_path

_CLAUSE = re.compile(r"[.;,:()!?]|\bbut\b")


@cache
def _words() -> tuple[tuple[str, ...], frozenset[str]]:
    with shared_path("reference/pressed_again_words.csv").open(encoding="utf-8", newline="") as handle:
        rows = [(row["words"], row["meaning"]) for row in csv.DictReader(handle)]
    return (
        tuple(words for words, meaning in rows if meaning == "repair"),
        frozenset(words for words, meaning in rows if meaning == "denial"),
    )


@cache
def _pattern() -> re.Pattern[str]:
    return re.compile(r"\b(?:" + "|".join(re.escape(words) for words in _words()[0]) + r")(?:ed|ing)?\b")


@cache
def says_pressed_again(remark: str) -> bool:
    """Whether a clause of the remark says so and does not deny it.

    >>> says_pressed_again("re-pressed after leak"), says_pressed_again("not re-pressed, cut out")
    (True, False)
    """
    denials = _words()[1]
    for clause in _CLAUSE.split(" ".join(remark.casefold().replace("‑", "-").replace("–", "-").split())):
        found = _pattern().search(clause)
        if found and not denials & set(re.findall(r"[a-z]+", clause[: found.start()])):
            return True
    return False
