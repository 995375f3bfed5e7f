"""One photo stands for joints of different fittings."""

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.joint_number import fitting_of, joint_number
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.fitting import press_ends
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="one-photo-for-two-joints",
    question="Has every fitting a photo of its own, where joints have photos?",
    severity=Severity.WEAKENS,
    closes="Say which joint the photo shows and take the others out of their rows, or attach the photo of each.",
    whose="the subcontractor who made the joints",
    what="Photos named by joints of different fittings, by document, by file, and by the content of the file: two documents "
    "that are the same file byte for byte are one photo. The ends of one fitting may share one.",
    why="A photo of one joint shows nothing of another. Often the same picture was attached along a whole column.",
    example="Joints J014-A and J027-B name the same photo, DOC-P-114. Can you say which of them it shows?",
    passes="DOC-P-114 is named by J014-A and J014-B, the two ends of one elbow.",
)

_MOST_ENDS = 4


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every joint that names a photo, and answer once a photo."""
    content: dict[str, str] = {}
    for document in project.records.documents:
        same = document.sha256 or document.declared_sha256 or document.document_id
        content[document.document_id.casefold()] = same.casefold()
        if document.file:
            content.setdefault(document.file.casefold(), same.casefold())
    examined = 0
    first: dict[str, tuple[Joint, str]] = {}
    shared: dict[str, list[tuple[Joint, str]]] = {}
    for joint in project.records.joints:
        photo = joint.photo
        if not photo or joint.status == "void":
            continue
        examined += 1
        for part in photo.split(";") if ";" in photo else (photo,):
            name = part.strip()
            if name:
                folded = name.casefold()
                key = content.get(folded, folded)
                if key in first:
                    shared.setdefault(key, [first[key]]).append((joint, name))
                else:
                    first[key] = joint, name
    asked = {key: pairs for key, pairs in shared.items() if not _may_be_one_fitting([joint for joint, _ in pairs])}
    return Answer(examined, tuple(_finding(asked[key]) for key in sorted(asked)))


def _may_be_one_fitting(joints: list[Joint]) -> bool:
    first = joints[0]
    fittings = {fitting_of(joint.joint_id) for joint in joints}
    if len(fittings) == 1:
        return True
    if any(lettered for _, lettered in fittings) or len(fittings) > press_ends().get(
        first.fitting_kind or "", _MOST_ENDS
    ):
        return False
    # Without letters the ends of one fitting are neighbours in the numbering.
    numbers = [joint_number(joint.joint_id) for joint in joints]
    known = {(number.run, number.number) for number in numbers if number is not None}
    values = [value for _, value in known]
    return (
        len(known) == len(fittings)
        and len({run for run, _ in known}) == 1
        and max(values) - min(values) == len(known) - 1
        and len({(joint.section_id, joint.fitting_kind) for joint in joints}) == 1
    )


def _finding(pairs: list[tuple[Joint, str]]) -> Finding:
    pairs = sorted(pairs, key=lambda pair: (pair[0].joint_id, pair[1]))
    joints = [joint for joint, _ in pairs]
    ids = sorted({joint.joint_id for joint in joints})
    names = sorted({name for _, name in pairs})
    who = _listed(ids)
    if len(names) == 1:
        photo = f"name the same photo, {names[0]}"
    else:
        photo = f"name photos that are the same file, {_listed(names)}"
    message = f"Joints {who} {photo}. Can you say which of them it shows?"
    return finding_of(RULE, Outcome.FAIL, joints, Subject("document", names[0]), message, "photo")


def _listed(names: list[str]) -> str:
    return (
        f"{', '.join(names[:-1])} and {names[-1]}"
        if len(names) <= 3
        else f"{names[0]}, {names[1]} and {len(names) - 2} more"
    )


CHECK = Check(RULE, run)
