"""One operative is logged with more press ends in a day than one person makes."""

from witnessmark.checks.anomalies.press_rate import days_of_operatives
from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="more-presses-in-a-day-than-plausible",
    question="Did every operative make no more press ends in a day than one person can?",
    severity=Severity.WEAKENS,
    closes="Say how the ends were made and logged on that day, and who else pressed; correct operative or dates.",
    whose="the subcontractor who made the joints",
    what="The press ends of one operative on one day, against the threshold.",
    why="Often a whole week was logged under one date, or a gang under one code; then neither the date nor the person of "
    "these ends is shown.",
    example="Operative OP-03 is logged with 612 press ends on 2 March 2026; more than 400 a day are asked about. Can you say "
    "how they were made?",
    passes="Operative OP-03 is logged with 140 press ends on 2 March 2026.",
    thresholds=("presses-per-day",),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every day of every operative; one finding a day."""
    most = limit(project.settings, "presses-per-day")
    days = days_of_operatives(project)
    findings = []
    for (operative, day), lot in days.items():
        joints = lot.joints
        if len(joints) > most:
            message = (
                f"Operative {operative} is logged with {len(joints):,} press ends on {day_words(day)}; more than {most:g} a day "
                "are asked about. Can you say how they were made?"
            )
            findings.append(
                finding_of(RULE, Outcome.FAIL, joints, Subject("operative", operative), message, "press_date")
            )
    return Answer(len(days), tuple(findings))


CHECK = Check(RULE, run)
