"""Concessions applied to findings: a departure that somebody accepted is waived, and says by whom and until when."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from witnessmark.model.finding import Finding, Outcome, Waiver
from witnessmark.model.project import Project
from witnessmark.model.records import Concession
from witnessmark.model.settings import ProjectSettings


def may_accept(settings: ProjectSettings, role: str) -> bool:
    """Whether the project lists the role among those that accept departures; any role where it lists none.

    Capitals, spaces and the shape of the apostrophe make no difference.
    """
    listed = settings.concession_approvers
    return not listed or _plain(role) in {_plain(one) for one in listed}


def _plain(role: str) -> str:
    return " ".join(role.replace("\N{RIGHT SINGLE QUOTATION MARK}", "'").casefold().split())


def in_force(project: Project, concession: Concession) -> bool:
    """Whether it was accepted, by a role that may, on a day known, and had not ended at the date of the issue."""
    today = project.settings.issue.date
    return (
        concession.decision == "accepted"
        and bool(concession.approved_by_role)
        and may_accept(project.settings, concession.approved_by_role or "")
        and concession.approved_on is not None
        and concession.approved_on <= today
        and (concession.expires_on is None or concession.expires_on >= today)
        and not (concession.guarantee_effect == "needs_consent" and concession.guarantor_consent is not True)
    )


class ConcessionBook:
    """Concessions in force and refusals, by the check that they name."""

    def __init__(self, project: Project) -> None:
        self._in_force: dict[str, list[Concession]] = defaultdict(list)
        self._refused: dict[str, list[Concession]] = defaultdict(list)
        for concession in project.records.concessions:
            if concession.check is None:
                continue
            if concession.decision == "refused":
                self._refused[concession.check].append(concession)
            elif in_force(project, concession):
                self._in_force[concession.check].append(concession)

    def applied(self, finding: Finding) -> Finding:
        """The finding, waived where a concession covers the whole of it and no part of it was refused."""
        if finding.outcome not in (Outcome.FAIL, Outcome.CANNOT_TELL):
            return finding
        covering = [c for c in self._in_force.get(finding.rule.slug, ()) if covers(c, finding)]
        if not covering or any(touches(c, finding) for c in self._refused.get(finding.rule.slug, ())):
            return finding
        chosen = min(covering, key=lambda c: c.concession_id)
        if chosen.approved_by_role is None or chosen.approved_on is None:
            return finding
        waiver = Waiver(
            chosen.concession_id,
            chosen.approved_by_role,
            chosen.approved_on,
            chosen.expires_on,
            chosen.reason or "",
            chosen.guarantee_effect or "not stated",
            chosen.source.location,
        )
        return replace(finding, outcome=Outcome.WAIVED, waiver=waiver)


def covers(concession: Concession, finding: Finding) -> bool:
    """Whether the concession speaks of everything that the finding is about.

    Whatever the concession names must hold: with a subject and sections, the subject is the finding's and all sections of
    the finding are among them. Ids that the records do not know narrow a concession; they never widen it.
    """
    parts = []
    if concession.subject is not None:
        parts.append(concession.subject == finding.subject.id)
    if concession.joint_ids or _written(concession, "joint_ids"):
        parts.append(_inside(_joints(finding), concession.joint_ids))
    elif concession.section_ids or _written(concession, "section_ids"):
        parts.append(_inside(finding.section_ids, concession.section_ids))
    return bool(parts) and all(parts)


def touches(concession: Concession, finding: Finding) -> bool:
    """Whether the concession speaks of any part of what the finding is about."""
    if concession.subject is not None:
        return concession.subject == finding.subject.id
    if concession.joint_ids and _joints(finding):
        return not set(_joints(finding)).isdisjoint(concession.joint_ids)
    return not set(finding.section_ids).isdisjoint(concession.section_ids)


def _joints(finding: Finding) -> tuple[str, ...]:
    return finding.joint_ids or ((finding.subject.id,) if finding.subject.kind == "joint" else ())


def _inside(asked: Sequence[str], given: Sequence[str]) -> bool:
    return bool(asked) and set(asked) <= set(given)


def _written(concession: Concession, field: str) -> bool:
    cell = concession.source.cell(field)
    return cell is not None and bool(cell.raw.strip())
