"""The frame of an edition, from the project's settings."""

from witnessmark.model.contract import Edition
from witnessmark.model.settings import Duty, ProjectSettings
from witnessmark.pages.frame import DutyView, Frame, MenuGroup
from witnessmark.pages.words import clean, date_words

EDITION_WORDS = {
    Edition.TAG: "Tag",
    Edition.FACILITIES: "Facilities",
    Edition.AUDIT: "Audit",
}


def duty_view(duty: Duty) -> DutyView:
    """The duty role as a page shows it."""
    dial = "".join(c for c in duty.phone if c in "0123456789+*#")
    return DutyView(clean(duty.role) or "Duty role", clean(duty.phone), dial)


def frame_of(settings: ProjectSettings, edition: Edition, menu: tuple[MenuGroup, ...]) -> Frame:
    """Everything that stands around the pages of an edition."""
    return Frame(
        edition=edition.value,
        edition_words=EDITION_WORDS[edition],
        project=clean(settings.name),
        building=clean(settings.building),
        issue=f"issue {clean(settings.issue.number)}",
        issued_iso=settings.issue.date.isoformat(),
        issued_words=date_words(settings.issue.date),
        status=clean(settings.issue.status),
        duty=duty_view(settings.duty),
        menu=menu,
    )
