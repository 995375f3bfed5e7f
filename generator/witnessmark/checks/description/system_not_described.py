"""A system lacks what every page about it must say."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="system-not-described",
    question="Is it recorded what every system carries, how hot, at what pressure?",
    severity=Severity.WEAKENS,
    closes="Fill in the cells named, in the systems table.",
    whose="the designer",
    what="Service, medium, maximum operating pressure and highest temperature of every system.",
    why="These are the first words on the page behind every tag.",
    example="System CHW-F has no highest temperature in the records.",
    passes="System CHW-F carries treated water at up to 3 bar and 18 °C.",
)

_NEEDED = (
    ("service", "service"),
    ("medium", "medium"),
    ("max_operating_pressure_bar", "maximum operating pressure"),
    ("max_temperature_c", "highest temperature"),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every system."""
    findings = []
    for system in project.records.systems:
        missing = [(name, words) for name, words in _NEEDED if getattr(system, name) is None]
        if not missing:
            continue
        findings.append(
            Finding(
                RULE,
                Outcome.CANNOT_TELL,
                f"System {system.system_id} has no {', no '.join(words for _, words in missing)} in the records.",
                RULE.closes,
                Subject("system", system.system_id),
                system.source.place(missing[0][0]),
                tuple(system.source.place(name) for name, _ in missing[1:]),
                RULE.whose,
                tuple(s.section_id for s in project.sections_of_system.get(system.system_id, [])),
            )
        )
    return Answer(len(project.records.systems), tuple(findings))


CHECK = Check(RULE, run)
