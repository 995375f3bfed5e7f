"""A valve is rated for less than the sections that it shuts."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.section_service import in_place
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Section, Valve
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="valve-rated-too-low",
    question="Is every valve rated for the pressure and the heat of its sections?",
    severity=Severity.BREAKS,
    closes="Change the valve, or correct its rating from the marking on its body.",
    whose="the designer",
    what="Rating of every valve in the valve table against the design pressure and the upset temperature of the sections "
    "that it belongs to, where none is recorded the operating ones. A valve without a figure of its own is judged by the "
    "ratings table, with its section.",
    why="The weakest body in a section gives way first, and a valve is touched when pressure is highest.",
    example="Valve V-12 is rated 6 bar; section H-2 has a design pressure of 8 bar.",
    passes="Valve V-12 is rated 16 bar up to 110 °C; section H-2 has 8 bar and 95 °C.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every valve with a rating of its own."""
    examined = 0
    findings = []
    asked: dict[tuple[str, str], float | None] = {}
    for valve in project.records.valves:
        sections = [project.sections[name] for name in valve.section_ids if name in project.sections]
        sections = [section for section in sections if in_place(section)]
        if not sections or (valve.pressure_rating_bar is None and valve.max_temperature_c is None):
            continue
        examined += 1
        for held, field, unit, asks, words in (
            (
                valve.pressure_rating_bar,
                "pressure_rating_bar",
                "bar",
                ("max_design_pressure_bar", "max_operating_pressure_bar"),
                "a design pressure",
            ),
            (
                valve.max_temperature_c,
                "max_temperature_c",
                "°C",
                ("upset_temperature_c", "max_temperature_c"),
                "a highest temperature",
            ),
        ):
            if held is None:
                continue
            over = []
            for section in sections:
                key = section.section_id, field
                if key not in asked:
                    asked[key] = _first(project, section, asks)
                value = asked[key]
                if value is not None and value > held + 1e-9:
                    over.append((value, section))
            if over:
                value, section = max(over, key=lambda each: (each[0], each[1].section_id))
                up_to = "up to " if unit == "°C" else ""
                message = (
                    f"Valve {valve.valve_id} is rated {up_to}{held:g} {unit}; section {section.section_id} has {words} of "
                    f"{value:g} {unit}."
                )
                findings.append(_finding(valve, field, message, [s for _, s in over]))
    return Answer(examined, tuple(findings))


def _first(project: Project, section: Section, fields: tuple[str, ...]) -> float | None:
    """The first of the fields that section or system records."""
    system = project.systems.get(section.system_id) if section.system_id is not None else None
    for field in fields:
        for record in (section, system):
            value: float | None = getattr(record, field, None)
            if value is not None:
                return value
    return None


def _finding(valve: Valve, field: str, message: str, sections: list[Section]) -> Finding:
    return Finding(
        RULE,
        Outcome.FAIL,
        message,
        RULE.closes,
        Subject("valve", valve.valve_id),
        valve.source.place(field),
        tuple(section.source.location for section in sections[:20]),
        RULE.whose,
        tuple(dict.fromkeys(section.section_id for section in sections)),
    )


CHECK = Check(RULE, run)
