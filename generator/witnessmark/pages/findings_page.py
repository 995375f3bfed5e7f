"""All findings by whose job they are, and within that by check; in leaves, for the audit edition."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import NamedTuple

from witnessmark.model.finding import Finding, Outcome, Severity
from witnessmark.pages.address import LEAF_ROWS, leaf_address, leaf_count, root_of
from witnessmark.pages.context import Context
from witnessmark.pages.finding_view import SEVERITY_WORDS, FindingView, State, rule_link, state_of
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.register import Leaves, leaves_of
from witnessmark.pages.words import clean, sentence_start

ACCEPTED = "Accepted by concession"


class CheckGroup(NamedTuple):
    """Findings of one check."""

    anchor: str
    question: str
    severity: str
    rule: Link
    findings: tuple[FindingView, ...]


class JobGroup(NamedTuple):
    """Findings that one role has to close, by check."""

    anchor: str
    whose: str
    checks: tuple[CheckGroup, ...]


class CheckCount(NamedTuple):
    """A check with the number of its findings, and where they begin."""

    question: str
    address: str
    severity: str
    states: tuple[tuple[State, str], ...]


class JobCount(NamedTuple):
    """What one role has to close."""

    whose: str
    address: str
    number: str
    checks: tuple[CheckCount, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FindingsPage(PageView):
    """One leaf of the findings."""

    jobs: tuple[JobCount, ...]
    groups: tuple[JobGroup, ...]
    leaves: Leaves


class _Place(NamedTuple):
    whose: str
    finding: Finding


def _in_order(findings: tuple[Finding, ...]) -> list[_Place]:
    """Whoever has most on the chain itself first; within a job the gravest check first; accepted departures last."""
    jobs: dict[str, list[Finding]] = {}
    accepted = []
    for finding in findings:
        if finding.outcome is Outcome.WAIVED:
            accepted.append(finding)
        else:
            jobs.setdefault(sentence_start(clean(finding.whose or finding.rule.whose)), []).append(finding)

    def weight(whose: str) -> tuple[int, int, str]:
        group = jobs[whose]
        return -sum(f.rule.severity is Severity.BREAKS for f in group), -len(group), whose

    ordered = [(whose, jobs[whose]) for whose in sorted(jobs, key=weight)]
    if accepted:
        ordered.append((ACCEPTED, accepted))
    return [
        _Place(whose, finding)
        for whose, group in ordered
        for finding in sorted(group, key=lambda f: (f.rule.severity.rank, f.rule.slug))
    ]


def _job_anchor(places: list[_Place], whose: str) -> str:
    return f"job-{list(dict.fromkeys(place.whose for place in places)).index(whose) + 1}"


def _counts(places: list[_Place]) -> tuple[JobCount, ...]:
    first: dict[tuple[str, str], int] = {}
    for index, (whose, finding) in enumerate(places):
        first.setdefault((whose, finding.rule.slug), index)
    counts = []
    for whose, job in groupby(places, key=lambda place: place.whose):
        job_places = list(job)
        anchor = _job_anchor(places, whose)
        checks = []
        for slug, group in groupby(job_places, key=lambda place: place.finding.rule.slug):
            of_check = [place.finding for place in group]
            states: dict[State, int] = {}
            for finding in of_check:
                state = state_of(finding.outcome)
                states[state] = states.get(state, 0) + 1
            leaf = leaf_address("findings", first[whose, slug] // LEAF_ROWS + 1)
            rule = of_check[0].rule
            checks.append(
                CheckCount(
                    clean(rule.question),
                    f"{leaf}#{anchor}-{slug}",
                    SEVERITY_WORDS[rule.severity],
                    tuple((state, f"{number:,}") for state, number in states.items()),
                )
            )
        begins = leaf_address("findings", first[whose, job_places[0].finding.rule.slug] // LEAF_ROWS + 1)
        counts.append(JobCount(whose, f"{begins}#{anchor}", f"{len(job_places):,}", tuple(checks)))
    return tuple(counts)


def _groups(context: Context, places: list[_Place], part: list[_Place]) -> Iterator[JobGroup]:
    for whose, job in groupby(part, key=lambda place: place.whose):
        anchor = _job_anchor(places, whose)
        checks = []
        for slug, group in groupby(list(job), key=lambda place: place.finding.rule.slug):
            of_check = [place.finding for place in group]
            rule = of_check[0].rule
            checks.append(
                CheckGroup(
                    f"{anchor}-{slug}",
                    clean(rule.question),
                    SEVERITY_WORDS[rule.severity],
                    rule_link(slug),
                    tuple(context.finding_view(finding) for finding in of_check),
                )
            )
        yield JobGroup(anchor, whose, tuple(checks))


def findings_pages(context: Context) -> Iterator[FindingsPage]:
    """Every leaf; findings of one job stand together, and within it those of one check."""
    places = _in_order(context.outcome.judgement.findings)
    counts = _counts(places)
    for leaf in range(1, leaf_count(len(places)) + 1):
        part = places[(leaf - 1) * LEAF_ROWS : leaf * LEAF_ROWS]
        address = leaf_address("findings", leaf)
        yield FindingsPage(
            frame=context.frame,
            address=address,
            root=root_of(address),
            title="Findings" if leaf == 1 else f"Findings, leaf {leaf}",
            crumbs=(Link("Home", "index.html"),),
            jobs=counts if leaf == 1 else (),
            groups=tuple(_groups(context, places, part)),
            leaves=leaves_of("findings", leaf, len(places), "finding"),
        )
