"""Supports stand further apart, or further from a fitting, than practice allows."""

from witnessmark.checks.judgement import Answer, Check
from witnessmark.checks.materials.support_gaps import SupportGaps, support_finding
from witnessmark.engineering.supports import SupportRow, is_within
from witnessmark.model.finding import Finding, Outcome, Rule, Severity
from witnessmark.model.project import Project
from witnessmark.model.records import Support
from witnessmark.model.threshold import limit
from witnessmark.workings.aids import SUPPORT_BASIS, support_row
from witnessmark.workings.work import Workings

RULE = Rule(
    slug="support-spacing-too-wide",
    question="Do supports stand as close as the spacing table asks?",
    severity=Severity.TIDY,
    closes="Add supports, or have the designer accept the distance in writing.",
    whose="the contractor handing over",
    what="The largest distance between supports against the spacing table, by material, size and direction, and the "
    "largest distance from a fitting to the next support against the threshold.",
    why="Pipe that sags or swings works at its joints.",
    example="Support SUP-3 on section H-2: supports of 22 mm copper stand 2.4 m apart; the table allows 1.8 m horizontal.",
    passes="Support SUP-3 on section H-2: supports of 22 mm copper stand 1.5 m apart; the table allows 1.8 m horizontal.",
    thresholds=("support-from-fitting-mm",),
)


def run(project: Project, _workings: Workings) -> Answer:
    """Look at every row of supports; anchors, guides and expansion devices have no spacing."""
    most = limit(project.settings, "support-from-fitting-mm")
    gaps = SupportGaps(RULE, project)
    findings = []
    examined = 0
    for support in project.records.supports:
        if support.kind not in ("support", None) or support.section_id is None:
            continue
        examined += 1
        finding = _too_wide(project, support, gaps) or _too_far(support, most, gaps)
        if finding is not None:
            findings.append(finding)
    return Answer(examined, (*findings, *gaps.findings()))


def _too_wide(project: Project, support: Support, gaps: SupportGaps) -> Finding | None:
    metres = support.spacing_m
    if metres is None or metres <= 0:
        gaps.add(support, "spacing_m", "the distance between supports")
        return None
    rows = _rows(project, support)
    if rows is None:
        return None
    if not rows:
        gaps.add(support, "od_mm", f"a size and material for which the spacing table '{SUPPORT_BASIS}' has a row")
        return None
    # Without a direction, only what fits or breaks both columns can be told.
    ways = [support.orientation == "vertical"] if support.orientation is not None else [False, True]
    verdicts = {is_within(metres, row, vertical=way) for row in rows for way in ways}
    if verdicts == {True}:
        return None
    if len(verdicts) == 2:
        field = "orientation" if support.orientation is None else "od_mm"
        words = "the direction of the tube" if support.orientation is None else "the size of the tube"
        gaps.add(support, field, words)
        return None
    row = max(rows, key=lambda each: each.vertical if ways[-1] else each.horizontal)
    allowed = row.vertical if ways[-1] else row.horizontal
    return support_finding(
        RULE,
        Outcome.FAIL,
        support,
        f"supports of {row.size:g} mm {row.material.replace('_', ' ')} stand {metres:g} m apart; the table allows "
        f"{allowed:g} m {'vertical' if ways[-1] else 'horizontal'}.",
        "spacing_m",
    )


def _rows(project: Project, support: Support) -> list[SupportRow] | None:
    """Rows of the table for the tube that it can carry: that of its size, or all of its section where it names none.

    ``None`` where the tubes table lacks material or size, which other checks tell.
    """
    tubes = project.tubes_of_section.get(support.section_id or "", [])
    if not tubes or any(tube.material is None or tube.od_mm is None for tube in tubes):
        return None
    found = [
        support_row(tube.material, tube.od_mm)
        for tube in tubes
        if tube.material is not None and tube.od_mm is not None and support.od_mm in (None, tube.od_mm)
    ]
    rows = [row for row in found if row is not None]
    return rows if len(rows) == len(found) else []


def _too_far(support: Support, most: float, gaps: SupportGaps) -> Finding | None:
    distance = support.from_fitting_mm
    if distance is None:
        gaps.add(support, "from_fitting_mm", "the distance from a fitting to the next support")
        return None
    if distance <= most:
        return None
    words = f"the next support is {distance:g} mm from a fitting; {most:g} mm is the most."
    return support_finding(RULE, Outcome.FAIL, support, words, "from_fitting_mm")


CHECK = Check(RULE, run)
