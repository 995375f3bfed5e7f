"""Concessions applied to findings: a departure that somebody accepted is waived, and says by whom and until when."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from witnessmark.model.finding import Finding, Outcome, Waiver
from witnessmark.model.project import Project
from witnessmark.model.records import Concession


def in_force(project: Project, concession: Concession) -> bool:
    """Whether it was accepted, by a role that may, on a day known, and had not ended at the date of the issue."""
    approvers = project.settings.concession_approvers
    today = project.settings.issue.date
    return (
        concession.decision == "accepted"
        and concession.approved_by_role is not None
        and (not approvers or concession.approved_by_role in approvers)
        and concession.approved_on is not None
        and concession.approved_on <= today
        and (concession.expires_on is None or concession.expires_on >= today)
        and not (concession.guarantee_effect == "needs_consent" and concession.guarantor_consent is not True)
    )


class ConcessionBook:
    """Concessions in force, by the check that they name."""

    def __init__(self, project: Project) -> None:
        self._by_check: dict[str, list[Concession]] = defaultdict(list)
        refused: set[str] = set()
        for concession in project.records.concessions:
            if concession.check is None:
                continue
            if concession.decision == "refused":
                refused.add(concession.check)
            if in_force(project, concession):
                self._by_check[concession.check].append(concession)
        self._refused = [c for c in project.records.concessions if c.check in refused and c.decision == "refused"]

    def applied(self, finding: Finding) -> Finding:
        """The finding, waived where a concession covers the whole of it and none that covers it was refused."""
        if finding.outcome not in (Outcome.FAIL, Outcome.CANNOT_TELL):
            return finding
        covering = [c for c in self._by_check.get(finding.rule.slug, ()) if covers(c, finding)]
        if not covering or any(c.check == finding.rule.slug and covers(c, finding) for c in self._refused):
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
    """Whether the concession speaks of everything that the finding is about."""
    if concession.subject is not None:
        return concession.subject == finding.subject.id
    if concession.joint_ids:
        joints = finding.joint_ids or ((finding.subject.id,) if finding.subject.kind == "joint" else ())
        return _inside(joints, concession.joint_ids)
    return _inside(finding.section_ids, concession.section_ids)


def _inside(asked: Sequence[str], given: Sequence[str]) -> bool:
    return bool(asked) and set(asked) <= set(given)
