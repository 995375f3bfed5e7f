"""A section is to carry more than its weakest component is rated for."""

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.rating.sections_alike import SectionsAlike
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="pressure-above-rating",
    question="Is every section rated for its pressures at its temperatures?",
    severity=Severity.BREAKS,
    closes="Change the component or the limit; declare the ratings of fittings, seals and valves in the ratings table.",
    whose="the designer",
    what="Operating pressure at the highest and the lowest temperature, and design pressure at the upset temperature, "
    "against the least of the ratings of tube, fittings, seals, valves, instruments and hoses, at the lowest point.",
    why="A section carries what its weakest component carries, and ratings fall as it gets hotter.",
    example="Section H-2: At 95 °C (upset) valve V-12, 22 mm is rated 6 bar; the pressure is 8 bar.",
    passes="Every component of section H-2 is rated at least 10 bar at 95 °C; its design pressure is 6 bar.",
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every section."""
    gaps = GapsBySystem(RULE, project, "section")
    alike = SectionsAlike(RULE)
    for section in project.records.sections:
        rating = workings.ratings[section.section_id]
        bad = [state for state in rating.states if state.outcome is Outcome.FAIL]
        if bad:
            places = [
                given.location
                for state in bad
                for given in (*state.pressure_bar.inputs, *state.rating_bar.inputs)
                if given.location is not None
            ]
            alike.add(section, " ".join(state.sentence for state in bad), places)
        elif rating.outcome is Outcome.CANNOT_TELL:
            missing = [
                reason
                for state in rating.states
                for part in (state.temperature_c, state.pressure_bar, state.rating_bar)
                for reason in part.missing
            ]
            gaps.add(
                (section.system_id,) if section.system_id else (),
                section.section_id,
                missing,
                (section.section_id,),
                section.source.location,
            )
    return Answer(len(project.records.sections), (*alike.findings(), *gaps.findings()))


CHECK = Check(RULE, run)
