"""Findings of this run beside those of the last one: new, still open, closed."""

import json
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from witnessmark.model.finding import Finding, Outcome

_VERSION = 1


class FindingKey(NamedTuple):
    """What makes two findings of two runs the same: rule, subject and heading. Rows move, and messages count joints."""

    slug: str
    kind: str
    subject: str
    heading: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """What became of the findings since the last run."""

    new: tuple[Finding, ...]
    still_open: tuple[Finding, ...]
    closed: tuple[FindingKey, ...]
    """In the order of their keys; several with one key stand several times."""


def key_of(finding: Finding) -> FindingKey:
    """The key of a finding."""
    heading = finding.location.heading if finding.location is not None else ""
    return FindingKey(finding.rule.slug, finding.subject.kind, finding.subject.id, heading)


def compare(earlier: Iterable[FindingKey], findings: Iterable[Finding]) -> Comparison:
    """Hold open findings against the keys of an earlier run; a waived finding is not open."""
    left = Counter(earlier)
    new, still_open = [], []
    for finding in findings:
        if finding.outcome is Outcome.WAIVED:
            continue
        key = key_of(finding)
        if left[key] > 0:
            left[key] -= 1
            still_open.append(finding)
        else:
            new.append(finding)
    return Comparison(tuple(new), tuple(still_open), tuple(sorted((+left).elements())))


def keys_text(findings: Iterable[Finding]) -> str:
    """The keys of open findings as JSON text, to be kept for the next run."""
    keys = sorted(key_of(finding) for finding in findings if finding.outcome is not Outcome.WAIVED)
    text = json.dumps({"version": _VERSION, "open": keys}, ensure_ascii=False, indent=0) + "\n"
    return text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def keys_from(text: str) -> list[FindingKey] | None:
    """The keys out of such a text; ``None`` where it is not one."""
    try:
        document = json.loads(text)
        if document["version"] != _VERSION:
            return None
        return [FindingKey(*(str(part) for part in key)) for key in document["open"]]
    except (ValueError, TypeError, KeyError, RecursionError):
        return None
