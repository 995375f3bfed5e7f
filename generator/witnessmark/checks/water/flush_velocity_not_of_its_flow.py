"""The velocity written for a flush is not that of its flow."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.water.flush_velocity import last_flushes
from witnessmark.model.finding import Finding, Outcome, Rule, Severity, Subject
from witnessmark.model.project import Project
from witnessmark.model.threshold import limit
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="flush-velocity-not-of-its-flow",
    question="Does the velocity written for each flush follow from its flow and the largest pipe?",
    severity=Severity.WEAKENS,
    closes="Say in which pipe the velocity was taken, and write the velocity in the largest pipe, or correct the flow.",
    whose="the contractor handing over",
    what="Flushes with a flow and a velocity, where the bore of every tube is known: the written velocity against flow over "
    "area of the largest bore. Less than 0.05 m/s apart is rounding.",
    why="A velocity that was taken in a smaller pipe looks good and says nothing of the largest.",
    example="Flush FL-003 says 2 m/s; its 4.1 L/s are 0.48 m/s in the 108 mm pipe.",
    passes="Flush FL-003 says 1 m/s, and its 8.5 L/s are 1.00 m/s in the 108 mm pipe.",
    thresholds=("flush-velocity-difference-percent",),
)


def run(project: Project, workings: Workings) -> Answer:
    """Look at every last flush that gives both figures."""
    allowed = limit(project.settings, "flush-velocity-difference-percent") / 100
    examined = 0
    findings = []
    for flush in last_flushes(project, workings):
        written, worked_out = flush.flushing.velocity_m_s, flush.worked_out
        if written is None or worked_out is None:
            continue
        examined += 1
        if abs(written - worked_out) <= max(allowed * worked_out, 0.05):
            continue
        row = flush.flushing
        findings.append(
            Finding(
                RULE,
                Outcome.FAIL,
                f"Flush {row.flushing_id} says {written:g} m/s; its {row.flow_l_s:g} L/s are {worked_out:.2f} m/s in the "
                f"{flush.od_mm:g} mm pipe, the largest that it went through.",
                RULE.closes,
                Subject("flushing", row.flushing_id),
                row.source.place("velocity_m_s"),
                (row.source.place("flow_l_s"),),
                RULE.whose,
                tuple(wet.id for wet in flush.sections),
            )
        )
    return Answer(examined, tuple(findings))


CHECK = Check(RULE, run)
