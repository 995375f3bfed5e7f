"""Which start dates and last days a material's guarantee has, and whether it was registered by then."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

from witnessmark.evidence.material_joints import MaterialJoints
from witnessmark.model.day_words import day_words
from witnessmark.model.settings import GuaranteeTerms
from witnessmark.workings.guarantee import BASIS_FIELDS
from witnessmark.workings.work import Workings

_TOLD = 3
NO_LAST_DAY = "the terms in project.yml state no last day to register."


@dataclass(frozen=True, slots=True)
class GuaranteeDates:
    """The dates that sections of one material share, or what is missing to work them out."""

    starts_on: datetime.date | None
    ends_on: datetime.date | None
    register_by: datetime.date | None
    """Last day to register; ``None`` where the terms state none, or the start is not recorded."""
    registered_days_late: int | None
    section_ids: tuple[str, ...]
    missing: tuple[str, ...]


def dates_of(workings: Workings, joints: MaterialJoints) -> tuple[GuaranteeDates, ...]:
    """Distinct dates over the sections of the material, the earliest first, those with something missing last."""
    groups: dict[GuaranteeDates, list[str]] = {}
    for section_id in joints.section_ids:
        for working in workings.sections[section_id].guarantees:
            if working.material == joints.material:
                key = GuaranteeDates(
                    working.starts_on,
                    working.ends_on,
                    working.register_by,
                    working.registered_days_late,
                    (),
                    working.missing,
                )
                groups.setdefault(key, []).append(section_id)
    made = [
        GuaranteeDates(
            key.starts_on, key.ends_on, key.register_by, key.registered_days_late, tuple(sections), key.missing
        )
        for key, sections in groups.items()
    ]
    return tuple(sorted(made, key=lambda dates: (dates.starts_on or datetime.date.max, dates.missing)))


def registration(
    terms: GuaranteeTerms, dates: Sequence[GuaranteeDates], today: datetime.date
) -> tuple[int, tuple[str, ...], list[str], list[str]]:
    """Records of the registration (count, in words), sections registered late or not at all, sections not known.

    ``today`` is the day of the issue. A last day still to come is not yet known, and not late.
    """
    words: list[str] = []
    if terms.registered_on is not None:
        words.append(f"Registered on {day_words(terms.registered_on)}.")
    if terms.registration:
        words.append(f"Document {terms.registration} for the registration.")
    late: list[str] = []
    unknown: list[str] = []
    for group in dates:
        if group.register_by is None:
            unknown.extend(group.section_ids)
        elif group.registered_days_late:
            late.extend(group.section_ids)
        elif terms.registered_on is None and group.register_by is not None:
            (late if group.register_by < today else unknown).extend(group.section_ids)
    words.extend(_deadlines(terms, dates, today))
    return (0 if terms.registered_on is None else 1), tuple(dict.fromkeys(words)), late, unknown


def _deadlines(terms: GuaranteeTerms, dates: Sequence[GuaranteeDates], today: datetime.date) -> list[str]:
    told = [_deadline(terms, group, today) for group in dates]
    if len(told) <= _TOLD:
        return told
    last = max((group.register_by for group in dates if group.register_by is not None), default=None)
    until = f", the last of them {day_words(last)}" if last is not None else ""
    return [*told[:_TOLD], f"{len(told) - _TOLD:,} further starts{until}."]


def _deadline(terms: GuaranteeTerms, group: GuaranteeDates, today: datetime.date) -> str:
    if group.register_by is None or group.starts_on is None:
        return f"No last day for {_sections(group)}: missing is {'; '.join(group.missing)}."
    basis = BASIS_FIELDS[terms.basis][1]
    since = (
        f"Last day {day_words(group.register_by)} for {_sections(group)}, from {basis} on {day_words(group.starts_on)}"
    )
    if group.registered_days_late:
        days = group.registered_days_late
        return f"{since}: registered {days} {'day' if days == 1 else 'days'} late."
    if terms.registered_on is None:
        return f"{since}: {'passed' if group.register_by < today else 'still to come'}, no registration recorded."
    return f"{since}."


def _sections(group: GuaranteeDates) -> str:
    number = len(group.section_ids)
    return f"section {group.section_ids[0]}" if number == 1 else f"{number:,} sections"
