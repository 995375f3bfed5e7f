"""A test dropped by more than its procedure lets pass."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.stage_answers import answers, pressures_read
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="drop-beyond-tolerance",
    question="Is the drop of every test within tolerance?",
    severity=Severity.WEAKENS,
    closes="Find the leak and test again; or hold on until temperatures are steady, and record them.",
    whose="the contractor handing over",
    what="Start less end. Of a gas, after temperature and barometer; of water as read, with the range of what "
    "temperature could have done beside it, which is no excuse.",
    why="A drop is what a test is there to show.",
    example="Test PT-014, attempt 1, strength stage: The drop is 0.4 bar; allowed is none.",
    passes="9.2 bar to 9.2 bar, where no drop is allowed.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every stage that claims a pass and has a procedure."""
    return answers(RULE, project, workings, ("drop",), lambda verdict: verdict.rated and pressures_read(verdict))


CHECK = Check(RULE, run)
