"""A flush did not reach its velocity in the largest pipe."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.flush_velocity import FlushVelocity, last_flushes
from witnessmark.checks.water.water_log import listed
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="flush-too-slow",
    question="Did every flush reach its velocity in the largest pipe?",
    severity=Severity.WEAKENS,
    closes="Flush again with a flow that reaches the velocity in the largest pipe, or in shorter lengths, and record it.",
    whose="the contractor handing over",
    what="The last flush of every section: the velocity in the largest bore of its sections, worked out from the recorded "
    "flow, or as written where no flow is recorded. Drinking water is asked for more than other water.",
    why="Dirt that the water cannot lift stays in the largest pipe, and a flow that is plenty in a branch is too little there.",
    example="Flush FL-003 ran at 4.1 L/s, which is 0.5 m/s in the 108 mm pipe; at least 1.0 m/s is asked.",
    passes="Flush FL-003 ran at 8.7 L/s, which is 1.0 m/s in the 108 mm pipe.",
    thresholds=("flush-velocity-drinking-water-m-s", "flush-velocity-other-water-m-s"),
)
_READING = 0.005
"""m/s. Half of the last digit that people write, so that a flow rounded on the certificate is not held against it."""


def run(project: Project, workings: Workings) -> Answer:
    """Look at the last flush of every section; one finding a flush."""
    flushes = last_flushes(project, workings)
    findings = []
    for flush in flushes:
        potable = any(wet.potable for wet in flush.sections)
        asked = limit(project.settings, RULE.thresholds[0 if potable else 1])
        velocity = flush.velocity_m_s
        if velocity is None:
            findings.append(_unknown(flush))
        elif velocity < asked - _READING:
            findings.append(_slow(flush, velocity, asked))
    return Answer(len(flushes), tuple(findings))


def _slow(flush: FlushVelocity, velocity: float, asked: float) -> Finding:
    row = flush.flushing
    if flush.worked_out is not None:
        shown = f"ran at {row.flow_l_s:g} L/s, which is {velocity:.2f} m/s in the {flush.od_mm:g} mm pipe"
        field = "flow_l_s"
    else:
        shown, field = f"ran at {velocity:g} m/s", "velocity_m_s"
    return _finding(flush, Outcome.FAIL, f"{_name(flush)} {shown}; at least {asked:g} m/s is asked.", field)


def _unknown(flush: FlushVelocity) -> Finding:
    row = flush.flushing
    if row.flow_l_s is None:
        return _finding(
            flush,
            Outcome.CANNOT_TELL,
            f"{_name(flush)} has neither a flow nor a velocity in its row.",
            "flow_l_s",
            "Write the measured flow or the velocity in the row of the flush.",
        )
    return _finding(
        flush,
        Outcome.CANNOT_TELL,
        f"{_name(flush)} ran at {row.flow_l_s:g} L/s; the velocity in the largest pipe cannot be worked out without "
        f"{flush.missing}.",
        "flow_l_s",
        f"Record {flush.missing}.",
    )


def _name(flush: FlushVelocity) -> str:
    names = [wet.id for wet in flush.sections]
    return f"Flush {flush.flushing.flushing_id} of {'section' if len(names) == 1 else 'sections'} {listed(names)}"


def _finding(flush: FlushVelocity, outcome: Outcome, message: str, field: str, remedy: str = "") -> Finding:
    return Finding(
        RULE,
        outcome,
        message,
        remedy or RULE.closes,
        Subject("flushing", flush.flushing.flushing_id),
        flush.flushing.source.place(field),
        (flush.missing_place,) if flush.missing_place else (),
        RULE.whose,
        tuple(wet.id for wet in flush.sections),
    )


CHECK = Check(RULE, run)
