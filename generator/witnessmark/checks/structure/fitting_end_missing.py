"""A fitting has fewer ends in the log than it has in the pipe."""

from collections import defaultdict
from operator import attrgetter

from witnessmark.checks.joint_groups import NOT_THERE, finding_of
from witnessmark.checks.joint_number import fitting_of
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
    whose="the subcontractor who made the joints",
    what="Fittings whose ends carry a letter (J014-A, J014-B): a coupling or elbow has two, a tee three. Looked at in "
    "sections whose log uses such letters.",
    why="A log by fitting hides an end that was never pressed.",
    example="Section LTHW-F-R2: J207, a tee with 3 press ends, has 1 in the log.",
    passes="Tee J207 stands in three rows: J207-A, J207-B and J207-C.",
)

_BY_ID, _STATUS, _AS_END = attrgetter("joint_id"), attrgetter("status"), attrgetter("recorded_as_end")


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every lettered fitting, and answer once a section."""
    examined, findings = 0, []
    wanted_of = press_ends()
    for section_id, joints in project.joints_of_section.items():
        fittings: dict[str, list[Joint]] = defaultdict(list)
        lettered = False
        joints = sorted(joints, key=_BY_ID)
        for joint in joints:
            fitting_id, has_letter = fitting_of(joint.joint_id)
            if has_letter and not lettered:
                lettered = joint.recorded_as_end
            fittings[fitting_id].append(joint)
        if not lettered:
            continue
        unlike = len(set(map(_BY_ID, joints))) == len(joints)
        plain = all(map(_AS_END, joints)) and NOT_THERE.isdisjoint(map(_STATUS, joints))
        short: dict[str, list[Joint]] = {}
        for fitting_id, ends in fittings.items():
            wanted = wanted_of.get(ends[0].fitting_kind or "")
            if wanted is None:
                continue
            # Ends-not-recorded-one-by-one tells of the others already.
            if not plain and (all(end.status in NOT_THERE for end in ends) or not all(map(_AS_END, ends))):
                continue
            examined += 1
            if (len(ends) if unlike else len(set(map(_BY_ID, ends)))) < wanted:
                short[fitting_id] = ends
        if short:
            findings.append(_finding(section_id, short))
    return Answer(examined, tuple(findings))


def _finding(section_id: str, short: dict[str, list[Joint]]) -> Finding:
    fitting_ids = sorted(short)
    said = []
    for fitting_id in fitting_ids[:4]:
        ends = short[fitting_id]
        kind = (ends[0].fitting_kind or "").replace("_", " ")
        logged = len({end.joint_id for end in ends})
        wanted = press_ends()[ends[0].fitting_kind or ""]
        article = "an" if kind[:1] in "aeiou" else "a"
        said.append(f"{fitting_id}, {article} {kind} with {wanted} press ends, has {logged} in the log")
    more = f"; and {len(fitting_ids) - 4} more fittings" if len(fitting_ids) > 4 else ""
    joints = [end for fitting_id in fitting_ids for end in short[fitting_id]]
    return finding_of(
        RULE,
        Outcome.FAIL,
        joints,
        Subject("section", section_id),
        f"Section {section_id}: {'; '.join(said)}{more}.",
        "joint_id",
    )


CHECK = Check(RULE, run)
