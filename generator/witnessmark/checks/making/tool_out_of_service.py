"""A press tool was used after its service was due."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.checks.making.service_book import overdue
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tool-out-of-service",
    question="Was every press tool in its service date on every day it was used?",
    severity=Severity.BREAKS,
    closes="Add the service record that covers these days; else have the tool checked now and a sample of its joints cut out and looked at, and record both.",
    whose="the subcontractor who made the joints",
    what="The last service of the tool on or before each press date, and the day its next was due; on that day it still counts. One finding tells all joints of one tool. A tool that was never serviced before the press, or whose service names no next, cannot be told.",
    why="A worn or weak tool presses short, and the joint may hold for years before it lets go.",
    example="Press tool PT-06 was serviced on 3 March 2025 and was due again on 2 March 2026; 212 joints, the first of them J014, were pressed between 3 March 2026 and 20 April 2026.",
    passes="Press tool PT-06 was serviced on 3 March 2025 and was due again on 2 March 2026; its last joint was pressed on 2 March 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every press tool that pressed a joint."""
    return overdue(RULE, project, pressed_joints(project).days_of("tool_id"), "tool_id", "press tools")


CHECK = Check(RULE, run)
