"""A code of the tag register is not one that was ever made."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.engineering.check_character import is_valid
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.tag_codes import ALPHABET
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="tag-code-miswritten",
    question="Does every code of the tag register end in its check character?",
    severity=Severity.BREAKS,
    closes="Put the row of records/tags.csv back as the build wrote it; never edit that file.",
    whose="whoever builds the pack",
    what="The check character (ISO/IEC 7064, MOD 37,36) and alphabet of every code in records/tags.csv.",
    why="Tags on the wall carry these codes for ever. A changed code leads the tag nowhere.",
    example="Tag code F7KX2RM of section LTHW-F-R2 has a wrong check character or a character no code uses.",
    passes="F7KX2MR stands in records/tags.csv as the build wrote it.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every registered code; codes made just now are sound by the way they are made."""
    findings = [
        Finding(
            RULE,
            Outcome.FAIL,
            f"Tag code {tag.code} of section {tag.section_id} has a wrong check character or a character no code uses.",
            RULE.closes,
            Subject("tag", tag.code),
            tag.source.place("code"),
            whose=RULE.whose,
            section_ids=(tag.section_id,) if tag.section_id in project.sections else (),
        )
        for tag in project.records.tags
        if set(tag.code) - set(ALPHABET) or not is_valid(tag.code)
    ]
    return Answer(len(project.records.tags) + len(workings.tags.new), tuple(findings))


CHECK = Check(RULE, run)
