"""A jaw or sling has another size than the tube that it pressed."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.press_days import pressed_on
from witnessmark.checks.making.pressed_joints import in_id_order, pressed_joints
from witnessmark.checks.making.register_gap import register_gaps
from witnessmark.checks.making.service_book import is_jaw, tool_words
from witnessmark.model.finding import Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="jaw-of-another-size",
    question="Does every jaw and sling have the size of the tube it pressed?",
    severity=Severity.BREAKS,
    closes="Correct the jaw or the size where the record is wrong; else cut the joints out and make them anew under new ids.",
    whose="the subcontractor who made the joints",
    what="The size of the jaw or sling in the tools table against the outside diameter in the joint's row; 76 and 76.1 mm are one size. One finding tells all joints of one jaw. Joints of unknown size are asked for by another question.",
    why="A jaw of another size cannot close this fitting: either the record or the joint is wrong.",
    example="Jaw JW-22-1 presses 22 mm; in 28 mm tube joint J014 was pressed on 12 May 2026.",
    passes="Jaw JW-22-1 presses 22 mm, and joint J014 is 22 mm.",
)

_ROUNDING_MM = 0.5
"""Registers write 76 for 76.1; neighbouring sizes are 1 mm apart or more."""


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint whose jaw and size are known."""
    examined, findings = 0, []
    unknown: dict[str, list[Joint]] = {}
    jaws = 0
    for tool_id, lots in pressed_joints(project).by_jaw("od_mm").items():
        tool = project.tools.get(tool_id)
        if tool is None or not is_jaw(tool):
            continue
        jaws += 1
        if tool.od_mm is None:
            unknown[tool_id] = in_id_order(lot.joints for lot in lots)
            continue
        wrong: dict[float, list[Joint]] = defaultdict(list)
        for lot in lots:
            examined += len(lot.joints)
            if lot.od_mm is not None and abs(lot.od_mm - tool.od_mm) > _ROUNDING_MM:
                wrong[lot.od_mm] += lot.joints
        if wrong:
            clauses = "; ".join(
                f"in {size:g} mm tube {pressed_on(in_id_order([group]))}" for size, group in sorted(wrong.items())
            )
            pressed = in_id_order(wrong.values())
            findings.append(
                finding_of(
                    RULE,
                    Outcome.FAIL,
                    pressed,
                    Subject("tool", tool_id),
                    f"{tool_words(tool_id, tool)} presses {tool.od_mm:g} mm; {clauses}.",
                    "jaw_id",
                    related=(tool.source.place("od_mm"), pressed[0].source.place("od_mm")),
                )
            )
    findings += register_gaps(RULE, project, "od_mm", unknown, jaws, "what size it presses", "jaws and slings")
    return Answer(examined + len(unknown), tuple(findings))


CHECK = Check(RULE, run)
