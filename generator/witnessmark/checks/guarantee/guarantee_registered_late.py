"""A guarantee was registered after its last day to do so."""

from witnessmark.checks.guarantee.registration import registrations
from witnessmark.checks.judgement import Answer, Check
from witnessmark.engineering.calendar_terms import days_between
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.source import SourceLocation
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="guarantee-registered-late",
    question="Was every guarantee registered in time?",
    severity=Severity.BREAKS,
    closes="Ask the guarantor in writing to accept the late registration, and put the answer into the documents table.",
    whose="the contractor handing over",
    what="For each material and start: the day of registration in project.yml against the last day that the terms give. Days "
    "are calendar days; the start is day 0, and the last day itself is in time.",
    why="A guarantor may refuse a claim for a form that came a day late, years after it came.",
    example="The guarantee for carbon steel started on 2 March 2026 (installation) and was to be "
    "registered by 1 April 2026; it was registered on 2 April 2026, 1 day late.",
    passes="The guarantee for carbon steel started on 2 March 2026, was to be registered by 1 April "
    "2026 and was registered on that day.",
)


def run(_project: Project, workings: Workings) -> Answer:
    """Look at every material and start that is registered; one finding each."""
    examined = 0
    findings = []
    for one in registrations(workings):
        registered_on = one.terms.registered_on
        if registered_on is None:
            continue
        examined += 1
        if registered_on <= one.register_by:
            continue
        findings.append(
            Finding(
                RULE,
                Outcome.FAIL,
                f"The guarantee for {one.material.replace('_', ' ')} started on {day_words(one.starts_on)} "
                f"({one.worked.basis_words}) and was to be registered by {day_words(one.register_by)}; it was registered on "
                f"{day_words(registered_on)}, {_days(days_between(one.register_by, registered_on))} late.",
                RULE.closes,
                Subject("material", one.material),
                SourceLocation("project.yml"),
                tuple(dict.fromkeys(value.location for value in one.worked.inputs[:1] if value.location)),
                RULE.whose,
                one.section_ids,
            )
        )
    return Answer(examined, tuple(findings))


def _days(days: int) -> str:
    return f"{days:,} day{'' if days == 1 else 's'}"


CHECK = Check(RULE, run)
