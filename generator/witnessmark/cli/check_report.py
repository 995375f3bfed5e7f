"""The report of a check on the terminal: by whose job, what to do first on top, then what changed and the sum."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from witnessmark.cli.finding_lines import account_line, finding_lines, one_line, summary_line
from witnessmark.cli.last_check import keep, read_last
from witnessmark.evidence.comparison import Comparison, compare
from witnessmark.model.finding import Finding, Outcome, Severity

if TYPE_CHECKING:
    from witnessmark.evidence.readiness import Readiness
    from witnessmark.pipeline import Outcome as PipelineOutcome

_CLOSED_SHOWN = 10
_ACTS_SHOWN = 5


def check_report(outcome: PipelineOutcome, *, show_all: bool) -> Iterator[str]:
    """Lines of the report; keeps what is open for the next check."""
    findings = outcome.judgement.findings
    last = read_last(outcome.project.folder)
    change = compare(last, findings) if last is not None else None
    new = frozenset(map(id, change.new)) if change is not None else frozenset()
    groups = by_whose(findings)
    for whose, group in groups:
        yield f"== {one_line(whose)}: {_counts(group)}"
        yield from finding_lines(group, show_all=show_all, new=new)
        yield ""
    waived = [finding for finding in findings if finding.outcome is Outcome.WAIVED]
    if waived:
        yield f"== Accepted by concession: {len(waived):,}"
        yield from finding_lines(waived, show_all=show_all)
        yield ""
    yield from _readiness(outcome.evidence.readiness)
    if change is not None:
        yield from _changes(change)
    trouble = keep(outcome.project.folder, findings)
    if trouble:
        yield one_line(trouble)
    yield account_line(outcome.project.accounts)
    yield summary_line(outcome.judgement)


def by_whose(findings: tuple[Finding, ...]) -> list[tuple[str, list[Finding]]]:
    """Open findings by whose job they are: first whoever has most that breaks the chain."""
    groups: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.outcome is not Outcome.WAIVED:
            groups.setdefault(finding.whose or finding.rule.whose, []).append(finding)

    def weight(entry: tuple[str, list[Finding]]) -> tuple[int, int, str]:
        whose, group = entry
        return -sum(f.rule.severity is Severity.BREAKS for f in group), -len(group), whose

    return [(whose[:1].upper() + whose[1:], group) for whose, group in sorted(groups.items(), key=weight)]


def _readiness(readiness: Readiness) -> Iterator[str]:
    yield one_line(readiness.sentence)
    if not readiness.actions:
        return
    shown = readiness.actions[:_ACTS_SHOWN]
    yield f"What would get there, {len(readiness.actions):,} acts in all, first those that bring most:"
    for number, action in enumerate(shown, start=1):
        closes = action.broken + action.unproven + action.weak
        whose = action.whose[:1].upper() + action.whose[1:]
        yield one_line(f"  {number}. {action.words} ({whose}; closes {closes:,})")
    yield ""


def _counts(group: list[Finding]) -> str:
    breaks = sum(finding.rule.severity is Severity.BREAKS for finding in group)
    return f"{len(group):,} open, {breaks:,} of them on the chain itself"


def _changes(change: Comparison) -> Iterator[str]:
    yield (
        f"Since the last check: {len(change.new):,} new, {len(change.still_open):,} still open, "
        f"{len(change.closed):,} closed."
    )
    for key in change.closed[:_CLOSED_SHOWN]:
        yield one_line(f"    closed: {key.slug}, {key.kind} {key.subject}")
    if len(change.closed) > _CLOSED_SHOWN:
        yield f"    closed: {len(change.closed) - _CLOSED_SHOWN:,} more"
