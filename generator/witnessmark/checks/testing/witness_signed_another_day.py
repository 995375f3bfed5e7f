"""The witness signed on another day than that of the test."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.stage_answers import stage_words
from witnessmark.checks.testing.witnessed_stages import systems_of, witnessed_stages
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import TestStage
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="witness-signed-another-day",
    question="Did every witness sign on the day of the test?",
    severity=Severity.WEAKENS,
    closes="Correct the day that is wrong, from the certificate; else say why it was signed on another day, and have the client "
    "accept it as a concession.",
    whose="the contractor handing over",
    what="The day of the witness's signature against the day of the test, of passed tests of the stages that project.yml lists "
    "under 'witness'. Tests without a witness are another question.",
    why="Who signs on another day signs what somebody told.",
    example="Test PT-014, attempt 1, strength stage, was on 9 May 2026; its witness signed on 12 May 2026.",
    passes="PT-014, strength stage, was witnessed and signed on 9 May 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every witnessed stage with its day; gaps once a system."""
    gaps = GapsBySystem(RULE, project, "test")
    findings = []
    examined = 0
    for stage in witnessed_stages(project):
        if not stage.witness or stage.date is None:
            continue
        examined += 1
        if stage.witness_date is None:
            place = stage.source.place("witness_date")
            reason = "the day on which the witness signed"
            gaps.add(systems_of(project, stage), stage.test_id, [reason], stage.section_ids, place)
        elif stage.witness_date != stage.date:
            findings.append(_finding(stage))
    return Answer(examined, (*findings, *gaps.findings()))


def _finding(stage: TestStage) -> Finding:
    tested = day_words(stage.date) if stage.date is not None else ""
    signed = day_words(stage.witness_date) if stage.witness_date is not None else ""
    return Finding(
        RULE,
        Outcome.FAIL,
        f"{stage_words(stage)}, was on {tested}; its witness signed on {signed}.",
        RULE.closes,
        Subject("test", stage.test_id),
        stage.source.place("witness_date"),
        (stage.source.place("date"),),
        RULE.whose,
        stage.section_ids,
    )


CHECK = Check(RULE, run)
