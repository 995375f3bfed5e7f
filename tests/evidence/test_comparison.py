"""Two runs side by side: what is new, what is still open, what is closed."""

from __future__ import annotations

import dataclasses

from hypothesis import given
from hypothesis import strategies as st

from witnessmark.evidence.comparison import compare, key_of, keys_from, keys_text
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.source import SourceLocation

RULE = Rule("jaw-of-another-size", "?", Severity.BREAKS, "", "", "", "", "")


def finding(subject: str, row: int = 2, heading: str = "jaw", outcome: Outcome = Outcome.FAIL) -> Finding:
    place = SourceLocation("records/joints.csv", "", row, "K", heading)
    return Finding(RULE, outcome, f"{subject} in row {row}.", "Fill it in.", Subject("joint", subject), place)


def test_a_finding_that_moved_to_another_row_or_says_another_number_is_still_open() -> None:
    change = compare([key_of(finding("J1", 2))], [finding("J1", 40)])
    assert (len(change.new), len(change.still_open), change.closed) == (0, 1, ())


def test_an_answer_that_turned_from_cannot_tell_to_fail_is_the_same_finding() -> None:
    change = compare([key_of(finding("J1", outcome=Outcome.CANNOT_TELL))], [finding("J1")])
    assert len(change.still_open) == 1


def test_a_finding_that_was_waived_is_closed_and_one_no_longer_waived_is_new() -> None:
    waived = finding("J1", outcome=Outcome.WAIVED)
    assert [key.subject for key in compare([key_of(finding("J1"))], [waived]).closed] == ["J1"]
    assert keys_from(keys_text([waived])) == []


def test_of_several_alike_each_counts_once() -> None:
    earlier = [key_of(finding("J1", row)) for row in (2, 3, 4)]
    change = compare(earlier, [finding("J1", 9)])
    assert (len(change.still_open), len(change.closed)) == (1, 2)


@given(st.lists(st.tuples(st.text(max_size=4), st.sampled_from(["jaw", "tool", ""])), max_size=12))
def test_what_was_kept_is_read_back_and_nothing_is_new_then(parts: list[tuple[str, str]]) -> None:
    findings = [finding(subject, heading=heading) for subject, heading in parts]
    clean = [
        f
        for f in findings
        if f.subject.id.isprintable() or f.subject.id.encode("utf-8", "ignore").decode() == f.subject.id
    ]
    kept = keys_from(keys_text(clean))
    assert kept is not None
    change = compare(kept, clean)
    assert (change.new, change.closed) == ((), ())


def test_a_file_of_something_else_counts_as_no_earlier_run() -> None:
    for text in ("", "[]", "{}", '{"version": 2, "open": []}', '{"version": 1, "open": [[1]]}', "[" * 100_000):
        assert keys_from(text) is None


def test_the_message_may_change_without_the_finding_being_new() -> None:
    changed = dataclasses.replace(finding("J1"), message="212 joints.")
    assert compare([key_of(finding("J1"))], [changed]).new == ()
