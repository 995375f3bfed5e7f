"""The name of a person stands in a cell that others than the auditor are shown."""

from operator import attrgetter

from witnessmark.checks.documents.named_people import NamedPeople, whom
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.contract import Edition, contract
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Record
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="person-named-in-records",
    question="Are the texts that the tag and the facilities edition show free of names of people?",
    severity=Severity.BREAKS,
    closes="Write the operative's code or the role into the cell instead of the name, and build again.",
    whose="whoever keeps the records",
    what="Every text cell that the contract shows outside the audit edition, against names and other spellings of the "
    "operatives table, in either order. Titles of documents and initials are not looked for here.",
    why="Somebody writes 'ask Ada Press for the key' into a location, and every tag in the corridor says so.",
    example="Column location of the valves table, which the tag edition shows, holds the name of operative OP-03 in 1 cell.",
    passes="The location of V-2-014 says 'key with the duty engineer'.",
)
_OWN_QUESTION = frozenset({"documents", "operatives"})


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every text that is shown outside the audit edition; one finding a column."""
    people = NamedPeople(project)
    examined = 0
    findings = []
    for name, table in contract().items():
        if name in _OWN_QUESTION:
            continue
        records = project.records.table(name)
        for field in table.fields:
            if field.reads != "text" or field.visibility is Edition.AUDIT:
                continue
            value = attrgetter(field.name)
            texts = set(map(value, records)) - {None}
            examined += len(texts)
            told = {text: codes for text in texts if (codes := people.codes_in(text))}
            if told:
                named = [(record, told[text]) for record in records if (text := value(record)) in told]
                findings.append(_finding(name, field.name, field.visibility, named))
    return Answer(examined, tuple(findings))


def _finding(table: str, field: str, edition: Edition, named: list[tuple[Record, list[str]]]) -> Finding:
    places = sorted(record.source.place(field) for record, _ in named)
    codes = sorted({code for _, codes in named for code in codes})
    cells = "1 cell" if len(places) == 1 else f"{len(places):,} cells"
    return Finding(
        RULE,
        Outcome.FAIL,
        f"Column {field.replace('_', ' ')} of the {table.replace('_', ' ')} table, which the {edition.value} edition shows, "
        f"holds the name of {whom(codes)} in {cells}.",
        RULE.closes,
        Subject("table", table),
        places[0],
        tuple(places[1:20]),
        RULE.whose,
    )


CHECK = Check(RULE, run)
