"""Sentences without files, rows and columns, for editions that may not name them."""

from collections.abc import Callable

import pytest

from witnessmark.pages.place_words import place_remover
from witnessmark.pipeline import Outcome


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("the hold in records/tests.csv, row 2, column P (hold_min); the drop", "the hold; the drop"),
        ("the gauge in the register, named in records/tests.csv, row 2", "the gauge in the register"),
        ("Nothing to take out, in no file.", "Nothing to take out, in no file."),
        ("the wall in records/tubes.csv, row 11", "the wall"),
        ("the guarantee terms for copper in project.yml", "the guarantee terms for copper"),
        ("Copper: project.yml holds no guarantee terms.", "Copper: the project holds no guarantee terms."),
    ],
)
def test_places_are_taken_out_and_the_rest_stays(small_outcome: Outcome, text: str, left: str) -> None:
    assert place_remover(small_outcome.project)(text) == left


def test_a_project_without_records_leaves_sentences_alone(make_outcome: Callable[..., Outcome]) -> None:
    assert place_remover(make_outcome().project)("in records/tests.csv") == "in records/tests.csv"
