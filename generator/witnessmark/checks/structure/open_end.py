"""A section ends at a node where nothing goes on and nothing closes it."""

from collections import Counter

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Section
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="open-end",
    question="Does every end of every section meet another section, a valve, a drain, a vent, plant, a terminal or a cap?",
    severity=Severity.WEAKENS,
    closes="Say in the nodes table what closes the end (cap, valve, plant, terminal, drain, vent), or correct the node at "
    "which the neighbour begins; where the end is open, have it capped and log the joint.",
    whose="the subcontractor who made the joints",
    what="The nodes at which each section starts and ends. A tee at which one section alone ends leads nowhere.",
    why="An end left open, or closed with nothing but a plug for the test, floods the building when the system is filled.",
    example="Section LTHW-F-L4 ends at the tee N-044, where no other section begins or ends.",
    passes="Section LTHW-F-L4 ends at N-044, which the nodes table gives as a cap.",
)

_CLOSED = frozenset({"valve", "drain", "vent", "plant", "terminal", "cap"})
_NAMES = {"from_node": "the node at which it starts", "to_node": "the node at which it ends"}


def run(project: Project, _workings: Workings) -> Answer:
    """Look at both ends of every section that is not planned or removed."""
    there = [section for section in project.records.sections if section.status not in ("planned", "removed")]
    met = Counter(node for section in there for node in (section.from_node, section.to_node) if node)
    gaps = GapsBySystem(RULE, project, "section")
    findings: list[Finding] = []
    for section in sorted(there, key=lambda section: section.section_id):
        for field, words in _NAMES.items():
            node_id: str | None = getattr(section, field)
            if node_id is None:
                _gap(gaps, section, f"{words}, in the sections table", field)
                continue
            if met[node_id] > 1:
                continue
            node = project.nodes.get(node_id)
            kind = node.kind if node is not None else None
            if kind == "tee":
                findings.append(_finding(project, section, field, node_id))
            elif kind not in _CLOSED:
                _gap(gaps, section, f"what closes node {node_id}, in the nodes table", field)
    return Answer(2 * len(there), (*findings, *gaps.findings()))


def _gap(gaps: GapsBySystem, section: Section, reason: str, field: str) -> None:
    systems = (section.system_id,) if section.system_id else ()
    gaps.add(systems, section.section_id, (reason,), (section.section_id,), section.source.place(field))


def _finding(project: Project, section: Section, field: str, node_id: str) -> Finding:
    node = project.nodes.get(node_id)
    verb = "starts" if field == "from_node" else "ends"
    return Finding(
        RULE,
        Outcome.FAIL,
        f"Section {section.section_id} {verb} at the tee {node_id}, where no other section begins or ends.",
        RULE.closes,
        Subject("node", node_id),
        section.source.place(field),
        (node.source.place("kind"),) if node is not None else (),
        RULE.whose,
        (section.section_id,),
    )


CHECK = Check(RULE, run)
