"""A joint or section cites a revision of a drawing that is not the one in the pack."""

import re
from collections import defaultdict

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.drawing.cited_drawing import Citing, citing_finding, who
from witnessmark.checks.joint_groups import NOT_THERE
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Document
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="drawing-revision-not-as-built",
    question="Does every section and joint cite the as-built revision of its drawing?",
    severity=Severity.WEAKENS,
    closes="Look at the joints on the revision that the pack carries and write that revision in their rows, or add the "
    "as-built drawing, with its revision, to the documents table.",
    whose="the contractor handing over",
    what="Drawing and revision of every section and joint, against the drawings of the documents table. A joint without a "
    "drawing of its own stands on the drawing of its section.",
    why="A joint is found again by its drawing. On a drawing that was superseded it may stand where the pipe no longer runs.",
    example="Section LTHW-F-R2 and 14 joints cite drawing HTG-L02-104 at revision C01; the documents table has revision C02.",
    passes="Section LTHW-F-R2 cites drawing HTG-L02-104 at revision C02, which is the revision in the documents table.",
)

_REVISION = re.compile(r"^(?:revision|rev)[.:\s]*", re.IGNORECASE)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section and joint, and answer once a drawing and revision."""
    drawings = _drawings(project)
    gaps = GapsBySystem(RULE, project, "section", RULE.closes)
    cited: dict[tuple[str, str], list[Citing]] = defaultdict(list)
    examined = 0
    for section in project.records.sections:
        if section.status in ("planned", "removed"):
            continue
        rows = [j for j in project.joints_of_section.get(section.section_id, ()) if j.status not in NOT_THERE]
        examined += 1 + len(rows)
        if section.drawing:
            cited[section.drawing, section.drawing_revision or ""].append(section)
        elif not rows or any(joint.drawing is None for joint in rows):
            systems = (section.system_id,) if section.system_id else ()
            place = section.source.place("drawing")
            gaps.add(systems, section.section_id, ("the drawing of the section",), (section.section_id,), place)
        for joint in rows:
            if joint.drawing:
                cited[joint.drawing, joint.drawing_revision or ""].append(joint)
    findings = []
    absent: list[tuple[str, list[Citing]]] = []
    for (drawing, revision), rows_citing in sorted(cited.items()):
        documents = drawings.get(drawing.casefold())
        if documents is None:
            absent.append((drawing, rows_citing))
            continue
        answer = _compared(drawing, revision, documents)
        if answer is not None:
            outcome, words = answer
            findings.append(
                citing_finding(RULE, outcome, drawing, rows_citing, f"{who(rows_citing)} {words}", documents)
            )
    findings += _not_carried(absent, bool(drawings))
    return Answer(examined, (*findings, *gaps.findings()))


def _drawings(project: Project) -> dict[str, list[Document]]:
    found: dict[str, list[Document]] = defaultdict(list)
    for document in project.records.documents:
        if document.kind == "drawing":
            for name in {document.document_id.casefold(), (document.title or "").casefold()} - {""}:
                found[name].append(document)
    return dict(found)


def _plain(revision: str) -> str:
    return _REVISION.sub("", revision.strip()).casefold()


def _compared(drawing: str, revision: str, documents: list[Document]) -> tuple[Outcome, str] | None:
    known = {
        _plain(document.revision): document.revision
        for document in sorted(documents, key=lambda d: d.document_id)
        if document.revision
    }
    words = f"drawing {drawing} at revision {revision}"
    if not revision:
        return Outcome.CANNOT_TELL, f"drawing {drawing} without a revision; the cell 'Drawing revision' is empty."
    if not known:
        return Outcome.CANNOT_TELL, f"{words}; the documents table does not say which revision it carries."
    newest = max((d for d in documents if d.revision and d.date), key=lambda d: (d.date, d.document_id), default=None)
    if len(known) > 1 and (newest is None or any(document.date is None for document in documents)):
        shown = " and ".join(sorted(known.values()))
        return Outcome.CANNOT_TELL, f"{words}; the documents table has revisions {shown} and not the date of each."
    as_built = newest.revision if len(known) > 1 and newest else min(known.values())
    if _plain(revision) == _plain(as_built or ""):
        return None
    return Outcome.FAIL, f"{words}; the documents table has revision {as_built}."


def _not_carried(absent: list[tuple[str, list[Citing]]], any_drawing: bool) -> list[Finding]:
    groups: dict[str, list[Citing]] = defaultdict(list)
    for drawing, rows in absent:
        groups[drawing] += rows
    if groups and not any_drawing:
        every = [row for rows in groups.values() for row in rows]
        names = sorted(groups)
        shown = ", ".join(names[:4]) + (f" and {len(names) - 4} more" if len(names) > 4 else "")
        message = f"The documents table has no drawing, so the revisions of {shown} cannot be held against anything."
        return [citing_finding(RULE, Outcome.CANNOT_TELL, "", every, message, [], Subject("project", "drawings"))]
    return [
        citing_finding(
            RULE,
            Outcome.CANNOT_TELL,
            drawing,
            rows,
            f"{who(rows)} drawing {drawing}, which is no drawing of the documents table.",
            [],
        )
        for drawing, rows in sorted(groups.items())
    ]


CHECK = Check(RULE, run)
