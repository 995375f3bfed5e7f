"""Two ids of one table differ only in upper and lower case."""

from collections import defaultdict
from operator import attrgetter

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.contract import TABLE_NAMES, contract
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Record
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="ids-differ-only-in-case",
    question="Do all ids differ by more than upper and lower case?",
    severity=Severity.WEAKENS,
    closes="Renumber one of the two, or make them one id if they are the same thing.",
    whose="whoever keeps the records",
    what="Ids of one table that are the same once case is ignored.",
    why="Read aloud, written on a label or sorted by a spreadsheet, the two become one.",
    example="Section ids LTHW-F-R2 and LTHW-f-r2 differ only in upper and lower case.",
    passes="The sections are LTHW-F-R2 and LTHW-R-R2: read aloud they are still two.",
)

_CODES = ("tests", "tags", "issued_tags")
"""Tables whose key is no id that somebody chose."""


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every id of every table with ids."""
    examined, findings = 0, []
    for name in TABLE_NAMES:
        key = contract()[name].key
        if not key or name in _CODES:
            continue
        ids_there = set(map(attrgetter(key[0]), project.records.table(name)))
        # To ask one long text is far quicker than to fold each id.
        together = "".join(ids_there)
        if together.isascii() and (together.isupper() or together.islower()):
            examined += len(ids_there)
            continue
        plain = {record_id.casefold() for record_id in ids_there}
        examined += len(plain)
        if len(plain) == len(ids_there):
            continue
        spellings: dict[str, dict[str, Record]] = defaultdict(dict)
        for record in project.records.table(name):
            record_id: str = getattr(record, key[0])
            spellings[record_id.casefold()].setdefault(record_id, record)
        for records in spellings.values():
            if len(records) == 1:
                continue
            ids = sorted(records)
            places = [records[record_id].source.place(key[0]) for record_id in ids]
            title = contract()[name].field(key[0]).title
            findings.append(
                Finding(
                    RULE,
                    Outcome.FAIL,
                    f"{title} ids {' and '.join(ids)} differ only in upper and lower case.",
                    RULE.closes,
                    Subject(title.lower(), ids[1]),
                    places[1],
                    (places[0], *places[2:]),
                    RULE.whose,
                    tuple(ids) if name == "sections" else (),
                    tuple(ids) if name == "joints" else (),
                )
            )
    return Answer(examined, tuple(findings))


CHECK = Check(RULE, run)
