"""A flush of drinking-water pipework did not change its content often enough."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.water_log import flushings_of_section, listed, wet_sections
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Flushing
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="flushed-with-too-few-changes",
    question="Did every flush of drinking-water pipework change the water often enough?",
    severity=Severity.WEAKENS,
    closes="Flush again until the content has been changed as often as asked, and record how often.",
    whose="the contractor handing over",
    what="The last flush of every section of a potable system: its water changes. A pulse of air and water counts by its own "
    "rules; accept the difference by a concession that says so.",
    why="Water that is changed a few times only is diluted, not replaced.",
    example="Flush FL-007 changed the water of section BCW-R1 8 times; at least 20 are asked.",
    passes="Flush FL-007 changed the water 20 times.",
    thresholds=("flush-water-changes",),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at the last flush of every potable section; one finding a flush."""
    asked = limit(project.settings, "flush-water-changes")
    flushed = flushings_of_section(project, ("flush",))
    last: dict[str, tuple[Flushing, list[str]]] = {}
    for wet in wet_sections(project):
        if wet.potable and wet.id in flushed:
            row = flushed[wet.id][-1]
            last.setdefault(row.flushing_id, (row, []))[1].append(wet.id)
    findings = []
    for row, names in last.values():
        noun = "section" if len(names) == 1 else "sections"
        if row.water_changes is None:
            outcome = Outcome.CANNOT_TELL
            message = (
                f"Flush {row.flushing_id} of {noun} {listed(names)} does not say how many times the water was changed."
            )
        elif row.water_changes < asked:
            outcome = Outcome.FAIL
            message = (
                f"Flush {row.flushing_id} changed the water of {noun} {listed(names)} {row.water_changes:g} times; at least "
                f"{asked:g} are asked."
            )
        else:
            continue
        findings.append(
            Finding(
                RULE,
                outcome,
                message,
                RULE.closes,
                Subject("flushing", row.flushing_id),
                row.source.place("water_changes"),
                (),
                RULE.whose,
                tuple(names),
            )
        )
    return Answer(len(last), tuple(findings))


CHECK = Check(RULE, run)
