"""A check in plain words on the terminal: the same text as its reference page."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from difflib import get_close_matches

from witnessmark.checks.registry import RULES
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.threshold import thresholds

_WEIGHTS = {
    Severity.BREAKS: "A fail breaks the evidence chain.",
    Severity.WEAKENS: "A fail weakens the evidence chain.",
    Severity.TIDY: "A fail is a matter of tidiness.",
}
_WIDTH = 88


class UnknownCheck(Exception):
    """No check has that name."""

    def __init__(self, slug: str) -> None:
        near = get_close_matches(slug, [rule.slug for rule in RULES], n=3)
        hint = f"did you mean {' or '.join(near)}?" if near else "the names stand in square brackets behind findings."
        super().__init__(f"there is no check '{slug}'; {hint}")


def explanation(slug: str) -> Iterator[str]:
    """Lines that explain the check. Raises ``UnknownCheck``."""
    rule = next((each for each in RULES if each.slug == slug), None)
    if rule is None:
        raise UnknownCheck(slug)
    yield rule.slug
    yield from _paragraphs(rule)


def _paragraphs(rule: Rule) -> Iterator[str]:
    yield from _wrapped(rule.question)
    yield ""
    yield from _wrapped(f"{_WEIGHTS[rule.severity]} Whose job, as a rule: {rule.whose}.")
    parts = [("What it checks", rule.what), ("Why it matters", rule.why)]
    for name in rule.thresholds:
        known = thresholds()[name]
        number = f"{known.default:g} {'' if known.unit == '1' else known.unit}".strip()
        parts.append(
            (f"Threshold {name}", f"{number} unless project.yml says otherwise ({known.standing}). {known.meaning}")
        )
    parts.append(("Example of a finding", rule.example))
    if rule.passes:
        parts.append(("Example that passes", rule.passes))
    parts.append(("Remedy", rule.closes))
    for title, text in parts:
        yield ""
        yield title
        yield from _wrapped(text, "  ")


def _wrapped(text: str, lead: str = "") -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=lead, subsequent_indent=lead, break_on_hyphens=False)
