"""One question put to a test stage, and its answer."""

from dataclasses import dataclass

from witnessmark.model.finding import Outcome
from witnessmark.model.quantity import Worked
from witnessmark.model.source import SourceLocation


@dataclass(frozen=True, slots=True)
class Point:
    """A question of a verdict. ``key`` names it for programs, ``question`` for people."""

    key: str
    question: str
    outcome: Outcome
    sentence: str
    workings: tuple[Worked, ...] = ()
    location: SourceLocation | None = None
    """The cell to look at first."""


QUESTIONS = {
    "procedure": "Is it known which procedure it had to follow, and was it that one?",
    "medium": "Was it filled with what the procedure says?",
    "required_pressure": "Does the certificate ask for the pressure that this system needs?",
    "pressure_reached": "Was the required pressure reached at the highest point?",
    "within_rating": "Did it stay within the weakest rating at the lowest point?",
    "readings": "Are pressure and time of start and end recorded?",
    "unit": "Do the readings look like bar?",
    "settle": "Was it left to settle as long as the procedure says?",
    "hold": "Was it held as long as the procedure says?",
    "topped_up": "Was no pressure added after the start?",
    "drop": "Is the drop within what the procedure lets pass?",
    "stuck": "Did the reading move as the temperature says it should?",
    "calibration": "Was the gauge in calibration on that day?",
    "gauge_range": "Did the gauge work in the middle of its range?",
    "gauge_fine": "Was the gauge exact and fine enough?",
    "inspected": "Was every joint looked at?",
    "result": "Does the certificate record a pass?",
}
"""Every question of a verdict, in order."""


def point(
    key: str,
    outcome: Outcome,
    sentence: str,
    workings: tuple[Worked, ...] = (),
    location: SourceLocation | None = None,
) -> Point:
    """An answer to one of :data:`QUESTIONS`."""
    return Point(key, QUESTIONS[key], outcome, sentence, workings, location)


def cannot_tell(
    key: str, missing: tuple[str, ...], workings: tuple[Worked, ...] = (), location: SourceLocation | None = None
) -> Point:
    """An answer that cannot be given, naming what is missing."""
    reasons = "; ".join(dict.fromkeys(missing))
    return point(key, Outcome.CANNOT_TELL, f"It cannot be told: missing is {reasons}.", workings, location)
