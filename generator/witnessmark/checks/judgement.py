"""What came of all checks, and the frame in which a check stands."""

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property

from witnessmark.model.finding import Finding, Outcome, Rule, in_order
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings


@dataclass(frozen=True, slots=True)
class Answer:
    """What a check returns: how many subjects it looked at, and every answer that is not a pass."""

    examined: int
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Check:
    """A check: its documentation, the checks it stands on, and its function."""

    rule: Rule
    run: Callable[[Project, Workings], Answer]
    requires: frozenset[str] = frozenset()
    """Slugs of checks that must not break before this one can say anything."""
    awaits: str = ""
    """Records that no table holds yet: the check is listed and cannot be asked."""


@dataclass(frozen=True, slots=True)
class CheckRun:
    """One check's result as counts. ``skipped`` says why it could not be asked; it is then no pass."""

    rule: Rule
    examined: int
    failed: int
    cannot_tell: int
    waived: int
    skipped: str = ""

    @property
    def passed(self) -> int:
        """Subjects that passed."""
        return max(0, self.examined - self.failed - self.cannot_tell - self.waived)

    @property
    def outcome(self) -> Outcome:
        """The worst of its answers; a check that was skipped or had nothing to look at cannot tell."""
        if self.failed:
            return Outcome.FAIL
        if self.skipped or self.cannot_tell or not self.examined:
            return Outcome.CANNOT_TELL
        return Outcome.WAIVED if self.waived else Outcome.PASS


@dataclass(frozen=True)
class Judgement:
    """All findings, of intake and of the checks, in the order in which to act on them."""

    runs: tuple[CheckRun, ...]
    findings: tuple[Finding, ...]

    @cached_property
    def by_section(self) -> dict[str, list[Finding]]:
        """Findings by the sections they concern."""
        grouped: dict[str, list[Finding]] = defaultdict(list)
        for finding in self.findings:
            for section_id in finding.section_ids:
                grouped[section_id].append(finding)
        return dict(grouped)

    @property
    def breaks_chain(self) -> bool:
        """Whether anything breaks the evidence chain."""
        return any(finding.breaks_chain for finding in self.findings)


def collect(runs: Iterable[CheckRun], findings: Iterable[Finding]) -> Judgement:
    """Put results together, findings in order."""
    return Judgement(tuple(runs), in_order(list(findings)))
