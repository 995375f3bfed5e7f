"""The audit sample that this issue gives by itself, as a walk sheet to print; other seeds by the command line."""

from dataclasses import dataclass

from witnessmark.evidence.sample import SampledJoint, draw
from witnessmark.evidence.sample_words import summary
from witnessmark.pages.context import Context
from witnessmark.pages.frame import Link, PageView
from witnessmark.pages.table import NONE, NUMBER, Cell, Column, Row, TableView, free_text
from witnessmark.pages.words import clean

COLUMNS = (
    Column("No", True), Column("Level"), Column("Section"), Column("Tag"), Column("Where"), Column("Joint"),
    Column("Size"), Column("Why"), Column("Mark seen, pressed, complete"), Column("Photo no"), Column("What was seen"),
)  # fmt: skip
BOXES = "☐ ☐ ☐"


@dataclass(frozen=True, slots=True, kw_only=True)
class SamplePage(PageView):
    """The sample and what it can tell."""

    sentences: tuple[str, ...]
    walk: TableView


def sample_page(context: Context) -> SamplePage:
    """The sample at level II and AQL 2.5, seeded by the project's id and the number of the issue."""
    settings = context.outcome.project.settings
    sample = draw(context.outcome.project, f"{settings.id} {settings.issue.number}")
    rows = tuple(_row(context, number, each) for number, each in enumerate(sample.walk, start=1))
    return SamplePage(
        frame=context.frame,
        address="sample.html",
        root="",
        title="Audit sample",
        crumbs=(Link("Home", "index.html"),),
        sentences=tuple(clean(sentence) for sentence in summary(sample)),
        walk=TableView("Walk sheet", COLUMNS, rows, "The records show no joint to look at."),
    )


def _row(context: Context, number: int, sampled: SampledJoint) -> Row:
    joint = sampled.joint
    section_id = joint.section_id or ""
    section = context.outcome.project.sections.get(section_id)
    code = context.outcome.workings.tags.by_section.get(section_id, "")
    where = joint.location or (section.location if section else None) or "not recorded"
    hidden = " (concealed)" if section is not None and section.concealed else ""
    level = joint.level or (section.level if section else None)
    return Row(
        "",
        (
            Cell(f"{number}", mark=NUMBER),
            free_text(level) if level else Cell("not recorded", mark=NONE),
            free_text(section_id, context.section_addresses.get(section_id, "")),
            Cell(code),
            free_text(f"{where}{hidden}"),
            free_text(joint.joint_id, context.joint_places.address(joint)),
            Cell(f"{joint.od_mm:g} mm", mark=NUMBER) if joint.od_mm is not None else Cell("not recorded", mark=NONE),
            free_text("; ".join(sampled.why)),
            Cell(BOXES),
            Cell(""),
            Cell(""),
        ),
    )
