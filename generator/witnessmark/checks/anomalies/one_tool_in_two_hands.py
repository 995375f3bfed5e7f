"""Two operatives are logged with one press tool in the same minute."""

from collections import defaultdict

from witnessmark.checks.anomalies.same_minute import days_with_minutes, tells_minutes
from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="one-tool-in-two-hands",
    question="Was every press tool in one person's hands at a time?",
    severity=Severity.WEAKENS,
    closes="Correct the tool, the operative or the time of the joints, or say how the log was kept.",
    whose="the subcontractor who made the joints",
    what="Joints that name the same press tool and the same minute and different operatives. Looked at where minutes are "
    "recorded.",
    why="A tool is handed on in minutes, and not within one. Often the tool of a gang was written for all of them; then it is "
    "not shown which tool made which joint.",
    example="Press tool PT-02 is logged at 10:40 on 2 March 2026 with operative OP-03 (joint J001) and with operative OP-05 "
    "(joint J050). Can you say which entry is right?",
    passes="Press tool PT-02 is logged with OP-03 until 10:40 and with OP-05 from 10:55 on.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint with tool, operative and time; one finding a tool and day."""
    examined, findings = 0, []
    for tool, day, lot, timed in days_with_minutes(project, "tool_id"):
        joints, hands = timed, lot.told("operative_id")
        if None in hands:
            joints = [joint for joint in timed if joint.operative_id is not None]
            if not tells_minutes(joint.press_time for joint in joints):
                continue
        examined += len(joints)
        if len(hands) < 2:
            continue
        shared = _shared(joints)
        if not shared:
            continue
        one, other = shared[0]
        more = f", and likewise in {len(shared) - 1} more minutes of that day" if len(shared) > 1 else ""
        message = (
            f"Press tool {tool} is logged at {one.press_time:%H:%M} on {day_words(day)} with operative {one.operative_id} (joint "
            f"{one.joint_id}) and with operative {other.operative_id} (joint {other.joint_id}){more}. Can you say which entry is "
            "right?"
        )
        pairs = [joint for pair in shared for joint in pair]
        findings.append(finding_of(RULE, Outcome.FAIL, pairs, Subject("tool", tool), message, "tool_id"))
    return Answer(examined, tuple(findings))


def _shared(joints: list[Joint]) -> list[tuple[Joint, Joint]]:
    """Of each minute with two operatives, the first joint of the first two, in order of time."""
    minutes: dict[tuple[int, int], dict[str, Joint]] = defaultdict(dict)
    for joint in sorted(joints, key=lambda joint: joint.joint_id):
        if joint.press_time is not None and joint.operative_id is not None:
            minutes[joint.press_time.hour, joint.press_time.minute].setdefault(joint.operative_id, joint)
    pairs = []
    for _, hands in sorted(minutes.items()):
        if len(hands) > 1:
            one, other = sorted(hands)[:2]
            pairs.append((hands[one], hands[other]))
    return pairs


CHECK = Check(RULE, run)
