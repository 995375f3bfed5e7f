"""A jaw or sling has another contour than the fitting that it pressed."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of, named
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.log_gap import log_gaps
from witnessmark.checks.making.pressed_joints import in_id_order, pressed_joints
from witnessmark.checks.making.register_gap import register_gaps
from witnessmark.checks.making.service_book import is_jaw, tool_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="jaw-of-another-profile",
    question="Does every jaw and sling have the contour of the fittings it pressed?",
    severity=Severity.BREAKS,
    closes="Correct the record if the jaw or the contour is written wrong; else get a letter of compatibility from the maker of the fittings, or cut the joints out and make them anew under new ids.",
    whose="the subcontractor who made the joints",
    what="The contour of the jaw or sling in the tools table against the contour in the joint's row and that of its fitting batch. One finding tells all joints of one jaw.",
    why="A foreign contour closes the fitting in the wrong place: it looks pressed and holds for a while.",
    example="Jaw JW-22-1 has contour P1; joint J014 is a fitting of contour P2 by its fitting batch B-FA22-03.",
    passes="Jaw JW-22-1 has contour P2, and so have joint J014 and its fitting batch.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every pressed joint whose jaw is known."""
    pressed = pressed_joints(project)
    by_jaw = pressed.by_jaw("press_profile", "fitting_batch_id")
    jaws = {tool_id: lots for tool_id, lots in by_jaw.items() if is_jaw(project.tools.get(tool_id))}
    unknown_jaw: dict[str, list[Joint]] = {}
    unknown: list[list[Joint]] = []
    examined = 0
    findings: list[Finding] = []
    for tool_id, lots in jaws.items():
        profile = project.tools[tool_id].press_profile
        if profile is None:
            unknown_jaw[tool_id] = in_id_order(lot.joints for lot in lots)
            continue
        wrong: dict[str, list[Joint]] = defaultdict(list)
        for lot in lots:
            examined += len(lot.joints)
            of_batch = lot.fitting.press_profile if lot.fitting is not None else None
            if lot.press_profile is None and of_batch is None:
                unknown.append(lot.joints)
            elif lot.press_profile not in (None, profile):
                wrong[f"of contour {lot.press_profile} by the joint log"] += lot.joints
            elif of_batch not in (None, profile):
                wrong[f"of contour {of_batch} by fitting batch {lot.fitting_batch_id}"] += lot.joints
        if wrong:
            findings.append(_finding(project, tool_id, profile, wrong))
    words, kind = "what contour it has", "jaws and slings"
    findings += register_gaps(RULE, project, "press_profile", unknown_jaw, len(jaws), words, kind)
    gap = "of what contour the fitting is (nor does a fitting batch)"
    findings += log_gaps(RULE, pressed, in_id_order(unknown), pressed.joints, "press_profile", gap)
    return Answer(examined + len(unknown_jaw), tuple(findings))


def _finding(project: Project, tool_id: str, profile: str, wrong: dict[str, list[Joint]]) -> Finding:
    tool = project.tools[tool_id]
    clauses = []
    for why, group in sorted(wrong.items()):
        who = named(in_id_order([group]))
        clauses.append(f"{who[0].lower()}{who[1:]} {'is' if len(group) == 1 else 'are'} {why}")
    joints = in_id_order(wrong.values())
    place = joints[0].source.place("jaw_id")
    related = [tool.source.place("press_profile"), *(joint.source.place("press_profile") for joint in joints[:3])]
    message = f"{tool_words(tool_id, tool)} has contour {profile}; {'; '.join(clauses)}."
    return finding_of(
        RULE, Outcome.FAIL, joints, Subject("tool", tool_id), message, "jaw_id", location=place, related=related
    )


CHECK = Check(RULE, run)
