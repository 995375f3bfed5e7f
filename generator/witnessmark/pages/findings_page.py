"""All findings, grouped by the check that made them, in leaves; for the audit edition."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.model.finding import Finding
from witnessmark.pages.address import LEAF_ROWS, leaf_address, leaf_count, root_of
from witnessmark.pages.context import Context
from witnessmark.pages.finding_view import SEVERITY_WORDS, FindingView, State, finding_view, rule_link, state_of
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.register import Leaves, leaves_of
from witnessmark.pages.words import clean


class FindingGroup(NamedTuple):
    """Findings of one check on one leaf."""

    anchor: str
    question: str
    severity: str
    rule: Link
    findings: tuple[FindingView, ...]


class FindingCount(NamedTuple):
    """A check with the number of its findings, and where they begin."""

    question: str
    address: str
    severity: str
    states: tuple[tuple[State, str], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingsPage(PageView):
    """One leaf of the findings."""

    counts: tuple[FindingCount, ...]
    groups: tuple[FindingGroup, ...]
    leaves: Leaves


def _counts(findings: list[Finding]) -> tuple[FindingCount, ...]:
    first: dict[str, int] = {}
    groups: dict[str, list[Finding]] = {}
    for index, finding in enumerate(findings):
        first.setdefault(finding.rule.slug, index)
        groups.setdefault(finding.rule.slug, []).append(finding)
    result = []
    for slug, group in groups.items():
        states: dict[State, int] = {}
        for finding in group:
            state = state_of(finding.outcome)
            states[state] = states.get(state, 0) + 1
        leaf = leaf_address("findings", first[slug] // LEAF_ROWS + 1)
        rule = group[0].rule
        result.append(
            FindingCount(
                clean(rule.question),
                f"{leaf}#{slug}",
                SEVERITY_WORDS[rule.severity],
                tuple((state, f"{number:,}") for state, number in states.items()),
            )
        )
    return tuple(result)


def findings_pages(context: Context) -> Iterator[FindingsPage]:
    """Every leaf, the worst first; findings of one check stand together."""
    findings = sorted(context.outcome.judgement.findings, key=lambda f: (f.rule.severity.rank, f.rule.slug))
    counts = _counts(findings)
    for leaf in range(1, leaf_count(len(findings)) + 1):
        part = findings[(leaf - 1) * LEAF_ROWS : leaf * LEAF_ROWS]
        grouped: dict[str, list[Finding]] = {}
        for finding in part:
            grouped.setdefault(finding.rule.slug, []).append(finding)
        address = leaf_address("findings", leaf)
        yield FindingsPage(
            frame=context.frame,
            address=address,
            root=root_of(address),
            title="Findings" if leaf == 1 else f"Findings, leaf {leaf}",
            crumbs=(Link("Home", "index.html"),),
            counts=counts if leaf == 1 else (),
            groups=tuple(
                FindingGroup(
                    slug,
                    clean(group[0].rule.question),
                    SEVERITY_WORDS[group[0].rule.severity],
                    rule_link(slug),
                    tuple(finding_view(finding) for finding in group),
                )
                for slug, group in grouped.items()
            ),
            leaves=leaves_of("findings", leaf, len(findings), "finding"),
        )
