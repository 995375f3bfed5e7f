"""A hot work permit stands in the documents of pipework that was joined without heat."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.pressed_joints import pressed_joints
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Document
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="hot-work-permit-for-pressed-joints",
    question="Is no hot work permit filed for sections that were only pressed?",
    severity=Severity.TIDY,
    closes="Say in the document's title what the heat was for; log the soldered or welded joints if there are any; or name the right section under 'About'.",
    whose="the contractor handing over",
    what="Documents of the kind 'hot work permit' that name a section or joint whose joints are all pressed. A permit that names nothing cannot be told. Sections with soldered or welded joints may have one.",
    why="Press joints are made without heat. A permit asks what was burning: a soldered joint that no log shows, or work close to seals that heat destroys.",
    example="Hot work permit DOC-H2 is about section S1, whose 42 joints are all pressed. What was the heat for?",
    passes="Hot work permit DOC-H2 is about section S7, which has two soldered joints.",
)

_HOT = frozenset({"solder", "weld"})


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section with pressed joints, and at every hot work permit that names nothing."""
    permits = [document for document in project.records.documents if document.kind == "hot_work_permit"]
    pressed = pressed_joints(project).per_section
    if not permits:
        return Answer(len(pressed), ())
    section_of = {joint.joint_id: joint.section_id for joint in pressed_joints(project).joints if joint.section_id}
    hot = {joint.section_id for joint in project.records.joints if joint.joint_type in _HOT}
    findings = []
    for permit in permits:
        named = [part.strip() for part in (permit.about or "").split(";") if part.strip()]
        if not named:
            findings.append(_unnamed(permit))
            continue
        sections = dict.fromkeys(section_of.get(name, name) for name in named)
        cold = [name for name in sections if pressed[name] and name not in hot]
        if cold:
            findings.append(_finding(permit, cold, sum(pressed[name] for name in cold)))
    return Answer(len(pressed) + len(findings), tuple(findings))


def _finding(permit: Document, sections: list[str], joints: int) -> Finding:
    where = f"section {sections[0]}," if len(sections) == 1 else f"{len(sections)} sections, {', '.join(sections[:3])},"
    count = "only joint is pressed" if joints == 1 else f"{joints:,} joints are all pressed"
    return Finding(
        RULE,
        Outcome.FAIL,
        f"Hot work permit {permit.document_id} is about {where} whose {count}. What was the heat for?",
        RULE.closes,
        Subject("document", permit.document_id),
        permit.source.place("about"),
        whose=RULE.whose,
        section_ids=tuple(sections),
    )


def _unnamed(permit: Document) -> Finding:
    return Finding(
        RULE,
        Outcome.CANNOT_TELL,
        f"Hot work permit {permit.document_id} does not say what it is about: its cell 'About' is empty.",
        "Name the section or the joints of the permit under 'About'.",
        Subject("document", permit.document_id),
        permit.source.place("about"),
        whose=RULE.whose,
    )


CHECK = Check(RULE, run)
