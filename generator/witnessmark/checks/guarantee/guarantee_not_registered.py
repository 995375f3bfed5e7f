"""A guarantee that must be registered is not."""

from witnessmark.checks.guarantee.registration import registrations
from witnessmark.checks.judgement import Answer, Check
from witnessmark.engineering.calendar_terms import days_between
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.source import SourceLocation
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="guarantee-not-registered",
    question="Is every guarantee registered that its terms ask to register?",
    severity=Severity.BREAKS,
    closes="Register the guarantee, with what the terms ask to be sent along, and write the day and the document into "
    "project.yml.",
    whose="the contractor handing over",
    what="For each material and start whose terms give days to register: the day of registration in project.yml. Before the "
    "last day it cannot be told yet, and the finding says until when there is time.",
    why="A guarantee that was never registered may not exist.",
    example="The guarantee for copper started on 2 March 2026 and was to be registered by 1 April 2026; at the issue of 15 May "
    "2026 no registration is recorded.",
    passes="The guarantee for copper was registered on 20 March 2026.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every material and start with a last day to register; one finding each."""
    issue = project.settings.issue.date
    asked = registrations(workings)
    findings = []
    for one in asked:
        if one.terms.registered_on is not None:
            continue
        started = "started" if one.starts_on <= issue else "starts"
        head = f"The guarantee for {one.material.replace('_', ' ')} {started} on {day_words(one.starts_on)}"
        if one.register_by < issue:
            outcome = Outcome.FAIL
            message = (
                f"{head} and was to be registered by {day_words(one.register_by)}; at the issue of {day_words(issue)} no "
                "registration is recorded."
            )
        else:
            outcome = Outcome.CANNOT_TELL
            left = days_between(issue, one.register_by)
            message = (
                f"{head} and is not registered: it is due on {day_words(one.register_by)}, {left} "
                f"{'day' if left == 1 else 'days'} after the issue."
            )
        findings.append(
            Finding(
                RULE,
                outcome,
                message,
                RULE.closes,
                Subject("material", one.material),
                SourceLocation("project.yml"),
                tuple(dict.fromkeys(value.location for value in one.worked.inputs[:1] if value.location)),
                RULE.whose,
                one.section_ids,
            )
        )
    return Answer(len(asked), tuple(findings))


CHECK = Check(RULE, run)
