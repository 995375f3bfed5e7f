"""Sections and joints that cite a drawing, in words and in a finding."""

from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.records import Document, Joint, Section

Citing = Section | Joint


def who(rows: list[Citing]) -> str:
    """'Section S1 and 14 joints cite', to go on from."""
    sections = sorted({row.section_id for row in rows if isinstance(row, Section)})
    joints = sorted({row.joint_id for row in rows if isinstance(row, Joint)})
    parts = []
    if sections:
        parts.append(
            f"section {sections[0]}" if len(sections) == 1 else f"{len(sections)} sections from {sections[0]} on"
        )
    if joints:
        parts.append(f"joint {joints[0]}" if len(joints) == 1 else f"{len(joints):,} joints")
    single = len(sections) + len(joints) == 1
    text = " and ".join(parts)
    return f"{text[0].upper()}{text[1:]} {'cites' if single else 'cite'}"


def citing_finding(
    rule: Rule,
    outcome: Outcome,
    drawing: str,
    rows: list[Citing],
    message: str,
    documents: list[Document],
    subject: Subject | None = None,
) -> Finding:
    """One finding about everything that cites ``drawing``; ``documents`` are its rows in the documents table."""
    rows = sorted(rows, key=lambda row: (isinstance(row, Joint), _id(row)))
    places = [row.source.place("drawing_revision") for row in rows[:20]]
    places += [document.source.place("revision") for document in documents]
    whole = {row.section_id: None for row in rows if isinstance(row, Section)}
    joints = [row for row in rows if isinstance(row, Joint)]
    sections = {**whole, **{joint.section_id: None for joint in joints if joint.section_id}}
    return Finding(
        rule,
        outcome,
        message,
        rule.closes,
        subject or Subject("drawing", drawing),
        places[0],
        tuple(places[1:]),
        rule.whose,
        tuple(section for section in sections if section),
        () if whole else tuple(dict.fromkeys(joint.joint_id for joint in joints)),
    )


def _id(row: Citing) -> str:
    return row.joint_id if isinstance(row, Joint) else row.section_id
