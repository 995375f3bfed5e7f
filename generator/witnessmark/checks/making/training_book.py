"""Trainings of each operative, and whether one of them covers a family and size on a day."""

import datetime
from collections import defaultdict
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Outcome
from witnessmark.model.records import Training
from witnessmark.model.source import SourceLocation

_ROUNDING_MM = 0.5
"""Certificates write 76 for 76.1."""


@dataclass(frozen=True, slots=True)
class Standing:
    """Why no training covers the work: ``FAIL`` where the records show it, ``CANNOT_TELL`` where a cell is missing."""

    outcome: Outcome
    sentence: str
    """Without its full stop, for the joints to follow."""
    place: SourceLocation | None = None
    about_size: bool = False


class TrainingBook:
    """The training table by operative."""

    def __init__(self, trainings: Sequence[Training]) -> None:
        self._of: dict[str, list[tuple[Training, frozenset[str]]]] = defaultdict(list)
        for training in sorted(trainings, key=lambda t: (t.trained_on or datetime.date.min, t.certificate_no or "")):
            if training.operative_id is not None:
                self._of[training.operative_id].append((training, families_of(training.system_family)))

    def covers(self, operative: str, family: str, od_mm: float | None, days: Collection[datetime.date | None]) -> bool:
        """Whether one training covers family, size, mm, and all of the days."""
        known = [day for day in days if day is not None]
        if len(known) < len(days):
            return False
        return any(
            _answer(training, families, operative, family, od_mm, min(known)) is None
            and _answer(training, families, operative, family, od_mm, max(known)) is None
            for training, families in self._of.get(operative, [])
            if not families or family in families
        )

    def standing(self, operative: str, family: str, od_mm: float | None, day: datetime.date | None) -> Standing | None:
        """``None`` where a training covers family, size, mm, and day; else why none does."""
        rows = self._of.get(operative, [])
        if not rows:
            return Standing(Outcome.CANNOT_TELL, f"The training table has no row for operative {operative}")
        found: list[Standing] = []
        for training, families in rows:
            if families and family not in families:
                continue
            answer = _answer(training, families, operative, family, od_mm, day)
            if answer is None:
                return None
            found.append(answer)
        if not found:
            known = sorted({name for _, families in rows for name in families})
            return Standing(
                Outcome.FAIL,
                f"The training table has no {family} for operative {operative}, only {', '.join(known)}",
                rows[0][0].source.place("system_family"),
            )
        unknown = [answer for answer in found if answer.outcome is Outcome.CANNOT_TELL]
        return (unknown or found)[-1]


def families_of(text: str | None) -> frozenset[str]:
    """Families of a cell that separates them by semicolons."""
    return frozenset(part.strip() for part in (text or "").split(";") if part.strip())


def _answer(
    training: Training,
    families: frozenset[str],
    operative: str,
    family: str,
    od_mm: float | None,
    day: datetime.date | None,
) -> Standing | None:
    place = training.source.place
    since, until, largest = training.trained_on, training.expires_on, training.max_od_mm
    if largest is not None and od_mm is not None and od_mm > largest + _ROUNDING_MM:
        sentence = f"Operative {operative} was trained for {family} up to {largest:g} mm"
        return Standing(Outcome.FAIL, sentence, place("max_od_mm"), about_size=True)
    if since is not None and day is not None and since > day:
        sentence = f"Operative {operative} was trained for {family} only on {day_words(since)}"
        return Standing(Outcome.FAIL, sentence, place("trained_on"))
    if until is not None and day is not None and until < day:
        sentence = f"The training of operative {operative} for {family} ended on {day_words(until)}"
        return Standing(Outcome.FAIL, sentence, place("expires_on"))
    which = f"A training of operative {operative}" + (f" on {day_words(since)}" if since is not None else "")
    if not families:
        return Standing(Outcome.CANNOT_TELL, f"{which} names no system family", place("system_family"))
    if since is None:
        return Standing(Outcome.CANNOT_TELL, f"{which} for {family} has no date", place("trained_on"))
    if largest is None:
        return Standing(Outcome.CANNOT_TELL, f"{which} for {family} names no largest size", place("max_od_mm"))
    if day is None:
        return Standing(Outcome.CANNOT_TELL, f"Operative {operative} was trained for {family} on {day_words(since)}")
    return None
