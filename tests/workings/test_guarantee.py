"""Guarantee dates by the project's own terms: end, days of notice, reminders."""

import datetime
from collections.abc import Callable
from typing import Any

from witnessmark.model.project import Project
from witnessmark.model.settings import GuaranteeTerms
from witnessmark.workings.guarantee import GuaranteeWorking
from witnessmark.workings.work import work

MakeProject = Callable[..., Project]
DAY = datetime.date


def guarantee(make_riser: MakeProject, **terms: Any) -> GuaranteeWorking:
    settings = {"guarantee": {"stainless_steel": GuaranteeTerms("stainless_steel", 10, "commissioning", **terms)}}
    project = make_riser(settings=settings, sections={"commissioned_on": DAY(2024, 2, 29)})
    (found,) = work(project).sections["R1"].guarantees
    return found


def test_a_term_from_29_february_ends_on_28_february(make_riser: MakeProject) -> None:
    assert guarantee(make_riser).ends_on == DAY(2034, 2, 28)


def test_a_form_sent_on_day_31_of_30_is_one_day_late(make_riser: MakeProject) -> None:
    found = guarantee(make_riser, register_within_days=30, registered_on=DAY(2024, 3, 31))
    assert found.register_by == DAY(2024, 3, 30)
    assert (found.days_to_register, found.registered_days_late) == (30, 1)


def test_reminders_come_before_the_days_they_remind_of(make_riser: MakeProject) -> None:
    open_form = guarantee(make_riser, register_within_days=30)
    assert open_form.registered_days_late is None
    assert open_form.reminders == (
        DAY(2024, 3, 16), DAY(2024, 3, 27), DAY(2033, 2, 28), DAY(2033, 11, 30), DAY(2034, 1, 29),
    )  # fmt: skip
    registered = guarantee(make_riser, register_within_days=30, registered_on=DAY(2024, 3, 1))
    assert registered.reminders == open_form.reminders[2:]
