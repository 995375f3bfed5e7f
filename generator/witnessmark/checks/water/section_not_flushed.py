"""No flush of a section is recorded."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.water_log import CLEANING, flushings_of_section, wet_sections
from witnessmark.model.finding import Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="section-not-flushed",
    question="Is a flush recorded for every section that carries water?",
    severity=Severity.WEAKENS,
    closes="Write the flush into the flushing table with its day and its sections, or flush the section and record it.",
    whose="the contractor handing over",
    what="Sections that carry water, against dated flushes and chemical cleans of the flushing table. Gas, compressed air "
    "and condensate are not asked.",
    why="Filings, lubricant and sand that stay in the pipe wear pumps, block valves and feed corrosion.",
    example="System LTHW, section LTHW-F-R2: the records do not answer 'Is a flush recorded for every section that carries water?' "
    "Missing: a row of the flushing table that names it.",
    passes="Section LTHW-F-R2 stands in flush FL-003 of 10 March 2026.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every section that carries water."""
    sections = wet_sections(project)
    flushed = flushings_of_section(project)
    undated = {}
    for row in sorted(project.records.flushings, key=lambda row: row.flushing_id):
        if row.date is None and row.kind in CLEANING:
            undated.update(dict.fromkeys(row.section_ids, row))
    gaps = GapsBySystem(RULE, project, "section", RULE.closes)
    for wet in sections:
        if wet.id in flushed:
            continue
        blank = undated.get(wet.id)
        if blank is not None:
            reason, place = f"the day of flush {blank.flushing_id}", blank.source.place("date")
        elif not project.records.flushings:
            reason, place = "any row in the flushing table", wet.section.source.location
        else:
            reason, place = "a row of the flushing table that names it", wet.section.source.location
        gaps.add((wet.system.system_id,), wet.id, (reason,), (wet.id,), place)
    return Answer(len(sections), tuple(gaps.findings()))


CHECK = Check(RULE, run)
