"""The finding about tests that ran at the same time."""

import datetime
from collections.abc import Sequence

from witnessmark.checks.anomalies.tests_at_once import Hold
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Subject


def clash_finding(
    rule: Rule, holds: Sequence[Hold], subject: Subject, begins: str, ends: str, day: datetime.date, field: str
) -> Finding:
    """'``begins`` test PT-014 (09:30 to 10:30) and test PT-015 (10:00 to 11:00) of 9 March 2026``ends``'."""
    tests = list({hold.test.test_id: hold for hold in holds}.values())
    shown = [hold.words for hold in tests[:3]]
    listed = f"{', '.join(shown[:-1])} and {shown[-1]}"
    if len(tests) > 3:
        listed = f"{', '.join(shown)} and {len(tests) - 3} more"
    places = [hold.test.source.place(field) for hold in holds[:20]]
    return Finding(
        rule,
        Outcome.FAIL,
        f"{begins} {listed} of {day_words(day)}{ends}",
        rule.closes,
        subject,
        places[0],
        tuple(places[1:]),
        rule.whose,
        tuple(sorted({section_id for hold in holds for section_id in hold.test.section_ids})),
    )
