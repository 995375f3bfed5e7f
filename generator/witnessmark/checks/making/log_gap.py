"""What a joint log does not say, told once a system and not once a joint."""

from collections import Counter, defaultdict
from collections.abc import Sequence

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.making.pressed_joints import NO_SYSTEM, PressedJoints
from witnessmark.model.contract import contract
from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.records import Joint


def log_gaps(
    rule: Rule,
    pressed: PressedJoints,
    lacking: Sequence[Joint],
    concerned: Sequence[Joint],
    field: str,
    words: str,
    *,
    state: str = "empty or could not be read",
    remedy: str = "",
) -> list[Finding]:
    """One finding a system that cannot be told of ``lacking``, out of the joints ``concerned`` by the question.

    ``words`` go on from 'for joint J014 the joint log does not say': 'who pressed it'; ``state`` says of the cells of
    ``field`` what is the matter with them; ``remedy`` stands where filling the cells in is not all there is to say.
    """
    if not lacking:
        return []
    groups: dict[str, list[Joint]] = defaultdict(list)
    for joint in lacking:
        groups[pressed.system_of(joint.section_id)].append(joint)
    per_system = (
        pressed.per_system
        if len(concerned) == len(pressed.joints)
        else Counter(pressed.system_of(joint.section_id) for joint in concerned)
    )
    title = contract()["joints"].field(field).title
    fill = (
        f"Fill in '{title}' from the day sheets. Where nobody knows any more, look at the joints as far as they can be seen "
        "and write what is found; what stays open needs a concession."
    )
    findings = []
    for system, joints in groups.items():
        cells = f"The cell '{title}' is" if len(joints) == 1 else f"The cells '{title}' are"
        message = f"{whole(system)}: {_unsaid(joints, per_system[system])} {words}. {cells} {state}."
        subject = Subject("system", system)
        findings.append(finding_of(rule, Outcome.CANNOT_TELL, joints, subject, message, field, remedy=remedy or fill))
    return findings


def whole(system: str) -> str:
    """'System LTHW', or 'Joints of no system'."""
    return "Joints of no system" if system == NO_SYSTEM else f"System {system}"


def _unsaid(joints: Sequence[Joint], total: int) -> str:
    log = "the joint log does not say"
    if len(joints) == 1:
        return f"for joint {joints[0].joint_id} {log}"
    if len(joints) >= total:
        return f"for none of {total:,} joints does the joint log say"
    return f"for {len(joints):,} of {total:,} joints, the first of them {joints[0].joint_id}, {log}"
