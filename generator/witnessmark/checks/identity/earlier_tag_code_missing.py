"""A tag code of an earlier issue leads nowhere, or elsewhere, today."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import IssuedTag, Tag
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="earlier-tag-code-missing",
    question="Does every tag code of an earlier issue still stand for its section?",
    severity=Severity.BREAKS,
    closes="Put the row of the code back into records/tags.csv as the earlier issue had it; a code is never given up or "
    "given to another section.",
    whose="whoever builds the pack",
    what="Every code of the table of tag codes of earlier issues, looked up in today's tag register with the section "
    "that it stood for.",
    why="The tag on the pipe stays when the pack is issued anew. A code that leads nowhere, or to another pipe, misleads "
    "whoever stands at the leak.",
    example="Tag code F7KX2MR was given out for section LTHW-F-R2 in issue P01, and today's tag register does not have it.",
    passes="F7KX2MR stood for section LTHW-F-R2 in issue P01 and stands for it in records/tags.csv today.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every code that an earlier issue gave out."""
    issued = project.records.issued_tags
    if not issued:
        return _without_earlier_codes(project)
    today = {tag.code: tag for tag in project.records.tags}
    stands_for = {tag.code: tag.section_id for tag in project.records.tags}
    stands_for.update(workings.tags.new)
    by_code: dict[str, list[IssuedTag]] = defaultdict(list)
    for tag in issued:
        # Reading tells of a row whose code or issue is blank.
        if tag.code and tag.issue:
            by_code[tag.code].append(tag)
    findings, unsaid = [], []
    for code in sorted(by_code):
        rows = sorted(by_code[code], key=lambda row: (row.issue, row.section_id or ""))
        now = stands_for.get(code)
        wrong = next((row for row in rows if row.section_id is not None and row.section_id != now), None)
        if now is None:
            stood = rows[0].section_id
            message = (
                f"Tag code {code} was given out{f' for section {stood}' if stood else ''} in issue {rows[0].issue}, "
                "and today's tag register does not have it."
            )
            findings.append(_finding(project, rows, message, today.get(code)))
        elif wrong is not None:
            message = f"Tag code {code} stood for section {wrong.section_id} in issue {wrong.issue} and stands for section {now} today."
            findings.append(_finding(project, [wrong], message, today.get(code)))
        elif all(row.section_id is None for row in rows):
            unsaid.append(rows[0])
    if unsaid:
        findings.append(_unsaid(unsaid))
    return Answer(len(by_code), tuple(findings))


def _finding(project: Project, rows: list[IssuedTag], message: str, now: Tag | None) -> Finding:
    first = rows[0]
    sections = dict.fromkeys(row.section_id for row in rows if row.section_id in project.sections)
    if now is not None and now.section_id in project.sections:
        sections[now.section_id] = None
    return Finding(
        RULE,
        Outcome.FAIL,
        message,
        RULE.closes,
        Subject("tag", first.code),
        first.source.place("code"),
        (now.source.place("section_id"),) if now is not None else (),
        RULE.whose,
        tuple(section for section in sections if section is not None),
    )


def _unsaid(rows: list[IssuedTag]) -> Finding:
    codes = (
        f"tag code {rows[0].code}" if len(rows) == 1 else f"{len(rows)} tag codes, the first of them {rows[0].code},"
    )
    return Finding(
        RULE,
        Outcome.CANNOT_TELL,
        f"The table of tag codes of earlier issues does not say for which section {codes} stood.",
        "Write the section of each code as the earlier issue had it.",
        Subject("project", "tag codes of earlier issues"),
        rows[0].source.place("section_id"),
        tuple(row.source.place("section_id") for row in rows[1:20]),
        RULE.whose,
    )


def _without_earlier_codes(project: Project) -> Answer:
    number = project.settings.issue.number
    earlier = sorted({tag.first_issue for tag in project.records.tags if tag.first_issue} - {number})
    if not earlier:
        return Answer(0, ())
    first = min(
        (tag for tag in project.records.tags if tag.first_issue in earlier), key=lambda tag: (tag.first_issue, tag.code)
    )
    finding = Finding(
        RULE,
        Outcome.CANNOT_TELL,
        f"The tag register speaks of issue {' and '.join(earlier[:3])} before this issue {number}, and there is no row in the "
        "table of tag codes of earlier issues to hold today's codes against.",
        "Copy the tag codes of each earlier issue into records/issued_tags.csv.",
        Subject("project", "tag codes of earlier issues"),
        first.source.place("first_issue"),
        (),
        RULE.whose,
    )
    return Answer(1, (finding,))


CHECK = Check(RULE, run)
