"""A valve has no photo that shows it, or none that shows the way to it."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.valves.valve_gaps import told_by_system
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="valve-not-photographed",
    question="Does every isolating valve and drain have a near and a far photo?",
    severity=Severity.WEAKENS,
    closes="Photograph the valve from near and from where one stands to find it, without people in the picture, and name "
    "both documents in its row.",
    whose="the contractor handing over",
    what="The two photo cells of isolating valves and drains in the valves table.",
    why="Somebody who has never been there finds a valve by its picture.",
    example="System LTHW-F: valves V-2-014 and V-2-031 lack a near or a far photo.",
    passes="V-2-014 has photos DOC-P01 (near) and DOC-P02 (far).",
)
_SOUGHT = frozenset({"isolating", "drain"})


def run(project: Project, _workings: Workings) -> Answer:
    """Look at isolating valves and drains; one finding a system."""
    sought = [valve for valve in project.records.valves if valve.kind in _SOUGHT]
    blank = [
        (valve, "photo_near" if valve.photo_near is None else "photo_far")
        for valve in sought
        if valve.photo_near is None or valve.photo_far is None
    ]
    findings = told_by_system(RULE, project, blank, lambda n: f"{'lacks' if n == 1 else 'lack'} a near or a far photo")
    return Answer(len(sought), tuple(findings))


CHECK = Check(RULE, run)
