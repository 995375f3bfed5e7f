"""Guarantee dates of a section, per material, by the project's own terms."""

import datetime
from dataclasses import dataclass

from witnessmark.engineering.calendar_terms import Term, days_between, deadline, last_day_of_cover, reminders
from witnessmark.engineering.errors import EngineeringError
from witnessmark.model.project import Project
from witnessmark.model.quantity import Input
from witnessmark.model.records import Section
from witnessmark.model.settings import GuaranteeTerms
from witnessmark.model.source import SourceLocation

BASIS_FIELDS = {
    "delivery": ("delivered_on", "delivery of the material"),
    "installation": ("installed_on", "installation"),
    "commissioning": ("commissioned_on", "commissioning"),
    "completion": ("", "practical completion"),
}
REMIND_DAYS_BEFORE_REGISTRATION = (14, 3)
REMIND_DAYS_BEFORE_END = (365, 90, 30)
FORMULA = "last day = day of the start + years, by the calendar (29 February: 28 February in a common year)"


@dataclass(frozen=True, slots=True)
class GuaranteeWorking:
    """Start and end of the guarantee for one material in one section, or what is missing."""

    material: str
    terms: GuaranteeTerms | None
    starts_on: datetime.date | None
    ends_on: datetime.date | None
    register_by: datetime.date | None
    inputs: tuple[Input, ...]
    missing: tuple[str, ...]

    @property
    def registered_days_late(self) -> int | None:
        """Days by which the registration missed its last day, 0 if in time; ``None`` where it cannot be told."""
        registered_on = self.terms.registered_on if self.terms else None
        if registered_on is None or self.register_by is None:
            return None
        return max(0, days_between(self.register_by, registered_on))

    @property
    def days_to_register(self) -> int | None:
        """Days of notice that the terms give for the registration; ``None`` where they ask for none."""
        return self.terms.register_within_days if self.terms else None

    @property
    def reminders(self) -> tuple[datetime.date, ...]:
        """Days on which to remind: ahead of the last day to register, while not registered, and of the end."""
        days: list[datetime.date] = []
        registered = self.terms is not None and self.terms.registered_on is not None
        if self.register_by is not None and not registered:
            days += reminders(self.register_by, REMIND_DAYS_BEFORE_REGISTRATION)
        if self.ends_on is not None:
            days += reminders(self.ends_on, REMIND_DAYS_BEFORE_END)
        return tuple(sorted(days))

    @property
    def basis_words(self) -> str:
        """What the guarantee runs from, in words."""
        return BASIS_FIELDS[self.terms.basis][1] if self.terms else ""


def guarantee_working(project: Project, section: Section, material: str) -> GuaranteeWorking:
    """Work out the guarantee of one material in a section; nothing is assumed where terms or dates are missing."""
    terms = project.settings.guarantee.get(material)
    place = SourceLocation("project.yml")
    if terms is None:
        return GuaranteeWorking(
            material,
            None,
            None,
            None,
            None,
            (),
            (f"the guarantee terms for {material.replace('_', ' ')} in project.yml",),
        )
    field, words = BASIS_FIELDS[terms.basis]
    start: datetime.date | None
    if field:
        start = getattr(section, field)
        start_place = section.source.place(field)
    else:
        start = project.settings.completion_date
        start_place = place
    inputs = [Input("years", f"{terms.years} years", place)]
    if start is None:
        return GuaranteeWorking(material, terms, None, None, None, tuple(inputs), (f"the date of {words}",))
    inputs.insert(0, Input(f"date of {words}", start.isoformat(), start_place))
    try:
        end = last_day_of_cover(start, Term(years=terms.years), first_day_counts=False)
        register_by = deadline(start, terms.register_within_days) if terms.register_within_days is not None else None
    except EngineeringError as error:
        return GuaranteeWorking(material, terms, start, None, None, tuple(inputs), (f"a possible date: {error}",))
    return GuaranteeWorking(material, terms, start, end, register_by, tuple(inputs), ())
