"""A section cannot be shut off from each side."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.valves.valve_register import ENDS_HERE, ValveRegister, ends, sections_in_place, valve_register
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Node, Section
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="section-end-not-isolated",
    question="Can every section be shut off from each side from which it is fed?",
    severity=Severity.WEAKENS,
    closes="Find the valves on site and write them into the valves table with the sections that they shut off; where there "
    "is none, say so to the designer and ask for a concession.",
    whose="the contractor handing over",
    what="For every section: an isolating valve at each end, or further away where it names the section. An end at plant, a "
    "terminal, a drain, a vent or a cap needs none, but one valve at least is asked. A valve that the nodes "
    "table shows at an end counts.",
    why="Whoever stands before a leak needs the valve, and must know that there is no second feed.",
    example="Section LTHW-F-R2 ends at tee T-05, and no isolating valve in the valves table shuts it off there.",
    passes="Section LTHW-F-R2 has isolating valves V-2-014 and V-2-031 at its ends.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section in place."""
    register = valve_register(project)
    sections = sections_in_place(project)
    gaps = GapsBySystem(RULE, project, "section", RULE.closes)
    findings = []
    for section, system in sections:
        nodes = ends(project, section)
        open_ends = [node for node in nodes if node is None or not _shut_at(register, node)]
        if not open_ends:
            continue
        unserved = [node for node in open_ends if node is None or node.kind not in ENDS_HERE]
        at_ends = {node.node_id for node in nodes if node is not None}
        further = sum(
            valve.kind == "isolating" and valve.node_id not in at_ends
            for valve in register.of_section.get(section.section_id, ())
        )
        lacking = max(len(unserved), 1 if len(open_ends) == len(nodes) else 0) - further
        if lacking <= 0:
            continue
        known = [node for node in unserved or open_ends if node is not None]
        if known and "isolating" in register.kinds_of_system.get(system.system_id, ()):
            findings.append(_finding(section, known))
            continue
        if not project.records.valves:
            reason = "any row in the valves table"
        elif not known:
            reason = "the nodes at its ends in the sections table"
        else:
            reason = "an isolating valve in the valves table that names a section of this system"
        field = "from_node" if section.from_node is None else "to_node"
        gaps.add((system.system_id,), section.section_id, (reason,), (section.section_id,), section.source.place(field))
    return Answer(len(sections), (*findings, *gaps.findings()))


def _shut_at(register: ValveRegister, node: Node) -> bool:
    valves = register.at_node.get(node.node_id, ())
    if valves:
        return any(valve.kind == "isolating" for valve in valves)
    return node.kind == "valve"


def _finding(section: Section, nodes: list[Node]) -> Finding:
    where = " and ".join(f"{'valve' if node.kind == 'valve' else node.kind or 'node'} {node.node_id}" for node in nodes)
    return Finding(
        RULE,
        Outcome.FAIL,
        f"Section {section.section_id} ends at {where}, and no isolating valve in the valves table shuts it off there.",
        RULE.closes,
        Subject("section", section.section_id),
        section.source.place("from_node" if nodes[0].node_id == section.from_node else "to_node"),
        tuple(node.source.location for node in nodes),
        RULE.whose,
        (section.section_id,),
    )


CHECK = Check(RULE, run)
