"""A joint was checked after its section was covered up."""

from collections import defaultdict

from witnessmark.checks.joint_groups import finding_of
from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.making.check_days import checked_on
from witnessmark.checks.making.pressed_joints import in_id_order, pressed_joints
from witnessmark.model.day_words import day_words
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.records import Joint
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="checked-after-cover-up",
    question="Was every joint checked before its section was closed in?",
    severity=Severity.BREAKS,
    closes="Correct the date that is wrong, from the day sheets; else open up, or show the joints by photo or endoscope, and record that check.",
    whose="the contractor handing over",
    what="The day of the check against the cover-up date of the section; the same day counts. A section that is closed in and gives no date cannot be told; of one that nobody closed in, nothing is asked.",
    why="What is behind a ceiling cannot be looked at: the check was not made, or not on that day.",
    example="Section S1 was closed in on 9 May 2026; joint J014 was checked on 12 May 2026.",
    passes="Joint J014 was checked on 9 May 2026, and section S1 was closed in on the same day.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every checked joint of a section that was closed in."""
    examined = 0
    late: dict[str, list[Joint]] = defaultdict(list)
    dateless: dict[str, dict[str, list[Joint]]] = defaultdict(lambda: defaultdict(list))
    pressed = pressed_joints(project)
    sections = project.sections
    for look in pressed.looks:
        section = sections.get(look.section_id or "")
        if look.check_date is None or section is None:
            continue
        if section.cover_up_date is not None:
            examined += len(look.joints)
            if look.check_date > section.cover_up_date:
                late[section.section_id] += look.joints
        elif section.concealed:
            examined += len(look.joints)
            dateless[pressed.system_of(look.section_id)][section.section_id] += look.joints
    findings = [_late(project, section_id, in_id_order([joints])) for section_id, joints in late.items()]
    findings += [_dateless(project, system, by_section) for system, by_section in dateless.items()]
    return Answer(examined, tuple(findings))


def _late(project: Project, section_id: str, joints: list[Joint]) -> Finding:
    section = project.sections[section_id]
    closed = day_words(section.cover_up_date) if section.cover_up_date is not None else ""
    words = checked_on(joints)
    message = f"Section {section_id} was closed in on {closed}; {words[0].lower()}{words[1:]}."
    related = (section.source.place("cover_up_date"),)
    subject = Subject("section", section_id)
    return finding_of(RULE, Outcome.FAIL, joints, subject, message, "check_date", related=related)


def _dateless(project: Project, system: str, by_section: dict[str, list[Joint]]) -> Finding:
    names = sorted(by_section)
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    which = f"section {names[0]} was" if len(names) == 1 else f"sections {', '.join(names[:3])}{more} were"
    joints = in_id_order(by_section.values())
    places = [project.sections[name].source.place("cover_up_date") for name in names[:20]]
    message = (
        f"System {system}: {which} closed in, and the sections table does not say when; "
        f"it cannot be told whether {len(joints):,} checked {'joint was' if len(joints) == 1 else 'joints were'} seen before."
    )
    return finding_of(
        RULE,
        Outcome.CANNOT_TELL,
        joints,
        Subject("system", system),
        message,
        "check_date",
        location=places[0],
        related=places[1:],
        remedy="Write the cover-up date in the row of the section.",
    )


CHECK = Check(RULE, run)
