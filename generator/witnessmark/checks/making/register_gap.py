"""What a register does not say of tools that joints were made with: one finding a tool, one in all where the whole column is blank."""

from collections.abc import Mapping, Sequence

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.making.press_days import pressed_on
from witnessmark.checks.making.service_book import tool_words
from witnessmark.model.contract import contract
from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint


def register_gaps(
    rule: Rule,
    project: Project,
    field: str,
    lacking: Mapping[str, Sequence[Joint]],
    total: int,
    words: str,
    kind: str,
    column: str = "jaw_id",
) -> list[Finding]:
    """Findings about ``lacking``, tools to their joints, out of ``total`` of that ``kind`` ('press tools').

    ``words`` go on from 'the tools table does not say': 'what size it presses'; ``column`` of the joint log names the tool.
    """
    title = contract()["tools"].field(field).title
    remedy = f"Fill in '{title}' in the tools table, from the marking of the tool or its papers."
    if len(lacking) == total and total > 1:
        joints = sorted((joint for group in lacking.values() for joint in group), key=lambda joint: joint.joint_id)
        tools = [tool for tool_id in sorted(lacking) if (tool := project.tools.get(tool_id)) is not None]
        message = (
            f"The tools table does not say of any of {total} {kind} {words}: '{title}' is empty; {pressed_on(joints)}."
        )
        subject = Subject("project", project.settings.id)
        places = [tool.source.place(field) for tool in tools[:20]]
        first = places[0] if places else None
        return [
            finding_of(
                rule,
                Outcome.CANNOT_TELL,
                joints,
                subject,
                message,
                column,
                location=first,
                related=places,
                remedy=remedy,
            )
        ]
    findings = []
    for tool_id, pressed in lacking.items():
        tool = project.tools.get(tool_id)
        message = f"{tool_words(tool_id, tool)}: the tools table does not say {words}, '{title}' is empty; {pressed_on(pressed)}."
        place = tool.source.place(field) if tool is not None else None
        subject = Subject("tool", tool_id)
        findings.append(
            finding_of(rule, Outcome.CANNOT_TELL, pressed, subject, message, column, location=place, remedy=remedy)
        )
    return findings
