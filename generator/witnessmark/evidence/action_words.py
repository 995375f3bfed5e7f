"""Acts in words that read well by themselves: each names what it is about."""

from collections.abc import Sequence

from witnessmark.intake.rules import RULES
from witnessmark.model.finding import Finding, Subject
from witnessmark.model.project import Project

_OF_READING = frozenset(rule.slug for rule in RULES)
_NAMES = {
    "batch": ("Batch", "Batches"),
    "flushing": ("Flushing record", "Flushing records"),
    "instrument": ("Gauge", "Gauges"),
    "material": ("Guarantee for", "Guarantees for"),
    "tag": ("Tag code", "Tag codes"),
    "treatment": ("Water record", "Water records"),
}
_LISTED = 3
_KINDS = 2


def remedy_words(remedy: str, findings: Sequence[Finding]) -> str:
    """The remedy, with what the findings are about before it where it does not say so: 'Joint J014: look again.'"""
    subjects = list(dict.fromkeys(finding.subject for finding in findings))
    if all(subject.kind in ("project", "check") or subject.id in remedy for subject in subjects):
        return remedy
    if all(finding.rule.slug in _OF_READING for finding in findings):
        about = _cells(findings)
    elif _of_joints(remedy, subjects) and all(finding.joint_ids for finding in findings):
        about = _named("Joint", "Joints", list(dict.fromkeys(j for finding in findings for j in finding.joint_ids)))
    else:
        about = _subjects(subjects)
    if not about:
        return remedy
    # A code or a quoted word keeps its capitals.
    start = remedy[0].lower() if remedy[1:2].islower() or remedy[1:2] == " " else remedy[0]
    return f"{about}: {start}{remedy[1:]}"


def retest_words(project: Project, systems: str, findings: Sequence[Finding]) -> str:
    """'Retest sections S1 and S2 of system HTG, by the procedure and after the last joint is made.'"""
    sections = sorted({s for finding in findings for s in finding.section_ids if s in project.sections})
    many = "s" if ", " in systems else ""
    which = _named("section", "sections", sections) + f" of system{many} {systems}" if sections else f"system {systems}"
    return f"Retest {which}, by the procedure and after the last joint is made, and record it."


def _of_joints(remedy: str, subjects: Sequence[Subject]) -> bool:
    """Whether the remedy is done at joints, and the subjects would not say at which."""
    kinds = {subject.kind for subject in subjects}
    return "joint" in remedy and (len(kinds) > 1 or kinds <= {"section", "system", "operative"})


def _named(one: str, many: str, ids: Sequence[str]) -> str:
    if len(ids) == 1:
        return f"{one} {ids[0]}"
    if len(ids) <= _LISTED:
        return f"{many} {', '.join(ids[:-1])} and {ids[-1]}"
    return f"{many} {', '.join(ids[: _LISTED - 1])} and {len(ids) - _LISTED + 1:,} more"


def _subjects(subjects: Sequence[Subject]) -> str:
    by_kind: dict[str, list[str]] = {}
    for subject in subjects:
        if subject.kind not in ("project", "check"):
            by_kind.setdefault(subject.kind, []).append(subject.id)
    parts = []
    for kind, ids in by_kind.items():
        one, many = _NAMES.get(kind, (kind.replace("_", " "), f"{kind.replace('_', ' ')}s"))
        shown = [name.replace("_", " ") for name in ids] if kind == "material" else ids
        parts.append(_named(one, many, shown))
    words = ", ".join(parts[:_KINDS]) + (" and others" if len(parts) > _KINDS else "")
    return words[:1].upper() + words[1:]


def _cells(findings: Sequence[Finding]) -> str:
    places = [finding.location for finding in findings if finding.location is not None]
    files = list(dict.fromkeys((place.file, place.sheet) for place in places))
    if len(files) != 1:
        return _subjects(list(dict.fromkeys(finding.subject for finding in findings)))
    file, sheet = files[0]
    rows = sorted({place.row for place in places if place.row})
    headings = list(dict.fromkeys(place.heading for place in places if place.heading))
    words = file + (f", sheet {sheet}" if sheet else "")
    if len(headings) == 1:
        words += f", column '{headings[0]}'"
    if len(rows) == 1:
        words += f", row {rows[0]}"
    elif rows:
        words += f", {len(rows):,} rows from row {rows[0]} on"
    return words
