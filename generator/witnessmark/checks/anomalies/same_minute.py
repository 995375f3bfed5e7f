"""Joints that one tool, or one operative, pressed in the same minute on levels that are apart."""

import datetime
from collections import defaultdict
from collections.abc import Iterable
from operator import attrgetter

from witnessmark.checks.anomalies.level_words import apart, levels
from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer
from witnessmark.checks.making.pressed_joints import Lot, pressed_joints
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Outcome, Rule, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint


def two_levels_in_a_minute(rule: Rule, project: Project, who: str, kind: str, words: str) -> Answer:
    """Ask every joint with a time; one finding a tool or operative, which the column ``who`` names, and day.

    A day on which all its times are full or half hours tells no minutes, and is not looked at.
    """
    of_section = {section.section_id: section.level for section in project.records.sections}
    examined, findings = 0, []
    for name, day, lot, joints in days_with_minutes(project, who):
        examined += len(joints)
        if _on_one_level(lot, of_section):
            continue
        together = _together(joints, of_section)
        if not together:
            continue
        one, other = together[0]
        level_one, level_other = (joint.level or of_section.get(joint.section_id or "") for joint in (one, other))
        more = f", and likewise in {len(together) - 1} more minutes of that day" if len(together) > 1 else ""
        message = (
            f"{words} {name} is logged at {one.press_time:%H:%M} on {day_words(day)} on level {level_one} (joint {one.joint_id}) "
            f"and on level {level_other} (joint {other.joint_id}){more}. Can you say which entry is right?"
        )
        pairs = list({id(joint): joint for pair in together for joint in pair}.values())
        findings.append(finding_of(rule, Outcome.FAIL, pairs, Subject(kind, name), message, "press_time"))
    return Answer(examined, tuple(findings))


def _on_one_level(lot: Lot, of_section: dict[str, str | None]) -> bool:
    levels = {level or None for level in lot.told("level")}
    if None in levels:
        levels.remove(None)
        levels.update(of_section.get(name or "") for name in lot.told("section_id"))
    return len(levels) < 2


def days_with_minutes(project: Project, who: str) -> list[tuple[str, datetime.date, Lot, list[Joint]]]:
    """Pressed joints with a time by the tool or operative that the column ``who`` names and by day, in that order.

    Only days of which :func:`tells_minutes`; their lists belong to all who ask.
    """
    pressed = pressed_joints(project)
    name_of = attrgetter(who)
    days = []
    for lot in pressed.lots(who, "press_date"):
        name, day = name_of(lot), lot.press_date
        if name is None or day is None:
            continue
        times = lot.told("press_time")
        if not tells_minutes(times):
            continue
        timed = lot.joints
        if None in times:
            timed = [joint for joint in timed if joint.press_time is not None]
        days.append((name, day, lot, timed))
    return sorted(days, key=lambda row: row[:2])


def tells_minutes(times: Iterable[datetime.time | None]) -> bool:
    """Whether any time is neither a full nor a half hour: else hours were recorded, and no minutes."""
    return any(time is not None and time.minute % 30 for time in times)


def _together(joints: list[Joint], of_section: dict[str, str | None]) -> list[tuple[Joint, Joint]]:
    """The first pair that is apart of each minute, in order of time."""
    minutes: dict[tuple[int, int], list[Joint]] = defaultdict(list)
    for joint in joints:
        if joint.press_time is not None:
            minutes[joint.press_time.hour, joint.press_time.minute].append(joint)
    pairs = []
    for _, group in sorted(minutes.items()):
        if len(group) < 2:
            continue
        group.sort(key=lambda joint: joint.joint_id)
        # Joints of one level are alike here, so one of each level is enough.
        by_level = {joint.level or of_section.get(joint.section_id or ""): joint for joint in reversed(group)}
        held = sorted(by_level.items(), key=lambda item: item[1].joint_id)
        first = next(
            ((a, b) for i, (la, a) in enumerate(held) for lb, b in held[i + 1 :] if apart(levels(la), levels(lb))), None
        )
        if first is not None:
            pairs.append(first)
    return pairs
