"""Dates of a column looked at together."""

from __future__ import annotations

import datetime as dt

from witnessmark.intake.date_order import date_order_in, dates_perhaps_swapped
from witnessmark.intake.readings import Fault


def test_the_order_of_a_column_is_evidence_and_counted() -> None:
    found = date_order_in(["13/04/24", "03/04/24", "04/25/24", "2024/01/02", "05/05/24", "x"])
    assert (found.dmy, found.mdy, found.ymd, found.could_be_two) == (1, 1, 1, 1)


def test_typed_dates_beside_text_dates_with_a_day_above_12_may_have_been_turned_round() -> None:
    """Common practice, no published source: a spreadsheet in the other order types what it can and leaves the rest."""
    typed = [dt.datetime(2024, 3, 4), dt.datetime(2024, 5, 4)]
    fault = dates_perhaps_swapped([*typed, "13/04/2024"])
    assert isinstance(fault, Fault)
    assert fault.kind == "dates-perhaps-swapped"
    assert "'13/04/2024' stayed text" in fault.message
    assert dates_perhaps_swapped([*typed, dt.datetime(2024, 4, 13), "13/04/2024"]) is None
    assert dates_perhaps_swapped(typed) is None
    assert dates_perhaps_swapped(["13/04/2024", "03/04/2024"]) is None
    assert dates_perhaps_swapped([*typed, "see drawing"]) is None
