"""A test that needed a witness names none."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.witnessed_stages import systems_of, witnessed_stages
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="test-not-witnessed",
    question="Does every test that needs a witness name the witness?",
    severity=Severity.WEAKENS,
    closes="Write the witness from the signed certificate; without one, test again with the witness, or have the client accept "
    "it as a concession.",
    whose="the contractor handing over",
    what="Passed tests of the stages that project.yml lists under 'witness': the cell of the witness. Where no stage is listed, "
    "nothing is asked.",
    why="A hold point is there so that somebody without a stake sees the gauge.",
    example="System LTHW-F, test PT-014: the records do not answer 'Does every test that needs a witness name the witness?' "
    "Missing: the witness of a strength stage.",
    passes="PT-014, strength stage: witness CW-1.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every passed stage that needs a witness; one finding a system."""
    gaps = GapsBySystem(RULE, project, "test", RULE.closes)
    stages = witnessed_stages(project)
    for stage in stages:
        if not stage.witness:
            reason = f"the witness of a {stage.stage} stage"
            gaps.add(
                systems_of(project, stage), stage.test_id, [reason], stage.section_ids, stage.source.place("witness")
            )
    return Answer(len(stages), tuple(gaps.findings()))


CHECK = Check(RULE, run)
