"""A joint that needs the second adapter was pressed without it."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.log_gap import log_gaps
from witnessmark.checks.making.press_days import pressed_on
from witnessmark.checks.making.pressed_joints import METHOD, in_id_order, pressed_joints
from witnessmark.checks.making.service_book import tool_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="second-adapter-missing",
    question="Was the second press made with the second adapter where the size needs it?",
    severity=Severity.BREAKS,
    closes="Write the code of the adapter in the row, from day sheets or hire notes; where none was used, have the maker of the fittings say in writing what to do, or cut the joint out and make it anew under a new id.",
    whose="the subcontractor who made the joints",
    what="The column 'Second adapter' of pressed joints for which the joint method by size and material (an editable table, common practice without a published source) asks for one: 108 mm. What it names must be an adapter in the tools table, of this size where the table gives one.",
    why="The first adapter closes the sling half way; only the second drives it home.",
    example="Press tool PT-02 stands where the second adapter of 108 mm belongs; joint J402 was pressed on 12 May 2026.",
    passes="The row of J402, 108 mm, gives AD-2 as second adapter, and the tools table lists AD-2 as an adapter.",
)

_ROUNDING_MM = 0.5
"""Registers write 76 for 76.1."""


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint that needs a second adapter."""
    pressed = pressed_joints(project)
    lots = [lot for lot in pressed.lots(*METHOD, "adapter_id") if lot.method is not None and lot.method.second_adapter]
    wrong: dict[tuple[str, float], list[Joint]] = defaultdict(list)
    for lot in lots:
        tool = project.tools.get(lot.adapter_id or "")
        if tool is None or lot.od_mm is None:
            continue
        size = tool.od_mm if tool.od_mm is not None else lot.od_mm
        if tool.kind not in ("adapter", None) or abs(size - lot.od_mm) > _ROUNDING_MM:
            wrong[tool.tool_id, lot.od_mm] += lot.joints
    findings = [_finding(project, tool_id, od_mm, in_id_order([joints])) for (tool_id, od_mm), joints in wrong.items()]
    concerned = in_id_order(lot.joints for lot in lots)
    blank = in_id_order(lot.joints for lot in lots if lot.adapter_id is None)
    gap = "with which second adapter it was pressed"
    findings += log_gaps(RULE, pressed, blank, concerned, "adapter_id", gap)
    return Answer(len(concerned), tuple(findings))


def _finding(project: Project, tool_id: str, od_mm: float, joints: list[Joint]) -> Finding:
    tool = project.tools[tool_id]
    size = f" of {tool.od_mm:g} mm" if tool.od_mm is not None else ""
    message = f"{tool_words(tool_id, tool)}{size} stands where the second adapter of {od_mm:g} mm belongs; {pressed_on(joints)}."
    related = (tool.source.place("kind"),)
    return finding_of(RULE, Outcome.FAIL, joints, Subject("tool", tool_id), message, "adapter_id", related=related)


CHECK = Check(RULE, run)
