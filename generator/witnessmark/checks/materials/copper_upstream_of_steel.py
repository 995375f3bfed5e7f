"""Water that keeps bringing air flows from copper into galvanised or carbon steel."""

from collections import defaultdict, deque

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.section_service import CARRIES_WATER, is_open, sections_in_place
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Section
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="copper-upstream-of-steel",
    question="Does open or drinking water flow from steel to copper only, never from copper to steel?",
    severity=Severity.BREAKS,
    closes="Change the material of the section downstream, or record the maker's letter for this order of metals.",
    whose="the designer",
    what="Sections with galvanised or carbon steel in systems that are open or carry drinking water, against the copper "
    "upstream of them: in the same section, or before it by start and end nodes. A section whose flow goes both ways "
    "counts both ways. Stainless steel is neither.",
    why="Copper dissolved in fresh water plates out on zinc and steel and eats holes into them; copper comes after "
    "galvanised pipe, never before it.",
    example="Section CW-2 holds carbon steel; copper of section CW-1 lies upstream of it in open system CW.",
    passes="Section CW-1 holds carbon steel and ends at node T-4, where the copper of section CW-2 starts.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Follow the flow through every open system."""
    open_sections: list[Section] = []
    for section, system in sections_in_place(project):
        if system is not None and system.medium in CARRIES_WATER and is_open(system):
            open_sections.append(section)
    materials = project.materials_of_section
    steel = [section for section in open_sections if "carbon_steel" in materials[section.section_id]]
    copper = [section for section in open_sections if "copper" in materials[section.section_id]]
    reached = _downstream(copper, open_sections)
    with_copper = {section.system_id for section in copper}
    loose: dict[str | None, list[Section]] = defaultdict(list)
    for section in open_sections:
        if section.from_node is None or section.to_node is None:
            loose[section.system_id].append(section)
    gaps = GapsBySystem(RULE, project, "section")
    findings = []
    for section in steel:
        if "copper" in materials[section.section_id]:
            findings.append(_finding(section, None))
            continue
        above = [reached[node] for node in _starts(section) if node in reached]
        if above:
            findings.append(_finding(section, min(above, key=lambda each: each.section_id)))
        elif section.system_id in with_copper and loose[section.system_id]:
            gaps.add(
                (section.system_id or "",),
                section.section_id,
                [f"a node at an end of section {each.section_id}" for each in loose[section.system_id]],
                (section.section_id,),
                loose[section.system_id][0].source.place("from_node"),
            )
    return Answer(len(open_sections), (*findings, *gaps.findings()))


def _starts(section: Section) -> list[str | None]:
    return [section.from_node, section.to_node] if section.flow == "both" else [section.from_node]


def _ends(section: Section) -> list[str | None]:
    return [section.from_node, section.to_node] if section.flow == "both" else [section.to_node]


def _downstream(copper: list[Section], sections: list[Section]) -> dict[str | None, Section]:
    """Nodes that copper lies upstream of, each with the copper section it was first reached from."""
    leaving: dict[str, list[Section]] = defaultdict(list)
    for section in sections:
        for node in _starts(section):
            if node is not None:
                leaving[node].append(section)
    reached: dict[str | None, Section] = {}
    waiting: deque[str] = deque()

    def enter(section: Section, origin: Section) -> None:
        for node in _ends(section):
            if node is not None and node not in reached:
                reached[node] = origin
                waiting.append(node)

    for section in sorted(copper, key=lambda each: each.section_id):
        enter(section, section)
    while waiting:
        node = waiting.popleft()
        for section in leaving[node]:
            enter(section, reached[node])
    return reached


def _finding(section: Section, above: Section | None) -> Finding:
    system = f"system {section.system_id}, which is open or carries drinking water"
    if above is None:
        message = f"Section {section.section_id} holds copper and carbon steel in {system}: the order of the two is not shown."
    else:
        message = f"Section {section.section_id} holds carbon steel; copper of section {above.section_id} lies upstream of it in {system}."
    places = () if above is None else (above.source.place("to_node"),)
    return Finding(
        RULE,
        Outcome.FAIL,
        message,
        RULE.closes,
        Subject("section", section.section_id),
        section.source.place("from_node"),
        places,
        RULE.whose,
        (section.section_id,),
    )


CHECK = Check(RULE, run)
