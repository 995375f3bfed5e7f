"""A jaw or sling was used after its service was due."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.checks.making.service_book import overdue
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="jaw-out-of-service",
    question="Was every jaw and sling in its service date on every day it was used?",
    severity=Severity.BREAKS,
    closes="Add the service or inspection record that covers these days; else have the jaw gauged now and a sample of its joints looked at, and record both.",
    whose="the subcontractor who made the joints",
    what="The last service or inspection of the jaw or sling on or before each press date, and the day its next was due; on that day it still counts. One finding tells all joints of one jaw; where the records hold no service of any jaw, one finding says so.",
    why="Jaws and slings wear and crack; a worn contour leaves the fitting open.",
    example="Jaw JW-22-1 was serviced on 3 March 2025 and was due again on 2 March 2026; joint J014 was pressed on 9 March 2026.",
    passes="Jaw JW-22-1 was serviced on 3 March 2025 and was due again on 2 March 2026; its last joint was pressed on 2 March 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every jaw and sling that pressed a joint."""
    return overdue(RULE, project, pressed_joints(project).days_of("jaw_id"), "jaw_id", "jaws and slings")


CHECK = Check(RULE, run)
