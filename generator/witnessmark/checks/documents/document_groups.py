"""Documents that share a fault are one finding a kind of document."""

from collections import defaultdict
from collections.abc import Iterable

from witnessmark.model.finding import Finding, Outcome, Rule, Subject
from witnessmark.model.records import Document

CARRIERS = frozenset({"tag", "facilities"})
"""Editions that people outside the audit read."""


def told_by_kind(rule: Rule, documents: Iterable[Document], field: str, words: tuple[str, str]) -> list[Finding]:
    """One finding that cannot be told, a kind; ``words`` complete 'Document D-1 …' and 'Documents D-1 and D-2 …'."""
    groups: dict[str, list[Document]] = defaultdict(list)
    for document in documents:
        groups[document.kind or ""].append(document)
    findings = []
    for kind, group in sorted(groups.items()):
        group.sort(key=lambda row: row.document_id)
        names = [row.document_id for row in group]
        shown = ", ".join(names[:5]) + (f" and {len(names) - 5} more" if len(names) > 5 else "")
        noun, verb = ("Document", words[0]) if len(names) == 1 else ("Documents", words[1])
        places = [row.source.place(field) for row in group]
        findings.append(
            Finding(
                rule,
                Outcome.CANNOT_TELL,
                f"{noun} {shown} ({kind.replace('_', ' ') or 'of no kind'}) {verb}.",
                rule.closes,
                Subject("document", names[0]),
                places[0],
                tuple(places[1:20]),
                rule.whose,
            )
        )
    return findings


def document_finding(rule: Rule, document: Document, message: str, field: str) -> Finding:
    """A fault of one document; ``field`` is the cell to look at first."""
    return Finding(
        rule,
        Outcome.FAIL,
        message,
        rule.closes,
        Subject("document", document.document_id),
        document.source.place(field),
        (),
        rule.whose,
    )


def by_id(documents: Iterable[Document]) -> list[Document]:
    """Documents in the order of their ids."""
    return sorted(documents, key=lambda row: row.document_id)
