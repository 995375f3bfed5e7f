"""A test follows a procedure that is not known, or not the one needed."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.testing.stage_answers import answers
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="test-procedure-not-declared",
    question="Is it known which procedure every test had to follow, and did it follow that one?",
    severity=Severity.BREAKS,
    closes="Name the procedure that the service needs under 'testing' in project.yml, and on the certificate the one "
    "followed.",
    whose="the contractor handing over",
    what="The procedure that project.yml asks for each service, the one that the certificate names, and whether it "
    "has that stage and that medium.",
    why="Codes differ in pressure, time and tolerance: without a procedure a reading proves nothing. The other "
    "questions on tests are put only where the procedure is known.",
    example="Test PT-014, attempt 1, strength stage: It followed gas-1.1; its sections need wet-1.5.",
    passes="PT-014 names wet-1.5, which project.yml asks of the heating.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every stage that claims a pass."""
    return answers(RULE, project, workings, ("procedure", "medium"), remedy=RULE.closes)


CHECK = Check(RULE, run)
