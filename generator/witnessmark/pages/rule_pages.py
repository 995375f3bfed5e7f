"""Checks: the list with how each ended, and a reference page for each."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.checks.judgement import CheckRun
from witnessmark.model.finding import Outcome, Rule
from witnessmark.model.settings import ProjectSettings
from witnessmark.model.threshold import limit, thresholds
from witnessmark.pages.address import root_of
from witnessmark.pages.context import Context
from witnessmark.pages.finding_view import SEVERITY_WORDS, State, rule_link, state_of
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.words import clean


class CheckLine(NamedTuple):
    """A check in the list: the question, how it ended, and on how many subjects."""

    rule: Link
    question: str
    severity: str
    state: State
    examined: str
    passed: str
    failed: str
    cannot_tell: str
    waived: str
    note: str


class ThresholdLine(NamedTuple):
    """A number on which a check turns, as this project has it."""

    name: str
    value: str
    meaning: str
    standing: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChecksPage(PageView):
    """All checks."""

    lines: tuple[CheckLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RulePage(PageView):
    """The reference page of a check."""

    slug: str
    severity: str
    whose: str
    what: str
    why: str
    example: str
    passes: str
    thresholds: tuple[ThresholdLine, ...]
    closes: str
    line: CheckLine | None


def check_line(run: CheckRun) -> CheckLine:
    """A run as a line; one that had nothing to look at says so and is no pass."""
    note = clean(run.skipped)
    if not note and not run.examined and not run.failed:
        note = "There was nothing to look at."
    return CheckLine(
        rule_link(run.rule.slug),
        clean(run.rule.question),
        SEVERITY_WORDS[run.rule.severity],
        state_of(run.outcome),
        f"{run.examined:,}",
        f"{run.passed:,}",
        f"{run.failed:,}",
        f"{run.cannot_tell:,}",
        f"{run.waived:,}",
        note,
    )


def _thresholds(rule: Rule, settings: ProjectSettings) -> tuple[ThresholdLine, ...]:
    lines = []
    for name in rule.thresholds:
        known = thresholds()[name]
        value = limit(settings, name)
        default = "" if value == known.default else f" (default {known.default:g})"
        lines.append(ThresholdLine(name, f"{value:g} {known.unit}".strip() + default, known.meaning, known.standing))
    return tuple(lines)


def checks_page(context: Context) -> ChecksPage:
    """The list of checks, the worst outcome first."""
    order = [Outcome.FAIL, Outcome.CANNOT_TELL, Outcome.WAIVED, Outcome.PASS]
    runs = sorted(
        context.outcome.judgement.runs, key=lambda r: (order.index(r.outcome), r.rule.severity.rank, r.rule.slug)
    )
    return ChecksPage(
        frame=context.frame,
        address="checks.html",
        root="",
        title="Checks",
        crumbs=(Link("Home", "index.html"),),
        lines=tuple(check_line(run) for run in runs),
    )


def rule_pages(context: Context) -> Iterator[RulePage]:
    """A page for every check that ran and every rule that a finding names."""
    runs = {run.rule.slug: run for run in context.outcome.judgement.runs}
    rules: dict[str, Rule] = {slug: run.rule for slug, run in runs.items()}
    for finding in context.outcome.judgement.findings:
        rules.setdefault(finding.rule.slug, finding.rule)
    for slug in sorted(rules):
        rule = rules[slug]
        address = rule_link(slug).address
        yield RulePage(
            frame=context.frame,
            address=address,
            root=root_of(address),
            title=clean(rule.question),
            crumbs=(Link("Home", "index.html"), Link("Checks", "checks.html")),
            slug=slug,
            severity=SEVERITY_WORDS[rule.severity],
            whose=clean(rule.whose),
            what=clean(rule.what),
            why=clean(rule.why),
            example=clean(rule.example),
            passes=clean(rule.passes),
            thresholds=_thresholds(rule, context.outcome.project.settings),
            closes=clean(rule.closes),
            line=check_line(runs[slug]) if slug in runs else None,
        )
