"""A joint was pressed with the wrong kind of equipment for its size."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.log_gap import whole
from witnessmark.checks.making.press_days import pressed_on
from witnessmark.checks.making.pressed_joints import METHOD, in_id_order, pressed_joints
from witnessmark.checks.making.register_gap import register_gaps
from witnessmark.checks.making.service_book import tool_words
from witnessmark.model.finding import Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="jaw-where-a-sling-is-needed",
    question="Was every joint pressed with the kind of jaw or sling that its size needs?",
    severity=Severity.BREAKS,
    closes="Correct the record if another jaw or sling was used; else have the maker of the fittings say in writing whether the joints can stay, or cut them out and make them anew under new ids.",
    whose="the subcontractor who made the joints",
    what="The kind of what the joint's row names as jaw or sling against the joint method by size and material (an editable table, common practice without a published source): jaws up to 35 mm, where a sling also does; slings from 42 to 108 mm. A row that names a press tool or an adapter as jaw fails too.",
    why="A two-piece jaw does not reach round a large fitting evenly; it closes on two sides and leaves the others open.",
    example="Jaw JW-54-1 is a jaw where tube of 54 mm needs a sling; joint J301 was pressed on 12 May 2026.",
    passes="Joint J301, 54 mm, was pressed with sling SL-54-1.",
)

_SPOKEN = {"press_tool": "a press tool", "jaw": "a jaw", "sling": "a sling", "adapter": "an adapter"}


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint whose jaw and size are known."""
    pressed = pressed_joints(project)
    wrong: dict[str, dict[tuple[str, float], list[Joint]]] = defaultdict(lambda: defaultdict(list))
    kindless: dict[str, list[Joint]] = defaultdict(list)
    unheard: dict[tuple[str, float], list[Joint]] = defaultdict(list)
    examined, tools = 0, project.tools
    for lot in pressed.lots(*METHOD, "jaw_id"):
        tool = tools.get(lot.jaw_id or "")
        if tool is None or lot.od_mm is None:
            continue
        examined += len(lot.joints)
        if lot.method is None:
            for joint in lot.joints:
                unheard[pressed.system_of(joint.section_id), lot.od_mm].append(joint)
        elif tool.kind is None:
            kindless[tool.tool_id] += lot.joints
        elif tool.kind not in lot.method.equipment:
            need = " or ".join(f"a {kind}" for kind in sorted(lot.method.equipment))
            wrong[tool.tool_id][need, lot.od_mm] += lot.joints
    findings = []
    for tool_id, groups in wrong.items():
        tool = tools[tool_id]
        clauses = [
            f"is {_SPOKEN.get(tool.kind or '', tool.kind)} where tube of {size:g} mm needs {need}; {pressed_on(in_id_order([joints]))}"
            for (need, size), joints in sorted(groups.items())
        ]
        joints = in_id_order(groups.values())
        message = f"{tool_words(tool_id, tool)} {'; it '.join(clauses)}."
        related = (tool.source.place("kind"), joints[0].source.place("od_mm"))
        findings.append(
            finding_of(RULE, Outcome.FAIL, joints, Subject("tool", tool_id), message, "jaw_id", related=related)
        )
    for (system, size), group in unheard.items():
        joints = in_id_order([group])
        message = f"{whole(system)}: the joint method has no row for tube of {size:g} mm; {pressed_on(joints)}."
        findings.append(finding_of(RULE, Outcome.CANNOT_TELL, joints, Subject("system", system), message, "od_mm"))
    words = "whether it is a jaw or a sling"
    findings += register_gaps(RULE, project, "kind", kindless, len(pressed.by_jaw("od_mm")), words, "jaws and slings")
    return Answer(examined, tuple(findings))


CHECK = Check(RULE, run)
