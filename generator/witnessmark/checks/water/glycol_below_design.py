"""The water holds less glycol than the system is designed for."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.water_samples import last_samples
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="glycol-below-design",
    question="Does the last sample of a glycol system show the share of glycol that it is designed for?",
    severity=Severity.WEAKENS,
    closes="Top up with glycol, take another sample, and write its result into the treatments table.",
    whose="the contractor handing over",
    what="Systems with a share of glycol: the share in the last samples against it, less a tolerance. A sample without the "
    "share cannot tell.",
    why="Too little glycol freezes, and weak glycol feeds bacteria instead of keeping them down.",
    example="Sample WT-009 of 2 April 2026 holds 22 % of glycol; system CHW-F is designed for 30 %.",
    passes="Sample WT-009 of 2 April 2026 holds 30.5 % of glycol; 30 % is designed for.",
    thresholds=("glycol-tolerance-percent",),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at the last samples of glycol systems; one finding a sample."""
    tolerance = limit(project.settings, "glycol-tolerance-percent")
    examined = 0
    findings = []
    for sample in last_samples(project):
        designed = [
            (wet.system.glycol_percent, wet.system.system_id) for wet in sample.sections if wet.system.glycol_percent
        ]
        if not designed:
            continue
        examined += 1
        asked, system_id = max(designed, key=lambda pair: (pair[0] or 0.0, pair[1]))
        row = sample.row
        name = f"Sample {row.treatment_id} of {day_words(row.date)}" if row.date else ""
        if row.glycol_percent is None:
            outcome = Outcome.CANNOT_TELL
            message = f"{name} does not give its share of glycol; system {system_id} is designed for {asked:g} %."
        elif asked is not None and row.glycol_percent < asked - tolerance:
            outcome = Outcome.FAIL
            message = (
                f"{name} holds {row.glycol_percent:g} % of glycol; system {system_id} is designed for {asked:g} %."
            )
        else:
            continue
        findings.append(
            Finding(
                RULE,
                outcome,
                message,
                RULE.closes,
                Subject("treatment", row.treatment_id),
                row.source.place("glycol_percent"),
                (project.systems[system_id].source.place("glycol_percent"),),
                RULE.whose,
                sample.section_ids,
            )
        )
    return Answer(examined, tuple(findings))


CHECK = Check(RULE, run)
