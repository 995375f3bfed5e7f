"""Joints of which the records hint that they were pressed more than once."""

from collections import defaultdict

from witnessmark.checks.making.pressed_joints import METHOD, pressed_joints
from witnessmark.model.day_words import day_words
from witnessmark.model.project import Project
from witnessmark.model.records import Alteration, Joint


def suspects(project: Project, alterations: dict[str, list[Alteration]]) -> list[tuple[Joint, str]]:
    """Joints that anything may be said against, by id, and what is said of too many presses."""
    pressed = pressed_joints(project)
    surplus: dict[int, str] = {}
    for lot in pressed.lots(*METHOD, "joint_type", "press_count"):
        if lot.press_count is not None and lot.press_count > lot.presses_needed:
            right = "once" if lot.presses_needed == 1 else f"{lot.presses_needed} times"
            words = f"pressed {lot.press_count} times by the log, where {right} is right"
            surplus.update((id(joint), words) for joint in lot.joints)
    suspected = {id(joint) for joint in pressed.joints if joint.remarks is not None or joint.status == "reworked"}
    suspected.update(surplus)
    if alterations:
        suspected.update(id(joint) for joint in pressed.joints if joint.joint_id in alterations)
    return (
        [(joint, surplus.get(id(joint), "")) for joint in pressed.joints if id(joint) in suspected] if suspected else []
    )


def on_day(alteration: Alteration) -> str:
    """' on 12 May 2026', or nothing where the day is not recorded."""
    return f" on {day_words(alteration.date)}" if alteration.date is not None else ""


def alterations_of_joints(project: Project) -> tuple[dict[str, list[Alteration]], set[str]]:
    """Alterations by the joints that they name, and the joints that another one replaces."""
    by_joint: dict[str, list[Alteration]] = defaultdict(list)
    for alteration in sorted(project.records.alterations, key=lambda alteration: alteration.alteration_id):
        for joint_id in alteration.joint_ids:
            by_joint[joint_id].append(alteration)
    replaced = {
        name
        for joint in project.records.joints
        if (name := joint.replaces_joint) is not None and name != joint.joint_id
    }
    return by_joint, replaced
