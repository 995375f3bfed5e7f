"""The name of a person stands in the file name or title of a document that others than the auditor get."""

import re
import unicodedata

from witnessmark.checks.documents.document_groups import CARRIERS, by_id
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Document
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="person-named-in-file",
    question="Are file names and titles outside the audit edition free of names of people?",
    severity=Severity.BREAKS,
    closes="Name the file and the document by its number or the operative's code, or give its row the edition 'audit'; then "
    "build again.",
    whose="whoever keeps the records",
    what="File names and titles of documents for the tag or the facilities edition, against names and other spellings of the "
    "operatives table, in either order, whatever stands between the words. Initials are not looked for: two letters occur "
    "everywhere.",
    why="Whoever scans a tag in a corridor has no business knowing who worked there.",
    example="The file name of document DOC-022, for the facilities edition, holds the name of operative OP-03.",
    passes="Document DOC-022 is called 'Training certificate OP-03' and is for the audit edition.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every document for the tag or the facilities edition."""
    asked = [row for row in by_id(project.records.documents) if row.edition in CARRIERS]
    people = _people(project) if asked else {}
    sizes = sorted({len(words) for words in people})
    findings = []
    for row in asked:
        for field, text in (("file", row.file), ("title", row.title)):
            codes = _named(_words(text or ""), people, sizes)
            if codes:
                findings.append(_finding(row, field, codes))
                break
    return Answer(len(asked), tuple(findings))


def _people(project: Project) -> dict[tuple[str, ...], str]:
    """Words of every full name and other spelling to the code; a spelling of one short word says nothing."""
    people: dict[tuple[str, ...], str] = {}
    for operative in sorted(project.records.operatives, key=lambda row: row.operative_id):
        for spelling in (operative.name or "", *(operative.also_written or "").split(";")):
            words = _words(spelling)
            if len([word for word in words if len(word) > 1]) > 1:
                people.setdefault(tuple(sorted(words)), operative.operative_id)
    return people


_CAPITAL_INSIDE = re.compile(r"(?<=[a-zß-ÿ])(?=[A-ZÀ-Þ])")
_WORD = re.compile(r"[^\W\d_]+")


def _words(text: str) -> list[str]:
    """Words without accents and capitals; 'AdaPress_cert.pdf' is four of them."""
    spaced = _CAPITAL_INSIDE.sub(" ", text)
    if not spaced.isascii():
        spaced = "".join(c for c in unicodedata.normalize("NFKD", spaced) if not unicodedata.combining(c))
    return _WORD.findall(spaced.casefold())


def _named(words: list[str], people: dict[tuple[str, ...], str], sizes: list[int]) -> list[str]:
    """Codes of the people whose words stand side by side, in any order."""
    found: set[str] = set()
    for size in sizes:
        for start in range(len(words) - size + 1):
            code = people.get(tuple(sorted(words[start : start + size])))
            if code is not None:
                found.add(code)
    return sorted(found)


def _finding(row: Document, field: str, codes: list[str]) -> Finding:
    what = "file name" if field == "file" else "title"
    whom = f"operative {codes[0]}" if len(codes) == 1 else f"operatives {', '.join(codes)}"
    return Finding(
        RULE,
        Outcome.FAIL,
        f"The {what} of document {row.document_id}, for the {row.edition} edition, holds the name of {whom}.",
        RULE.closes,
        Subject("document", row.document_id),
        row.source.place(field),
        (row.source.place("edition"),),
        RULE.whose,
    )


CHECK = Check(RULE, run)
