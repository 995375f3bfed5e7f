"""Whether a batch of tube says that it is plastic-coated, by the words of ``shared/reference/coating_words.csv``."""

import csv
from functools import cache

from witnessmark.model.bundled import shared_path
from witnessmark.model.records import Batch


@cache
def coating_words() -> tuple[str, ...]:
    """Words in lower case, in the order of the table."""
    with shared_path("reference/coating_words.csv").open(encoding="utf-8", newline="") as handle:
        return tuple(row["words"] for row in csv.DictReader(handle))


def plastic_coated(batch: Batch) -> bool:
    """Whether description or standard of the batch name a plastic coating."""
    text = f"{batch.description or ''} {batch.standard or ''}".casefold()
    return any(words in text for words in coating_words())
