"""One operative is logged with more press ends in an hour than one person makes."""

from witnessmark.checks.anomalies.press_rate import busiest_hour, days_of_operatives, tells_rate, timed
from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="more-presses-in-an-hour-than-plausible",
    question="Did every operative make no more press ends in an hour than one person can?",
    severity=Severity.WEAKENS,
    closes="Say how the ends were made and logged in that hour, and who else pressed; correct operative or times.",
    whose="the subcontractor who made the joints",
    what="The most press ends of one operative within any 60 minutes of a day, against the threshold. Looked at where at "
    "least three different times of the day are recorded.",
    why="Each end is cut, deburred, marked, inserted, pressed and looked at. Where they come faster than that, a step may "
    "have been left out, or several people logged under one code.",
    example="Operative OP-03 is logged with 128 press ends between 10:00 and 11:00 on 2 March 2026; more than 90 an hour are "
    "asked about. Can you say how they were made?",
    passes="Operative OP-03 is logged with 31 press ends in the busiest hour of 2 March 2026.",
    thresholds=("presses-per-hour",),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every day of every operative; one finding a day."""
    most = limit(project.settings, "presses-per-hour")
    examined, findings = 0, []
    for (operative, day), lot in days_of_operatives(project).items():
        if not tells_rate(lot.told("press_time")):
            continue
        examined += 1
        if len(lot.joints) <= most:
            continue
        minutes = timed(lot.joints)
        begins, hour = busiest_hour(minutes)
        if len(hour) > most:
            message = (
                f"Operative {operative} is logged with {len(hour)} press ends between {_clock(begins)} and {_clock(begins + 60)} "
                f"on {day_words(day)}; more than {most:g} an hour are asked about. Can you say how they were made?"
            )
            findings.append(
                finding_of(RULE, Outcome.FAIL, hour, Subject("operative", operative), message, "press_time")
            )
    return Answer(examined, tuple(findings))


def _clock(minute: int) -> str:
    return f"{minute // 60 % 24:02d}:{minute % 60:02d}"


CHECK = Check(RULE, run)
