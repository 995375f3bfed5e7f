"""One section has two tag codes."""

from collections import defaultdict

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Tag
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="section-with-two-tag-codes",
    question="Has every section one tag code?",
    severity=Severity.BREAKS,
    closes="Look which code hangs on the section; put records/tags.csv back as the build wrote it, or print the tag of the "
    "section anew, with the code that the register has first.",
    whose="whoever builds the pack",
    what="Sections that stand in more than one row of records/tags.csv.",
    why="The build prints one code a section. A second code hangs on a tag that no list of tags knows, or on none.",
    example="Section LTHW-F-R2 has two tag codes, F7KX2MR and H6FK9YW.",
    passes="Section LTHW-F-R2 stands in one row of records/tags.csv, with the code F7KX2MR.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every section of the tag register; codes made just now go to sections that have none."""
    rows: dict[str, list[Tag]] = defaultdict(list)
    for tag in project.records.tags:
        rows[tag.section_id].append(tag)
    findings = [
        _finding(project, section_id, tags) for section_id, tags in rows.items() if section_id and len(tags) > 1
    ]
    findings += [_without_section(tags) for section_id, tags in rows.items() if not section_id]
    return Answer(len(rows) + len(workings.tags.new), tuple(findings))


def _without_section(tags: list[Tag]) -> Finding:
    codes = sorted(tag.code for tag in tags)
    which = f"code {codes[0]} names" if len(codes) == 1 else f"{len(codes):,} codes, the first of them {codes[0]}, name"
    places = sorted(tag.source.place("section_id") for tag in tags)
    return Finding(
        RULE,
        Outcome.CANNOT_TELL,
        f"In the tag register {which} no section.",
        "Put records/tags.csv back as the build wrote it, with the section of each code.",
        Subject("tag", codes[0]),
        places[0],
        tuple(places[1:20]),
        RULE.whose,
    )


def _finding(project: Project, section_id: str, tags: list[Tag]) -> Finding:
    codes = sorted(tag.code for tag in tags)
    count = "two" if len(codes) == 2 else str(len(codes))
    places = sorted(tag.source.place("section_id") for tag in tags)
    return Finding(
        RULE,
        Outcome.FAIL,
        f"Section {section_id} has {count} tag codes, {', '.join(codes[:-1])} and {codes[-1]}.",
        RULE.closes,
        Subject("section", section_id),
        places[-1],
        tuple(places[:-1]),
        RULE.whose,
        (section_id,) if section_id in project.sections else (),
    )


CHECK = Check(RULE, run)
