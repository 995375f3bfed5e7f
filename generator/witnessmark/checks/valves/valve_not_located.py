"""Nobody wrote where a valve is."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.valves.valve_gaps import told_by_system
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="valve-not-located",
    question="Is it written in words where every valve is?",
    severity=Severity.WEAKENS,
    closes="Write into the location cell of the valve where it is: cupboard, side, height, what to move.",
    whose="the contractor handing over",
    what="The location of every valve of the valves table, or of the node at which it sits.",
    why="A valve that has to be looked for while water runs might as well not be there.",
    example="System LTHW-F: valve V-2-014 has no location in the valves table.",
    passes="V-2-014 is 'Riser cupboard 2, left of the door, 1.6 m up'.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every valve; one finding a system."""
    blank = []
    for valve in project.records.valves:
        node = project.nodes.get(valve.node_id or "")
        if not valve.location and not (node is not None and node.location):
            blank.append((valve, "location"))
    findings = told_by_system(
        RULE, project, blank, lambda n: f"{'has' if n == 1 else 'have'} no location in the valves table"
    )
    return Answer(len(project.records.valves), tuple(findings))


CHECK = Check(RULE, run)
