"""Two concessions on the same matter say different things."""

from collections import defaultdict

from witnessmark.checks.concessions.decided import concession_finding
from witnessmark.checks.judgement import Answer, Check
from witnessmark.model.finding import Finding, Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Concession
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="concessions-disagree",
    question="Do all concessions on the same check and subject say the same?",
    severity=Severity.BREAKS,
    closes="Ask the role that decides which of the two stands, and take the check out of the other's row with a remark why.",
    whose="the client's side",
    what="Concessions on one check that share a section, a joint or a subject: one accepted and one refused, or two accepted "
    "that differ in what they do to the guarantee. While they disagree, a refusal outranks an acceptance.",
    why="Everybody quotes the paper that suits them.",
    example="Concession CN-004 accepts 'gauge-unfit' for section LTHW-F-R2, and concession CN-007 refuses it.",
    passes="CN-004 is the only concession on 'gauge-unfit' for section LTHW-F-R2.",
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at all decided concessions, check by check; one finding for the later of two that disagree."""
    by_matter: dict[tuple[str, str, str], list[Concession]] = defaultdict(list)
    decided = [row for row in project.records.concessions if row.check and row.decision in ("accepted", "refused")]
    for row in sorted(decided, key=lambda row: row.concession_id):
        for matter in _matters(row):
            by_matter[row.check or "", *matter].append(row)
    told: dict[str, Finding] = {}
    for (check, kind, name), rows in sorted(by_matter.items(), key=lambda item: item[0]):
        for later in rows[1:]:
            earlier = next((row for row in rows if row is not later and _differ(row, later)), None)
            if earlier is None or later.concession_id in told or earlier.concession_id >= later.concession_id:
                continue
            told[later.concession_id] = _finding(check, f"{kind} {name}", earlier, later)
    return Answer(len(decided), tuple(told.values()))


def _matters(row: Concession) -> list[tuple[str, str]]:
    if row.subject is not None:
        return [("subject", row.subject)]
    if row.joint_ids:
        return [("joint", name) for name in row.joint_ids]
    return [("section", name) for name in row.section_ids]


def _differ(one: Concession, other: Concession) -> bool:
    if one.decision != other.decision:
        return True
    effects = {one.guarantee_effect, other.guarantee_effect}
    return one.decision == "accepted" and len(effects) == 2 and None not in effects


def _finding(check: str, what: str, one: Concession, other: Concession) -> Finding:
    what = what.removeprefix("subject ")
    if one.decision != other.decision:
        verbs = {"accepted": "accepts", "refused": "refuses"}
        message = (
            f"Concession {one.concession_id} {verbs[one.decision or '']} '{check}' for {what}, and concession "
            f"{other.concession_id} {verbs[other.decision or '']} it."
        )
        field = "decision"
    else:
        first, second = (_EFFECT[row.guarantee_effect or ""] for row in (one, other))
        message = (
            f"Concessions {one.concession_id} and {other.concession_id} both accept '{check}' for {what}: by the first "
            f"{first}, by the second {second}."
        )
        field = "guarantee_effect"
    return concession_finding(RULE, Outcome.FAIL, other, message, field, (one.source.place(field),))


_EFFECT = {
    "none": "the guarantee stays as it is",
    "needs_consent": "the guarantor's consent is needed",
    "excluded": "the part is out of the guarantee",
}

CHECK = Check(RULE, run)
