"""One sling was used on copper and on steel in a size where each needs its own."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.pressed_joints import METHOD, in_id_order, pressed_joints
from witnessmark.checks.making.service_book import tool_words
from witnessmark.model.finding import Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="one-sling-for-copper-and-steel",
    question="Did copper and steel joints of 108 mm get slings of their own?",
    severity=Severity.BREAKS,
    closes="Correct the record if another sling was used; else have the maker of the fittings say in writing which joints can stay, and cut out the others.",
    whose="the subcontractor who made the joints",
    what="Jaws and slings whose joints fall into more than one group of the joint method by size and material (an editable table, common practice without a published source): at 108 mm those for copper and for steel differ.",
    why="The contours differ; a sling made for one leaves the other short.",
    example="Sling SL-108-1 pressed both groups of 108 mm: copper (joint J402) and steel (joint J511); each needs a sling of its own.",
    passes="Sling SL-108-1 pressed copper joints of 108 mm only; the steel ones were pressed with SL-108-2.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every jaw and sling used on a size where it makes a difference."""
    pressed = pressed_joints(project)
    groups: dict[str, dict[str, list[Joint]]] = defaultdict(lambda: defaultdict(list))
    for lot in pressed.lots(*METHOD, "jaw_id"):
        if lot.method is not None and lot.method.jaw_group and lot.jaw_id is not None:
            groups[lot.jaw_id][lot.method.jaw_group] += lot.joints
    findings = []
    for tool_id, by_group in groups.items():
        if len(by_group) < 2:
            continue
        tool = project.tools.get(tool_id)
        parts = [f"{group} ({_short(in_id_order([joints]))})" for group, joints in sorted(by_group.items())]
        joints = in_id_order(by_group.values())
        size = f"{joints[0].od_mm or 0:g} mm"
        message = f"{tool_words(tool_id, tool)} pressed both groups of {size}: {' and '.join(parts)}; each needs a sling of its own."
        findings.append(finding_of(RULE, Outcome.FAIL, joints, Subject("tool", tool_id), message, "jaw_id"))
    return Answer(len(groups), tuple(findings))


def _short(joints: list[Joint]) -> str:
    words = named(joints).rstrip(",")
    return words[0].lower() + words[1:]


CHECK = Check(RULE, run)
