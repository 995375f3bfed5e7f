"""Findings as a compiler prints them: ``file:row: severity: message``, and what closes it below."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from witnessmark.checks.judgement import Judgement
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Severity
from witnessmark.model.project import SourceAccount

FIRST_FEW = 5
_Group = tuple[str, str, str, str, str]


def finding_lines(findings: Iterable[Finding], *, show_all: bool, new: frozenset[int] = frozenset()) -> Iterator[str]:
    """Lines for people; of many findings of one rule in one column the first few stand for all, unless asked.

    ``new`` holds the identities of findings that the last check did not have.
    """
    findings = list(findings)
    sizes = Counter(_group(finding) for finding in findings)
    seen: Counter[_Group] = Counter()
    for finding in findings:
        group = _group(finding)
        seen[group] += 1
        # A line that hides a single finding would be as long as the finding.
        if show_all or seen[group] <= FIRST_FEW or sizes[group] == FIRST_FEW + 1:
            yield from _finding(finding, new=id(finding) in new)
        elif seen[group] == FIRST_FEW + 1:
            yield f"… and {sizes[group] - FIRST_FEW:,} more of {finding.rule.slug}{_where(finding)} (--all shows them)"


def account_line(accounts: Iterable[SourceAccount]) -> str:
    """'Rows in 2,431 = used 2,390 + set aside 41'."""
    accounts = list(accounts)
    rows_in = sum(account.rows_in for account in accounts)
    used = sum(account.rows_used for account in accounts)
    aside = sum(account.rows_set_aside for account in accounts)
    sign = "=" if rows_in == used + aside else "≠"
    return f"Rows in {rows_in:,} {sign} used {used:,} + set aside {aside:,}"


def summary_line(judgement: Judgement) -> str:
    """How many findings of which weight there are, and what could not be asked, in words."""
    findings = judgement.findings
    skipped = sum(bool(run.skipped) for run in judgement.runs)
    unasked = f" {skipped:,} of {len(judgement.runs):,} questions could not be asked." if skipped else ""
    waived = sum(finding.outcome is Outcome.WAIVED for finding in findings)
    open_ones = [finding for finding in findings if finding.outcome is not Outcome.WAIVED]
    if not findings:
        return f"No findings: what was asked, the records show.{unasked}"
    parts: list[str] = []
    for severity, words in _SEVERITY_WORDS.items():
        of_it = [finding for finding in open_ones if finding.rule.severity is severity]
        unknown = sum(finding.outcome is Outcome.CANNOT_TELL for finding in of_it)
        parts.append(f"{len(of_it):,} {words[len(of_it) != 1]}" + (f" ({unknown:,} cannot tell)" if unknown else ""))
    text = f"{len(open_ones):,} finding{'' if len(open_ones) == 1 else 's'}: {', '.join(parts)}"
    return text + (f"; {waived:,} waived" if waived else "") + f".{unasked}"


_SEVERITY_WORDS = {
    Severity.BREAKS: ("breaks the evidence chain", "break the evidence chain"),
    Severity.WEAKENS: ("weakens it", "weaken it"),
    Severity.TIDY: ("for tidiness", "for tidiness"),
}


def _finding(finding: Finding, *, new: bool) -> Iterator[str]:
    answer = "" if finding.outcome is Outcome.FAIL else f" ({finding.outcome.value})"
    place = finding.location
    # The column follows behind: editors jump to file:row, and know no column letters.
    where = str(replace(place, column="")) if place else f"{finding.subject.kind} {finding.subject.id}"
    column = f", column {place.column}" if place and place.column else ""
    mark = " (new)" if new else ""
    yield one_line(
        f"{where}: {finding.rule.severity.value}{answer}: {finding.message} [{finding.rule.slug}{column}]{mark}"
    )
    if finding.waiver is not None:
        waiver = finding.waiver
        until = f", until {day_words(waiver.expires_on)}" if waiver.expires_on else ""
        by = f"by {waiver.approved_by_role} on {day_words(waiver.approved_on)}{until}"
        yield one_line(f"    accepted: {waiver.concession_id}, {by}{f': {waiver.reason}' if waiver.reason else ''}")
        return
    yield one_line(f"    closes: {finding.remedy}")
    others = [other for other in dict.fromkeys(map(str, finding.related)) if other != str(place)]
    for other in others[:FIRST_FEW]:
        yield one_line(f"    see: {other}")
    if len(others) > FIRST_FEW:
        yield f"    see: {len(others) - FIRST_FEW:,} more places"


def one_line(text: str) -> str:
    """Text that stays on its line and moves no cursor: control and direction marks become U+FFFD."""
    if text.isprintable():
        return text
    return "".join(
        " " if each in "\t\n\r\v\f\x85\u2028\u2029" else each if each.isprintable() or each == "\u00a0" else "\ufffd"
        for each in text
    )


def _group(finding: Finding) -> _Group:
    place = finding.location
    if place is None:
        return finding.rule.slug, finding.outcome.value, "", "", ""
    return finding.rule.slug, finding.outcome.value, place.file, place.sheet, place.column


def _where(finding: Finding) -> str:
    place = finding.location
    if place is None:
        return ""
    sheet = f" [{place.sheet}]" if place.sheet else ""
    return one_line(f" in {place.file}{sheet}" + (f", column {place.column}" if place.column else ""))
