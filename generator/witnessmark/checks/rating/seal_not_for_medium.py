"""A seal does not suit what flows past it, or its temperature."""

import re

from witnessmark.checks.by_system import GapsBySystem
from witnessmark.checks.joint_groups import NOT_THERE
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.rating.sections_alike import SectionsAlike
from witnessmark.model.finding import Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.workings.seal_media import SealAnswer
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="seal-not-for-medium",
    question="Does every seal suit its medium and its temperatures?",
    severity=Severity.BREAKS,
    closes="Change the seal; or record the maker's declaration for this medium as a rating of the seal.",
    whose="the designer",
    what="Seals of the section and of its joints against the medium of its system and its lowest, highest and upset "
    "temperature, by an editable table; a rating of the seal that names the medium counts as declared.",
    why="Oil swells EPDM until it leaks; heat hardens any seal.",
    example="Section H-2: EPDM in treated water is for -20 °C to 110 °C; the upset temperature is 130 °C.",
    passes="EPDM on treated water between 10 and 80 °C, 95 °C in a fault.",
)

_GAP = (
    "Write medium and temperatures into the row of the system, and the seal into the row of the section; where the medium asks "
    "for a declaration, record the maker's as a rating of the seal, which names the medium."
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every section."""
    gaps = GapsBySystem(RULE, project, "section", _GAP)
    alike = SectionsAlike(RULE)
    for section in project.records.sections:
        seals = workings.ratings[section.section_id].seals
        bad = [seal for seal in seals if seal.outcome is Outcome.FAIL]
        if bad:
            names = {seal.seal for seal in bad}
            joints = [
                joint.joint_id
                for joint in project.joints_of_section.get(section.section_id, ())
                if (joint.seal or section.seal) in names and joint.status not in NOT_THERE
            ]
            places = [seal.location for seal in bad if seal.location is not None]
            alike.add(section, " ".join(seal.sentence for seal in bad), places, joints)
            continue
        unknown = [seal for seal in seals if seal.outcome is Outcome.CANNOT_TELL]
        if unknown:
            gaps.add(
                (section.system_id,) if section.system_id else (),
                section.section_id,
                [_missing(seal) for seal in unknown],
                (section.section_id,),
                unknown[0].location or section.source.location,
            )
    return Answer(len(project.records.sections), (*alike.findings(), *gaps.findings()))


def _missing(seal: SealAnswer) -> str:
    sentence = re.sub(" (is|are) not recorded$", "", seal.sentence.rstrip("."))
    return sentence if sentence.startswith(seal.seal or " ") else sentence[0].lower() + sentence[1:]


CHECK = Check(RULE, run)
