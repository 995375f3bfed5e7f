"""The size or material of a joint is that of no tube of its section."""

from collections import Counter, defaultdict
from operator import attrgetter

from witnessmark.checks.joint_groups import NOT_THERE, finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint, Section
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="joint-not-of-section-tube",
    question="Is the size and material of every joint that of a tube there?",
    severity=Severity.WEAKENS,
    closes="Correct size or material in the joint's row, put the joint into the section where it is, or add the tube that is "
    "missing from the tubes table.",
    whose="the subcontractor who made the joints",
    what="Outside diameter and tube material of each joint against the tubes of its section, of the sections that meet it "
    "at a node, and of the nodes and valves on it. Looked at where the tubes of all of these are recorded.",
    why="A joint of 28 mm in a section of 22 mm tube is in the wrong section, or its jaw, batch and size are wrong together.",
    example="Joint J088 of section LTHW-F-R2 is of 28 mm copper tube; the tubes there are 22 mm copper.",
    passes="Joint J088 is of 22 mm copper tube, and so is the tube of its section.",
)

Tube = tuple[str | None, float | None]
_ASKED = attrgetter("material_tube", "od_mm", "status")


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every joint of known size and material in a section whose tubes are recorded; answer once a section and tube."""
    meeting: dict[str, list[str]] = defaultdict(list)
    for section in project.records.sections:
        for node in {section.from_node, section.to_node}:
            if node is not None:
                meeting[node].append(section.section_id)
    sizes_on: dict[str, set[float]] = defaultdict(set)
    for valve in project.records.valves:
        if valve.od_mm is not None:
            for section_id in valve.section_ids:
                sizes_on[section_id].add(valve.od_mm)
    told = {name: {(tube.material, tube.od_mm) for tube in tubes} for name, tubes in project.tubes_of_section.items()}
    told = {name: tubes for name, tubes in told.items() if not any(None in tube for tube in tubes)}
    complete = all(section.section_id in told for section in project.records.sections)
    examined, findings = 0, []
    for section in project.records.sections:
        own, joints = told.get(section.section_id), project.joints_of_section.get(section.section_id)
        if own is None or section.from_node is None or section.to_node is None or not joints:
            continue
        near = (section.section_id, *meeting[section.from_node], *meeting[section.to_node])
        if not complete and not told.keys() >= set(near):
            continue
        counts = Counter(map(_ASKED, joints))
        asked = {key: count for key, count in counts.items() if None not in key[:2] and key[2] not in NOT_THERE}
        examined += sum(asked.values())
        if own.issuperset(key[:2] for key in asked):
            continue
        tubes = set().union(*(told[section_id] for section_id in near))
        materials = {material for material, _ in tubes}
        sizes = sizes_on[section.section_id] | _node_sizes(project, section)
        strange: dict[tuple[float, str], list[Joint]] = {
            (od_mm, material): []
            for material, od_mm, _ in asked
            if (material, od_mm) not in tubes and not (od_mm in sizes and material in materials)
        }
        if strange:
            for joint in joints:
                group = strange.get((joint.od_mm or 0, joint.material_tube or ""))
                if group is not None and joint.status not in NOT_THERE:
                    group.append(joint)
        for (od_mm, material), group in sorted(strange.items()):
            findings.append(_finding(section, od_mm, material, group, tubes))
    return Answer(examined, tuple(findings))


def _node_sizes(project: Project, section: Section) -> set[float]:
    nodes = (project.nodes.get(node_id) for node_id in (section.from_node, section.to_node) if node_id)
    return {node.od_mm for node in nodes if node is not None and node.od_mm is not None}


def _finding(section: Section, od_mm: float, material: str, joints: list[Joint], tubes: set[Tube]) -> Finding:
    joints.sort(key=lambda joint: joint.joint_id)
    there = sorted((material or "", od_mm or 0) for material, od_mm in tubes)
    shown = ", ".join(_words(od_mm, material) for material, od_mm in there[:5])
    more = f" and {len(there) - 5} more" if len(there) > 5 else ""
    verb = "is" if len(joints) == 1 else "are"
    return finding_of(
        RULE,
        Outcome.FAIL,
        joints,
        Subject("section", section.section_id),
        f"{named(joints)} of section {section.section_id} {verb} of {_words(od_mm, material)} tube; the tubes there are {shown}{more}.",
        "od_mm",
    )


def _words(od_mm: float, material: str) -> str:
    return f"{od_mm:g} mm {material.replace('_', ' ')}"


CHECK = Check(RULE, run)
