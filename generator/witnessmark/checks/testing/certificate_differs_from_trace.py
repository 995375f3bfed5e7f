"""A certificate says something else than the trace of its logger."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.stage_answers import stage_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="certificate-differs-from-trace",
    question="Does every certificate say what the trace of its logger shows?",
    severity=Severity.WEAKENS,
    closes="Explain the difference, correct the certificate, or attach the trace of this test.",
    whose="the contractor handing over",
    what="Pressure at start and end, hold and day as typed, against the steady stretch that the curve of the logger "
    "shows, within the error and step of the gauge.",
    why="A trace is harder to copy than a figure; where the two differ, one of them is not of this test.",
    example="Test PT-014, attempt 1, strength stage: The certificate gives a pressure at the end of 9 "
    "bar, the trace 8.2 bar.",
    passes="The certificate says 9.0 bar for 60 min; the curve stays at 9.0 bar for 63 min.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every stage with a readable trace that claims a pass."""
    gaps = GapsBySystem(RULE, project, "test stage")
    findings: list[Finding] = []
    examined = 0
    for place, traced in workings.traces.items():
        verdict = workings.verdicts[place]
        if not verdict.counts:
            continue
        examined += 1
        stage = traced.stage
        if traced.outcome is Outcome.FAIL:
            findings.append(
                Finding(
                    RULE,
                    Outcome.FAIL,
                    f"{stage_words(stage)}: {traced.sentence}",
                    RULE.closes,
                    Subject("test", stage.test_id),
                    stage.source.place("start_pressure_bar"),
                    (stage.source.place("document_id"),),
                    RULE.whose,
                    stage.section_ids,
                )
            )
        elif traced.outcome is Outcome.CANNOT_TELL:
            gaps.add(
                verdict.scope.system_ids,
                f"{stage.test_id} ({stage.stage or 'no stage named'})",
                [traced.sentence.rstrip(".")],
                stage.section_ids,
                stage.source.place("document_id"),
            )
    return Answer(examined, (*findings, *gaps.findings()))


CHECK = Check(RULE, run)
