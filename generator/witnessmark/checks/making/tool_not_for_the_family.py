"""A tool, jaw, sling or adapter is not approved for the system family that it pressed."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.press_days import pressed_on
from witnessmark.checks.making.pressed_joints import in_id_order, pressed_joints
from witnessmark.checks.making.register_gap import register_gaps
from witnessmark.checks.making.service_book import tool_words
from witnessmark.checks.making.training_book import families_of
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tool-not-for-the-family",
    question="Is every tool, jaw and sling approved for the system family that it pressed?",
    severity=Severity.BREAKS,
    closes="Add the family to the tool's row if there is an approval, with its letter in the documents; else record the written consent of the maker as a concession, or cut the joints out and make them anew under new ids.",
    whose="the subcontractor who made the joints",
    what="The families in the row of press tool, jaw or sling and second adapter against the family of each joint: its own, or its fitting batch's, or its section's. One finding tells all joints of one tool. A tool whose row names no family cannot be told.",
    why="Families are approved with certain tools and contours; another tool may press with another force or shape.",
    example="Jaw JW-22-1 is approved for FAM-C; in FAM-K joint J014 was pressed on 12 May 2026.",
    passes="Jaw JW-22-1 is approved for FAM-C and FAM-K, and joint J014 is of FAM-K.",
)

_COLUMNS = (("tool_id", "press tools"), ("jaw_id", "jaws and slings"), ("adapter_id", "adapters"))


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every tool in every family that it pressed."""
    pressed = pressed_joints(project)
    used: dict[tuple[str | None, str | None, str | None, str], list[Joint]] = defaultdict(list)
    for lot in pressed.lots("tool_id", "jaw_id", "adapter_id", "family"):
        if lot.family is not None:
            used[lot.tool_id, lot.jaw_id, lot.adapter_id, lot.family] += lot.joints
    findings: list[Finding] = []
    examined = 0
    for at, (column, kind) in enumerate(_COLUMNS):
        by_tool: dict[str, dict[str, list[Joint]]] = defaultdict(lambda: defaultdict(list))
        for key, joints in used.items():
            if key[at] is not None:
                by_tool[key[at] or ""][key[3]].extend(joints)
        examined += len(by_tool)
        unknown: dict[str, list[Joint]] = {}
        for tool_id, by_family in by_tool.items():
            tool = project.tools.get(tool_id)
            approved = families_of(tool.system_family if tool is not None else None)
            if not approved:
                unknown[tool_id] = in_id_order(by_family.values())
                continue
            wrong = {family: joints for family, joints in by_family.items() if family not in approved}
            if wrong:
                findings.append(_finding(project, tool_id, approved, wrong, column))
        words = "for which families it is approved"
        findings += register_gaps(RULE, project, "system_family", unknown, len(by_tool), words, kind, column)
    return Answer(examined, tuple(findings))


def _finding(
    project: Project, tool_id: str, approved: frozenset[str], wrong: dict[str, list[Joint]], column: str
) -> Finding:
    tool = project.tools[tool_id]
    clauses = "; ".join(f"in {family} {pressed_on(in_id_order([joints]))}" for family, joints in sorted(wrong.items()))
    message = f"{tool_words(tool_id, tool)} is approved for {', '.join(sorted(approved))}; {clauses}."
    joints = in_id_order(wrong.values())
    related = (tool.source.place("system_family"), joints[0].source.place("system_family"))
    return finding_of(RULE, Outcome.FAIL, joints, Subject("tool", tool_id), message, column, related=related)


CHECK = Check(RULE, run)
