"""Guarantee of a material in a section, through an edition."""

from collections.abc import Callable

from witnessmark.model.contract import Edition
from witnessmark.pages.section_page import GuaranteeView
from witnessmark.pages.words import (
    NOT_IN_RECORDS,
    choice_words,
    clean,
    counted,
    date_words,
    joined,
    missing_words,
    sentence_start,
)
from witnessmark.pages.working import InputView
from witnessmark.workings.guarantee import FORMULA, GuaranteeWorking


def _register_by(working: GuaranteeWorking) -> str:
    if working.register_by is None:
        return ""
    notice = working.days_to_register
    within = f", within {counted(notice, 'day')} of {working.basis_words}" if notice is not None else ""
    return date_words(working.register_by) + within


def guarantee_view(working: GuaranteeWorking, edition: Edition, words_of: Callable[[str], str]) -> GuaranteeView:
    """End date with what it hangs on; the tag edition shows the end, and no dates of delivery or installation."""
    terms = working.terms
    inputs: tuple[InputView, ...] = ()
    if edition is not Edition.TAG:
        audit = edition is Edition.AUDIT
        inputs = tuple(
            InputView(clean(i.name), clean(i.value), clean(i.location.words) if audit and i.location else "")
            for i in working.inputs
        )
    registered = ""
    if terms is not None and terms.register_within_days is not None:
        registered = date_words(terms.registered_on) if terms.registered_on else NOT_IN_RECORDS
        late = working.registered_days_late
        if late:
            registered += f", {counted(late, 'day')} late"
    return GuaranteeView(
        material=sentence_start(choice_words(working.material)),
        ends=date_words(working.ends_on) if working.ends_on else "",
        missing=words_of(missing_words(working.missing)) if working.missing else "",
        runs_from=f"{counted(terms.years, 'year')} from {working.basis_words}" if terms else "",
        register_by=_register_by(working),
        registered=registered,
        reminders=joined([date_words(day) for day in working.reminders]),
        guarantor=clean(terms.guarantor) if terms else "",
        conditions=tuple(clean(each) for each in terms.conditions) if terms else (),
        formula=FORMULA,
        inputs=inputs,
    )
