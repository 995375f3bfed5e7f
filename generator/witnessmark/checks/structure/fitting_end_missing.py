"""A fitting has fewer ends in the log than it has in the pipe."""

import re
from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.fitting import press_ends
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="fitting-end-missing",
    question="Is every press end of every fitting in the log?",
    severity=Severity.BREAKS,
    closes="Log the missing ends, each in a row of its own, or say on the row that it counts a whole fitting.",
    whose="the subcontractor who made the joint",
    what="Fittings whose ends carry a letter (J014-A, J014-B): a coupling or elbow has two, a tee three. Looked at in "
    "sections whose log uses such letters.",
    why="A log by fitting hides an end that was never pressed.",
    example="Tee J207 stands in one row, J207-A; its two other ends are in none.",
)

_LETTERED = re.compile(r"^(.*[0-9])[-./]?([A-D])$", re.IGNORECASE)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every lettered fitting."""
    examined, findings = 0, []
    for section_id, joints in project.joints_of_section.items():
        fittings: dict[str, list[Joint]] = defaultdict(list)
        lettered = 0
        for joint in joints:
            if not joint.recorded_as_end:
                continue
            match = _LETTERED.match(joint.joint_id)
            lettered += match is not None
            fittings[match.group(1) if match else joint.joint_id].append(joint)
        if not lettered:
            continue
        for fitting_id, ends in fittings.items():
            wanted = press_ends().get(ends[0].fitting_kind or "")
            if wanted is None:
                continue
            examined += 1
            if len(ends) >= wanted:
                continue
            kind = (ends[0].fitting_kind or "").replace("_", " ")
            logged = f"{len(ends)} {'is' if len(ends) == 1 else 'are'}"
            findings.append(
                Finding(
                    RULE,
                    Outcome.FAIL,
                    f"Fitting {fitting_id} is a {kind} with {wanted} press ends, of which {logged} in the log.",
                    RULE.closes,
                    Subject("joint", ends[0].joint_id),
                    ends[0].source.place("joint_id"),
                    whose=RULE.whose,
                    section_ids=(section_id,),
                )
            )
    return Answer(examined, tuple(findings))


CHECK = Check(RULE, run)
