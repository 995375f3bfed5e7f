"""Joints that one tool, or one operative, pressed in the same minute on levels that are apart."""

import datetime
from collections import defaultdict
from collections.abc import Callable, Sequence

from witnessmark.checks.anomalies.level_words import apart, levels
from witnessmark.checks.joint_groups import asked, finding_of
from witnessmark.checks.judgement import Answer
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Outcome, Rule, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint


def two_levels_in_a_minute(
    rule: Rule, project: Project, who: Callable[[Joint], str | None], kind: str, words: str
) -> Answer:
    """Ask every joint with a time; one finding a tool or operative and day.

    A day on which all its times are full or half hours tells no minutes, and is not looked at.
    """
    days: dict[tuple[str, datetime.date], list[Joint]] = defaultdict(list)
    for joint in project.records.joints:
        if joint.press_time is not None and joint.press_date is not None and asked(joint):
            name = who(joint)
            if name is not None:
                days[name, joint.press_date].append(joint)
    of_section = {section.section_id: section.level for section in project.records.sections}
    examined, findings = 0, []
    for (name, day), joints in sorted(days.items()):
        if not tells_minutes(joints):
            continue
        examined += len(joints)
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


def tells_minutes(joints: Sequence[Joint]) -> bool:
    """Whether any time is neither a full nor a half hour: else hours were recorded, and no minutes."""
    return any(joint.press_time is not None and joint.press_time.minute % 30 for joint in joints)


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
