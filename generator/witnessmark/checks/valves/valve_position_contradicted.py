"""The valves table and the nodes table disagree on how a valve stands."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="valve-position-contradicted",
    question="Do the valves table and the nodes table agree on how every valve normally stands?",
    severity=Severity.WEAKENS,
    closes="Look at the valve, ask whoever runs the system, and correct the row that is wrong.",
    whose="the contractor handing over",
    what="Valves that sit at a node, where both rows give a normal position.",
    why="Whoever opens a valve that was meant to stay shut joins what was kept apart.",
    example="Valve V-2-014 normally stands open by the valves table and closed by node V-2-014.",
    passes="V-2-014 normally stands open by both tables.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every valve whose two rows both give a position."""
    examined = 0
    findings = []
    for valve in sorted(project.records.valves, key=lambda row: row.valve_id):
        node = project.nodes.get(valve.node_id or "")
        if node is None or node.normal_position is None or valve.normal_position is None:
            continue
        examined += 1
        if node.normal_position == valve.normal_position:
            continue
        by_valve, by_node = (text.replace("_", " ") for text in (valve.normal_position, node.normal_position))
        findings.append(
            Finding(
                RULE,
                Outcome.FAIL,
                f"Valve {valve.valve_id} normally stands {by_valve} by the valves table and {by_node} by node "
                f"{node.node_id}.",
                RULE.closes,
                Subject("valve", valve.valve_id),
                valve.source.place("normal_position"),
                (node.source.place("normal_position"),),
                RULE.whose,
                valve.section_ids,
            )
        )
    return Answer(examined, tuple(findings))


CHECK = Check(RULE, run)
